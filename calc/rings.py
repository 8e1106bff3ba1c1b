"""The outline of slices that hang together, as rings of corners.

The slices are Traps of calc/region.py, taken as plain (x0, x1, lo0, lo1, hi0,
hi1). Every line of theirs is walked with the inside on its left; upright sides
that two share cancel.
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence

    Point = tuple[int, int]


def rings(traps: "Sequence[tuple[int, ...]]") -> "list[list[Point]]":
    """The outline of one part: the outer ring, then its holes, as (x, y) in jots.

    The outer ring runs anticlockwise, holes run clockwise; each starts at its
    lowest, then leftmost corner, and holes are sorted. Rings meet in single
    points at most. A corner less than a jot off the straight line between its
    neighbours is what a cut's rounding left there and goes, unless another
    corner is so near; so the area may differ from the slices' by less than a
    square jot for each jot along such a line. Errors: none. Source: plane geometry.
    """
    raw = outline(traps)
    every = [point for ring in raw for point in ring]
    out = []
    for k, ring in enumerate(raw):
        straight = _straightened(ring, every)
        if straight != ring:
            raw[k] = straight
            every = [point for other in raw for point in other]
        out.append((0 if twice_inside(straight) > 0 else 1, straight))
    out.sort()
    return [ring for _, ring in out]


def outline(traps: "Sequence[tuple[int, ...]]") -> "list[list[Point]]":
    """As rings(), to the square jot: only corners on an exact straight line go.

    Errors: none. Source: plane geometry.
    """
    nexts: dict[Point, list[Point]] = {}
    sides: dict[int, list[tuple[int, int]]] = {}  # x: (y, how much more is open to its left)
    for x0, x1, lo0, lo1, hi0, hi1 in traps:
        _add(nexts, (x0, lo0), (x1, lo1))
        _add(nexts, (x1, hi1), (x0, hi0))
        sides.setdefault(x0, []).extend([(lo0, -1), (hi0, 1)])
        sides.setdefault(x1, []).extend([(lo1, 1), (hi1, -1)])
    for x in sorted(sides):
        open_ = 0
        before = 0
        for y, more in sorted(sides[x]):
            if open_ > 0 and y > before:
                _add(nexts, (x, before), (x, y))
            elif open_ < 0 and y > before:
                _add(nexts, (x, y), (x, before))
            open_ += more
            before = y
    found = []
    for start in sorted(nexts, key=lambda p: (p[1], p[0])):
        while nexts[start]:
            ring = _corners(_walk(nexts, start))
            if len(ring) > 2:
                found.append((0 if twice_inside(ring) > 0 else 1, ring))
    found.sort()
    return [ring for _, ring in found]


def twice_inside(ring: "Sequence[Point]") -> int:
    """Twice the area of a ring, in square jots; below 0 where it runs clockwise.

    Errors: none. Source: the shoelace formula.
    """
    area = 0
    xa, ya = ring[-1]
    for xb, yb in ring:
        area += xa * yb - xb * ya
        xa, ya = xb, yb
    return area


def _add(nexts: "dict[Point, list[Point]]", a: "Point", b: "Point") -> None:
    """One step of an outline; a step back along an earlier one takes that away."""
    if a == b:
        return
    back = nexts.setdefault(b, [])
    if a in back:
        back.remove(a)
    else:
        nexts.setdefault(a, []).append(b)


def _walk(nexts: "dict[Point, list[Point]]", start: "Point") -> "list[Point]":
    """A closed walk from start, taking its steps out of nexts.

    Where outlines touch in a point, it keeps to the right, along the outside it
    came by: so the outer ring and a hole part there, and no ring crosses a
    point twice.
    """
    ring = [start]
    at = start
    came = (at[0] - 1, at[1])  # the first corner is lowest: from the left, none is more right
    while True:
        ways = nexts[at]
        step = ways[0]
        for way in ways[1:]:
            if _more_right(came, at, way, step):
                step = way
        ways.remove(step)
        if step == start:
            return ring
        ring.append(step)
        came, at = at, step


def _more_right(came: "Point", at: "Point", a: "Point", b: "Point") -> bool:
    """Whether the way to a is met before the way to b, turning left from the way back."""
    bx, by = came[0] - at[0], came[1] - at[1]
    ax, ay = a[0] - at[0], a[1] - at[1]
    ox, oy = b[0] - at[0], b[1] - at[1]
    half_a = _half(bx, by, ax, ay)
    half_o = _half(bx, by, ox, oy)
    if half_a != half_o:
        return half_a < half_o
    return ax * oy - ay * ox > 0


def _half(bx: int, by: int, x: int, y: int) -> int:
    """0 within half a turn left from (bx, by), 1 beyond, 2 for a whole turn."""
    turn = bx * y - by * x
    if turn > 0:
        return 0
    if turn < 0 or bx * x + by * y < 0:
        return 1
    return 2


def _off(a: "Point", b: "Point", c: "Point") -> int:
    """How far c is left of the line from a to b, times that line's length."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _corners(ring: "list[Point]") -> "list[Point]":
    """The ring without the points on a straight line between their neighbours."""
    n = len(ring)
    return [p for i, p in enumerate(ring) if _off(ring[i - 1], p, ring[(i + 1) % n]) != 0]


def _straightened(ring: "list[Point]", every: "list[Point]") -> "list[Point]":
    """The ring without the corners that only rounding made."""
    n = len(ring)
    first = 0
    while first < n and _near(ring[first - 1], ring[(first + 1) % n], ring[first]):
        first += 1
    if n < 4 or first == n:
        return ring
    around = ring[first:] + ring[: first + 1]
    out = [around[0]]
    i = 0
    while i < n:
        j = i + 1
        while j < n and _straight(around, i, j + 1, every):
            j += 1
        out.append(around[j])
        i = j
    out.pop()
    out = _corners(out)  # what stayed may now be straight
    if len(out) == n or len(out) < 3 or twice_inside(out) * twice_inside(ring) <= 0:
        return ring
    start = 0
    for k, (x, y) in enumerate(out):
        if (y, x) < (out[start][1], out[start][0]):
            start = k
    return out[start:] + out[:start]


def _near(a: "Point", b: "Point", p: "Point") -> bool:
    """Whether p lies between a and b and less than a jot up, down or across off their line."""
    (ax, ay), (bx, by), (x, y) = a, b, p
    if (x < ax and x < bx) or (x > ax and x > bx) or (y < ay and y < by) or (y > ay and y > by):
        return False
    return abs(_off(a, b, p)) < max(abs(bx - ax), abs(by - ay))


def _straight(around: "list[Point]", i: int, j: int, every: "list[Point]") -> bool:
    """Whether all corners between the i-th and the j-th may go."""
    a, b = around[i], around[j]
    if abs(b[0] - a[0]) < 2 or abs(b[1] - a[1]) < 2:  # a level or upright line stays so
        return False
    gone = around[i + 1 : j]
    for p in gone:
        if not _near(a, b, p):
            return False
    near = [p for p in every if _near(a, b, p)]
    for p in near:
        if p != a and p != b and p not in gone:
            return False
    return True
