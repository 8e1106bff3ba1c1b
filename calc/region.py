"""What boards may cover of a plane: a box less polygons, in upright slices.

A region is a list of Traps, sorted from the left, then upwards; each lies between
a lower and an upper straight line and two upright sides, and touches others only
along those sides. All is in whole jots. A point that a cut makes is rounded to the nearest jot
(halves up or right) from the line alone, so both sides of a cut get the same
point; a cut moves a line by half a jot at most. So a gap or an obstacle thinner
than a jot or two may close at a cut, and nothing wider.
"""

from collections import namedtuple

from .rings import rings as rings
from .snap import at_x, at_y, crossing_free

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence

    Point = tuple[int, int]
    Edge = tuple[int, int, int, int, int]
    Line = tuple[int, int, int, int, int, int]  # an Edge with its name before the tag

# x0 < x1  jots
# lo0 lo1  the lower line's height at x0 and at x1
# hi0 hi1  the upper line's: lo <= hi, and not equal at both ends
Trap = namedtuple("Trap", "x0 x1 lo0 lo1 hi0 hi1")

_NEAR = 2  # jots; closer lines keep all their common cuts, lest rounding crosses them


def region(box: "tuple[int, int, int, int]", blocked: "Sequence[Sequence[Point]]") -> "list[Trap]":
    """What is left of a box without the polygons.

    box: left, bottom, right, top, in jots. blocked: polygons as lists of (x, y)
    in jots, in either direction; they may stick out of the box, overlap and
    touch. A polygon must not cross itself. Errors: ValueError for a box without
    a size and for a polygon of fewer than three points. Source: plane geometry.
    """
    left, bottom, right, top = box
    if left >= right or bottom >= top:
        raise ValueError("the box %d %d %d %d has no size" % tuple(box))
    # Outside of the box counts as blocked once: its bottom takes that back.
    edges: list[Edge] = [(left, bottom, right, bottom, -1), (left, top, right, top, 1)]
    corners: list[Point] = [(left, bottom), (right, bottom), (left, top), (right, top)]
    for polygon in blocked:
        if len(polygon) < 3:
            raise ValueError("a polygon of %d points has no inside" % len(polygon))
        _add_polygon(edges, corners, polygon, box)
    return _sweep(crossing_free(edges, corners), left, right)


def _add_polygon(
    edges: "list[Edge]",
    corners: "list[Point]",
    polygon: "Sequence[Point]",
    box: "tuple[int, int, int, int]",
) -> None:
    """Its edges that bear on the box; the tag is +1 where it begins above the edge."""
    left, bottom, right, top = box
    xs = [p[0] for p in polygon]
    ys = [p[1] for p in polygon]
    if max(xs) <= left or min(xs) >= right or max(ys) <= bottom or min(ys) >= top:
        return
    area = 0
    xa, ya = polygon[-1]
    for xb, yb in polygon:
        area += xa * yb - xb * ya
        xa, ya = xb, yb
    turn = 1 if area > 0 else -1
    xa, ya = polygon[-1]
    for xb, yb in polygon:
        if (xa < right or xb < right) and (xa > left or xb > left) and (ya < top or yb < top):
            if xa < xb:
                edges.append((xa, ya, xb, yb, turn))
            elif xb < xa:
                edges.append((xb, yb, xa, ya, -turn))
        if left <= xb <= right and bottom <= yb <= top:
            corners.append((xb, yb))
        xa, ya = xb, yb


def _sweep(edges: "list[Edge]", left: int, right: int) -> "list[Trap]":
    """The free Traps between edges that do not cross, slice by slice.

    A slice reaches from one edge's end to the next. In it, edges keep their
    order, and rounding to the nearest keeps it too, so slices never overlap.
    """
    ends = {left, right}
    for edge in edges:
        ends.add(edge[0])
        ends.add(edge[2])
    cuts = [x for x in sorted(ends) if left <= x <= right]
    # Level edges of one height are one line; every other edge is a line of its own.
    waiting: list[Line] = []
    for i, (x0, y0, x1, y1, tag) in enumerate(edges):
        waiting.append((x0, y0, x1, y1, 2 * y0 if y0 == y1 else 2 * i + 1, tag))
    waiting.sort()
    waiting.reverse()
    out: list[Trap] = []
    active: list[tuple[Line, int]] = []  # with its height where the slice begins
    before: dict[tuple[int, int, int, int], tuple[int, int, int]] = {}
    for k in range(len(cuts) - 1):
        xa, xb = cuts[k], cuts[k + 1]
        while waiting and waiting[-1][0] <= xa:
            line = waiting.pop()
            if line[2] > xa:
                active.append((line, at_x(line[0], line[1], line[2], line[3], xa)))
        rows = []
        going: list[tuple[Line, int]] = []
        for line, ya in active:
            x0, y0, x1, y1, name, turn = line
            yb = y1 if x1 == xb or y0 == y1 else at_x(x0, y0, x1, y1, xb)
            rows.append((ya + yb, ya, yb, name, turn))
            if x1 > xb:
                going.append((line, yb))
        active = going
        rows.sort()
        before = _join(out, before, _free(rows), xa, xb)
    _join(out, before, [], right, right)
    out.sort(key=_place)
    return out


