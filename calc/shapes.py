"""One piece as it is cut: its outline, its ends, its rip, what is notched out, where to scribe.

Everything is read off the run's slices between two joints. Positions in a piece
are along from its left end and up from its lower edge, as it lies at the saw.
"""

from collections import namedtuple

from .angles import hundredths
from .courses import rip_of
from .outline import EDGES, STEP, block_at
from .region import between, parts
from .rings import rings
from .snap import at_x
from .strips import behind
from .survey import stud_at
from .thin import strips_left

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .courses import Course
    from .job import Board
    from .outline import Block
    from .region import Trap
    from .strips import Strip
    from .survey import Face

# left, bottom, right, top  jots on the wall: its extent as it hangs
# shape   rings of (along, up), the outer ones first; shows: rings of (x, y) on the wall
# rip     Rip, or None where the board keeps its full width
# lower, upper  its lengths along the lower and the upper edge, 0 at a point
# left_width, right_width  its heights at the two ends, 0 at a point
# left_off, right_off  (hundredths of a degree off square, "lower" or "upper": the longer edge)
# thin    strips that break (see thin.py)
# cuts    list of Cut; scribe: list of (edge, list of (stud number or 0, along, up))
Shape = namedtuple(
    "Shape",
    "left bottom right top shape shows rip lower upper left_width right_width "
    "left_off right_off cuts scribe thin",
)

# kind    "bevel": an end off square; "taper": along an edge; "notch" or "hole": a rectangle;
#         "lap": the same out of the hidden lap alone; "round": a circle
# by      the Block's by; edge: the edge it takes from, or "inside"
# points  list of (along, up) of a saw line, or []
# place   (from, to, low, high) of a rectangle, or of the square around a circle, or None
# open    the edges that a rectangle runs out at
Cut = namedtuple("Cut", "kind by edge points place open")

_SQUARE = (0, "")
_SPECK = 16  # jots, a twentieth of a millimetre
_STEEP = 4500  # hundredths of a degree off square: an end beyond that comes to a point


def shape(
    strip: "Strip", course: "Course", board: "Board", up: bool, face: "Face",
    blocks: "list[Block]", left: int, right: int, sliver: int,
) -> Shape:  # fmt: skip
    """The piece of the run from left to right.

    course: of the run; board: the job's; up: whether tongues point up; face,
    blocks: of the wall; left, right: jots on the wall, gaps taken off;
    sliver: jots under which a strip breaks. Errors: none. Source: plane geometry.
    """
    shown = between(strip.shown, left, right)
    traps = behind(between(strip.board, left, right), shown)
    bottom = min([min(t.lo0, t.lo1) for t in traps])
    top = max([max(t.hi0, t.hi1) for t in traps])
    outer, inner = [], []
    for part in parts(traps):
        found = rings(part)
        outer.append(found[0])
        inner.extend(found[1:])
    lines = _saw_lines(
        outer, blocks, (left, bottom, right, top), (course.bottom - bottom, course.top - bottom)
    )
    sides = [c for c in lines if c.edge in ("left", "right")]
    stand = (_upright(outer, left), _upright(outer, right))
    ends = _ends(sides, right - left, top - bottom)
    cuts = lines + _taken_out(blocks, course, (left, bottom, right, top), traps)
    uneven = [c.edge for c in lines if c.kind == "taper"]
    return Shape(
        left, bottom, right, top,
        [_moved(ring, left, bottom) for ring in outer + inner],
        [ring for part in parts(shown) for ring in rings(part)],
        rip_of(course.whole, (bottom, top), board.overall - board.face, up),
        max(0, ends[2] - ends[0]), max(0, ends[3] - ends[1]),
        _width(sides, "left", stand[0]), _width(sides, "right", stand[1]),
        _off(sides, "left", stand[0]), _off(sides, "right", stand[1]),
        sorted(cuts, key=lambda c: (_first(c), c.kind, c.by)),
        [
            (e, _marks(traps, face, course, e, (left + ends[n], left + ends[n + 2]), left, bottom))
            for n, e in enumerate(("lower", "upper")) if e in uneven and ends[n] < ends[n + 2]
        ],
        strips_left(traps, blocks, sliver),
    )  # fmt: skip


def _moved(ring: list[tuple[int, int]], left: int, bottom: int) -> list[tuple[int, int]]:
    return [(x - left, y - bottom) for x, y in ring]


def _first(c: Cut) -> int:
    first: int = c.points[0][0] if c.points else c.place[0]
    return first


