"""Casing in a job: what is cased, its cuts, where space rips it, what to buy."""

import pytest

from calc.trade import section_casing
from calc.trade.section_casing import casing_to_buy, pieces
from calc.trade.trimmed import trimmed
from tests.quick.gen import Gen, ask
from tests.trade.trimjob import INCH, inches, section, trimjob

WINDOW = {"kind": "window", "left": "60", "width": "34", "bottom": "30", "height": "50"}
DOOR = {"kind": "door", "left": "120", "width": "32", "height": "80"}


def cut(record):
    return {(p.opening, p.part): p.length for p in pieces(record)}


def at(record, name="Window 1"):
    return next(t for t in trimmed(record) if t.opening.name == name)


def test_a_window_and_a_door_by_the_books_formula():
    """Head 34 + 3/8 + 4-1/2; legs 50 + 3/16 + 2-1/4; stool 1-1/2 more; door 32 and 80."""
    got = cut(trimjob([WINDOW, DOOR]))
    assert got == {
        ("Window 1", "Head"): inches("38 7/8"),
        ("Window 1", "Left leg"): inches("52 7/16"),
        ("Window 1", "Right leg"): inches("52 7/16"),
        ("Window 1", "Stool"): inches("40 3/8"),
        ("Window 1", "Apron"): inches("38 7/8"),
        ("Door 1", "Head"): inches("36 7/8"),
        ("Door 1", "Left leg"): inches("82 7/16"),
        ("Door 1", "Right leg"): inches("82 7/16"),
    }


@pytest.mark.parametrize("joint", ["mitred", "butted"])
@pytest.mark.parametrize("foot", ["stool", "casing"])
@pytest.mark.parametrize("seed", range(5))
def test_the_job_and_the_quick_answer_are_one(seed, joint, foot):
    g = Gen(seed)
    width, height, wide = g.sixteenths(200, 600), g.sixteenths(300, 700), g.sixteenths(24, 60)
    window = {"left": "60", "width": width / 320, "bottom": "30", "height": height / 320}
    trim = {"joint": joint, "foot": foot, "width": wide / 320}
    got = [(p.part, p.length) for p in pieces(trimjob([window], trim))]
    v = ask("casing", width=width, height=height, joint=joint, foot=foot, casing=wide)
    v = v["answer"]["values"]
    parts = ["left", "right", "head", "sill", "stool", "apron"]
    names = ["Left leg", "Right leg", "Head", "Sill casing", "Stool", "Apron"]
    both = zip(names, parts, strict=True)
    assert sorted(got) == sorted((name, v[key]) for name, key in both if key in v)


@pytest.mark.parametrize(
    ("kind", "trim", "cased"),
    [("window", "by-kind", True), ("door", "by-kind", True), ("radiator", "by-kind", False),
     ("pass-through", "by-kind", False), ("window", "none", False),
     ("pass-through", "cased", True)],
)  # fmt: skip
def test_what_is_cased(kind, trim, cased):
    record = trimjob([{**WINDOW, "kind": kind, "trim": trim}])
    assert bool(pieces(record)) == cased
    if not cased:
        assert ("Casing", "no opening is cased") in section(section_casing.write, record).rows


def test_a_pass_through_has_a_foot_unless_it_reaches_the_floor():
    up = trimjob([{**WINDOW, "kind": "pass-through", "trim": "cased"}])
    down = trimjob([{**WINDOW, "kind": "pass-through", "trim": "cased", "bottom": "0"}])
    assert [t.foot for t in trimmed(up) + trimmed(down)] == ["casing", "floor"]


def test_a_corner_too_near_rips_the_leg_and_shortens_the_head():
    """2 in to the corner less 3/16: 13/16 + 1; the head 34 + 3/8 + 1-13/16 + 2-1/4."""
    record = trimjob([{**WINDOW, "left": "2"}])
    assert at(record).casing.left.wide == inches("1 13/16")
    assert cut(record)["Window 1", "Head"] == inches("38 7/16")
    answer = section(section_casing.write, record)
    warning, saw = answer.warnings
    assert warning.startswith("Wall 1, Window 1: the left corner is too near: rip the left leg to")
    assert '1-13/16"' in warning and "45" in warning
    # arctan(2.25 / 1.8125) = 51.15 degrees.
    assert saw.startswith("Wall 1, Window 1: mitre of the left leg: 51.15° is more than most saws")
    assert "set the saw to 38.85°" in saw
    assert ("Wall 1, Window 1: stool's horn, left", '0", no more space') in answer.rows


@pytest.mark.parametrize(
    ("corner", "thick"),
    [("none", 0), ("inside", "3/4"), ("outside", 0), ("mitred", 0)],
)
def test_the_boards_of_the_next_wall_take_their_thickness(corner, thick):
    """The window stands 2 in from either corner; an inside one has the neighbour's boards."""
    second = {
        "height_left": "96", "width_floor": "40", "corner": corner,
        "studs": {"first": "16", "spacing": "16"}, "openings": [{**WINDOW, "left": "2"}],
    }  # fmt: skip
    record = trimjob([{**WINDOW, "left": "128 1/2"}], more=[second])
    one, other = trimmed(record)
    assert one.spaces[1].room == inches(2) - inches(thick)
    assert other.spaces[0].room == inches(2) - inches(thick)


