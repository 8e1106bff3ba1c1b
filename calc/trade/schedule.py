"""The order of work in hours: what waits for what, and what goes beside it.

One pair of hands works the tasks in their order; drying needs none. All hours are floats.
"""

from collections import namedtuple

from ..draft import Draft, Table
from ..measures import decimal
from .saying import said

# Hours and paces by hand. All common practice, no source.
ACCLIMATISE = 48.0  # hours that boards lie in the room, two to three days
COATED = 10.0  # square metres coated an hour, by roller
FILLED = 400.0  # nail holes filled an hour
SANDED = 600.0  # of them sanded an hour
CAULKED = 20.0  # metres caulked and smoothed an hour
CASING = 1.0  # hours for one opening, jamb extension and casing

# key names it; after: keys of what must be done, and dry, first; hands: hours at work; waits:
# hours it dries or settles then; items: pieces worked one by one, 1 where it is done as a whole.
# Where two tasks have as many pieces, a piece of the later one waits for its own piece alone:
# one board dries while the next is coated. cautions: keys of calc/cautions.py.
Task = namedtuple("Task", "key title after hands waits items cautions")
# starts: hour it begins; worked: hour its hands are done; ends: hour it is dry; binds: key of
# what it had to wait for, "" at the start; beside: titles of what dries while it is worked.
Step = namedtuple("Step", "key title after starts hands waits worked ends binds beside cautions")


def in_order(tasks: "list[Task]") -> "list[Step]":
    """When each task starts and ends, in the order given.

    tasks: each after those that it waits for; hands and waits 0 or more. A task with no hands
    keeps nobody busy. Raises KeyError where one waits for what does not come before it.
    Source: critical path by earliest starts.
    """
    done: "dict[str, Step]" = {}
    sizes: "dict[str, int]" = {}
    out: list[Step] = []
    free, busy = 0.0, ""
    for t in tasks:
        starts, binds = (free, busy) if t.hands else (0.0, "")
        for key in t.after:
            at = _ready(done[key], sizes[key], t)
            if at > starts:
                starts, binds = at, key
        worked = starts + t.hands
        if t.hands:
            free, busy = worked, t.key
        beside = [s.title for s in out if t.hands and s.worked <= starts < s.ends]
        step = Step(
            t.key, t.title, list(t.after), starts, t.hands, t.waits, worked, worked + t.waits,
            binds, beside, list(t.cautions),
        )  # fmt: skip
        done[t.key], sizes[t.key] = step, t.items
        out.append(step)
    return out


def _ready(before: Step, items: int, t: Task) -> float:
    """The earliest hour that `t` may start after a step of so many pieces."""
    ends: float = before.ends
    if items != t.items or items < 2:
        return ends
    # Its first piece waits for the first one's drying, its last for the last one's.
    first: float = before.starts + before.hands / items + before.waits
    last: float = ends - t.hands * (items - 1) / items
    return first if first > last else last


def free_at(steps: "list[Step]") -> float:
    """The hour that all is done and dry; 0 for nothing to do. Errors: none."""
    last = 0.0
    for s in steps:
        last = max(last, s.ends)
    return last


def own_hours(steps: "list[Step]") -> float:
    """The hours at work in all. Errors: none."""
    hands = 0.0
    for s in steps:  # one by one: a sum of floats is not the same on every interpreter
        hands += s.hands
    return hands


def decides(steps: "list[Step]") -> "list[Step]":
    """The chain of steps that sets the last hour, first to last; empty for no steps."""
    known = {s.key: s for s in steps}
    end = free_at(steps)
    chain: list[Step] = []
    for s in steps:
        if s.ends == end:
            chain = [s]
    while chain and chain[0].binds:
        chain = [known[chain[0].binds]] + chain
    return chain


def hours(value: float) -> str:
    """Hours as text: "0.8 h", "31 h"."""
    return "%s h" % decimal(value, 2 if value < 0.95 else 1)


def days(value: float) -> str:
    """Hours as text, with the days from 24 on: "31 h (1 day 7 h)"."""
    whole = int(value + 0.5)
    if value < 24:
        return hours(value)
    day, rest = divmod(whole, 24)
    return "%s (%d day%s %d h)" % (hours(value), day, "" if day == 1 else "s", rest)


def write_hour(d: Draft, key: str, label: str, value: float) -> None:
    """An hour as the next figure; its value is whole minutes."""
    d.figure(key, label, hours(value), said(value, 1, "hour", "hours"), int(60 * value + 0.5))


def write_steps(d: Draft, steps: "list[Step]") -> None:
    """The table of the steps, which of them decide, and the working, into `d`."""
    rows = []
    titles = {s.key: s.title for s in steps}
    for s in steps:
        rows.append(
            [
                s.title, hours(s.starts), hours(s.hands),
                hours(s.ends) if s.waits else "",
                ", ".join(s.beside),
            ]
        )  # fmt: skip
        waits = "after %s: " % titles[s.binds] if s.binds else ""
        d.step(
            s.title, "%sstart + at work + drying" % waits,
            "%s h + %s h + %s h" % (decimal(s.starts, 2), decimal(s.hands, 2), decimal(s.waits, 2)),
            "%s h" % decimal(s.ends, 2),
        )  # fmt: skip
    columns = ["Step", "Starts at", "At work", "Dries until", "Beside the drying of"]
    d.tables.append(Table("Steps, in hours from the start", columns, rows))
    chain = decides(steps)
    if chain:
        d.row("What decides", ", then ".join([s.title for s in chain]))
    d.row("Your own hours", hours(own_hours(steps)))
