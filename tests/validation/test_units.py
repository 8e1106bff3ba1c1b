"""Units and the tape, against published values.

- National Bureau of Standards, Circular 572 addendum (1959), and NIST Handbook
  44, Appendix C: 1 in = 25.4 mm exactly.
- NIST Letter Circular 1137: a conversion gains no precision; its examples.
- Rows marked "geometry" or "arithmetic" are worked out in place.
- "common practice" rows have no source.
"""

from fractions import Fraction as F

import pytest

from calc import angles
from calc.lengths import read, reading, show
from calc.studs import grid_place

INCH = 8128


@pytest.mark.parametrize(
    ("tape", "metric"),
    [
        ("1 in", "25.4 mm"),
        ("1 ft", "304.8 mm"),
        ("1 ft", "0.3048 m"),
        ("10 in", "25.4 cm"),
        ("1/64 in", "0.396875 mm"),
    ],
)
def test_the_international_inch(tape, metric):
    """NBS Circular 572 addendum; NIST Handbook 44, App. C: exact, so equal to the jot."""
    assert read(tape, "in") == read(metric, "in")


@pytest.mark.parametrize(("tape", "places", "cm"), [("36", 0, "91"), ("40.1", 1, "101.9")])
def test_a_conversion_gains_no_precision(tape, places, cm):
    """NIST Letter Circular 1137: 36 in is 91 cm, 40.1 in is 101.9 cm."""
    exact = F(read(tape, "in"), INCH) * F(254, 100)
    step = F(1, 10**places)
    assert abs(exact - F(cm)) <= step / 2


def test_a_typed_conversion_is_shown_no_finer_than_the_tape_reads():
    """NIST Letter Circular 1137: what is shown has no more places than the reading bears.

    36 in shows in cm to half a millimetre, as any metric tape does, and no finer.
    """
    assert show(read("36 in", "in"), "cm") == "91.45 cm"  # 91.44
    assert show(read("40.1 in", "in"), "cm") == "101.85 cm"  # 101.854


def test_eight_cuts_from_one_datum():
    """Rounding to 1/16 errs by up to 1/32, so eight cuts by up to 1/4 in: arithmetic.

    Places kept whole and rounded once, from one datum, stay within 1/64 in: the
    stud grid at 19.2 in, against fractions.
    """
    worst_chained = 0
    for k in range(1, 9):
        place = grid_place(0, read("19.2 in", "in"), k)
        exact = F(96, 5) * k
        r = reading(place, "in")
        told = F(read(show(place, "in"), "in"), INCH)
        assert abs(told - exact) <= F(1, 64) + F(1, INCH), r
        nearest_16th = F(round(F(96, 5) * 16), 16)
        worst_chained = max(worst_chained, abs(nearest_16th * k - exact))
    # Eight steps of 19-3/16, rounded once and added up, have gone 1/10 in astray.
    assert worst_chained == F(1, 10)


def test_the_19_2_mark_is_a_fifth_of_96():
    """Tape convention: five spaces of 19.2 in are 96 in, exactly."""
    spacing = read("19.2 in", "in")
    assert [grid_place(0, spacing, k) for k in (5, 10, 50)] == [96 * INCH, 192 * INCH, 960 * INCH]


@pytest.mark.parametrize(
    ("rise", "run", "hundredths_of_mm_per_m"),
    [
        ("1/4", "12", 2083),
        ("3/8", "32", 1172),
        ("1/4", "120", 208),
        ("1/4", "96", 260),
        ("1/8", "96", 130),
    ],
)
def test_slopes(rise, run, hundredths_of_mm_per_m):
    """Geometry: 1/4 in per ft = 20.83 mm/m, 3/8 in 32 = 11.72.

    The plumb limits 2.08, 2.60, 1.30 mm/m: a survey of light-frame tolerance limits.
    """
    assert angles.per_metre(read(rise, "in"), read(run, "in")) == hundredths_of_mm_per_m


def test_a_lean_in_degrees():
    """Geometry: 3/8 in 32 = 0.671 deg; 1 deg = 17.46 mm/m."""
    assert angles.degrees(angles.hundredths(read("3/8", "in"), read("32", "in"))) == "0.67°"
    assert angles.degrees(angles.hundredths(read("17.46", "mm"), read("1000", "mm"))) == "1.00°"


@pytest.mark.parametrize(("word", "sixteenths"), [("heavy", F(1, 2)), ("light", -F(1, 2))])
def test_heavy_and_light_are_a_thirty_second(word, sixteenths):
    """Common practice, no source: a hair over or under, usually 1/32 in; always shown."""
    jots = read(f"75-3/4 {word}", "in")
    assert F(jots, INCH) == F(303, 4) + sixteenths / 16
    assert "1/32" in show(jots, "in")
