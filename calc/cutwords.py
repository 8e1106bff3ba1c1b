"""The words of one piece's cuts: lengths, widths, ends, saw lines, notches and scribe marks.

Card, page, printed cut list and CSV share them. Every distance along a piece is
from its left end's longest point, every height from its lower edge.
"""

import math

from .angles import degrees
from .lengths import LEAN_INCH, from_mm, show
from .words import HIDDEN, given_text, text_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

POINT = "comes to a point"
# A saw line that is nowhere farther off square, or off straight, is not told: it is
# less than what "heavy" is worth. Common practice, no source.
HAIR = LEAN_INCH
_STEEP = 4500  # hundredths of a degree: a longer cut is marked from the board's edge
_RIGHT = 9000


def lengths(p: dict[str, Any]) -> list[tuple[str, float]]:
    """(label, mm) of what has to be told of piece p's length: once, or by its edges.

    0 mm is an edge that comes to a point. Errors: KeyError for what is no piece.
    """
    lower, upper = p["lengths"]["lower"], p["lengths"]["upper"]
    sizes = [from_mm(mm) for mm in (lower, upper, p["length"])]
    if max(sizes) - min(sizes) < HAIR and not [c for c in p["cuts"] if _long(c)]:
        return [("Length", p["length"])]
    out = [("Lower edge", lower), ("Upper edge", upper)]
    if from_mm(p["length"]) not in (from_mm(lower), from_mm(upper)):
        out.insert(0, ("Length over all", p["length"]))
    return out


def tall(p: dict[str, Any]) -> float:
    """How wide piece p is at its widest (mm): its board, once ripped."""
    most: float = max([q[1] for ring in p["shape"] for q in ring])
    return most


def widths(p: dict[str, Any]) -> list[tuple[str, float]]:
    """(label, mm) of what has to be told of piece p's width: once, or at its ends.

    A point that its end's angle tells already has no width of its own; another
    is 0 mm. Errors: KeyError for what is no piece.
    """
    told = []
    for side in ("left", "right"):
        if from_mm(p["widths"][side]) or not p[side + "_end"]["angle"]:
            told.append(("Width at the " + side, p["widths"][side]))
    if [1 for _, mm in told if from_mm(mm) != from_mm(tall(p))]:
        return told
    return [("Width", tall(p))]


def slight(c: dict[str, Any]) -> bool:
    """Whether cut c is a saw line less than a hair off, which nobody saws."""
    if c["kind"] not in ("bevel", "taper"):
        return False
    n = 0 if c["kind"] == "bevel" else 1
    places = [from_mm(q[n]) for q in c["points"]]
    return max(places) - min(places) < HAIR


def _long(c: dict[str, Any]) -> bool:
    return c["kind"] == "bevel" and not slight(c)


def cuts_told(plan: dict[str, Any], p: dict[str, Any]) -> list[str]:
    """A sentence for what piece p is cut over, and for each cut that is more than a hair."""
    return _over(p, plan["unit"]) + [cut_text(plan, p, c) for c in p["cuts"] if not slight(c)]


def _over(p: dict[str, Any], unit: str) -> list[str]:
    """What is left on the piece to be fitted at a wall; all else is told of the fitted piece."""
    told = [
        "%s over at the %s end" % (given_text(p["over"][side], unit), side)
        for side in ("left", "right") if p["over"][side]
    ]  # fmt: skip
    if not told:
        return []
    length = text_of(p["length"], unit)
    return ["Cut with %s, to be fitted to %s." % (" and ".join(told), length)]


def scribes_told(plan: dict[str, Any], p: dict[str, Any]) -> list[str]:
    """A sentence for each edge of piece p that is scribed, by more than a hair."""
    out = []
    for s in p["scribe"]:
        ups = [from_mm(m["up"]) for m in s["marks"]]
        if max(ups) - min(ups) >= HAIR:
            out.append(scribe_text(s, p, plan["unit"]))
    return out


def off_text(end: dict[str, Any]) -> str:
    """ "square", or how far off square and which edge is longer.

    Over 45° the angle to the board's edge stands beside it: no saw's fence goes there.
    """
    if not end["angle"]:
        return "square"
    text = degrees(end["angle"]) + " off square"
    if end["angle"] > _STEEP:
        text += " (%s to the edge)" % degrees(_RIGHT - end["angle"])
    return text + (", %s edge longer" % end["long"] if end["long"] else "")


def mitred(plan: dict[str, Any], p: dict[str, Any], side: str) -> bool:
    """Whether the end of piece p ("left" or "right") is at a mitred outside corner."""
    wall = plan["walls"][p["wall"] - 1]
    at = wall.get("corner") if side == "left" else wall.get("corner_right")
    return bool(at == "mitred" and p[side + "_end"].get("by") == side + " corner")


def end_cut(plan: dict[str, Any], p: dict[str, Any], side: str) -> str:
    """How the end of piece p is sawn: "square", "18.43° off square, lower edge longer" ..."""
    few = [c for c in p["cuts"] if c["kind"] == "bevel" and c["edge"] == side and slight(c)]
    text = "square" if few else off_text(p[side + "_end"])
    return text + ("; mitred 45°, the long point on the face" if mitred(plan, p, side) else "")


def ends_off(plan: dict[str, Any], p: dict[str, Any]) -> list[str]:
    """A sentence for each end of piece p that is not sawn square."""
    out = []
    for side in ("left", "right"):
        text = end_cut(plan, p, side)
        if text != "square":
            out.append("%s end %s." % ("Left" if side == "left" else "Right", text))
    return out


