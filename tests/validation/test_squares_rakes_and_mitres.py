"""Slopes, 3-4-5, rakes and mitres.

Source: plane geometry, worked in the comments; figures to the digits printed there, so half of
the last digit is the tolerance.
"""

import pytest

from calc.trade.levels import (
    angle_of,
    corner_angle,
    diagonal,
    mitre,
    over,
    over_angle,
    rake_change,
    rake_factor,
    raked_head,
    square,
)
from tests.quick.gen import ask

INCH = 8128
FOOT = 12 * INCH
MM = 320


def test_a_quarter_inch_in_a_foot_is_20_83_mm_per_metre():
    """0.25 / 12 x 1000 = 20.833."""
    assert over(INCH // 4, FOOT, 1000 * MM) / MM == pytest.approx(20.83, abs=0.005)
    assert ask("level-taper", off="1/4", level="12", run="39")["answer"]["values"]["slope"] == 2083


def test_one_degree_is_17_46_mm_per_metre():
    """tan 1 deg = 0.0174551."""
    assert over_angle(1.0, 1000 * MM) / MM == pytest.approx(17.46, abs=0.005)


def test_three_eighths_in_32_is_11_72_mm_per_metre_and_0_671_degrees():
    """0.375 / 32 = 0.01171875."""
    assert over(3 * INCH // 8, 32 * INCH, 1000 * MM) / MM == pytest.approx(11.72, abs=0.005)
    assert angle_of(3 * INCH // 8, 32 * INCH) == pytest.approx(0.671, abs=0.0005)


def test_36_48_60_is_square():
    """36^2 + 48^2 = 1296 + 2304 = 3600 = 60^2."""
    assert diagonal(36 * INCH, 48 * INCH) == 60 * INCH
    assert corner_angle(36 * INCH, 48 * INCH, 60 * INCH) == pytest.approx(90.0, abs=1e-9)
    assert square(36 * INCH, 48 * INCH, 60 * INCH, 60 * INCH)[:3] == (
        0,
        pytest.approx(90.0),
        0,
    )


def test_a_diagonal_a_sixteenth_long_means_90_124_degrees():
    """cos = (1296 + 2304 - 60.0625^2) / (2 x 36 x 48) = -0.0021713."""
    long = 60 * INCH + INCH // 16
    assert corner_angle(36 * INCH, 48 * INCH, long) == pytest.approx(90.124, abs=0.0005)
    answer = ask("square-check", width="36", height="48", one="60 1/16")["answer"]
    assert answer["values"]["angle"] == 90124
    assert ["Corner, bottom left", "90.124°"] in answer["rows"]
    # 48 x sin 0.1244 deg = 0.10422 in off plumb.
    assert answer["values"]["out"] == pytest.approx(0.10422 * INCH, abs=1)


def test_a_course_of_5_1_8_at_4_12_changes_by_15_375():
    """5.125 x 12 / 4 = 15.375."""
    assert rake_change(41 * INCH // 8, 4 * INCH, 12 * INCH) == 15375 * INCH // 1000
    v = ask("rake", face="5 1/8", rise="4")["answer"]["values"]
    assert v["change"] == 15375 * INCH // 1000


@pytest.mark.parametrize(
    ("rise", "factor"), [(4, 1.05409), (6, 1.11803), (8, 1.20185), (12, 1.41421)]
)
def test_rake_factors(rise, factor):
    """root(1 + (rise / 12)^2): root(10)/3, root(5)/2, root(13)/3, root(2)."""
    assert rake_factor(rise, 12) == pytest.approx(factor, abs=0.000005)
    v = ask("rake", face="5 1/8", rise=str(rise))["answer"]["values"]
    assert v["factor"] == pytest.approx(factor * 100000)


@pytest.mark.parametrize(("corner", "saw"), [(90, 45.0), (135, 22.5), (92, 44.0)])
def test_mitres_from_square(corner, saw):
    """90 - corner / 2."""
    assert mitre(corner) == saw
    assert ask("mitre", corner=str(corner))["answer"]["values"]["mitre"] == saw * 1000


def test_a_raked_head_at_4_12():
    """arctan(1/3) = 18.435 deg: 45 - 9.217 = 35.783 and 45 + 9.217 = 54.217."""
    assert angle_of(4, 12) == pytest.approx(18.435, abs=0.0005)
    assert raked_head(angle_of(4, 12)) == pytest.approx((35.783, 54.217), abs=0.0005)
    v = ask("mitre", corner="90", rise="4")["answer"]["values"]
    assert (v["low"], v["high"]) == (35783, 54217)