def _saw_lines(
    outer: list[list[tuple[int, int]]],
    blocks: "list[Block]",
    box: tuple[int, int, int, int],
    shows: tuple[int, int],
) -> list[Cut]:
    """Bevels, tapers and steps: the parts of the outline that floor, ceiling or corners draw."""
    out: list[Cut] = []
    for ring in outer:
        chain: list[tuple[int, int]] = []
        held: Block | None = None
        edge = ""
        for (x1, y1), (x2, y2), block in _drawn(ring, blocks, box):
            if block is None:
                _close(out, chain, held, edge, box, shows)
                chain, held, edge = [], None, ""
                continue
            if block.kind not in EDGES:
                continue  # an opening or a box stands before the line, which may go on behind it
            side = "" if x1 == x2 else "lower" if x2 > x1 else "upper"
            turned = edge and side and edge != side and block.kind in ("floor", "ceiling")
            through = chain and {chain[0][1], y1} == {box[1], box[3]}
            if held is not block or turned or through:
                _close(out, chain, held, edge, box, shows)
                chain, edge = [], ""
            if not chain:
                chain, held = [(x1, y1)], block
            elif chain[-1] != (x1, y1):
                chain.extend(_between(block, chain[-1], (x1, y1), (box[1], box[3])))
            edge = edge or side
            chain.append((x2, y2))
        _close(out, chain, held, edge, box, shows)
    return out


def _between(
    block: "Block", start: tuple[int, int], end: tuple[int, int], tall: tuple[int, int]
) -> list[tuple[int, int]]:
    """The corners of the bound's line behind what stands before it, and where it comes out.

    tall: the heights of the board; what the line does beyond them nobody can mark.
    """
    n = 1 if block.kind in ("left", "right") else 0
    low, high = min(start[n], end[n]), max(start[n], end[n])
    hid = [q for q in block.polygon if low < q[n] < high and tall[0] <= q[1] <= tall[1]]
    back = len(hid) > 1 and (hid[-1][n] - hid[0][n]) * (end[n] - start[n]) < 0
    return (hid[::-1] if back else hid) + [end]


def _drawn(
    ring: list[tuple[int, int]], blocks: "list[Block]", box: tuple[int, int, int, int]
) -> "list[tuple[tuple[int, int], tuple[int, int], Block | None]]":
    """Each stretch of a ring and the bound that draws it, or None for the board's own edge.

    It begins behind one that the board draws, so that no saw line is torn in two.
    """
    left, bottom, right, top = box
    out = []
    first = 0
    for k in range(len(ring)):
        (x1, y1), (x2, y2) = ring[k], ring[(k + 1) % len(ring)]
        upright = x1 == x2 and x1 in (left, right)
        level = y1 == y2 and y1 in (bottom, top)
        block = None if upright or level else block_at(blocks, *_outside(x1, y1, x2, y2))
        if block is None:
            first = k + 1
        out.append(((x1, y1), (x2, y2), block))
    return out[first:] + out[:first]


def _outside(x1: int, y1: int, x2: int, y2: int) -> tuple[int, int]:
    """A point just to the right of the edge, where an anticlockwise ring has its outside."""
    dx, dy = x2 - x1, y2 - y1
    x, y = (x1 + x2) // 2, (y1 + y2) // 2
    if abs(dx) >= abs(dy):
        return x, y - (STEP if dx > 0 else -STEP)
    return x + (STEP if dy > 0 else -STEP), y


def _close(
    out: list[Cut],
    chain: list[tuple[int, int]],
    block: "Block | None",
    edge: str,
    box: tuple[int, int, int, int],
    shows: tuple[int, int],
) -> None:
    """Turn a finished stretch of the outline into a cut."""
    if len(chain) < 2 or block is None:
        return
    left, bottom, right, top = box
    by = block.by
    through = {chain[0][1], chain[-1][1]} == {bottom, top}
    back = [k for k in range(len(chain)) if chain[k][1] == chain[0][1]][-1]
    if through and back:  # it comes back to the edge it left: that part is the edge's own
        _close(out, chain[: back + 1], block, edge, box, shows)
        chain = chain[back:]
    points = [(x - left, y - bottom) for x, y in chain]
    # An anticlockwise outline goes up its right side and down its left one.
    end = "right" if points[-1][1] > points[0][1] else "left"
    if points[0][0] > points[-1][0]:
        points = points[::-1]
    steps = range(len(points) - 1)
    levels = [k for k in steps if points[k][1] == points[k + 1][1]]
    uprights = [k for k in steps if points[k][0] == points[k + 1][0]]
    if through:
        if len(uprights) < len(points) - 1:
            out.append(Cut("bevel", by, end, points, None, []))
    elif block.kind in ("left", "right"):
        out.append(Cut("bevel", by, block.kind, points, None, []))
    elif len(levels) == 1 and len(uprights) == len(points) - 2:
        out.append(_step(points, by, edge, (right - left, top - bottom), shows))
    elif len(uprights) < len(points) - 1:
        out.append(Cut("taper", by, edge, points, None, []))


