"""Worked walls: floor and ceiling out of level, and corners out of plumb.

Source: plane geometry, worked by hand in the comments. That course 1's lower
edge follows the floor while its upper edge stays level, and that the end gap is
taken level, are common practice, no source.
"""

from fractions import Fraction as F

import pytest

from tests.validation.worked import (
    angle,
    course_of,
    job,
    marks,
    near,
    near_all,
    only,
    outlined,
    planned,
    pole,
    q,
    ripped,
    saw_line,
)

# A wall of 50 in. From a level line the floor is 39-1/4 down at the left and 40 down
# at the right; the ceiling 56 up at the left and 56-1/2 up at the right.
# Zero is the lowest floor, at the right, so in heights over it:
#   level line 40; floor 40 - 39-1/4 = 3/4 at the left, 0 at the right: 3/4 - 3x/200
#   ceiling 40 + 56 = 96 at the left, 40 + 56-1/2 = 96-1/2 at the right: 96 + x/100
# (x in inches from the left). Boards run from 1/8 to 49-7/8: 49-3/4 long.
OUT_OF_LEVEL = {
    "name": "Out of level",
    "width_floor": "50",
    "stations": [
        {"at": "0", "down": "39 1/4", "up": "56"},
        {"at": "50", "down": "40", "up": "56 1/2"},
    ],
    "studs": {"first": "16", "spacing": "16"},
}
# Two pieces beside a joint would take 2 x 30 = 60 in: every course is one piece.
LEVEL_RULES = {"end_gap": "1/8", "shortest": "30"}


def _floor(x):
    return F(3, 4) - 3 * F(x) / 200


def _ceiling(x):
    return 96 + F(x) / 100


def _out_of_level(start):
    return planned(job([OUT_OF_LEVEL], LEVEL_RULES | {"start": start}))


def test_survey_from_one_level_line():
    wall = _out_of_level("floor")["walls"][0]
    near(wall["level"], 40)
    near_all(wall["floor"], [(0, F(3, 4)), (50, 0)])
    near_all(wall["ceiling"], [(0, 96), (50, q("96 1/2"))])
    near(wall["height"], q("96 1/2"))  # highest ceiling over lowest floor


def test_first_course_is_scribed_to_a_floor_out_of_level():
    """Course 1 shows 0 to 5-1/8, its tongue reaches 5-3/8; its lower edge is cut to the floor.

    Floor at the studs: 3/4 - 3 x 16/200 = 0.51; at 32: 0.27; at 48: 0.03.
    """
    plan = _out_of_level("floor")
    piece = only(plan, 1)
    left, right = q("1/8"), q("49 7/8")
    near(piece["left"], left)
    near(piece["length"], q("49 3/4"))
    # lowest corner first: it is the right one, where the floor is lowest
    outlined(
        piece,
        [(right, _floor(right)), (right, q("5 3/8")), (left, q("5 3/8")), (left, _floor(left))],
    )
    near(piece["lengths"]["upper"], q("49 3/4"))
    near(piece["widths"]["left"], q("5 3/8") - _floor(left))  # 4.626875
    near(piece["widths"]["right"], q("5 3/8") - _floor(right))  # 5.373125
    saw_line(
        piece,
        [(0, _floor(left)), (q("49 3/4"), _floor(right))],
        kind="taper",
        edge="lower",
        by="floor",
    )
    at = [(0, left), (1, 16), (2, 32), (3, 48), (0, right)]
    marks(piece, "lower", [(stud, x - left, _floor(x)) for stud, x in at])
    assert course_of(plan, 1)["rip"] is None
    for end in (piece["left_end"], piece["right_end"]):
        assert end["kind"] == "wall end"
        angle(end, 0, None)


def test_a_course_between_is_a_plain_board():
    """Course 10: 9 x 5-1/8 = 46-1/8 to 51-1/4, with its tongue to 51-1/2."""
    plan = _out_of_level("floor")
    course, piece = course_of(plan, 10), only(plan, 10)
    near(course["bottom"], q("46 1/8"))
    near(course["top"], q("51 1/4"))
    assert (course["rip"], piece["rip"], piece["cuts"], piece["scribe"]) == (None, None, [], [])
    near(piece["bottom"], q("46 1/8"))
    near(piece["lengths"]["lower"], q("49 3/4"))
    near(piece["lengths"]["upper"], q("49 3/4"))
    outlined(
        piece,
        [(q(x), q(y)) for x, y in (("1/8", "46 1/8"), ("49 7/8", "46 1/8"),
                                   ("49 7/8", "51 1/2"), ("1/8", "51 1/2"))],
    )  # fmt: skip


