"""What was written apart: which of the values that stand side by side differ in what they mean."""

from ..jobread import Reader
from .merge import value_rank
from .paths import field_at

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .merge import Write
else:
    Any = object


def different(path: str, writes: "list[Write]", unit: str) -> "list[Write]":
    """One write of each meaning among those of a field, in order, the last of its kind.

    unit: one of UNITS, of bare numbers. The same are: lengths that are the same to the jot,
    numbers and money however typed, and whatever is as good as nothing. An item is there or not,
    wherever it stands. Errors: none.
    """
    if len(writes) < 2:
        return writes
    meant = [_meaning(path, w[2:], unit) for w in writes]
    last = dict([(meant[i], i) for i in range(len(writes))])
    return [writes[i] for i in range(len(writes)) if last[meant[i]] == i]


def _meaning(path: str, tail: "list[Any]", unit: str) -> tuple[str, Any]:
    """What makes two values the same: its kind, and the value as it is read."""
    field, item = field_at(path)
    if item:
        return ("there", len(tail))
    if not tail or tail[0] is None or tail[0] == "" or tail[0] == []:
        return ("nothing", 0)
    reader = Reader(unit)
    read = None if field is None else reader.value("", "", tail[0], field)
    return ("typed", value_rank(tail)) if reader.problems else ("read", value_rank(read))
