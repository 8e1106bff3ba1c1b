"""The rarer rules of a job: trim, reach, matched ends, spread, cut over, offcuts on site.

Each plan is held against its job by tests/plan_checker.py, its bound added up again.
"""

import json
from itertools import pairwise

import pytest

from calc.bridge import call
from calc.card import card
from calc.cutcsv import text as csv
from calc.cutlist import text
from calc.job import check_job
from calc.plan import make
from calc.view import view
from tests.jobs import job
from tests.plan_checker import check


def planned(**changes):
    doc = job(**changes)
    plan = json.loads(json.dumps(make(doc, 300)))
    assert check(doc, plan) == []
    return plan


def fault(plan, **changes):
    """Which kinds of fault the checker finds when the plan is held against another job."""
    return {f.split(":")[0] for f in check(job(**changes), plan)}


TIGHT = {
    "rules__end_gap": "0", "rules__kerf": "1/8",
    "walls__0__height_left": "10 1/4", "walls__0__width_floor": "48",
}  # fmt: skip


@pytest.mark.parametrize(("trim", "boards"), [("0", 1), ("1/4", 1), ("5/16", 2)])
def test_trim_is_sawn_off_both_ends_of_each_board(trim, boards):
    """Two pieces of 48 and a kerf of 1/8 take 96-1/8; 96-5/8 less twice 1/4 is just that."""
    plan = planned(**TIGHT, board__stock=[{"length": "96 5/8"}], rules__trim=trim)
    assert len(plan["boards"]) == boards


def test_a_stud_is_free_for_as_many_courses_as_said():
    again = planned(rules__reach=2)
    joined = [{j["stud"] for r in c["runs"] for j in r["joints"]}
              for c in again["walls"][0]["courses"]]  # fmt: skip
    assert all(not a & b for a, b in zip(joined, joined[2:], strict=False))
    # On a wall with few studs the boards fall as they must: the checker sees that.
    few = {"walls__0__width_floor": "150", "walls__0__studs__spacing": "48"}
    assert "reach" in fault(planned(**few), **few, rules__reach=2)


def test_matched_ends_keep_one_left_and_one_right_piece_to_a_board():
    """A run of 150 from boards of 144 takes a right-hand and a left-hand end: two boards
    for each two courses at best, and no board gives two pieces of one hand."""
    plan = planned(board__ends="matched", walls__0__width_floor="150")
    by_id = {p["id"]: p for p in plan["pieces"]}
    for board in plan["boards"]:
        ends = [
            side for key in board["cuts"] for side in ("left", "right")
            if by_id[key][side + "_end"]["kind"] == "joint"
        ]  # fmt: skip
        assert ends.count("left") <= 1 and ends.count("right") <= 1
    assert {p["kind"] for p in plan["certificate"]["prices"]} == {"left", "right"}


@pytest.mark.parametrize("kept", [0, 1, 2])
def test_no_more_offcuts_wait_than_may(kept):
    plan = planned(walls__0__width_floor="200", rules__kept=kept)
    course = {p["id"]: p["course"] for p in plan["pieces"]}
    spans = [sorted(course[key] for key in board["cuts"]) for board in plan["boards"]]
    for after in course.values():
        assert sum(s[0] <= after < s[-1] for s in spans) <= kept
    free = planned(walls__0__width_floor="200")
    assert free["cost"]["total"] <= plan["cost"]["total"]


def test_matched_ends_are_not_sawn_off():
    (problem,) = check_job(job(board__ends="matched", rules__trim="1/4"))
    assert problem.field == "rules.trim" and "matched" in problem.message


