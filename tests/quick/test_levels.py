"""Level, square, mitre and rake: what the calculators say at edges, and properties."""

import math

import pytest

from tests.quick.gen import Gen, ask

INCH = 8128


@pytest.mark.parametrize("seed", range(30))
def test_a_gap_and_its_angle_come_to_the_same_taper(seed):
    g = Gen(seed)
    off, run = g.sixteenths(1, 40), g.sixteenths(500, 3000)
    by_gap = ask("level-taper", off=off, run=run)["answer"]["values"]["taper"]
    angle = math.degrees(math.atan2(off, 48 * INCH))
    by_angle = ask("level-taper", angle=f"{angle:.6f}", run=run)["answer"]["values"]["taper"]
    assert abs(by_gap - by_angle) <= 1


def test_a_gap_and_an_angle_at_once_are_refused():
    reply = ask("level-taper", off="1/4", angle="0.3", run="96")
    assert reply["answer"] is None and reply["problems"][0]["field"] == "angle"


@pytest.mark.parametrize(("off", "warns"), [("1/16", False), ("0", False), ("1/8", True)])
def test_out_of_level_is_told_where_it_is_seen(off, warns):
    """Over 144 in a level of 48 shows a third: 3/16 is not told of, 3/8 is more than 1/4."""
    answer = ask("level-taper", off=off, run="144", way="level")["answer"]
    assert bool(answer["warnings"]) == warns
    assert not [r for r in answer["rows"] if "plumb" in r[0]]


@pytest.mark.parametrize("seed", range(40))
def test_the_diagonals_of_a_leaning_wall_say_how_it_leans(seed):
    """Made from its corners: sides upright or not, the shift at the top is got back."""
    g = Gen(seed)
    width, high, shift = g.whole(500000, 2000000), g.whole(500000, 900000), g.whole(-20000, 20000)
    one, two = math.hypot(width + shift, high), math.hypot(width - shift, high)
    side = math.hypot(shift, high)
    v = ask("square-check", width=width, height=round(side), one=round(one), two=round(two))
    v = v["answer"]["values"]
    assert abs(v["shift"] - shift) <= 2 and abs(v["off"]) <= 1
    assert v["angle"] == pytest.approx(90000 + math.degrees(math.asin(shift / side)) * 1000, abs=1)
    single = ask("square-check", width=width, height=round(side), one=round(one))["answer"]
    assert abs(single["values"]["shift"] - shift) <= 3


@pytest.mark.parametrize("seed", range(20))
def test_both_pieces_of_a_corner_make_it(seed):
    corner = Gen(seed).whole(200, 1790) / 10
    v = ask("mitre", corner=str(corner))["answer"]["values"]
    assert 2 * (90000 - v["mitre"]) == pytest.approx(corner * 1000, abs=1)


@pytest.mark.parametrize("seed", range(20))
def test_the_two_corners_of_a_raked_head_make_a_right_angle(seed):
    g = Gen(seed)
    v = ask("mitre", corner="90", rise=g.sixteenths(1, 300))["answer"]["values"]
    assert abs(v["low"] + v["high"] - 90000) <= 1 and v["low"] < 45000 < v["high"]


@pytest.mark.parametrize("seed", range(20))
def test_the_rake_is_the_hypotenuse_of_its_courses(seed):
    g = Gen(seed)
    face, rise, width = g.sixteenths(40, 120), g.sixteenths(20, 300), g.sixteenths(300, 3000)
    v = ask("rake", face=face, rise=rise, width=width)["answer"]["values"]
    assert abs(v["along"] - math.hypot(width, v["height"])) <= 1.5
    assert (v["courses"] - 1) * face < v["height"] <= v["courses"] * face
    assert v["change"] * rise == pytest.approx(face * 12 * INCH, abs=rise)


def test_an_angle_is_worked_by_the_angle_that_was_read():
    """No gap and no level's length was given: neither is in the working."""
    answer = ask("level-taper", angle="0.3", run="96")["answer"]
    assert answer["figures"][0]["label"] == "Off over the whole wall"
    taper, slope = answer["working"]
    assert '96" x tan 0.3°' in taper
    assert slope.startswith("slope = tangent of the angle: tan 0.3° = ")
    gap = ask("level-taper", off="1/4", run="96")["answer"]["working"][1]
    assert 'off / length: 1/4" / 48"' in gap
