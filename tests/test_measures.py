"""Measures and money: what is typed is read, shown and read again; what is none is told."""

import pytest

from calc.lengths import UNITS
from calc.measures import (
    MEASURES,
    MeasureError,
    as_read,
    decimal,
    fixed,
    read,
    show,
    unit_of,
    with_unit,
)
from calc.moneys import count_of, money_of
from tests.quick.gen import Gen


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("measure", sorted(MEASURES))
def test_what_is_shown_reads_back_within_half_its_last_place(measure, unit):
    u = unit_of(measure, unit)
    for seed in range(60):
        value = Gen(seed).whole(1, 99999) / 100
        half = 0.5 * 10**-u.places * abs(u.times)
        back = read(show(value, measure, unit), measure, unit)
        assert abs(back - value) <= half * (1 + 1e-9)
        # Shown again it says the same: nothing creeps from one showing to the next.
        assert show(back, measure, unit) == show(value, measure, unit)


@pytest.mark.parametrize("measure", sorted(MEASURES))
def test_each_name_of_a_unit_means_the_same(measure):
    for u in MEASURES[measure].units:
        for name in (u.name, *u.names):
            for text in (
                f"12.5 {name}",
                f"12,5{name}",
                f" 12.5  {''.join(ch.upper() if ch.isascii() else ch for ch in name)} ",
            ):
                assert read(text, measure, "in") == pytest.approx(12.5 * u.times + u.plus)
    names = [n for u in MEASURES[measure].units for n in {u.name.lower(), *u.names}]
    assert len(names) == len(set(names))


def test_a_bare_number_is_in_the_unit_of_the_system():
    assert read("70", "temperature", "in") == pytest.approx(21.1111, abs=1e-4)
    assert read("70", "temperature", "mm") == 70
    assert read("1", "volume", "ft") == 3.785411784  # NIST Handbook 44, App. C
    assert read("1", "volume", "cm") == 1
    assert read("90", "hours", "in") == read("90", "hours", "m") == 90
    assert read("90 min", "hours", "in") == read("1,5", "hours", "mm") == 1.5
    assert [unit_of("film", u).name for u in UNITS] == ["mil", "mil", "µm", "µm", "µm"]


def test_a_json_number_is_in_the_base_unit():
    for unit in UNITS:
        assert read(21.5, "temperature", unit) == 21.5
        assert read(9, "coverage", unit) == 9.0


@pytest.mark.parametrize(
    "raw",
    ["", "-", ".", ",", "12 furlongs", "1.2.3", "1,2,3", "1 2", "--5", "5-", "twelve", "12 %%",
     "1234567890123", "\u0663", "1e3", True, False, None, [], {}, float("inf"), float("nan"),
     -float("inf"), 10**400],
)  # fmt: skip
@pytest.mark.parametrize("measure", sorted(MEASURES))
def test_what_is_no_measure_is_told_with_an_example(measure, raw):
    with pytest.raises(MeasureError) as told:
        read(raw, measure, "in")
    assert told.value.message.endswith(".") and told.value.fix.startswith("Give a number like 12")
    if raw not in ("", None):
        assert as_read(raw, measure, "in") is raw or raw != raw


def test_below_nothing_is_a_temperature():
    assert read("-40 °F", "temperature", "mm") == pytest.approx(-40)
    assert show(-40.0, "temperature", "in") == "-40 °F"


@pytest.mark.parametrize("measure", sorted(MEASURES))
@pytest.mark.parametrize("unit", UNITS)
def test_with_its_unit_it_means_the_same_in_every_unit(measure, unit):
    for text in ("8", " 8,5", "70.25"):
        own = with_unit(text, measure, unit)
        for other in UNITS:
            assert read(own, measure, other) == read(text, measure, unit)
        assert with_unit(own, measure, "mm") == own  # once is enough


@pytest.mark.parametrize("raw", [7, 7.5, None, "", "much", "8 %x", "1.2.3"])
def test_what_has_no_bare_number_stays_as_it_is(raw):
    assert with_unit(raw, "percent", "in") is raw


def test_as_read_says_it_in_the_other_system():
    assert as_read("350 sq ft/gal", "coverage", "mm") == "8.59 m²/L"
    assert as_read(8.59, "coverage", "in") == "350 sq ft/gal"
    assert as_read("5 mil", "film", "m") == "127 µm"
    assert as_read("", "film", "m") == ""


@pytest.mark.parametrize(
    ("value", "places", "short", "long"),
    [(0, 2, "0", "0.00"), (-0.004, 2, "0", "0.00"), (12.5, 2, "12.5", "12.50"),
     (0.05, 1, "0.1", "0.1"), (-0.05, 2, "-0.05", "-0.05"), (7, 0, "7", "7"),
     (0.00245, 5, "0.00245", "0.00245"), (999.999, 2, "1000", "1000.00"), (10, 0, "10", "10"),
     (-1.5, 0, "-2", "-2"), (100, 1, "100", "100.0")],
)  # fmt: skip
def test_decimals_are_halves_up_without_a_float_format(value, places, short, long):
    assert (decimal(value, places), fixed(value, places)) == (short, long)


@pytest.mark.parametrize(
    ("raw", "hundredths"),
    [("12.50", 1250), ("12,5", 1250), (" 7", 700), ("0", 0), ("0.05", 5), (12.5, 1250), (7, 700),
     (0.1 + 0.2, 30), (1234.56, 123456), (0, 0), ("999999999999", 99999999999900),
     ("1,234", -1), ("1.234", -1), ("12.", -1), (".5", -1), ("", -1), ("-1", -1), (-1, -1),
     (12.345, -1), ("$5", -1), ("5 kr", -1), ("1.2.3", -1), ("\u0663", -1), ("1e3", -1),
     (True, -1), (False, -1), (None, -1), ([], -1), ({}, -1), ("1234567890123", -1),
     (float("inf"), -1), (-float("inf"), -1), (float("nan"), -1), (10**400, -1), (-0.3, -1)],
)  # fmt: skip
def test_money(raw, hundredths):
    assert money_of(raw) == hundredths


@pytest.mark.parametrize(
    ("raw", "n"),
    [("7", 7), (" 7 ", 7), (7, 7), ("0", 0), ("007", 7), ("", -1), ("7.0", -1), (7.0, -1),
     ("-7", -1), ("seven", -1), (True, -1), (None, -1), ([], -1), ("\u0667", -1), ("²", -1),
     ("1234567890123", -1)],
)  # fmt: skip
def test_counts(raw, n):
    assert count_of(raw) == n


@pytest.mark.parametrize("cents", [0, 1, 5, 10, 99, 100, 12345, 99999999])
def test_any_amount_comes_back_from_both_marks(cents):
    whole, part = divmod(cents, 100)
    for mark in ".,":
        assert money_of(f"{whole}{mark}{part:02d}") == cents
    assert money_of(cents / 100) == cents
