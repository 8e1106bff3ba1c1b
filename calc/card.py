"""One piece's card: what a person at the saw measures, marks and cuts, in order.

Every distance along the piece is from its left end's longest point, every
height from its lower edge.
"""

from .angles import degrees
from .card_sketch import piece_sketch
from .drawing.sheet import jots
from .lengths import reading, show
from .problems import InputError, Problem, shown
from .words import end_text, rip_text

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

_HIDDEN = {"lapped": "lap", "tongue-and-groove": "tongue", "square": "edge"}


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
    rows = _rows(plan, p)
    cuts = [cut_text(plan, p, c) for c in p["cuts"]]
    scribe = [_scribe(s, p, unit) for s in p["scribe"]]
    say = "Piece %s, course %d: %s." % (key, p["course"], _said(p, unit))
    ends = ["Left end %s, right end %s." % (_end(p["left_end"]), _end(p["right_end"]))]
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


def _length_row(label: str, mm: float, unit: str) -> list[str]:
    r = reading(jots(mm), unit)
    return [label, r.text, r.lean]


def _lengths(p: dict[str, Any]) -> list[tuple[str, float]]:
    """(label, mm) of what has to be told of a piece's length."""
    lower, upper = p["lengths"]["lower"], p["lengths"]["upper"]
    if jots(lower) == jots(upper) == jots(p["length"]):
        return [("Length", p["length"])]
    out = [("Lower edge", lower), ("Upper edge", upper)]
    if jots(p["length"]) not in (jots(lower), jots(upper)):
        out.insert(0, ("Length over all", p["length"]))
    return out


def _rows(plan: dict[str, Any], p: dict[str, Any]) -> list[list[str]]:
    unit = plan["unit"]
    rows = []
    for label, mm in _lengths(p):
        rows.append(_length_row(label, mm, unit) if jots(mm) else [label, "comes to a point", ""])
    left, right = p["widths"]["left"], p["widths"]["right"]
    if jots(left) == jots(right):
        rows.append(_length_row("Width", left, unit))
    else:
        for label, mm in (("Width at the left", left), ("Width at the right", right)):
            rows.append(
                _length_row(label, mm, unit) if jots(mm) else [label, "comes to a point", ""]
            )
    for label, end, side in (
        ("Left end", p["left_end"], "left"),
        ("Right end", p["right_end"], "right"),
    ):
        rows.append([label, _end(end) + _mitre(plan, p, side), ""])
        rows.append([label + " goes to", _goes_to(end, unit, side), ""])
    if p["rip"] is not None:
        rows.append(["Rip", rip_text(p["rip"], plan), ""])
    wall = plan["walls"][p["wall"] - 1]["name"]
    rows.append(["Hangs", "%s, course %d" % (wall, p["course"]), ""])
    rows.append(["From board", str(p["board"]), ""])
    return rows


def _end(end: dict[str, Any]) -> str:
    """ "square", or how far off square and which edge is longer."""
    if not end["angle"]:
        return "square"
    text = degrees(end["angle"]) + " off square"
    return text + (", %s edge longer" % end["long"] if end["long"] else "")


def _mitre(plan: dict[str, Any], p: dict[str, Any], side: str) -> str:
    """What has to be said of an end at a mitred outside corner."""
    walls = plan["walls"]
    at = p["wall"] - 1 if side == "left" else p["wall"]
    if at >= len(walls) or walls[at].get("corner") != "mitred":
        return ""
    for course in walls[p["wall"] - 1]["courses"]:
        if course["number"] == p["course"] and course["runs"]:
            first, last = course["runs"][0]["pieces"][0], course["runs"][-1]["pieces"][-1]
            if p["id"] == (first if side == "left" else last):
                return "; mitred 45°, the long point on the face"
    return ""


def _goes_to(end: dict[str, Any], unit: str, side: str) -> str:
    if end["kind"] == "opening":
        return str(end["name"])
    return end_text(end, unit, "the wall's %s end" % side)


