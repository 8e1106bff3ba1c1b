"""Merge of two copies of a job, by field: what was written apart stays, side by side.

A copy, lapwright-copy version 1, is {"format", "version", "seen", "fields"}:

seen    the writes it knows of, replaced or not: see seen.py
fields  path -> the writes of it that nothing has replaced, each [writer, number, value], or
        [writer, number] where the field was taken out; by number, then writer
path    a JSON Pointer (RFC 6901) into the job, with an item's id in place of its index. At the
        path of an item itself stands its place among the others: that it is there

A write carries what it replaces: sent on its own, a write is a small copy whose `seen` holds
itself and what its writer saw in the same field. So there is one merge, for writes and for
copies; it is commutative, associative and idempotent, and works in any order, any number of
times. (Known in the literature as a multi-value register with a causal context.)
"""

import json

from ..problems import shown, wrong
from .seen import has, union

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any, NoReturn

    from .seen import Seen

    Write = list[Any]  # [writer, number] or [writer, number, value]
else:
    Any = object

FORMAT = "lapwright-copy"
VERSION = 1
_LONGEST_PATH = 400
_LONGEST_WRITER = 24
_LARGEST_NUMBER = 1 << 40
_WRITER = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-"


def empty() -> dict[str, Any]:
    """A copy that knows of nothing."""
    return {"format": FORMAT, "version": VERSION, "seen": {}, "fields": {}}


def merge(a: dict[str, Any], b: dict[str, Any]) -> dict[str, Any]:
    """The copy that knows what either knows. a, b: copies that pass check. Errors: none."""
    fields = {}
    for path in sorted(set(a["fields"]) | set(b["fields"])):
        ours, theirs = a["fields"].get(path, []), b["fields"].get(path, [])
        kept = _once(_left(ours, theirs, b["seen"]) + _left(theirs, ours, a["seen"]))
        if kept:
            fields[path] = kept
    out = empty()
    out["seen"] = union(a["seen"], b["seen"])
    out["fields"] = fields
    return out


def _left(ours: "list[Write]", theirs: "list[Write]", seen: "Seen") -> "list[Write]":
    """Of our writes those that the other side has as well, or has never seen."""
    names = [(w[0], w[1]) for w in theirs]
    return [w for w in ours if (w[0], w[1]) in names or not has(seen, w[0], w[1])]


def _once(writes: "list[Write]") -> "list[Write]":
    """Each write once, in order. Two that bear one name were made by no phone of ours: the
    same one of them stays on either side.
    """
    out: list[Write] = []
    for w in sorted(writes, key=lambda w: (w[1], w[0], json.dumps(w[2:]))):
        if out and out[-1][:2] == w[:2]:
            out.pop()
        out.append(w)
    return out


def in_order(writes: "list[Write]") -> "list[Write]":
    """By number, then writer: the last of them is what a plan is made with meanwhile."""
    return sorted(writes, key=lambda w: (w[1], w[0]))


def check(copy: object) -> dict[str, Any]:
    """`copy` as it is. Raises InputError for what is no copy, naming the field."""
    if not isinstance(copy, dict) or copy.get("format") != FORMAT:
        _refuse("copy", copy, "is no %s" % FORMAT, "Send a copy as this program writes it.")
    if copy.get("version") is True or copy.get("version") != VERSION:
        _refuse("copy.version", copy.get("version"), "is not known here", "Use a newer Lapwright.")
    seen, fields = copy.get("seen"), copy.get("fields")
    if not isinstance(seen, dict):
        _refuse("copy.seen", seen, "is no object", "Send {writer: [[first, last], ...]}.")
    for writer in sorted(seen):
        _check_runs(writer, seen[writer])
    if not isinstance(fields, dict):
        _refuse("copy.fields", fields, "is no object", "Send {path: [writes]}.")
    for path in sorted(fields):
        at = "copy.fields[%s]" % shown(path)
        if not path.startswith("/") or len(path) > _LONGEST_PATH:
            _refuse(at, path, "is no path", "Send a JSON Pointer like /walls/1/height_left.")
        writes = fields[path]
        if not isinstance(writes, list) or not writes:
            _refuse(at, writes, "is no list of writes", "Send [[writer, number, value], ...].")
        for write in writes:
            _check_write(at, write, seen)
        if in_order(writes) != writes or len({(w[0], w[1]) for w in writes}) != len(writes):
            _refuse(at, len(writes), "writes are out of order, or one twice", "Send each once.")
    return copy


def _check_runs(writer: str, runs: object) -> None:
    at = "copy.seen[%s]" % shown(writer)
    known = 0 < len(writer) <= _LONGEST_WRITER and not [c for c in writer if c not in _WRITER]
    if not known:
        _refuse(at, writer, "names no writer", "Use 1 to 24 of A-Z, a-z, 0-9, _ and -.")
    before = -1
    if not isinstance(runs, list) or not runs:
        _refuse(at, runs, "is no list of runs", "Send [[first, last], ...].")
    for run in runs:
        if not isinstance(run, list) or len(run) != 2 or not (_number(run[0]) and _number(run[1])):
            _refuse(at, run, "is no run", "Send [first, last], numbers from 1 up.")
        if run[0] > run[1] or run[0] <= before + 1:
            _refuse(at, run, "is out of order", "Send runs upwards that do not touch.")
        before = run[1]


def _check_write(at: str, write: object, seen: "Seen") -> None:
    if not isinstance(write, list) or not 2 <= len(write) <= 3 or not _number(write[1]):
        _refuse(at, write, "is no write", "Send [writer, number] or [writer, number, value].")
    if not isinstance(write[0], str) or not has(seen, write[0], write[1]):
        _refuse(at, write[0], "is a writer whose write is not in seen", "Add it to seen.")
    value = write[2] if len(write) == 3 else None
    for v in value if isinstance(value, list) else [value]:
        if v is True or v is False or not (v is None or isinstance(v, (str, int, float))):
            _refuse(at, v, "is no value of a field", "Send a text, a number, or a list of them.")


def _number(value: object) -> bool:
    if not isinstance(value, int) or value is True or value is False:
        return False
    return 1 <= value <= _LARGEST_NUMBER


def _refuse(field: str, value: object, what: str, fix: str) -> "NoReturn":
    raise wrong(field, shown(value), "%s: %s %s." % (field, shown(value), what), fix)
