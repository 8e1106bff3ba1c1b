"""Plane geometry in slices: by hand, and over generated walls against shapely.

Shapely (GEOS) works in floats of 53 bits on the same whole-number corners; its
own error is far below a jot. Tolerances name what rounding to a jot may move:
a line that is neither level nor upright moves by at most half a jot up, down
or across at each cut, so an area is off by at most that line's length.
"""

from itertools import pairwise

import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, box, unary_union
from shapely.geometry import MultiPolygon

from calc.region import Trap, between, clip, extent, parts, region, rings, twice_area, uprights
from calc.rings import outline, twice_inside

INCH = 8128
FACE = 41656  # 5-1/8 in


def many(count):
    return settings(
        max_examples=count,
        derandomize=True,
        database=None,
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )


# ---- by hand: whole-number answers from squared paper

WINDOW = [(3, 2), (6, 2), (6, 5), (3, 5)]


def test_a_window_leaves_four_slices_and_a_hole():
    traps = region((0, 0, 10, 8), [WINDOW])
    assert traps == [
        Trap(0, 3, 0, 0, 8, 8),
        Trap(3, 6, 0, 0, 2, 2),
        Trap(3, 6, 5, 5, 8, 8),
        Trap(6, 10, 0, 0, 8, 8),
    ]
    assert twice_area(traps) == 2 * (80 - 9)
    assert extent(traps) == (0, 0, 10, 8)
    assert parts(traps) == [traps]
    assert rings(traps) == [
        [(0, 0), (10, 0), (10, 8), (0, 8)],
        [(3, 2), (3, 5), (6, 5), (6, 2)],
    ]


def test_the_same_polygon_either_way_round_and_twice():
    once = region((0, 0, 10, 8), [WINDOW])
    assert region((0, 0, 10, 8), [WINDOW[::-1]]) == once
    assert region((0, 0, 10, 8), [WINDOW, WINDOW[::-1]]) == once


def test_a_door_makes_two_jambs_one_part_over_it():
    traps = region((0, 0, 10, 8), [[(4, -1), (6, -1), (6, 5), (4, 5)]])
    assert rings(traps) == [
        [(0, 0), (4, 0), (4, 5), (6, 5), (6, 0), (10, 0), (10, 8), (0, 8)],
    ]
    low = clip(traps, 0, 5)
    assert parts(low) == [[Trap(0, 4, 0, 0, 5, 5)], [Trap(6, 10, 0, 0, 5, 5)]]
    assert clip(traps, 5, 8) == [Trap(0, 10, 5, 5, 8, 8)]


def test_a_peak_is_cut_by_a_course_line():
    # Gable of 8 wide: from 4 at both ends up to 8 in the middle, so 6 is met at 2 and 6.
    traps = region((0, 0, 8, 9), [[(0, 4), (4, 8), (8, 4), (8, 9), (0, 9)]])
    assert traps == [Trap(0, 4, 0, 0, 4, 8), Trap(4, 8, 0, 0, 8, 4)]
    assert clip(traps, 6, 9) == [Trap(2, 4, 6, 6, 6, 8), Trap(4, 6, 6, 6, 8, 6)]
    assert rings(clip(traps, 0, 6)) == [[(0, 0), (8, 0), (8, 4), (6, 6), (2, 6), (0, 4)]]
    assert rings(clip(traps, 6, 9)) == [[(2, 6), (6, 6), (4, 8)]]
    assert uprights(traps, 3) == [(0, 7)]


def test_a_hollow_corner_leaves_two_runs_of_one_course():
    # A beam box that hangs like a C: at its open side the wall goes on inside it.
    c = [(2, 2), (8, 2), (8, 3), (4, 3), (4, 5), (8, 5), (8, 6), (2, 6)]
    traps = region((0, 0, 10, 8), [c])
    assert twice_area(traps) == 2 * (80 - (6 * 4 - 4 * 2))
    assert [extent(p) for p in parts(clip(traps, 3, 5))] == [(0, 3, 2, 5), (4, 3, 10, 5)]
    assert rings(traps)[1] == [
        (2, 2), (2, 6), (8, 6), (8, 5), (4, 5), (4, 3), (8, 3), (8, 2),
    ]  # fmt: skip


def test_parts_that_touch_in_a_point_are_two():
    traps = region(
        (0, 0, 4, 4), [[(0, 0), (2, 0), (2, 2), (0, 2)], [(2, 2), (4, 2), (4, 4), (2, 4)]]
    )
    assert parts(traps) == [[Trap(0, 2, 2, 2, 4, 4)], [Trap(2, 4, 0, 0, 2, 2)]]


