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

# key, title and what it belongs to, in the order of the work.
SECTIONS = (
    ("schedule", "Hours", "plan"),
    ("level", "Level and plumb", "survey"),
    ("movement", "Moisture and movement", "store"),
    ("coats", "Coats", "coat"),
    ("nails", "Nails", "hang"),
    ("boxes", "Boxes", "hang"),
    ("jambs", "Jamb extensions", "trim"),
    ("casing", "Casing", "trim"),
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
    drafts = [Draft(job.unit) for _ in SECTIONS]
    section_schedule.write(drafts[0], job, plan)
    section_level.write(drafts[1], job, plan)
    section_movement.write(drafts[2], job, plan)
    section_coats.write(drafts[3], job, plan)
    section_nails.write(drafts[4], job, plan)
    section_boxes.write(drafts[5], job, plan)
    section_jambs.write(drafts[6], job, plan, jambs)
    section_casing.write(drafts[7], job, plan, casing)
    out = []
    for i in range(len(SECTIONS)):
        one = to_dict(drafts[i].done())
        one["key"], one["title"], one["step"] = SECTIONS[i]
        out.append(one)
    return out
