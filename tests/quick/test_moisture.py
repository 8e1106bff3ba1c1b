"""Wood movement and room moisture: what they tell at the edges of their ranges."""

import pytest

from tests.quick.gen import Gen, ask

INCH = 8128


@pytest.mark.parametrize("unit", ["in", "ft", "mm", "cm", "m"])
@pytest.mark.parametrize("seed", range(20))
def test_hung_with_the_spacer_boards_just_touch_at_the_dampest(seed, unit):
    g = Gen(seed)
    v = ask(
        "wood-movement", unit, species="poplar", width=g.sixteenths(32, 160),
        lap=g.sixteenths(0, 16), moisture=str(g.whole(4, 12)), dampest="12",
    )["answer"]["values"]  # fmt: skip
    step = 254 if unit in ("in", "ft") else 160  # 1/32 in, 0.5 mm
    assert 0 <= v["spacer"] - v["growth"] < step and v["spacer"] % step == 0


@pytest.mark.parametrize("seed", range(20))
def test_line_and_lap_make_the_overall_width(seed):
    """Face and line are a course; what of the lap shows in the line no longer covers."""
    g = Gen(seed)
    face, lap = g.sixteenths(48, 160), g.sixteenths(4, 16)
    moisture = g.whole(6, 14)
    v = ask("wood-movement", width=face, lap=lap, moisture=str(moisture))["answer"]["values"]
    # At the driest the board is overall - shrunk wide, its course still face + spacer.
    shrunk = round((face + lap) * 274 * (moisture - 6) / 1e5)
    assert abs(v["cover_driest"] - (face + lap - shrunk - face - v["spacer"])) <= 1


@pytest.mark.parametrize(
    ("moisture", "says"),
    [("5.9", "too dry"), ("6", ""), ("10", ""), ("10.1", "too wet"), ("40", "too wet")],
)
def test_boards_hang_within_the_range_alone(moisture, says):
    answer = ask("wood-movement", width="5", lap="1/2", moisture=moisture)["answer"]
    wait = [w for w in answer["warnings"] if "Wait" in w]
    assert bool(wait) == bool(says)
    assert all(says in w and "6 % to 10 %" in w and "stickers" in w for w in wait)
    assert ["Hang now", "no, wait" if says else "yes"] in answer["rows"]
    keys = [c["key"] for c in answer["cautions"]]
    assert keys == ["acclimatise"] + (["damp-wall"] if moisture == "40" else [])


def test_wood_wetter_than_fibre_saturation_shrinks_from_there_on():
    """From 30 % (Wood Handbook, ch. 4): 5 x 0.00274 x (30 - 6) = 0.3288 in."""
    at_30 = ask("wood-movement", width="5", lap="1/2", moisture="30")["answer"]["values"]
    wetter = ask("wood-movement", width="5", lap="1/2", moisture="60")["answer"]
    assert at_30 == wetter["values"]
    assert at_30["line_driest"] / INCH == pytest.approx(0.3288, abs=0.5 / INCH)
    assert any(label == "Wetter than 30 %" for label, _ in wetter["rows"])


def test_a_lap_that_barely_covers_is_told_of():
    """Red oak 5 in, at 10 %: lap 1/8 less 5-1/8 x 0.00369 x 4 = 0.0756 leaves 0.049, under 1/16."""
    warnings = ask("wood-movement", species="red-oak", width="5", lap="1/8", moisture="10")[
        "answer"
    ]["warnings"]
    assert len(warnings) == 1 and "cover by 0.049 in only" in warnings[0]
    deeper = ask("wood-movement", species="red-oak", width="5", lap="3/16", moisture="10")
    assert deeper["answer"]["warnings"] == []


def test_vertical_grain_moves_less():
    def changes(grain):
        given = {"species": "sugar-maple", "width": "5", "moisture": "8", "grain": grain}
        return ask("wood-movement", **given)["answer"]["values"]["change"]

    assert changes("vertical") < changes("flat")


def test_mdf_without_a_length_says_what_it_lacks():
    answer = ask("wood-movement", species="mdf", width="5", moisture="8")["answer"]
    assert ["End gaps", "give the board's length"] in answer["rows"]
    assert [f["label"] for f in answer["figures"]] == ["Spacer at each course"]


@pytest.mark.parametrize("humidity", range(0, 100, 9))
def test_damper_air_makes_damper_boards(humidity):
    one = ask("room-moisture", temperature="70", humidity=str(humidity))["answer"]["values"]
    if humidity < 99:
        more = ask("room-moisture", temperature="70", humidity=str(humidity + 1))["answer"]
        assert more["values"]["emc"] > one["emc"]
    same = ask("room-moisture", temperature="70", humidity=str(humidity), other=str(humidity))
    assert same["answer"]["values"] == one  # no other season, no range of a year


def test_the_seasons_may_be_given_either_way_round():
    def ends(humidity, other):
        v = ask("room-moisture", "mm", temperature="21", humidity=humidity, other=other)
        return [v["answer"]["values"][k] for k in ("driest", "dampest")]

    assert ends("30", "60") == ends("60", "30")
    assert ends("30", "60")[0] < ends("30", "60")[1]
