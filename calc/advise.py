"""Why a job cannot be laid out, and the least change that mends it, tried before it is named."""

from .boards import Chain, Stock
from .job import Job
from .layout import Limits, Run, feasible, graph
from .lengths import JOTS_PER_INCH, JOTS_PER_MM, show
from .problems import Problem
from .solve import Task, solve
from .task import limits_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable

    from .task import Laid
    from .walls import Built


def cannot_lay(job: Job, built: "list[Built]", laid: "Laid", sure: bool = False) -> list[Problem]:
    """One Problem for each kind of run that no layout can meet: course, rule and mends.

    Each mend is the least change of one rule, and was tried: with it alone
    the run can be laid. Where each run by itself can be laid and only together
    none was found, that is said, but for `sure`: only what is certain.
    """
    out = []
    start = 0
    task = laid.task
    limits = limits_of(job)
    for chain in task.chains:
        run = laid.runs[start]
        rows = built[run.wall].courses
        names = [rows[run.course + k].number for k in range(chain.courses)]
        start += chain.courses
        if not feasible(graph(run, limits), chain.courses, limits.stagger):
            out.append(_explain(job, run, chain, limits, names))
    if not out and not sure:
        value = show(limits.stagger, job.unit)
        out.append(
            Problem(
                "rules.stagger", value,
                "No layout was found that keeps the joints of neighbouring courses apart.",
                "Try a smaller stagger, a smaller shortest piece, or longer boards.",
            )
        )  # fmt: skip
    return out


def _explain(job: Job, run: Run, chain: Chain, limits: Limits, names: list[int]) -> Problem:
    unit = job.unit

    def lays(shortest: int, longest: int, stagger: int, courses: int) -> bool:
        g = graph(run, Limits(limits.joint_gap, shortest, longest, stagger))
        return feasible(g, courses, stagger)

    if not lays(0, limits.longest, 0, 1):
        course, field = "Course %d" % names[0], "board.stock"
        value = show(limits.longest, unit)
        message = "no joint can be reached with boards of %s" % value
    elif not lays(limits.shortest, limits.longest, 0, 1):
        course, field = "Course %d" % names[0], "rules.shortest"
        value = show(limits.shortest, unit)
        message = "every layout has a piece under the shortest, %s" % value
    else:
        course, field = "Course %d" % names[1], "rules.stagger"
        value = show(limits.stagger, unit)
        message = "every layout joins on a stud of course %d" % names[0]
        if limits.stagger:
            message += ", or nearer to its joints than the stagger of %s" % value
    n = chain.courses
    mends = []
    longer = _least(_sizes(run, limits), lambda x: lays(limits.shortest, x, limits.stagger, n))
    if longer is not None:
        mends.append("boards of %s or longer" % _up(longer, unit))
    sizes = [s for s in _sizes(run, limits) if s < limits.shortest][::-1]
    shorter = _least(sizes, lambda x: lays(x, limits.longest, limits.stagger, n))
    if shorter is not None:
        mends.append("a shortest piece of %s" % _down(shorter, unit))
    steps = _distances(run, limits.stagger)
    nearer = _least(steps, lambda x: lays(limits.shortest, limits.longest, x, n))
    if nearer is not None:
        mends.append("a stagger of %s" % _down(nearer, unit))
    fix = "Any one of these mends it: %s." if len(mends) > 1 else "This mends it: %s."
    if len(job.walls) > 1:
        course = "%s, c%s" % (job.walls[run.wall].name, course[1:])
    return Problem(field, value, "%s: %s." % (course, message), fix % "; ".join(mends))


def _sizes(run: Run, limits: Limits) -> list[int]:
    """Every piece length the run could have with boards of any length, ascending."""
    g = graph(run, Limits(limits.joint_gap, 0, run.right - run.left, 0))
    return sorted(set([length for out in g.arcs for _, length in out]))


def _distances(run: Run, below: int) -> list[int]:
    """Distances between studs under `below`, longest first, and 0."""
    at = [x for _, x in run.studs]
    found = set([0])
    for x in at:
        for y in at:
            if x < y and y - x < below:
                found.add(y - x)
    return sorted(found)[::-1]


def _least(values: list[int], works: "Callable[[int], bool]") -> int | None:
    """The first of the values that works, where all after one that works do too."""
    lo, hi = 0, len(values)
    while lo < hi:
        mid = (lo + hi) // 2
        if works(values[mid]):
            hi = mid
        else:
            lo = mid + 1
    return values[lo] if lo < len(values) else None


def _up(jots: int, unit: str) -> str:
    """The least length of 1/16 in or 1 mm steps that is not less."""
    step = _step(unit)
    return show(-(-jots // step) * step, unit)


def _down(jots: int, unit: str) -> str:
    """The greatest length of 1/16 in or 1 mm steps that is not more."""
    step = _step(unit)
    return show(jots // step * step, unit)


def _step(unit: str) -> int:
    return JOTS_PER_INCH // 16 if unit in ("in", "ft") else JOTS_PER_MM


def not_enough(job: Job, task: Task, steps: int, seed: int) -> list[Problem]:
    """The counts do not suffice: with how many more boards a plan was found."""
    unit = job.unit
    counts = [
        "%d of %s" % (s.count, show(s.cap - task.kerf, unit))
        for s in task.stock
        if s.count is not None
    ]
    more = _more(task, steps, seed)
    wants = []
    for i in range(len(task.stock)):
        if more[i]:
            wants.append("%d of %s" % (more[i], show(task.stock[i].cap - task.kerf, unit)))
    return [
        Problem(
            "board.stock",
            ", ".join(counts),
            "No cutting was found with the boards to be had (%s)." % ", ".join(counts),
            "With %s more it can be done." % " and ".join(wants),
        )
    ]


def _more(task: Task, steps: int, seed: int) -> list[int]:
    """Boards of each stock to add to its count; a plan was found with them."""
    more = [0] * len(task.stock)
    while True:
        stock = []
        for i in range(len(task.stock)):
            s = task.stock[i]
            stock.append(
                Stock(s.cap, s.cost, None if s.count is None else s.count + more[i], s.index)
            )
        solution = solve(
            Task(task.graphs, task.runs, task.chains, stock, task.kerf, task.stagger), steps, seed
        )
        if solution is None or not solution.over:
            return more
        for i in range(len(stock)):
            used = len([1 for index, _ in solution.boards if index == stock[i].index])
            count = stock[i].count
            if count is not None and used > count:
                more[i] += used - count
