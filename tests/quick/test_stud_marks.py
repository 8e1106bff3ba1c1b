"""Stud marks: one spacing apart, the same from either corner, as far as the wall goes."""

from fractions import Fraction

import pytest

from tests.quick.gen import Gen, ask

INCH = 8128
SPACINGS = {
    "16 in": Fraction(16 * INCH),
    "19.2 in": Fraction(96 * INCH, 5),
    "24 in": Fraction(24 * INCH),
    "400 mm": Fraction(400 * 320),
    "450 mm": Fraction(450 * 320),
    "600 mm": Fraction(600 * 320),
}


def _marks(values):
    return [values[f"mark {i + 1}"] for i in range(values["count"])]


@pytest.mark.parametrize("seed", range(40))
def test_marks_are_one_spacing_apart_to_both_corners(seed):
    g = Gen(seed)
    name = list(SPACINGS)[seed % 6]
    spacing = SPACINGS[name]
    width = g.sixteenths(1600, 5000)
    first = g.sixteenths(1, 1500)
    v = ask("stud-marks", width=width, first=first, spacing=name)["answer"]["values"]
    at = _marks(v)
    assert first in at
    own = at.index(first)
    for i, x in enumerate(at):
        assert abs(x - (first + (i - own) * spacing)) <= Fraction(1, 2)
    assert 0 < at[0] <= spacing + 1
    assert width - spacing - 1 <= at[-1] < width


@pytest.mark.parametrize("seed", range(40))
def test_from_the_right_is_the_mirror_of_from_the_left(seed):
    g = Gen(seed)
    width, first = g.sixteenths(1600, 4000), g.sixteenths(1, 1500)
    one = ask("stud-marks", width=width, first=first, corner="left")["answer"]
    other = ask("stud-marks", width=width, first=width - first, corner="right")["answer"]
    assert _marks(one["values"]) == [width - x for x in reversed(_marks(other["values"]))]
    rows, mirrored = one["tables"][0]["rows"], other["tables"][0]["rows"]
    assert [r[1:] for r in rows] == [r[1:] for r in reversed(mirrored)]


@pytest.mark.parametrize("seed", range(40))
def test_a_found_mark_takes_the_place_of_the_nearest(seed):
    g = Gen(seed)
    off = g.sixteenths(0, 100) - 50 * 508
    at = 64 * INCH + off
    answer = ask("stud-marks", width="142", first="16", found=[at])["answer"]
    assert _marks(answer["values"])[3] == at
    assert answer["values"]["count"] == 8
    assert bool(answer["warnings"]) == (abs(off) > INCH // 2)


@pytest.mark.parametrize("seed", range(40))
def test_a_board_ends_past_the_last_mark_it_covers(seed):
    g = Gen(seed)
    board, begin = g.sixteenths(400, 1500), g.whole(0, 2)
    answer = ask("stud-marks", width="142", first="15", board=board, begin=str(begin))["answer"]
    v = answer["values"]
    at = _marks(v)
    start = at[begin - 1] if begin else 0
    assert v["end"] == start + board
    last = at[v["last mark"] - 1]
    assert last <= v["end"] + 508
    assert v["last mark"] == len(at) or at[v["last mark"]] > v["end"]
    if "cut" in v:
        assert start + v["cut"] == last


def test_lean_has_a_side():
    away = ask("stud-marks", width="100", first="16", ceiling="17", height="96")["answer"]
    to = ask("stud-marks", width="100", first="16", ceiling="15", height="96")["answer"]
    plumb = ask("stud-marks", width="100", first="16", ceiling="16", height="96")["answer"]
    assert ["Lean at the ceiling", '1" away from the left corner'] in away["rows"]
    assert ["Lean at the ceiling", '1" towards the left corner'] in to["rows"]
    assert ["Lean", "none, plumb"] in plumb["rows"]
