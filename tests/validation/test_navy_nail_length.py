"""Nails by the thickness they hold.

Source: US Navy manual 14119: a nail is at least three times as long as what it holds is thick
(published). Boards + wallboard + at least 1 in into the stud: common practice, no source.
"""

import pytest

from calc.trade.nails import thrice
from tests.quick.gen import ask


@pytest.mark.parametrize(
    ("boards", "text"),
    # 3 x 3/4 = 2-1/4; 3 x 1/2 = 1-1/2; 3 x 1 = 3, and 1 + 1/2 + 1 = 2-1/2 is 1/2 short of it
    [("3/4", '2-1/4", met'), ("1/2", '1-1/2", met'), ("1", '3", 1/2" longer')],
)
def test_the_other_rule_stands_beside_the_first(boards, text):
    answer = ask("nails", thickness=boards)["answer"]
    assert ["By three times the boards", text] in answer["rows"]
    assert any("US Navy manual 14119" in line for line in answer["working"])


def test_three_times():
    assert thrice(6096) == 18288


@pytest.mark.parametrize(
    ("boards", "wallboard", "nail"),
    [
        ("3/4", "1/2", '2-1/4"'),
        ("3/4", "5/8", '2-1/2"'),
        ("1/2", "1/2", '2"'),
        ("3/4", "0", '1-3/4"'),
    ],
)
def test_through_the_wallboard_and_an_inch_into_the_stud_common_practice_no_source(
    boards, wallboard, nail
):
    """Common practice, no source: boards + wallboard + 1 in, up to the next 1/4 in."""
    answer = ask("nails", thickness=boards, wallboard=wallboard)["answer"]
    assert answer["figures"][0]["text"] == nail
