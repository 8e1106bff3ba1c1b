"""A plan as ready text: the page shows it and works nothing out."""

from .cutqueue import cut_view, queue
from .lengths import from_mm, show
from .wallview import wall_view
from .words import (
    about,
    count_text,
    given_text,
    hang_text,
    less_text,
    money,
    sawn_length,
    text_of,
)

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object


def view(plan: dict[str, Any]) -> dict[str, Any]:
    """Everything the page and the cut list show of a lapwright-plan.

    plan: as from plan.make, or read back from its JSON. Lengths are texts in
    the plan's unit. Errors: KeyError for what is no plan.
    """
    unit = plan["unit"]
    return {
        "summary": _summary(plan),
        "compare": _compare(plan),
        "hang": hang_text(plan),
        "buy": [_buy(line, unit) for line in plan["buy"]],
        "boards": _boards(plan),
        "queue": queue(plan),
        "progress": _progress(plan),
        "walls": [wall_view(plan, w) for w in range(len(plan["walls"]))],
        "warnings": list(plan["warnings"]),
        "cautions": list(plan["cautions"]),
        "working": _working(plan),
    }


def _summary(plan: dict[str, Any]) -> dict[str, str]:
    unit, cost = plan["unit"], plan["cost"]
    bought = [b for b in plan["buy"] if b["kind"] == "new"]
    boards = sum([b["count"] for b in bought])
    offcuts = sum([b["count"] for b in plan["buy"] if b["kind"] == "offcut"])
    lines = ["%d of %s" % (b["count"], text_of(b["length"], unit)) for b in bought]
    text = count_text(boards, "board")
    if lines:
        one = " of " + text_of(bought[0]["length"], unit)
        text += one if len(lines) == 1 else ": " + ", ".join(lines)
    if offcuts:
        text += ", and %s on site" % count_text(offcuts, "offcut")
    if cost["by"] == "price":
        total = "Cost %s." % money(cost["total"])
        least = "costs less than %s" % money(cost["bound"])
    else:
        total = "%s of board bought." % text_of(cost["total"], unit)
        least = "buys less than %s" % text_of(cost["bound"], unit)
    one_stock = len({b["length"] for b in bought}) == 1 == len(plan["certificate"]["fills"])
    by_board = one_stock and cost["by"] == "length"
    if by_board:
        stock = from_mm(plan["buy"][0]["length"])
        least = "needs fewer than %s" % count_text(from_mm(cost["bound"]) // stock, "board")
    return {
        "boards": text,
        "fetch": _fetch(bought),
        "cost": total,
        "bound": "No plan by these rules %s." % least,
        "proven": "Proven: no plan %s." % less_text(by_board, cost["by"] == "price")
        if cost["proven"]
        else "Not proven: a better plan may exist.",
    }


def _fetch(bought: list[dict[str, Any]]) -> str:
    """What of the boards to buy is begun already, what is no good, what is still to come."""
    begun = sum([b["begun"] for b in bought])
    bad = sum([b["rejected"] for b in bought])
    if not begun and not bad:
        return ""
    told = ["%d begun" % begun] if begun else []
    if bad:
        told.append("%d no good" % bad)
    left = sum([b["count"] for b in bought]) - begun - bad
    return ", ".join(told + ["%d more needed" % left])


def _compare(plan: dict[str, Any]) -> list[dict[str, str]]:
    """The plan beside the rules of thumb: label, boards and cost of each, as text."""
    unit, area, hand = plan["unit"], plan["compare"]["area"], plan["compare"]["carried"]
    boards = sum([b["count"] for b in plan["buy"]])
    rows = [("This plan", boards, "", plan["cost"]["total"])]
    if hand is not None:
        label = "Each offcut carried to the next course"
        rows.append((label, hand["boards"], "", hand["cost"]))
    label = "Area and 10 %% over, %s" % about(from_mm(area["length"]), unit)
    rows.append((label, area["boards"], " of %s" % text_of(area["stock"], unit), area["cost"]))
    priced = plan["cost"]["by"] == "price"
    return [
        {
            "label": label,
            "boards": count_text(boards, "board") + of,
            "cost": money(cost) if priced else text_of(cost, unit),
        }
        for label, boards, of, cost in rows
    ]


def _buy(line: dict[str, Any], unit: str) -> dict[str, Any]:
    length = text_of(line["length"], unit)
    what = "board" if line["kind"] == "new" else "offcut"
    text = "%s of %s" % (count_text(line["count"], what), length)
    if what == "offcut":
        text += ", on site"
    elif line["price"] is not None:
        text += " at %s = %s" % (money(line["price"]), money(line["cost"]))
    told = _fetch([line])
    if told:
        text += " (%s)" % told
    return {"count": line["count"], "length": length, "text": text}


def _boards(plan: dict[str, Any]) -> list[dict[str, Any]]:
    unit = plan["unit"]
    by_id = {p["id"]: p for p in plan["pieces"]}
    out = []
    for board in plan["boards"]:
        cuts = []
        for key in board["cuts"]:
            cuts.append(cut_view(plan, by_id[key]))
        out.append(
            {
                "number": board["number"],
                "stock": text_of(board["stock"], unit),
                "state": board["state"],
                "note": _note(board, unit),
                "cuts": cuts,
                "offcut": _offcut(plan, board),
            }
        )
    return out


def _progress(plan: dict[str, Any]) -> str:
    """How many pieces are cut, or "" where none is."""
    cut = len([1 for p in plan["pieces"] if p["state"] == "cut"])
    return "%d of %s cut" % (cut, count_text(len(plan["pieces"]), "piece")) if cut else ""


def _note(board: dict[str, Any], unit: str) -> str:
    """What is to be known of a board that was begun, or ""."""
    out = []
    if board["of"]:
        out.append("the piece that came off board %d" % board["of"])
    if board["state"] == "rejected":
        out.append("no good" + (", but for what is cut" if board["cuts"] else ""))
    elif board["state"] == "begun":
        out.append("begun")
    if board["lost"]:
        out.append("%s of it lost" % text_of(board["lost"], unit))
    return ", ".join(out)


def _offcut(plan: dict[str, Any], board: dict[str, Any]) -> str:
    """What is left of a board; where its cuts take all of it, how wide they may be at most."""
    if board["tight"] and len(board["cuts"]) == 1:
        return "nothing to spare: the whole board"
    if board["tight"]:
        kerf = given_text(plan["rules"]["kerf"], plan["unit"])
        return "nothing to spare: kerf at most %s" % kerf
    return text_of(board["offcut"], plan["unit"]) if board["offcut"] else "nothing"


def _working(plan: dict[str, Any]) -> list[str]:
    """The arithmetic in order, with units."""
    unit, rules = plan["unit"], plan["rules"]
    out = []
    for wall in plan["walls"]:
        courses = wall["courses"]
        ripped = len([c for c in courses if c["rip"] is not None])
        low = min([from_mm(c["bottom"]) for c in courses])
        high = max([from_mm(c["top"]) for c in courses])
        out.append(
            "%s: %s high; less gaps %s is clad; at %s a course that is %s, %d of them ripped."
            % (
                wall["name"],
                text_of(wall["height"], unit),
                show(high - low, unit),
                given_text(plan["board"]["face"], unit),
                count_text(len(courses), "course"),
                ripped,
            )
        )
        runs = [r for c in courses for r in c["runs"]]
        longest = max([from_mm(r["right"]) - from_mm(r["left"]) for r in runs])
        out.append(
            "%s: %s wide at the floor; %s, the longest %s."
            % (
                wall["name"],
                text_of(wall["width"], unit),
                count_text(len(runs), "run"),
                show(longest, unit),
            )
        )
    cut = sum([from_mm(sawn_length(p)) for p in plan["pieces"]])
    bought = sum([from_mm(b["stock"]) for b in plan["boards"]])
    out.append(
        "%s, together %s, from %s of board: %s over, kerfs of %s included."
        % (
            count_text(len(plan["pieces"]), "piece"),
            show(cut, unit),
            show(bought, unit),
            show(bought - cut, unit),
            given_text(rules["kerf"], unit),
        )
    )
    return out
