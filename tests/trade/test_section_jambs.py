"""Jamb extensions in a job: widths from the readings or the cladding, lengths, what to buy."""

import pytest

from calc.trade import section_jambs
from calc.trade.section_jambs import jambs_to_buy, pieces
from tests.quick.gen import Gen, ask
from tests.trade.trimjob import inches, section, trimjob

WINDOW = {"kind": "window", "left": "60", "width": "34", "bottom": "30", "height": "50"}
DOOR = {"kind": "door", "left": "120", "width": "32", "height": "80"}
CORNERS = ["top_left", "top_right", "bottom_left", "bottom_right"]


@pytest.mark.parametrize("foot", ["stool", "casing"])
@pytest.mark.parametrize("through", ["head", "legs"])
@pytest.mark.parametrize("seed", range(5))
def test_the_job_and_the_quick_answer_are_one(seed, through, foot):
    g = Gen(seed)
    depths = {c: g.sixteenths(0, 16) for c in CORNERS}
    proud = g.sixteenths(0, 8)
    window = {**WINDOW, "proud": proud / 320} | {f"depth_{c}": depths[c] / 320 for c in CORNERS}
    answer = section(section_jambs.write, trimjob([window], {"foot": foot, "through": through}))
    quick = ask(
        "jamb-extension", width="34", height="50", proud=proud, through=through,
        sides="four" if foot == "casing" else "three", **depths,
    )["answer"]  # fmt: skip
    where = "Wall 1, Window 1: "
    mine = {key[len(where) :]: n for key, n in answer.values if key.startswith(where)}
    theirs = {k: n for k, n in quick["values"].items() if k not in CORNERS}
    assert mine == theirs
    assert [w[len(where) :].lower() for w in answer.warnings] == [
        w.lower() for w in quick["warnings"]
    ]
    rows = [row for t in quick["tables"] for row in t["rows"]]
    (table,) = [t for t in answer.tables if t.title == "Jamb extensions, Wall 1, Window 1"]
    order = ["Head", "Left leg", "Right leg", "Sill"]
    rows = sorted(rows, key=lambda r: order.index(r[0]))
    known = [r for r in rows if r[4] != "none"]
    assert [r[0].split(" ", 1)[1] for r in table.rows] == [r[0] for r in known]
    assert [r[1] for r in table.rows] == [r[3] for r in known]
    ends = [r[1] if r[1] == r[2] else f"{r[1]} to {r[2]}" for r in known]
    assert [r[2] for r in table.rows] == ends
    assert [r[3] for r in table.rows] == [r[4] for r in known]


def test_depths_not_read_are_the_cladding_less_what_the_jamb_is_proud():
    record = trimjob([{**WINDOW, "proud": "1/16"}])
    assert pieces(record)[0].text == ['11/16"', '11/16"', '35-7/8"']
    answer = section(section_jambs.write, record)
    (row,) = [text for label, text in answer.rows if label == "Depths not read"]
    assert "less what the jamb is proud" in row and "Wall 1, Window 1" in row
    assert answer.warnings == []


def test_a_corner_that_was_not_read_is_told_and_no_twist_is_claimed():
    answer = section(
        section_jambs.write,
        trimjob([{**WINDOW, "depth_top_left": "1/2", "depth_top_right": "1/2",
                  "depth_bottom_left": "1/2"}]),
    )  # fmt: skip
    (warning,) = answer.warnings
    assert "Wall 1, Window 1: no depth was read at the bottom right" in warning
    assert not [key for key, _ in answer.values if key.endswith("twist")]


def test_a_jamb_that_is_out_far_enough_has_no_piece():
    record = trimjob([{**WINDOW, "proud": "3/4"}, DOOR])
    assert {p.opening for p in pieces(record)} == {"Door 1"}
    answer = section(section_jambs.write, record)
    assert ("Wall 1, Window 1: extension", "none needed") in answer.rows
    assert [r[0].split()[0] for r in answer.tables[0].rows] == [p.mark for p in pieces(record)]