def test_a_hole_that_touches_the_outline_in_a_point_is_a_ring_of_its_own():
    traps = region((0, 0, 8, 8), [[(4, 0), (6, 3), (4, 6), (2, 3)]])
    assert rings(traps) == [
        [(0, 0), (8, 0), (8, 8), (0, 8)],
        [(4, 0), (2, 3), (4, 6), (6, 3)],
    ]
    assert parts(traps) == [traps]


def test_two_holes_that_touch_are_two_rings():
    squares = [[(1, 1), (3, 1), (3, 3), (1, 3)], [(3, 3), (5, 3), (5, 5), (3, 5)]]
    traps = region((0, 0, 6, 6), squares)
    assert rings(traps)[1:] == [
        [(1, 1), (1, 3), (3, 3), (3, 1)],
        [(3, 3), (3, 5), (5, 5), (5, 3)],
    ]


def test_a_crossing_between_jots_is_one_point_from_all_sides():
    # The lines from (0,0) to (7,5) and from (0,5) to (7,0) cross at (3.5, 2.5): halves go up.
    below = region((0, 0, 7, 5), [[(0, 0), (7, 5), (0, 5)], [(0, 5), (7, 0), (7, 5)]])
    above = region((0, 0, 7, 5), [[(0, 0), (7, 5), (7, 0)], [(0, 5), (7, 0), (0, 0)]])
    assert rings(below) == [[(0, 0), (7, 0), (4, 3)]]
    assert rings(above) == [[(4, 3), (7, 5), (0, 5)]]


def test_a_leaning_corner_keeps_its_line_through_a_window_on_it():
    # 1 over in 96: the crossing with the level line y = 30 is at 30/96, nearer to 0.
    traps = region(
        (0, 0, 20, 96), [[(0, 0), (1, 96), (0, 96)], [(-5, 30), (4, 30), (4, 50), (-5, 50)]]
    )
    assert rings(clip(traps, 0, 30)) == [[(0, 0), (20, 0), (20, 30), (0, 30)]]
    assert rings(clip(traps, 50, 96)) == [[(1, 50), (20, 50), (20, 96), (1, 96)]]


def test_what_a_cut_rounded_is_no_corner():
    # A ceiling that falls 10 in 1000, over three windows: one straight line in the top course.
    ceiling = [(0, 110), (1000, 100), (1000, 120), (0, 120)]
    windows = [[(x, 20), (x + 33, 20), (x + 33, 60), (x, 60)] for x in (111, 333, 777)]
    top = clip(region((0, 0, 1000, 120), [ceiling, *windows]), 80, 120)
    assert len(outline(top)[0]) > 4
    assert rings(top) == [[(0, 80), (1000, 80), (1000, 100), (0, 110)]]


def test_crossings_go_to_the_nearest_jot_and_halves_to_the_right():
    # 3 up in 10: height 1 is met at 10/3 and 2 at 20/3;
    # 2 up in 5: height 1 is met at 2.5.
    rising = [Trap(0, 10, 0, 3, 9, 9)]
    assert [t.x1 for t in clip(rising, 0, 1)] == [3]
    assert [t.x1 for t in clip(rising, 0, 2)] == [7]
    falling = [Trap(0, 10, 3, 0, 9, 9)]
    assert [t.x0 for t in clip(falling, 0, 1)] == [7]
    assert [t.x0 for t in clip(falling, 0, 2)] == [3]
    assert [t.x1 for t in clip([Trap(0, 5, 0, 2, 9, 9)], 0, 1)] == [3]
    assert [t.x0 for t in clip([Trap(0, 5, 2, 0, 9, 9)], 0, 1)] == [3]
    assert [t.lo1 for t in between([Trap(0, 4, 0, 2, 9, 9)], 0, 1)] == [1]  # 0.5
    assert [t.lo1 for t in between([Trap(0, 3, 0, 1, 9, 9)], 0, 1)] == [0]  # 0.33


def test_an_obstacle_that_rounds_to_nothing_divides_nothing():
    # At 30 the long edge is 0.3 up, which is 0; from there both edges go from 0 to 1.
    assert region((0, -5, 100, 5), [[(0, 0), (30, 0), (100, 1)]]) == [Trap(0, 100, -5, -5, 5, 5)]