def _place(trap: "Trap") -> "tuple[int, ...]":
    """What Traps are sorted by: from the left, then upwards."""
    return (trap[0], trap[2], trap[3], trap[4], trap[5], trap[1])


def _free(rows: "list[tuple[int, int, int, int, int]]") -> "list[list[int]]":
    """A slice's free gaps, upwards: [lower line, upper line, lo0, lo1, hi0, hi1, near].

    What is blocked by an edge and freed by another in the same place is thinner
    than a jot and blocks nothing. near: whether another gap is.
    """
    free: list[list[int]] = []
    depth = 1
    below = rows[0]
    i = 0
    while i < len(rows):
        row = rows[i]
        net = 0
        while i < len(rows) and rows[i][1] == row[1] and rows[i][2] == row[2]:
            net += rows[i][4]
            i += 1
        if net == 0:
            continue
        if depth == 0:
            free.append([below[3], row[3], below[1], below[2], row[1], row[2], 0])
        depth += net
        below = row
    for k in range(1, len(free)):
        lower, upper = free[k - 1], free[k]
        if upper[2] - lower[4] < _NEAR or upper[3] - lower[5] < _NEAR:
            lower[6] = upper[6] = 1
    return free


def _join(
    out: "list[Trap]",
    before: "dict[tuple[int, int, int, int], tuple[int, int, int]]",
    free: "list[list[int]]",
    xa: int,
    xb: int,
) -> "dict[tuple[int, int, int, int], tuple[int, int, int]]":
    """Carries on the Traps that end at xa between the same two lines; others go to out.

    before and the answer: (lower line, upper line, lo, hi) at the end, to where
    it began: (x0, lo0, hi0).
    """
    after = {}
    for lower, upper, lo0, lo1, hi0, hi1, near in free:
        if near:
            out.append(Trap(xa, xb, lo0, lo1, hi0, hi1))
        else:
            began = before.pop((lower, upper, lo0, hi0), (xa, lo0, hi0))
            after[(lower, upper, lo1, hi1)] = began
    for key in sorted(before):
        x0, lo, hi = before[key]
        out.append(Trap(x0, xa, lo, key[2], hi, key[3]))
    return after


def clip(traps: "Sequence[Trap]", bottom: int, top: int) -> "list[Trap]":
    """The part between two heights, in jots; sorted, none where top <= bottom.

    Neighbouring strips meet in the same points. Rectangles side by side become
    one. Linear in the number of traps, but for sorting. Errors: none. Source:
    plane geometry.
    """
    out: list[Trap] = []
    if bottom >= top:
        return out
    mixed = False
    for trap in traps:
        x0, x1, lo0, lo1, hi0, hi1 = trap
        if (hi0 <= bottom and hi1 <= bottom) or (lo0 >= top and lo1 >= top):
            continue
        if lo0 <= bottom and lo1 <= bottom and hi0 >= top and hi1 >= top:
            out.append(Trap(x0, x1, bottom, bottom, top, top))
        elif lo0 >= bottom and lo1 >= bottom and hi0 <= top and hi1 <= top:
            out.append(trap)
        elif lo0 == lo1 and hi0 == hi1:
            lo, hi = max(lo0, bottom), min(hi0, top)
            out.append(Trap(x0, x1, lo, lo, hi, hi))
        else:
            _clip_sloping(out, trap, bottom, top)
            mixed = True
    if mixed:
        out.sort(key=_place)
    return _together(out)


def _clip_sloping(out: "list[Trap]", trap: "Trap", bottom: int, top: int) -> None:
    """Adds the pieces of one Trap between two heights, cut where a line passes either."""
    x0, x1, lo0, lo1, hi0, hi1 = trap
    lo_bottom = _pass(x0, lo0, x1, lo1, bottom)
    lo_top = _pass(x0, lo0, x1, lo1, top)
    hi_bottom = _pass(x0, hi0, x1, hi1, bottom)
    hi_top = _pass(x0, hi0, x1, hi1, top)
    left, right = x0, x1
    if lo_top is not None:
        left, right = (lo_top, right) if lo0 > top else (left, lo_top)
    if hi_bottom is not None:
        if hi0 < bottom:
            left = max(left, hi_bottom)
        else:
            right = min(right, hi_bottom)
    if left >= right:
        return
    cuts = {left, right}
    for cut in (lo_bottom, hi_top):
        if cut is not None and left < cut < right:
            cuts.add(cut)
    before: tuple[int, int, int] | None = None
    for x in sorted(cuts):
        # Where a line passes both heights within a jot, the lower line is at the
        # bottom and the upper at the top: the piece lies on that side of it.
        if x == lo_bottom:
            lo = bottom
        elif x == lo_top:
            lo = top
        else:
            lo = min(max(at_x(x0, lo0, x1, lo1, x), bottom), top)
        if x == hi_top:
            hi = top
        elif x == hi_bottom:
            hi = bottom
        else:
            hi = min(max(at_x(x0, hi0, x1, hi1, x), bottom), top)
        if before is not None and (before[1] < before[2] or lo < hi):
            out.append(Trap(before[0], x, before[1], lo, before[2], hi))
        before = (x, lo, hi)


