"""What the solver is given: the job's runs, which are neighbours, and the boards to be had."""

from collections import namedtuple

from .boards import Chain, Stock
from .job import Job
from .layout import Graph, Limits, Run, free, graph, one
from .solve import Task
from .strips import Strip, run_of
from .walls import Built

# task    the solver's Task
# strips  the Strip of each of the task's runs
# runs    the Run of each
Laid = namedtuple("Laid", "task strips runs")


def limits_of(job: Job) -> Limits:
    """The job's limits on pieces and joints."""
    longest = max([s.length for s in job.board.stock if s.count != 0])
    r = job.rules
    return Limits(r.joint_gap, r.shortest, longest, r.stagger)


def by_price(job: Job) -> bool:
    """Whether cost is money: every stock length has a price. Else it is length bought."""
    return not [1 for s in job.board.stock if s.price is None and s.count != 0]


def task_of(job: Job, built: list[Built]) -> Laid:
    """The task of all walls. Runs of one kind share a graph; neighbours of one kind stand
    one after the other, as a Chain."""
    limits = limits_of(job)
    graphs: list[Graph] = []
    kinds: dict[tuple[int, int, tuple[tuple[int, int], ...]], int] = {}
    runs: list[Run] = []
    strips: list[Strip] = []
    kind_of: list[int] = []
    chains: list[Chain] = []
    for wall in built:
        made = []
        for strip in wall.strips:
            run = _usable(strip, limits)
            key = (run.left, run.right, tuple(run.studs))
            if key not in kinds:
                kinds[key] = len(graphs)
                graphs.append(graph(run, limits))
            made.append((strip, run, kinds[key]))
        for row in _chains(made):
            chains.append(Chain(made[row[0]][2], len(row)))
            for k in row:
                strips.append(made[k][0])
                runs.append(made[k][1])
                kind_of.append(made[k][2])
    near = _near(runs)
    placed = [(kind_of[i], near[i]) for i in range(len(runs))]
    priced = by_price(job)
    kerf = job.rules.kerf
    stock = []
    for i in range(len(job.board.stock)):
        s = job.board.stock[i]
        if s.count != 0:
            stock.append(Stock(s.length + kerf, s.price if priced else s.length, s.count, i))
    return Laid(Task(graphs, placed, chains, stock, kerf, limits.stagger), strips, runs)


def _usable(strip: Strip, limits: Limits) -> Run:
    """The run over the studs that keep clear of boxes and notches, or over all where it must."""
    run = run_of(strip, False)
    if len(strip.spare) > len(strip.studs):
        g = graph(run, limits)
        if one(g, free(g), ()) is None:
            return run_of(strip, True)
    return run


def _chains(made: list[tuple[Strip, Run, int]]) -> list[list[int]]:
    """The runs of one wall grouped into chains: one kind, one above the other."""
    out: list[list[int]] = []
    for k in range(len(made)):
        strip, run, kind = made[k]
        for row in out:
            last = made[row[-1]]
            if last[2] == kind and last[0].course == strip.course - 1 and _meet(last[1], run):
                row.append(k)
                break
        else:
            out.append([k])
    return out


def _near(runs: list[Run]) -> list[list[int]]:
    """For each run those whose joints it has to keep apart from."""
    rows: dict[tuple[int, int], list[int]] = {}
    for i in range(len(runs)):
        key = (runs[i].wall, runs[i].course)
        rows[key] = rows.get(key, []) + [i]
    out = []
    for run in runs:
        around = rows.get((run.wall, run.course - 1), []) + rows.get((run.wall, run.course + 1), [])
        out.append([j for j in around if _meet(run, runs[j])])
    return out


def _meet(a: Run, b: Run) -> bool:
    return bool(max(a.left, b.left) < min(a.right, b.right))


def usual_steps(task: Task) -> int:
    """Moves that fit the time: about a tenth of a second of a laptop for an everyday wall."""
    nodes = max([len(g.x) for g in task.graphs])
    return max(20, min(300, 40000 // (len(task.runs) * nodes)))
