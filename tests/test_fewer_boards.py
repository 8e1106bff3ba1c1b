"""Of plans that cost the same, the one with fewer boards is taken."""

import pytest

from calc.plan import make
from tests.jobs import job
from tests.plan_checker import check


def planned(width, height, stock):
    doc = job(
        walls__0__height_left=height,
        walls__0__width_floor=width,
        board__stock=[{"length": length} for length in stock],
    )
    plan = make(doc)
    assert check(doc, plan) == []
    return plan


@pytest.mark.parametrize(
    ("width", "height", "short", "long"),
    [
        ("138 1/4", "41", "144", "192"),
        ("186 1/4", "82", "144", "192"),
        ("234 1/4", "82", "144", "192"),
        ("132 1/4", "82", "96", "144"),
    ],
)
def test_a_second_length_never_costs_boards(width, height, short, long):
    """The longer boards alone are one plan of the two lengths: it is no worse than that one."""
    alone = planned(width, height, [long])
    both = planned(width, height, [short, long])
    before = (alone["cost"]["total"], len(alone["boards"]))
    assert (both["cost"]["total"], len(both["boards"])) <= before


def test_sixteen_whole_boards_rather_than_twenty_of_the_same_length_in_all():
    """16 courses of 186 in take 16 of 16 ft: 256 ft, as do 4 of 16 ft and 16 of 12 ft."""
    plan = planned("186 1/4", "82", ["12'", "16'"])
    assert plan["cost"]["total"] <= 256 * 304.8
    assert len(plan["boards"]) <= 16