def _pass(x0: int, y0: int, x1: int, y1: int, y: int) -> "int | None":
    """Where a line passes a height strictly between its ends' heights."""
    if y0 < y < y1 or y1 < y < y0:
        return at_y(x0, y0, x1, y1, y)
    return None


def _together(traps: "list[Trap]") -> "list[Trap]":
    """Sorted Traps with the rectangles that share a whole side made one."""
    out: list[Trap] = []
    ends: dict[tuple[int, int, int], int] = {}  # a rectangle's right side, its place in out
    for trap in traps:
        x0, x1, lo0, lo1, hi0, hi1 = trap
        if lo0 != lo1 or hi0 != hi1:
            out.append(trap)
            continue
        place = ends.pop((x0, lo0, hi0), None)
        if place is None:
            place = len(out)
            out.append(trap)
        else:
            out[place] = Trap(out[place].x0, x1, lo0, lo0, hi0, hi0)
        ends[(x1, lo0, hi0)] = place
    return out


def between(traps: "Sequence[Trap]", left: int, right: int) -> "list[Trap]":
    """The part between two uprights, in jots; sorted, none where right <= left.

    Neighbours meet in the same points. Linear in the number of traps, but for
    sorting. Errors: none. Source: plane geometry.
    """
    out: list[Trap] = []
    if left >= right:
        return out
    for trap in traps:
        x0, x1, lo0, lo1, hi0, hi1 = trap
        if x0 >= right or x1 <= left:
            continue
        if x0 < left or x1 > right:
            xa, xb = max(x0, left), min(x1, right)
            la, lb = at_x(x0, lo0, x1, lo1, xa), at_x(x0, lo0, x1, lo1, xb)
            ha, hb = at_x(x0, hi0, x1, hi1, xa), at_x(x0, hi0, x1, hi1, xb)
            if la == ha and lb == hb:
                continue
            trap = Trap(xa, xb, la, lb, ha, hb)
        out.append(trap)
    out.sort(key=_place)
    return out


def uprights(traps: "Sequence[Trap]", x: int, side: int = 1) -> "list[tuple[int, int]]":
    """The heights (bottom, top) covered at x, upwards, to the nearest jot.

    side: -1 just left of x, +1 just right of it; jots. A point does not count.
    Errors: none. Source: plane geometry.
    """
    out = []
    for x0, x1, lo0, lo1, hi0, hi1 in traps:
        if x0 < x < x1 or x == (x0 if side > 0 else x1):
            lo, hi = at_x(x0, lo0, x1, lo1, x), at_x(x0, hi0, x1, hi1, x)
            if lo < hi:
                out.append((lo, hi))
    return sorted(out)


def parts(traps: "Sequence[Trap]") -> "list[list[Trap]]":
    """The parts that hang together, each sorted; the parts by left, then bottom.

    Traps hang together where they share some length of an upright side; parts
    that touch in a point are two. Errors: none. Source: plane geometry.
    """
    starts: dict[int, list[int]] = {}
    for i, trap in enumerate(traps):
        starts.setdefault(trap[0], []).append(i)
    root = list(range(len(traps)))
    for i, trap in enumerate(traps):
        for j in starts.get(trap[1], ()):
            other = traps[j]
            if max(trap[3], other[2]) < min(trap[5], other[4]):
                a, b = _top(root, i), _top(root, j)
                root[max(a, b)] = min(a, b)
    groups: dict[int, list[Trap]] = {}
    for i, trap in enumerate(traps):
        groups.setdefault(_top(root, i), []).append(trap)
    found: list[tuple[int, int, int, list[Trap]]] = []
    for key in sorted(groups):
        part = sorted(groups[key], key=_place)
        left, bottom, _, _ = extent(part)
        found.append((left, bottom, len(found), part))
    return [part for _, _, _, part in sorted(found)]


def _top(root: "list[int]", i: int) -> int:
    """The first of i's group, with the way there made short."""
    while root[i] != i:
        root[i] = root[root[i]]
        i = root[i]
    return i


def twice_area(traps: "Sequence[Trap]") -> int:
    """Twice the area, in square jots, exactly. Errors: none. Source: trapezoids."""
    return sum([(t[1] - t[0]) * (t[4] - t[2] + t[5] - t[3]) for t in traps])


def extent(traps: "Sequence[Trap]") -> "tuple[int, int, int, int]":
    """(left, bottom, right, top) of what is covered, in jots.

    Errors: ValueError where there is nothing. Source: plane geometry.
    """
    if not traps:
        raise ValueError("nothing has no extent")
    return (
        min([t[0] for t in traps]),
        min([min(t[2], t[3]) for t in traps]),
        max([t[1] for t in traps]),
        max([max(t[4], t[5]) for t in traps]),
    )
