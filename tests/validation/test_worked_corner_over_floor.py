"""A worked wall: a leaning corner over a floor out of level. Source: plane geometry."""

from tests.validation.test_worked_level_and_plumb import LEVEL_RULES, OUT_OF_LEVEL
from tests.validation.worked import angle, cut, job, only, planned


def test_the_end_stays_a_bevel_where_the_floor_cuts_its_lower_corner():
    """The left corner leans out 15/16 over 96 - 3/4 = 95-1/4: atan(0.9375/95.25) = 0.564 deg.

    Course 1 starts on the floor, 3/4 over zero there, and follows the corner to 5-3/8.
    """
    wall = OUT_OF_LEVEL | {"left_corner": "out", "left_lean": "15/16"}
    piece = only(planned(job([wall], LEVEL_RULES)), 1)
    angle(piece["left_end"], 56, "upper")
    assert cut(piece, by="left corner")["kind"] == "bevel"
