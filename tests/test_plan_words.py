"""What a plan says in words: warnings, what is left over, which way to hang, the rule of thumb."""

import pytest

from calc.cutlist import text
from calc.plan import make
from calc.view import view
from tests.jobs import job

TWO = [{"length": "12'"}, {"length": "16'"}]
# Two pieces of 48 and a kerf of 1/8 are 96-1/8 in; 10-1/4 is two courses of 5-1/8.
TIGHT = {
    "board__stock": [{"length": "96 1/8"}],
    "rules__end_gap": "0",
    "walls__0__height_left": "10 1/4",
    "walls__0__width_floor": "48",
}


def priced(*prices, unit="ft", counts=(None, None)):
    stock = [
        {**line, "price": p, "count": c} for line, p, c in zip(TWO, prices, counts, strict=True)
    ]
    return make(job(unit=unit, board__stock=stock))


def test_a_length_without_a_price_is_named():
    assert "12' 0\" has no price, so boards are counted by length." in priced(None, 19)["warnings"]
    assert (
        '192" has no price, so boards are counted by length.'
        in priced(9, None, unit="in")["warnings"]
    )
    for prices in ((None, None), (14, 19)):
        assert not [w for w in priced(*prices)["warnings"] if "no price" in w]
    three = [{"length": "8'"}, {"length": "12'"}, {"length": "16'", "price": 3}]
    told = make(job(unit="ft", board__stock=three))["warnings"]
    assert "8' 0\" and 12' 0\" have no price, so boards are counted by length." in told


def test_the_bound_reckons_with_the_counts_to_be_had():
    """With four cheap boards at most, no plan can cost as little as with as many as wanted."""
    free, few = priced(10, 30), priced(10, 30, counts=(4, None))
    assert few["cost"]["bound"] > free["cost"]["total"]
    proven = make(job(board__stock=[{"length": "144", "count": 40}]))
    assert proven["cost"]["proven"]
    assert view(proven)["summary"]["bound"].endswith(" boards.")


def test_a_board_with_nothing_to_spare_says_so_by_itself():
    plan = make(job(**TIGHT))
    (board,) = view(plan)["boards"]
    assert board["offcut"] == 'nothing to spare: kerf at most 1/8"'
    assert plan["warnings"][0].startswith("Board 1 is used to its end: measure it before")
    assert 'Left over: nothing to spare: kerf at most 1/8"' in text(plan)


def test_several_boards_are_used_to_their_ends():
    plan = make(job(**{**TIGHT, "walls__0__height_left": "20 1/2"}))
    assert plan["warnings"][0].startswith(
        "Boards 1 and 2 are used to their ends: measure them before"
    )


def test_a_whole_board_is_not_cut_and_one_cut_to_its_end_leaves_nothing():
    whole = make(job(**{**TIGHT, "walls__0__width_floor": "96 1/8"}))
    assert [b["offcut"] for b in view(whole)["boards"]] == ["nothing to spare: the whole board"] * 2
    # 1/16 more than the two pieces and their kerf: a second kerf takes it all.
    spare = make(job(**{**TIGHT, "board__stock": [{"length": "96 3/16"}]}))
    assert [b["offcut"] for b in view(spare)["boards"]] == ["nothing"]


@pytest.mark.parametrize(
    ("edge", "start", "says"),
    [
        ("tongue-and-groove", "floor", "Start at the floor, tongue up."),
        ("lapped", "ceiling", "Start at the ceiling, lap down."),
        ("square", "floor", "Start at the floor."),
    ],
)
def test_which_way_the_boards_hang(edge, start, says):
    """The tongue, or the lap that is covered, points away from the start edge (trade rule)."""
    overall = {"board__overall": "5 1/8"} if edge == "square" else {}
    plan = make(job(board__edge=edge, rules__start=start, **overall))
    assert view(plan)["hang"] == says
    assert says + " Gap " in text(plan)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        # 164-1/2 x 96 / 5-1/8 x 1.1 = 3389.6 in = 282.5 ft
        ({}, 'about 283 ft, 24 boards of 144"'),
        ({"unit": "ft"}, "about 283 ft, 24 boards of 12' 0\""),
        ({"unit": "mm"}, "about 87 m, 24 boards of 3657.5 mm"),  # 86.1 m
        ({"walls__0__height_left": "5 1/8", "walls__0__width_floor": "80"}, '88", 1 board of 144"'),
    ],
)
def test_the_rule_of_thumb_is_said_in_what_boards_are_sold_by(changes, says):
    doc = job(**{k: v for k, v in changes.items() if k != "unit"})
    plan = make(doc)
    plan["unit"] = changes.get("unit", "in")
    (row,) = [r for r in view(plan)["compare"] if r["label"].startswith("Area")]
    assert f"{row['label']}, {row['boards']}" == f"Area and 10 % over, {says}"
