"""A start for a large job: each wall by itself, then all of them on the same boards."""

from .given import Problem, Stock

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .search import Search

# A board of a plan: store index, (run, piece) held.
_LARGE = 150  # runs; more are parted


def parted(problem: Problem) -> list[list[int]]:
    """The runs of each wall, or nothing where the job is not large or boards are begun."""
    walls: dict[int, list[int]] = {}
    for i in range(len(problem.runs)):
        w = problem.runs[i].wall
        walls[w] = walls.get(w, []) + [i]
    if len(problem.runs) < _LARGE or len(walls) < 2 or problem.cuts:
        return []
    return [walls[w] for w in sorted(walls)]


def part_of(problem: Problem, runs: list[int], length: int, total: int) -> Problem:
    """The problem of these runs alone, with their share (length of total) of limited stock."""
    stock = []
    for s in problem.stock:
        count = None if s.count is None else s.count * length // max(total, 1)
        stock.append(Stock(s.length, s.cost, count, s.gone))
    return Problem([problem.runs[i] for i in runs], stock, problem.rules, [])


def span(problem: Problem, runs: list[int]) -> int:
    """How long these runs are in all."""
    return int(sum([problem.runs[i].right - problem.runs[i].left for i in runs]))


def gather(search: "Search", plans: "list[tuple[list[int], Any, Any]]") -> None:
    """Put plans of parts, each (its runs' numbers here, joints, boards), into the empty search."""
    model = search.model
    store_of = {model.stores[t].origin: t for t in range(len(model.stores))}
    for runs, joints, boards in plans:
        for i in range(len(runs)):
            graph = model.graphs[model.graph_of[runs[i]]]
            at = {graph.marks[v]: v for v in range(1, len(graph.marks) - 1)}
            nodes = [at[mark] for mark in joints[i]]
            search.joints[runs[i]] = nodes
            search.cuts[runs[i]] = [-1] * (len(nodes) + 1)
        for origin, held in boards:
            search.place(store_of[origin], [(runs[i], k) for i, k in held])
    search.log = {}
