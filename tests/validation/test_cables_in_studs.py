"""Cables and pipes in studs.

Source: NFPA 70 (NEC) 300.4(A)(1), (D) and IRC P2603: a cable lies at least 1-1/4 in from the
stud's edge, or behind a steel plate. Cables fished into finished walls are exempt, so staying
under it is no guarantee. Trust: published.
"""

import pytest

from calc.cautions import caution
from calc.trade import section_nails
from calc.trade.nails import DEEP
from tests.jobs import job
from tests.quick.gen import ask
from tests.trade.sections import drafted


def test_the_figure():
    assert DEEP == 10160  # 1-1/4 x 8128


@pytest.mark.parametrize(
    ("nail", "warns"), [("2 1/4", False), ("2 1/2", False), ("2 17/32", True), ("3", True)]
)
def test_more_than_that_into_the_stud_warns(nail, warns):
    """Through 3/4 and 1/2: 2-1/2 goes 1-1/4 in."""
    quick = ask("nails", thickness="3/4", length=nail)["answer"]["warnings"]
    section = drafted(section_nails, job(nails={"length": nail})).warnings
    for warnings in (quick, section):
        told = [w for w in warnings if "cable or a pipe" in w]
        assert bool(told) == warns
        assert all("no guarantee" in w and "scan" in w for w in told)


def test_the_caution_is_there_whatever_the_nail():
    for nail in ("1 1/2", "2 1/4", "3"):
        assert "hidden-lines" in drafted(section_nails, job(nails={"length": nail})).cautions
    text = caution("hidden-lines").text
    assert "1-1/4 in" in text
    assert "no guarantee" in text
    assert caution("hidden-lines").source == "NFPA 70 (NEC) 300.4; IRC P2603"


@pytest.mark.parametrize(
    ("unit", "board", "edge", "plate", "pipes"),
    [("in", "3/4", '1-1/4"', '1/16"', '1-1/2"'), ("mm", "19", "32 mm", "1.6 mm", "38 mm")],
)
def test_edge_plate_and_pipes_are_told(unit, board, edge, plate, pipes):
    """NEC 300.4(A)(1): 1-1/4 in, or a plate of 1/16 in; IRC P2603: pipes 1-1/2 in in some.

    Metric: 31.75 as the tape reads it, to the half; 1.5875 and 38.1 rounded.
    """
    told = dict(ask("nails", unit, thickness=board)["answer"]["rows"])["Cables and pipes"]
    assert told.startswith(f"mostly {edge} or more from the stud's edge")
    assert f"a steel plate of {plate}" in told
    assert f"pipes {pipes} by some editions" in told
    assert "NFPA 70 (NEC) 300.4; IRC P2603" in told
