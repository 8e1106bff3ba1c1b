"""What is done of a job already: pieces cut or come short, boards that are no good, calls.

The records, and what is wrong with them by themselves. Whether they fit the walls as they
are surveyed now is no matter of the job file: marks.py looks at that.
"""

from collections import namedtuple

from .jobread import Reader

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

# Each a list in the order of the file.
Done = namedtuple("Done", "cut rejected called")
# Where a piece hangs. wall: the wall's id; course: as the plan counts it; run, piece: from 1;
# joints: jots from the left corner, of all joints of its run.
Place = namedtuple("Place", "wall course run piece joints")
# number: pencilled on it; stock: jots it had when new; kind: "new" or "offcut"; line: the id of
# its stock line, or ""; source: the id of the Cut that came short whose piece it is, or "".
Board = namedtuple("Board", "number stock kind line source")
# state "cut", or "short": it came out too short; length: jots it has, or None where it is cut as
# planned; name: what is pencilled on it, or "".
Cut = namedtuple("Cut", "id place board state length name")
Rejected = namedtuple("Rejected", "id board why")
Called = namedtuple("Called", "id place length")

_PLACE = (
    ("wall", "Give the id of the wall it hangs on."),
    ("course", "Give the course, as the plan counts it."),
    ("run", "Give its run's place in the course, from 1."),
    ("piece", "Give its place in the run, from 1."),
)
_BOARD = (
    ("board", "Give the number pencilled on the board."),
    ("stock", "Give the length that the board had when it was new."),
)
_NEEDED = {"cut": _PLACE + _BOARD, "rejected": _BOARD, "called": _PLACE}
_LABEL = {"cut": "Cut", "rejected": "Rejected board", "called": "Called length"}


def read_done(v: dict[str, Any]) -> Done | None:
    """The records of the values read of "done", or None where nothing is marked.

    v: lists of values by field, without anything wrong in them. Errors: none.
    """
    lists = [v.get(key) or [] for key in ("cut", "rejected", "called")]
    if not [1 for rows in lists if rows]:
        return None
    cut, rejected, called = lists
    return Done(
        [
            Cut(_id(r, i), _place(r), _board(r), r.get("state", "cut"), r.get("length"),
                r.get("name", ""))
            for i, r in enumerate(cut)
        ],
        [Rejected(_id(r, i), _board(r), r.get("why", "")) for i, r in enumerate(rejected)],
        [Called(_id(r, i), _place(r), r["length"]) for i, r in enumerate(called)],
    )  # fmt: skip


def _id(row: dict[str, Any], place: int) -> str:
    return str(row.get("id") or place + 1)


def _place(r: dict[str, Any]) -> Place:
    return Place(r["wall"], r["course"], r["run"], r["piece"], r.get("joints") or [])


def _board(r: dict[str, Any]) -> Board:
    return Board(r["board"], r["stock"], r.get("kind", "new"), r.get("line", ""), r.get("from", ""))


def check_done(v: dict[str, Any], reader: Reader) -> None:
    """Add what is wrong with the values of "done" to the reader's problems. Errors: none."""
    for key in ("cut", "rejected", "called"):
        rows = v.get(key) or []
        for i in range(len(rows)):
            path, label = "done.%s[%d]" % (key, i), "%s %d" % (_LABEL[key], i + 1)
            if not [1 for p in reader.problems if p.field.startswith(path)]:
                _check(rows[i], key, path + ".", label, reader)


def _check(row: dict[str, Any], key: str, path: str, label: str, reader: Reader) -> None:
    for field, fix in _NEEDED[key]:
        if field not in row:
            say = "%s: its %s is not given." % (label, "length" if field == "stock" else field)
            reader.add(path + field, None, say, fix)
            return
    if key != "rejected":
        _check_place(row, path, label, reader)
    needs = "came short" if row.get("state") == "short" else "was called" if key == "called" else ""
    if needs and "length" not in row:
        reader.add(
            path + "length", None, "%s: it %s, and its length is not given." % (label, needs),
            "Give the length it has." if key == "cut" else "Give the length that was called.",
        )  # fmt: skip
    if key != "called" and row.get("length", 0) > row["stock"]:
        reader.add_length(
            path + "length", row["length"], label + ": %s is more than its board has.",
            "Give at most %s, or another board.", row["stock"],
        )  # fmt: skip


def _check_place(row: dict[str, Any], path: str, label: str, reader: Reader) -> None:
    joints = row.get("joints") or []
    for j in range(1, len(joints)):
        if joints[j] <= joints[j - 1]:
            reader.add_length(
                path + "joints[%d]" % j, joints[j], label + ": its joint at %s is not right of "
                "the one before.", "Give the joints of its run from left to right.", None,
            )  # fmt: skip
            return
    if row["piece"] > len(joints) + 1:
        reader.add(
            path + "piece", row["piece"],
            "%s: with so many joints its run has no piece %d." % (label, row["piece"]),
            "Give 1 to %d, or all the joints of the run." % (len(joints) + 1),
        )  # fmt: skip
    elif path.startswith("done.called") and row["piece"] not in (1, len(joints) + 1):
        say = "%s: piece %d ends at two joints." % (label, row["piece"])
        reader.add(
            path + "piece", row["piece"], say,
            "Call the first piece of a run, or its last: 1 or %d." % (len(joints) + 1),
        )  # fmt: skip
