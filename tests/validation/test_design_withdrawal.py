"""What design allows a nail in withdrawal.

Source: AWC NDS: W = 1380 G^2.5 D lb for each inch; G .45, D .203 -> 38 lb/in (published).
Gravities of framing: AWC NDS, from memory.
"""

import pytest

from calc.trade.holding import FRAMING, allowable_lb, framing, withdrawal_lb
from tests.quick.gen import ask


def test_the_worked_figure():
    """38 lb/in as printed, to its last figure."""
    assert allowable_lb(0.45, 0.203, 1) == pytest.approx(38, abs=0.5)


@pytest.mark.parametrize(
    ("key", "hundredths"),
    [("spruce-pine-fir", 42), ("douglas-fir-larch", 50), ("southern-pine", 55), ("hem-fir", 43)],
)
def test_gravities_from_memory(key, hundredths):
    assert framing(key).gravity == hundredths
    answer = ask("nail-hold", framing=key, depth="1")["answer"]
    assert any(f"0.{hundredths}^2.5" in line for line in answer["working"])
    assert any("from memory" in line for line in answer["working"])


@pytest.mark.parametrize("key", [f.key for f in FRAMING])
def test_it_is_well_under_what_pulls_out(key):
    """7850 / 1380 = 5.69 whatever the wood."""
    gravity = framing(key).gravity / 100
    ratio = withdrawal_lb(gravity, 0.0625, 1) / allowable_lb(gravity, 0.0625, 1)
    assert ratio == pytest.approx(5.688, abs=0.001)


def test_it_says_that_no_factor_is_in_it():
    rows = dict(ask("nail-hold", depth="1")["answer"]["rows"])
    assert "without factors" in rows["Allowed by design"]
