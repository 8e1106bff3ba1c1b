"""Boxes in combustible cladding.

Source: NFPA 70 (NEC) 314.20, editions 2008 to 2017 (the box or a listed
extender comes to the finished surface of wood; set back at most 1/4 in where
that does not burn), 314.21 (gap at most 1/8 in, written for non-combustible
surfaces) and 406.5, 406.4 before 2011 (the plate covers the opening and seats).
Local code decides. Trust: published.
"""

import pytest

from calc.quick.box_extension import CALCULATOR
from calc.trade import section_boxes
from calc.trade.box_fit import wanted
from tests.jobs import job
from tests.quick.gen import ask
from tests.trade.sections import drafted

SOURCES = CALCULATOR.sources
BOX = {"bottom": "3", "top": "6 3/4", "left": "20", "right": "22 1/4"}
BOX |= {"face": "5 1/8", "edge": "square"}


def _answer(**more):
    return ask("box-notch", **BOX, **more)["answer"]


def test_a_box_flush_with_drywall_under_a_3_4_plank_needs_3_4():
    answer = _answer(thickness="3/4", proud="0")
    assert ["Box extension wanted", '3/4"'] in answer["rows"]
    assert answer["values"]["extension"] == 3 * 8128 // 4


def test_cautions_name_the_sections_and_defer_to_local_code():
    cautions = {c["key"]: c for c in _answer()["cautions"]}
    assert "314.20" in cautions["box-extension"]["source"]
    assert "314.21" in cautions["box-gap"]["source"]
    assert "Local code decides" in cautions["box-extension"]["text"]
    assert "dead with a tester" in cautions["electricity"]["text"]
    assert "hidden-lines" in cautions


@pytest.mark.parametrize(("clearance", "warns"), [("1/8", False), ("5/32", True), ("1/4", True)])
def test_a_gap_over_an_eighth_warns(clearance, warns):
    answer = _answer(clearance=clearance)
    assert any(w.startswith("A gap of") for w in answer["warnings"]) == warns


def test_a_box_past_the_cladding_is_named():
    answer = _answer(thickness="1/2", proud="3/4")
    assert any('stands 1/4" past the cladding' in w for w in answer["warnings"])


def _section(**box):
    doc = job(rules__box_gap=box.pop("gap", "1/16"))
    doc["walls"][0]["boxes"] = [{"centre": "40", "middle": "20", **box}]
    return drafted(section_boxes, doc)


def test_calculator_and_section_want_the_same_3_4():
    assert wanted(6096, 0, 0) == 6096
    assert ask("box-extension", thickness="3/4")["answer"]["values"]["extension"] == 6096
    (warning,) = _section().warnings
    assert warning.startswith('Wall 1, Box 1: set an extension of 3/4"')
    assert "never be buried" in warning


def test_set_back_counts_on_top():
    """1/4 in is allowed in drywall, and wood wants it all: 3/4 + 1/4 = 1."""
    (warning,) = _section(set_back="1/4").warnings
    assert 'set an extension of 1",' in warning


@pytest.mark.parametrize(("by", "told"), [("1/4", False), ("5/16", True)])
def test_more_than_a_quarter_back_is_named(by, told):
    answer = ask("box-extension", thickness="3/4", stands="back", by=by)["answer"]
    assert any("set back over 1/4" in text for _, text in answer["rows"]) == told


@pytest.mark.parametrize(("gap", "warns"), [("1/8", False), ("5/32", True)])
def test_the_sections_gap(gap, warns):
    assert any(w.startswith("A gap of") for w in _section(gap=gap).warnings) == warns


@pytest.mark.parametrize(("proud", "seats"), [("3/4", True), ("13/16", False)])
def test_a_plate_seats_on_a_box_that_is_not_past_the_boards(proud, seats):
    """NEC 406.5: the plate seats."""
    assert any("can't seat" in w for w in _section(proud=proud).warnings) != seats


def test_an_open_cut_is_named():
    """NEC 406.5: the plate covers the opening. Gap 5/16: 2-1/4 + 5/8 = 2-7/8 over 2-3/4."""
    answer = ask("box-extension", thickness="3/4", clearance="5/16")["answer"]
    assert any('leaves 1/16" of the cut open' in w for w in answer["warnings"])


def test_the_device_is_held_at_the_surface_and_told_so():
    """NEC 406.5: the yoke is held rigid at the finished surface; what holds it is the board.

    With the usual gap of 1/16 each ear bears on (4-1/8 - 3-7/8) / 2 = 1/8.
    """
    assert "Device held at the surface, plate covers the cut: NFPA 70 (NEC) 406.5" in SOURCES
    assert ask("box-extension", thickness="3/4")["answer"]["values"]["ears"] == 8128 // 8