def test_a_right_end_against_boards_takes_their_thickness():
    record = trimjob([{**WINDOW, "left": "128 1/2"}], wall={"right_end": "boards"})
    assert at(record).spaces[1].room == inches("1 1/4")


def test_a_corner_that_leans_in_is_met_where_it_is_nearest():
    """In by 1-1/2 over 96; the casing's head ends 82-7/16 up: 1-1/2 x 82.4375 / 96 = 1.288."""
    record = trimjob([{**WINDOW, "left": "3"}], wall={"left_corner": "in", "left_lean": "1 1/2"})
    assert at(record).spaces[0].room == pytest.approx(3 * INCH - 1.5 * 82.4375 / 96 * INCH, abs=1)


def test_two_windows_too_near_share_what_there_is():
    """4 in between them: 2 each, less the reveal 1-13/16; the mend names both ways."""
    near = {**WINDOW, "left": "98"}
    record = trimjob([WINDOW, near])
    one, other = trimmed(record)
    assert one.casing.right.wide == other.casing.left.wide == inches("1 13/16")
    warnings = section(section_casing.write, record).warnings
    warnings = [w for w in warnings if "most saws" not in w]
    assert len(warnings) == 2
    assert "Window 2 is too near" in warnings[0] and "both casings give way" in warnings[0]