def _step(
    points: list[tuple[int, int]], by: str, edge: str, size: tuple[int, int], shows: tuple[int, int]
) -> Cut:
    """A step in floor or ceiling: a rectangle out of a corner, or out of an edge."""
    long, tall = size
    ups = [u for _, u in points]
    low, high = (0, max(ups)) if edge == "lower" else (min(ups), tall)
    opens = [edge]
    if points[0][0] <= 0:
        opens.append("left")
    if points[-1][0] >= long:
        opens.append("right")
    hidden = low >= shows[1] or high <= shows[0]
    kind = "lap" if hidden else "notch"
    return Cut(kind, by, edge, [], (points[0][0], points[-1][0], low, high), opens)


def _ends(sides: list[Cut], long: int, tall: int) -> tuple[int, int, int, int]:
    """Along of the four corners: (lower left, upper left, lower right, upper right).

    sides: the saw lines that take from the left and the right end.
    """
    out = [0, 0, long, long]
    for edge, first, plain in (("left", 0, 0), ("right", 2, long)):
        lines = [c for c in sides if c.edge == edge]
        ups = sorted([(up, along) for c in lines for along, up in c.points])
        if not ups:
            continue
        corner = [1 for c in lines if c.by.endswith(" corner")] != []
        out[first] = ups[0][1] if corner or ups[0][0] == 0 else plain
        out[first + 1] = ups[-1][1] if corner or ups[-1][0] == tall else plain
    return out[0], out[1], out[2], out[3]


def _sloped(sides: list[Cut], edge: str, upright: int) -> list[tuple[int, int]]:
    """The two points (up, along) of the one saw line that makes the end, lower first, or none.

    upright: jots of the end that stand square. An end that is bent, or square in
    part, has no one angle: its saw lines' points tell it.
    """
    lines = [c for c in sides if c.edge == edge]
    if len(lines) != 1 or len(lines[0].points) != 2 or upright:
        return []
    return sorted([(up, along) for along, up in lines[0].points])


def _off(sides: list[Cut], edge: str, upright: int) -> tuple[int, str]:
    """(hundredths of a degree off square, the longer edge) of an end."""
    line = _sloped(sides, edge, upright)
    if not line:
        return _SQUARE
    (low, a), (high, b) = line
    angle = hundredths(abs(a - b), high - low)
    return (angle, "lower" if (a < b) == (edge == "left") else "upper") if angle else _SQUARE


def _upright(outer: list[list[tuple[int, int]]], x: int) -> int:
    """How much of the end stands upright at its outermost; what rounding leaves is none."""
    ups = []
    for ring in outer:
        for k in range(len(ring)):
            (x1, y1), (x2, y2) = ring[k], ring[(k + 1) % len(ring)]
            if x1 == x2 == x and abs(y2 - y1) > _SPECK:
                ups += [y1, y2]
    return max(ups) - min(ups) if ups else 0


def _width(sides: list[Cut], edge: str, upright: int) -> int:
    """The height of the piece at its end: along the end's own line where that is steep."""
    line = _sloped(sides, edge, upright)
    if line and _off(sides, edge, upright)[0] < _STEEP:
        return line[1][0] - line[0][0]
    return upright


def _taken_out(
    blocks: "list[Block]", course: "Course", box: tuple[int, int, int, int], traps: "list[Trap]"
) -> list[Cut]:
    """Notches, holes and laps taken off for openings and boxes."""
    left, bottom, right, top = box
    out = []
    for b in blocks:
        if b.kind in EDGES or b.left >= right or b.right <= left or b.bottom >= top:
            continue
        if b.top <= bottom or not _reaches(b, box):
            continue
        place = (
            max(b.left, left) - left, min(b.right, right) - left,
            max(b.bottom, bottom) - bottom, min(b.top, top) - bottom,
        )  # fmt: skip
        if b.kind == "round":
            square = (b.left - left, b.right - left, b.bottom - bottom, b.top - bottom)
            out.append(Cut("round", b.by, "inside", [], square, []))
            continue
        opens = []
        if b.bottom <= bottom:
            opens.append("lower")
        if b.top >= top:
            opens.append("upper")
        if b.left <= left:
            opens.append("left")
        if b.right >= right:
            opens.append("right")
        opens = opens or _runs_out(traps, blocks, b)
        hidden = b.bottom >= course.top or b.top <= course.bottom
        kind = "lap" if hidden and opens else "notch" if opens else "hole"
        out.append(Cut(kind, b.by, opens[0] if opens else "inside", [], place, opens))
    return out