def test_last_course_tapers_to_the_ceiling():
    """96-1/2 = 18 x 5-1/8 + 4-1/4. Course 19 stands on 18 x 5-1/8 = 92-1/4.

    It is ripped to 96-1/2 - 92-1/4 = 4-1/4 for the wall's highest place, and
    tapered: 96.00125 - 92.25 = 3.75125 wide at the left, 4.24875 at the right.
    """
    plan = _out_of_level("floor")
    assert len(plan["walls"][0]["courses"]) == 19
    ripped(course_of(plan, 19)["rip"], q("4 1/4"), "upper", False)
    piece = only(plan, 19)
    ripped(piece["rip"], q("4 1/4"), "upper", False)
    left, right = q("1/8"), q("49 7/8")
    outlined(
        piece,
        [(left, q("92 1/4")), (right, q("92 1/4")), (right, _ceiling(right)),
         (left, _ceiling(left))],
    )  # fmt: skip
    near(piece["widths"]["left"], q("3.75125"))
    near(piece["widths"]["right"], q("4.24875"))
    saw_line(
        piece,
        [(0, _ceiling(left)), (q("49 3/4"), _ceiling(right))],
        kind="taper",
        edge="upper",
        by="ceiling",
    )
    # 96.16, 96.32 and 96.48 at the studs
    at = [(0, left), (1, 16), (2, 32), (3, 48), (0, right)]
    marks(piece, "upper", [(stud, x - left, _ceiling(x)) for stud, x in at])


def test_story_pole_over_a_floor_out_of_level():
    """Line k is at k x 5-1/8 over zero: at the right just so, at the left 3/4 less."""
    plan = _out_of_level("floor")
    pole(plan, "right", 0, 1, 0)
    pole(plan, "left", 0, 1, None)  # under the floor there
    for k in range(1, 19):
        pole(plan, "right", k * q("5 1/8"), k + 1, k * q("5 1/8"))
        pole(plan, "left", k * q("5 1/8"), k + 1, k * q("5 1/8") - F(3, 4))


def test_the_same_wall_from_the_ceiling():
    """A full board at the highest ceiling: lines at 96-1/2 - 5-1/8 k, tongues down.

    Course 1 shows 91-3/8 to 96-1/2 and reaches down to 91-1/8 with its tongue.
    Course 19 is what is left: 96-1/2 - 18 x 5-1/8 = 4-1/4, its tongue sawn off.
    """
    plan = _out_of_level("ceiling")
    first, last = only(plan, 1), only(plan, 19)
    left, right = q("1/8"), q("49 7/8")
    near(course_of(plan, 1)["bottom"], q("91 3/8"))
    outlined(
        first,
        [(left, q("91 1/8")), (right, q("91 1/8")), (right, _ceiling(right)),
         (left, _ceiling(left))],
    )  # fmt: skip
    ripped(course_of(plan, 19)["rip"], q("4 1/4"), "lower", False)
    outlined(
        last,
        [(right, _floor(right)), (right, q("4 1/4")), (left, q("4 1/4")), (left, _floor(left))],
    )
    at = [(0, left), (1, 16), (2, 32), (3, 48), (0, right)]
    marks(last, "lower", [(stud, x - left, _floor(x)) for stud, x in at])
    # The line between 18 and 19: 4-1/4 over zero, 4-1/4 - 3/4 over the floor at the left.
    pole(plan, "left", q("4 1/4"), 19, q("3 1/2"))  # 19 hangs from it
    pole(plan, "right", q("4 1/4"), 19, q("4 1/4"))


