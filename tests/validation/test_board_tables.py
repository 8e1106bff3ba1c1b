"""Board patterns, coverage and spacing against published tables and plain arithmetic.

Western lumber association coverage table: overall, face and factors of
tongue-and-groove (1/4 in tongue) and lapped (1/2 in lap) patterns; the
estimate (area - openings) x 1.10 x factor. PS 20, American Softwood Lumber
Standard: dressed widths. Common practice, no source: boards end on stud
centres and neighbouring courses never on the same one.
"""

import itertools

import pytest

from calc.courses import line_of, lines
from calc.job import check_job, read_job
from calc.lengths import JOTS_PER_INCH, read
from calc.plan import make
from calc.quick.board_estimate import FIELDS
from calc.quick.declare import default_text
from calc.trade.estimate import board_factor, divided, lineal, lineal_factor
from tests.jobs import job
from tests.quick.gen import ask

# nominal: overall, face, lineal factor 12 / face, board factor nominal / face
TONGUE = [
    (4, "3 3/8", "3 1/8", 3.84, 1.28),
    (6, "5 3/8", "5 1/8", 2.34, 1.17),
    (8, "7 1/8", "6 7/8", 1.75, 1.16),
    (10, "9 1/8", "8 7/8", 1.35, 1.13),
]
LAPPED = [(6, "5 1/2", "5", 2.40, 1.20), (8, "7 1/4", "6 3/4", 1.78, 1.19)]


@pytest.mark.parametrize("nominal, overall, face, lineal, factor", TONGUE + LAPPED)
def test_coverage_table(nominal, overall, face, lineal, factor):
    """Factors as printed, to two decimals; the board factor within 0.006 (rounding)."""
    inches = read(face, "in") / JOTS_PER_INCH
    assert abs(12 / inches - lineal) <= 0.0051
    assert abs(nominal / inches - factor) <= 0.006
    edge = "tongue-and-groove" if (nominal, overall, face, lineal, factor) in TONGUE else "lapped"
    doc = job(board__face=face, board__overall=overall, board__edge=edge)
    assert check_job(doc) == []
    hides = read_job(doc).board.overall - read_job(doc).board.face
    assert hides == read("1/4" if edge == "tongue-and-groove" else "1/2", "in")


@pytest.mark.parametrize("nominal, overall, face, lineal, factor", TONGUE + LAPPED)
def test_coverage_table_by_the_estimate(nominal, overall, face, lineal, factor):
    """The same factors by calc/trade/estimate.py, and 100 sq ft bought by each of them.

    Printed to two decimals: 0.0051; the board factor within 0.006 (rounding).
    """
    jots = read(face, "in")
    assert abs(lineal_factor(jots, 12 * JOTS_PER_INCH) - lineal) <= 0.0051
    assert abs(board_factor(nominal * JOTS_PER_INCH, jots) - factor) <= 0.006
    feet = lineal_feet(100, face)
    assert abs(feet - 110 * lineal) <= 110 * 0.0051
    # Metric: as many metres to a square metre as 1000 / face in mm.
    assert lineal_factor(jots, 320000) == pytest.approx(1000 / (jots / 320))


def lineal_feet(square_feet, face, over=10.0):
    foot = 12 * JOTS_PER_INCH
    return lineal(2 * square_feet * foot * foot, read(face, "in"), over) / foot


@pytest.mark.parametrize(
    ("nominal", "dressed"),
    [(4, "3 1/2"), (6, "5 1/2"), (8, "7 1/4"), (10, "9 1/4"), (12, "11 1/4")],
)
def test_dressed_widths_of_the_standard(nominal, dressed):
    """PS 20: dry boards dress to these widths; square-edged ones cover so much.

    A nominal inch dresses to 3/4 in, the thickness that a job has where none is given.
    """
    doc = job(board__face=dressed, board__edge="square", board__overall=dressed)
    assert check_job(doc) == []
    board = read_job(doc).board
    assert board.overall == board.face == read(dressed, "in")
    assert board.thickness == read("3/4", "in")
    assert nominal * JOTS_PER_INCH > board.face


def test_the_estimate_of_100_square_feet_is_257_4():
    """100 sq ft of nominal 6 tongue-and-groove: 100 x 1.10 x 2.34 = 257.4 lineal ft.

    The printed 2.34 is 12 / 5.125 = 2.3415 rounded, so ours is 0.16 ft more: within 0.22 %.
    """
    feet = lineal_feet(100, "5 1/8")
    assert feet == pytest.approx(110 * 12 / 5.125, abs=1e-3)  # up to a whole jot
    assert abs(feet - 257.4) / 257.4 < 0.0022
    assert lineal_feet(100, "5 1/8", 0) == pytest.approx(100 * 12 / 5.125, abs=1e-3)


