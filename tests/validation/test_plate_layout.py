"""Stud layout.

Source: US Navy Builder training manual, NAVEDTRA 14044, plate layout: the
first stud's near edge at 15-1/4 in from the corner, then every 16 in, with
studs of 1-1/2 in. Trust: published.
"""

import pytest

from tests.quick.gen import ask

INCH = 8128


def _marks(**values):
    v = ask("stud-marks", **values)["answer"]["values"]
    return [v[f"mark {i + 1}"] for i in range(v["count"])]


def test_centres_of_the_worked_layout():
    """Near edge 15-1/4 and half a stud, 3/4, is a centre at 16; then 32 to 96."""
    first = 15 * INCH + INCH // 4 + 3 * INCH // 4
    assert _marks(width="100", first=first) == [n * INCH for n in (16, 32, 48, 64, 80, 96)]


def test_the_adjoining_wall_is_panelled_first():
    """Near edge at 15-3/4 from the bare corner where 1/2 in drywall comes on it first."""
    bare = _marks(width="100", first="16 1/2")
    finished = _marks(width="99 1/2", first="16")
    # The grid goes on back to 1/2 in from the bare corner: the drywall's face.
    assert [at - INCH // 2 for at in bare] == [0, *finished]


@pytest.mark.parametrize(("spacing", "spaces"), [("16 in", 6), ("19.2 in", 5), ("24 in", 4)])
def test_every_inch_spacing_comes_out_at_96(spacing, spaces):
    """Tape convention: 6 x 16 = 5 x 96/5 = 4 x 24 = 96 in, one 8 ft panel."""
    marks = _marks(width="200", first="50", spacing=spacing)
    at = marks.index(50 * INCH)
    assert marks[at + spaces] - marks[at] == 96 * INCH


def test_a_96_inch_board_runs_from_stud_centre_to_stud_centre():
    """Common practice, no source."""
    answer = ask("stud-marks", width="200", first="16", board="96", begin="2")["answer"]
    assert ["Board runs between", "mark 2 and mark 8"] in answer["rows"]
    assert answer["warnings"] == []
