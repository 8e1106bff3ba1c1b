"""Level and plumb in a job: what is out, which limit it keeps, which diagonals to check."""

import math
import re

import pytest

from calc.lengths import read
from calc.trade import section_level
from calc.trade.section_level import levels_of
from tests.trade.trimjob import INCH, inches, metric, section, trimjob


def test_a_wall_that_is_true_says_so():
    """164-1/2 by 96: both diagonals are root(164.5^2 + 96^2) = 190.4632 in."""
    answer = section(section_level.write, trimjob([]))
    (table,) = answer.tables
    assert table.rows == [["Wall 1", "level", "level", "plumb", "plumb", "as wide",
                           'both 190-1/2" light (-1/32")']]  # fmt: skip
    assert [n for _, n in answer.values][:2] == [0, 0] and answer.warnings == []
    v = dict(answer.values)
    assert v["Wall 1 up right"] == v["Wall 1 up left"] == round(math.hypot(164.5, 96) * INCH)


def test_the_limit_a_corner_keeps_is_named():
    """3/8 over 96 is 1/8 over 32: it keeps 3/8 in per 32, and 1/4 in per 8 ft is past."""
    answer = section(
        section_level.write, trimjob([], wall={"left_corner": "in", "left_lean": "3/8"})
    )
    row = answer.tables[0].rows[0]
    assert row[3] == 'in 3/8" over 96", keeps 3/8 in per 32 in'
    # The width at the ceiling is as at the floor, so the right corner leans as much, outwards.
    assert row[4] == 'out 3/8" over 96", keeps 3/8 in per 32 in'
    assert answer.warnings == []


def test_a_corner_past_every_limit_warns_and_names_its_wall():
    answer = section(
        section_level.write,
        trimjob([], wall={"left_corner": "out", "left_lean": "1 1/4", "width_top": "165 3/4"}),
    )
    (warning,) = answer.warnings
    assert warning.startswith('Wall 1: the left corner leans out by 1-1/4" over 96"')
    assert "scribe" in warning
    assert answer.tables[0].rows[0][4:6] == ["plumb", '1-1/4" wider']


def test_a_floor_that_falls_and_a_ceiling_that_does_not():
    """Down from the level line 40 at the left, 41 at the right; up 56 at both."""
    stations = [{"at": "0", "down": "40", "up": "56"}, {"at": "164 1/2", "down": "41", "up": "56"}]
    wall = {"stations": stations, "height_left": None}
    answer = section(section_level.write, trimjob([], wall=wall))
    assert answer.tables[0].rows[0][1:3] == ['falls 1" to the right', "level"]
    assert not [row for row in answer.rows if "counts as level" in row[0]]  # a level line was read
    (warning,) = answer.warnings
    assert 'the floor is 1" out of level' in warning
    assert dict(answer.values)["level"] == INCH
    v = dict(answer.values)
    # From the floor at the left 96 up to the ceiling at the right; from the right 97.
    assert v["Wall 1 up right"] == round(math.hypot(164.5, 96) * INCH)
    assert v["Wall 1 up left"] == round(math.hypot(164.5, 97) * INCH)


def test_heights_alone_say_what_they_take_for_level():
    answer = section(section_level.write, trimjob([], wall={"height_right": "95 7/8"}))
    assert "Wall 1" in dict(answer.rows)["The floor counts as level"]
    assert answer.tables[0].rows[0][2] == 'falls 1/8" to the right'
    assert answer.warnings == []  # 1/8 is not seen


def test_a_dip_in_the_middle_is_out_though_the_ends_are_level():
    wall = {"stations": [{"at": "80", "up": "95"}], "height_right": "96"}
    answer = section(section_level.write, trimjob([], wall=wall))
    assert answer.tables[0].rows[0][2] == '1" out, ends level'


@pytest.mark.parametrize(("right", "out"), [("90", 6), ("88", 0)])
def test_a_rake_is_no_ceiling_out_of_level(right, out):
    """Over 164-1/2, 1 in 24 is 6.85: a ceiling that falls 6 is out, one that falls 8 is a rake."""
    answer = section(section_level.write, trimjob([], wall={"height_right": right}))
    assert dict(answer.values)["level"] == out * INCH
    assert bool(answer.warnings) == bool(out)


@pytest.mark.parametrize(("middle", "told"), [("164 5/8", False), ("165", True)])
def test_a_bowed_corner_is_told(middle, told):
    answer = section(section_level.write, trimjob([], wall={"width_middle": middle}))
    assert bool([w for w in answer.warnings if "off straight half-way up" in w]) == told
    (wall,) = trimjob([], wall={"width_middle": middle}).walls
    assert levels_of(wall).right.bow == inches(middle) - inches("164 1/2")


def test_every_wall_has_its_row_and_its_check():
    second = {"height_left": "90", "width_floor": "40", "studs": {"first": "16", "spacing": "16"}}
    answer = section(section_level.write, trimjob([], more=[second]))
    assert [r[0] for r in answer.tables[0].rows] == ["Wall 1", "Wall 2"]
    assert [r[6] != "" for r in answer.tables[0].rows] == [True, True]


def test_the_diagonals_working_puts_in_what_was_used():
    """The left corner leans in 2 over 96: from its foot to the head at the right 150 + 2."""
    wall = {"width_floor": "150", "left_corner": "in", "left_lean": "2"}
    answer = section(section_level.write, trimjob([], wall=wall))
    lines = [w for w in answer.working if "diagonal" in w]
    assert len(lines) == 2
    for line, key in zip(lines, ("up right", "up left"), strict=True):
        across, up = (
            read(t, "in") for t in re.search(r"root\((.+?)\^2 \+ (.+?)\^2\)", line).groups()
        )
        long = dict(answer.values)["Wall 1 " + key]
        assert abs(math.hypot(across, up) - long) <= 1
    assert 'root(152"^2 + 96"^2)' in lines[0] and 'root(148"^2 + 96"^2)' in lines[1]


@pytest.mark.parametrize(("right", "out"), [("97 1/4", 1.25), ("97 7/8", 1.875), ("98", 0)])
def test_a_short_wall_that_is_badly_out_is_no_rake(right, out):
    """24 wide: 1-1/4 is steeper than 1 in 24, but a rake climbs 2 in at least."""
    wall = {"width_floor": "24", "height_right": right}
    answer = section(section_level.write, trimjob([], wall=wall))
    assert dict(answer.values)["level"] == out * INCH
    assert bool([w for w in answer.warnings if "out of level" in w]) == bool(out)


@pytest.mark.parametrize(("right", "told"), [(2449, True), (2450, False)])
def test_in_millimetres_a_rake_climbs_fifty_at_least(right, told):
    record = metric(wall={"width_floor": 600, "width_top": 600, "height_right": right,
                          "openings": []})  # fmt: skip
    warnings = section(section_level.write, record).warnings
    assert bool([w for w in warnings if "out of level" in w]) == told
