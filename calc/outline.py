"""What bounds the cladding: floor, ceiling, corners, openings and boxes, each with its gap.

Every one of them is a polygon that takes something out of the wall (see
region.py); what is left over is clad. Positions are jots in the wall's own
frame: x from its left corner at the floor, y from the floor's lowest point.
"""

import math
from collections import namedtuple

from .lengths import JOTS_PER_MM
from .profile import y_at
from .region import region

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .job import Job
    from .region import Trap
    from .survey import Face, Rect

# by       what it is: "floor", "ceiling", "left corner", "right corner", or the name of
#          an opening or a box
# kind     "floor", "ceiling", "left", "right", an opening's kind, "box" or "round"
# polygon  list of (x, y), its gap taken in
# left, bottom, right, top  the polygon's own extent
Block = namedtuple("Block", "by kind polygon left bottom right top")

_SIDES = 32  # of the polygon around a round box
_BEYOND = 2000 * JOTS_PER_MM  # how far a bound reaches past the wall
_OUT = 500 * JOTS_PER_MM
EDGES = ("floor", "ceiling", "left", "right")
# Jots beyond an edge where block_at is asked what lies there: more than any rounding.
STEP = 4


def bounds(job: "Job", i: int, face: "Face") -> list[Block]:
    """Everything that bounds the cladding of the wall of that index.

    job: as read; i: index into job.walls; face: of that wall. A wall that goes
    round a corner starts and ends by the rules of the trade: boards in an
    inside corner butt the cladding of the wall before, at an outside corner
    they run over its ends, mitred ones meet at their long points.
    Errors: none. Source: plane geometry; "the adjoining wall is panelled first:
    add the panel thickness", US Navy Builder manual NAVEDTRA 14044.
    """
    rules, thick = job.rules, job.board.thickness
    corner = job.walls[i].corner
    after = job.walls[i].corner_right
    start = {"none": rules.end_gap, "inside": thick + rules.end_gap}.get(corner, -thick)
    ends = {"outside": 0, "mitred": -thick, "boards": thick + rules.end_gap}
    end = ends.get(after, rules.end_gap)
    left, bottom, right, top = _reach(face)
    floor = _along([(x, y + rules.floor_gap) for x, y in face.floor], left, right)
    ceiling = _along([(x, y - rules.ceiling_gap) for x, y in face.ceiling], left, right)
    side = _up([(x + start, y) for x, y in face.left], bottom, top)
    other = _up([(x - end, y) for x, y in face.right], bottom, top)
    low = min([bottom] + [y for _, y in floor]) - 1
    high = max([top] + [y for _, y in ceiling]) + 1
    out = [
        _block("floor", "floor", floor + [(right, low), (left, low)]),
        _block("ceiling", "ceiling", ceiling + [(right, high), (left, high)]),
        _block("left corner", "left", side + [(min(left, side[-1][0]) - 1, top),
                                               (min(left, side[0][0]) - 1, bottom)]),
        _block("right corner", "right", other + [(max(right, other[-1][0]) + 1, top),
                                                 (max(right, other[0][0]) + 1, bottom)]),
    ]  # fmt: skip
    for r in face.openings:
        g = rules.opening_gap
        foot = bottom if r.kind == "door" else r.bottom - g
        out.append(_block(r.name, r.kind, _rect(r.left - g, foot, r.right + g, r.top + g)))
    for r in face.boxes:
        out.append(_block(r.name, r.kind, _box(r, rules.box_gap)))
    return out


def clad(face: "Face", blocks: "list[Block]") -> "list[Trap]":
    """What of the wall is clad, in upright slices (see region.py)."""
    left, bottom, right, top = _reach(face)
    inner = (left + _OUT, bottom + _OUT, right - _OUT, top - _OUT)
    return region(inner, [b.polygon for b in blocks])


def block_at(blocks: "list[Block]", x: int, y: int) -> Block | None:
    """The bound that the point lies in, the first where there are several, or None."""
    for b in blocks:
        if b.left <= x <= b.right and b.bottom <= y <= b.top and _inside(b.polygon, x, y):
            return b
    return None


def _reach(face: "Face") -> tuple[int, int, int, int]:
    xs = [x for x, _ in face.left + face.right + face.floor]
    ys = [y for _, y in face.floor + face.ceiling]
    return min(xs) - _BEYOND, min(ys) - _BEYOND, max(xs) + _BEYOND, max(ys) + _BEYOND


def _along(points: list[tuple[int, int]], left: int, right: int) -> list[tuple[int, int]]:
    """The line with its end stretches going on as far as `left` and `right`."""
    ends = [(left, y_at(points, left, 1))], [(right, y_at(points, right, -1))]
    return ends[0] + points + ends[1]


def _up(points: list[tuple[int, int]], bottom: int, top: int) -> list[tuple[int, int]]:
    turned = _along([(y, x) for x, y in points], bottom, top)
    return [(x, y) for y, x in turned]


def _rect(left: int, bottom: int, right: int, top: int) -> list[tuple[int, int]]:
    return [(left, bottom), (right, bottom), (right, top), (left, top)]


def _box(r: "Rect", gap: int) -> list[tuple[int, int]]:
    if r.kind != "round":
        return _rect(r.left - gap, r.bottom - gap, r.right + gap, r.top + gap)
    # Around the circle, so that no board is left where the hole saw goes.
    radius = ((r.right - r.left) / 2 + gap) / math.cos(math.pi / _SIDES)
    x, y = (r.left + r.right) / 2, (r.bottom + r.top) / 2
    out = []
    for k in range(_SIDES):
        turn = (2 * k + 1) * math.pi / _SIDES
        out.append((_whole(x + radius * math.cos(turn)), _whole(y + radius * math.sin(turn))))
    return out


def _whole(value: float) -> int:
    return math.floor(value + 0.5)


def _block(by: str, kind: str, polygon: list[tuple[int, int]]) -> Block:
    xs, ys = [x for x, _ in polygon], [y for _, y in polygon]
    return Block(by, kind, polygon, min(xs), min(ys), max(xs), max(ys))


def _inside(polygon: list[tuple[int, int]], x: int, y: int) -> bool:
    """Even-odd rule, by whole numbers; a point on the edge may count either way."""
    inside = False
    x1, y1 = polygon[-1]
    for x2, y2 in polygon:
        if (y1 > y) != (y2 > y):
            side = (x2 - x1) * (y - y1) - (x - x1) * (y2 - y1)
            if (side > 0) == (y2 > y1):
                inside = not inside
        x1, y1 = x2, y2
    return inside
