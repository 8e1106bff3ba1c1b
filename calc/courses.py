"""Course lines of a wall: where each course stands and what is ripped.

Boards hang from the start edge with their tongue (or the lap that the next
board covers) pointing away from it. So a course hides overall - face of its
board behind the next one; the last course has no next one and loses it.
"""

from collections import namedtuple

from .lengths import show

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .job import Board, Rules

# number  1 is hung first, at the start edge
# bottom, top  jots from the floor of what shows; every line from one datum
# rip     Rip, or None for a board at its full width
Course = namedtuple("Course", "number bottom top rip")

# width  jots that are left of the board's overall width
# cut    the edge that is sawn off, "upper" or "lower"
# keeps  whether the tongue or lap stays
Rip = namedtuple("Rip", "width cut keeps")


def lines(height: int, board: "Board", rules: "Rules") -> list[Course]:
    """The wall's courses in hanging order, floor to ceiling or the other way.

    height: jots from floor to ceiling, more than both gaps together.
    "full" starts with a full board and rips the last course; "balanced" takes
    one full course less and rips first and last course alike, each to half a
    face or more. Errors: none; the job's own checks keep the ranges.
    Source: arithmetic; 96 in at a face of 5-1/8 in is 18 full and 3-3/4, or
    17 full and two of 4-7/16.
    """
    room = height - rules.floor_gap - rules.ceiling_gap
    shown = _exposed(room, board.face, rules.courses == "balanced")
    hidden = board.overall - board.face
    far, near = ("upper", "lower") if rules.start == "floor" else ("lower", "upper")
    out = []
    done = 0
    for i in range(len(shown)):
        size = shown[i]
        rip = None
        if i == len(shown) - 1:
            if size < board.overall:
                rip = Rip(size, far, hidden == 0)
        elif size < board.face:
            rip = Rip(size + hidden, near, True)
        if rules.start == "floor":
            bottom = rules.floor_gap + done
        else:
            bottom = height - rules.ceiling_gap - done - size
        out.append(Course(i + 1, bottom, bottom + size, rip))
        done += size
    return out


def _exposed(room: int, face: int, balanced: bool) -> list[int]:
    """The heights that show, from the start edge; they add up to room."""
    full, rest = divmod(room, face)
    if rest == 0:
        return [face] * full
    if balanced and full:
        both = face + rest
        return [both // 2] + [face] * (full - 1) + [both - both // 2]
    return [face] * full + [rest]


def rip_warnings(
    courses: list[Course], height: int, board: "Board", rules: "Rules", unit: str
) -> list[str]:
    """A sentence for each course whose showing height is under the least rip.

    courses: as from lines, for the same height, board and rules; unit: one of
    UNITS. Each says what the other way of dividing the height would give.
    """
    out = []
    for c in courses:
        size = c.top - c.bottom
        if c.rip is None or size >= rules.least_rip or size == board.face:
            continue
        text = "Course %d shows only %s; the least rip is %s." % (
            c.number,
            show(size, unit),
            show(rules.least_rip, unit),
        )
        out.append(text + " " + _mend(height, board, rules, unit))
    return out


def _mend(height: int, board: "Board", rules: "Rules", unit: str) -> str:
    room = height - rules.floor_gap - rules.ceiling_gap
    full, rest = divmod(room, board.face)
    if full == 0:
        return "The wall is lower than one board: choose a narrower board."
    first, last = (board.face + rest) // 2, board.face + rest - (board.face + rest) // 2
    if rules.courses == "balanced" or first < rules.least_rip:
        return "No division of this height gives more: shift a gap or choose another board."
    return "Balanced gives %d full and two of %s%s." % (
        full - 1,
        show(last, unit),
        "" if first == last else " (the first a hair less)",
    )
