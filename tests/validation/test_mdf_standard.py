"""How far MDF may grow.

Source: ANSI A208.2-2009, MDF for interior applications: linear expansion less than 0.33 % (its span
of 50 to 80 % relative humidity from memory).
"""

import pytest

from calc.draft import Draft
from calc.job import read_job
from calc.trade.movement import mdf_most
from calc.trade.section_movement import write
from tests.jobs import job
from tests.quick.gen import ask

MM = 320


def test_2400_mm_grow_by_at_most_7_92():
    """2400 x 0.0033 = 7.92 mm, an upper bound: never less than it, and a jot more at most."""
    assert 7.92 * MM <= mdf_most(2400 * MM) < 7.92 * MM + 1
    values = {"species": "mdf", "width": "130", "moisture": "8", "length": "2400"}
    answer = ask("wood-movement", "mm", **values)["answer"]
    assert answer["figures"][0]["text"] == "7.92 mm"
    assert answer["tables"][0]["rows"] == [["2400 mm", "7.92 mm", "4 mm"]]


@pytest.mark.parametrize("mm", [300, 999, 1220, 2440, 3050, 20000])
def test_the_bound_is_0_33_percent_of_any_length(mm):
    assert 0 <= mdf_most(mm * MM) - mm * MM * 0.0033 < 1 + 1e-9


def test_a_job_of_mdf_wants_gaps_for_its_runs():
    """164-1/2 in of wall: 164.5 x 0.0033 = 0.543 in, and 1/8 in at either end takes 1/4 in."""
    doc = job(board__species="mdf")
    d = Draft("in")
    write(d, read_job(doc), None)
    (warning,) = d.warnings
    assert warning.startswith("Wall 1: its longest run of MDF") and "0.543 in" in warning
    doc["rules"]["end_gap"] = "9/32"  # 2 x 9/32 = 0.5625
    d = Draft("in")
    write(d, read_job(doc), None)
    assert d.warnings == []


@pytest.mark.parametrize(("unit", "off"), [("mm", "0.125 mm"), ("in", "0.005 in")])
def test_its_thickness_is_told(unit, off):
    """ANSI A208.2-2009: within 0.125 mm; 0.125 / 25.4 = 0.0049 in."""
    values = {"species": "mdf", "width": "130 mm", "moisture": "8", "length": "2400 mm"}
    rows = dict(ask("wood-movement", unit, **values)["answer"]["rows"])
    assert rows["Thickness"] == f"off by up to {off} (ANSI A208.2-2009)"


def test_the_span_of_humidity_is_told_from_memory():
    """50 to 80 % relative humidity, from memory: the working names it so."""
    values = {"species": "mdf", "width": "130", "moisture": "8", "length": "2400"}
    working = ask("wood-movement", "mm", **values)["answer"]["working"]
    grows = [w for w in working if "0.0033" in w]
    assert grows and all("50 to 80 % humidity from memory" in w for w in grows)
