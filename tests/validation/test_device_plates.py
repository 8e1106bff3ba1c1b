"""Device plates and screws.

Source: NEMA WD 6 / OS 1: plates 4-1/2 in high and 2-3/4 + 1-13/16 (n - 1) in
wide, each within 1/16 in; device screws 3-9/32 in centre to centre. BS 4662
and national tables: 60.3 and 120.6 mm; 60 mm at 71 mm pitch; 84 mm.
Trust: published.
"""

from fractions import Fraction

import pytest

from calc.boxes import PLATE_HEIGHT, screw_span, standard, us_plate

INCH = 8128
MM = 320


@pytest.mark.parametrize(
    ("gangs", "inches"),
    [(1, "11/4"), (2, "73/16"), (3, "51/8"), (4, "131/16"), (5, "10")],
)
def test_us_plates(gangs, inches):
    """2-3/4, 4-9/16, 6-3/8, 8-3/16 and 10 in as printed."""
    width, height = us_plate(gangs)
    assert width == Fraction(inches) * INCH
    assert height == PLATE_HEIGHT == Fraction(9, 2) * INCH


@pytest.mark.parametrize("gangs", range(1, 7))
def test_us_device_screws(gangs):
    """3-9/32 in one above the other, however many gangs."""
    assert screw_span(standard("us"), gangs) == Fraction(105, 32) * INCH


@pytest.mark.parametrize(
    ("key", "gangs", "mm"),
    [
        ("uk", 1, Fraction("60.3")),
        ("uk", 2, Fraction("120.6")),
        ("eu", 1, 60),
        ("eu", 2, 131),
        ("au", 1, 84),
        ("au", 2, 84),
    ],
)
def test_metric_screws(key, gangs, mm):
    """60.3 and 120.6; 60 and 60 + 71; 84 whatever the gangs."""
    assert screw_span(standard(key), gangs) == mm * MM
