"""Casing: the pieces close around the opening, whatever the joint, foot and space."""

import math

import pytest

from tests.quick.gen import Gen, ask

FEET = ["stool", "casing", "floor"]


@pytest.mark.parametrize("foot", FEET)
@pytest.mark.parametrize("seed", range(20))
def test_mitred_and_butted_casing_have_the_same_outside(seed, foot):
    g = Gen(seed)
    width, height = g.sixteenths(200, 900), g.sixteenths(300, 1300)
    casing, reveal, horn = g.sixteenths(24, 90), g.sixteenths(2, 4), g.sixteenths(0, 24)
    given = {"width": width, "height": height, "casing": casing, "reveal": reveal, "horn": horn}
    mitred = ask("casing", foot=foot, **given)["answer"]["values"]
    butted = ask("casing", foot=foot, joint="butted", **given)["answer"]["values"]
    assert mitred["head"] == butted["head"] == width + 2 * reveal + 2 * casing
    # Butted, the head (and the piece at the foot) stands above (below) the leg.
    across = 2 if foot == "casing" else 1
    assert butted["left"] + across * casing == mitred["left"]
    assert mitred["left"] == height + across * (reveal + casing)
    assert ("stool" in mitred) == (foot == "stool") and ("sill" in mitred) == (foot == "casing")
    if foot == "stool":
        assert mitred["stool"] - mitred["apron"] == 2 * horn


@pytest.mark.parametrize("seed", range(30))
def test_where_one_leg_is_ripped_the_mitres_still_close(seed):
    """The two settings of a corner make 90 degrees, by the widths that meet there."""
    g = Gen(seed)
    casing = g.sixteenths(24, 60)
    space = 3 * 508 + g.sixteenths(10, casing // 508)
    answer = ask("casing", width="34", height="50", casing=casing, foot="casing", space=space)
    v = answer["answer"]["values"]
    assert abs(v["head start"] + v["left start"] - 9000) <= 1
    wide = min(space - 3 * 508, casing)
    assert v["left start"] == pytest.approx(math.degrees(math.atan2(casing, wide)) * 100, abs=0.51)
    assert v["head end"] == v["right start"] == 4500
    assert v["head"] == 34 * 8128 + 6 * 508 + wide + casing
    assert ("tight" in v) == (wide < casing) == bool(answer["answer"]["warnings"])


def test_a_horn_ends_where_the_space_does():
    """2-3/4 of space, 3/16 and 2-1/4 taken: 5/16 is left of a horn of 3/4."""
    answer = ask("casing", width="34", height="50", space="2 3/4")["answer"]
    assert ["Horn, tight side", '5/16"'] in answer["rows"]
    assert answer["values"]["stool"] == answer["values"]["apron"] + 5 * 508 + 6096


@pytest.mark.parametrize(
    ("space", "says"),
    [
        ("0", "no space for casing"),
        ("3/16", "no space"),
        ("1/2", "only 5/16"),
        ("1", "rip the leg"),
    ],
)
def test_less_and_less_space_has_its_own_mend(space, says):
    (warning,) = ask("casing", width="34", height="50", space=space)["answer"]["warnings"]
    assert says in warning


@pytest.mark.parametrize(("reveal", "warns"), [("1/8", False), ("1/4", False), ("1/2", True)])
def test_an_unusual_reveal_is_told(reveal, warns):
    warnings = ask("casing", width="34", height="50", reveal=reveal)["answer"]["warnings"]
    assert bool(warnings) == warns


def test_every_piece_has_its_working():
    answer = ask("casing", width="34", height="50")["answer"]
    assert len([w for w in answer["working"] if "plane geometry" in w]) == 5
