"""The take-off: whole things to buy, their cost, tax, and what was ticked off."""

import pytest

from calc.job import read_job
from calc.plan import make
from calc.trade.asked import answer
from calc.trade.printed import text
from tests.jobs import job

# 41 high at face 5-1/8: 8 courses; prices of all that a wall without openings takes.
PRICES = {
    "nails": {"price": 12.5, "box": 500},
    "finish": {"primer_price": 20, "paint_price": "30.25", "filler_price": 5, "caulk_price": 4},
}


def asked(doc, plan=None):
    return answer(doc, make(doc) if plan is None else plan, ("take-off", "steps"))


def lines(off):
    return {i["key"]: i for g in off["groups"] for i in g["items"]}


def priced(**more):
    doc = job(**PRICES, **more)
    doc["board"]["stock"] = [{"length": "96", "price": "7.20"}]
    return doc


def test_costs_are_counts_times_prices_and_tax_is_of_all_of_them():
    off = asked(priced(cost={"tax": "6.5 %"}))["take_off"]
    cents = {key: int(i["price"].replace(".", "")) for key, i in lines(off).items()}
    assert sorted(cents) == ["board-1", "caulk", "filler", "nails", "paint", "primer"]
    assert [cents[k] for k in ("nails", "paint", "board-1")] == [1250, 3025, 720]
    total = sum(i["count"] * cents[key] for key, i in lines(off).items())
    tax = (total * 65 + 500) // 1000
    shown = dict(off["totals"])
    assert shown == {
        "Before tax": f"{total / 100:.2f}",
        "Tax, 6.5 %": f"{tax / 100:.2f}",
        "Total": f"{(total + tax) / 100:.2f}",
    }
    assert off["totals"][-1][0] == "Total" and off["unpriced"] == ""
    assert off["left"] == "Nothing is ticked off yet."


def test_what_has_no_price_is_named_and_not_counted():
    off = asked(job())["take_off"]
    assert off["totals"] == [["Total", "no price yet"]]
    assert "boards of" in off["unpriced"] and "cans of paint" in off["unpriced"].replace(
        "can ", "cans "
    )
    off = asked(job(nails={"price": 3}))["take_off"]
    assert off["totals"][0][0] == "Total, no tax given"
    assert "nails" not in off["unpriced"]


def test_boards_are_the_plans_own():
    doc = priced()
    plan = make(doc)
    row = lines(asked(doc, plan)["take_off"])["board-1"]
    assert row["count"] == len(plan["boards"]) == sum(b["count"] for b in plan["buy"])


def test_waste_is_what_the_plan_leaves():
    doc = priced()
    plan = make(doc)
    bought = sum(b["stock"] for b in plan["boards"])
    used = sum(p["length"] for p in plan["pieces"])
    rows = dict(asked(doc, plan)["take_off"]["answer"]["rows"])
    share = rows["Waste, kerfs and offcuts"].split(" %")[0]
    assert float(share) == pytest.approx(100 * (bought - used) / bought, abs=0.051)


@pytest.mark.parametrize(
    ("had", "ticked", "told"),
    [(0, False, ""), (-1, False, "more"), (0.5, True, ""), (2, True, "will do")],
)
def test_a_line_is_ticked_while_so_many_were_bought(had, ticked, told):
    """had: how many more than wanted were bought; 0 none, 0.5 just so many."""
    doc = priced()
    count = lines(asked(doc)["take_off"])["board-1"]["count"]
    bought = {0: 0, 0.5: count}.get(had, count + int(had))
    doc["done"] = {"bought": [{"item": "board-1", "count": bought}] if bought else []}
    off = asked(doc)["take_off"]
    row = lines(off)["board-1"]
    assert row["ticked"] == ticked and told in row["told"] and bool(row["told"]) == bool(told)
    assert ("still to buy" in off["left"]) == bool(bought)


def test_without_a_plan_only_what_needs_none_is_listed():
    doc = priced(walls__0__openings=[{"kind": "window", "left": "20", "width": "10",
                                      "bottom": "10", "height": "12"}],
                 trim={"casing_stock": [{"length": "96", "price": 5}]})  # fmt: skip
    off = answer(doc, None, ("take-off",))["take_off"]
    # Its stool: 10 + 2 x 3/16 + 2 x 2-1/4 + 2 x 3/4 = 16-3/8 in.
    assert list(lines(off)) == ["casing-780288", f"stool-{131 * 8128 // 8}"] and off["waits"]
    # Jambs have no stock given: a row says how much to get.
    assert [r for r in off["answer"]["rows"] if r[0].startswith("Jamb extension")]


def test_a_job_that_lacks_everything_has_nothing_to_buy():
    doc = {"format": "lapwright-job", "version": 1}
    assert answer(doc, None, ("take-off", "steps")) == {"take_off": None, "sections": None}


def test_only_what_is_asked_for_is_answered():
    doc = priced()
    plan = make(doc)
    assert answer(doc, plan, ("steps",))["take_off"] is None
    assert answer(doc, plan, ("take-off",))["sections"] is None


def test_the_text_holds_every_line_and_fits_a_page():
    doc = priced(cost={"tax": 7})
    got = asked(doc)
    out = text(got)
    for row in lines(got["take_off"]).values():
        assert f"{row['amount']} {row['what']}" in out and row["cost"] in out
    for one in got["sections"]:
        assert one["title"].upper() in out
        for w in one["warnings"]:
            assert w.split(":")[0] in out
    tables = {
        " ".join(r)
        for s in got["sections"]
        for t in s["tables"]
        for r in [*t["rows"], t["columns"]]
    }
    free = [
        ln
        for ln in out.split("\n")
        if " ".join(ln.split()) not in {" ".join(t.split()) for t in tables}
    ]
    assert max(len(ln) for ln in free) <= 76
    assert read_job(doc).trade.cost.tax == 7.0
