"""Lines along a wall (floor, ceiling) as lists of points, and a reading between two of them.

A line is a list of (x, y) in jots from left to right; two points of one x are a
step. It has at least two points of different x, and no step at either end.
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    Point = tuple[int, int]
else:
    Point = tuple


def nearest(num: int, den: int) -> int:
    """num / den to the nearest whole number, a half upwards. den: more than 0."""
    return (2 * num + den) // (2 * den)


def between(p: Point, q: Point, x: int) -> int:
    """y to the nearest jot on the straight line through p and q, which differ in x."""
    if p[0] > q[0]:
        p, q = q, p
    run = q[0] - p[0]
    return nearest(p[1] * run + (q[1] - p[1]) * (x - p[0]), run)


def y_at(line: list[Point], x: int, side: int) -> int:
    """y of the line at x, to the nearest jot; beyond its ends its end segments go on.

    side: at a step, -1 for what stands left of it, 1 for what stands right.
    """
    last = None
    for i in range(len(line) - 1):
        p, q = line[i], line[i + 1]
        if p[0] == q[0]:
            continue
        last = (p, q)
        if x < q[0] or (side < 0 and x == q[0]):
            break
    if last is None:
        raise ValueError("a line needs two points of different x")
    return between(last[0], last[1], x)


def reach(line: list[Point], left: int, right: int) -> list[Point]:
    """The line from x = left to x = right, cut off at its ends, or they moved out along it.

    An end that moves out leaves no point behind. left < right.
    """
    out = [(left, y_at(line, left, 1))]
    out.extend([p for p in line if max(left, line[0][0]) < p[0] < min(right, line[-1][0])])
    out.append((right, y_at(line, right, -1)))
    return out


def plain(line: list[Point]) -> list[Point]:
    """The line without the points that stand on the one before."""
    return [line[i] for i in range(len(line)) if i == 0 or line[i] != line[i - 1]]
