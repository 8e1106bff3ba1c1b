"""The estimate by area and the courses of a height, in whole jots."""

import pytest

from calc.plan import make
from calc.trade.estimate import divided, lineal
from tests.jobs import job
from tests.quick.gen import Gen, ask

INCH = 8128


@pytest.mark.parametrize("seed", range(80))
@pytest.mark.parametrize("how", ["full", "balanced"])
def test_courses_fill_the_height(seed, how):
    g = Gen(seed)
    height, face = g.whole(INCH, 150 * INCH), g.whole(INCH // 2, 12 * INCH)
    full, rips = divided(height, face, how)
    assert full * face + sum(rips) == height
    assert all(0 < r < face or full == 0 for r in rips)
    if how == "full":
        assert len(rips) == (1 if height % face else 0)
    elif height > face and height % face:
        assert len(rips) == 2 and abs(rips[0] - rips[1]) <= 1 and 2 * min(rips) >= face - 1


def test_a_height_of_whole_courses_has_no_rip():
    for how in ("full", "balanced"):
        assert divided(10 * INCH, 5 * INCH, how) == (2, [])
        assert divided(4 * INCH, 5 * INCH, how) == (0, [4 * INCH])


@pytest.mark.parametrize("seed", range(40))
def test_the_length_covers_the_area_and_a_jot_less_does_not(seed):
    g = Gen(seed)
    twice, face, over = g.whole(1, 10**13), g.whole(4000, 97536), g.whole(0, 1000) / 10
    n = lineal(twice, face, over)
    parts = 1000 + round(10 * over)
    assert n * face * 2000 >= parts * twice > (n - 1) * face * 2000
    assert lineal(-5, face) == lineal(0, face) == 0


def test_the_plan_holds_the_same_estimate_beside_it():
    doc = job(walls__0__width_floor="150", walls__0__height_left="96")
    v = ask("board-estimate", width="150", height="96", face="5 1/8", board="144")["answer"]
    area = make(doc)["compare"]["area"]
    assert (area["boards"], area["length"] * 320) == (v["values"]["boards"], v["values"]["length"])


def test_openings_by_sizes_and_by_area_are_one():
    wall = {"width": "150", "height": "96", "face": "5 1/8", "board": "144"}
    sizes = ask("board-estimate", openings=["36", "48", "30", "80"], **wall)["answer"]["values"]
    area = ask("board-estimate", less=f"{(36 * 48 + 30 * 80) / 144:.3f}", **wall)["answer"]
    # The area was typed to a thousandth of a square foot: 0.144 sq in, 0.03 in of board.
    assert sizes["length"] == pytest.approx(area["values"]["length"], abs=0.04 * INCH)
    assert sizes["boards"] == area["values"]["boards"]


def test_a_thin_last_course_warns_with_the_balanced_way():
    """97 in at 6: 16 full and 1 in; balanced 15 and two of 3-1/2."""
    answer = ask("board-estimate", width="100", height="97", face="6", board="96")["answer"]
    (warning,) = answer["warnings"]
    assert 'rip of 1"' in warning and '3-1/2" at the floor and at the ceiling' in warning
    fine = ask("board-estimate", width="100", height="98", face="6", board="96")["answer"]
    assert fine["warnings"] == []
