"""Thin panelling and interior finish.

Source: IRC R702.5: interior veneer panelling under 1/4 in needs 3/8 in gypsum behind it, studs
at most 16 in apart; IRC R302.9: flame spread at most 200, smoke at most 450. Local code
decides. Trust: published.
"""

import pytest

from calc.cautions import caution
from calc.trade import section_nails
from tests.jobs import job
from tests.quick.gen import ask
from tests.trade.sections import drafted


@pytest.mark.parametrize(
    ("boards", "wallboard", "warns"),
    [
        ("1/4", "0", False),
        ("15/64", "0", True),
        ("15/64", "5/16", True),
        ("15/64", "3/8", False),
        ("15/64", "9.5 mm", False),  # as 3/8 in is sold in metric
        ("15/64", "1/2", False),
    ],
)
def test_gypsum_behind(boards, wallboard, warns):
    answer = ask("nails", thickness=boards, wallboard=wallboard)["answer"]
    assert any("gypsum" in w and "Local code" in w for w in answer["warnings"]) == warns
    doc = job(board__thickness=boards, site={"wallboard": wallboard})
    assert any("gypsum" in w for w in drafted(section_nails, doc).warnings) == warns


@pytest.mark.parametrize(
    ("boards", "spacing", "warns"),
    [("3/16", "16", False), ("3/16", "19.2 in", True), ("3/16", "24", True), ("3/4", "24", False)],
)
def test_studs_at_most_16(boards, spacing, warns):
    doc = job(board__thickness=boards)
    doc["walls"][0].update(name="North", studs={"first": "16", "spacing": spacing})
    told = [w for w in drafted(section_nails, doc).warnings if "too far for panelling" in w]
    assert bool(told) == warns
    assert all(w.startswith("North: ") for w in told)


def test_flame_spread_and_smoke():
    assert "flame-spread" in drafted(section_nails, job()).cautions
    text = caution("flame-spread").text
    assert "flame spread of 200" in text
    assert "smoke index of 450" in text
    assert "Local code decides" in text
    assert "R302.9" in caution("flame-spread").source
