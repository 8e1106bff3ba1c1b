"""The verb trade: what there is to buy, and the steps of the work with their figures."""

from ..draft import Draft, to_dict
from ..job import Job, read_job, ready
from . import (
    section_boxes,
    section_casing,
    section_coats,
    section_jambs,
    section_level,
    section_movement,
    section_nails,
    section_schedule,
)
from .takeoff import take_off

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

# In the order of the work; step: what it belongs to.
SECTIONS = (
    ("schedule", "Hours", "plan", section_schedule.write),
    ("level", "Level and plumb", "survey", section_level.write),
    ("movement", "Moisture and movement", "store", section_movement.write),
    ("coats", "Coats", "coat", section_coats.write),
    ("nails", "Nails", "hang", section_nails.write),
    ("boxes", "Boxes", "hang", section_boxes.write),
    ("jambs", "Jamb extensions", "trim", section_jambs.write),
    ("casing", "Casing", "trim", section_casing.write),
)


def answer(doc: object, plan: "dict[str, Any] | None") -> dict[str, Any]:
    """ "take_off" (takeoff.py) and "sections" of the job document.

    plan: its lapwright-plan, or None. A section is a quick answer with "key", "title" and
    "step". Both are None where no wall can be planned yet. Raises InputError for a wrong job.
    """
    if not ready(doc):
        return {"take_off": None, "sections": None}
    job = read_job(doc)
    return {"take_off": take_off(job, plan), "sections": sections(job, plan)}


def sections(job: Job, plan: "dict[str, Any] | None") -> list[dict[str, Any]]:
    """Every section in the order of the work. Errors: none."""
    out = []
    for key, title, step, write in SECTIONS:
        d = Draft(job.unit)
        write(d, job, plan)
        one = to_dict(d.done())
        one["key"], one["title"], one["step"] = key, title, step
        out.append(one)
    return out
