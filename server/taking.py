"""What a phone's writes may do to a stored copy: how much, how far ahead, and by which link."""

from collections.abc import Iterator
from typing import Any

from calc.problems import Problem, shown
from calc.shared.merge import merge
from calc.shared.seen import top

# Bytes of a copy as it is stored, and as a phone can give it back. A job of forty walls takes
# some 60 000, and each later write some dozens.
LARGEST_COPY = 3_000_000
# By how many a write's number may be above every one so far: numbers are not without end, and
# one far ahead would leave nobody else any.
FARTHEST = 1_000_000
MARKS = "/done/"


class Refused(Exception):
    """Writes that are not taken, and nothing of them is. status is the HTTP one."""

    def __init__(self, status: int, code: str, problem: Problem) -> None:
        super().__init__(problem.message)
        self.status = status
        self.code = code
        self.problem = problem


def taken(copy: Any, writes: list[Any], kind: str) -> Any:
    """The copy with the writes merged in.

    writes: as calc.shared.merge checks them; kind: that of the key they come by, "edit" or
    "saw". Raises Refused where they are not for that key, or too far ahead.
    """
    more = _folded(writes)
    if kind == "saw":
        _check_saw(copy, more)
    known, sent = top(copy["seen"]), top(more["seen"])
    if known and sent > known + FARTHEST:
        said = f"The write's number {sent} is far above {known}, the last one here."
        fix = "Open the job anew on this phone; what was keyed in there has to be keyed in again."
        raise Refused(422, "bad-input", Problem("writes", str(sent), said, fix))
    return merge(copy, more)


def check_size(text: str) -> str:
    """The text of a copy as it is. Raises Refused where it is too large to be kept."""
    if len(text) > LARGEST_COPY:
        said = f"The job would take {len(text)} bytes; {LARGEST_COPY} can be kept."
        fix = "Take out what is not needed any more, or begin a second job for the other walls."
        raise Refused(413, "too-large", Problem("writes", f"{len(text)} bytes", said, fix))
    return text


def _folded(writes: list[Any]) -> Any:
    """All of them as one, in pairs: one after the other takes long where they are many."""
    while len(writes) > 1:
        pairs = [writes[i : i + 2] for i in range(0, len(writes), 2)]
        writes = [merge(*pair) if len(pair) == 2 else pair[0] for pair in pairs]
    return writes[0]


def _check_saw(copy: Any, more: Any) -> None:
    """The saw's link marks cuts, in a name of its own, and changes nothing else."""
    for path in _paths(more):
        if not path.startswith(MARKS):
            raise _not_allowed(path, f"it does not change {shown(path)}")
    writers = {w[0] for writes in more["fields"].values() for w in writes}
    others = {
        w[0] for p, writes in copy["fields"].items() if not p.startswith(MARKS) for w in writes
    }
    for writer in sorted(more["seen"]):
        if writer in others or writer not in writers:
            raise _not_allowed(writer, f"it does not write as {shown(writer)}")


def _paths(copy: Any) -> Iterator[str]:
    for part in ("fields", "replaced"):
        yield from sorted(copy.get(part, {}))


def _not_allowed(value: str, what: str) -> Refused:
    said = f"The saw's link marks cuts; {what}."
    fix = "Do it on a phone that has the link to edit the job."
    return Refused(403, "not-allowed", Problem("writes", shown(value), said, fix))
