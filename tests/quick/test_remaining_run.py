"""Remaining run: what must hold for any run, in exact jots."""

import pytest

from calc.studs import grid_count, grid_place
from tests.quick.gen import Gen, ask

SEEDS = range(40)


def _case(seed):
    g = Gen(seed)
    up = [g.sixteenths(200, 1500) for _ in range(g.whole(0, 3))]
    end_gap, joint_gap = g.sixteenths(0, 6), g.sixteenths(0, 3)
    rest = g.sixteenths(1, 5000)
    run = sum(up) + 2 * end_gap + len(up) * joint_gap + rest
    stock = g.sixteenths(600, 2400)
    return {"run": run, "up": up, "stock": stock, "end_gap": end_gap, "joint_gap": joint_gap}, rest


@pytest.mark.parametrize("seed", SEEDS)
def test_pieces_and_gaps_fill_the_run_exactly(seed):
    given, rest = _case(seed)
    v = ask("remaining-run", shortest="0", **given)["answer"]["values"]
    assert v["left"] == rest
    pieces = given["up"] + [given["stock"]] * v["whole"] + ([v["last"]] if v["last"] else [])
    wood = sum(pieces)
    gaps = 2 * given["end_gap"] + (len(pieces) - 1) * given["joint_gap"]
    spare = given["run"] - wood - gaps
    # Only less than a piece and its joint gap may be left, where no piece fits.
    assert spare == 0 if v["last"] else 0 <= spare <= given["joint_gap"]
    assert 0 <= v["last"] <= given["stock"]


@pytest.mark.parametrize("seed", SEEDS)
def test_a_shift_mends_what_it_warns_of(seed):
    given, _ = _case(seed)
    shortest = 16 * 8128
    spacing = [None, 16 * 8128, 24 * 8128][seed % 3]
    more = {"spacing": spacing} if spacing else {}
    answer = ask("remaining-run", shortest=shortest, **given, **more)["answer"]
    v = answer["values"]
    if "shift" not in v:
        alone = not given["up"] and not v["whole"]
        assert alone or v["last"] >= shortest or v["last"] == 0 or answer["warnings"]
        return
    donor = given["stock"] if v["whole"] else given["up"][-1]
    assert v["last"] < shortest <= v["last"] + v["shift"] <= given["stock"]
    assert donor - v["shift"] >= shortest
    if spacing:
        assert v["shift"] % spacing == 0
        assert v["shift"] - spacing < shortest - v["last"]


def test_the_offcut_is_that_of_the_piece_as_mended():
    """96 + 4 in: cut the board to 84, 12 shorter, and the last piece is 16: 96 - 16 - 1/8."""
    answer = ask("remaining-run", run="100 1/4", stock="96")["answer"]
    assert answer["values"]["shift"] == 12 * 8128
    assert 'cut to 84"' in answer["warnings"][0] or 'of 84"' in answer["warnings"][0]
    assert ["Offcut of its board, so mended", '79-7/8"'] in answer["rows"]
    assert answer["values"]["offcut"] == 639 * 1016
    fine = ask("remaining-run", run="112 1/4", stock="96")["answer"]
    assert ["Offcut of its board", '79-7/8"'] in fine["rows"]


@pytest.mark.parametrize("seed", SEEDS)
def test_boards_that_fill_the_run_leave_nothing(seed):
    given, rest = _case(seed)
    full = dict(given, run=given["run"] - rest, up=[*given["up"], 40 * 8128])
    # The boards up, one more, and a joint gap between every two of them.
    full["run"] += 40 * 8128
    answer = ask("remaining-run", **full)["answer"]
    assert ["Run", "full"] in answer["rows"]
    assert answer["warnings"] == [w for w in answer["warnings"] if w.startswith("Board ")]
    short = ask("remaining-run", **dict(full, run=full["run"] - 1))
    assert short["problems"][0]["field"] == "up"


@pytest.mark.parametrize("seed", SEEDS)
def test_a_run_of_whole_boards_has_no_last_piece(seed):
    given, _ = _case(seed)
    n = seed % 3 + 1
    run = n * given["stock"] + (n - 1) * given["joint_gap"] + 2 * given["end_gap"]
    v = ask("remaining-run", **dict(given, run=run, up=[]))["answer"]["values"]
    assert (v["whole"], v["last"]) == (n, 0)


@pytest.mark.parametrize("over", [1, 508, 8128])
def test_overfilled_names_by_how_much(over):
    reply = ask("remaining-run", run=192 * 8128 + 2032 - over, up="96;96")
    assert [p["field"] for p in reply["problems"]] == ["up"]
    assert "more than the run" in reply["problems"][0]["message"]


@pytest.mark.parametrize("seed", SEEDS)
def test_a_leaning_end_differs_by_the_same_all_along(seed):
    given, _ = _case(seed)
    g = Gen(seed + 7919)
    by = g.sixteenths(1, 16)
    v = ask("remaining-run", run_top=given["run"] + by, face="5 1/8", shortest="0", **given)[
        "answer"
    ]["values"]
    assert v["left_top"] - v["left"] == by
    if "last_top" in v:
        # A wedge's lower edge is shown as nothing where it starts past the gap.
        assert v["last_top"] - v["last"] == by or (v["last"] == 0 and v["last_top"] <= by)


@pytest.mark.parametrize("spacing", [16 * 8128, 156058, 100 * 320, 60 * 8128])
def test_whole_spacings_are_the_least_that_reach(spacing):
    """Against counting up; 156058 jots stands for 19.2 in, exactly 96/5."""
    g = Gen(spacing)
    for _ in range(60):
        first, by = g.sixteenths(0, 900), g.whole(-3 * spacing, 40 * spacing)
        k = grid_count(spacing, by)
        assert grid_place(first, spacing, k) - first >= by
        assert grid_place(first, spacing, k - 1) - first < by
    assert grid_count(156058, 96 * 8128) == 5
    assert grid_count(156058, 96 * 8128 + 1) == 6


def test_a_spacing_that_no_wall_has_is_refused():
    """Spacings were counted up one by one: 0.01 mm took 20 s."""
    for spacing in ("0.01 mm", "99 mm", "5001 mm"):
        reply = ask("remaining-run", run="99 m", stock="15 m", spacing=spacing)
        assert [p["field"] for p in reply["problems"]] == ["spacing"]


def test_a_list_has_an_end():
    reply = ask("remaining-run", run="99 m", up=["1"] * 101)
    (problem,) = reply["problems"]
    assert (problem["field"], problem["value"]) == ("up", "101 readings")
    assert "101 are too many" in problem["message"] and "at most 100" in problem["fix"]
