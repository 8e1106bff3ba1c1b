"""Worked walls: stair steps in the floor line, and walls that go on round a corner.

Source: plane geometry, worked by hand in the comments. That the wall before is
clad first, so that the next one starts at its boards' face (US Navy Builder
manual NAVEDTRA 14044, plate layout, says so of panels), and which boards run
over which ends at an outside corner, are common practice, no source.
"""

from fractions import Fraction as F

import pytest

from tests.validation.worked import (
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
    rectangle,
    ripped,
    saw_line,
)

# A stair skirt: 54 wide. From a level line the floor is 40 down to x = 24, then three steps of
# 7 up at 24, 34 and 44; the ceiling is 21-1/2 up. Over the lowest floor: floor 0, 7, 14, 21;
# ceiling 61-1/2 = 12 x 5-1/8. No gaps, so that ends against a riser have no freedom.
STAIR = {
    "name": "Stair",
    "width_floor": "54",
    "stations": [
        {"at": "0", "down": "40", "up": "21 1/2"},
        {"at": "24", "down": "40"},
        {"at": "24", "down": "33"},
        {"at": "34", "down": "33"},
        {"at": "34", "down": "26"},
        {"at": "44", "down": "26"},
        {"at": "44", "down": "19"},
        {"at": "54", "down": "19", "up": "21 1/2"},
    ],
    "studs": {"first": "16", "spacing": "16"},
}


@pytest.fixture(scope="module")
def stair():
    return planned(job([STAIR], {"end_gap": "0", "shortest": "30"}))


def test_survey_of_the_steps(stair):
    wall = stair["walls"][0]
    near(wall["level"], 40)
    steps = [(0, 0), (24, 0), (24, 7), (34, 7), (34, 14), (44, 14), (44, 21), (54, 21)]
    near_all(wall["floor"], steps)
    near_all(wall["ceiling"], [(0, q("61 1/2")), (54, q("61 1/2"))])
    assert len(wall["courses"]) == 12


@pytest.mark.parametrize(
    ("course", "right", "notch"),
    [
        # 0 to 5-3/8: the first riser, 0 to 7, ends it at 24
        (1, 24, None),
        # 5-1/8 to 10-1/2: over the first step, 7 - 5-1/8 = 1-7/8 out of it; ends at 34
        (2, 34, (24, 34, 0, q("1 7/8"))),
        # 10-1/4 to 15-5/8: over the second step, 14 - 10-1/4 = 3-3/4 out of it; ends at 44
        (3, 44, (34, 44, 0, q("3 3/4"))),
        # 15-3/8 to 20-3/4: over the second step, under the third: ends at 44, no cut
        (4, 44, None),
        # 20-1/2 to 25-7/8: over the third step, 21 - 20-1/2 = 1/2 out of it
        (5, 54, (44, 54, 0, q("1/2"))),
        # 25-5/8 to 31: clear of the stair
        (6, 54, None),
    ],
)
def test_a_course_over_the_steps(stair, course, right, notch):
    piece = only(stair, course)
    bottom = (course - 1) * q("5 1/8")
    top = bottom + q("5 3/8")
    near(piece["left"], 0)
    near(piece["length"], right)
    near(piece["lengths"]["upper"], right)
    near(piece["widths"]["left"], q("5 3/8"))
    if notch is None:
        assert piece["cuts"] == []
        outlined(piece, [(0, bottom), (right, bottom), (right, top), (0, top)])
        near(piece["lengths"]["lower"], right)
    else:
        start, _, _, depth = notch
        rectangle(piece, "notch", notch, ["lower", "right"], "floor")
        assert len(piece["cuts"]) == 1
        outlined(
            piece,
            [(0, bottom), (start, bottom), (start, bottom + depth), (right, bottom + depth),
             (right, top), (0, top)],
        )  # fmt: skip
        near(piece["widths"]["right"], q("5 3/8") - depth)


def test_story_pole_beside_the_stair(stair):
    """At the right the floor is 21 up: 4 x 5-1/8 = 20-1/2 is under it, 25-5/8 is 4-5/8 over it."""
    for k in range(12):
        line = k * q("5 1/8")
        pole(stair, "left", line, k + 1, line)
        pole(stair, "right", line, k + 1, None if k < 5 else line - 21)


