"""What a plain nail in side grain takes before it is pulled out.

Source: Wood Handbook (FPL-GTR), ch. 8: p = 54.12 G^2.5 D L (N, mm) = 7850 G^2.5 D L (lb, in),
average maximum; G .42, D .0625, L 1 -> 56.1 lb. Trust: published.
"""

import pytest

from calc.trade.holding import withdrawal, withdrawal_lb
from tests.quick.gen import ask

POUND = 4.4482216152605  # newtons; NIST Handbook 44, App. C


def test_the_worked_figure():
    """56.1 lb as printed, to its last figure."""
    assert withdrawal_lb(0.42, 0.0625, 1) == pytest.approx(56.1, abs=0.05)
    answer = ask("nail-hold", framing="spruce-pine-fir", gauge="16", depth="1")["answer"]
    assert answer["figures"][0]["text"] == "56.1 lb"


@pytest.mark.parametrize("gravity", [0.42, 0.43, 0.5, 0.55])
@pytest.mark.parametrize("inches", [(0.0625, 1), (0.072, 1.25), (0.131, 1.5)])
def test_both_forms_agree(gravity, inches):
    """7850 lb/in2 is 54.124 N/mm2, printed as 54.12: within 1 in 10 000."""
    by_inches = withdrawal_lb(gravity, *inches) * POUND
    by_mm = withdrawal(gravity, *[x * 25.4 for x in inches])
    assert by_mm == pytest.approx(by_inches, rel=1e-4)


def test_it_goes_by_the_power_of_two_and_a_half():
    """(4/1)^2.5 = 32."""
    assert withdrawal_lb(0.8, 0.1, 1) == pytest.approx(32 * withdrawal_lb(0.2, 0.1, 1))
