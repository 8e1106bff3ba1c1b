"""Nails and their hold: the length wanted is the shortest sold that does, and what warns mends."""

import math
import re

import pytest

from calc.lengths import read
from tests.quick.gen import Gen, ask

INCH = 8128
STEP = INCH // 4


@pytest.mark.parametrize("seed", range(60))
def test_the_length_wanted_is_the_shortest_sold_that_reaches(seed):
    g = Gen(seed)
    boards, wall, into = g.sixteenths(2, 32), g.sixteenths(0, 20), g.sixteenths(8, 20)
    answer = ask("nails", thickness=boards, wallboard=wall, penetration=into)["answer"]
    v = answer["values"]
    assert v["length"] % STEP == 0
    assert boards + wall + into <= v["length"] < boards + wall + into + STEP
    assert v["into stud"] == v["length"] - boards - wall >= into
    assert answer["figures"][0]["label"] == "Nail length"
    # At most 1-1/4 and what is left of a quarter: it warns where it goes past 1-1/4.
    assert any("may meet a cable" in w for w in answer["warnings"]) == (
        v["into stud"] > 5 * INCH // 4
    )


@pytest.mark.parametrize("seed", range(60))
def test_the_length_that_a_warning_names_does(seed):
    g = Gen(seed)
    given = {"thickness": g.sixteenths(4, 20), "wallboard": g.sixteenths(0, 10)}
    hand = ask("nails", length=g.sixteenths(8, 70), **given)["answer"]
    reach = hand["values"]["into stud"]
    told = [w for w in hand["warnings"] if "nail at hand" in w]
    assert bool(told) == (not INCH <= reach <= 5 * INCH // 4)
    if told:
        for text in re.search(r"take one of ([^:,]+?)(?:, and|\.$)", told[0])[1].split(" to "):
            mended = ask("nails", length=read(text, "in"), **given)["answer"]
            assert not [w for w in mended["warnings"] if "nail at hand" in w]


def test_what_is_asked_into_the_stud_may_be_too_much_itself():
    (warning,) = ask("nails", thickness="1/2", penetration="1 1/2")["answer"]["warnings"]
    assert "The nail wanted" in warning
    assert "ask for less into the stud" in warning


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_cautions_come_with_it_and_no_gauge_is_called_awg(unit):
    answer = ask("nails", unit, thickness="3/4 in")["answer"]
    assert [c["key"] for c in answer["cautions"]] == ["hidden-lines", "nailer"]
    assert any("not AWG" in line for line in answer["working"])
    thin = ask("nails", unit, thickness="3/16 in")["answer"]
    assert "flame-spread" in [c["key"] for c in thin["cautions"]]


@pytest.mark.parametrize("name", ["nails", "nail-hold", "box-extension"])
@pytest.mark.parametrize("unit", ["in", "ft", "mm", "cm", "m"])
def test_every_line_of_the_working_names_a_source(name, unit):
    given = {"depth": "1 in"} if name == "nail-hold" else {"thickness": "3/4 in"}
    working = ask(name, unit, **given)["answer"]["working"]
    assert working
    assert all(re.search(r"\([^()]*(\([^()]*\)[^()]*)*\)$", line) for line in working)


@pytest.mark.parametrize("seed", range(30))
def test_hold_goes_with_length_and_count(seed):
    """p = c G^2.5 D L is straight in L and in the count; tenths of a newton are rounded."""
    g = Gen(seed)
    depth, nails = g.sixteenths(4, 20), g.whole(2, 9)
    one = ask("nail-hold", depth=depth)["answer"]["values"]
    many = ask("nail-hold", depth=2 * depth, nails=str(nails))["answer"]["values"]
    for key in ("average", "allowable"):
        # Half a tenth off, times 2 n, and half a tenth of its own.
        assert abs(many[key] - 2 * nails * one[key]) <= nails + 1
    # 1380 / 7850; each rounded by half a tenth.
    assert math.isclose(one["allowable"] / one["average"], 1380 / 7850, abs_tol=1 / one["average"])


@pytest.mark.parametrize(("gauge", "inches"), [("15", "0.072"), ("16", "0.0625"), ("18", "0.0475")])
def test_a_gauge_holds_as_a_nail_of_its_diameter(gauge, inches):
    by_gauge = ask("nail-hold", depth="1", gauge=gauge)["answer"]
    by_wire = ask("nail-hold", depth="1", gauge="other", diameter=inches)["answer"]
    assert by_gauge["values"] == by_wire["values"]
    assert by_gauge["figures"] == by_wire["figures"]
