"""Coats, cans, filler and caulk of a job, against plain geometry."""

import math

import pytest

from calc.draft import Draft, to_dict
from calc.job import read_job
from calc.plan import make
from calc.trade import section_coats
from calc.trade.coated import board_area, cans, used_boards, wall_area
from calc.trade.coats import whole_cans
from calc.trade.filler import A_HOLE, caulk_litres, filler_litres, joints, tubs
from calc.trade.nails import count
from tests.jobs import job
from tests.quick.gen import Gen, ask

INCH = 8128
SQ_IN = 0.0254**2
WINDOW = {"kind": "window", "left": "20", "width": "30", "bottom": "10", "height": "20"}
DOOR = {"kind": "door", "left": "60", "width": "20", "bottom": "0", "height": "30"}
NO_GAPS = {"rules__end_gap": "0", "rules__opening_gap": "0"}


def made(**changes):
    doc = job(walls__0__width_floor="100", walls__0__height_left="41", **NO_GAPS)
    for key, value in changes.items():
        doc = _with(doc, key, value)
    return read_job(doc), make(doc)


def _with(doc, key, value):
    from tests.jobs import put

    put(doc, key.replace("__", "."), value)
    return doc


def test_the_wall_less_its_openings():
    """100 x 41 less 30 x 20 and 20 x 30, no gaps: 2900 square inches."""
    _, plan = made(walls__0__openings=[WINDOW, DOOR])
    assert wall_area(plan) == pytest.approx(2900 * SQ_IN, rel=1e-6)


def test_a_box_is_a_hole_in_what_is_coated():
    box = {"by": "edges", "left": "40", "width": "3", "bottom": "6", "height": "4"}
    plain, holed = made(rules__box_gap="0"), made(rules__box_gap="0", walls__0__boxes=[box])
    assert wall_area(plain[1]) - wall_area(holed[1]) == pytest.approx(12 * SQ_IN, rel=1e-6)


@pytest.mark.parametrize(("back", "around"), [("bare", 5.375 + 1.5), ("coated", 10.75 + 1.5)])
def test_boards_are_coated_whole_with_both_edges(back, around):
    j, plan = made(finish={"back": back})
    boards = len(plan["boards"])
    assert board_area(j, plan) == pytest.approx(boards * 144 * around * SQ_IN)


def test_offcuts_on_site_are_coated_and_rejected_boards_are_not():
    j, plan = made(board__stock=[{"length": "144"}, {"length": "104", "kind": "offcut",
                                                    "count": 3}])  # fmt: skip
    assert [b["kind"] for b in used_boards(plan)].count("offcut") == 3
    area = board_area(j, plan)
    plan["boards"][0]["state"] = "rejected"
    gone = plan["boards"][0]["stock"] / 25.4
    assert area - board_area(j, plan) == pytest.approx(gone * 6.875 * SQ_IN)
    plan["boards"][1]["short"] = "x"
    assert len(used_boards(plan)) == len(plan["boards"]) - 2


def test_cans_of_a_job():
    """One raw primer coat, one paint coat on the boards, one on the wall, by hand."""
    j, plan = made(finish={"primer_can": "1 qt", "primer_price": "9.50", "paint_can": "1 qt"})
    before = len(plan["boards"]) * 144 * 6.875 / 144
    wall = 4100 / 144
    primer, paint = cans(j, plan)
    gallon = 3.785411784
    assert (primer.key, paint.key) == ("primer", "paint")
    assert primer.litres / gallon == pytest.approx(before / (300 * 0.85))
    assert paint.litres / gallon == pytest.approx((before + wall) / 350)
    assert primer.cans == math.ceil(primer.litres / gallon * 4)
    assert paint.cans == math.ceil(paint.litres / gallon * 4)
    assert (primer.price, paint.price) == (950, None)
    assert primer.can == pytest.approx(gallon / 4)
    assert cans(j, None) == []


def test_only_the_first_coat_of_all_is_on_raw_board():
    gallons = []
    for finish in (
        {"primer_coats": 0, "paint_before": 2, "paint_after": 0},
        {"primer_coats": 0, "paint_before": 0, "paint_after": 2},
    ):
        j, plan = made(finish=finish)
        (paint,) = cans(j, plan)
        area = (board_area(j, plan) if finish["paint_before"] else wall_area(plan)) / 0.09290304
        gallons.append(paint.litres / 3.785411784 / (area / 350))
    assert gallons == [pytest.approx(1 + 1 / 0.85)] * 2
    j, plan = made(finish={"primer_coats": 0, "paint_before": 0, "paint_after": 0})
    assert cans(j, plan) == []


def test_solids_and_film_take_the_labels_place_and_losses_come_off():
    plain = made(finish={"paint_before": 0, "paint_rate": 5.2, "primer_coats": 0})
    solid = made(finish={"paint_before": 0, "paint_solids": 65, "paint_film": 125,
                         "primer_coats": 0})  # fmt: skip
    lossy = made(finish={"paint_before": 0, "paint_rate": 10.4, "loss": 50, "primer_coats": 0})
    litres = [cans(j, plan)[0].litres for j, plan in (plain, solid, lossy)]
    assert litres == [pytest.approx(litres[0])] * 3


