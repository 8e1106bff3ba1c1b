"""One piece's card: what a person at the saw measures, marks and cuts, in order.

Every distance along the piece is from its left end's longest point, every
height from its lower edge.
"""

from .called import as_called, more_than_planned, off_text
from .card_sketch import piece_sketch
from .cutwords import POINT, cuts_told, end_cut, lengths, scribes_told, widths
from .lengths import from_mm, reading
from .problems import InputError, Problem, shown
from .words import end_text, rip_text, sawn_length

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object


def card(plan: dict[str, Any], key: str) -> dict[str, Any]:
    """The card of piece `key` of a lapwright-plan.

    Returns "title"; "say", the same in words for a voice; "rows", lists of
    [label, text, lean]; "cuts" and "scribe", sentences in the order of the
    work; "sketch", as a quick calculator's. Raises InputError where the plan
    has no such piece.
    """
    for p in plan["pieces"]:
        if p["id"] == key:
            break
    else:
        raise InputError(
            [
                Problem(
                    "piece",
                    shown(key),
                    "piece: %s is no piece of the plan." % shown(key),
                    'Give one like "%s".' % plan["pieces"][0]["id"]
                    if plan["pieces"]
                    else "Plan the wall first.",
                )
            ]
        )
    unit = plan["unit"]
    called = more_than_planned(p)
    p = as_called(p)
    rows = _rows(plan, p)
    if p["called"] is not None:
        rows.insert(1, ["Called", off_text(called, unit), ""])
    cuts, scribe = cuts_told(plan, p), scribes_told(plan, p)
    say = "Piece %s, course %d: %s." % (key, p["course"], _said(p, unit))
    ends = ["Left end %s, right end %s." % (end_cut(plan, p, "left"), end_cut(plan, p, "right"))]
    rip = rip_text(p["rip"], plan)
    say = " ".join([say] + ends + ([rip + "."] if rip else []) + cuts + scribe)
    return {
        "title": "Piece %s" % key,
        "say": say,
        "rows": rows,
        "cuts": cuts,
        "scribe": scribe,
        "sketch": piece_sketch(p, unit),
    }


def asked_for(plan: dict[str, Any], asked: dict[str, object]) -> dict[str, Any]:
    """The bridge's verb: the card of the request's "piece". Raises InputError."""
    key = asked.get("piece")
    return card(plan, key if isinstance(key, str) else shown(key))


def _rows(plan: dict[str, Any], p: dict[str, Any]) -> list[list[str]]:
    unit = plan["unit"]
    rows = []
    sawn = sawn_length(p)
    told = lengths(p) + widths(p)
    if sawn != p["length"]:
        told.insert(0, ("Saw to", sawn))
    for label, mm in told:
        r = reading(from_mm(mm), unit)
        rows.append([label, r.text, r.lean] if from_mm(mm) else [label, POINT, ""])
    for side in ("left", "right"):
        label = side[0].upper() + side[1:] + " end"  # ASCII
        rows.append([label, end_cut(plan, p, side), ""])
        rows.append([label + " goes to", _goes_to(p[side + "_end"], unit, side), ""])
    if p["rip"] is not None:
        rows.append(["Rip", rip_text(p["rip"], plan), ""])
    wall = plan["walls"][p["wall"] - 1]["name"]
    rows.append(["Hangs", "%s, course %d" % (wall, p["course"]), ""])
    rows.append(["From board", str(p["board"]), ""])
    if p["state"] == "cut":
        rows.append(["Cut", "yes", ""])
    return rows


def _goes_to(end: dict[str, Any], unit: str, side: str) -> str:
    if end["kind"] == "opening":
        return str(end["name"])
    return end_text(end, unit, "the wall's %s end" % side)


def _said(p: dict[str, Any], unit: str) -> str:
    out: list[str] = []
    for label, mm in lengths(p):
        said = reading(from_mm(mm), unit).say if from_mm(mm) else POINT
        out.append("%s %s" % (label if not out else label[0].lower() + label[1:], said))  # ASCII
    return ", ".join(out)
