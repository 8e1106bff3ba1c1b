"""A change of a job's unit changes how lengths read, and nothing else.

What was typed as a bare number, and what was left to a default, keeps meaning
what it meant.
"""

from .fieldkinds import Field
from .jobfields import BOARD, JOB, RULES
from .lengths import UNITS, LengthError, exact, read
from .measures import MEASURES
from .measures import with_unit as with_measure_unit

INCHES = ("in", "ft")


def in_unit(doc: dict[str, object], unit: str) -> dict[str, object]:
    """A copy of the job document in the unit `unit`, one of UNITS.

    A length or a measure written without a unit is written out in the old one, and between
    inches and metric so are the defaults of the layout that differ, so that every length of it
    stays the same to the jot; what can't be read stays as it is. Beside the layout what was not
    keyed is what is usual in the new unit. The old unit
    is the document's, or inches. Errors: none.
    """
    given = doc.get("unit")
    old = given if isinstance(given, str) and given in UNITS else "in"
    out = _object(doc, JOB, old, unit)
    out["unit"] = unit
    if (old in INCHES) != (unit in INCHES):
        _keep_defaults(out, "rules", RULES, old)
        _keep_defaults(out, "board", BOARD, old)
    return out


def with_unit(value: object, unit: str) -> object:
    """A length that means in every unit what it means in `unit`, one of UNITS.

    A text without a unit is written out, the same to the jot; a number, and what can't be read,
    stay as they are. Errors: none.
    """
    return _length(value, unit, "mm" if unit in INCHES else "in")


def _keep_defaults(doc: dict[str, object], part: str, fields: list[Field], old: str) -> None:
    """Write out the defaults that differ between inches and metric, as they were."""
    held = doc.get(part)
    kept = dict(held) if isinstance(held, dict) else {}
    for f in fields:
        if f.kind == "length" and f.default != f.metric and kept.get(f.key) in (None, ""):
            kept[f.key] = exact(f.default if old in INCHES else f.metric, old)
    doc[part] = kept


def _object(doc: dict[str, object], fields: list[Field], old: str, new: str) -> dict[str, object]:
    known = dict([(f.key, f) for f in fields])
    return dict([(k, _value(doc[k], known.get(k), old, new)) for k in doc])


def _value(raw: object, f: Field | None, old: str, new: str) -> object:
    if f is None:
        return raw
    if isinstance(raw, dict):
        return _object(raw, f.fields, old, new)
    if isinstance(raw, list):
        return [_object(r, f.fields, old, new) if isinstance(r, dict) else _length(r, old, new)
                for r in raw]  # fmt: skip
    if f.kind in MEASURES:
        return with_measure_unit(raw, f.kind, old)
    return _length(raw, old, new) if f.kind == "length" else raw


def _length(raw: object, old: str, new: str) -> object:
    if not isinstance(raw, str):
        return raw
    try:
        jots = read(raw, old)
    except LengthError:
        return raw
    try:
        same = read(raw, new) == jots
    except LengthError:
        same = False
    return raw if same else exact(jots, old)
