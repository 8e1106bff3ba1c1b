"""The finish of a job as steps: acclimatise, coat, hang, fill, case, sand, caulk, coat."""

from .coated import board_area, used_boards, wall_area
from .filler import joints
from .nails import count
from .schedule import (
    ACCLIMATISE,
    CASING,
    CAULKED,
    COATED,
    FILLED,
    SANDED,
    Step,
    Task,
    in_order,
)  # fmt: skip
from .trimmed import is_trimmed

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from ..job import Job
else:
    Any = object

_METRE = 320000
_OLD = ["lead-asbestos", "lead-rule"]


def steps(job: "Job", plan: dict[str, Any] | None, nails: "int | None" = None) -> list[Step]:
    """The steps of the job with their hours; [] without a plan.

    nails: how many are set; None: as many as the plan takes. Errors: none.
    Source: drying by the job, paces by the constants above, common practice.
    """
    if plan is None:
        return []
    f = job.trade.finish
    old = _OLD if job.trade.site.built != "later" else []
    n = len(used_boards(plan))
    if nails is None:
        counted = count(job, plan)
        nails = 0 if counted is None else counted.nails
    tasks = [Task("acclimatise", "Boards lie in the room", [], 0.0, ACCLIMATISE, 1,
                  ["acclimatise", "damp-wall"])]  # fmt: skip
    last = "acclimatise"
    number = 0
    hands = board_area(job, plan) / COATED
    for name, times in (("Primer", f.primer_coats), ("Paint", f.paint_before)):
        for _ in range(times):
            number += 1
            waits = f.dry if number == f.primer_coats + f.paint_before else f.recoat
            key = "coat-%d" % number
            title = "Coat %d, %s" % (number, name.lower())  # ASCII
            tasks.append(Task(key, title, [last], hands, waits, n, ["flame-spread"]))
            last = key
    hang = ["hidden-lines", "nailer", "ladder", "clearances"] + old[:1]
    if [1 for w in job.walls for b in w.boxes if b.holds == "device"]:
        hang += ["electricity", "box-extension", "box-gap"]
    tasks.append(Task("hang", "Hang", [last], n / f.pace, 0.0, n, hang))
    ready = ["hang"]
    if nails:
        tasks.append(Task("fill", "Fill nail holes", ["hang"], nails / FILLED, f.filler, 1, []))
        ready = ["fill"]
    cases = len([1 for w in job.walls for o in w.openings if is_trimmed(o)])
    if cases:
        tasks.append(Task("case", "Jamb extensions and casing", ["hang"], cases * CASING, 0.0, 1,
                          ["saw-dust", "nailer"] + old))  # fmt: skip
        ready = ready + ["case"]
    if nails:
        tasks.append(Task("sand", "Sand", ready, nails / SANDED, 0.0, 1, ["sanding-dust"] + old))
        ready = ["sand"]
    long = sum([jots for _, jots in joints(job, plan)]) / _METRE
    if long:
        tasks.append(Task("caulk", "Caulk", ready, long / CAULKED, f.caulk, 1, ["ladder"]))
        ready = ["caulk"]
    hands = wall_area(plan) / COATED
    for i in range(f.paint_after):
        number += 1
        waits = f.free if i == f.paint_after - 1 else f.recoat
        tasks.append(Task("coat-%d" % number, "Coat %d, paint on the wall" % number, ready,
                          hands, waits, 1, ["flame-spread", "ladder"]))  # fmt: skip
        ready = ["coat-%d" % number]
    return in_order(tasks)
