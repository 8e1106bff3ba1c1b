"""Jamb extension: rips follow the four corners, and shims bring them into one plane."""

import re

import pytest

from calc.lengths import read
from tests.quick.gen import Gen, ask

CORNERS = ["top_left", "top_right", "bottom_left", "bottom_right"]


@pytest.mark.parametrize("seed", range(40))
def test_each_rip_is_depth_and_cladding_less_projection(seed):
    g = Gen(seed)
    depth = {c: g.sixteenths(0, 16) for c in CORNERS}
    cladding, proud = g.sixteenths(8, 16), g.sixteenths(0, 8)
    v = ask("jamb-extension", thickness=cladding, proud=proud, **depth)["answer"]["values"]
    for c in CORNERS:
        assert v[c] == depth[c] + cladding - proud
    # Read to the finished face the cladding is in the reading already.
    same = ask(
        "jamb-extension",
        face="finished",
        proud=proud,
        **{c: depth[c] + cladding for c in CORNERS},
    )["answer"]["values"]
    assert [same[c] for c in CORNERS] == [v[c] for c in CORNERS]


@pytest.mark.parametrize("seed", range(40))
def test_corners_of_a_tilted_plane_are_in_one_plane(seed):
    g = Gen(seed)
    base, across, down = g.sixteenths(0, 9), g.sixteenths(0, 9), g.sixteenths(0, 9)
    answer = ask(
        "jamb-extension",
        top_left=base,
        top_right=base + across,
        bottom_left=base + down,
        bottom_right=base + across + down,
    )["answer"]
    assert answer["values"]["twist"] == 0
    assert ["Casing seats on", "one plane"] in answer["rows"]
    assert answer["warnings"] == []


@pytest.mark.parametrize("seed", range(40))
def test_the_shims_it_names_take_the_twist_out(seed):
    g = Gen(seed)
    # Twists in whole sixteenths, so that half of one reads exactly on the tape.
    depth = {c: 2 * g.sixteenths(0, 5) for c in CORNERS}
    answer = ask("jamb-extension", **depth)["answer"]
    twist = answer["values"]["twist"]
    rocks = [w for w in answer["warnings"] if "rocks" in w]
    assert bool(rocks) == (abs(twist) > 508)
    if not rocks:
        return
    shim, one, other = re.search(
        r'Shim it (\S+") at the (\w+ \w+) and (\w+ \w+),', rocks[0]
    ).groups()
    for corner in (one, other):
        depth[corner.replace(" ", "_")] += read(shim, "in")
    assert ask("jamb-extension", **depth)["answer"]["values"]["twist"] == 0


@pytest.mark.parametrize("sides", ["three", "four"])
@pytest.mark.parametrize("seed", range(20))
def test_the_frame_closes_whichever_runs_through(seed, sides):
    g = Gen(seed)
    width, height = g.sixteenths(300, 900), g.sixteenths(300, 1200)
    reveal, stock = g.sixteenths(2, 4), g.sixteenths(8, 16)
    ends = 2 if sides == "four" else 1
    for through in ("head", "legs"):
        v = ask(
            "jamb-extension",
            **dict.fromkeys(CORNERS, "0"),
            width=width,
            height=height,
            reveal=reveal,
            stock=stock,
            sides=sides,
            through=through,
        )["answer"]["values"]
        # The outside of the frame is the same by both ways: opening, reveals, stock.
        across = v["head length"] + (2 * stock if through == "legs" else 0)
        down = v["left length"] + (ends * stock if through == "head" else 0)
        assert across == width + 2 * reveal + 2 * stock
        assert down == height + ends * (reveal + stock)
        assert ("sill length" in v) == (sides == "four")


def _legs(**depth):
    return ask("jamb-extension", **{**dict.fromkeys(CORNERS, "0"), "thickness": "0", **depth})[
        "answer"
    ]


def test_a_taper_that_runs_out_says_where():
    """1/8 at the head, 1/8 past the face at the foot: nothing from half way of its 40-3/8 on."""
    proud = _legs(top_left="1/4", top_right="1/4", proud="1/8", width="30", height="40")
    rows = {r[0]: r for r in proud["tables"][1]["rows"]}
    assert rows["Left leg"][1:3] == ['1/8"', '0"']
    assert rows["Left leg"][4] == (
        'tapers 1/8" to nothing 20-3/16" from the top, 0.35\u00b0; plane the jamb from there on'
    )
    assert rows["Right leg"][4] == rows["Left leg"][4]
    v = proud["values"]
    assert (v["left taper"], v["left out"], v["left angle"]) == (1016, 323 * 508, 35)
    assert "head out" not in v and v["head taper"] == 0


