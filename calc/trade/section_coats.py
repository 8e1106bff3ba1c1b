"""Coats of a job, before hanging and after, in cans; filler and caulk."""

from ..draft import Draft
from ..lengths import JOTS_PER_INCH, JOTS_PER_MM, exact
from ..measures import decimal, show
from ..words import HIDDEN, about, count_text
from .coated import board_area, cans_of, coats_of, used_boards, wall_area
from .coats import write_cans, write_coats
from .filler import A_HOLE, BEAD, joints, tubs
from .nails import count

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from ..job import Job
else:
    Any = object

# Wood to wood, flat. Source: Architectural Woodwork Standards, 1st ed. 2009, 6.1.10, which a
# later edition took the place of: 0.3 mm (0.012 in).
JOINT_MOST = 3 * JOTS_PER_MM // 10
_WOODWORK = "Architectural Woodwork Standards, 1st ed. 2009, 6.1.10, superseded"


def write(d: Draft, job: "Job", plan: "dict[str, Any] | None") -> None:
    """The coats, cans, filler and caulk into `d`. Errors: none."""
    d.caution("flame-spread")
    d.caution("sanding-dust")
    if job.trade.site.built != "later":
        d.caution("lead-asbestos")
        d.caution("lead-rule")
    _warn(d, job)
    _joints(d)
    if plan is None:
        d.row("Cans", "wait for the plan: its boards and pieces are what is coated")
        return
    coats = coats_of(d, job, plan)
    if coats:
        _areas(d, job, plan)
        write_coats(d, coats)
        for c in cans_of(job, coats)[::-1]:
            write_cans(d, c.key, c.what, c.litres, c.can)
    else:
        d.row("Coats", "none is asked for, before hanging or after")
    _fill(d, job, plan)
    d.row("Roller", "a 3/8 in nap lies smoother than 1/2 in" if d.unit in ("in", "ft")
          else "a 10 mm nap lies smoother than 13 mm")  # fmt: skip
    d.row("Sanding", "a fine sponge, about 120 grit")
    d.row("Wood dust", "a shift's limits: 15 mg a cubic metre, 5 of what is fine enough to breathe "
          "in (29 CFR 1910.1000, Table Z-1, from memory)")  # fmt: skip


def _areas(d: Draft, job: "Job", plan: "dict[str, Any]") -> None:
    b, f = job.board, job.trade.finish
    if f.primer_coats + f.paint_before:
        back = " + back" if f.back == "coated" else ""
        area = show(board_area(job, plan), "area", d.unit)
        boards = used_boards(plan)
        lap = HIDDEN[b.edge]
        long = d.show(sum([int(row["stock"] * JOTS_PER_MM + 0.5) for row in boards]))
        d.row("Coated before hanging", area)
        d.row(
            "Taken for that", "%s, offcuts with them, at their whole length: face%s, both edges%s"
            % (count_text(len(boards), "board"), " with the " + lap if lap else "", back),
        )  # fmt: skip
        d.step(
            "Before hanging", "(face + two edges%s) x length of the boards" % back,
            "(%s + 2 x %s%s) x %s" % (
                d.show(b.overall), d.show(b.thickness),
                " + %s" % d.show(b.overall) if back else "", long,
            ),
            area,
        )  # fmt: skip
    if f.paint_after:
        area = show(wall_area(plan), "area", d.unit)
        d.row("Coated on the wall", area)
        d.step("On the wall", "what shows of the pieces", "sum over %d of them"
               % len(plan["pieces"]), area, "geometry")  # fmt: skip


def _fill(d: Draft, job: "Job", plan: "dict[str, Any]") -> None:
    counted = count(job, plan)
    nails = 0 if counted is None else counted.nails
    filler, caulk = tubs(job, plan, nails)
    for c, name in ((filler, "tub"), (caulk, "cartridge")):
        size = show(c.can * 1000, "cartridge", d.unit)
        d.count(c.key, "%s, %ss of %s" % (c.what, name, size), c.cans, name)
    takes = show(filler.litres * 1000, "cartridge", d.unit)
    d.row("Filler", "%s, %s" % (count_text(nails, "nail hole"), takes))
    hole = "%s ml" % decimal(A_HOLE * 1000, 2)
    d.step("Filler", "nail holes x " + hole, "%d x %s" % (nails, hole), takes)
    rows = joints(job, plan)
    total = sum([jots for _, jots in rows])
    long = about(total, d.unit)
    parts = ["%s %s" % (what, about(jots, d.unit)) for what, jots in rows if jots]
    d.row("Caulk", "%s: %s" % (long, ", ".join(parts)))
    inches = d.unit in ("in", "ft")
    bead = decimal(BEAD / JOTS_PER_INCH, 3) + " in" if inches else exact(BEAD, d.unit)
    d.step(
        "Caulk", "pi / 4 x bead squared x length of the joints",
        "0.7854 x %s squared x %s" % (bead, d.show(total)),
        show(caulk.litres * 1000, "cartridge", d.unit),
    )  # fmt: skip


def _joints(d: Draft) -> None:
    flat, shaped = ("0.012 in", "0.025 in") if d.unit in ("in", "ft") else ("0.3 mm", "0.65 mm")
    d.row(
        "Joints, wood to wood", "flat ones gape by %s at most, shaped ones by %s, over 30 %% of "
        "the joint (%s)" % (flat, shaped, _WOODWORK),
    )  # fmt: skip


def _warn(d: Draft, job: "Job") -> None:
    lap = HIDDEN[job.board.edge]
    f, gap = job.trade.finish, job.rules.joint_gap
    if not f.primer_coats + f.paint_before:
        d.warn(
            "No coat before hanging: a bare line shows at each edge when the boards shrink. Coat "
            "face%s before they hang." % (", edges and " + lap if lap else " and edges")
        )
    if not f.paint_after and job.trade.nails.per_stud + job.trade.nails.per_end:
        d.warn(
            "No coat on the wall: filled nails and sawn ends stay bare. Touch them up once the "
            "filler is sanded."
        )
    if gap > JOINT_MOST:
        d.warn(
            "Joints of %s are wider than the %s that joinery allows flat ones (%s): paint will "
            "not close them. Butt the ends, or caulk each joint before the last coat."
            % (exact(gap, d.unit), "0.012 in" if d.unit in ("in", "ft") else "0.3 mm", _WOODWORK)
        )
