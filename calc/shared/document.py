"""A job document as fields by path, and back."""

from ..fieldkinds import MOST_ID, Field
from ..jobfields import JOB
from .paths import joined, steps
from .sound import MOST_PLACE, is_value, refuse

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Any
else:
    Any = object

_FORMAT = "lapwright-job"


def ids_given(job: object, new_id: "Callable[[str, int, dict[str, Any]], str]") -> dict[str, Any]:
    """The job with an id for each item of a list.

    new_id: gives one to an item that has none, from the path of its list, its place in it from 0,
    and what has the other ids as keys. Raises InputError where the document
    holds what no copy can: a field that there is not, an object in place of a value, an id
    twice. Readings and choices may be wrong: a draft is no error.
    """
    if not isinstance(job, dict):
        refuse("job", job, "is no job", "Send an object.")
    if job.get("format", _FORMAT) != _FORMAT or job.get("version", 1) != 1:
        name = "format" if job.get("format", _FORMAT) != _FORMAT else "version"
        refuse(name, job[name], "is not known here", "Send a %s, version 1." % _FORMAT)
    return _with_ids(job, JOB, "", "", new_id)


def _with_ids(
    doc: dict[str, Any], fields: list[Field], named: str, path: str, new_id: Any
) -> dict[str, Any]:
    """named: how messages name the object; path: where it stands in a copy."""
    out = {}
    left = len(doc)
    for f in fields:
        if f.key not in doc:
            continue
        left -= 1
        held, name, at = doc[f.key], named + f.key, joined(path, f.key)
        if f.kind == "object":
            if not isinstance(held, dict):
                refuse(name, held, "is no object", "Send an object, or leave it out.")
            held = _with_ids(held, f.fields, name + ".", at, new_id)
        elif f.kind == "objects":
            ids = _ids(held, name, at, new_id)
            rows = []
            for i in range(len(held)):
                row = _with_ids(
                    held[i], f.fields, "%s[%d]." % (name, i), joined(at, ids[i]), new_id
                )
                row["id"] = ids[i]
                rows.append(row)
            held = rows
        elif f.key != "id" and f.kind != "any" and not is_value(held, f.kind == "lengths"):
            many = ", or a list of them" if f.kind == "lengths" else ""
            refuse(name, held, "is no value", "Send a text or a number%s." % many)
        out[f.key] = held
    if left:
        known = [f.key for f in fields]
        other = sorted([key for key in doc if key not in known])[0]
        refuse(named + other, doc[other], "is not a field", "Leave it out.")
    return out


def _ids(rows: object, name: str, path: str, new_id: Any) -> list[str]:
    """The ids of the rows of a list, each another."""
    if not isinstance(rows, list):
        refuse(name, rows, "is no list", "Send a list, or leave it out.")
    taken: dict[str, int] = {}
    new = []
    for i in range(len(rows)):
        if not isinstance(rows[i], dict):
            refuse("%s[%d]" % (name, i), rows[i], "is no object", "Send an object.")
        given = rows[i].get("id")
        if given is None or given == "":
            new.append(i)
            continue
        if not isinstance(given, str) or len(given) > MOST_ID or not is_value(given, False):
            fix = "Give a text of at most %d characters, or none." % MOST_ID
            refuse("%s[%d].id" % (name, i), given, "is no id", fix)
        _take(taken, given, i, name)
    for i in new:
        _take(taken, new_id(path, i, taken), i, name)
    ids = [""] * len(rows)
    for key in taken:
        ids[taken[key]] = key
    return ids


def _take(taken: dict[str, int], key: str, place: int, name: str) -> None:
    if key in taken:
        fix = "Give each of a list an id of its own, or none."
        refuse("%s[%d].id" % (name, place), key, "is taken", fix)
    taken[key] = place


def flat(job: dict[str, Any], held: dict[str, Any]) -> dict[str, Any]:
    """path -> value of every field that the job holds; at an item's path its place.

    job: each item with its id; held: the same of what is held so far: places stay where the
    order does. Errors: none.
    """
    out: dict[str, Any] = {}
    _flat("", job, JOB, held, out)
    return out


def _flat(
    at: str, doc: dict[str, Any], fields: list[Field], held: dict[str, Any], out: dict[str, Any]
) -> None:
    for f in fields:
        if f.key not in doc or f.kind == "any" or f.key == "id":
            continue
        path, value = joined(at, f.key), doc[f.key]
        if f.kind == "object":
            _flat(path, value, f.fields, held, out)
        elif f.kind == "objects":
            places = _places(path, [row["id"] for row in value], held)
            for i in range(len(value)):
                item = joined(path, value[i]["id"])
                out[item] = places[i]
                _flat(item, value[i], f.fields, held, out)
        else:
            out[path] = value


def _places(path: str, ids: list[str], held: dict[str, Any]) -> list[int]:
    """Places for the items of a list, upwards: those they have, where that is their order."""
    known = [(held[joined(path, key)], key) for key in ids if joined(path, key) in held]
    kept = known == sorted(known) and ids[: len(known)] == [key for _, key in known]
    last = known[-1][0] if known else -1
    more = len(ids) - len(known)
    if not kept or last + more > MOST_PLACE:
        return list(range(len(ids)))
    return [place for place, _ in known] + list(range(last + 1, last + 1 + more))


def tree(held: dict[str, Any]) -> dict[str, Any]:
    """The job document of what `flat` gave, without what is in an item that is not there.

    held: path -> value, of paths that lead to a field. An object or a list with nothing in it
    is left out. Errors: none.
    """
    root: dict[str, Any] = {}
    for path in held:
        at = root
        for step in steps(path):
            if step not in at:
                at[step] = {}
            at = at[step]
        at[""] = held[path]
    out = _object(root, JOB)
    out["format"], out["version"] = _FORMAT, 1
    return out


def _object(node: dict[str, Any], fields: list[Field]) -> dict[str, Any]:
    out: dict[str, Any] = {}
    for f in fields:
        if f.key not in node:
            continue
        held = node[f.key]
        if f.kind == "object":
            inner = _object(held, f.fields)
            if inner:
                out[f.key] = inner
        elif f.kind == "objects":
            rows = []
            for _, key in sorted([(held[key][""], key) for key in held if "" in held[key]]):
                row = _object(held[key], f.fields)
                row["id"] = key
                rows.append(row)
            if rows:
                out[f.key] = rows
        else:
            out[f.key] = held[""]
    return out
