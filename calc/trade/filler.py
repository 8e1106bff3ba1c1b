"""Filler for nail holes by their count, and caulk by the length of its joints."""

from math import pi, sqrt

from ..lengths import JOTS_PER_MM, from_mm
from .coated import Cans
from .coats import whole_cans
from .trimmed import foot_of, is_trimmed

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from ..job import Job
else:
    Any = object

# Litres for one nail hole. Common practice, no source: the head of a 16 gauge finish nail set
# 3 mm deep leaves about 0.02 ml; most of what is taken up is sanded off again.
A_HOLE = 0.00015
# The bead of caulk, laid round. Common practice, no source.
BEAD = 5 * JOTS_PER_MM
_METRE = 1000 * JOTS_PER_MM


def filler_litres(nails: int) -> float:
    """Litres of filler for so many nail holes. Errors: none. Source: common practice."""
    return nails * A_HOLE


def caulk_litres(length: int) -> float:
    """Litres of caulk for a bead of BEAD so long, jots. Errors: none. Source: geometry."""
    metre = BEAD / _METRE
    return pi / 4 * metre * metre * (length / _METRE) * 1000


def joints(job: "Job", plan: dict[str, Any]) -> list[tuple[str, int]]:
    """The joints that are caulked, (which, jots), those of a kind together.

    Along the ceiling, in each inside corner once, and around the casing of each cased opening,
    but for its side at the floor. Errors: none. Source: common practice, geometry.
    """
    corners = ceiling = casings = 0
    known = dict([(w.index + 1, w) for w in job.walls])
    for w in plan["walls"]:
        ceiling += _along(w["ceiling"])
        # An inside corner of two walls is one joint: the second wall has it at its left.
        if w["corner"] in ("none", "inside"):
            corners += from_mm(w["heights"]["left"])
        if w["corner_right"] in ("none", "boards"):
            corners += from_mm(w["heights"]["right"])
        for o in known[w["number"]].openings if w["number"] in known else []:
            if is_trimmed(o):
                casings += _around(job, o)
    return [("ceiling", ceiling), ("corners", corners), ("casings", casings)]


def _around(job: "Job", o: Any) -> int:
    """The outer edge of a casing: over its legs and its head, and below where it ends in the air.

    Jots.
    """
    t = job.trade.trim
    out = t.reveal + t.width
    sides = 1 if foot_of(job, o) == "floor" else 2
    return int(sides * (o.width + 2 * out) + 2 * (o.height + sides * out))


def _along(points: list[list[float]]) -> int:
    long = 0.0
    for i in range(1, len(points)):
        x, y = points[i][0] - points[i - 1][0], points[i][1] - points[i - 1][1]
        long += sqrt(x * x + y * y)
    return from_mm(long)


def tubs(job: "Job", plan: dict[str, Any] | None, nails: int) -> list[Cans]:
    """Filler and caulk to buy; [] without a plan. nails: how many are set. Errors: none."""
    if plan is None:
        return []
    f = job.trade.finish
    filler = filler_litres(nails)
    caulk = caulk_litres(sum([long for _, long in joints(job, plan)]))
    cartridge, tub = f.caulk_cartridge / 1000, f.filler_tub / 1000
    return [
        Cans("filler", "Filler", filler, whole_cans(filler, tub), tub, f.filler_price),
        Cans("caulk", "Caulk", caulk, whole_cans(caulk, cartridge), cartridge, f.caulk_price),
    ]  # fmt: skip
