"""Merge of two copies of a job, by field: what was written apart stays, side by side.

A copy, lapwright-copy version 1, is {"format", "version", "seen", "fields"}:

seen    the writes it knows of, replaced or not: see seen.py
fields  path -> the writes of it that nothing has replaced, each [writer, number, value], or
        [writer, number] where the field was taken out; by change, then writer
path    a JSON Pointer (RFC 6901) into the job, with an item's id in place of its index. At the
        path of an item itself stands its place among the others: that it is there

A change carries what it replaces: sent on its own, a change is a small copy whose `seen` holds
itself and what its writer saw in the same fields. So there is one merge, for changes and for
copies; it is commutative, associative and idempotent, and works in any order, any number of
times. (Known in the literature as a multi-value register with a causal context.)
"""

from ..problems import shown
from .seen import LAST_CHANGE, SIZE, has, union
from .sound import MOST_PLACE, check_path, check_writer, is_value, is_whole, refuse, refuse_at

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .seen import Seen

    Write = list[Any]  # [writer, number] or [writer, number, value]
else:
    Any = object

FORMAT = "lapwright-copy"
VERSION = 1
_KEYS = ("format", "version", "seen", "fields")


def empty() -> dict[str, Any]:
    """A copy that knows of nothing."""
    return {"format": FORMAT, "version": VERSION, "seen": {}, "fields": {}}


def merge(a: dict[str, Any], b: dict[str, Any]) -> dict[str, Any]:
    """The copy that knows what either knows. a, b: copies that pass check. Errors: none."""
    out = empty()
    out["seen"] = union(a["seen"], b["seen"])
    fields, more = out["fields"], b["fields"]
    for path in a["fields"]:
        ours = a["fields"][path]
        theirs = more.get(path)
        if theirs is None:
            ours = _left(ours, b["seen"])
        elif ours != theirs:
            ours = _both(ours, theirs, a["seen"], b["seen"])
        if ours:
            fields[path] = ours
    for path in more:
        if path not in a["fields"]:
            theirs = _left(more[path], a["seen"])
            if theirs:
                fields[path] = theirs
    return out


def _left(writes: "list[Write]", seen: "Seen") -> "list[Write]":
    """Those of the writes that a copy without any in that field has never seen."""
    if len(writes) == 1:
        return [] if has(seen, writes[0][0], writes[0][1]) else writes
    return [w for w in writes if not has(seen, w[0], w[1])]


def _both(
    ours: "list[Write]", theirs: "list[Write]", ours_seen: "Seen", theirs_seen: "Seen"
) -> "list[Write]":
    """The writes that both have, and those that the other side has never seen."""
    left = {(w[0], w[1]) for w in theirs}
    ours = [w for w in ours if (w[0], w[1]) in left or not has(theirs_seen, w[0], w[1])]
    left = {(w[0], w[1]) for w in ours}
    theirs = [w for w in theirs if (w[0], w[1]) in left or not has(ours_seen, w[0], w[1])]
    return _in_order(ours + theirs) if ours and theirs else ours or theirs


def _in_order(writes: "list[Write]") -> "list[Write]":
    """Each write once, by change, then writer: the last of them is what a plan is made with
    meanwhile. Two values under one name are no phone's of ours; neither is dropped.
    """
    out: list[Write] = []
    for w in sorted(writes, key=_rank):
        if not out or out[-1] != w:
            out.append(w)
    return out


def _rank(write: "Write") -> tuple[int, str, int, tuple[int, Any]]:
    """Where a write stands among those of its field, the same on both engines."""
    return (write[1] // SIZE, write[0], write[1], value_rank(write[2:]))


def value_rank(value: object) -> tuple[int, Any]:
    """What orders and tells apart the values of a field, the same on both engines."""
    if value is None:
        return (0, 0)
    if isinstance(value, str):
        return (2, value)
    if isinstance(value, list):
        return (3, tuple([value_rank(v) for v in value]))
    return (1, value)


def check(copy: object) -> dict[str, Any]:
    """`copy` as it is. Raises InputError for what is no copy, naming the field."""
    if not isinstance(copy, dict) or copy.get("format") != FORMAT:
        refuse("copy", copy, "is no %s" % FORMAT, "Send a copy as this program writes it.")
    if copy.get("version") is True or copy.get("version") != VERSION:
        refuse("copy.version", copy.get("version"), "is not known here", "Use a newer Lapwright.")
    for key in sorted(copy):
        if key not in _KEYS:
            refuse("copy.%s" % shown(key), copy[key], "is not a field", "Leave it out.")
    seen, fields = copy.get("seen"), copy.get("fields")
    if not isinstance(seen, dict):
        refuse("copy.seen", seen, "is no object", "Send {writer: [[first, last], ...]}.")
    for writer in sorted(seen):
        _check_runs(writer, seen[writer])
    if not isinstance(fields, dict):
        refuse("copy.fields", fields, "is no object", "Send {path: [writes]}.")
    for path in sorted(fields):
        check_field("copy.fields", path, fields[path], seen)
    return copy


def _check_runs(writer: str, runs: object) -> None:
    at = "copy.seen[%s]" % shown(writer)
    check_writer(at, writer)
    if not isinstance(runs, list) or not runs:
        refuse(at, runs, "is no list of runs", "Send [[first, last], ...].")
    before = 0
    for run in runs:
        if not isinstance(run, list) or len(run) != 2 or not (_number(run[0]) and _number(run[1])):
            refuse(at, run, "is no run", "Send [first, last], numbers from %d up." % SIZE)
        if run[0] > run[1] or run[0] <= before + 1:
            refuse(at, run, "is out of order", "Send runs upwards that do not touch.")
        before = run[1]


def check_field(field: str, path: str, writes: object, seen: "Seen") -> None:
    """Refuse what are no writes of that path, of a copy that has seen `seen`.

    field: where they stand, for messages. Raises InputError.
    """
    item, many = check_path(field, path)
    if not isinstance(writes, list) or not writes:
        fix = "Send [[writer, number, value], ...]."
        refuse_at(field, path, writes, "is no list of writes", fix)
    before: Write = []
    for w in writes:
        if not isinstance(w, list) or not 2 <= len(w) <= 3 or not _is_int(w[1]):
            fix = "Send [writer, number] or [writer, number, value]."
            refuse_at(field, path, w, "is no write", fix)
        if not isinstance(w[0], str) or not has(seen, w[0], w[1]):
            refuse_at(field, path, w[0], "is a writer of a write not in seen", "Add it to seen.")
        if len(w) == 3:
            if item and not is_whole(w[2], 0, MOST_PLACE):
                fix = "Send a whole number, 0 to %d." % MOST_PLACE
                refuse_at(field, path, w[2], "is no place", fix)
            if not item and not is_value(w[2], many):
                fix = "Send a text or a number, no object."
                refuse_at(field, path, w[2], "is no value of it", fix)
        if before and _rank(before) >= _rank(w):
            fix = "Send each write once, by change, then writer."
            refuse_at(field, path, w[1], "is out of order, or there twice", fix)
        before = w


def _is_int(value: object) -> bool:
    return isinstance(value, int) and value is not True and value is not False


def _number(value: object) -> bool:
    return is_whole(value, SIZE, LAST_CHANGE * SIZE + SIZE - 1)
