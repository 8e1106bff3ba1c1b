"""What the solver is given: the job's runs and rules, and the boards to be had."""

from collections import namedtuple

from .job import Job
from .solver.given import Problem, Rules, Run, Stock
from .solver.why import why
from .strips import run_of
from .walls import Built

# problem  the solver's Problem
# strips   the Strip of each of its runs
# lines    for each of its stock the place in the job's list
Laid = namedtuple("Laid", "problem strips lines")


def by_price(job: Job) -> bool:
    """Whether cost is money: every stock length has a price. Else it is length bought."""
    return not [1 for s in job.board.stock if s.price is None and s.count != 0]


def task_of(job: Job, built: list[Built]) -> Laid:
    """The problem of all walls together, lengths in jots, costs in hundredths or jots."""
    r = job.rules
    rules = Rules(r.kerf, 0, r.joint_gap, r.shortest, [0], r.stagger, 1, False, 0, 2)
    priced = by_price(job)
    lines = [i for i in range(len(job.board.stock)) if job.board.stock[i].count != 0]
    stock = []
    for i in lines:
        s = job.board.stock[i]
        stock.append(Stock(s.length, s.price if priced else s.length, s.count, 0))
    strips = [strip for wall in built for strip in wall.strips]
    runs: list[Run] = []
    clear: dict[tuple[int, int, tuple[tuple[int, int], ...]], bool] = {}
    for strip in strips:
        run = run_of(strip, False)
        if len(strip.spare) > len(strip.studs):
            key = (run.left, run.right, tuple(run.studs))
            if key not in clear:
                clear[key] = why(Problem([run], stock, rules, [])) is None
            if not clear[key]:
                run = run_of(strip, True)
        runs.append(run)
    return Laid(Problem(runs, stock, rules, []), strips, lines)
