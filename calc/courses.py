"""Course lines of a wall: where each course stands and what is ripped.

All lines are one height of board apart, so one of them fixes them all. Boards
hang from the start edge with their tongue (or the lap that the next board
covers) pointing away from it. So a course hides overall - face of its board
behind the next one; the last course has no next one and loses it.
"""

from collections import namedtuple

from .lengths import show

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .job import Board, Rules

# number  1 is hung first, at the start edge
# bottom, top  jots of what shows, from the wall's zero; every line from one datum
# low, high    jots of the board's own edges as it hangs: what hides is in them
# whole   (lower, upper) edge of the board before any rip
# rip     Rip, or None for a board at its full width
Course = namedtuple("Course", "number bottom top low high whole rip")

# width  jots that are left of the board's overall width
# cut    the edge that is sawn off, "upper", "lower" or "both"
# keeps  whether the tongue or lap stays
Rip = namedtuple("Rip", "width cut keeps")


def line_of(low: int, high: int, board: "Board", rules: "Rules") -> int:
    """The height of one course line, by the rules "full" and "balanced".

    low, high: jots of what is clad at its lowest and its highest. "full" has a
    full board at the start edge; "balanced" takes one full course less and
    rips first and last course alike, each to half a face or more. Errors: none.
    Source: arithmetic; 96 in at a face of 5-1/8 in is 18 full and 3-3/4, or
    17 full and two of 4-7/16.
    """
    face: int = board.face
    full, rest = divmod(high - low, face)
    first = 0
    if rules.courses == "balanced" and rest and full:
        first = (face + rest) // 2
    return low + first if rules.start == "floor" else high - first


def lines(low: int, high: int, line: int, board: "Board", rules: "Rules") -> list[Course]:
    """The courses between low and high in hanging order, floor to ceiling or the other way.

    low, high: jots, low < high, of what is clad; line: jots of any one course
    line. A course that low or high cuts short is ripped straight; where the
    wall's edge is not level, its pieces are cut to it besides (see shapes.py).
    Errors: none; the job's own checks keep the ranges.
    """
    face, hidden = board.face, board.overall - board.face
    up = rules.start == "floor"
    places = []
    at = line + (low - line) // face * face
    while at < high:
        places.append(at)
        at += face
    if not up:
        places = places[::-1]
    out = []
    for i in range(len(places)):
        bottom, top = places[i], places[i] + face
        whole = (bottom, top + hidden) if up else (bottom - hidden, top)
        edges = (max(whole[0], low), min(whole[1], high))
        rip = rip_of(whole, edges, hidden, up)
        out.append(Course(i + 1, max(bottom, low), min(top, high), edges[0], edges[1], whole, rip))
    return out


def rip_of(whole: tuple[int, int], left: tuple[int, int], hidden: int, up: bool) -> Rip | None:
    """What is sawn off so that of a board over `whole` what lies over `left` stays, or None.

    whole, left: (lower, upper) edge in jots; hidden: jots of tongue or lap; up: whether
    it points up. Errors: none.
    """
    lower, upper = left[0] > whole[0], left[1] < whole[1]
    if not lower and not upper:
        return None
    cut = "both" if lower and upper else "lower" if lower else "upper"
    keeps = hidden == 0 or (not upper if up else not lower)
    return Rip(left[1] - left[0], cut, keeps)


def rip_warnings(courses: list[Course], low: int, high: int, board: "Board", rules: "Rules",
                 unit: str) -> list[str]:  # fmt: skip
    """A sentence for each course whose showing height is under the least rip.

    courses: as from lines, for the same low, high, board and rules; unit: one of
    UNITS. Each says what the other way of dividing the height would give.
    """
    out = []
    for c in courses:
        size = c.top - c.bottom
        if c.rip is None or size >= rules.least_rip or size == board.face:
            continue
        text = "Course %d shows only %s; the narrowest rip is set to %s." % (
            c.number,
            show(size, unit),
            show(rules.least_rip, unit),
        )
        out.append(text + " " + _mend(high - low, board, rules, unit))
    return out


def _mend(room: int, board: "Board", rules: "Rules", unit: str) -> str:
    full, rest = divmod(room, board.face)
    if full == 0:
        return "The wall is lower than one board: choose a narrower board."
    first, last = (board.face + rest) // 2, board.face + rest - (board.face + rest) // 2
    if rules.courses == "balanced" or first < rules.least_rip:
        return "No division of this height gives more: shift a gap or choose another board."
    return "Equal rips give %d full and two of %s%s." % (
        full - 1,
        show(last, unit),
        "" if first == last else " (the first a hair less)",
    )
