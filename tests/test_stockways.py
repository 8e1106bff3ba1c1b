"""Which stock length to buy, and the plan beside the rules of thumb."""

import json

import pytest

from calc.bridge import call
from calc.lengths import JOTS_PER_INCH, to_mm
from calc.plan import make
from calc.view import view
from tests.jobs import job


def ask(**given):
    return json.loads(call(json.dumps(given)))


def stocked(*stock, **more):
    """A wall of 160 x 41 in, eight courses, and these stock lines."""
    return job(
        board__stock=list(stock),
        walls__0__width_floor="160 1/4",
        walls__0__height_left="41",
        **more,
    )


def test_the_choices_are_each_alone_each_two_and_all():
    doc = stocked(
        {"length": "96"}, {"length": "120"}, {"length": "60", "count": 2}, {"length": "192"}
    )
    choices = ask(do="stock", job=doc)["choices"]
    assert [c["lines"] for c in choices] == [[1], [2], [4], [1, 2], [1, 4], [2, 4], [1, 2, 4]]
    assert [c["label"] for c in choices][:4] == [
        '96" alone', '120" alone', '192" alone', '96" and 120"',
    ]  # fmt: skip


def test_a_length_as_long_as_the_wall_takes_a_board_for_each_course():
    """160 in between gaps of 1/8 in; a board of 160 in is cut for each of 8 courses."""
    doc = stocked({"length": "160", "price": 10}, {"length": "96", "price": 5})
    way = ask(do="stock", job=doc, lines=[1])["way"]
    assert (way["boards"], way["of"], way["cost"]) == (8, '8 of 160"', "80.00")
    other = ask(do="stock", job=doc, lines=[2])["way"]
    both = ask(do="stock", job=doc, lines=[1, 2])["way"]
    assert both["amount"] <= min(way["amount"], other["amount"])


def test_a_length_that_reaches_no_stud_says_so():
    doc = stocked({"length": "160"}, {"length": "12"})
    way = ask(do="stock", job=doc, lines=[2])["way"]
    assert (way["boards"], way["problem"]) == (0, "No layout was found with these boards alone.")


@pytest.mark.parametrize("lines", [[2], [1, 1], "1", [0]])
def test_lines_that_are_no_choice_are_refused(lines):
    (problem,) = ask(do="stock", job=stocked({"length": "160"}), lines=lines)["problems"]
    assert problem["field"] == "lines" and "choice" in problem["message"]


def test_the_plan_stands_beside_the_rules_of_thumb():
    """(160-1/4 x 41 in) / 5-1/8 in x 1.1 = 1410.2 in, 15 boards of 96 in; source of the rule:
    western lumber association coverage table. Boards of 160 in carried along: one a course."""
    plan = make(stocked({"length": "96", "price": 5}))
    area = plan["compare"]["area"]
    assert (area["boards"], area["cost"], area["stock"]) == (15, 75, to_mm(96 * JOTS_PER_INCH))
    whole = make(stocked({"length": "160", "price": 10}))
    assert whole["compare"]["carried"] == {"boards": 8, "cost": 80}
    first, carried, thumb = view(whole)["compare"]
    assert (first["label"], first["boards"], first["cost"]) == ("This plan", "8 boards", "80.00")
    assert (carried["boards"], carried["cost"]) == ("8 boards", "80.00")
    assert thumb["boards"] == '9 boards of 160"'


def test_offcuts_and_boards_at_no_price_are_planned_with():
    """An offcut longer than the boards, and boards for nothing; by hand: 8 runs of 160 in, each
    a board of 160 for nothing."""
    offcut = {"length": "168", "kind": "offcut", "count": 1}
    plan = make(stocked({"length": "144"}, offcut))
    assert [b["line"] for b in plan["boards"]].count(2) <= 1 and plan["cost"]["total"] > 0
    assert make(stocked({"length": "160", "price": 0}))["cost"]["total"] == 0
    free = {"length": "160", "price": 0, "count": 3}
    mixed = make(stocked({"length": "96", "price": 5}, free))
    assert [b["line"] for b in mixed["boards"]].count(2) == 3
