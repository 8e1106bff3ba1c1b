"""A change of a job's unit: what was typed as a bare number keeps meaning what it meant."""

from .jobfields import JOB, Field
from .lengths import LengthError, exact, read


def in_unit(doc: dict[str, object], unit: str) -> dict[str, object]:
    """A copy of the job document in the unit `unit`, one of UNITS.

    A length written without a unit is written out in the old one, so that every
    length stays the same to the jot; what can't be read stays as it is. The
    old unit is the document's, or inches. Errors: none.
    """
    old = doc.get("unit")
    out = _object(doc, JOB, old if isinstance(old, str) else "in", unit)
    out["unit"] = unit
    return out


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
