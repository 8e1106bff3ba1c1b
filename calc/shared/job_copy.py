"""A job as a copy that can be merged, and back: what was written, picked, taken back.

An item of a list is there where its place is among the copy's fields. Whoever changes a field of
an item writes the item's place anew as well, so that it stays where another phone took it out
meanwhile: then both are told, and nothing is lost. What an item holds stays in the copy when it
is taken out, and comes back with it.

Every length that is written carries its unit, so that it means the same whatever unit another
phone gives the job meanwhile.
"""

from ..lengths import UNITS
from ..measures import MEASURES
from ..measures import with_unit as with_measure_unit
from ..problems import wrong
from ..switch import with_unit
from .differ import different
from .document import flat, ids_given, tree
from .merge import empty, value_rank
from .paths import field_at, items_over, joined, within
from .seen import SIZE, has, of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .merge import Write

    Tail = list[Any]  # what stands in a field after a write of it: [value], or [] for nothing
else:
    Any = object


def adopt(job: object, writer: str, number: int) -> dict[str, Any]:
    """The copy of a job document that was in none before, all of it that writer's one change.

    An item without an id goes by its place, from 1. Raises InputError as write.
    """
    answer = _write(empty(), job, writer, number, lambda path, place, taken: str(place + 1))
    copy: dict[str, Any] = answer["copy"]
    return copy


def job_of(copy: dict[str, Any]) -> dict[str, Any]:
    """The job document: of what was written apart, what was written last. Errors: none."""
    return tree(values(copy))


def unit_of(job: dict[str, Any]) -> str:
    """The unit of a bare number in the job. Errors: none."""
    unit = job.get("unit")
    return unit if isinstance(unit, str) and unit in UNITS else "in"


def values(copy: dict[str, Any]) -> dict[str, Any]:
    """path -> the value it has, of those apart the last; those taken out are left out.

    An item that one took out while another changed something in it is there. What is in an item
    that is taken out is among them. Errors: none.
    """
    out = {}
    for path in copy["fields"]:
        writes = copy["fields"][path]
        last = writes[-1]
        if len(last) == 2 and len(writes) > 1 and field_at(path)[1]:
            last = ([w for w in writes if len(w) == 3] or [last])[-1]
        if len(last) == 3:
            out[path] = last[2]
    return out


def write(copy: dict[str, Any], job: object, writer: str, number: int) -> dict[str, Any]:
    """What a phone that saw `copy` writes so that it holds `job`.

    job: job_of(copy) with what the person changed; an item without an id is a new one.
    writer, number: name the change; the number is above every one that the copy has seen.
    {"copy": the change alone, to be merged, "before": path -> [what stood there, what stands
    there now], for undo}. Raises InputError where the job holds what no copy can, naming the
    field, and for more fields than one change may write.
    """
    name = "%s.%d" % (writer, number)
    made = [0]

    def new_id(path: str, place: int, taken: dict[str, Any]) -> str:
        key = ""
        # An item of a job that was adopted may bear any name.
        while not key or key in taken or joined(path, key) in copy["fields"]:
            made[0] += 1
            key = name if made[0] == 1 else "%s.%d" % (name, made[0])
        return key

    return _write(copy, job, writer, number, new_id)


def _write(
    copy: dict[str, Any], job: object, writer: str, number: int, new_id: Any
) -> dict[str, Any]:
    held = values(copy)
    now = flat(tree(held), held)
    given = ids_given(job, new_id)
    want = flat(given, held)
    unit = unit_of(given)
    change: dict[str, list[Tail]] = {}
    for path in want:
        if path not in now or now[path] != want[path]:
            value = _lasting(path, want[path], unit)
            if path not in now or now[path] != value:
                change[path] = [[value]]
    for path in now:
        # What is in an item that goes, goes with it.
        if path not in want and not [p for p in items_over(path) if p not in want]:
            change[path] = [[]]
    return _written(copy, held, change, {}, writer, number)


def _lasting(path: str, value: Any, unit: str) -> Any:
    """The value, its lengths with their unit."""
    field = field_at(path)[0]
    if field is not None and field.kind == "length":
        return with_unit(value, unit)
    if field is not None and field.kind in MEASURES:
        return with_measure_unit(value, field.kind, unit)
    if field is not None and field.kind == "lengths" and isinstance(value, list):
        return [with_unit(v, unit) for v in value]
    return value


