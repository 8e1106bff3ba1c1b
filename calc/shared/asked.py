"""The verbs of the bridge on copies of a job. DEVELOPERS.md has their table."""

from ..job import check_job
from ..problems import InputError, shown, wrong
from .job_copy import adopt, apart, different, job_of, settle, undo, write
from .merge import check, empty, merge
from .seen import top
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
    writer, number = _name(asked)
    if do == "adopt":
        problems = check_job(asked.get("job"))
        if problems:
            raise InputError(problems)
        return _joined([adopt(asked["job"], writer, number)])
    copy = check(asked.get("copy"))
    if do == "write":
        job = asked.get("job")
        if not isinstance(job, dict):
            raise wrong("job", shown(job), "job: %s is no job." % shown(job), "Send an object.")
        written = write(copy, job, writer, number)
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
    copy = empty()
    for c in copies:
        copy = merge(copy, c)
    return {"copy": copy, "job": job_of(copy), "apart": told(copy), "top": top(copy["seen"])}


def _name(asked: "dict[str, Any]") -> tuple[str, int]:
    """The writer and number, as check takes them."""
    writer, number = asked.get("writer"), asked.get("number")
    probe = empty()
    probe["seen"] = {writer if isinstance(writer, str) else "": [[number, number]]}
    check(probe)
    return str(writer), int(asked["number"])


def _step(step: object) -> dict[str, Any]:
    known = isinstance(step, dict) and isinstance(step.get("before"), dict)
    if not isinstance(step, dict) or not known or "writer" not in step or "number" not in step:
        raise wrong(
            "step", shown(step), "step: %s can't be taken back." % shown(step),
            "Send writer, number and before, as the verb write answered them.",
        )  # fmt: skip
    return step


def _pick(copy: "dict[str, Any]", asked: "dict[str, Any]") -> tuple[str, int]:
    path, place = asked.get("path"), asked.get("place")
    if not isinstance(path, str) or path not in apart(copy):
        raise wrong(
            "path", shown(path), "path: nothing is apart in %s." % shown(path),
            "Look at the job again: somebody may have picked already.",
        )  # fmt: skip
    many = len(different(copy["fields"][path]))
    if not isinstance(place, int) or place is True or place is False or not 0 <= place < many:
        raise wrong("place", shown(place), "place: there is no %s." % shown(place), "Give 0 or 1.")
    return path, place
