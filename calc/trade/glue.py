"""Adhesive on the studs: how much a bead along each crossing takes."""

import math
from collections import namedtuple

from ..draft import Draft
from ..lengths import JOTS_PER_MM
from ..measures import decimal
from ..measures import show as measured
from .nails import crossings

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from ..job import Job
else:
    Any = object

# crossings: of a course and a stud; length: of all beads, jots; volume: ml; cartridges to buy.
Beads = namedtuple("Beads", "crossings length volume cartridges")


def bead_volume(bead: int, length: int) -> float:
    """Ml of a round bead. bead: its diameter, length: both jots. Source: geometry, pi/4 d^2 l."""
    across, long = bead / JOTS_PER_MM, length / JOTS_PER_MM
    return math.pi / 4 * across * across * long / 1000


def cartridges(job: "Job", plan: "dict[str, Any] | None") -> Beads | None:
    """The adhesive of a plan: a bead of one face for each course on each stud behind it.

    A joint's stud has one bead for the ends of both pieces. All 0 where no adhesive is used,
    None without a plan. Source: common practice.
    """
    glue = job.trade.glue
    if glue.used == "none":
        return Beads(0, 0, 0.0, 0)
    if plan is None:
        return None
    met = crossings(plan)
    n = met.inside + met.joints
    length = n * job.board.face
    volume = bead_volume(glue.bead, length)
    return Beads(n, length, volume, _up(volume / glue.cartridge))


def _up(share: float) -> int:
    """Up to a whole number; a millionth over one is no more than it."""
    n = int(share)
    return n if share - n < 0.000001 else n + 1


def write_glue(d: Draft, job: "Job", b: Beads) -> None:
    """The adhesive as the draft's next lines."""
    glue = job.trade.glue
    tube, volume = _both(glue.cartridge, d.unit), _both(b.volume, d.unit)
    d.count("cartridges", "Adhesive cartridges", b.cartridges, "cartridge")
    d.value("bead length", b.length)
    d.row("Beads", "%d, one face long" % b.crossings)
    d.step(
        "beads",
        "studs behind pieces, those at joints once x face",
        "%d x %s" % (b.crossings, d.show(job.board.face)),
        d.show(b.length),
    )
    d.step(
        "adhesive",
        "pi / 4 x bead^2 x length",
        "0.7854 x (%s)^2 x %s" % (d.show(glue.bead), d.show(b.length)),
        volume,
        "geometry",
    )
    d.step(
        "cartridges",
        "adhesive / cartridge, up to a whole one",
        "%s / %s" % (volume, tube),
        str(b.cartridges),
    )


def _both(ml: float, unit: str) -> str:
    """Ml as text, beside the unit that goes with `unit` where that is another."""
    own = measured(ml, "cartridge", unit)
    return own if own.endswith("ml") else "%s ml (%s)" % (decimal(ml, 0), own)
