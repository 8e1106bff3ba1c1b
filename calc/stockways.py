"""Which stock lengths to buy: the job planned with each alone and with mixes, side by side."""

from .job import Job
from .lengths import show
from .search import searched
from .solver.given import Problem
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
    laid = task_of(job, build(job))
    free = [n - 1 for each in choices(job) for n in each]
    kept = [
        k for k in range(len(laid.lines)) if laid.lines[k] not in free or laid.lines[k] + 1 in lines
    ]
    given = laid.problem
    answer = searched(Problem(given.runs, [given.stock[k] for k in kept], given.rules, []))
    out: dict[str, Any] = {
        "lines": lines, "label": label(job, lines), "boards": 0, "of": "", "cost": "",
        "amount": 0, "problem": "",
    }  # fmt: skip
    if answer is None:
        out["problem"] = "No layout was found with these boards alone."
        return out
    used = [0] * len(job.board.stock)
    for stock, _ in answer.boards:
        line = laid.lines[kept[stock]]
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
