"""Moisture that wood comes to in a room's air.

Source: USDA Forest Service, Wood Handbook (FPL-GTR-190): equation 4-5 and Table 4-2 (chapter 4),
fig. 13-1 and Table 13-2 (chapter 13; Table 13-2 from memory).
"""

import pytest

from calc.job import read_job
from calc.trade.moisture import CLIMATES, COLDEST, WARMEST, climate, emc
from calc.tradefields import SITE
from tests.jobs import job
from tests.quick.gen import ask

# Table 4-2, percent: the temperatures in °F, then a row for each relative humidity.
AT = (40, 60, 70, 80, 90)
TABLE = {
    20: (4.6, 4.6, 4.5, 4.4, 4.3),
    30: (6.3, 6.2, 6.2, 6.1, 5.9),
    40: (7.9, 7.8, 7.7, 7.6, 7.4),
    50: (9.5, 9.4, 9.2, 9.1, 8.9),
    60: (11.3, 11.1, 11.0, 10.8, 10.5),
    65: (12.3, 12.1, 12.0, 11.7, 11.5),
    70: (13.5, 13.3, 13.1, 12.9, 12.6),
    80: (16.5, 16.2, 16.0, 15.7, 15.4),
}
CELLS = [(f, rh, cell) for rh, row in TABLE.items() for f, cell in zip(AT, row, strict=True)]


def celsius(fahrenheit):
    return (fahrenheit - 32) * 5 / 9


def by_fahrenheit(t, rh):
    """Equation 4-5 in its form for °F, as the handbook prints it; ours is the one for °C."""
    w = 330 + 0.452 * t + 0.00415 * t**2
    k = 0.791 + 0.000463 * t - 0.000000844 * t**2
    k1 = 6.34 + 0.000775 * t - 0.0000935 * t**2
    k2 = 1.09 + 0.0284 * t - 0.0000904 * t**2
    h = rh / 100
    first = k * h / (1 - k * h)
    upper = k1 * k * h + 2 * k1 * k2 * k**2 * h**2
    return 1800 / w * (first + upper / (1 + k1 * k * h + k1 * k2 * k**2 * h**2))


@pytest.mark.parametrize(("fahrenheit", "rh", "cell"), CELLS)
def test_table_4_2(fahrenheit, rh, cell):
    """Within 0.07: half the table's last digit, and what equation and table differ by."""
    assert emc(celsius(fahrenheit), rh) == pytest.approx(cell, abs=0.07)


@pytest.mark.parametrize(("fahrenheit", "rh", "cell"), CELLS)
def test_table_4_2_through_the_calculator(fahrenheit, rh, cell):
    """In hundredths of a percent, so half of one more than 0.07."""
    answer = ask("room-moisture", temperature=f"{fahrenheit} °F", humidity=f"{rh}")["answer"]
    assert answer["values"]["emc"] / 100 == pytest.approx(cell, abs=0.075)


def test_the_forms_for_celsius_and_fahrenheit_agree():
    """Within 0.02 over 30 to 130 °F and up to 85 %: their constants are rounded apart."""
    apart = [
        abs(emc(min(max(celsius(f), COLDEST), WARMEST), rh) - by_fahrenheit(f, rh))
        for f in range(30, 131)
        for rh in range(0, 86)
    ]
    assert max(apart) <= 0.02
    assert max(apart) > 0  # they are two forms indeed


def test_20_degrees_and_50_percent():
    """9.271141 %: the published output of a package that has equation 4-5; its last digit."""
    assert emc(20, 50) == pytest.approx(9.271141, abs=5e-7)


def test_fig_13_1_usual_moisture_indoors():
    """Fig. 13-1: most of the US 8 %, the dry southwest 6 %, damp warm coasts 11 %."""
    assert [(c.key, c.usual) for c in CLIMATES] == [("most", 8), ("dry", 6), ("damp", 11)]
    rows = ask("room-moisture", temperature="70", humidity="40")["answer"]["rows"]
    usual = next(text for label, text in rows if label == "Usual indoors")
    assert usual == "8 % in most climates; 6 % in a dry climate; 11 % on a warm damp coast"


def test_table_13_2_pieces_at_installation_from_memory():
    """Table 13-2, from memory: 6 to 10, 4 to 9, 8 to 13 %, each about what fig. 13-1 has."""
    assert [(c.low, c.high) for c in CLIMATES] == [(6, 10), (4, 9), (8, 13)]
    assert all(c.low < c.usual < c.high for c in CLIMATES)


def test_a_job_may_name_each_of_these_climates_and_no_other():
    (field,) = [f for f in SITE if f.key == "climate"]
    assert list(field.choices) == [c.key for c in CLIMATES]
    named = read_job(job(site={"climate": "damp"})).trade.site.climate
    assert climate(named).usual == 11
