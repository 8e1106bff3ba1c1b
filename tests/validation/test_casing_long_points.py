"""Casing: long points, and the reveal.

Source: plane geometry. Mitred, long points: head = opening + 2 reveal + 2 casing width; legs =
height + reveal + casing width where sill or stool is at the foot. Reveal 1/8 to 1/4 in, often
3/16: common practice, no source; so are stool, horns and apron. Worked by hand beside each.
"""

from fractions import Fraction

import pytest

from calc.trade.section_casing import pieces
from tests.quick.gen import ask
from tests.trade.trimjob import trimjob

INCH = 8128

# opening, reveal, casing -> head and leg over a stool, worked by hand
WORKED = [
    # 30 + 2 x 1/4 + 2 x 2-1/4 = 35; 40 + 1/4 + 2-1/4 = 42-1/2
    ("30", "40", "1/4", "9/4", "35", "85/2"),
    # 36 + 2 x 3/16 + 2 x 3-1/2 = 43-3/8; 60 + 3/16 + 3-1/2 = 63-11/16
    ("36", "60", "3/16", "7/2", "347/8", "1019/16"),
    # 24 + 2 x 1/8 + 2 x 2-1/2 = 29-1/4; 36 + 1/8 + 2-1/2 = 38-5/8
    ("24", "36", "1/8", "5/2", "117/4", "309/8"),
]


def jots(text):
    return int(Fraction(text) * INCH)


@pytest.mark.parametrize(("width", "height", "reveal", "casing", "head", "leg"), WORKED)
def test_head_and_legs(width, height, reveal, casing, head, leg):
    given = {"width": jots(width), "height": jots(height), "reveal": jots(reveal)}
    v = ask("casing", casing=jots(casing), **given)["answer"]["values"]
    assert (v["head"], v["left"], v["right"]) == (jots(head), jots(leg), jots(leg))
    # Stool and apron, common practice: horns of 3/4 past the casing; the apron without them.
    assert (v["stool"], v["apron"]) == (jots(head) + jots("3/2"), jots(head))


@pytest.mark.parametrize(("width", "height", "reveal", "casing", "head", "leg"), WORKED)
def test_head_and_legs_in_a_job(width, height, reveal, casing, head, leg):
    window = {"left": "60", "width": width, "bottom": "24", "height": height}
    trim = {"reveal": jots(reveal) / 320, "width": jots(casing) / 320}
    got = {p.part: p.length for p in pieces(trimjob([window], trim))}
    assert (got["Head"], got["Left leg"], got["Right leg"]) == (jots(head), jots(leg), jots(leg))


@pytest.mark.parametrize(("width", "height", "reveal", "casing", "head", "leg"), WORKED)
def test_all_round_each_leg_has_one_more_reveal_and_casing(
    width, height, reveal, casing, head, leg
):
    given = {"width": jots(width), "height": jots(height), "reveal": jots(reveal)}
    v = ask("casing", casing=jots(casing), foot="casing", **given)["answer"]["values"]
    assert v["left"] == jots(leg) + jots(reveal) + jots(casing)
    assert v["sill"] == v["head"] == jots(head)


def test_the_short_points_leave_the_reveal():
    """30 + 2 x 1/4 = 30-1/2 between the legs, 45 degrees at each end."""
    answer = ask("casing", width="30", height="40", reveal="1/4")["answer"]
    assert answer["tables"][0]["rows"][0][1:4] == ['35"', '30-1/2"', "45.00° both"]


@pytest.mark.parametrize(
    ("reveal", "warns"), [("1/8", False), ("3/16", False), ("1/4", False), ("3/8", True)]
)
def test_the_usual_reveal(reveal, warns):
    """Common practice, no source."""
    warnings = ask("casing", width="30", height="40", reveal=reveal)["answer"]["warnings"]
    assert bool(warnings) == warns
