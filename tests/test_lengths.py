"""Lengths on CPython: exact through every unit, close when shown, said in words.

The same sweep runs on the phone's engine in tests/browser; single readings and
refusals are vectors (tests/vectors/lengths.json).
"""

import json
from fractions import Fraction as F

import pytest

from calc import lengths
from calc.bridge import call
from tests import sweep


def ask(requests):
    return [json.loads(call(json.dumps(r))) for r in requests]


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_every_length(unit):
    """Nothing is lost: each 1/32 in to 240 in, each 0.5 mm to 6 m, through all units and back."""
    assert sweep.round_trip(ask, unit, sweep.typed()[unit]) == []


def test_a_hundred_switches():
    """No drift: lengths switched 100 times, one switch after another."""
    assert sweep.hundred_switches(ask) == []


def test_the_sweep_can_fail():
    """A length one jot off, a text that is not exact, a reading too far off: each is told."""
    good = {"jots": 8128, "exact": '1"', "text": '1"', "lean": ""}
    assert list(sweep.faults(good, F(1), "in")) == []
    assert list(sweep.faults({**good, "jots": 8129}, F(1), "in"))
    assert list(sweep.faults({**good, "exact": "25.5 mm"}, F(1), "in"))
    assert list(sweep.faults({**good, "text": '1-1/16"'}, F(1), "in"))
    assert list(sweep.faults({**good, "lean": 'heavy (+1/32")'}, F(1), "in"))
    with pytest.raises(AssertionError):
        sweep.leaning('heavy (-1/32")')
    with pytest.raises(AssertionError):
        sweep.in_inches("1")


@pytest.mark.parametrize("unit", lengths.UNITS)
def test_any_jot_is_exact_as_text_and_as_a_number(unit):
    """Lengths that no tape shows, as sums make them: every 37th jot up to 50 in."""
    for jots in range(0, 50 * 8128, 37):
        text = lengths.exact(jots, unit)
        assert sweep.in_inches(text) == F(jots, sweep.JOTS)
        assert lengths.read(text, unit) == jots
        assert lengths.from_mm(lengths.to_mm(jots)) == jots


@pytest.mark.parametrize("unit", lengths.UNITS)
def test_a_shown_length_is_within_half_a_step(unit):
    """Rounding to 1/n errs by at most 1/(2n): arithmetic. The bound is met, not beaten."""
    off = []
    for jots in range(0, 3 * 8128, 1):
        r = lengths.reading(jots, unit)
        off.append(abs(sweep.in_inches(r.text) + sweep.leaning(r.lean) - F(jots, sweep.JOTS)))
    assert max(off) == sweep.CLOSE[unit]


@pytest.mark.parametrize("unit", lengths.UNITS)
def test_a_reading_has_its_unit_and_is_said_in_words(unit):
    """A unit in every text, no digit, slash or hyphen in a voice's words."""
    mark = {"in": '"', "ft": '"', "mm": " mm", "cm": " cm", "m": " m"}[unit]
    for jots in range(0, 300 * 8128, 1777):
        r = lengths.reading(jots, unit)
        assert r.text.endswith(mark)
        assert set(r.say) <= set("abcdefghijklmnopqrstuvwxyz ,"), r.say


def test_a_shown_length_reads_back_as_it_was_shown():
    for unit in lengths.UNITS:
        for jots in range(0, 250 * 8128, 4099):
            shown = lengths.show(jots, unit)
            again = lengths.read(shown, unit)
            assert lengths.show(again, unit) == shown
            assert F(abs(again - jots), sweep.JOTS) <= sweep.CLOSE[unit]
