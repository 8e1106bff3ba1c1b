"""Jamb extensions in the job: pieces for every window and door that is cased, and what to buy."""

from ..draft import Table
from ..lengths import show
from .jambs import (
    CORNERS,
    LIMIT,
    LIMIT_METRIC,
    THIN,
    Jamb,
    exists,
    tell_piece,
    tell_plane,
    tell_widths,
    twist,
    widths,
)
from .jambs import pieces as jamb_pieces
from .trimlist import Piece, tell_buy, to_buy
from .trimmed import trimmed

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from ..draft import Draft
    from ..job import Job
    from .jambs import Piece as Side
    from .trimmed import Trimmed
    from .trimstock import ToBuy


def jamb_of(job: "Job", t: "Trimmed") -> Jamb:
    """The Jamb of an opening; a depth that was not read is 0: flush with the wallboard.

    A leg of a door goes to the floor, of a window to the stool where there is one.
    """
    trim, p = job.trade.trim, t.opening
    depths = {CORNERS[k][0]: p.depths[k] or 0 for k in range(4)}
    sides = "four" if t.foot == "casing" else "three"
    height = max(t.left_leg, t.right_leg)
    return Jamb(
        depths, job.board.thickness, p.proud, p.width, height, trim.reveal, trim.jamb, sides,
        trim.through,
    )  # fmt: skip


def pieces(job: "Job") -> list[Piece]:
    """The extensions of the trim list; marks J1 and on, by wall, opening and side.

    text: width at the left or top, at the right or bottom, length. A side whose jamb is out far
    enough has no piece. Errors: none.
    """
    out: list[Piece] = []
    for t in trimmed(job):
        for p in jamb_pieces(jamb_of(job, t)):
            if exists(p):
                text = [show(max(n, 0), job.unit) for n in (p.start, p.end, p.length)]
                mark = "J%d" % (len(out) + 1)
                out.append(Piece(mark, t.wall, t.opening.name, p.label, p.length, text))
    return out


def jambs_to_buy(job: "Job") -> "ToBuy":
    """Jamb stock to buy; each piece takes the stock's whole width."""
    return to_buy(pieces(job), job.trade.trim.jamb_stock, job.rules.kerf)


def write(
    d: "Draft", job: "Job", plan: "dict[str, Any] | None", bought: "ToBuy | None" = None
) -> None:
    """Fill the draft with the jamb extensions: pieces, working, what to buy.

    plan: not used. bought: of jambs_to_buy, where that is known already.
    """
    cased = trimmed(job)
    many = pieces(job)
    if not cased:
        d.row("Jamb extensions", "no opening is cased")
        return
    trim = job.trade.trim
    if bought is None:
        bought = to_buy(many, trim.jamb_stock, job.rules.kerf)
    if bought.rows:
        d.count("jamb lengths", "Jamb stock to buy", sum([n for _, n, _ in bought.rows]), "length")
    else:
        d.length("jambs", "Jamb extensions, in all", bought.total)
    d.count("jamb pieces", "Pieces of jamb", len(many), "piece")
    left = list(many)
    unread = []
    for t in cased:
        rows = _opening(d, job, t, left)
        if rows:
            title = "Jamb extensions, %s, %s" % (t.wall, t.opening.name)
            d.tables.append(Table(title, ["Piece", "Length", "Wide at its ends", "Rip"], rows))
        if not [1 for depth in t.opening.depths if depth is not None]:
            unread.append("%s, %s" % (t.wall, t.opening.name))
    if unread:
        d.row(
            "Depths not read", "taken as the boards' thickness less what the jamb is proud: "
            + "; ".join(unread),
        )  # fmt: skip
    if many:
        d.row(
            "Reveal",
            "%s of the jamb's edge; the casing keeps the same line. Where it is to step back once "
            "more, add two reveals to what goes across and one to each leg." % d.show(trim.reveal),
        )
        tell_buy(d, job, "Jamb", many, bought)
        widest = max([max(p.start, p.end) for t in cased for p in jamb_pieces(jamb_of(job, t))])
        d.row("Stock at least", "%s wide, %s thick" % (d.show(widest), d.show(trim.jamb)))
    d.caution("lead-asbestos")
    d.caution("saw-dust")


def _opening(d: "Draft", job: "Job", t: "Trimmed", left: list[Piece]) -> list[list[str]]:
    """The rows of one opening, which take their marks off `left`; its working and warnings."""
    where = "%s, %s: " % (t.wall, t.opening.name)
    j = jamb_of(job, t)
    lacks = [CORNERS[k][1] for k in range(4) if t.opening.depths[k] is None]
    if lacks and len(lacks) < 4:
        d.warn(
            "%sno depth was read at the %s: it counts as flush with the wallboard there. Read it "
            "before you rip." % (where, ", ".join(lacks))
        )
    tell_widths(d, j, "drywall", where)
    wide = widths(j)
    if not lacks:
        d.value(where + "twist", twist(wide))
        tell_plane(d, wide, LIMIT if d.unit in ("in", "ft") else LIMIT_METRIC, where)
    rows = []
    for p in jamb_pieces(j):
        if exists(p):
            note = tell_piece(d, j, p, where)
            for s in t.spaces:
                if s.side == ("foot" if p.side == "sill" else p.side):
                    _tell_room(d, j, p, s.room, s.by, where)
            piece = left.pop(0)
            start, end, length = piece.text
            ends = start if start == end else "%s to %s" % (start, end)
            rows.append(["%s %s" % (piece.mark, p.label), length, ends, note])
    if not rows:
        d.row(where + "extension", "none needed")
    elif t.left_leg != t.right_leg:
        side, less = ("left", t.right_leg - t.left_leg)
        if less < 0:
            side, less = "right", -less
        d.row(where + side + " leg", "%s shorter at the foot: the floor is higher" % d.show(less))
    return rows


def _tell_room(d: "Draft", j: Jamb, p: "Side", room: int, by: str, where: str) -> None:
    """A warning where the piece has not the room for reveal and thickness; its working.

    room: from the jamb's edge to what is there, jots; by: what that is, "the ceiling". where: what
    leads a line.
    """
    need, name = j.reveal + j.stock, p.label.lower()  # ASCII
    if room >= need:
        return
    left = max(room - j.reveal, 0)
    d.step(
        "%sroom for the %s" % (where, name), "reveal + jamb thickness",
        "%s + %s" % (d.show(j.reveal), d.show(j.stock)),
        "%s; there is %s" % (d.show(need), d.show(max(room, 0))),
    )  # fmt: skip
    if left >= THIN:
        mend = "plane it to %s thick" % d.show(left)
    elif room >= THIN:
        mend = "set it flush with the jamb's edge, without a reveal, and plane it to %s thick" % (
            d.show(min(room, j.stock))
        )
    else:
        mend = "leave it out and end the piece that meets it there, or rip a strip to fit"
    d.warn(
        "%s%s is too near: the %s's extension wants %s from the jamb's edge, reveal and thickness: "
        "%s." % (where, by, name, d.show(need), mend)
    )
