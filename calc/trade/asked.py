"""The verb trade: what there is to buy, and the steps of the work with their figures."""

from ..draft import Draft, to_dict
from ..job import Job, read_job, ready
from ..problems import shown, wrong
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

    from .trimstock import ToBuy
else:
    Any = object

# In the order of the work; step: what it belongs to. Casing and jambs stand last, and are
# given what there is to buy of them.
SECTIONS = (
    ("schedule", "Hours", "plan", section_schedule.write),
    ("level", "Level and plumb", "survey", section_level.write),
    ("movement", "Moisture and movement", "store", section_movement.write),
    ("coats", "Coats", "coat", section_coats.write),
    ("nails", "Nails", "hang", section_nails.write),
    ("boxes", "Boxes", "hang", section_boxes.write),
)
PARTS = ("take-off", "steps")


def answer(doc: object, plan: "dict[str, Any] | None", of: "tuple[str, ...]") -> dict[str, Any]:
    """What is asked of the job document: "take_off" (takeoff.py) and "sections", else None.

    plan: its lapwright-plan, or None; of: some of PARTS. A section is a quick answer with "key",
    "title" and "step". Both are None where no wall can be planned yet. Raises InputError for a
    wrong job.
    """
    out: dict[str, Any] = {"take_off": None, "sections": None}
    if not ready(doc):
        return out
    job = read_job(doc)
    for w in plan["walls"] if plan is not None else []:
        if not 0 < w["number"] <= len(job.ids) or job.ids[w["number"] - 1] != w["id"]:
            raise wrong(
                "plan", shown(w["name"]), "plan: its wall %s is not in the job." % shown(w["name"]),
                "Send the plan of this job.",
            )  # fmt: skip
    casing, jambs = section_casing.casing_to_buy(job), section_jambs.jambs_to_buy(job)
    if "take-off" in of:
        out["take_off"] = take_off(job, plan, casing, jambs)
    if "steps" in of:
        out["sections"] = _sections(job, plan, casing, jambs)
    return out


def _sections(
    job: Job, plan: "dict[str, Any] | None", casing: "ToBuy", jambs: "ToBuy"
) -> list[dict[str, Any]]:
    out = []
    for key, title, step, write in SECTIONS:
        d = Draft(job.unit)
        write(d, job, plan)
        out.append(_section(d, key, title, step))
    d = Draft(job.unit)
    section_jambs.write(d, job, plan, jambs)
    out.append(_section(d, "jambs", "Jamb extensions", "trim"))
    d = Draft(job.unit)
    section_casing.write(d, job, plan, casing)
    out.append(_section(d, "casing", "Casing", "trim"))
    return out


def _section(d: Draft, key: str, title: str, step: str) -> dict[str, Any]:
    one = to_dict(d.done())
    one["key"], one["title"], one["step"] = key, title, step
    return one