def test_a_taper_runs_out_in_a_share_of_the_side_where_no_length_is_given():
    """3/16 and -1/16: three quarters of the way, from the right for the head."""
    answer = _legs(top_right="1/4", bottom_right="1/4", proud="1/16")
    rows = {r[0]: r for r in answer["tables"][0]["rows"]}
    note = 'tapers 3/16" to nothing 75 % of the way from the right; plane the jamb from there on'
    assert rows["Head"][3] == rows["Sill"][3] == note
    assert "head out" not in answer["values"]


@pytest.mark.parametrize("seed", range(40))
def test_the_rip_is_nothing_where_it_runs_out(seed):
    g = Gen(seed)
    top, bottom = g.sixteenths(1, 30), g.sixteenths(1, 30)
    proud = min(top, bottom) + g.sixteenths(0, abs(top - bottom) // 508)
    v = _legs(top_left=top, bottom_left=bottom, proud=proud, width="30", height="700")["values"]
    a, b = top - proud, bottom - proud
    if a * b >= 0:
        assert "left out" not in v
        return
    # On the line from a at one end to b at the other, that far from the thick end.
    long = v["left length"]
    out = v["left out"] if a > 0 else long - v["left out"]
    assert abs(a * long + (b - a) * out) <= abs(b - a)
    assert v["left taper"] == max(a, b)  # what is ripped: from the thick end to nothing


def test_degrees_go_by_the_rows_own_length():
    """1/16 in 37-7/8, which is 36 and two reveals and two thicknesses: atan is 0.0945 degrees."""
    answer = _legs(top_left="1/16", bottom_left="1/16", width="36", height="40")
    head = answer["tables"][0]["rows"][0]
    assert (head[0], head[3]) == ("Head", '37-7/8"')
    assert head[4] == 'tapers 1/16", 0.09\u00b0'


def test_the_ends_are_called_by_their_names_and_no_column_is_empty():
    bare = _legs(top_left="1/2", sides="four")["tables"]
    assert [t["title"] for t in bare] == ["Rips, head and sill", "Rips, legs"]
    assert bare[0]["columns"] == ["Piece", "At the left", "At the right", "Rip"]
    assert bare[1]["columns"] == ["Piece", "At the top", "At the bottom", "Rip"]
    assert bare[0]["rows"][0] == ["Head", '1/2"', '0"', 'tapers 1/2"']
    assert bare[1]["rows"][0] == ["Left leg", '1/2"', '0"', 'tapers 1/2"']
    (head, legs) = _legs(top_left="1/2", sides="three", height="40")["tables"]
    assert head["title"] == "Rips, head" and "Length" not in head["columns"]
    assert legs["columns"][3] == "Length" and legs["rows"][0][3] == '40-3/16"'
    for table in (head, legs, *bare):
        assert all(len(row) == len(table["columns"]) and all(row) for row in table["rows"])


@pytest.mark.parametrize(
    ("unit", "depth", "over"),
    # A shim of half the twist: 1/4 in and 6 mm still stand (common practice, no source).
    [("in", "1/2", False), ("in", "9/16", True), ("in", "3", True),
     ("mm", "12", False), ("mm", "13", True)],
)  # fmt: skip
def test_a_thick_shim_asks_for_the_readings_again(unit, depth, over):
    depths = {**dict.fromkeys(CORNERS, "0"), "bottom_right": depth}
    warnings = ask("jamb-extension", unit, **depths)["answer"]["warnings"]
    assert any("read the four depths again" in w for w in warnings) == over
    assert any("rocks" in w for w in warnings)


@pytest.mark.parametrize("face", ["drywall", "finished"])
def test_each_line_of_working_has_formula_numbers_and_source(face):
    given = {"width": "34", "height": "50", "face": face}
    answer = ask("jamb-extension", **{**dict.fromkeys(CORNERS, "1/2"), **given})["answer"]
    for line in answer["working"]:
        assert re.fullmatch(
            r"[a-z ]+ = [a-z +-]+: .+ = .+ \((common practice|plane geometry)\)", line
        )
    words = "depth + cladding - proud" if face == "drywall" else "depth - proud"
    assert len([w for w in answer["working"] if f" = {words}: " in w]) == 4


def test_a_side_without_a_piece_has_no_length():
    """Legs from 1/4 to nothing; the sill is not there."""
    answer = _legs(top_left="1/4", top_right="1/4", width="34", height="50")
    rows = {r[0]: r for t in answer["tables"] for r in t["rows"]}
    assert rows["Sill"][3:] == ["-", "none"] and "sill length" not in answer["values"]
    assert rows["Head"][3] == '35-7/8"'