def test_a_door_and_a_window_on_a_stool_have_no_sill():
    """Door: head 32 + 3/8 + 1-1/2, legs 80 + 3/16. A stool is the window's sill."""
    got = [(p.opening, p.part, p.length) for p in pieces(trimjob([WINDOW, DOOR]))]
    assert got == [
        ("Window 1", "Head", inches("35 7/8")),
        ("Window 1", "Left leg", inches("50 3/16")),
        ("Window 1", "Right leg", inches("50 3/16")),
        ("Door 1", "Head", inches("33 7/8")),
        ("Door 1", "Left leg", inches("80 3/16")),
        ("Door 1", "Right leg", inches("80 3/16")),
    ]
    framed = pieces(trimjob([WINDOW], {"foot": "casing"}))
    assert [p.part for p in framed] == ["Head", "Left leg", "Right leg", "Sill"]


def test_stock_without_prices_is_bought_by_least_length():
    """35-7/8 and two of 50-3/16, kerf 1/8: 86-3/16 fit 96, 50-3/16 fits 60; 156 is the least."""
    stock = [{"length": "60"}, {"length": "96"}, {"length": "144"}]
    bought = jambs_to_buy(trimjob([WINDOW], {"jamb_stock": stock}))
    assert not bought.priced and bought.cost is None
    assert sum(length * n for length, n, _ in bought.rows) == inches(144)
    assert bought.rows == [(inches(144), 1, None)]


def test_nothing_cased_is_said():
    answer = section(section_jambs.write, trimjob([{**WINDOW, "trim": "none"}]))
    assert answer.rows == [("Jamb extensions", "no opening is cased")]
    assert jambs_to_buy(trimjob([])).total == 0


def test_one_warning_for_a_jamb_past_the_face_names_its_window():
    answer = section(section_jambs.write, trimjob([{**WINDOW, "proud": "1"}]))
    assert len(answer.warnings) == 4
    assert answer.warnings[0].startswith(
        'Wall 1, Window 1: at the top left the jamb stands 1/4" past the finished face: plane'
    )


def test_a_piece_that_does_not_exist_has_no_working():
    """Proud 3/4 all round, and one corner 1/4 deep: head and left leg alone."""
    depths = dict.fromkeys((f"depth_{c}" for c in CORNERS), "0") | {"depth_top_left": "1/4"}
    answer = section(section_jambs.write, trimjob([{**WINDOW, "proud": "3/4", **depths}]))
    told = [w.split(" = ")[0] for w in answer.working if "opening + reveals" in w]
    assert told == ["Wall 1, Window 1: head", "Wall 1, Window 1: left"]
    keys = [key for key, _ in answer.values]
    assert "Wall 1, Window 1: left length" in keys and "Wall 1, Window 1: right length" not in keys


@pytest.mark.parametrize(
    ("changes", "side", "mend"),
    [
        # 3/16 + 3/4 = 15/16 wanted
        ({"left": "0"}, "left leg", "leave it out"),
        ({"left": "11/16"}, "left leg", 'plane it to 1/2" thick'),
        ({"left": "1/2"}, "left leg", 'without a reveal, and plane it to 1/2" thick'),
        ({"left": "130 1/2"}, "right leg", "leave it out"),
        ({"height": "66"}, "head", "leave it out"),
    ],
)
def test_an_extension_without_room_is_told_with_its_mend(changes, side, mend):
    answer = section(section_jambs.write, trimjob([{**WINDOW, **changes}]))
    (warning,) = answer.warnings
    assert f"the {side}'s extension wants 15/16\"" in warning and mend in warning
    assert warning.startswith("Wall 1, Window 1: the ")
    assert [w for w in answer.working if f"room for the {side}" in w]


def test_room_enough_and_pieces_that_are_not_there_are_not_told_of():
    assert section(section_jambs.write, trimjob([{**WINDOW, "left": "15/16"}])).warnings == []
    flush = {**WINDOW, "left": "0", "proud": "3/4"}
    assert section(section_jambs.write, trimjob([flush])).warnings == []
