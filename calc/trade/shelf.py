"""What a job needs beside its boards, as it stands on the shelf: nails, trim, coats, fillers."""

from collections import namedtuple

from ..draft import Draft
from ..lengths import show
from ..measures import show as measured
from ..words import about, count_text
from . import section_boxes, section_casing
from .coated import cans
from .filler import tubs
from .glue import cartridges
from .nails import count, nail_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from ..job import Job
    from .trimstock import ToBuy
else:
    Any = object

# key: what it is ticked by; group: the heading it stands under; what: as it stands on the shelf;
# amount: how many, in words; count: how many to buy; price: hundredths of one, or None; note: why
# so many, in a line.
Item = namedtuple("Item", "key group what amount count price note")


def beside_boards(
    d: Draft, job: "Job", plan: "dict[str, Any] | None", casing: "ToBuy", jambs: "ToBuy"
) -> list[Item]:
    """Everything but the boards; what needs the plan is left out without one.

    casing, jambs: what to buy of them. What could not be listed is told as a row of d. Errors:
    none.
    """
    out = _nails(job, plan) + _extensions(job)
    for key, what, bought in (("casing", "casing", casing), ("jamb", "jamb extension", jambs)):
        out += _trim(d, job, key, what, bought)
    return out + _stools(job) + _coats(job, plan)


def _nails(job: "Job", plan: "dict[str, Any] | None") -> list[Item]:
    c, beads = count(job, plan), cartridges(job, plan)
    out = []
    if c is not None and c.total:
        n = job.trade.nails
        what = "of %d nails, %s, %s gauge" % (n.box, show(nail_of(job), job.unit), n.gauge)
        note = "%d, with %d over" % (c.total, c.spare)
        amount = "%d box%s" % (c.boxes, "" if c.boxes == 1 else "es")
        out.append(Item("nails", "fasteners", what, amount, c.boxes, n.price, note))
    if beads is not None and beads.cartridges:
        g = job.trade.glue
        what = "of adhesive, %s" % measured(g.cartridge, "cartridge", job.unit)
        note = "a bead at %s" % count_text(beads.crossings, "crossing")
        amount = count_text(beads.cartridges, "cartridge")
        out.append(Item("adhesive", "fasteners", what, amount, beads.cartridges, g.price, note))
    return out


def _trim(d: Draft, job: "Job", key: str, what: str, bought: "ToBuy") -> list[Item]:
    out = []
    for length, n, price in bought.rows:
        text = "of %s, %s" % (what, show(length, job.unit))
        amount = count_text(n, "length")
        out.append(Item("%s-%d" % (key, length), "trim", text, amount, n, price, ""))
    name = what[0].upper() + what[1:]  # ASCII
    if bought.over:
        d.row(
            "%s, longer than its stock" % name,
            "%s not on the list, the longest %s: give a longer length"
            % (count_text(len(bought.over), "piece"), show(bought.longest, job.unit)),
        )
    elif bought.total and not bought.rows:
        d.row(
            "%s, not on the list" % name,
            "%s in all, longest piece %s: give the lengths it comes in"
            % (about(bought.total, job.unit), show(bought.longest, job.unit)),
        )
    return out


def _stools(job: "Job") -> list[Item]:
    """Stools by their length; they come of other stock than the casing."""
    lengths = [p.length for p in section_casing.pieces(job) if p.mark[0] == "S"]
    out = []
    for length in sorted(set(lengths)):
        n = lengths.count(length)
        what = "of %s" % show(length, job.unit)
        out.append(Item("stool-%d" % length, "trim", what, count_text(n, "stool"), n, None, ""))
    return out


def _extensions(job: "Job") -> list[Item]:
    """Box extensions by their depth, those that are not fitted yet."""
    out = []
    for depth, n in section_boxes.extensions(job):
        what = "of %s, a listed one for the box" % show(depth, job.unit)
        amount = count_text(n, "box extension")
        out.append(Item("extension-%d" % depth, "boxes", what, amount, n, None, ""))
    return out


def _coats(job: "Job", plan: "dict[str, Any] | None") -> list[Item]:
    out = []
    c = count(job, plan)
    for row in cans(job, plan) + tubs(job, plan, 0 if c is None else c.nails):
        if row.cans:
            unit, size = job.unit, "can"
            text = measured(row.can, "volume", unit)
            takes = measured(row.litres, "volume", unit)
            if row.key in ("filler", "caulk"):
                size = "tub" if row.key == "filler" else "cartridge"
                text = measured(row.can * 1000, "cartridge", unit)
                takes = measured(row.litres * 1000, "cartridge", unit)
            what = "of %s, %s" % (row.what.lower(), text)  # ASCII
            note = "%s used" % takes
            out.append(
                Item(row.key, "coats", what, count_text(row.cans, size), row.cans, row.price, note)
            )
    return out