def test_no_slices_cross_over_an_obstacle_of_a_jot():
    thin = [(-1, 5), (11, 1), (9, 3)]
    check_wall((0, 0, 20, 20), [thin, [(17, 6), (2, 15), (1, 19)]], [10], [10])


def test_a_wall_that_is_all_blocked_leaves_nothing():
    assert region((0, 0, 4, 4), [[(-1, -1), (5, -1), (5, 5), (-1, 5)]]) == []
    assert parts([]) == [] and twice_area([]) == 0 and rings([]) == []


def test_empty_bands_hold_nothing():
    traps = region((0, 0, 4, 4), [])
    assert clip(traps, 2, 2) == clip(traps, 3, 2) == between(traps, 2, 2) == []
    assert clip(traps, 4, 9) == between(traps, -3, 0) == []


@pytest.mark.parametrize("bad", [(0, 0, 0, 4), (0, 4, 4, 0)])
def test_a_box_without_a_size_is_refused(bad):
    with pytest.raises(ValueError, match="no size"):
        region(bad, [])


def test_two_points_and_nothing_are_refused():
    with pytest.raises(ValueError, match="2 points"):
        region((0, 0, 4, 4), [[(0, 0), (1, 1)]])
    with pytest.raises(ValueError, match="nothing"):
        extent([])


# ---- generated walls


def rectangle(left, bottom, right, top):
    return [(left, bottom), (right, bottom), (right, top), (left, top)]


ROUND = [
    (round(1000 * x), round(1000 * y))
    for x, y in Polygon(box(0, 0, 1, 1).centroid.buffer(1, quad_segs=8)).exterior.coords[:-1]
]


