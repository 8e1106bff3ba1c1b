"""Which stock lengths to buy: the job planned with each alone and with mixes, side by side."""

from .job import Board, Job, Stock, planned_as
from .lengths import show
from .search import searched
from .task import by_price, task_of
from .walls import build
from .words import cost_text

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object


def choices(job: Job) -> list[list[int]]:
    """Lines of the job's stock, from 1, to be bought together: each alone, each two, all.

    Lines with a count, as offcuts on site, go with every choice; they are not listed.
    """
    stock = job.board.stock
    lines = [i + 1 for i in range(len(stock)) if stock[i].count is None and stock[i].kind == "new"]
    out = [[i] for i in lines]
    out += [[i, j] for i in lines for j in lines if i < j]
    return out + [lines] if len(lines) > 2 else out


def label(job: Job, lines: list[int]) -> str:
    """'96" alone', '96" and 144"'."""
    names = [show(job.board.stock[i - 1].length, job.unit) for i in lines]
    if len(names) == 1:
        return names[0] + " alone"
    return " and ".join([", ".join(names[:-1]), names[-1]])


def way(job: Job, lines: list[int]) -> dict[str, Any]:
    """What the job takes of these lines, as a JSON object.

    job: as read, without problems of its own; lines: one of choices.
    boards: how many to buy; of: how many of each length, as text; cost: text, the money or the
    length bought; amount: the same as a number to compare by; problem: why not, or "".
    """
    given = _of(job, lines)
    laid = task_of(given, build(given))
    answer = searched(laid.problem)
    out: dict[str, Any] = {
        "lines": lines, "label": label(job, lines), "boards": 0, "of": "", "cost": "",
        "amount": 0, "problem": "",
    }  # fmt: skip
    if answer is None:
        out["problem"] = "No layout was found with these boards alone."
        return out
    used = [0] * len(job.board.stock)
    for stock, _ in answer.boards:
        line = laid.lines[stock]
        if job.board.stock[line].kind == "new":
            used[line] += 1
    out["boards"] = sum(used)
    out["of"] = ", ".join(
        ["%d of %s" % (used[i], show(job.board.stock[i].length, job.unit))
         for i in range(len(used)) if used[i]]
    )  # fmt: skip
    out["cost"] = cost_text(answer.cost, by_price(job), job.unit)
    out["amount"] = answer.cost
    return out


def _of(job: Job, lines: list[int]) -> Job:
    """The job as if nothing were cut yet, and nothing to be bought but these lines.

    They are priced as all of them are.
    """
    free = [n for each in choices(job) for n in each]
    priced = by_price(job)
    stock = []
    for i, s in enumerate(job.board.stock):
        out = i + 1 in free and i + 1 not in lines
        count = 0 if out else s.count
        stock.append(Stock(s.length, s.price if priced else None, count, s.kind, s.id))
    b = job.board
    board = Board(b.face, b.overall, b.thickness, b.edge, stock, b.ends, b.species, b.grain)
    return planned_as(job, board, job.rules)
