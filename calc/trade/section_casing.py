"""Casing in the job: pieces for every window and door that is cased, and what to buy."""

from ..draft import Table
from ..lengths import JOTS_PER_INCH, show
from .casing import cuts, ends_text, tell, tell_tight
from .jambs import tell_reveal
from .trimlist import Piece, tell_buy, to_buy
from .trimmed import trimmed

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from ..draft import Draft
    from ..job import Job
    from .casing import Cut
    from .trimmed import Trimmed
    from .trimstock import ToBuy

# A foot that is less out is closed with caulk. Common practice, no source.
_SLANT = JOTS_PER_INCH // 16
_SIDES = {"left": "left leg", "right": "right leg", "head": "head", "foot": ""}


def pieces(job: "Job") -> list[Piece]:
    """Casing and stools of the trim list; marks C1, S1 and on, by wall, opening and part.

    text: length, short points, saw, width. Errors: none.
    """
    return [p for p, _, _ in _all(job)]


def casing_to_buy(job: "Job") -> "ToBuy":
    """Casing to buy: head, legs, sill casing and apron. The stools are of other stock."""
    return to_buy(_of_casing(pieces(job)), job.trade.trim.casing_stock, job.rules.kerf)


def _of_casing(many: list[Piece]) -> list[Piece]:
    return [p for p in many if p.mark[0] == "C"]


def _all(job: "Job") -> "list[tuple[Piece, Cut, Trimmed]]":
    out = []
    counts = {"C": 0, "S": 0}
    for t in trimmed(job):
        for cut in cuts(t.casing):
            kind = "S" if cut.part == "stool" else "C"
            counts[kind] += 1
            text = [
                show(cut.length, job.unit),
                "-" if cut.short == cut.length else show(cut.short, job.unit),
                ends_text(cut),
                "-" if cut.wide is None else show(cut.wide, job.unit),
            ]
            mark = "%s%d" % (kind, counts[kind])
            out.append((Piece(mark, t.wall, t.opening.name, cut.label, cut.length, text), cut, t))
    return out


def write(
    d: "Draft", job: "Job", plan: "dict[str, Any] | None", bought: "ToBuy | None" = None
) -> None:
    """Fill the draft with the casing: pieces, rips, working, what to buy.

    plan: not used. bought: of casing_to_buy, where that is known already.
    """
    every = _all(job)
    many = [p for p, _, _ in every]
    casing = _of_casing(many)
    cased = trimmed(job)
    if not cased:
        d.row("Casing", "no opening is cased")
        return
    trim = job.trade.trim
    if bought is None:
        bought = to_buy(casing, trim.casing_stock, job.rules.kerf)
    if bought.rows:
        d.count("casing lengths", "Casing to buy", sum([n for _, n, _ in bought.rows]), "length")
    else:
        d.length("casing", "Casing, running length", bought.total)
    d.count("casing pieces", "Pieces of casing", len(casing), "piece")
    for t in cased:
        where = "%s, %s: " % (t.wall, t.opening.name)
        own = [
            ["%s %s%s" % (p.mark, p.part, _ripped(d, cut, trim.width))] + p.text[:3]
            for p, cut, of in every
            if (of.wall, of.opening.name) == (t.wall, t.opening.name)
        ]
        heads = ["Piece", "Long points", "Short points", "Saw"]
        if own:
            d.tables.append(Table("Casing, " + where[:-2], heads, own))
        _tell_space(d, job, t, where)
        tell(d, t.casing, cuts(t.casing), where)
    for p, _, _ in every:
        d.value("%s %s %s" % (p.wall, p.opening, p.part), p.length)
    tell_buy(d, job, "Casing", casing, bought)
    stools = [p.length for p in many if p.mark[0] == "S"]
    if stools:
        d.row(
            "Stools", "%d, %s in all, the longest %s; as deep as sill, boards and %s past the "
            "casing" % (len(stools), d.show(sum(stools)), d.show(max(stools)), d.show(trim.horn)),
        )  # fmt: skip
        d.value("stools total", sum(stools))
    tell_reveal(d, trim.reveal, "Casing: ")
    d.caution("lead-asbestos")
    d.caution("saw-dust")


def _ripped(d: "Draft", cut: "Cut", width: int) -> str:
    """What it is ripped to, where that is not the casing's own width."""
    return "" if cut.wide in (None, width) else ", ripped to %s" % d.show(cut.wide or 0)


def _tell_space(d: "Draft", job: "Job", t: "Trimmed", where: str) -> None:
    """Where the casing is ripped or left out, and where a leg's foot is scribed."""
    trim, c = job.trade.trim, t.casing
    wides = {"left": c.left.wide, "right": c.right.wide, "head": c.top.wide, "foot": c.bottom.wide}
    for s in t.spaces:
        less, part, wide = ("reveal", trim.reveal), _SIDES[s.side], wides[s.side]
        mitred = trim.joint == "mitred"
        if s.side == "foot" and t.foot == "stool":
            less, part, wide, mitred = ("stool", trim.jamb), "apron", c.drop, False
        elif s.side == "foot":
            part = "sill casing"
        if wide >= trim.width:
            continue
        both = (
            "; both casings give way alike, or set one piece over both openings' edges there"
            if s.shared
            else ""
        )
        near = "%s%s is too near: " % (where, s.by)
        tell_tight(d, where, near, (part, wide), less, s.room, mitred, both)
    if t.foot == "stool":
        for side, horn in (("left", c.horn_left), ("right", c.horn_right)):
            if horn < trim.horn:
                d.row("%sstool's horn, %s" % (where, side), "%s, no more space" % d.show(horn))
    if t.slant > _SLANT:
        d.warn(
            "%sthe floor is %s out under a leg's foot: cut the legs as listed, stand them on it, "
            "and scribe the foot." % (where, d.show(t.slant))
        )
