"""Coats against coatings practice guides and common practice.

Guides: sq ft/gal = 1604 x volume solids / dry mils (231 cu in in a gallon), in metric 1000 x
solids / micrometres, times the transfer efficiency. Common practice, no source: 350 to 400
sq ft/gal on a smooth primed surface; the first coat on a raw one covers 10 to 20 % less.
"""

import pytest

from calc.measures import read, show
from calc.quick.declare import default_text
from calc.quick.finish_hours import FIELDS as HOURS
from calc.quick.paint import FIELDS as PAINT
from calc.trade.coats import ON_RAW, Coating, by_solids, coat, rate_of
from calc.tradefields import FINISH
from tests.quick.gen import ask

SQ_FT_GAL = 0.09290304 / 3.785411784
# 1604 is 231 x 1000 / 144 = 1604.1667 rounded: a part in ten thousand.
ROUNDED = 1.1e-4


def test_five_mils_of_65_percent():
    """Guides: 1604 x 0.65 / 5 = 208.52 sq ft/gal."""
    assert by_solids(65, read("5 mil", "film", "in")) / SQ_FT_GAL == pytest.approx(
        208.52, rel=ROUNDED
    )


def test_125_micrometres_of_65_percent():
    """Guides: 1000 x 0.65 / 125 = 5.2 m2/L, exactly."""
    assert by_solids(65, 125) == 5.2


def test_transfer_efficiency():
    """Guides: 1604 x 0.52 x 0.3 / 1.5 = 166.8 sq ft/gal, with 30 % that reaches the surface."""
    rate = rate_of(99.0, 52, read("1.5 mil", "film", "in"), 70)
    assert rate / SQ_FT_GAL == pytest.approx(166.8, rel=2 * ROUNDED)  # printed to a tenth


def test_the_label_governs_where_solids_or_film_lack():
    for solids, film in ((None, None), (65.0, None), (None, 125.0)):
        assert rate_of(9.0, solids, film, 0) == 9.0
        assert rate_of(9.0, solids, film, 50) == 4.5


def test_a_smooth_primed_surface_takes_what_is_usual():
    """Common practice, no source: 350 to 400 sq ft/gal is 8.59 to 9.82 m2/L."""
    assert show(read("350 sq ft/gal", "coverage", "in"), "coverage", "mm") == "8.59 m²/L"
    assert show(read("400 sq ft/gal", "coverage", "in"), "coverage", "mm") == "9.82 m²/L"
    field = next(f for f in PAINT if f.key == "rate")
    for unit in ("in", "mm"):
        typed = read(default_text(field, unit), "coverage", unit)
        assert 8.589 <= typed <= 9.82
    job = next(f for f in FINISH if f.key == "paint_rate")
    assert pytest.approx(job.default) == 350 * SQ_FT_GAL
    assert 8.59 <= job.metric <= 9.82


def test_a_raw_surface_takes_a_tenth_to_a_fifth_more():
    """Common practice, no source: 10 to 20 % less spread on the first coat, and on it alone."""
    assert 0.80 <= ON_RAW <= 0.90
    paint = Coating("Paint", 10.0)
    assert coat(paint, "", 85.0, True).litres == pytest.approx(10.0)
    assert coat(paint, "", 85.0, False).litres == pytest.approx(8.5)
    rows = ask("paint", "mm", widths=["1000"], height="1000")["answer"]["tables"][0]["rows"]
    assert [r[3] for r in rows] == ["7.65 m²/L", "9 m²/L"]


def test_times_offered_are_the_usual_ones():
    """Common practice, no source: over night, about 24 h, before hanging; filler 1 to 5 h."""
    offered = {f.key: f.default for f in HOURS}
    assert offered["dry"] == "24 h"
    assert 1 <= read(offered["filler"], "hours", "in") <= 5
    job = {f.key: f.default for f in FINISH}
    assert job["dry"] == 24 and 1 <= job["filler"] <= 5
