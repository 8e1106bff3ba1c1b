"""What was written apart, in words: which field, and what stands in it on either side."""

from ..form import labels
from ..formbase import choices_of
from ..jobfields import id_of
from ..lengths import LengthError, as_read, exact, jots_of
from ..measures import MEASURES
from ..measures import as_read as measure_as_read
from ..problems import shown
from .differ import different
from .job_copy import unit_of
from .paths import field_at, items_over, steps

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object


def told(copy: dict[str, Any], job: dict[str, Any]) -> list[dict[str, Any]]:
    """Every field written apart, as the page asks about it.

    job: job_of(copy). "path" as in the copy; "field", its path in the job document; "label";
    "options", a text for each value, in the order that settle takes. What lies within an item
    that is taken out waits until that is back. Errors: none.
    """
    unit = unit_of(job)
    asked: dict[int, Any] = {}  # by wall
    out = []
    for path in sorted([p for p in copy["fields"] if len(copy["fields"][p]) > 1]):
        writes = different(path, copy["fields"][path], unit)
        field = in_job(job, path) if len(writes) > 1 else None
        if field is not None:
            wall = int(field[6 : field.index("]")]) if field.startswith("walls[") else 0
            if wall not in asked:
                asked[wall] = labels(unit, job, wall)
            label = _label(asked[wall], wall, path, field)
            options = _options([w[2:] for w in writes], path, unit)
            out.append({"path": path, "field": field, "label": label, "options": options})
    return out


def in_job(job: dict[str, Any], path: str) -> str | None:
    """The path in the document, "walls[0].height_left"; None where its item is not there now."""
    items = items_over(path) + [path]
    at: Any = job
    text, way = "", ""
    for step in path.split("/")[1:]:
        way += "/" + step
        if way in items and (way != path or field_at(path)[1]):
            key = steps("/" + step)[0]
            rows = at if isinstance(at, list) else []
            places = [i for i in range(len(rows)) if id_of(rows[i], i) == key]
            if not places:
                return None
            text += "[%d]" % places[0]
            at = rows[places[0]]
        else:
            text += ("." if text else "") + step
            at = at.get(step) if isinstance(at, dict) else None
    return text


def _label(asked: Any, wall: int, path: str, field: str) -> str:
    """ "North: Window 1, Left edge", as Survey asks for it; else by the fields' own names."""
    own = "walls[%d]" % wall
    before = ""
    if field.startswith("walls[") and wall < len(asked["walls"]):
        if field == own:
            return str(asked["walls"][wall])
        if len(asked["walls"]) > 1:
            before = "%s: " % asked["walls"][wall]
    known, item = field_at(path)
    holder = field[: field.rindex("]") + 1] if "]" in field else ""
    if holder and holder != own:
        titles = [str(p["title"]) for p in asked["parts"] if p["item"] == holder]
        place = int(holder[holder.rindex("[") + 1 : -1]) + 1
        row = field_at(([path] if item else items_over(path))[-1])[0]
        before += titles[0] if titles or row is None else "%s %d" % (row.label, place)
        if item:
            return before
        before += ", "
    for f in asked["fields"]:
        if f["path"] == field:
            return before + str(f["label"])
    return before + (known.label if known is not None and known.label else field)


def _options(tails: "list[list[Any]]", path: str, unit: str) -> list[str]:
    field, item = field_at(path)
    if item:
        return ["there" if tail else "taken out" for tail in tails]
    if field is not None and field.kind in MEASURES:
        return [_text(tail, _measured, (field.kind, unit)) for tail in tails]
    if field is None or field.kind not in ("length", "lengths"):
        named = [] if field is None else choices_of(field, unit)
        return [_text(tail, _named, named) for tail in tails]
    texts = [_text(tail, as_read, unit) for tail in tails]
    # Two that read alike on a tape differ all the same.
    alike = [texts[i] in texts[:i] + texts[i + 1 :] for i in range(len(texts))]
    return [_text(tails[i], _to_the_jot, unit) if alike[i] else texts[i] for i in range(len(texts))]


def _text(tail: "list[Any]", say: Any, how: Any) -> str:
    """What stands in a field, each value said by say(value, how)."""
    if not tail or tail[0] is None or tail[0] == "" or tail[0] == []:
        return "nothing"
    return "; ".join([str(say(v, how)) for v in (tail[0] if isinstance(tail[0], list) else tail)])


def _named(value: object, choices: list[list[str]]) -> str:
    for key, label in choices:
        if key == value:
            return label
    return value if isinstance(value, str) else shown(value)


def _measured(value: object, how: tuple[str, str]) -> object:
    return measure_as_read(value, how[0], how[1])


def _to_the_jot(value: object, unit: str) -> object:
    try:
        jots = jots_of(value, unit)
    except LengthError:
        return value
    return value if jots < 0 else exact(jots, unit)
