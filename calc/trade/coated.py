"""What of a job is coated, before it hangs and after, and the cans that takes."""

from collections import namedtuple

from ..draft import Draft
from ..lengths import JOTS_PER_MM, from_mm
from ..rings import twice_inside
from .coats import Coat, Coating, coat, whole_cans, write_rate

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from ..job import Job
else:
    Any = object

_METRE = 1000 * JOTS_PER_MM

# What is to be bought. key: "primer", "paint", "filler" or "caulk"; what: in words; litres: that
# are used; cans: whole ones to buy; can: litres in one; price: hundredths of one, or None.
Cans = namedtuple("Cans", "key what litres cans can price")


def used_boards(plan: dict[str, Any]) -> list[dict[str, Any]]:
    """The plan's boards that are coated whole: those bought and the offcuts from the site.

    Left out: what was no good, and a piece that came short and serves as a board, which was
    coated with the board it came off. Errors: none.
    """
    return [b for b in plan["boards"] if b["state"] != "rejected" and not b["short"]]


def board_area(job: "Job", plan: dict[str, Any]) -> float:
    """Square metres coated before hanging: face with tongue or lap, both edges, maybe the back.

    Of the whole length of each board of used_boards, as they are coated before they are cut.
    Errors: none. Source: geometry; which sides: common practice, no source.
    """
    b = job.board
    around = b.overall * (2 if job.trade.finish.back == "coated" else 1) + 2 * b.thickness
    long = sum([from_mm(row["stock"]) for row in used_boards(plan)])
    area: float = around * long / (_METRE * _METRE)
    return area


def wall_area(plan: dict[str, Any]) -> float:
    """Square metres of board that show on the walls. Errors: none. Source: geometry."""
    twice = 0
    for piece in plan["pieces"]:
        for ring in piece["shows"]:  # holes run the other way round, so they come off
            twice += twice_inside([(from_mm(x), from_mm(y)) for x, y in ring])
    return twice / 2 / (_METRE * _METRE)


def coats_of(d: Draft, job: "Job", plan: dict[str, Any]) -> list[Coat]:
    """Every coat in its order, with the rates written into the working of `d`.

    The first of them is on the raw board. Errors: none.
    """
    f = job.trade.finish
    before, after = board_area(job, plan), wall_area(plan)
    out: list[Coat] = []
    if f.primer_coats:
        primer = write_rate(d, "Primer", f.primer_rate, f.primer_solids, f.primer_film, f.loss)
        _add(out, primer, f.primer_coats, "boards", before)
    if f.paint_before + f.paint_after:
        paint = write_rate(d, "Paint", f.paint_rate, f.paint_solids, f.paint_film, f.loss)
        _add(out, paint, f.paint_before, "boards", before)
        _add(out, paint, f.paint_after, "wall", after)
    return out


def _add(out: list[Coat], coating: Coating, times: int, on: str, area: float) -> None:
    for _ in range(times):
        raw = not out
        out.append(coat(coating, on + (", raw" if raw else ""), area, raw))


def cans(job: "Job", plan: dict[str, Any] | None) -> list[Cans]:
    """Primer and paint to buy, those of which there is no coat left out; [] without a plan."""
    if plan is None:
        return []
    return cans_of(job, coats_of(Draft(job.unit), job, plan))


def cans_of(job: "Job", coats: list[Coat]) -> list[Cans]:
    """The cans for these coats, as cans()."""
    f = job.trade.finish
    out = []
    for key, name, can, price in (
        ("primer", "Primer", f.primer_can, f.primer_price),
        ("paint", "Paint", f.paint_can, f.paint_price),
    ):
        litres = 0.0
        for c in coats:
            litres += c.litres if c.name == name else 0.0
        if litres:
            out.append(Cans(key, name, litres, whole_cans(litres, can), can, price))
    return out
