"""Worked walls: a gable's rake at 4:12 and a peaked wall at 8:12.

Source: plane geometry, worked by hand in the comments. A plank against a rake
changes by face x run / rise per course, 5-1/8 at 4:12 by 15.375 in; rake factor
1.05409 at 4:12 and 1.20185 at 8:12 (roofing geometry). That a board against the
ceiling keeps the ceiling gap and not the end gap is common practice, no source.
"""

from fractions import Fraction as F
from math import hypot

import pytest

from tests.validation.worked import (
    angle,
    course_of,
    cut,
    job,
    near,
    near_all,
    only,
    outline,
    outlined,
    planned,
    pole,
    q,
    ripped,
    saw_line,
)

FACE, OVERALL = q("5 1/8"), q("5 3/8")

# Half a gable: 138 wide, 24 high at the left; 138 x 4/12 = 46 more at the right: 70.
# Ceiling: 24 + x/3, so x = 3 (y - 24). Boards end at 137-7/8 on the right.
# Two pieces beside a joint would take 2 x 70 = 140 in: every course is one piece.
GABLE = {
    "name": "Half gable",
    "height_left": "24",
    "height_right": "70",
    "width_floor": "138",
    "studs": {"first": "16", "spacing": "16"},
}


@pytest.fixture(scope="module")
def gable():
    return planned(job([GABLE], {"end_gap": "1/8", "shortest": "70"}))


def test_courses_of_the_gable(gable):
    """70 = 13 x 5-1/8 + 3-3/8: 14 courses.

    Boards end 1/8 before the high corner, where the ceiling is 1/24 lower: the last
    course is ripped to 3-3/8 - 1/24 = 3-1/3.
    """
    wall = gable["walls"][0]
    near_all(wall["ceiling"], [(0, 24), (138, 70)])
    near(wall["height"], 70)
    assert [c["number"] for c in wall["courses"]] == list(range(1, 15))
    near_all([c["bottom"] for c in wall["courses"]], [k * FACE for k in range(14)])
    ripped(course_of(gable, 14)["rip"], q("3 1/3"), "upper", False)


def test_a_plain_course_under_the_rake(gable):
    """Course 4 reaches 4 x 5-1/8 + 1/4 = 20-3/4, under the 24 of the low end: 137-3/4 long."""
    piece = only(gable, 4)
    assert piece["cuts"] == []
    near(piece["length"], q("137 3/4"))


def test_the_course_that_meets_the_low_end(gable):
    """Course 5, 20-1/2 to 25-7/8. At x = 1/8 the ceiling is 24 + 1/24, 3-13/24 over its edge.

    The tongue's 25-7/8 is reached at x = 3 x 1-7/8 = 5-5/8, that is 5-1/2 along.
    """
    piece = only(gable, 5)
    outlined(
        piece,
        [(q("1/8"), q("20 1/2")), (q("137 7/8"), q("20 1/2")), (q("137 7/8"), q("25 7/8")),
         (q("5 5/8"), q("25 7/8")), (q("1/8"), q("24 1/24"))],
    )  # fmt: skip
    near(piece["widths"]["left"], q("3 13/24"))
    near(piece["widths"]["right"], OVERALL)
    near(piece["lengths"]["lower"], q("137 3/4"))
    angle(piece["left_end"], 0, None)
    saw_line(piece, [(0, q("24 1/24")), (q("5 1/2"), q("25 7/8"))], by="ceiling")


@pytest.mark.parametrize("course", range(6, 14))
def test_a_course_against_the_rake(gable, course):
    """Course 6 stands on 25-5/8: x = 3 x 1-5/8 = 4-7/8, lower edge 137-7/8 - 4-7/8 = 133.

    Each course more takes 5-1/8 x 3 = 15-3/8 off. The tongue takes part in the cut:
    the upper edge is 5-3/8 x 3 = 16-1/8 shorter. The end is atan(12/4) = 71.565 deg off square,
    18.435 deg off the board's edge.
    """
    piece = only(gable, course)
    lower = 133 - (course - 6) * q("15 3/8")
    near(piece["lengths"]["lower"], lower)
    near(piece["lengths"]["upper"], lower - q("16 1/8"))
    near(piece["left"], q("137 7/8") - lower)
    near(piece["length"], lower)
    near(piece["widths"]["left"], 0)
    near(piece["widths"]["right"], OVERALL)
    angle(piece["left_end"], 7157, "lower")
    angle(piece["right_end"], 0, None)
    assert piece["rip"] is None
    bottom = (course - 1) * FACE
    saw_line(piece, [(0, bottom), (q("16 1/8"), bottom + OVERALL)], kind="bevel", by="ceiling")


def test_what_shows_changes_by_face_times_run_over_rise(gable):
    """The published 15.375: of course 6, 133 shows at its lower line and 117-5/8 at its upper."""
    (ring,) = only(gable, 6)["shows"]
    near_all(
        ring,
        [(q("4 7/8"), q("25 5/8")), (q("137 7/8"), q("25 5/8")), (q("137 7/8"), q("30 3/4")),
         (q("20 1/4"), q("30 3/4"))],
    )  # fmt: skip
    near(ring[1][0] - ring[0][0] - (ring[2][0] - ring[3][0]), F("15.375"))