def test_a_tenth_is_offered_for_what_is_cut_off():
    """The association's estimate: x 1.10; by the calculator 128.8 ft for 50 sq ft at 5-1/8.

    50 x 1.10 x 12 / 5.125 = 128.78 ft, so 11 boards of 12 ft.
    """
    over = next(f for f in FIELDS if f.key == "over")
    assert default_text(over, "in") == default_text(over, "mm") == "10 %"
    values = {"width": "75", "height": "96", "face": "5 1/8", "board": "144"}
    answer = ask("board-estimate", **values)["answer"]
    assert ["Lineal length", "128.8 ft"] in answer["rows"]
    assert answer["values"]["boards"] == 11


def test_96_inches_by_the_estimate():
    """96 in at 5-1/8: 18 full + 3-3/4, or 17 full + two of 4-7/16 (arithmetic)."""
    face = read("5 1/8", "in")
    assert divided(96 * JOTS_PER_INCH, face, "full") == (18, [read("3 3/4", "in")])
    assert divided(96 * JOTS_PER_INCH, face, "balanced") == (17, 2 * [read("4 7/16", "in")])


def test_dressed_lapped_widths_are_those_of_the_standard():
    """PS 20: nominal 6 and 8 dress to 5-1/2 and 7-1/4 in, dry; the lapped boards are so wide."""
    assert [overall for _, overall, _, _, _ in LAPPED] == ["5 1/2", "7 1/4"]


def test_estimate_of_100_square_feet():
    """100 sq ft of nominal 6 tongue-and-groove: 257.4 lineal ft (100 x 1.10 x 2.34).

    The plan divides by the face itself, 12 / 5.125 = 2.3415, so it says 257.6;
    the printed factor's rounding allows 0.22 %.
    """
    doc = job(walls__0__width_floor="150", walls__0__height_left="96")  # 100 sq ft
    feet = make(doc)["compare"]["area"]["length"] / 304.8
    assert abs(feet - 257.4) / 257.4 < 0.0022


def test_eighteen_full_and_a_rip_or_seventeen_and_two():
    """96 in at a face of 5-1/8 in: 18 full + 3-3/4, or 17 full + two of 4-7/16 (arithmetic)."""
    sizes = {}
    for how in ("full", "balanced"):
        j = read_job(job(rules__courses=how))
        high = 96 * JOTS_PER_INCH
        courses = lines(0, high, line_of(0, high, j.board, j.rules), j.board, j.rules)
        sizes[how] = [(c.top - c.bottom) / JOTS_PER_INCH for c in courses]
    assert sizes["full"] == [5.125] * 18 + [3.75]
    assert sizes["balanced"] == [4.4375] + [5.125] * 17 + [4.4375]


def test_a_96_inch_board_runs_from_stud_centre_to_stud_centre():
    """On 16 in centres, with no joint gap, common practice, no source."""
    doc = job(
        board__stock=[{"length": "96"}],
        walls__0__width_floor="128",
        walls__0__height_left="5 1/8",
        rules__end_gap="0",
        rules__shortest="16",
    )
    plan = make(doc)
    whole = [p for p in plan["pieces"] if p["length"] == 2438.4]
    assert len(plan["boards"]) == 2  # 96 + 32
    assert len(whole) == 1


def test_two_pieces_of_48_do_not_come_from_a_board_of_96():
    """96 - 2 x 48 leaves nothing for the kerf between them (arithmetic)."""
    wall = {"walls__0__width_floor": "48", "walls__0__height_left": "10 1/4", "rules__end_gap": "0"}
    for length, boards in (("96", 2), ("96 1/16", 2), ("96 1/8", 1)):
        plan = make(job(board__stock=[{"length": length}], **wall))
        assert (len(plan["pieces"]), len(plan["boards"])) == (2, boards)
        assert plan["cost"]["proven"]


def test_neighbouring_courses_never_join_on_one_stud():
    """Common practice, no source: even where no stagger is asked for."""
    plan = make(job(rules__stagger="0"))
    rows = [{j["stud"] for j in c["runs"][0]["joints"]} for c in plan["walls"][0]["courses"]]
    assert all(a and not a & b for a, b in itertools.pairwise(rows))


@pytest.mark.parametrize("spacing", ["16", "19.2 in", "24"])
def test_joints_and_the_ends_at_them_are_on_stud_centres(spacing):
    """Common practice, no source: with a gap at the joint, its middle is the stud's centre.

    0.01 mm: an odd gap is shared out in whole jots of 1/320 mm, half of one amiss.
    """
    wall = {"studs": {"first": "16", "spacing": spacing}, "width_floor": "250", "height_left": "96"}
    plan = make(job(walls=[wall], rules__joint_gap="1/8"))
    studs = {s["number"]: s["at"] for s in plan["walls"][0]["studs"]}
    seen = 0
    for left, right in itertools.pairwise(plan["pieces"]):
        if right["left_end"]["kind"] != "joint":
            continue
        assert (left["wall"], left["course"]) == (right["wall"], right["course"])
        at = studs[right["left_end"]["stud"]]
        assert abs((left["right"] + right["left"]) / 2 - at) <= 0.01
        assert right["left"] - left["right"] == pytest.approx(25.4 / 8, abs=0.01)
        seen += 1
    assert seen >= len(plan["walls"][0]["courses"])
