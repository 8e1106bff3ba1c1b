"""The house of the examples: three slips in its survey are warned of, and figures of its take-off,
trim and schedule are those of arithmetic by hand."""

import copy
import json
import re
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

import pytest

from calc.lengths import jots_of
from calc.plan import make
from calc.trade.asked import PARTS, answer
from calc.words import sawn_length

HOUSE = json.loads((Path(__file__).parents[2] / "examples" / "house.json").read_text("utf-8"))
INCH = 8128
KERF = INCH // 8  # the house's rules give none: 1/8 in
HOURS = 0.02  # h: each of the three terms is shown to a hundredth
STEP = re.compile(
    r"^(.+?) = (?:after (.+?): )?start \+ at work \+ drying: "
    r"([\d.]+) h \+ ([\d.]+) h \+ ([\d.]+) h = ([\d.]+) h"
)


def nails_too_long(doc):
    """2-3/4 through 3/4 boards and 1/2 wallboard: 1-1/2 into the stud, over 1-1/4."""
    doc["nails"]["length"] = "2 3/4"


def a_box_left_behind(doc):
    del doc["walls"][1]["boxes"][0]["extension"]


def boards_too_wet(doc):
    doc["site"]["moisture"] = "16 %"


# Slip -> the section that warns, what will go wrong, the mend.
SLIPS = {
    nails_too_long: (
        "nails", 'The nail at hand, 2-3/4", goes 1-1/2" into the stud, over 1-1/4"',
        'take one of 2-1/4" to 2-1/2"',
    ),
    a_box_left_behind: (
        "boxes", 'Living room, door side, Light switches: set an extension of 3/4"',
        "comes to the boards' face",
    ),
    boards_too_wet: ("movement", "Boards too wet: they read 16 %", "stack them on stickers"),
}  # fmt: skip


@pytest.fixture(scope="module")
def plan():
    return make(HOUSE)


@pytest.fixture(scope="module")
def told(plan):
    """What is answered for the house as it is."""
    return answer(HOUSE, plan, PARTS)


def warnings(told):
    return {s["key"]: s["warnings"] for s in told["sections"]}


def section(told, key):
    return next(s for s in told["sections"] if s["key"] == key)


def table(one, title):
    (found,) = [t for t in one["tables"] if t["title"] == title]
    return found["rows"]


def items(told):
    return {i["key"]: i for g in told["take_off"]["groups"] for i in g["items"]}


def inches(text):
    """A reading in whole jots: '65-3/8"'."""
    return jots_of(text, "in")


@pytest.mark.parametrize("slip", SLIPS, ids=lambda slip: slip.__name__)
def test_a_slip_is_warned_of_by_its_section_with_the_mend(plan, told, slip):
    doc = copy.deepcopy(HOUSE)
    slip(doc)
    key, what, mend = SLIPS[slip]
    now, before = warnings(answer(doc, plan, PARTS)), warnings(told)
    found = [w for w in now[key] if what in w]
    assert len(found) == 1 and mend in found[0]
    assert not [w for w in before[key] if what in w]
    # No other section is put out by it.
    assert {k: w for k, w in now.items() if k != key} == {
        k: w for k, w in before.items() if k != key
    }


def test_all_three_at_once_are_three_warnings_and_the_house_as_it_is_has_none(plan, told):
    doc = copy.deepcopy(HOUSE)
    for slip in SLIPS:
        slip(doc)
    now, before = (
        [w for some in warnings(t).values() for w in some] for t in (answer(doc, plan, PARTS), told)
    )
    for _, what, mend in SLIPS.values():
        assert len([w for w in now if what in w and mend in w]) == 1
        assert not [w for w in before if what in w or mend in w]


def test_each_line_is_count_times_price_and_tax_is_on_their_sum(told):
    prices = {"nails": "14.5", "primer": "28", "paint": "41", "filler": "6.5", "caulk": "4.25"}
    prices |= {"board-1": "15.6", "board-2": "20.8"}
    prices |= {f"casing-{14 * 12 * INCH}": "16.4", f"casing-{8 * 12 * INCH}": "9.6"}
    prices |= {f"jamb-{8 * 12 * INCH}": "7.2"}
    before = Decimal(0)
    for key, item in items(told).items():
        if key.startswith("stool-"):  # bought by the piece, its price is not asked for
            assert item["cost"] == ""
            continue
        cost = item["count"] * Decimal(prices[key])
        assert Decimal(item["cost"]) == cost, key
        before += cost
    tax = (before * Decimal("0.065")).quantize(Decimal("0.01"), ROUND_HALF_UP)
    assert told["take_off"]["totals"] == [
        ["Before tax", str(before)],
        ["Tax, 6.5 %", str(tax)],
        ["Total", str(before + tax)],
    ]


def test_boards_and_waste_are_those_of_the_plan(plan, told):
    counts = {key: i["count"] for key, i in items(told).items() if key.startswith("board-")}
    stocks = [b["stock"] for b in plan["boards"]]
    assert counts == {"board-1": stocks.count(3657.6), "board-2": stocks.count(4876.8)}
    bought = sum(stocks)
    sawn = sum(sawn_length(p) for p in plan["pieces"])
    assert 0 < sawn < bought
    rows = dict(told["take_off"]["answer"]["rows"])
    share = re.match(r"([\d.]+) %", rows["Waste, kerfs and offcuts"])[1]
    assert float(share) == pytest.approx(100 * (bought - sawn) / bought, abs=0.051)


