"""The verbs of the bridge on copies of a job. DEVELOPERS.md has their table."""

from ..problems import shown, wrong
from .job_copy import adopt, job_of, settle, undo, write
from .merge import check, check_field, merge
from .seen import LAST_CHANGE, SIZE, of, top
from .sound import check_writer, is_whole, refuse, refuse_at
from .told import told

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object


def answer(asked: "dict[str, Any]") -> dict[str, Any]:
    """Answer one of them. Raises InputError for what is no copy, job or write."""
    do = asked["do"]
    if do == "join":
        copies = asked.get("copies")
        if not isinstance(copies, list) or not copies:
            raise wrong("copies", shown(copies), "copies: there are none.", "Send a list of them.")
        return _joined([check(c) for c in copies])
    copy = None if do == "adopt" else check(asked.get("copy"))
    writer, number = _name(asked, copy)
    if copy is None:
        return _joined([adopt(asked.get("job"), writer, number)])
    if do == "write":
        written = write(copy, asked.get("job"), writer, number)
    elif do == "undo":
        written = undo(copy, _step(asked.get("step")), writer, number)
    else:
        written = settle(copy, *_pick(copy, asked), writer, number)
    out = _joined([copy, written["copy"]])
    out["write"], out["before"] = written["copy"], written["before"]
    out["kept"] = len(written.get("kept", []))
    return out


def _joined(copies: "list[dict[str, Any]]") -> dict[str, Any]:
    """The copies as one: "copy", its "job", the fields "apart" in words, and "top"."""
    copy = copies[0]
    for c in copies[1:]:
        copy = merge(copy, c)
    job = job_of(copy)
    return {"copy": copy, "job": job, "apart": told(copy, job), "top": top(copy["seen"])}


def _name(asked: "dict[str, Any]", copy: "dict[str, Any] | None") -> tuple[str, int]:
    """The writer and the number of what is to be written."""
    writer, number = asked.get("writer"), asked.get("number")
    check_writer("writer", writer)
    least = 1 if copy is None else top(copy["seen"]) + 1
    if not is_whole(number, least, LAST_CHANGE):
        fix = "Give a whole number from %d to %d." % (least, LAST_CHANGE)
        refuse("number", number, "can't name a write", fix)
    return str(writer), int(asked["number"])


def _step(step: object) -> dict[str, Any]:
    """What is to be taken back, as a verb answered it."""
    fix = "Send writer, number and before, as the verb write answered them."
    if not isinstance(step, dict) or not isinstance(step.get("before"), dict):
        refuse("step", step, "can't be taken back", fix)
    check_writer("step.writer", step.get("writer"))
    if not is_whole(step.get("number"), 1, LAST_CHANGE):
        refuse("step.number", step.get("number"), "names no write", fix)
    first = step["number"] * SIZE
    seen = of([(step["writer"], first, first + SIZE - 1)])
    for path in sorted(step["before"]):
        pair = step["before"][path]
        if not isinstance(pair, list) or len(pair) != 2:
            refuse_at("step.before", path, pair, "is no pair", fix)
        for tails in pair:
            rows = tails if isinstance(tails, list) else []
            named = [[step["writer"], first + i] for i in range(len(rows))]
            writes = [named[i] + rows[i] if isinstance(rows[i], list) else rows[i]
                      for i in range(len(rows))]  # fmt: skip
            check_field("step.before", path, writes, seen)
    return step


def _pick(copy: "dict[str, Any]", asked: "dict[str, Any]") -> tuple[str, int]:
    path, place = asked.get("path"), asked.get("place")
    apart = [f for f in told(copy, job_of(copy)) if f["path"] == path]
    if not apart:
        raise wrong(
            "path", shown(path), "path: nothing is apart in %s." % shown(path),
            "Look at the job again: somebody may have picked already.",
        )  # fmt: skip
    many = len(apart[0]["options"])
    if not is_whole(place, 0, many - 1):
        refuse("place", place, "is none of the options", "Give a number from 0 to %d." % (many - 1))
    return str(path), int(asked["place"])
