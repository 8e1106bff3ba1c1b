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