def _said(p: dict[str, Any], unit: str) -> str:
    out: list[str] = []
    for label, mm in _lengths(p):
        said = reading(jots(mm), unit).say if jots(mm) else "comes to a point"
        out.append("%s %s" % (label if not out else label[0].lower() + label[1:], said))  # ASCII
    return ", ".join(out)


def cut_text(plan: dict[str, Any], p: dict[str, Any], c: dict[str, Any]) -> str:
    """Cut c of piece p as a sentence, to be followed from its left end and lower edge.

    Errors: KeyError for what is no cut of a plan.
    """
    unit = plan["unit"]

    def t(mm: float) -> str:
        return show(jots(mm), unit)

    kind, by = c["kind"], c["by"]
    if kind in ("bevel", "taper"):
        marks = [_mark(p, along, up, unit) for along, up in c["points"]]
        return "Saw the %s %s off for the %s: mark %s and %s; saw from mark to mark." % (
            c["edge"],
            "end" if kind == "bevel" else "edge",
            by,
            ", ".join(marks[:-1]),
            marks[-1],
        )
    if kind == "round":
        along, up = c["centre"]
        return "Round hole for %s: centre %s from the left end and %s up, %s across." % (
            by,
            t(along),
            t(up),
            t(c["diameter"]),
        )
    span = "from %s to %s from the left end" % (t(c["from"]), t(c["to"]))
    if kind == "lap":
        hidden = _HIDDEN[plan["board"]["edge"]]
        return "Take the %s off the %s edge for %s: %s, %s deep." % (
            hidden,
            c["edge"],
            by,
            span,
            t(c["high"] - c["low"]),
        )
    sides = sorted(c["open"])
    if not sides:
        return "Hole for %s: %s, %s to %s up from the lower edge." % (
            by,
            span,
            t(c["low"]),
            t(c["high"]),
        )
    deep = t(c["high"] - c["low"])
    if sides in (["lower"], ["upper"]):
        return "Notch from the %s edge for %s: %s, %s deep." % (sides[0], by, span, deep)
    level = [s for s in sides if s in ("lower", "upper")]
    ends = [s for s in sides if s in ("left", "right")]
    if len(level) == 1 and len(ends) == 1:
        start = "the left end to %s" % t(c["to"])
        if ends[0] == "right":
            start = "%s from the left end to the right end" % t(c["from"])
            long = t(c["to"] - c["from"])
            start += " (%s long)" % long
        return "Cut the %s %s corner out for %s: from %s, %s deep from the %s edge." % (
            level[0],
            ends[0],
            by,
            start,
            deep,
            level[0],
        )
    if len(ends) == 1 and not level:
        return "Slot in the %s end for %s: %s, %s to %s up from the lower edge." % (
            ends[0],
            by,
            span,
            t(c["low"]),
            t(c["high"]),
        )
    return "Cut out for %s: %s, %s to %s up from the lower edge; it runs out at the %s." % (
        by,
        span,
        t(c["low"]),
        t(c["high"]),
        " and ".join([s + (" end" if s in ("left", "right") else " edge") for s in sides]),
    )


def _mark(p: dict[str, Any], along: float, up: float, unit: str) -> str:
    """A point of a saw line: '3-15/16" up at the right end'."""
    at = "%s from the left end" % show(jots(along), unit)
    if not jots(along):
        at = "at the left end"
    elif jots(along) == jots(p["length"]):
        at = "at the right end"
    if not jots(up):
        return "the lower edge " + at
    if jots(up) == max([jots(q[1]) for q in p["shape"][0]]) and along not in (0, p["length"]):
        return "the upper edge " + at
    return "%s up, %s" % (show(jots(up), unit), at)


def _scribe(s: dict[str, Any], p: dict[str, Any], unit: str) -> str:
    marks = []
    for m in s["marks"]:
        if m["stud"]:
            where = "at stud %d, %s from the left end" % (m["stud"], show(jots(m["along"]), unit))
        else:
            where = "at the %s end" % ("left" if m["along"] * 2 < p["length"] else "right")
        marks.append("%s %s" % (show(jots(m["up"]), unit), where))
    return "Scribe the %s edge: mark up from the lower edge %s; join the marks." % (
        s["edge"],
        "; ".join(marks),
    )
