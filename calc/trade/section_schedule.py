"""The schedule of a job: when the boards may hang, when the room is free."""

from ..cautions import caution
from ..draft import Draft, Table
from ..lengths import JOTS_PER_MM
from ..measures import show
from ..words import about
from .schedule import (
    CASING,
    CAULKED,
    COATED,
    FILLED,
    SANDED,
    days,
    free_at,
    write_hour,
    write_steps,
)
from .steps import steps

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from ..job import Job
else:
    Any = object


def write(d: Draft, job: "Job", plan: "dict[str, Any] | None") -> None:
    """The schedule into `d`. Errors: none."""
    if job.trade.site.built != "later":
        d.caution("lead-asbestos")
        d.caution("lead-rule")
    if plan is None:
        d.row("Room free", "waits for the plan: its boards, pieces and joints set the hours")
        return
    rows = steps(job, plan)
    hang = next(s for s in rows if s.key == "hang")
    end = free_at(rows)
    write_hour(d, "free", "Room free after", end)
    write_hour(d, "hang", "Boards may hang after", hang.starts)
    d.row("Room free", days(end))
    write_steps(d, rows)
    d.tables.append(
        Table(
            "Before each step",
            ["Step", "Be sure of"],
            [
                [s.title, " ".join([caution(key).asks for key in s.cautions])]
                for s in rows
                if s.cautions
            ],
        )
    )
    d.row("Not counted", "nights and pauses; a shorter drying than the label's is a risk")
    d.step(
        "Paces", "by hand",
        "%s coated, %d holes filled, %d sanded, %s caulked an hour; %d h an opening"
        % (
            show(COATED, "area", d.unit), FILLED, SANDED,
            about(int(CAULKED * 1000 * JOTS_PER_MM), d.unit), CASING,
        ),
        "the hours at work",
    )  # fmt: skip
