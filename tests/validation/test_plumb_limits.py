"""Plumb limits and slopes.

Source: a survey of published tolerance limits for light-frame construction
(home builders' guidelines, facility guide specifications and others); the
slopes are geometry. Trust: published; figures to the digits printed.
"""

import pytest

from calc.angles import PLUMB_LIMITS, degrees, hundredths, per_metre, plumb_limit, slope
from tests.quick.gen import ask

INCH = 8128
FOOT = 12 * INCH


@pytest.mark.parametrize(
    ("name", "mm_per_m"),
    [
        ("3/8 in per 32 in", 1172),
        ("1/4 in per 10 ft", 208),
        ("1/4 in per 8 ft", 260),
        ("1/8 in per 8 ft", 130),
    ],
)
def test_limits_in_mm_per_metre(name, mm_per_m):
    """The survey's own conversion: 11.72, 2.08, 2.60 and 1.30 mm/m."""
    limit = next(x for x in PLUMB_LIMITS if x.name == name)
    assert per_metre(limit.rise, limit.run) == mm_per_m


def test_residential_limit_as_an_angle():
    """3/8 in in 32 in is 0.671 degrees."""
    assert hundredths(3 * INCH // 8, 32 * INCH) == 67
    assert degrees(67) == "0.67°"


@pytest.mark.parametrize(("rise", "run", "mm_per_m"), [(INCH // 4, FOOT, 2083)])
def test_a_quarter_inch_in_a_foot(rise, run, mm_per_m):
    """Geometry: 1/4 in per ft is 20.83 mm/m."""
    assert per_metre(rise, run) == mm_per_m
    assert slope(rise, run, "mm") == "20.83 mm per m"


def test_one_degree_is_17_46_mm_per_metre():
    """Geometry: tan 1 deg = 0.017455, so 1746 jots in 100000 (17.46 mm/m) are 1.00 deg."""
    assert hundredths(1746, 100000) == 100
    assert per_metre(1746, 100000) == 1746


@pytest.mark.parametrize(("rise", "hundredth"), [(4, 1843), (6, 2657), (8, 3369), (12, 4500)])
def test_roof_pitches(rise, hundredth):
    """Geometry: 4:12 is 18.435 deg (18.4349); 6:12 26.565; 8:12 33.690; 12:12 45."""
    assert hundredths(rise, 12) == hundredth


@pytest.mark.parametrize(
    ("rise", "kept"),
    [
        (INCH // 8, "1/8 in per 8 ft"),
        (INCH // 8 + 1, "1/4 in per 10 ft"),
        (INCH // 5, "1/4 in per 10 ft"),
        (INCH // 5 + 1, "1/4 in per 8 ft"),
        (INCH // 4 + 1, "3/8 in per 32 in"),
        (9 * INCH // 8, "3/8 in per 32 in"),
        (9 * INCH // 8 + 1, None),
    ],
)
def test_the_strictest_limit_that_a_lean_over_8_ft_keeps(rise, kept):
    """1/4 in 10 ft is 1/5 in 8 ft; 3/8 in 32 in is 9/8 in 8 ft."""
    limit = plumb_limit(rise, 8 * FOOT)
    assert (limit.name if limit else None) == kept


def test_a_plank_against_a_rake():
    """Geometry: a plank of 5-1/8 against 4:12 is 15.375 in longer at one edge."""
    v = ask("remaining-run", run="100", run_top="115 3/8", face="5 1/8", end_gap="0", stock="144")[
        "answer"
    ]["values"]
    assert v["last_top"] - v["last"] == 15375 * INCH // 1000
    # The end stands 90 - 18.435 deg off square.
    assert v["angle"] == 7157


@pytest.mark.parametrize(
    ("gap", "level", "says"),
    [
        ("3/8", "32", "keeps 3/8 in per 32 in"),
        ("1/4", "120", "keeps 1/4 in per 10 ft"),
        ("1/4", "96", "keeps 1/4 in per 8 ft"),
        ("1/8", "96", "keeps 1/8 in per 8 ft"),
        ("13/32", "32", "keeps none of the usual limits"),
    ],
)
def test_a_level_that_reads_a_limit_keeps_it(gap, level, says):
    """NAHB residential guidelines 3/8 in per 32 in, UFGS and others the rest, by the survey."""
    answer = ask("level-taper", off=gap, level=level, run="96")["answer"]
    assert ["Limits of plumb", says] in answer["rows"]
    assert bool(answer["warnings"]) == ("none" in says)


def test_one_degree_on_a_digital_level():
    """1 deg = 17.46 mm/m, so 41.9 mm over 2400: past 11.72, the loosest."""
    answer = ask("level-taper", "mm", angle="1", run="2400")["answer"]
    assert answer["values"]["slope"] == 1746
    assert answer["values"]["taper"] == pytest.approx(2400 * 0.017455 * 320, abs=1)
    assert answer["values"]["kept"] == 0
