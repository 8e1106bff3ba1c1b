"""A job document as fields by path, and back. Paths: see merge.py."""

from ..jobfields import JOB, Field, id_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

# What stands for a value that was taken out, where JSON has none; no field's value is an object.
GONE: dict[str, bool] = {"gone": True}
_FIXED = ("format", "version")


def joined(path: str, step: str) -> str:
    """The path one step further (RFC 6901, 3)."""
    return path + "/" + step.replace("~", "~0").replace("/", "~1")


def steps(path: str) -> list[str]:
    """The steps of a path (RFC 6901, 4)."""
    return [s.replace("~1", "/").replace("~0", "~") for s in path.split("/")[1:]]


def within(path: str, root: str) -> bool:
    """Whether the path lies below the other one, not at it."""
    return path.startswith(root + "/")


def items_of(fields: dict[str, Any]) -> list[str]:
    """Those of the paths that are of an item of a list itself, outer ones first."""
    return [path for path in sorted(fields) if field_at(path)[1]]


def field_at(path: str) -> "tuple[Field | None, bool]":
    """(the declared field that the path leads to, or None; whether it is an item of that list)."""
    at, field, item = JOB, None, False
    for step in steps(path):
        if field is not None and field.kind == "objects" and not item:
            item = True
            continue
        known = [f for f in at if f.key == step]
        if not known:
            return None, False
        field, at, item = known[0], known[0].fields, False
    return field, item


def ids_given(job: dict[str, Any], new: bool, name: str) -> dict[str, Any]:
    """The job with an id for each item of a list.

    new: the job was in no copy before, so an item goes by its place; else one without an id is
    new, and its id is made of `name`.
    """
    count = [0]

    def id_for(item: dict[str, Any], place: int) -> str:
        if new or item.get("id"):
            return id_of(item, place)
        count[0] += 1
        return name if count[0] == 1 else "%s.%d" % (name, count[0])

    return _with_ids(job, JOB, id_for)


def _with_ids(doc: dict[str, Any], fields: list[Field], id_for: Any) -> dict[str, Any]:
    out = dict(doc)
    for f in fields:
        held = doc.get(f.key)
        if f.kind == "object" and isinstance(held, dict):
            out[f.key] = _with_ids(held, f.fields, id_for)
        elif f.kind == "objects" and isinstance(held, list):
            rows = []
            for i in range(len(held)):
                row = dict(held[i])
                row["id"] = id_for(held[i], i)
                rows.append(_with_ids(row, f.fields, id_for))
            out[f.key] = rows
    return out


def flat(job: dict[str, Any], now: dict[str, Any]) -> dict[str, Any]:
    """path -> value of every field that the job holds; at an item's path its place.

    job: each item with its id; now: the same of what is held so far: places stay where the
    order does.
    """
    out: dict[str, Any] = {}
    _flat("", job, JOB, now, out)
    return out


def _flat(
    at: str, doc: dict[str, Any], fields: list[Field], now: dict[str, Any], out: dict[str, Any]
) -> None:
    for f in fields:
        if f.key not in doc or (at == "" and f.key in _FIXED) or f.key == "id":
            continue
        path, held = joined(at, f.key), doc[f.key]
        if f.kind == "object":
            _flat(path, held, f.fields, now, out)
        elif f.kind == "objects":
            paths = [joined(path, row["id"]) for row in held]
            places = _places(paths, now)
            for i in range(len(held)):
                out[paths[i]] = places[i]
                _flat(paths[i], held[i], f.fields, now, out)
        else:
            out[path] = held


def _places(paths: list[str], now: dict[str, Any]) -> list[int]:
    """Places for the items of a list, upwards: those they have, where that is their order."""
    known = [(now[p], p) for p in paths if p in now]
    kept = known == sorted(known) and paths[: len(known)] == [p for _, p in known]
    if not kept:
        return list(range(len(paths)))
    last = known[-1][0] if known else -1
    new = range(last + 1, last + 1 + len(paths) - len(known))
    return [place for place, _ in known] + list(new)


def tree(found: dict[str, Any]) -> dict[str, Any]:
    """The job document of what `flat` gave, without what is in an item that is not there."""
    root: dict[str, Any] = {}
    for path in sorted(found):
        at = root
        way = steps(path)
        for step in way[:-1]:
            at = at.setdefault(step, {})
        if field_at(path)[1]:
            at.setdefault(way[-1], {})[""] = found[path]
        else:
            at[way[-1]] = found[path]
    out = _object(root, JOB)
    out["format"], out["version"] = "lapwright-job", 1
    return out


def _object(node: dict[str, Any], fields: list[Field]) -> dict[str, Any]:
    out: dict[str, Any] = {}
    for f in fields:
        if f.key not in node:
            continue
        held = node[f.key]
        if f.kind == "object":
            out[f.key] = _object(held, f.fields)
        elif f.kind == "objects":
            there = [(_place(held[key][""]), key) for key in held if "" in held[key]]
            out[f.key] = []
            for _, key in sorted(there):
                row = {"id": key}
                row.update(_object(held[key], f.fields))
                out[f.key].append(row)
        else:
            out[f.key] = held
    return out


def _place(value: object) -> int:
    """Where an item stands; one that no phone of ours wrote comes first."""
    return value if isinstance(value, int) and value is not True and value is not False else 0
