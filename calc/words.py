"""The words of a plan: lengths, ends and rips as texts that page and print share."""

from .lengths import JOTS_PER_FOOT, JOTS_PER_MM, exact, from_mm, show, to_mm

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

# What of a board the next course covers, by the board's edge.
HIDDEN = {"lapped": "lap", "tongue-and-groove": "tongue", "square": ""}


def text_of(mm: float, unit: str) -> str:
    """A plan's length as one line of text with its unit."""
    return show(from_mm(mm), unit)


_LONG = 10  # feet or metres: a running length is told in whole ones from there on


def about(jots: int, unit: str) -> str:
    """A running length in jots: to the next whole foot or metre where it is long."""
    size, name = (JOTS_PER_FOOT, "ft") if unit in ("in", "ft") else (1000 * JOTS_PER_MM, "m")
    return "about %d %s" % (-(-jots // size), name) if jots >= _LONG * size else show(jots, unit)


def given_text(mm: float, unit: str) -> str:
    """A length that was given, as exactly as it was given: a kerf of 2.8 mm is not 3."""
    return exact(from_mm(mm), unit)


def sawn_length(piece: dict[str, Any]) -> float:
    """The length that is sawn, in mm: the piece's own and what it is cut over at the walls.

    Of one that was called that, of one that is cut what it was cut to.
    """
    for key in ("sawn", "called"):
        if piece[key] is not None:
            return piece[key]  # type: ignore[no-any-return]
    over = piece["over"]
    return piece["length"] + over["left"] + over["right"]  # type: ignore[no-any-return]


def count_text(n: int, word: str) -> str:
    """ "1 board", "2 boards"."""
    return "%d %s%s" % (n, word, "" if n == 1 else "s")


def money(value: float) -> str:
    """Money with two decimals, by whole-number arithmetic."""
    return "%d.%02d" % divmod(int(value * 100 + 0.5), 100)


def cost_text(cost: int, priced: bool, unit: str) -> str:
    """A whole cost of the solver as text: money, or the length bought."""
    return money(cost / 100) if priced else show(cost, unit)


def cost_of(cost: int, priced: bool) -> float:
    """A whole cost of the solver as money, or as millimetres of length bought."""
    return cost / 100 if priced else to_mm(cost)


def less_text(one: bool, priced: bool) -> str:
    """What no plan does, once that is proven. one: a single length, counted by boards."""
    return "needs fewer boards" if one else "costs less" if priced else "takes less board"


def hang_text(plan: dict[str, Any]) -> str:
    """Where to start and which way the boards face: 'Start at the floor, tongue up.'"""
    start = plan["rules"]["start"]
    hidden = HIDDEN[plan["board"]["edge"]]
    way = "up" if start == "floor" else "down"
    return "Start at the %s%s." % (start, ", %s %s" % (hidden, way) if hidden else "")


def end_text(end: dict[str, Any], unit: str, wall_end: str) -> str:
    """Where a piece ends: 'stud 5 at 80"', an opening's name, or the words for a wall's end."""
    if end["kind"] == "joint":
        return "stud %d at %s" % (end["stud"], text_of(end["at"], unit))
    if end.get("by") in ("floor", "ceiling"):
        return "the %s" % end["by"]
    return end["name"] if end["kind"] == "opening" else wall_end


def where_text(piece: dict[str, Any], unit: str) -> str:
    """Where a piece goes: 'left end to stud 5 at 80"'."""
    return "%s to %s" % (
        end_text(piece["left_end"], unit, "left end"),
        end_text(piece["right_end"], unit, "right end"),
    )


def rip_text(rip: dict[str, Any] | None, plan: dict[str, Any]) -> str:
    """'Rip to 3-3/4", cut the upper edge off (its tongue goes)', or "" for no rip."""
    if rip is None:
        return ""
    edges = "both edges" if rip["cut"] == "both" else "the %s edge" % rip["cut"]
    text = "Rip to %s, cut off %s" % (text_of(rip["width"], plan["unit"]), edges)
    hidden = HIDDEN[plan["board"]["edge"]]
    if hidden:
        text += " (the %s %s)" % (hidden, "stays" if rip["keeps"] else "goes")
    return text
