"""Edges of polygons, cut where they cross, on whole jots.

Where two edges cross, the point is seldom a whole jot. It is rounded, and every
edge that comes within half a jot of it is led through it, so that no two edges
cross any more and all agree on their common points. No edge moves by more than
half a jot. Source: snap rounding (Hobby 1999; from memory).
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    Point = tuple[int, int]
    Edge = tuple[int, int, int, int, int]


def at_x(x0: int, y0: int, x1: int, y1: int, x: int) -> int:
    """The height at x of the line through two points, to the nearest jot.

    x0 < x1 and x in jots; halves go up, whichever two points of one line are
    given. Errors: none for x0 < x1. Source: arithmetic.
    """
    run = x1 - x0
    return y0 + (2 * (x - x0) * (y1 - y0) + run) // (2 * run)


def at_y(x0: int, y0: int, x1: int, y1: int, y: int) -> int:
    """Where the line through two points passes height y, to the nearest jot.

    y0 and y1 differ; jots, halves go right. Errors: none. Source: arithmetic.
    """
    rise = y1 - y0
    if rise < 0:
        return x0 + (2 * (y0 - y) * (x1 - x0) - rise) // (-2 * rise)
    return x0 + (2 * (y - y0) * (x1 - x0) + rise) // (2 * rise)


def crossing_free(edges: "list[Edge]", corners: "Iterable[Point]") -> "list[Edge]":
    """The same edges, cut so that they meet in nothing but their ends.

    edges: (x0, y0, x1, y1, tag) with x0 < x1, in jots; an upright edge is left
    out, since whoever works in upright slices cuts there anyway. corners: all
    points of the shapes, upright edges' too. Two results may lie on one another.
    Errors: none. Source: snap rounding.
    """
    edges = sorted(edges)
    found = set(corners)
    for x0, y0, x1, y1, _ in edges:
        found.add((x0, y0))
        found.add((x1, y1))
    for a, b in _pairs(edges):
        point = _crossing(a, b)
        if point is not None:
            found.add(point)
    points = sorted(found)
    out: list[Edge] = []
    first = 0
    for edge in edges:
        while points[first][0] < edge[0]:
            first += 1
        if edge[1] == edge[3]:  # level: what is near it is on it
            out.append(edge)
        else:
            out.extend(_led(edge, points, first))
    return out


def _pairs(edges: "list[Edge]") -> "list[tuple[Edge, Edge]]":
    """The pairs of sorted edges that may cross: their upright boxes overlap."""
    pairs = []
    open_: list[Edge] = []
    for b in edges:
        x, low, high = b[0], min(b[1], b[3]), max(b[1], b[3])
        open_ = [a for a in open_ if a[2] > x]
        for a in open_:
            ya, yb = a[1], a[3]
            if ya == yb and low == high:
                continue
            if (ya < high or yb < high) and (ya > low or yb > low):
                pairs.append((a, b))
        open_.append(b)
    return pairs


def _crossing(a: "Edge", b: "Edge") -> "Point | None":
    """The point inside both edges, to the nearest jot; None where there is none."""
    ax, ay = a[2] - a[0], a[3] - a[1]
    bx, by = b[2] - b[0], b[3] - b[1]
    whole = ax * by - ay * bx
    if whole == 0:
        return None
    dx, dy = b[0] - a[0], b[1] - a[1]
    on_a = dx * by - dy * bx
    on_b = dx * ay - dy * ax
    if whole < 0:
        whole, on_a, on_b = -whole, -on_a, -on_b
    if not (0 < on_a < whole and 0 < on_b < whole):
        return None
    twice = 2 * whole
    x = a[0] + (2 * on_a * ax + whole) // twice
    return (x, a[1] + (2 * on_a * ay + whole) // twice)


def _led(edge: "Edge", points: "Sequence[Point]", first: int) -> "list[Edge]":
    """A sloping edge through every point whose jot-wide square it passes.

    A square holds its left and lower side: x - 1/2 <= . < x + 1/2, the way
    halves are rounded.
    """
    x0, y0, x1, y1, tag = edge
    run, rise = x1 - x0, y1 - y0
    low, high = min(y0, y1), max(y0, y1)
    reach = run + abs(rise)
    hits = []
    for i in range(first, len(points)):
        x, y = points[i]
        if x > x1:
            break
        if low <= y <= high:
            off = 2 * (run * (y - y0) - rise * (x - x0))  # 0 on the line, over it > 0
            # the square's corners farthest over and under the line
            if off + reach > 0 and (off - reach < 0 or (rise < 0 and off == reach)):
                hits.append((x, y if rise > 0 else -y))
    hits.sort()
    out = []
    xa, ya = x0, y0
    for x, y in hits:
        if rise < 0:
            y = -y
        if x > xa:
            out.append((xa, ya, x, y, tag))
        xa, ya = x, y
    return out
