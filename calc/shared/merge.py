"""Merge of two copies of a job, by field: what was written apart stays, side by side.

A copy, lapwright-copy version 1, is {"format", "version", "seen", "replaced", "fields"}:

seen      the writes it knows of, with all that they wrote: see seen.py
replaced  path -> writes that it does not know of, but that were replaced in that field
fields    path -> the writes of it that nothing has replaced, each [writer, number, value], or
          [writer, number] where the field was taken out; by number, then writer. Values that
          one write put back side by side stand one after the other
path      a JSON Pointer (RFC 6901) into the job, with an item's id in place of its index. At the
          path of an item itself stands its place among the others: that it is there

A write carries what it replaces: sent on its own, a write is a small copy that has seen itself
alone, and in each of its fields replaced what its writer saw there. So there is one merge, for
writes and for copies; it is commutative, associative and idempotent, and works in any order, any
number of times. (Known in the literature as a multi-value register with a causal context.)
"""

from .seen import has, less, union

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .seen import Seen

    Write = list[Any]  # [writer, number] or [writer, number, value]
else:
    Any = object

FORMAT = "lapwright-copy"
VERSION = 1


def empty() -> dict[str, Any]:
    """A copy that knows of nothing."""
    return {"format": FORMAT, "version": VERSION, "seen": {}, "replaced": {}, "fields": {}}


def merge(a: dict[str, Any], b: dict[str, Any]) -> dict[str, Any]:
    """The copy that knows what either knows. a, b: copies that pass check. Errors: none."""
    fields: dict[str, Any] = {}
    for path in a["fields"]:
        ours, theirs = a["fields"][path], b["fields"].get(path, [])
        kept = ours if ours == theirs else _both(_left(ours, theirs, b, path),
                                                 _left(theirs, ours, a, path))  # fmt: skip
        if kept:
            fields[path] = kept
    for path in b["fields"]:
        if path not in a["fields"]:
            kept = _left(b["fields"][path], [], a, path)
            if kept:
                fields[path] = kept
    out = empty()
    out["seen"] = union(a["seen"], b["seen"])
    out["replaced"] = _replaced(a["replaced"], b["replaced"], out["seen"])
    out["fields"] = fields
    return out


def _left(
    ours: "list[Write]", theirs: "list[Write]", other: dict[str, Any], path: str
) -> "list[Write]":
    """Of our writes those that the other copy has there as well, or does not know of."""
    seen, replaced = other["seen"], other["replaced"].get(path)
    out = []
    for w in ours:
        known = has(seen, w[0], w[1]) or (replaced is not None and has(replaced, w[0], w[1]))
        if not known or [1 for t in theirs if t[:2] == w[:2]]:
            out.append(w)
    return out


def _both(ours: "list[Write]", theirs: "list[Write]") -> "list[Write]":
    """The writes of both, each once, in order."""
    if not ours or not theirs:
        return ours or theirs
    named: dict[tuple[int, str], list[Write]] = {}
    for w in ours:
        named.setdefault((w[1], w[0]), []).append(w)
    more: dict[tuple[int, str], list[Write]] = {}
    for w in theirs:
        more.setdefault((w[1], w[0]), []).append(w)
    for name in more:
        if name not in named:
            named[name] = more[name]
        elif named[name] != more[name]:
            named[name] = _all(named[name] + more[name])
    out = []
    for name in sorted(named):
        out.extend(named[name])
    return out


def _all(writes: "list[Write]") -> "list[Write]":
    """Different values under one name, which no phone of ours gives twice: none is dropped."""
    out: list[Write] = []
    for w in sorted(writes, key=_rank):
        if not out or out[-1] != w:
            out.append(w)
    return out


def _rank(write: "Write") -> list[Any]:
    """An order of values that is the same on both engines."""
    return [_kind(v) for v in write[2:]]


def _kind(value: object) -> tuple[int, Any]:
    if value is None:
        return (0, 0)
    if isinstance(value, str):
        return (2, value)
    if isinstance(value, list):
        return (3, [_kind(v) for v in value])
    return (1, value)


def _replaced(a: dict[str, Any], b: dict[str, Any], seen: "Seen") -> dict[str, Any]:
    out = {}
    for path in set(a) | set(b):
        left = less(union(a.get(path, {}), b.get(path, {})), seen)
        if left:
            out[path] = left
    return out