def settle(copy: dict[str, Any], path: str, place: int, writer: str, number: int) -> dict[str, Any]:
    """The person's pick among what was written apart: as write.

    path: of a field that is there; place: of the chosen one among differ.different's, from 0.
    """
    held = values(copy)
    chosen = different(path, copy["fields"][path], unit_of(tree(held)))[place]
    return _written(copy, held, {path: [chosen[2:]]}, {}, writer, number)


def undo(copy: dict[str, Any], step: dict[str, Any], writer: str, number: int) -> dict[str, Any]:
    """The change that takes back another one.

    step: {"writer", "number", "before"} of what is taken back. As write, with "kept": the paths
    that somebody has written since; they stay. An item that the step added goes as a whole, or,
    where somebody else wrote in it, stays as a whole.
    """
    change: dict[str, list[Tail]] = {}
    over: dict[str, list[Write]] = {}
    kept: list[str] = []
    added: list[str] = []
    for path in sorted(step["before"]):
        if [1 for item in added if within(path, item)]:
            continue
        was, now = step["before"][path]
        ours = _still(copy["fields"].get(path, []), step, now)
        if was == [[]] and field_at(path)[1]:
            added.append(path)
            if _by_others(copy, path, step["writer"]):
                ours = []
        if ours:
            change[path], over[path] = was, ours
        else:
            kept.append(path)
    answer = _written(copy, values(copy), change, over, writer, number)
    answer["kept"] = kept
    return answer


def _still(writes: "list[Write]", step: dict[str, Any], now: "list[Tail]") -> "list[Write]":
    """Those of the writes that say what the step wrote: its own, or its writer's since, as where
    a later step was taken back, or the place of an item was written anew.
    """
    since = [w for w in writes if w[0] == step["writer"] and w[1] // SIZE >= step["number"]]
    if [w[2:] for w in since] == now:
        return since
    return [w for w in since if w[1] // SIZE == step["number"]]


def _by_others(copy: dict[str, Any], item: str, writer: str) -> bool:
    """Whether another writer's write stands in the item."""
    for path in copy["fields"]:
        if within(path, item) and [1 for w in copy["fields"][path] if w[0] != writer]:
            return True
    return False


def _written(
    copy: dict[str, Any],
    held: dict[str, Any],
    change: "dict[str, list[Tail]]",
    over: "dict[str, list[Write]]",
    writer: str,
    number: int,
) -> dict[str, Any]:
    """The change alone, and what it takes to take it back.

    held: values(copy). over: path -> those writes that it replaces, where they are not all.
    """
    before = {}
    replaced: list[Write] = []
    want = dict(change)
    for path in change:
        gone = over.get(path, copy["fields"].get(path, []))
        before[path] = [_each(gone) or [[]], change[path]]
        replaced.extend(gone)
        around = items_over(path)
        if [1 for item in around if item not in held]:
            continue  # it is taken out, or new: then its own place says so
        for item in around:
            if item not in want:
                want[item] = [[held[item]]]
                # Who took it out apart stays heard.
                replaced.extend([w for w in copy["fields"][item] if len(w) == 3])
    if sum([len(want[path]) for path in want]) > SIZE:
        raise wrong(
            "job", str(len(want)), "job: %d fields are too many for one change." % len(want),
            "Change at most %d at once." % SIZE,
        )  # fmt: skip
    out = empty()
    at = number * SIZE
    for path in sorted(want):
        out["fields"][path] = [[writer, at + i] + want[path][i] for i in range(len(want[path]))]
        at += len(want[path])
    if want:
        own = (writer, number * SIZE, number * SIZE + SIZE - 1)
        out["seen"] = of([own] + [(w[0], w[1], w[1]) for w in replaced])
    return {"copy": out, "before": before}


def _each(writes: "list[Write]") -> "list[Tail]":
    """What the writes say, each once: where it stands last."""
    last = {}
    for i in range(len(writes)):
        last[value_rank(writes[i][2:])] = i
    return [writes[i][2:] for i in range(len(writes)) if last[value_rank(writes[i][2:])] == i]


def news(copy: dict[str, Any], more: dict[str, Any]) -> list[str]:
    """The changes of `more` that `copy` has not seen, as "writer.number", of what more holds."""
    out = []
    for path in sorted(more["fields"]):
        for w in more["fields"][path]:
            name = "%s.%d" % (w[0], w[1] // SIZE)
            if not has(copy["seen"], w[0], w[1]) and name not in out:
                out.append(name)
    return sorted(out)
