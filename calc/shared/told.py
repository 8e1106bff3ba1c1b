"""What was written apart, in words: which field, and what stands in it on either side."""

from ..form import form
from ..jobfields import id_of
from ..lengths import UNITS, as_read
from ..problems import shown
from .job_copy import apart, different, job_of
from .paths import field_at, steps

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object


def told(copy: dict[str, Any]) -> list[dict[str, Any]]:
    """Every field written apart, as the page asks about it.

    "path" as in the copy; "field", its path in the job document; "label"; "options", a text
    for each value, in the order that settle takes. What lies within an item that is taken out
    waits until that is back. Errors: none.
    """
    job = job_of(copy)
    unit = job.get("unit", "in")
    unit = unit if unit in UNITS else "in"
    out = []
    for path in apart(copy):
        field = in_job(job, path)
        if field is not None:
            writes = different(copy["fields"][path])
            options = [_text(w, path, unit) for w in writes]
            label = _label(job, unit, field)
            out.append({"path": path, "field": field, "label": label, "options": options})
    return out


def in_job(job: dict[str, Any], path: str) -> str | None:
    """The path in the document, "walls[0].height_left"; None where it is not there now."""
    at: Any = job
    text = ""
    for step in steps(path):
        if isinstance(at, list):
            places = [i for i in range(len(at)) if id_of(at[i], i) == step]
            if not places:
                return None
            text += "[%d]" % places[0]
            at = at[places[0]]
        else:
            text += ("." if text else "") + step
            at = at.get(step) if isinstance(at, dict) else None
    return text


def _label(job: dict[str, Any], unit: str, field: str) -> str:
    """ "North: Window 1, left edge"; the field itself where Survey does not ask for it."""
    wall = int(field[6 : field.index("]")]) if field.startswith("walls[") else 0
    asked: Any = form(unit, job, wall)
    before = ""
    if field.startswith("walls[") and len(job["walls"]) > 1:
        before = asked["walls"][wall] + ": "
    if field == "walls[%d]" % wall:
        return str(asked["walls"][wall])
    for part in asked["parts"]:
        if part["item"] == field:
            return before + str(part["title"])
    for f in asked["fields"]:
        if f["path"] == field:
            part = asked["parts"][f["part"]]
            item = part["item"] and part["item"] != "walls[%d]" % wall
            return before + ("%s, " % part["title"] if item else "") + str(f["label"])
    return before + field


def _text(write: "list[Any]", path: str, unit: str) -> str:
    field, item = field_at(path)
    if item:
        return "taken out" if len(write) == 2 else "there"
    held = write[2] if len(write) == 3 else None
    if held is None or held == "" or held == []:
        return "nothing"
    many = held if isinstance(held, list) else [held]
    if field is not None and field.kind in ("length", "lengths"):
        many = [as_read(v, unit) for v in many]
    return "; ".join([shown(v) for v in many])
