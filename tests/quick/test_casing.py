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
        ("0", "no space for the tight-side leg: leave it out"),
        ("3/16", "no space"),
        ("1/2", 'would be 5/16" wide and break as it is ripped: leave it out'),
        ("1", "rip the tight-side leg"),
    ],
)
def test_less_and_less_space_has_its_own_mend(space, says):
    warnings = ask("casing", width="34", height="50", space=space)["answer"]["warnings"]
    assert [says in w for w in warnings if w.startswith("Too little space: ")] == [True]


@pytest.mark.parametrize(("unit", "space"), [("in", "1/4"), ("in", "5/8"), ("mm", "17")])
def test_a_sliver_is_left_out_of_the_list_the_head_and_the_total(unit, space):
    """5/8 less 3/16 is 7/16, under 1/2; 17 less 5 is 12, under 13: no leg, head square there."""
    answer = ask("casing", unit, width="34", height="50", space=space)["answer"]
    v, wide, reveal = answer["values"], 36 * 508, 3 * 508
    if unit == "mm":
        wide, reveal = 57 * 320, 5 * 320
    opening = 34 * (8128 if unit == "in" else 320)
    assert "left" not in v and v["tight"] == 0
    assert v["head"] == opening + 2 * reveal + wide
    assert (v["head start"], v["head end"]) == (0, 4500)
    assert v["total"] == v["head"] + v["right"] + v["apron"]
    assert [r[0] for r in answer["tables"][0]["rows"]][:2] == ["Head", "Other leg"]
    assert "leave it out" in answer["warnings"][0]


def test_just_no_sliver_is_ripped():
    """11/16 less 3/16 is 1/2."""
    answer = ask("casing", width="34", height="50", space="11/16")["answer"]
    assert answer["values"]["tight"] == 8 * 508 and "left" in answer["values"]


def test_the_working_of_no_space_is_true():
    """0 less 3/16 is not 0; what is left is no less than that."""
    working = ask("casing", width="34", height="50", space="0")["answer"]["working"]
    (line,) = [w for w in working if "tight-side leg" in w]
    assert "space - reveal, no less than 0" in line


def test_table_figures_and_working_call_the_legs_alike():
    answer = ask("casing", width="34", height="50", space="1 1/2")["answer"]
    names = ["Tight-side leg", "Other leg"]
    assert [f["label"] for f in answer["figures"] if "leg" in f["label"]] == names
    assert [r[0] for r in answer["tables"][0]["rows"] if "leg" in r[0]] == names
    for name in names:
        assert [w for w in answer["working"] if w.startswith(name.lower() + " = height")]
    assert not [w for w in answer["working"] if "left leg" in w or "right leg" in w]


@pytest.mark.parametrize(("space", "past"), [("2 1/8", False), ("1 7/8", True), ("1", True)])
def test_a_mitre_past_most_saws_has_one_warning(space, past):
    """arctan(2.25 / 1.9375) = 49.27; 2.25 over 1-11/16 is 53.13, over 13/16 is 70.14 degrees."""
    warnings = ask("casing", width="34", height="50", foot="casing", space=space)["answer"]
    told = [w for w in warnings["warnings"] if "most saws" in w]
    assert len(told) == past
    if space == "1 7/8":
        assert told[0].startswith("Mitre of the tight-side leg: 53.13°")
        assert "set the saw to 36.87°" in told[0]
    butted = ask("casing", width="34", height="50", joint="butted", space=space)["answer"]
    assert not [w for w in butted["warnings"] if "most saws" in w]


@pytest.mark.parametrize(("reveal", "warns"), [("1/8", False), ("1/4", False), ("1/2", True)])
def test_an_unusual_reveal_is_told(reveal, warns):
    warnings = ask("casing", width="34", height="50", reveal=reveal)["answer"]["warnings"]
    assert bool(warnings) == warns


def test_every_piece_has_its_working():
    answer = ask("casing", width="34", height="50")["answer"]
    assert len([w for w in answer["working"] if "plane geometry" in w]) == 5