@pytest.mark.parametrize("seed", range(100))
def test_cans_hold_the_paint_and_one_fewer_do_not(seed):
    g = Gen(seed)
    litres, can = g.whole(1, 99999) / 1000, g.whole(50, 5000) / 1000
    n = whole_cans(litres, can)
    assert (n - 1) * can < litres <= n * can * (1 + 1e-9)


def test_a_full_can_is_one_can_whatever_doubles_make_of_it():
    """Three coats of 0.1 L are 0.30000000000000004 L: one can of 0.3."""
    assert whole_cans(0.1 + 0.1 + 0.1, 0.3) == 1
    assert whole_cans(0.0, 1.0) == 0
    assert [whole_cans(n * 3.785411784, 3.785411784) for n in range(1, 50)] == list(range(1, 50))


def test_filler_by_the_nail():
    """Common practice, no source: 0.15 ml a hole, so 1000 take 150 ml."""
    assert pytest.approx(0.15) == A_HOLE * 1000
    assert filler_litres(1000) == pytest.approx(0.15)
    j, plan = made()
    assert [c.cans for c in (tubs(j, plan, 0)[0], tubs(j, plan, 1)[0])] == [0, 1]
    assert tubs(j, None, 500) == []


def test_caulk_by_the_metre():
    """A 5 mm round bead: pi / 4 x 25 mm2 x 1 m = 19.63 ml; a 300 ml cartridge lays 15.3 m."""
    assert caulk_litres(320000) == pytest.approx(0.01963495)
    assert 0.3 / caulk_litres(320000) == pytest.approx(15.28, abs=0.01)


def test_joints_that_are_caulked():
    """Ceiling 100, both corners 41. Window: 30 + 2 x 2-7/16 = 34-7/8 and 24-7/8, all round; door:
    24-7/8 over the head, legs 30 + 2-7/16, nothing at the floor."""
    _, plan = made(walls__0__openings=[WINDOW, DOOR])
    j = read_job(job(walls__0__width_floor="100", walls__0__height_left="41",
                     walls__0__openings=[WINDOW, DOOR], **NO_GAPS))  # fmt: skip
    around = 2 * (34.875 + 24.875) + 24.875 + 2 * 32.4375
    assert joints(j, plan) == [
        ("ceiling", 100 * INCH), ("corners", 82 * INCH), ("casings", around * INCH),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("trim", "kind", "counts"),
    [("by-kind", "window", True), ("by-kind", "radiator", False), ("cased", "other", True),
     ("none", "door", False)],
)  # fmt: skip
def test_only_cased_openings_are_caulked_around(trim, kind, counts):
    j, plan = made(walls__0__openings=[{**WINDOW, "kind": kind, "trim": trim}])
    assert (joints(j, plan)[2][1] > 0) == counts


@pytest.mark.parametrize(
    ("corner", "inches"), [("none", 4 * 41), ("inside", 3 * 41), ("outside", 2 * 41),
                           ("mitred", 2 * 41)]
)  # fmt: skip
def test_a_corner_of_two_walls_is_one_joint_and_an_outside_one_none(corner, inches):
    wall = {"height_left": "41", "width_floor": "100", "studs": {"first": "16", "spacing": "16"}}
    doc = job(walls=[dict(wall), {**wall, "corner": corner}], board__thickness="3/4")
    assert joints(read_job(doc), make(doc))[1][1] == inches * INCH


def test_the_section_says_what_is_assumed_and_what_waits():
    j, plan = made()
    d = Draft("in")
    section_coats.write(d, j, plan)
    a = to_dict(d.done())
    assert a["figures"][0]["label"] == "Paint, cans of 1 gal"
    rows = dict(d.rows)
    assert "offcuts with them" in rows["Taken for that"]
    assert rows["Filler"].startswith(f"{count(j, plan).nails} nail holes")
    assert len(d.tables[0].rows) == 3
    waits = Draft("in")
    section_coats.write(waits, j, None)
    assert dict(waits.rows)["Cans"].startswith("wait for the plan") and not waits.figures
    bare = Draft("in")
    section_coats.write(bare, made(finish={"primer_coats": 0, "paint_before": 0})[0], None)
    assert any("edges and tongue before they hang" in w for w in bare.warnings)


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_the_quick_answer_and_the_job_reckon_alike(unit):
    """A wall coated once, raw, on the wall alone: the same litres by both."""
    j, plan = made(finish={"primer_coats": 0, "paint_before": 0, "paint_rate": 9})
    (paint,) = cans(j, plan)
    v = ask("paint", unit, widths=["100 in"], height="41 in", coats="1", rate="9 m2/L")
    assert v["answer"]["values"]["paint"] == pytest.approx(1000 * paint.litres, abs=0.51)
