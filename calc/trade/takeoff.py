"""The take-off: all there is to buy for a job and what it costs, as a list to tick off.

Counts come from the plan and from the trade's own calculations; waste is what the plan leaves.
"""

from ..draft import Draft, to_dict
from ..lengths import from_mm, show
from ..measures import decimal
from ..words import about, count_text, money, sawn_length
from .shelf import Item, beside_boards

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from ..job import Job
    from .trimstock import ToBuy
else:
    Any = object

GROUPS = (
    ("boards", "Boards"),
    ("fasteners", "Nails and adhesive"),
    ("boxes", "Box extensions"),
    ("trim", "Casing and jambs"),
    ("coats", "Primer, paint, filler"),
)


def take_off(
    job: "Job", plan: "dict[str, Any] | None", casing: "ToBuy", jambs: "ToBuy"
) -> dict[str, Any]:
    """All to buy, as a JSON object of ready text. Errors: none.

    job: calc.job.Job; plan: its lapwright-plan, or None where there is none yet; casing, jambs:
    what to buy of them, as section_casing and section_jambs have it.
    "groups": title, items (key, what, amount, count, price, cost, note, ticked, told);
    "totals": [label, text], the last is what is paid; "unpriced", "left", "waits": a sentence or
    ""; "answer": waste as measured, working and cautions, as a quick answer.
    """
    d = Draft(job.unit)
    items = ([] if plan is None else _boards(job, plan)) + beside_boards(
        d, job, plan, casing, jambs
    )
    if plan is not None:
        _waste(d, plan)
    bought: dict[str, int] = {}
    for b in job.trade.bought:  # two phones may have ticked the same line
        bought[b.item] = max(b.count, bought.get(b.item, 0))
    gone = len([1 for key in sorted(bought) if key not in [i.key for i in items]])
    if gone and plan is not None:
        d.row("Bought, and on the list no more", count_text(gone, "line"))
    groups = []
    for key, title in GROUPS:
        rows = [_line(i, bought) for i in items if i.group == key]
        if rows:
            groups.append({"title": title, "items": rows})
    to_go = [i for i in items if bought.get(i.key, 0) < i.count]
    unpriced = ["%s %s" % (i.amount, i.what) for i in items if i.price is None]
    return {
        "groups": groups,
        "totals": _totals(d, job, items),
        "unpriced": "No price is given for: %s." % "; ".join(unpriced) if unpriced else "",
        "left": _left(len(to_go), len(items), bought != {}),
        "waits": "Boards, nails and coats wait for the plan." if plan is None else "",
        "answer": to_dict(d.done()),
    }


def _left(to_go: int, lines: int, begun: bool) -> str:
    """How many lines are still to buy: always a sentence, so that nothing moves with a tick."""
    if not begun:
        return "Nothing is ticked off yet."
    return "%d of %d lines still to buy." % (to_go, lines) if to_go else "All is bought."


def _boards(job: "Job", plan: dict[str, Any]) -> list[Item]:
    out = []
    for b in plan["buy"]:
        if b["kind"] != "new":
            continue
        line = b["line"]
        key = "board-%s" % (job.board.stock[line - 1].id if line else b["length"])
        price = None if b["price"] is None else int(b["price"] * 100 + 0.5)
        what = "of %s" % show(from_mm(b["length"]), job.unit)
        note = "%d begun, %d no good" % (b["begun"], b["rejected"])
        note = "" if not b["begun"] and not b["rejected"] else note
        amount = count_text(b["count"], "board")
        out.append(Item(key, "boards", what, amount, b["count"], price, note))
    return out


def _line(i: Item, bought: dict[str, int]) -> dict[str, Any]:
    had = bought.get(i.key, 0)
    told = ""
    if 0 < had < i.count:
        told = "%d bought, %d now: %d more" % (had, i.count, i.count - had)
    elif had > i.count:
        told = "%d bought, %d will do" % (had, i.count)
    return {
        "key": i.key,
        "what": i.what,
        "amount": i.amount,
        "count": i.count,
        "price": "" if i.price is None else money(i.price / 100),
        "cost": "" if i.price is None else money(i.count * i.price / 100),
        "note": i.note,
        "ticked": had >= i.count > 0,
        "told": told,
    }


def _totals(d: Draft, job: "Job", items: list[Item]) -> list[list[str]]:
    """[label, text], the last one what is paid."""
    priced = [i for i in items if i.price is not None]
    if not priced:
        return [["Total", "no price yet"]]
    cost = sum([i.count * i.price for i in priced])
    for i in priced:
        d.step(
            "%s %s" % (i.amount, i.what),
            "count x price of one",
            "%d x %s" % (i.count, money(i.price / 100)),
            money(i.count * i.price / 100),
            "your prices",
        )
    tax = job.trade.cost.tax
    d.step(
        "Total", "sum of the costs", " + ".join([money(i.count * i.price / 100) for i in priced]),
        money(cost / 100), "your prices",
    )  # fmt: skip
    if tax is None:
        return [["Total, no tax given", money(cost / 100)]]
    due = int(cost * tax / 100 + 0.5)
    rate = "%s %%" % decimal(tax, 2)
    d.step(
        "Tax", "all that is priced x rate", "%s x %s" % (money(cost / 100), rate),
        money(due / 100), "your rate",
    )  # fmt: skip
    return [
        ["Before tax", money(cost / 100)],
        ["Tax, %s" % rate, money(due / 100)],
        ["Total", money((cost + due) / 100)],
    ]


def _waste(d: Draft, plan: dict[str, Any]) -> None:
    """What of the length bought is not in the wall, as the plan has it."""
    unit = d.unit
    bought = sum([from_mm(b["stock"]) for b in plan["boards"] if not b["short"]])
    sawn = sum([from_mm(sawn_length(p)) for p in plan["pieces"]])
    over = bought - sawn
    share = decimal(100.0 * over / bought, 1) if bought else "0"
    d.row("Board length", about(bought, unit))
    d.row("Of it in the pieces", about(sawn, unit))
    d.row("Waste, kerfs and offcuts", "%s %% (%s)" % (share, show(over, unit)))
    d.step(
        "Waste", "length of the boards less the pieces sawn, as the plan has them",
        "%s - %s" % (show(bought, unit), show(sawn, unit)),
        "%s, %s %%" % (show(over, unit), share), "the plan",
    )  # fmt: skip
