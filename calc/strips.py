"""The runs of a wall: each course is a strip of what is clad, in as many runs as openings leave.

Between its course lines a strip shows; the board behind it has its tongue or
lap besides, which the next course hides.
"""

from collections import namedtuple

from .lengths import JOTS_PER_MM
from .outline import EDGES, STEP, block_at
from .region import between, clip, extent, parts, uprights
from .snap import at_x
from .solver.given import Run
from .survey import stud_at

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .courses import Course
    from .outline import Block
    from .region import Trap
    from .survey import Face

# One run. wall, course: 0-based; left, right: jots of its outermost points;
# shown: slices of what is seen; board: slices of the board, what hides with it;
# left_end, right_end: the Block it ends at, or None; studs: list of
# (number, at) that may carry a joint, and spare: the same with those that a
# joint should keep clear of.
Strip = namedtuple("Strip", "wall course left right shown board left_end right_end studs spare")

_JOG = 2  # jots


def strips(
    wall: int, face: "Face", courses: "list[Course]", traps: "list[Trap]",
    blocks: "list[Block]", up: bool, least: int, clear: int,
) -> list[Strip]:  # fmt: skip
    """Every run of the wall, by courses in hanging order, left to right.

    courses: as from courses.lines; traps, blocks: of the wall (outline.py); up:
    whether tongues point up; least: jots of board that must be left over or
    under an opening where a joint may stand; clear: jots that a joint keeps
    from a box's cut. Errors: none.
    """
    out = []
    for n in range(len(courses)):
        c = courses[n]
        whole = clip(traps, c.low, c.high)
        hidden = clip(traps, c.top, c.high) if up else clip(traps, c.low, c.bottom)
        seen = clip(traps, c.bottom, c.top)
        for shown in parts(seen):
            if _speck(shown):
                continue
            left, _, right, _ = extent(shown)
            good, spare = _studs(face, c, left, right, seen, blocks, least, clear)
            left, right = _with_lap(hidden, blocks, left, right, c.top if up else c.bottom, up)
            board = behind(between(whole, left, right), shown)
            out.append(
                Strip(wall, n, left, right, shown, board, _end(shown, blocks, True),
                      _end(shown, blocks, False), good, spare)
            )  # fmt: skip
    return out


def run_of(strip: Strip, spare: bool, more: tuple[int, int]) -> Run:
    """The strip as the solver's run, with all its studs or the good ones alone.

    more: jots that its first and its last piece are cut over.
    """
    studs = strip.spare if spare else strip.studs
    return Run(strip.wall, strip.course, strip.left, strip.right, studs, more, None)


def _with_lap(
    hidden: "list[Trap]", blocks: "list[Block]", left: int, right: int, line: int, up: bool
) -> tuple[int, int]:
    """The run's ends with what the hidden lap reaches farther on a sloping edge of the wall.

    It is followed from slice to slice as far as the edge slopes away from the line.
    """
    out = []
    for end, way in ((left, -1), (right, 1)):
        x, y = end, line
        while True:
            step = _onward(hidden, blocks, x, y, way, up)
            if step is None:
                break
            x, y = step
        out.append(x)
    return out[0], out[1]


def _onward(
    hidden: "list[Trap]", blocks: "list[Block]", x: int, y: int, way: int, up: bool
) -> tuple[int, int] | None:
    """Where the slice of lap beyond (x, y) ends on its sloping edge, or None."""
    for t in hidden:
        start, near, far = _side(t, way, up)
        apart = abs(near - y) > _JOG  # a slice may have been rounded on its own
        if start != x or apart or (far <= near if up else far >= near):
            continue
        across, tall = (t.x0 + t.x1) // 2, (near + far) // 2
        block = block_at(blocks, across + way * STEP, tall - (STEP if up else -STEP))
        if block is None or block.kind not in EDGES:
            return None
        before = uprights(hidden, x, -way)
        after = uprights(hidden, x, way)
        if [1 for a in before for b in after if max(a[0], b[0]) < min(a[1], b[1])]:
            return (t.x1 if way > 0 else t.x0), far
    return None


def _side(t: "Trap", way: int, up: bool) -> tuple[int, int, int]:
    """(x, its edge there, its edge at the other side) of a slice, as met going that way."""
    if way > 0:
        return (t.x0, t.lo0, t.lo1) if up else (t.x0, t.hi0, t.hi1)
    return (t.x1, t.lo1, t.lo0) if up else (t.x1, t.hi1, t.hi0)


def _speck(shown: "list[Trap]") -> bool:
    """Whether a part is nowhere a millimetre thick: nobody cuts a board for that."""
    left, _, right, _ = extent(shown)
    tall = max([max(t.hi0 - t.lo0, t.hi1 - t.lo1) for t in shown])
    return bool(min(right - left, tall) < JOTS_PER_MM)


def behind(board: "list[Trap]", shown: "list[Trap]") -> "list[Trap]":
    """Of the board's slices those that hang together with what shows."""
    held = set()
    for part in parts(board):
        if [1 for t in part for s in shown if _overlap(t, s)]:
            held.update(part)
    return [t for t in board if t in held]


def _overlap(a: "Trap", b: "Trap") -> bool:
    """Whether the slices share some of the wall, seen half-way along what they share of x."""
    left, right = max(a.x0, b.x0), min(a.x1, b.x1)
    if left >= right:
        return False
    x = (left + right) // 2
    low = max(at_x(a.x0, a.lo0, a.x1, a.lo1, x), at_x(b.x0, b.lo0, b.x1, b.lo1, x))
    high = min(at_x(a.x0, a.hi0, a.x1, a.hi1, x), at_x(b.x0, b.hi0, b.x1, b.hi1, x))
    return low < high


def _end(shown: "list[Trap]", blocks: "list[Block]", left: bool) -> "Block | None":
    """What the run ends at: the bound just past its outermost slice."""
    if left:
        t = shown[0]
        return block_at(blocks, t.x0 - STEP, (t.lo0 + t.hi0) // 2)
    t = sorted(shown, key=lambda t: (-t.x1, t.lo1))[0]
    return block_at(blocks, t.x1 + STEP, (t.lo1 + t.hi1) // 2)


def _studs(
    face: "Face", c: "Course", left: int, right: int, shown: "list[Trap]",
    blocks: "list[Block]", least: int, clear: int,
) -> tuple[list[tuple[int, int]], list[tuple[int, int]]]:  # fmt: skip
    """The studs where this run may have a joint: the good ones, and all that there are."""
    middle = (c.bottom + c.top) // 2
    good, spare = [], []
    near = [
        b for b in blocks if b.kind not in EDGES and b.bottom < c.high and b.top > c.low
        and b.right > left and b.left < right
    ]  # fmt: skip
    for stud in face.studs:
        at = stud_at(stud, face, middle)
        if not left < at < right:
            continue
        spare.append((stud.number, at))
        fine = True
        for b in near:
            box = b.kind in ("box", "round")
            keep = clear if box else 0
            if b.left - keep < at < b.right + keep and (box or _strip(shown, at) < least):
                fine = False
        if fine:
            good.append((stud.number, at))
    return good, spare


def _strip(traps: "list[Trap]", x: int) -> int:
    """How much of the slices stands over x, in jots; 0 where an opening parts it in two."""
    found = uprights(traps, x)
    return found[0][1] - found[0][0] if len(found) == 1 else 0