def test_nails_are_two_at_each_stud_and_end_one_in_twenty_over(plan, told):
    """Two an end: four to a piece. Length: 3/4 + 1/2 + 1 into the stud = 2-1/4."""
    nails = section(told, "nails")
    assert nails["figures"][0]["text"] == '2-1/4"'
    assert dict(nails["rows"])["Into the stud"] == '1"'
    (line,) = [w for w in nails["working"] if w.startswith("nails = ")]
    studs, ends, all_of = map(int, re.search(r": (\d+) x 2 \+ (\d+) x 2 = (\d+)", line).groups())
    assert ends == 2 * len(plan["pieces"])
    assert all_of == 2 * studs + 2 * ends
    total = all_of + -(-all_of * 5 // 100)
    assert nails["figures"][1]["text"] == str(total)
    assert items(told)["nails"]["count"] == -(-total // 1000)


# Opening -> head, leg: opening + two reveals of 3/16 + two casings of 2-1/2, height + one of each.
CASING = {
    "Living room, street side, Window 1": ('65-3/8"', '51-3/16"'),  # 60 + 3/8 + 5; 48-1/2
    "Living room, door side, Door 1": ('39-7/8"', '85-3/16"'),  # 34-1/2; 82-1/2
    "Window seat, front, Window 1": ('39-3/8"', '38-11/16"'),  # 34; 36
    "Kitchen, sink side, Window 1": ('49-7/8"', '40-11/16"'),  # 44-1/2; 38
    "Attic room, gable, Window 1": ('33-7/8"', '42-11/16"'),  # 28-1/2; 40
    "Landing, under the roof, Door 1": ('35-3/8"', '74-11/16"'),  # 30; 72
}


def test_casing_long_points(told):
    casing = section(told, "casing")
    for name, (head, leg) in CASING.items():
        rows = {row[0].split(" ", 1)[1]: row[1] for row in table(casing, f"Casing, {name}")}
        assert (rows["Head"], rows["Left leg"], rows["Right leg"]) == (head, leg, leg)
        if "Window" in name:  # stool: 3/4 more at each side; apron: as long as the head
            assert inches(rows["Stool"]) == inches(head) + 2 * 3 * INCH // 4
            assert rows["Apron"] == head
        else:
            assert set(rows) == {"Head", "Left leg", "Right leg"}


@pytest.mark.parametrize(("key", "what"), [("casing", "Casing"), ("jambs", "Jamb")])
def test_what_the_trim_is_cut_from_adds_up(told, key, what):
    """Each length: its pieces, a kerf between two, what is left over; every piece once."""
    one = section(told, key)
    rows = [r for t in one["tables"] if t["columns"][0] == "Piece" for r in t["rows"]]
    letter = what[0]
    lengths = {r[0].split(" ")[0]: inches(r[1]) for r in rows if r[0].startswith(letter)}
    cut = []
    stocks = {}
    for stock, pieces, left in table(one, f"{what}, cut from"):
        names = pieces.split(", ")
        used = sum(lengths[n] for n in names) + (len(names) - 1) * KERF
        assert inches(left) == inches(stock) - used
        cut += names
        stocks[stock] = stocks.get(stock, 0) + 1
    assert sorted(cut) == sorted(lengths)
    bought = {r[0]: int(r[1]) for r in table(one, f"{what} to buy")}
    assert bought == stocks


def test_the_schedule_adds_up_and_the_room_is_free_at_its_latest_end(plan, told):
    schedule = section(told, "schedule")
    steps = [m.groups() for m in map(STEP.match, schedule["working"]) if m]
    assert len(steps) == len(table(schedule, "Steps, in hours from the start")) == 9
    at = {}
    worked = 0.0
    for title, binds, *numbers in steps:
        starts, hands, waits, ends = map(float, numbers)
        assert ends == pytest.approx(starts + hands + waits, abs=HOURS)
        if hands:  # one pair of hands
            assert starts >= worked - HOURS
            worked = starts + hands
        assert binds is None or binds in at
        at[title] = (starts, hands, ends)
    latest = max(ends for _, _, ends in at.values())
    assert float(schedule["figures"][0]["text"][:-2]) == pytest.approx(latest, abs=0.051)
    assert float(schedule["figures"][1]["text"][:-2]) == pytest.approx(at["Hang"][0], abs=0.051)
    # By hand: boards at 8 an hour, an hour to each of six openings, nothing sanded before
    # the filler is dry, 48 h in the room before the first coat.
    assert at["Hang"][1] == pytest.approx(len(plan["boards"]) / 8, abs=HOURS)
    assert at["Jamb extensions and casing"][1] == len(CASING)
    assert at["Sand"][0] >= at["Fill nail holes"][2] - HOURS
    assert at["Coat 1, primer"][0] == 48
    hands = sum(h for _, h, _ in at.values())
    own = dict(schedule["rows"])["Your own hours"]
    assert float(own[:-2]) == pytest.approx(hands, abs=0.051 + len(at) * 0.005)
