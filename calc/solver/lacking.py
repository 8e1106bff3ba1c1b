"""What a problem lacks of which no plan was found: a layout, boards to be had, or luck."""

from .given import Problem, Stock
from .solve import solve
from .why import Mend, Reason, mended, why

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .given import Answer


def lacking(problem: Problem, seed: int, steps: int) -> Reason:
    """Why solve() found no plan with these steps.

    Rule "count": the boards to be had are proven too few; "search": nothing is proven, only
    none was found in so many steps. Both name the boards that a plan was found with, if
    any. They are of no course: wall and course are -1. Other rules: see why.py. Errors: none.
    """
    reason = why(problem, laid)
    if reason is not None:
        return reason
    beyond = _beyond(problem)
    answer = _tried(beyond, seed, steps)
    if answer is None or not answer.cost:
        return Reason(-1, -1, 0, "search", [])
    rule = "count" if answer.bound > 0 else "search"
    more = []
    counted = [i for i in range(len(problem.stock)) if problem.stock[i].count is not None]
    for k in range(len(counted)):
        n = len([1 for stock, _ in answer.boards if stock == len(problem.stock) + k])
        if n:
            more.append((counted[k], n))
    mend = Mend("count", more)
    if _tried(mended(problem, -1, mend), seed, steps) is None:
        return Reason(-1, -1, 0, rule, [])
    return Reason(-1, -1, 0, rule, [mend])


def laid(problem: Problem) -> bool:
    """Whether a plan is found soon, with as many boards as it takes. Errors: none."""
    stock = [Stock(s.length, s.cost, None, s.gone) for s in problem.stock]
    given = Problem(problem.runs, stock, problem.rules, problem.cuts)
    return _tried(given, 1, 0) is not None


def _beyond(problem: Problem) -> Problem:
    """What is to be had costs nothing; each board beyond its count, as stock of its own, 1."""
    stock = [Stock(s.length, 0, s.count, s.gone) for s in problem.stock]
    stock += [Stock(s.length, 1, None, s.gone) for s in problem.stock if s.count is not None]
    return Problem(problem.runs, stock, problem.rules, problem.cuts)


def _tried(problem: Problem, seed: int, steps: int) -> "Answer | None":
    return solve(problem, lambda: 0.0, seed, steps, lambda _: None)