def disc(x, y, radius):
    return [(x + dx * radius // 1000, y + dy * radius // 1000) for dx, dy in ROUND]


@st.composite
def real_walls(draw):
    """(box, polygons, course lines) of a wall as it is surveyed, readings to 1/16 in or 1 mm."""
    unit = draw(st.sampled_from([508, 320, 1]))

    def length(low, high):
        return draw(st.integers(low * INCH // unit, high * INCH // unit)) * unit

    width, height = length(30, 200), length(60, 120)
    lines = list(range(draw(st.integers(0, FACE)), height + 24 * INCH, FACE))
    marks = []  # places that were used: to touch, a later one takes one of them

    def place(low, high):
        way = draw(st.integers(0, 3))
        if way == 0 and marks:
            return draw(st.sampled_from(marks))
        value = length(low, high)
        marks.append(value)
        return value

    def up(low, high):
        return draw(st.sampled_from(lines)) if draw(st.integers(0, 2)) == 0 else place(low, high)

    top = height + 24 * INCH
    lean_left, lean_right = (draw(st.integers(-400, 400)) * 16 for _ in "lr")
    wall = (min(0, lean_left), 0, width + max(0, lean_right), top)
    left, _, right, _ = wall
    blocked = []
    stations = sorted({0, width, *(place(1, 29) for _ in range(draw(st.integers(0, 4))))})
    ceiling = [(left, height)]
    floor = [(left, draw(st.integers(0, 2)) * 700)]
    for x in stations[1:-1] if draw(st.booleans()) else []:
        y = height + draw(st.integers(-24, 20)) * INCH // 2
        ceiling.append((x, y))
        if draw(st.integers(0, 3)) == 0:  # a step
            ceiling.append((x, y - draw(st.integers(1, 12)) * INCH))
        down = draw(st.integers(0, 24)) * INCH // 8
        floor.append((x, down))
        if draw(st.integers(0, 3)) == 0:
            floor.append((x, draw(st.integers(0, 8)) * INCH))
    ceiling.append((right, draw(st.sampled_from([height, height - 1000, height - 20 * INCH]))))
    floor.append((right, draw(st.integers(0, 2)) * 611))
    blocked.append([*ceiling, (right, top + 1), (left, top + 1)])
    blocked.append([*floor, (right, -5), (left, -5)])
    if lean_left:
        blocked.append([(left - 9, -1), (0, -1), (0, 0), (lean_left, top), (left - 9, top)])
    if lean_right:
        blocked.append(
            [(right + 9, -1), (width, -1), (width, 0), (width + lean_right, top), (right + 9, top)]
        )
    for _ in range(draw(st.integers(0, 5))):
        x, y = place(-2, 190), up(0, 70)
        w, h = length(1, 60), draw(st.sampled_from([FACE, 4 * FACE, length(1, 60)]))
        blocked.append(rectangle(x, -9 if draw(st.integers(0, 3)) == 0 else y, x + w, y + h))
    for _ in range(draw(st.integers(0, 5))):
        x, y = place(0, 190), up(0, 90)
        if draw(st.booleans()):
            blocked.append(rectangle(x, y, x + 2 * INCH, y + 15 * INCH // 4))
        else:
            blocked.append(disc(x, y, draw(st.sampled_from([34 * 320, INCH, 2 * INCH]))))
    cuts = draw(st.lists(st.sampled_from(lines + marks), min_size=1, max_size=3))
    sides = draw(st.lists(st.sampled_from([*marks, 0, width, width // 3]), min_size=1, max_size=2))
    return wall, blocked, cuts, sides


@st.composite
def nasty_walls(draw, size):
    """Any simple polygons on few whole numbers, so that much meets, overlaps and coincides."""
    near = st.integers(-2, size + 2)
    blocked = []
    for _ in range(draw(st.integers(1, 5))):
        points = draw(st.lists(st.tuples(near, near), min_size=3, max_size=7, unique=True))
        shape = Polygon(points)
        if not (shape.is_valid and shape.area):
            shape = shape.convex_hull
            if shape.geom_type != "Polygon":
                continue
        blocked.append([(int(x), int(y)) for x, y in shape.exterior.coords[:-1]])
    some = st.lists(st.integers(0, size), min_size=1, max_size=2)
    return (0, 0, size, size), blocked, draw(some), draw(some)


# ---- what must hold


def shapes(traps):
    corners = [
        [(x0, lo0), (x1, lo1), (x1, hi1), (x0, hi0), (x0, lo0)]
        for x0, x1, lo0, lo1, hi0, hi1 in traps
    ]
    return list(shapely.polygons(corners)) if corners else []


def whole(traps):
    return unary_union(shapes(traps))


def polygons(geometry):
    """The connected pieces that have an area."""
    if isinstance(geometry, MultiPolygon):
        return list(geometry.geoms)
    return [geometry] if geometry.area else []


def joined_upright(traps):
    """The pieces of Traps that share an upright line by shapely's intersection."""
    groups = [[drawn] for drawn in shapes(traps)]
    for a, one in zip(traps, shapes(traps), strict=True):
        for b, two in zip(traps, shapes(traps), strict=True):
            if a.x1 == b.x0 and one.intersection(two).length:
                first = next(g for g in groups if one in g)
                second = next(g for g in groups if two in g)
                if first is not second:
                    groups.remove(second)
                    first.extend(second)
    return [unary_union(g) for g in groups]


def sloping(outlines, inside):
    """Length of the lines that are neither level nor upright, in and next to a box."""
    left, bottom, right, top = inside
    near = box(left - 1, bottom - 1, right + 1, top + 1)
    total = 0.0
    for points in outlines:
        for (xa, ya), (xb, yb) in pairwise([*points, points[0]]):
            if xa == xb or ya == yb:
                continue
            total += LineString([(xa, ya), (xb, yb)]).intersection(near).length
    return total


def slopes(traps):
    return sum(
        ((t.x1 - t.x0) ** 2 + (a - b) ** 2) ** 0.5
        for t in traps
        for a, b in ((t.lo0, t.lo1), (t.hi0, t.hi1))
        if a != b
    )


def place(trap):
    return (trap.x0, trap.lo0, trap.lo1, trap.hi0, trap.hi1)


def same_area(got, expected):
    assert got == pytest.approx(expected, rel=1e-9, abs=1e-3)


def check_traps(traps):
    """Whole numbers, sorted, each with a size, none over another; drawn by shapely."""
    assert traps == sorted(traps, key=place)
    for t in traps:
        assert all(type(v) is int for v in t)
        assert t.x0 < t.x1 and t.lo0 <= t.hi0 and t.lo1 <= t.hi1
        assert (t.lo0, t.lo1) != (t.hi0, t.hi1)
    body = whole(traps)
    same_area(body.area, twice_area(traps) / 2)
    return body


def check_parts(traps, body):
    """Parts as shapely's connected pieces; rings as its outlines."""
    found = parts(traps)
    assert sorted((t for part in found for t in part), key=place) == traps
    assert all(part == sorted(part, key=place) for part in found)
    assert [extent(p)[:2] for p in found] == sorted(extent(p)[:2] for p in found)
    pieces = polygons(body)
    if len(pieces) < len(found):  # an obstacle under a jot has closed, and blocks none the less
        pieces = joined_upright(traps)
    areas = sorted(twice_area(p) / 2 for p in found)
    assert areas == pytest.approx(sorted(p.area for p in pieces), rel=1e-9, abs=1e-3)
    for part in found:
        exact = outline(part)
        assert sum(twice_inside(r) for r in exact) == twice_area(part)
        found_rings = rings(part)
        check_rings(found_rings)
        loose = sum(twice_inside(r) for r in found_rings)
        # Rounding's corners may go: less than a jot off the sloping lines that take their place.
        assert abs(loose - twice_area(part)) <= 2 * sloping(found_rings, extent(part))


def check_rings(found):
    outer, *holes = found
    assert twice_inside(outer) > 0 and all(twice_inside(h) < 0 for h in holes)
    assert holes == sorted(holes)
    for ring in found:
        assert ring[0] == min(ring, key=lambda p: (p[1], p[0]))
        assert len(set(ring)) == len(ring) > 2
        around = [ring[-1], *ring, ring[0]]
        for a, b, c in zip(around, around[1:], around[2:], strict=False):
            assert (b[0] - a[0]) * (c[1] - a[1]) != (b[1] - a[1]) * (c[0] - a[0])
    drawn = Polygon(outer, holes)
    assert drawn.is_valid
    same_area(drawn.area, sum(twice_inside(r) for r in found) / 2)


def flats(traps, y, lower):
    """Where a lower (or upper) line lies at y: disjoint (x0, x1)."""
    out = []
    for t in sorted(traps):
        if (t.lo0 == t.lo1 == y) if lower else (t.hi0 == t.hi1 == y):
            if out and out[-1][1] == t.x0:
                out[-1] = (out[-1][0], t.x1)
            else:
                out.append((t.x0, t.x1))
    return out


def check_tiles(traps, body, cut, lows, measure):
    """Pieces between neighbouring cuts: each inside its band, together the whole."""
    pieces = [cut(traps, a, b) for a, b in pairwise(lows)]
    allowed = slopes(traps) + 1  # half a jot a cut, on both sides of it
    assert abs(sum(map(twice_area, pieces)) - twice_area(traps)) <= 2 * allowed
    for piece, (a, b) in zip(pieces, pairwise(lows), strict=True):
        drawn = check_traps(piece)
        if piece:
            ends = extent(piece)
            assert a <= ends[measure] and ends[measure + 2] <= b
            assert drawn.difference(body).area <= allowed
            if measure or a == lows[0]:  # of the upright bands only the first, for time
                check_parts(piece, drawn)


def check_wall(wall, blocked, cuts, sides):
    left, bottom, right, top = wall
    traps = region(wall, blocked)
    body = check_traps(traps)
    expected = box(*wall).difference(unary_union([Polygon(p) for p in blocked]))
    # Snapped to a crossing and cut into slices: half a jot up or down and across, twice.
    allowed = 1.5 * sloping(blocked, wall)
    assert body.symmetric_difference(expected).area <= allowed + 1e-3 * (allowed > 0) + 1e-6
    if traps:
        ends = extent(traps)
        assert left <= ends[0] and bottom <= ends[1] and ends[2] <= right and ends[3] <= top
    check_parts(traps, body)
    check_tiles(traps, body, clip, sorted({bottom, top, *(c for c in cuts if bottom < c < top)}), 1)
    check_tiles(
        traps, body, between, sorted({left, right, *(s for s in sides if left < s < right)}), 0
    )
    for t in traps:
        for y in cuts:
            if min(t.lo0, t.lo1) < y < max(t.hi0, t.hi1):
                under, over = clip([t], bottom, y), clip([t], y, top)
                assert flats(under, y, False) == flats(over, y, True)
        for x in sides:
            if t.x0 < x < t.x1:
                one, two = between([t], left, x), between([t], x, right)
                ended = [(p.lo1, p.hi1) for p in one if p.lo1 < p.hi1]
                assert ended == [(p.lo0, p.hi0) for p in two if p.lo0 < p.hi0]


@many(800)
@given(real_walls())
def test_walls_as_surveyed(case):
    check_wall(*case)


@many(900)
@given(nasty_walls(12))
def test_walls_on_a_dozen_jots(case):
    check_wall(*case)


@many(300)
@given(nasty_walls(2000))
def test_walls_of_any_polygons(case):
    check_wall(*case)