# A wall 100 high, lapped boards with face 5 and overall 5-1/2, so 20 courses.
# The left corner leans out 1/2 over its height: x = -y/200.
# Widths: 60 at the floor. Half-way up, at 50, the left corner is at -1/4 and the width is
# 60-5/8: the right corner is at 60-3/8. At the top it is -1/2 + 59-1/2 = 59.
# So the right corner runs at 60 + 3y/400 up to 50, then at 60-3/8 - 11 (y - 50)/400.
OUT_OF_PLUMB = {
    "name": "Out of plumb",
    "height_left": "100",
    "width_floor": "60",
    "width_middle": "60 5/8",
    "width_top": "59 1/2",
    "left_corner": "out",
    "left_lean": "1/2",
    "studs": {"first": "16", "spacing": "16"},
}
LAPPED = {
    "face": "5",
    "overall": "5 1/2",
    "edge": "lapped",
    "stock": [{"length": "8'"}],
}


def _left(y):
    return q("1/8") - F(y) / 200


def _right(y):
    y = F(y)
    return q("59 7/8") + (3 * y / 400 if y <= 50 else F(3, 8) - 11 * (y - 50) / 400)


@pytest.fixture(scope="module")
def leaning():
    return planned(job([OUT_OF_PLUMB], {"end_gap": "1/8", "shortest": "32"}, board=LAPPED))


def test_survey_of_corners_out_of_plumb(leaning):
    wall = leaning["walls"][0]
    near_all(wall["left"], [(0, 0), (-F(1, 2), 100)])
    near_all(wall["right"], [(60, 0), (q("60 3/8"), 50), (59, 100)])
    near(wall["width"], 60)


@pytest.mark.parametrize(
    ("course", "bottom", "lower", "upper", "left_angle", "right_angle", "right_long"),
    [
        # 0 to 5-1/2: lower 60 - 1/4 = 59.75; upper more by 5.5/200 + 16.5/400 = 0.06875
        # atan(1/200) = 0.286 deg, atan(3/400) = 0.430 deg
        (1, 0, "59.75", "59.81875", 29, 43, "upper"),
        # 70 to 75-1/2: left 0.125 - 0.35 = -0.225; right 60.25 - 20 x 0.0275 = 59.7: 59.925
        # upper: left 0.125 - 0.3775 = -0.2525; right 60.25 - 25.5 x 0.0275 = 59.54875: 59.80125
        # atan(11/400) = 1.575 deg
        (15, 70, "59.925", "59.80125", 29, 158, "lower"),
    ],
)
def test_lengths_and_bevels(
    leaning, course, bottom, lower, upper, left_angle, right_angle, right_long
):
    piece = only(leaning, course)
    top = bottom + q("5 1/2")
    outlined(
        piece,
        [(_left(bottom), bottom), (_right(bottom), bottom), (_right(top), top), (_left(top), top)],
    )
    near(piece["lengths"]["lower"], F(lower))
    near(piece["lengths"]["upper"], F(upper))
    near(piece["left"], _left(top))  # the left corner leans out: the upper point is outermost
    near(piece["right"], max(_right(bottom), _right(top)))
    angle(piece["left_end"], left_angle, "upper")
    angle(piece["right_end"], right_angle, right_long)
    # left to right: the upper point of the left end lies 5.5/200 further left
    saw_line(piece, [(0, top), (q("5 1/2") / 200, bottom)], kind="bevel", by="left corner")


def test_a_corner_that_bends_within_a_board(leaning):
    """Course 10, 45 to 50-1/2: the right corner bends at 50, its outermost point.

    Left: 0.125 - 50.5/200 = -0.1275; right: 60.375 - 0.125 = 60.25.
    """
    piece = only(leaning, 10)
    near(piece["left"], F("-0.1275"))
    near(piece["right"], F("60.25"))
    near(piece["length"], F("60.3775"))
    top = q("50 1/2")
    outlined(
        piece,
        [(_left(45), 45), (_right(45), 45), (F("60.25"), 50), (_right(top), top),
         (_left(top), top)],
    )  # fmt: skip


def test_last_course_loses_its_lap(leaning):
    """Course 20, 95 to 100: nothing covers it, so 5 of the 5-1/2 stay."""
    assert len(leaning["walls"][0]["courses"]) == 20
    ripped(course_of(leaning, 20)["rip"], 5, "upper", False)
    outlined(
        only(leaning, 20),
        [(_left(95), 95), (_right(95), 95), (_right(100), 100), (_left(100), 100)],
    )
