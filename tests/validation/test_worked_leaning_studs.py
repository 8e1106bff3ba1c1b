"""A worked wall: studs that lean, so that a joint's place changes from course to course.

Source: plane geometry, worked by hand in the comments. That a joint is cut square
and stands on the stud's centre half-way up what shows of its course is common
practice, no source.
"""

from fractions import Fraction as F

import pytest

from calc.problems import InputError
from tests.validation.worked import angle, job, near, near_all, pieces_of, planned, q

# A wall 120 wide and 51-1/4 = 10 x 5-1/8 high; boards of 72, so each course has a joint.
# Two studs can carry it: a grid mark at 60 and a found one at 50 (10 in from the grid's is more
# than an eighth of 60, so it is a stud of its own); the two are closer than the shortest piece,
# 16, so each course has just one joint; neighbours never use the same stud, so they take turns.
# At the ceiling the grid's mark is at 61 and the found one at 48:
#   60 + y / 51.25 and 50 - 2 y / 51.25.
# Half-way up course n, y = 5.125 (n - 1/2) = 51.25 (n - 1/2) / 10:
#   60 + (n - 1/2) / 10 and 50 - (n - 1/2) / 5.
PLUMB = {
    "name": "Leaning studs",
    "height_left": "51 1/4",
    "width_floor": "120",
    "studs": {
        "first": "60",
        "first_top": "61",
        "spacing": "60",
        "found": ["50"],
        "leaning": [{"at": "50", "top": "48"}],
    },
}
# The same studs, read at the ceiling from a left corner that leans in by 1: 60 and 47 there.
# The right corner stays plumb: 120 - 1 = 119 wide at the top.
LEANING_CORNER = PLUMB | {
    "left_corner": "in",
    "left_lean": "1",
    "width_top": "119",
    "studs": PLUMB["studs"] | {"first_top": "60", "leaning": [{"at": "50", "top": "47"}]},
}
RULES = {"end_gap": "1/8", "shortest": "16"}
BOARD = {
    "face": "5 1/8",
    "overall": "5 3/8",
    "edge": "tongue-and-groove",
    "stock": [{"length": "72"}],
}


@pytest.fixture(scope="module", params=[PLUMB, LEANING_CORNER], ids=["plumb", "leaning corner"])
def plan(request):
    return planned(job([request.param], RULES, board=BOARD))


def test_studs_at_floor_and_ceiling(plan):
    found, grid = plan["walls"][0]["studs"]
    assert (found["number"], found["kind"], grid["number"], grid["kind"]) == (1, "found", 2, "grid")
    near_all([found["at"], found["top"]], [50, 48])
    near_all([grid["at"], grid["top"]], [60, 61])
    assert not found["doubled"] and not grid["doubled"]


def test_joints_follow_the_lean(plan):
    used = []
    for course in plan["walls"][0]["courses"]:
        n = course["number"]
        (run,) = course["runs"]
        (joint,) = run["joints"]
        half = n - F(1, 2)
        near(joint["at"], {1: 50 - half / 5, 2: 60 + half / 10}[joint["stud"]], f"joint of {n}")
        one, other = pieces_of(plan, n)
        near(one["right"], F(joint["at"]) / F(254, 10))
        near(other["left"], F(joint["at"]) / F(254, 10))
        near(other["right"], q("119 7/8"))
        for end in (one["right_end"], other["left_end"]):
            assert (end["kind"], end["stud"], end["at"]) == ("joint", joint["stud"], joint["at"])
            angle(end, 0, None)
        used.append(joint["stud"])
    assert used in ([1, 2] * 5, [2, 1] * 5)


def test_left_ends(plan):
    """Plumb: 1/8 all the way up. Leaning in 1 over 51-1/4: atan(1/51.25) = 1.118 deg off square.

    Course n's lower edge starts at 1/8 + 5.125 (n - 1) / 51.25 = 1/8 + (n - 1) / 10; leaning
    towards the wall's middle leaves the lower edge the longer one.
    """
    leans = plan["walls"][0]["left"][1][0] > 0
    for n in range(1, 11):
        one = pieces_of(plan, n)[0]
        near(one["left"], q("1/8") + (F(n - 1, 10) if leans else 0))
        if leans:
            angle(one["left_end"], 112, "lower")
        else:
            angle(one["left_end"], 0, None)


def test_a_mark_that_leans_must_be_a_mark():
    """Within an eighth of the spacing, 7-1/2: 30 is 20 off the nearest mark, so it is refused."""
    studs = PLUMB["studs"] | {"leaning": [{"at": "30", "top": "31"}]}
    with pytest.raises(InputError) as refused:
        planned(job([PLUMB | {"studs": studs}], RULES, board=BOARD))
    (problem,) = refused.value.problems
    assert problem.field == "walls[0].studs.leaning[0].at"
    assert "50" in problem.message and problem.fix
