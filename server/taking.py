"""What a phone's writes may do to a stored copy: how much, how far ahead, and by which link."""

from typing import Any

from calc.problems import Problem, shown
from calc.shared.merge import merge
from calc.shared.seen import SIZE, top, union

# Bytes of a copy as it is stored, and as a phone can give it back. A job of forty walls takes
# some 60 000, and each later write some dozens.
LARGEST_COPY = 3_000_000
# By how much the number of a change may be above every one so far: numbers are not without
# end, and one far ahead would leave nobody else any.
FARTHEST = 1_000_000
# Values side by side in one field: one of each phone that was away is far less.
MOST_APART = 200
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
    "saw". Raises Refused where they are not for that key, more than a copy can hold, or where
    a field would go without a word: what is replaced or taken out leaves a write in its place.
    """
    more = _folded(writes)
    known, sent = top(copy["seen"]), top(more["seen"])
    if known and sent > known + FARTHEST:
        said = f"The number {sent} of a change is far above {known}, the last one here."
        raise _refused(422, "bad-input", str(sent), said, "Send it with the number that follows.")
    if kind == "saw":
        _check_saw(copy, more)
    merged = merge(copy, more)
    if kind == "saw" and _besides_marks(merged) != _besides_marks(copy):
        raise _not_allowed("seen", "it replaces nothing else")
    for path in copy["fields"].keys() | more["fields"].keys():
        many = len(merged["fields"].get(path, []))
        if not many:
            said = f"{shown(path)} would be gone, and nothing in its place."
            fix = "Write that it is taken out, or what stands there now."
            raise _refused(422, "bad-input", shown(path), said, fix)
        if many > MOST_APART and path in more["fields"]:
            said = f"{shown(path)} would have {many} values side by side."
            raise _refused(422, "bad-input", str(many), said, "Pick one of them on a phone first.")
    return merged


def check_size(text: str) -> str:
    """The text of a copy as it is. Raises Refused where it is too large to be kept."""
    if len(text) > LARGEST_COPY:
        said = f"The job would take {len(text)} bytes; {LARGEST_COPY} can be kept."
        fix = "Take out what is not needed any more, or begin a second job for the other walls."
        raise _refused(413, "too-large", f"{len(text)} bytes", said, fix)
    return text


def _folded(writes: list[Any]) -> Any:
    """All of them as one, in pairs: one after the other takes long where they are many."""
    while len(writes) > 1:
        pairs = [writes[i : i + 2] for i in range(0, len(writes), 2)]
        writes = [merge(*pair) if len(pair) == 2 else pair[0] for pair in pairs]
    return writes[0]


def _check_saw(copy: Any, more: Any) -> None:
    """The saw's link marks cuts, in a name of its own, and has seen no more than there is."""
    last: dict[str, int] = {}  # of the changes that are sent, by writer
    for path, writes in sorted(more["fields"].items()):
        if not path.startswith(MARKS):
            raise _not_allowed(path, f"it does not change {shown(path)}")
        for w in writes:
            last[w[0]] = max(w[1] // SIZE, last.get(w[0], 0))
    others = {w[0] for writes in _besides_marks(copy).values() for w in writes}
    for writer, runs in sorted(more["seen"].items()):
        if writer not in last and union(copy["seen"], {writer: runs}) != copy["seen"]:
            raise _not_allowed(writer, f"it has seen no other write of {shown(writer)}")
        if writer in last and (writer in others or runs[-1][1] // SIZE > last[writer]):
            raise _not_allowed(writer, f"it does not write as {shown(writer)}")


def _besides_marks(copy: Any) -> dict[str, Any]:
    return {path: w for path, w in copy["fields"].items() if not path.startswith(MARKS)}


def _not_allowed(value: str, what: str) -> Refused:
    said = f"The saw's link marks cuts; {what}."
    fix = "Do it on a phone that has the link to edit the job."
    return _refused(403, "not-allowed", shown(value), said, fix)


def _refused(status: int, code: str, value: str, said: str, fix: str) -> Refused:
    return Refused(status, code, Problem("writes", value, said, fix))
