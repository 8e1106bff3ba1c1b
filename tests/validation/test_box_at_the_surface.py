"""Boxes in combustible cladding.

Source: NFPA 70 (NEC) 314.20, editions 2008 to 2017 (the box or a listed
extender comes to the finished surface of wood), and 314.21 (gap at most 1/8
in, written for non-combustible surfaces). Local code decides. Trust: published.
"""

import pytest

from tests.quick.gen import ask

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
