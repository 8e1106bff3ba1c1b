"""Hand nails by the penny.

Source: carpentry texts: 4d 1-1/2, 6d 2, 8d 2-1/2, 10d 3 in; length = 0.5 + 0.25 d for 2 to 10.
Trust: published.
"""

from fractions import Fraction

import pytest

from calc.trade.nails import hand_nail, penny

INCH = 8128


@pytest.mark.parametrize(("d", "inches"), [(4, "3/2"), (6, "2"), (8, "5/2"), (10, "3")])
def test_printed_sizes(d, inches):
    assert penny(d) == Fraction(inches) * INCH


@pytest.mark.parametrize("d", range(2, 11))
def test_the_rule_is_exact_in_quarters(d):
    assert penny(d) == (Fraction(1, 2) + Fraction(d, 4)) * INCH
    assert hand_nail(penny(d)) == d
    assert hand_nail(penny(d) + 1) == (d + 1 if d < 10 else 0)