# Two walls of 48 in an inside corner. Wall 1's floor rises 1/2 to the right, wall 2's 3/4 more.
# Wall 1 over its lowest floor (left): floor x/96; ceiling 40 + 40 = 80 all along.
# Wall 2 over its own lowest floor (left, at the corner, so 1/2 over wall 1's zero): floor x/64;
# ceiling 30 + 49-1/2 = 79-1/2, the same height as wall 1's.
# Lines of wall 1: 5-1/8 k. The same lines over wall 2's zero: 5-1/8 k - 1/2.
# 80 = 15 x 5-1/8 + 3-1/8: 16 courses, the last ripped to 3-1/8 on both walls.
# Wall 1 runs from 1/8 to 47-7/8. Wall 2 starts at the face of wall 1's boards, 3/4, and a gap
# of 1/8: 7/8 from the bare corner; it ends at 47-7/8, so its boards are 47 long.
PAIR = [
    {
        "name": "First",
        "width_floor": "48",
        "stations": [
            {"at": "0", "down": "40", "up": "40"},
            {"at": "48", "down": "39 1/2", "up": "40"},
        ],
        "studs": {"first": "16", "spacing": "16"},
    },
    {
        "name": "Second",
        "corner": "inside",
        "width_floor": "48",
        "stations": [
            {"at": "0", "down": "30", "up": "49 1/2"},
            {"at": "48", "down": "29 1/4", "up": "49 1/2"},
        ],
        "studs": {"first": "16", "spacing": "16"},
    },
]
PAIR_RULES = {"end_gap": "1/8", "shortest": "26"}  # 2 x 26 = 52: every course is one piece


@pytest.fixture(scope="module")
def pair():
    return planned(job(PAIR, PAIR_RULES))


def test_wall_2_starts_at_the_boards_of_wall_1(pair):
    assert [w["corner"] for w in pair["walls"]] == ["none", "inside"]
    for n in range(1, 17):
        one, other = only(pair, n), only(pair, n, wall=2)
        near_all([one["left"], one["right"]], [q("1/8"), q("47 7/8")])
        near_all([other["left"], other["right"]], [q("7/8"), q("47 7/8")])
        near(other["length"], 47)
    assert only(pair, 3)["id"] == "1-3A"
    assert only(pair, 3, wall=2)["id"] == "2-3A"


def test_courses_go_on_round_the_corner(pair):
    for wall in pair["walls"]:
        assert [c["number"] for c in wall["courses"]] == list(range(1, 17))
    for n in range(2, 17):
        near(course_of(pair, n)["bottom"], (n - 1) * q("5 1/8"))
        near(course_of(pair, n, wall=2)["bottom"], (n - 1) * q("5 1/8") - F(1, 2))
    for wall in (1, 2):
        ripped(course_of(pair, 16, wall)["rip"], q("3 1/8"), "upper", False)
    # Course 1 of wall 2: its tongue is at 5-3/8 - 1/2 = 4-7/8. Its lowest place is its left end, at
    # 7/8, where the floor has risen 7/8/64 = 7/512 from the bare corner: 4-7/8 - 7/512 are left.
    near(course_of(pair, 1, wall=2)["bottom"], F(7, 512))
    ripped(course_of(pair, 1, wall=2)["rip"], q("4 7/8") - F(7, 512), "lower", True)


def test_first_courses_on_both_walls(pair):
    """Wall 1: floor x/96 up to a tongue at 5-3/8. Wall 2: floor x/64 up to 4-7/8."""
    one, other = only(pair, 1), only(pair, 1, wall=2)
    left, right = q("1/8"), q("47 7/8")
    outlined(one, [(left, left / 96), (right, right / 96), (right, q("5 3/8")),
                   (left, q("5 3/8"))])  # fmt: skip
    start = q("7/8")
    outlined(other, [(start, start / 64), (right, right / 64), (right, q("4 7/8")),
                     (start, q("4 7/8"))])  # fmt: skip
    saw_line(other, [(0, start / 64), (47, right / 64)], by="floor", edge="lower")
    # at studs 16 and 32: 1/4 and 1/2 over wall 2's zero
    marks(
        other,
        "lower",
        [(0, 0, start / 64), (1, q("15 1/8"), F(1, 4)), (2, q("31 1/8"), F(1, 2)),
         (0, 47, right / 64)],
    )  # fmt: skip


def test_story_poles_meet_in_the_corner(pair):
    """Line k over the shared corner: 5-1/8 k - 1/2 on both; 3/4 less at wall 2's right end."""
    for k in range(1, 16):
        line = k * q("5 1/8")
        pole(pair, "left", line, k + 1, line)
        pole(pair, "right", line, k + 1, line - F(1, 2))
        pole(pair, "left", line - F(1, 2), k + 1, line - F(1, 2), wall=2)
        pole(pair, "right", line - F(1, 2), k + 1, line - q("1 1/4"), wall=2)


@pytest.mark.parametrize(
    ("corner", "end", "start"),
    [
        # the wall before runs to the bare corner, the boards of this one over its ends: 3/4 back
        ("outside", "48", "-3/4"),
        # both long points reach the thickness past the bare corner
        ("mitred", "48 3/4", "-3/4"),
    ],
)
def test_outside_corners(corner, end, start):
    wall = {
        "height_left": "41",
        "width_floor": "48",
        "studs": {"first": "16", "spacing": "16"},
    }
    plan = planned(job([wall, wall | {"corner": corner}], PAIR_RULES))
    for n in range(1, 9):
        one, other = only(plan, n), only(plan, n, wall=2)
        near_all([one["left"], one["right"]], [q("1/8"), q(end)])
        near_all([other["left"], other["right"]], [q(start), q("47 7/8")])
        near(other["length"], q("48 5/8"))
