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
    off = g.sixteenths(0, 64) - 32 * 508
    at = 64 * INCH + off
    answer = ask("stud-marks", width="142", first="16", found=[at])["answer"]
    assert _marks(answer["values"])[3] == at
    assert answer["values"]["count"] == 8
    assert bool(answer["warnings"]) == (abs(off) > INCH // 2)


def test_a_stud_found_between_two_marks_takes_the_place_of_neither():
    """An eighth of the spacing, 2 in at 16, is the limit: common practice, no source."""
    answer = ask("stud-marks", width="142", first="16", found="56")["answer"]
    at = _marks(answer["values"])
    assert [x // INCH for x in at] == [16, 32, 48, 56, 64, 80, 96, 112, 128]
    assert answer["tables"][0]["rows"][3][3] == "found, one more, check"
    (warning,) = answer["warnings"]
    assert warning.startswith('Mark 4 at 56" is 8" off the grid: probe again at 48"')
    assert warning.endswith("if it stands, it is one stud more.")
    for found, count in (("50", 8), ("50 1/16", 9)):
        v = ask("stud-marks", width="142", first="16", found=found)["answer"]["values"]
        assert v["count"] == count


@pytest.mark.parametrize(
    ("missing", "unit", "value", "says"),
    [
        ("56", "in", '56"', 'nearest marks are 48" and 64"'),
        ("48; 50 1/16", "in", '50-1/16"', 'nearest marks are 48" and 64"'),
        ("4", "in", '4"', 'nearest mark is 16"'),
        ("138", "in", '138"', 'nearest mark is 128"'),
        ("1000", "mm", "1000 mm", "nearest marks are 800 mm and 1200 mm"),
    ],
)
def test_no_stud_where_there_is_no_mark_is_refused(missing, unit, value, says):
    first = {"in": "16", "mm": "400"}[unit]
    width = {"in": "142", "mm": "3500"}[unit]
    reply = ask("stud-marks", unit, width=width, first=first, missing=missing)
    (problem,) = reply["problems"]
    assert (problem["field"], problem["value"]) == ("missing", value)
    assert says in problem["message"] and "take this one out" in problem["fix"]


def test_a_missing_mark_is_read_within_two_inches_and_may_be_read_twice():
    v = ask("stud-marks", width="142", first="16", missing="47; 50")["answer"]["values"]
    assert [x // INCH for x in _marks(v)] == [16, 32, 64, 80, 96, 112, 128]


def test_the_limit_that_a_lean_exceeds_is_named():
    """Survey of plumb limits: 1/4 in 8 ft, then 3/8 in 32 in, which is 1-1/8 in 8 ft."""

    def rows(ceiling):
        return ask("stud-marks", width="100", first="16", ceiling=ceiling, height="96")["answer"][
            "rows"
        ]

    assert ["Plumb limit exceeded", "1/4 in per 8 ft"] in rows("16 5/16")
    assert ["Plumb limit exceeded", "3/8 in per 32 in"] in rows("17 1/4")
    assert "Plumb limit exceeded" not in [r[0] for r in rows("16 1/8")]


@pytest.mark.parametrize("seed", range(40))
def test_a_board_ends_past_the_last_mark_it_covers(seed):
    g = Gen(seed)
    board, begin = g.sixteenths(400, 1500), g.whole(0, 2)
    answer = ask("stud-marks", width="142", first="15", board=board, begin=str(begin))["answer"]
    v = answer["values"]
    at = _marks(v)
    start = at[begin - 1] if begin else INCH // 8  # the end gap
    assert v["end"] == start + board
    last = at[v["last mark"] - 1]
    assert last <= v["end"] + 508
    assert v["last mark"] == len(at) or at[v["last mark"]] > v["end"]
    if "cut" in v:
        assert start + v["cut"] == last


def _board(**values):
    return ask("stud-marks", width="100", first="16", **values)["answer"]


def test_from_the_corner_the_end_gap_counts():
    """A board of 96 hung an eighth from the corner ends an eighth past the centre at 96."""
    answer = _board(board="96")
    assert answer["values"]["end"] == 96 * INCH + INCH // 8
    assert answer["values"]["cut"] == 96 * INCH - INCH // 8
    assert any('1/8" past mark 6' in w and 'cut it to 95-7/8"' in w for w in answer["warnings"])
    tight = _board(board="96", end_gap="0")
    assert ["Board ends", "on mark 6"] in tight["rows"] and tight["warnings"] == []
    fits = _board(board="95 7/8")
    assert ["Board ends", "on mark 6"] in fits["rows"] and fits["warnings"] == []
    metric = ask(
        "stud-marks", "mm", width="2500 mm", first="400 mm", spacing="400 mm", board="1197"
    )
    assert ["Board ends", "on mark 3"] in metric["answer"]["rows"]


def test_the_corner_carries_a_boards_end():
    """From the last mark, at 96, to the corner at 100: 4 less the gap, and no block."""
    answer = _board(board="10", begin="6")
    assert answer["warnings"] == [
        'The board is 6-1/8" longer than the wall from there: cut it to 3-7/8".'
    ]
    assert ["Board runs between", "mark 6 and the corner"] in answer["rows"]
    assert ["Board ends", "at the corner"] in answer["rows"]
    cut = _board(board="3 7/8", begin="6")
    assert cut["warnings"] == []
    assert ["Board ends", "at the corner"] in cut["rows"]
    short = _board(board="3", begin="6")
    assert any("needs a block" in w for w in short["warnings"])
    # No stud at all between the corners: both ends are at a corner.
    whole = ask("stud-marks", width="20", first="10", board="19 3/4")["answer"]
    assert ["Board runs between", "corner and the other corner"] in whole["rows"]


def test_a_gap_that_leaves_no_room_for_the_board_is_refused():
    reply = ask("stud-marks", width="97", first="16", board="10", begin="6", end_gap="1")
    (problem,) = reply["problems"]
    assert problem["field"] == "end_gap" and "no room" in problem["message"]


def test_lean_has_a_side():
    away = ask("stud-marks", width="100", first="16", ceiling="17", height="96")["answer"]
    to = ask("stud-marks", width="100", first="16", ceiling="15", height="96")["answer"]
    plumb = ask("stud-marks", width="100", first="16", ceiling="16", height="96")["answer"]
    assert ["Lean at the ceiling", '1" away from the left corner'] in away["rows"]
    assert ["Lean at the ceiling", '1" towards the left corner'] in to["rows"]
    assert ["Lean", "none, plumb"] in plumb["rows"]
