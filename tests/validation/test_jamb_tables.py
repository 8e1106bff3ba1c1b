"""Jamb depths and casing reveals.

Source: trade tables of jamb depths: 3-1/2 + 1/2 + 1/2 = 4-1/2 takes a jamb of
4-9/16; 5-1/2 + 1 = 6-1/2 takes 6-9/16 (published). Reveal 1/8 to 1/4 in,
often 3/16, and the extension rule: common practice, no source.
"""

from fractions import Fraction

import pytest

from calc.quick.declare import default_text
from calc.quick.jamb_extension import FIELDS
from calc.trade.section_jambs import pieces
from calc.tradefields import TRIM
from tests.quick.gen import ask
from tests.trade.trimjob import trimjob

INCH = 8128
FLUSH = {"top_left": "0", "top_right": "0", "bottom_left": "0", "bottom_right": "0"}


@pytest.mark.parametrize(
    ("layers", "jamb"),
    [(["7/2", "1/2", "1/2"], "73/16"), (["11/2", "1"], "105/16")],
)
@pytest.mark.parametrize("cladding", ["1/2", "3/4"])
def test_jamb_and_extension_make_the_new_wall(layers, jamb, cladding):
    """Wall and cladding = jamb and extension; the jamb is proud by what it exceeds the wall.

    The tables: 4-1/2 takes 4-9/16, 6-1/2 takes 6-9/16. That the extension is the cladding less
    what the jamb is proud: common practice, no source.
    """
    wall = sum(Fraction(x) for x in layers)
    proud = (Fraction(jamb) - wall) * INCH
    assert proud == INCH // 16
    v = ask("jamb-extension", thickness=cladding, proud=int(proud), **FLUSH)["answer"]["values"]
    assert Fraction(jamb) * INCH + v["top_left"] == (wall + Fraction(cladding)) * INCH


def test_the_reveal_offered_is_the_usual_one():
    """Common practice, no source: often 3/16 in, in a job as well."""
    reveal = next(f for f in FIELDS if f.key == "reveal")
    assert default_text(reveal, "in") == "3/16 in"
    job = next(f for f in TRIM if f.key == "reveal")
    assert job.default == 3 * INCH // 16
    assert INCH // 8 <= job.metric <= INCH // 4


@pytest.mark.parametrize(
    ("reveal", "warns"),
    [("1/8", False), ("3/16", False), ("1/4", False), ("1/16", True), ("3/8", True)],
)
def test_reveals_out_of_the_usual_range_warn(reveal, warns):
    """Common practice, no source: 1/8 to 1/4 in."""
    answer = ask("jamb-extension", width="34", height="50", reveal=reveal, **FLUSH)["answer"]
    assert any("reveal" in w for w in answer["warnings"]) == warns


@pytest.mark.parametrize(
    ("layers", "jamb"),
    [(["7/2", "1/2", "1/2"], "73/16"), (["11/2", "1"], "105/16")],
)
def test_in_a_job_the_jamb_and_its_extension_make_the_new_wall(layers, jamb):
    """The same tables; depths not read: the cladding less what the jamb is proud.

    That it extends by so much: common practice, no source.
    """
    wall = sum(Fraction(x) for x in layers)
    window = {"left": "60", "width": "34", "bottom": "30", "height": "50"}
    record = trimjob([{**window, "proud": f"{Fraction(jamb) - wall} in"}])
    assert pieces(record)[0].text[0] == '11/16"'
    assert Fraction(jamb) + Fraction(11, 16) == wall + Fraction(3, 4)
