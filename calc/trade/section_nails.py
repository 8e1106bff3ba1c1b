"""A job's nails and adhesive: their length, what they reach and hold, how many to buy."""

from ..draft import Draft
from .glue import cartridges, write_glue
from .holding import write_hold
from .nail_words import write_count, write_length, write_thin
from .nails import CLOSE, count, wire

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from ..job import Job
else:
    Any = object


def write(d: Draft, job: "Job", plan: "dict[str, Any] | None") -> None:
    """The section as the draft's lines; what needs the plan says so where there is none.

    plan: the lapwright-plan of the job, or None. Errors: none for a job that reads.
    """
    n, boards, wallboard = job.trade.nails, job.board.thickness, job.trade.site.wallboard
    gauge = int(n.gauge)
    mdf = job.board.species == "mdf"
    reach = write_length(d, boards, wallboard, n.penetration, mdf, n.length, gauge)
    c = count(job, plan)
    if c is None:
        d.row("Nails to buy", "waits for the plan")
    else:
        write_count(d, job, c)
    b = cartridges(job, plan)
    if b is None:
        d.row("Adhesive", "waits for the plan")
    elif job.trade.glue.used == "studs":
        write_glue(d, job, b)
    if reach > 0:
        write_hold(d, n.framing, float(wire(gauge)), reach)
    if write_thin(d, boards, wallboard):
        _far_studs(d, job)
    for key in ("ladder", "flame-spread"):
        d.caution(key)


def _far_studs(d: Draft, job: "Job") -> None:
    """Walls whose studs are too far apart for thin panelling. Source: IRC R702.5."""
    for w in job.walls:
        if w.studs.spacing > CLOSE:
            d.warn(
                "%s: studs %s apart are too far for panelling of %s: %s is the most; take thicker "
                "boards, or block between the studs. Local code decides."
                % (w.name, d.show(w.studs.spacing), d.show(job.board.thickness), d.show(CLOSE))
            )
