"""The boards that were begun or are no good, and what is left of each."""

from collections import namedtuple

from .lengths import show
from .shapes import shape
from .solver.given import Cut as Given
from .solver.model import ANY, LEFT, RIGHT, WHOLE

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .done import Board, Cut
    from .job import Job
else:
    Any = object

# number    pencilled on it, or 0 for a short piece that nobody cut from yet
# line      its place in the job's stock, or -1
# stock     jots it had when new; kind: "new" or "offcut"; rejected: whether it is no good
# source    the id of the mark of the short piece that it is, or ""
# of        the number of the board that came off, or 0
# pieces    the (run, piece) cut from it, in the order they were marked
# lost      jots that went with pieces that came short or do not fit, their kerfs with them
# left, gone, cost  as the solver's Cut
BegunBoard = namedtuple(
    "BegunBoard", "number line stock kind source of rejected pieces lost left gone cost"
)


def begun_boards(
    job: "Job", finder: Any, cut: "dict[tuple[int, int], Cut]",
    where: list[tuple[int, int] | None], lengths: dict[tuple[int, int], int], priced: bool,
) -> tuple[list[BegunBoard], list[str]]:  # fmt: skip
    """Every board of a mark, by number, then the short pieces that may serve; and sentences.

    finder: marks.py's; cut: the marks that stand; where: the place of each mark in the order of
    the file, None where it has none; lengths: jots of the pieces that are cut. Errors: none.
    """
    sorter = _Sorter(job)
    for mark, at in zip(job.done.cut, where):
        heap = sorter.heap(mark.board)
        if mark.state == "cut" and at is not None and cut[at] is mark:
            heap["pieces"].append(at)
        elif mark.state == "short" or at is None:
            heap["lost"].append(mark)
    for r in job.done.rejected:
        sorter.heap(r.board)["rejected"] = True
    shorts = {m.id: m for m in job.done.cut if m.state == "short"}
    used = [heap["board"].source for heap in sorter.heaps]
    out = [_board(job, finder, heap, shorts, lengths, priced, sorter) for heap in sorter.heaps]
    out.sort(key=lambda b: b.number)
    bad = [b.number for b in out if b.rejected]
    for mark, at in zip(job.done.cut, where):
        if mark.state == "short" and mark.id not in used and mark.board.number not in bad:
            if at is not None and mark.length >= job.rules.shortest and _plain(job, finder, at):
                out.append(
                    BegunBoard(0, -1, mark.length, "offcut", mark.id, mark.board.number, False,
                               [], 0, mark.length, LEFT | RIGHT, 0)
                )  # fmt: skip
    return out, sorter.told


def given(b: BegunBoard, lines: list[int]) -> Given:
    """The board as the solver takes it. lines: of each stock its place in the job's list."""
    stock = lines.index(b.line) if b.line in lines else -1
    return Given(stock, sorted(b.pieces), b.left, b.gone, b.cost)


class _Sorter:
    """Marks by the board they are of."""

    def __init__(self, job: "Job") -> None:
        self.job = job
        self.heaps: list[dict[str, Any]] = []
        self.told: list[str] = []
        done = job.done
        self._next = 1 + max([m.board.number for m in done.cut + done.rejected] + [0])

    def heap(self, board: "Board") -> dict[str, Any]:
        """What is known of the board. Two boards of one number are told of."""
        same = [h for h in self.heaps if h["board"].number == board.number]
        for h in same:
            b = h["board"]
            if (b.stock, b.kind, b.source) == (board.stock, board.kind, board.source):
                return h
        made = {"board": board, "number": board.number, "pieces": [], "lost": [], "rejected": False}
        if same:
            made["number"] = self._next
            self._next += 1
            unit = self.job.unit
            self.told.append(
                "Two boards bear the number %d, one of %s, one of %s: pencil %d on the second."
                % (board.number, show(same[0]["board"].stock, unit), show(board.stock, unit),
                   made["number"])
            )  # fmt: skip
        self.heaps.append(made)
        return made


def _board(
    job: "Job", finder: Any, heap: dict[str, Any], shorts: "dict[str, Cut]",
    lengths: dict[tuple[int, int], int], priced: bool, sorter: _Sorter,
) -> BegunBoard:  # fmt: skip
    board, number, unit = heap["board"], heap["number"], job.unit
    line = _line(job, board)
    source = shorts.get(board.source)
    kerf = job.rules.kerf
    lost = 0
    unknown = False
    for mark in heap["lost"]:
        unknown = unknown or mark.length is None
        lost += (mark.length or 0) + kerf
    trim = 0 if source is not None else 2 * job.rules.trim
    left = board.stock - trim - lost - sum([lengths[at] + kerf for at in heap["pieces"]])
    if left < -kerf:
        sorter.told.append(
            "More is marked as cut from board %d than it has, by %s: take back what was not cut "
            "from it." % (number, show(-kerf - left, unit))
        )
    if unknown:
        sorter.told.append(
            "What is left of board %d is not known, as a piece that was cut from it does not fit "
            "any more: it is not used; measure it, and give it as an offcut." % number
        )
    rejected = heap["rejected"]
    cost = 0
    if board.kind == "new" and source is None:
        cost = board.stock
        if priced:
            cost = (job.board.stock[line].price or 0) if line >= 0 else 0
            if line < 0:
                sorter.told.append(
                    "Board %d, of %s, is of no stock line any more: what it cost is not counted."
                    % (number, show(board.stock, unit))
                )
    return BegunBoard(
        number, line, board.stock, board.kind, board.source if source is not None else "",
        source.board.number if source is not None else 0, rejected, heap["pieces"], lost,
        0 if rejected or unknown else max(left, 0), _gone(job, finder, heap, line), cost,
    )  # fmt: skip


def _line(job: "Job", board: "Board") -> int:
    """The job's stock line that the board is of: that of its id, else one of its length; or -1."""
    if board.source:
        return -1
    rows = job.board.stock
    like = [
        i for i in range(len(rows)) if (rows[i].length, rows[i].kind) == (board.stock, board.kind)
    ]
    named = [i for i in like if rows[i].id == board.line]
    return (named or like or [-1])[0]


def _gone(job: "Job", finder: Any, heap: dict[str, Any], line: int) -> int:
    """The factory ends that the board has no more, as the solver's bits, where ends match."""
    if job.board.ends != "matched" or heap["board"].kind == "offcut":
        return LEFT | RIGHT
    gone = 0
    for n in range(len(heap["pieces"])):
        i, k = heap["pieces"][n]
        last = len(finder.bound[i])
        kind = ANY if not last else RIGHT if k == 0 else LEFT if k == last else WHOLE
        # A first piece that asks for no end may have taken either.
        gone |= LEFT | RIGHT if kind == WHOLE or (kind == ANY and n == 0) else kind
    return LEFT | RIGHT if heap["lost"] else gone


def _plain(job: "Job", finder: Any, at: tuple[int, int]) -> bool:
    """Whether the piece is a plain length of board, square and of full width."""
    i, k = at
    strip, joints, gap = finder.strips[i], finder.bound[i], job.rules.joint_gap
    wall = finder.built[strip.wall]
    left = joints[k - 1] + gap - gap // 2 if k else strip.left
    right = joints[k] - gap // 2 if k < len(joints) else strip.right
    s = shape(
        strip, wall.courses[strip.course], job.board, job.rules.start == "floor", wall.face,
        wall.blocks, left, right, job.rules.sliver,
    )  # fmt: skip
    return s.rip is None and not s.cuts
