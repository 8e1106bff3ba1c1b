"""Gaps of joints: Architectural Woodwork Standards, 1st ed. 2009, 6.1.10 (superseded).

Wood to wood, flat: 0.012 in (0.3 mm); shaped 0.025 in (0.65 mm), over at most 30 % of the joint.
Boards meet flat, so a wider `rules.joint_gap` is told.
"""

import pytest

from calc.draft import Draft
from calc.job import read_job
from calc.trade.section_coats import JOINT_MOST, write
from tests.jobs import job


def test_the_limit_is_the_metric_one_and_near_the_inch_one():
    assert JOINT_MOST == 0.3 * 320
    assert abs(JOINT_MOST / 8128 - 0.012) < 0.0005  # 0.3 mm is 0.0118 in: 0.012 to three places


@pytest.mark.parametrize(
    ("gap", "told"),
    [("0", False), ("0.3 mm", False), ("0.31 mm", True), ("1/64", True), ("1/16", True)],
)
@pytest.mark.parametrize(("unit", "says"), [("in", "0.012 in"), ("mm", "0.3 mm")])
def test_a_wider_joint_warns(gap, told, unit, says):
    j = read_job(job(rules__joint_gap=gap if "mm" in gap else f"{gap} in", unit=unit,
                     board__face="130 mm", board__overall="136 mm",
                     board__stock=[{"length": "3600 mm"}],
                     walls=[{"height_left": "2400 mm", "width_floor": "4000 mm",
                             "studs": {"first": "400 mm", "spacing": "400 mm"}}]))  # fmt: skip
    d = Draft(unit)
    write(d, j, None)
    warned = [w for w in d.warnings if "6.1.10" in w]
    assert bool(warned) == told
    assert all(says in w and "caulk" in w for w in warned)


@pytest.mark.parametrize(
    ("unit", "flat", "shaped"), [("in", "0.012 in", "0.025 in"), ("mm", "0.3 mm", "0.65 mm")]
)
def test_the_limits_are_told_with_where_they_stand(unit, flat, shaped):
    """6.1.10: flat 0.012 in (0.3 mm), shaped 0.025 in (0.65 mm), at most 30 % of the joint."""
    d = Draft(unit)
    write(d, read_job(job()), None)
    told = dict(d.rows)["Joints, wood to wood"]
    assert f"flat ones gape by {flat} at most, shaped ones by {shaped}" in told
    assert "30 % of the joint" in told
    assert "1st ed. 2009, 6.1.10, superseded" in told
