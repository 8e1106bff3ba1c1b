"""Fibreboard finish.

Source: Ontario O. Reg. 332/12, 9.29: nails go at least 20 mm into the supports.
Trust: published.
"""

import pytest

from calc.trade import section_nails
from calc.trade.nails import FIBREBOARD
from tests.jobs import job
from tests.quick.gen import ask
from tests.trade.sections import drafted


def test_the_figure():
    assert FIBREBOARD == 20 * 320


@pytest.mark.parametrize(
    ("made", "nail", "warns"),
    # 16 mm on bare studs: 36 mm goes 20 in, 35.9 does not
    [("mdf", "36", False), ("mdf", "35.9", True), ("wood", "35.9", False), ("wood", "25.9", True)],
)
def test_less_warns_of_mdf_alone(made, nail, warns):
    given = {"thickness": "16", "wallboard": "0", "penetration": "10", "length": nail}
    answer = ask("nails", "mm", made=made, **given)["answer"]
    assert any("will not hold" in w for w in answer["warnings"]) == warns


@pytest.mark.parametrize(("species", "mm"), [("mdf", 40), ("poplar", 30)])
def test_a_job_of_mdf_wants_it(species, mm):
    """16 + 20 = 36, up to 40; 16 + 10 = 26, up to 30 mm."""
    doc = job(unit="mm", board__thickness=16, board__species=species)
    doc["walls"][0] |= {"height_left": 2400, "width_floor": 4000}
    doc["walls"][0]["studs"] = {"first": 400, "spacing": 400}
    doc["board"] |= {"face": 130, "overall": 136, "stock": [{"length": 3600}]}
    doc |= {"site": {"wallboard": 0}, "nails": {"penetration": 10}}
    assert dict(drafted(section_nails, doc).values)["length"] == mm * 320
