"""Paths of a copy: JSON Pointers (RFC 6901) into the job, with ids in place of indexes."""

from ..fieldkinds import MOST_ID, Field
from ..jobfields import JOB

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

# What a job file says of itself, and what a path says already.
_NOT_HELD = ("format", "version", "id")


def _table(fields: list[Field]) -> dict[str, Any]:
    """key -> (the field, the table of what it holds)."""
    out = {}
    for f in fields:
        if f.key not in _NOT_HELD:
            out[f.key] = (f, _table(f.fields) if f.kind in ("object", "objects") else {})
    return out


_JOB = _table(JOB)


def joined(path: str, step: str) -> str:
    """The path one step further (RFC 6901, 3)."""
    return path + "/" + step.replace("~", "~0").replace("/", "~1")


def steps(path: str) -> list[str]:
    """The steps of a path (RFC 6901, 4)."""
    found = path.split("/")[1:]
    if "~" in path:
        return [s.replace("~1", "/").replace("~0", "~") for s in found]
    return found


def within(path: str, root: str) -> bool:
    """Whether the path lies below the other one, not at it."""
    return path.startswith(root + "/")


def field_at(path: str) -> "tuple[Field | None, bool]":
    """(the field that holds what stands at the path, whether that is an item of the list there).

    (None, False) where a copy holds nothing: at an object, a list of objects, or nowhere.
    """
    field: Field | None = None
    table = _JOB
    item = False
    for step in steps(path):
        if field is not None and field.kind == "objects" and not item:
            if not 0 < len(step) <= MOST_ID:
                return None, False
            item = True
        elif step in table:
            field, table = table[step]
            item = False
        else:
            return None, False
    if field is None or field.kind == "object" or (field.kind == "objects" and not item):
        return None, False
    return field, item


def items_over(path: str) -> list[str]:
    """The paths of the items of lists that the path lies in, outer ones first.

    path: one that leads to a field.
    """
    found = []
    at = ""
    field: Field | None = None
    table = _JOB
    for step in path.split("/")[1:-1]:
        at += "/" + step
        if field is not None and field.kind == "objects":
            found.append(at)
            field = None
        else:
            field, table = table[step]
    return found