def _runs_out(traps: "list[Trap]", blocks: "list[Block]", b: "Block") -> list[str]:
    """The edges at which a cut-out within the blank breaks out through floor, ceiling or corner."""
    xs = [b.left + (b.right - b.left) * k // 8 for k in range(1, 8)] + [b.left + 1, b.right - 1]
    for t in traps:
        xs += [x for x in (t.x0, t.x1) if b.left < x < b.right]
    ys = [b.bottom + (b.top - b.bottom) * k // 8 for k in range(1, 8)] + [b.bottom + 1, b.top - 1]
    sides = (
        ("lower", [(x, b.bottom - STEP) for x in xs]),
        ("upper", [(x, b.top + STEP) for x in xs]),
        ("left", [(b.left - STEP, y) for y in ys]),
        ("right", [(b.right + STEP, y) for y in ys]),
    )
    out = []
    for edge, places in sides:
        for x, y in places:
            found = block_at(blocks, x, y)
            if found is not None and found.kind in EDGES:
                out.append(edge)
                break
    return out


def _reaches(b: "Block", box: tuple[int, int, int, int]) -> bool:
    """Whether the bound takes something out of the piece, more than an end cut off square."""
    left, bottom, right, top = box
    if b.kind == "round":
        x, y = (b.left + b.right) // 2, (b.bottom + b.top) // 2
        far = (x - max(left, min(x, right)), y - max(bottom, min(y, top)))
        return bool(4 * (far[0] ** 2 + far[1] ** 2) < (b.right - b.left) ** 2)
    through = b.bottom <= bottom and b.top >= top
    return not (through and (b.left <= left or b.right >= right))


def _marks(
    traps: "list[Trap]", face: "Face", course: "Course", edge: str, ends: tuple[int, int],
    left: int, bottom: int,
) -> list[tuple[int, int, int]]:  # fmt: skip
    """(stud or 0, along, up) where to mark the edge that follows an uneven line.

    ends: x of the edge's own ends, without what a bevel takes off.
    """
    first, last = ends
    places = [(0, first), (0, last)]
    middle = (course.bottom + course.top) // 2
    for stud in face.studs:
        at = stud_at(stud, face, middle)
        if first < at < last:
            places.append((stud.number, at))
    for t in traps:  # where the line bends
        near = [1 for _, x in places if abs(x - t.x0) <= 2 * STEP]
        if first < t.x0 < last and not near and _bends(traps, t.x0, edge):
            places.append((0, t.x0))
    out = []
    for number, x in sorted(places, key=lambda p: (p[1], p[0])):
        out.append((number, x - left, _edge_at(traps, x, edge) - bottom))
    return out


def _edge_at(traps: "list[Trap]", x: int, edge: str) -> int:
    ups: list[int] = []
    for t in traps:
        if t.x0 <= x <= t.x1:
            a, b = (t.lo0, t.lo1) if edge == "lower" else (t.hi0, t.hi1)
            ups.append(at_x(t.x0, a, t.x1, b, x))
    return min(ups) if edge == "lower" else max(ups)


def _bends(traps: "list[Trap]", x: int, edge: str) -> bool:
    """Whether the edge changes its slope at x by more than rounding does."""
    before = [t for t in traps if t.x1 == x]
    after = [t for t in traps if t.x0 == x]
    if not before or not after:
        return False
    a = min(before, key=lambda t: t.lo1) if edge == "lower" else max(before, key=lambda t: t.hi1)
    b = min(after, key=lambda t: t.lo0) if edge == "lower" else max(after, key=lambda t: t.hi0)
    rise_a = a.lo1 - a.lo0 if edge == "lower" else a.hi1 - a.hi0
    rise_b = b.lo1 - b.lo0 if edge == "lower" else b.hi1 - b.hi0
    run_a, run_b = a.x1 - a.x0, b.x1 - b.x0
    return bool(abs(rise_a * run_b - rise_b * run_a) > 2 * (run_a + run_b))