@pytest.mark.parametrize("gap", range(0, 100, 7))
def test_casings_of_two_windows_never_lie_over_each_other(gap):
    left = inches(94) + gap * 508
    record = trimjob([WINDOW, {**WINDOW, "left": left / 320}])
    one, other = trimmed(record)
    ends = [t.casing.right.reveal + t.casing.right.wide + t.casing.horn_right for t in (one,)]
    ends += [t.casing.left.reveal + t.casing.left.wide + t.casing.horn_left for t in (other,)]
    assert sum(ends) <= gap * 508
    wanted = 3 * 508 + 36 * 508
    assert ends[0] == ends[1] == min(gap * 508 // 2, wanted + 12 * 508)


def test_what_is_not_cased_keeps_its_place_whole():
    """A radiator 1 in right of the window: 1 less 3/16; nothing is shared."""
    radiator = {"kind": "radiator", "left": "95", "width": "20", "bottom": "4", "height": "60"}
    record = trimjob([WINDOW, radiator])
    assert at(record).casing.right.wide == inches("13/16")
    warning = next(w for w in section(section_casing.write, record).warnings if "near" in w)
    assert "Radiator 1 is too near" in warning and "give way" not in warning


def test_the_ceiling_rips_the_head_and_the_floor_the_apron():
    """Head 96 - 95 = 1 less 3/16; stool 3/4 of 2 leaves 1-1/4 for the apron."""
    window = {"left": "60", "width": "34", "bottom": "2", "height": "93"}
    record = trimjob([window])
    c = at(record).casing
    assert (c.top.wide, c.drop) == (inches("13/16"), inches("1 1/4"))
    warnings = [w for w in section(section_casing.write, record).warnings if "near" in w]
    assert ["the ceiling" in w and "head" in w for w in warnings] == [True, False]
    assert "the floor" in warnings[1] and "apron" in warnings[1] and "45" not in warnings[1]


def test_no_space_leaves_the_piece_out():
    record = trimjob([{**WINDOW, "left": "1/8"}])
    got = cut(record)
    assert ("Window 1", "Left leg") not in got
    assert got["Window 1", "Head"] == inches("34 1/8") + inches("3/16") + inches("2 1/4")
    (warning,) = section(section_casing.write, record).warnings
    assert "leave it out" in warning


def test_a_sliver_between_two_windows_is_not_listed_cut_or_bought():
    """1 in apart: 1/2 each less 3/16 is 5/16, under 1/2. No legs there, the heads end square."""
    record = trimjob([WINDOW, {**WINDOW, "left": "95"}])
    got = cut(record)
    assert ("Window 1", "Right leg") not in got and ("Window 2", "Left leg") not in got
    assert got["Window 1", "Head"] == inches("34") + inches("3/8") + inches("2 1/4")
    answer = section(section_casing.write, record)
    tables = [t for t in answer.tables if t.title.startswith("Casing, Wall 1")]
    heads = [r for t in tables for r in t.rows if r[0].endswith("Head")]
    assert [r[3] for r in heads] == ["left 45.00°, right square", "left square, right 45.00°"]
    told = [w for w in answer.warnings if "too near" in w]
    assert len(told) == 2 and len(answer.warnings) == 2
    assert 'the right leg would be 5/16" wide' in told[0] and "leave it out" in told[0]
    assert told[0].endswith("both openings' edges there.")
    total = sum(p.length for p in pieces(record) if p.mark[0] == "C")
    assert casing_to_buy(record).total == total == dict(answer.values)["casing total"]


def test_an_apron_that_were_a_sliver_is_left_out():
    """1-1/8 to the floor less the stool of 3/4 leaves 3/8."""
    record = trimjob([{"left": "60", "width": "34", "bottom": "1 1/8", "height": "60"}])
    assert ("Window 1", "Apron") not in cut(record)
    (warning,) = section(section_casing.write, record).warnings
    assert 'the apron would be 3/8" wide' in warning and "leave it out" in warning


def test_the_limit_of_a_sliver_is_the_jobs_own():
    record = trimjob([{**WINDOW, "left": "1/2"}], rules={"sliver": "1/4"})
    assert at(record).casing.left.wide == inches("5/16")


def test_an_opening_too_tight_for_any_casing_is_still_cased():
    """No space at all on three sides: no pieces, and the section says why."""
    wall = {"width_floor": "32", "height_left": "80", "studs": {"first": "16", "spacing": "16"}}
    record = trimjob([{**DOOR, "left": "0"}], wall=wall)
    assert pieces(record) == []
    answer = section(section_casing.write, record)
    assert ("Casing", "no opening is cased") not in answer.rows
    assert len([w for w in answer.warnings if "no space for the" in w]) == 3


def test_the_working_of_no_space_says_no_less_than_nothing():
    answer = section(section_casing.write, trimjob([{**WINDOW, "left": "0"}]))
    (line,) = [w for w in answer.working if "left leg width" in w]
    assert "space - reveal, no less than 0" in line


def test_one_piece_is_one_piece():
    wall = {"width_floor": "32", "height_left": "90", "studs": {"first": "16", "spacing": "16"}}
    answer = section(section_casing.write, trimjob([{**DOOR, "left": "0"}], wall=wall))
    (line,) = [w for w in answer.working if w.startswith("casing in all")]
    assert ": 1 piece = " in line


def test_a_door_on_a_floor_that_climbs_has_two_legs():
    """16 in over 160: a tenth. Left leg 60 + 2-7/16 + a tenth of it; its foot is 0.225 out."""
    wall = {"width_floor": "160", "height_right": "80", "level": "ceiling"}
    record = trimjob([{**DOOR, "left": "100", "height": "60"}], wall=wall)
    got = cut(record)
    out = 2.4375
    assert got["Door 1", "Left leg"] == pytest.approx((60 + out + out / 10) * INCH, abs=2)
    assert got["Door 1", "Right leg"] == pytest.approx((60 + out - 3.2 - 0.01875) * INCH, abs=2)
    (warning,) = section(section_casing.write, record).warnings
    assert warning.startswith("Wall 1, Door 1: the floor is") and "scribe" in warning


def test_without_stock_it_is_bought_by_running_length():
    record = trimjob([WINDOW, DOOR])
    bought = casing_to_buy(record)
    own = [p.length for p in pieces(record) if p.part != "Stool"]
    assert (bought.rows, bought.total, bought.longest) == ([], sum(own), max(own))
    answer = section(section_casing.write, record)
    assert answer.figures[0].label == "Casing, running length"
    (row,) = [text for label, text in answer.rows if label == "Casing to buy, by length"]
    assert 'longest piece 82-7/16"' in row


def test_stock_is_bought_by_price_and_every_piece_lies_in_it():
    stock = [{"length": "96", "price": "10"}, {"length": "144", "price": "16"}]
    record = trimjob([WINDOW, DOOR], {"casing_stock": stock})
    bought = casing_to_buy(record)
    assert bought.priced and bought.cost == sum(n * price for _, n, price in bought.rows)
    many = [p for p in pieces(record) if p.mark[0] == "C"]
    assert sorted(k for b in bought.boards for k in b.pieces) == list(range(len(many)))
    answer = section(section_casing.write, record)
    tables = {t.title: t for t in answer.tables}
    rows = [r[0] for t in answer.tables if t.title.startswith("Casing, Wall 1") for r in t.rows]
    assert [r.split()[0] for r in rows if r[0] == "C"] == [p.mark for p in many]
    marks = ", ".join(r[1] for r in tables["Casing, cut from"].rows).split(", ")
    assert sorted(marks) == sorted(p.mark for p in many)


def test_a_piece_longer_than_any_stock_is_told():
    record = trimjob([DOOR], {"casing_stock": [{"length": "72"}]})
    answer = section(section_casing.write, record)
    told = [w for w in answer.warnings if "longer than any casing stock" in w]
    assert len(told) == 2 and "Wall 1, Door 1: Left leg (C2)" in told[0]
    assert casing_to_buy(record).over == [1, 2]


def test_every_piece_has_a_mark_a_wall_an_opening_and_its_working():
    record = trimjob([WINDOW, DOOR])
    answer = section(section_casing.write, record)
    many = pieces(record)
    tables = [t for t in answer.tables if t.title.startswith("Casing, Wall 1")]
    assert len({p.mark for p in many}) == len(many) == sum(len(t.rows) for t in tables)
    for p in many:
        line = f"{p.wall}, {p.opening}: {p.part.lower()} = "
        assert len([w for w in answer.working if w.startswith(line)]) == 1
    assert all(len(r) == len(t.columns) and all(r) for t in tables for r in t.rows)