def test_the_saw_line_is_longer_than_its_run_by_the_rake_factor(gable):
    """1.05409 at 4:12; a jot at either end of 16-1/8 in shifts it by 0.00002."""
    (x0, y0), (x1, y1) = cut(only(gable, 8), kind="bevel")["points"]
    assert abs(hypot(x1 - x0, y1 - y0) / (x1 - x0) - 1.05409) < 0.00003


def test_the_last_course_of_the_gable_is_a_triangle(gable):
    """Course 14 stands on 13 x 5-1/8 = 66-5/8: x = 3 x 42-5/8 = 127-7/8, so 10 long.

    At its right end, 137-7/8, the ceiling is 70 - 1/24, so 3-1/3 wide there.
    """
    piece = only(gable, 14)
    outlined(
        piece,
        [(q("127 7/8"), q("66 5/8")), (q("137 7/8"), q("66 5/8")), (q("137 7/8"), q("69 23/24"))],
    )
    near(piece["lengths"]["lower"], 10)
    near(piece["lengths"]["upper"], 0)
    near(piece["widths"]["left"], 0)
    near(piece["widths"]["right"], q("3 1/3"))


def test_story_pole_of_the_gable(gable):
    for k in range(5):  # to 20-1/2, under the low end's 24
        pole(gable, "left", k * FACE, k + 1, k * FACE)
    for k in range(14):
        pole(gable, "right", k * FACE, k + 1, k * FACE)


# A peaked wall: 72 wide, 40 at both ends and 64 in the middle: 24 in 36, 8:12.
# Left slope: x = 1.5 (y - 40); the right one mirrors it. Boards run from 1/8 to 71-7/8.
PEAKED = {
    "name": "Peaked",
    "height_left": "40",
    "height_right": "40",
    "width_floor": "72",
    "stations": [{"at": "36", "up": "64"}],
    "studs": {"first": "16", "spacing": "16"},
}


@pytest.fixture(scope="module")
def peaked():
    return planned(job([PEAKED], {"end_gap": "1/8", "shortest": "37"}))


def test_courses_of_the_peaked_wall(peaked):
    """64 = 12 x 5-1/8 + 2-1/2: 13 courses."""
    wall = peaked["walls"][0]
    near_all(wall["ceiling"], [(0, 40), (36, 64), (72, 40)])
    assert len(wall["courses"]) == 13
    ripped(course_of(peaked, 13)["rip"], q("2 1/2"), "upper", False)
    assert only(peaked, 7)["cuts"] == []  # its tongue reaches 36-1/8, under 40


def test_the_course_that_meets_both_low_ends(peaked):
    """Course 8, 35-7/8 to 41-1/4. Ceiling at 1/8: 40 + 1/12; 41-1/4 is reached at 1-7/8."""
    outlined(
        only(peaked, 8),
        [(q("1/8"), q("35 7/8")), (q("71 7/8"), q("35 7/8")), (q("71 7/8"), q("40 1/12")),
         (q("70 1/8"), q("41 1/4")), (q("1 7/8"), q("41 1/4")), (q("1/8"), q("40 1/12"))],
    )  # fmt: skip


@pytest.mark.parametrize("course", range(9, 13))
def test_a_course_between_two_rakes(peaked, course):
    """Course 9 stands on 41: 1-1/2 from either corner, 69 long; 15-3/8 less for each course more.

    Either end changes by 5-1/8 x 12/8 = 7-11/16. The upper edge, tongue and all, is
    2 x 5-3/8 x 1.5 = 16-1/8 shorter. atan(12/8) = 56.310 deg off square.
    """
    piece = only(peaked, course)
    lower = 69 - (course - 9) * q("15 3/8")
    near(piece["left"], q("1 1/2") + (course - 9) * q("7 11/16"))
    near(piece["lengths"]["lower"], lower)
    near(piece["lengths"]["upper"], lower - q("16 1/8"))
    angle(piece["left_end"], 5631, "lower")
    angle(piece["right_end"], 5631, "lower")
    (x0, y0), (x1, y1) = cut(piece, kind="bevel", edge="left")["points"]
    # rake factor 1.20185 at 8:12; a jot at either end of 8 in shifts it by 0.00003
    assert abs(hypot(x1 - x0, y1 - y0) / (x1 - x0) - 1.20185) < 0.00004


def test_the_tip_of_the_peak(peaked):
    """Course 13 stands on 61-1/2: 36 -+ 1.5 x 2-1/2 = 32-1/4 and 39-3/4; its point is at 64."""
    piece = only(peaked, 13)
    outlined(piece, [(q("32 1/4"), q("61 1/2")), (q("39 3/4"), q("61 1/2")), (36, 64)])
    near(piece["length"], q("7 1/2"))
    near(piece["lengths"]["upper"], 0)
    near_all([piece["widths"]["left"], piece["widths"]["right"]], [0, 0])
    near(max(y for _, y in outline(piece)), 64)