def cut_text(plan: dict[str, Any], p: dict[str, Any], c: dict[str, Any]) -> str:
    """Cut c of piece p as a sentence, to be followed from its left end and lower edge.

    Errors: KeyError for what is no cut of a plan.
    """
    unit = plan["unit"]
    kind, by = c["kind"], c["by"]
    if kind in ("bevel", "taper"):
        return _saw_line(p, c, unit)
    if kind == "round":
        return _round(p, c, unit)
    span, deep = _span(p, c, unit), text_of(c["high"] - c["low"], unit)
    if kind == "lap":
        hidden = HIDDEN[plan["board"]["edge"]]
        return "Take the %s off the %s edge for %s: %s, %s deep." % (
            hidden, c["edge"], by, span, deep,
        )  # fmt: skip
    level = [s for s in ("lower", "upper") if s in c["open"]]
    ends = [s for s in ("left", "right") if s in c["open"]]
    high = "%s to %s up from the lower edge" % (text_of(c["low"], unit), text_of(c["high"], unit))
    if not level and not ends:
        return "Hole for %s: %s, %s." % (by, span, high)
    if len(level) == 1 and not ends:
        return "Notch from the %s edge for %s: %s, %s deep." % (level[0], by, span, deep)
    if len(level) == 1 and len(ends) == 1:
        if ends == ["right"]:
            span += " (%s long)" % text_of(c["to"] - c["from"], unit)
        return "Cut the %s %s corner out for %s: %s, %s deep from the %s edge." % (
            level[0], ends[0], by, span, deep, level[0],
        )  # fmt: skip
    if len(ends) == 1 and not level:
        return "Slot in the %s end for %s: %s, %s." % (ends[0], by, span, high)
    return "Cut out for %s: %s, %s; it runs out at the %s." % (
        by, span, high, " and ".join([s + " edge" for s in level] + [s + " end" for s in ends]),
    )  # fmt: skip


def scribe_text(s: dict[str, Any], p: dict[str, Any], unit: str) -> str:
    """The marks of one scribed edge of piece p as a sentence."""
    marks = []
    for m in s["marks"]:
        where = _along(p, m["along"], unit)
        if m["stud"]:
            where = "at stud %d, %s" % (m["stud"], where)
        elif not where.startswith("at "):
            where = "at " + where
        marks.append("%s %s" % (text_of(m["up"], unit), where))
    return "Scribe the %s edge: mark up from the lower edge %s; join the marks." % (
        s["edge"],
        "; ".join(marks),
    )


def _round(p: dict[str, Any], c: dict[str, Any], unit: str) -> str:
    """A round hole, its centre on the piece or off it, and where it runs out at an edge."""
    along, up = c["centre"]
    places = []
    for at, end, before, within, beyond in (
        (along, p["length"], "left of the left end", "from the left end", "past the right end"),
        (up, tall(p), "under the lower edge", "up", "over the upper edge"),
    ):
        if from_mm(at) < 0:
            places.append("%s %s" % (text_of(-at, unit), before))
        elif from_mm(at) > from_mm(end):
            places.append("%s %s" % (text_of(at - end, unit), beyond))
        else:
            places.append("%s %s" % (text_of(at, unit), within))
    text = "Round hole for %s: centre %s and %s, %s across" % (
        c["by"], places[0], places[1], text_of(c["diameter"], unit),
    )  # fmt: skip
    for edge, mm in (("lower", 0.0), ("upper", tall(p))):
        half = (c["diameter"] / 2) ** 2 - (up - mm) ** 2  # Pythagoras
        if half > 0:
            marks = [along - math.sqrt(half), along + math.sqrt(half)]
            told = [text_of(m, unit) for m in marks if 0 < from_mm(m) < from_mm(p["length"])]
            if told:
                text += "; it meets the %s edge %s from the left end" % (edge, " and ".join(told))
    return text + "."


def _saw_line(p: dict[str, Any], c: dict[str, Any], unit: str) -> str:
    """A bevel or a taper: which part of the piece goes, and the marks of the saw line."""
    edge = "%s %s" % (c["edge"], "end" if c["kind"] == "bevel" else "edge")
    if c["by"] in ("left corner", "right corner"):
        edge = c["by"].replace("corner", "end")
    marks = [_mark(p, along, up, unit) for along, up in c["points"]]
    joined = " and ".join(marks) if len(marks) == 2 else "; ".join(marks)
    return "Saw the %s off for the %s: mark %s; saw from mark to mark." % (edge, c["by"], joined)


def _mark(p: dict[str, Any], along: float, up: float, unit: str) -> str:
    """A point of a saw line: '3-15/16" up, at the right end'."""
    at = _along(p, along, unit)
    if not from_mm(up):
        return "the lower edge " + at
    if from_mm(up) == from_mm(tall(p)) and not at.startswith("at "):
        return "the upper edge " + at
    return "%s up, %s" % (text_of(up, unit), at)


def _along(p: dict[str, Any], along: float, unit: str) -> str:
    """A place along piece p: at one of its ends, or so far from the left one."""
    if not from_mm(along):
        return "at the left end"
    if from_mm(along) == from_mm(p["length"]):
        return "at the right end"
    return "%s from the left end" % text_of(along, unit)


def _span(p: dict[str, Any], c: dict[str, Any], unit: str) -> str:
    """'from 3" to 9" from the left end', or to or from an end of piece p."""
    start, end = from_mm(c["from"]), from_mm(c["to"])
    whole = end == from_mm(p["length"])
    if not start:
        return "from the left end to %s" % ("the right end" if whole else show(end, unit))
    if whole:
        return "from %s from the left end to the right end" % show(start, unit)
    return "from %s to %s from the left end" % (show(start, unit), show(end, unit))