def test_pieces_are_cut_over_at_a_wall_and_not_at_a_joint():
    """164-1/2 less 1/8 at each end is a run of 164-1/4; both end pieces are sawn 1/2 longer."""
    plan = planned(rules__allowance="1/2")
    first = [p for p in plan["pieces"] if p["course"] == 1]
    assert [p["over"]["left"] for p in first] == [12.7] + [0] * (len(first) - 1)
    assert [p["over"]["right"] for p in first] == [0] * (len(first) - 1) + [12.7]
    assert sum(p["length"] for p in first) == pytest.approx(164.25 * 25.4)
    piece = first[0]
    cut = next(c for b in view(plan)["boards"] for c in b["cuts"] if c["id"] == piece["id"])
    said = 'Cut with 1/2" over at the left end, to be fitted to'
    assert cut["cuts"][0].startswith(said) and said in " ".join(text(plan).split())
    told = card(plan, piece["id"])
    assert told["rows"][0][:2] == ["Saw to", cut["text"]] and told["cuts"] == cut["cuts"]
    row = next(r for r in csv(plan).splitlines() if f",{piece['id']}," in r)
    assert f",{piece['length']:g}," in row and f",{piece['length'] + 12.7:g}," in row
    assert "over" in fault(plan, rules__allowance="1/4")


def test_an_outside_corner_is_not_cut_over():
    walls = [
        {"height_left": "96", "width_floor": "60", "studs": {"first": "16", "spacing": "16"}},
        {"height_left": "96", "width_floor": "60", "studs": {"first": "16", "spacing": "16"},
         "corner": "outside"},
    ]  # fmt: skip
    plan = planned(walls=walls, rules__allowance="1/2")
    over = {
        (p["wall"], side, p["over"][side]) for p in plan["pieces"] for side in ("left", "right")
        if p[side + "_end"]["kind"] == "wall end"
    }  # fmt: skip
    assert over == {(1, "left", 12.7), (1, "right", 0), (2, "left", 0), (2, "right", 12.7)}


def test_offcuts_on_site_cost_nothing_and_are_used_as_far_as_they_go():
    """Four courses of 48 in: two to a board of 96-1/8, or one from each offcut of 50."""
    wall = {**TIGHT, "walls__0__height_left": "20 1/2"}
    stock = [{"length": "96 1/8", "price": 10}, {"length": "50", "kind": "offcut", "count": 2}]
    plan = planned(**wall, board__stock=stock)
    assert plan["cost"] == {"by": "price", "total": 10, "bound": 10, "proven": True}
    assert [(b["kind"], b["count"], b["cost"]) for b in plan["buy"]] == [
        ("new", 1, 10), ("offcut", 2, 0)
    ]  # fmt: skip
    v = view(plan)
    assert v["summary"]["boards"] == '1 board of 96-1/8", and 2 offcuts on site'
    assert v["buy"][1]["text"] == '2 offcuts of 50", on site'
    one = planned(**wall, board__stock=[stock[0], {"length": "50", "kind": "offcut"}])
    assert one["cost"]["total"] == 20  # one offcut where no count is given
    assert "buy" in fault(plan, **wall, board__stock=[stock[0], {**stock[1], "kind": "new"}])


def test_offcuts_alone_are_no_stock():
    (problem,) = check_job(job(board__stock=[{"length": "50", "kind": "offcut"}]))
    assert problem.field == "board.stock" and "no board to buy" in problem.message


def test_joints_keep_apart_where_it_costs_nothing():
    """With a spread, fewer joints stand near one of the next course; the cost is the same."""
    near = {}
    for spread in ("0", "32"):
        plan = planned(rules__spread=spread)
        joints = [[j["at"] for r in c["runs"] for j in r["joints"]]
                  for c in plan["walls"][0]["courses"]]  # fmt: skip
        near[spread] = sum(
            abs(x - y) < 32 * 25.4 for a, b in pairwise(joints)
            for x in a for y in b
        )  # fmt: skip
        near[spread, "cost"] = plan["cost"]["total"]
    assert near["32"] < near["0"] and near["32", "cost"] == near["0", "cost"]


def test_the_rarer_rules_are_folded_and_an_offcut_has_a_button():
    answer = json.loads(call(json.dumps({"do": "fields", "job": job(), "wall": 0})))
    folded = [i for i, p in enumerate(answer["parts"]) if p["folded"]]
    asked = {f["path"] for f in answer["fields"] if f["part"] in folded}
    assert {
        "rules.reach",
        "rules.spread",
        "rules.trim",
        "rules.allowance",
        "rules.kept",
        "board.ends",
    } <= asked
    (button,) = [p["add"] for p in answer["parts"] if p["title"] == "Offcuts on site"]
    assert button["value"]["kind"] == "offcut"
