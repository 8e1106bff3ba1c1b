"""Why no plan exists: which courses, which rule, and the least change that mends it.

Found from the smallest group of neighbouring courses whose runs cannot be laid together,
be it one course or a whole wall. Each mend named is tried on the whole job first.
"""

from collections import namedtuple

from .beside import Beside
from .given import Problem, Rules, Run, Stock
from .model import Model
from .units import stack, stacks

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable

# wall, course  0-based; courses: how many neighbouring ones the group takes, from this one on
# rule          "longest": a piece would be longer than any board; "shortest": pieces would be
#               too short; "stagger": joints would be too near each other; "matched": matched
#               ends ask for whole boards that do not fit; "stock": no board at all; by
#               lacking.py also "count": too few boards to be had, and "search": no plan was
#               found, which proves nothing
# mends         list of Mend, each alone enough
Reason = namedtuple("Reason", "wall course courses rule mends")

# kind  "board": a stock length of `value` or more; "shortest", "stagger", "reach": that rule
#       at most `value`; "turn": ends not matched; "stud": one more stud at `value`;
#       "count": so many boards more, a list of (stock index, how many) that go together
Mend = namedtuple("Mend", "kind value")


def why(problem: Problem, tried: "Callable[[Problem], bool] | None" = None) -> Reason | None:
    """Why the runs have no layouts, or None where none is known that can't be laid.

    tried: whether a plan is found, asked of each mend before it is named; without it a mend
    only takes away every hindrance that is known here. Counts of boards to be had are not
    looked at: see lacking.py. Errors: none.
    """
    if not problem.stock or max([-1 if s.count == 0 else s.length for s in problem.stock]) <= 0:
        return Reason(0, 0, 1, "stock", [])
    found = _broken(problem)
    if not found:
        return None
    rows = sorted({(problem.runs[i].wall, problem.runs[i].course) for i in found})
    wall, course = rows[0]
    many = rows[-1][1] - course + 1
    return Reason(wall, course, many, _rule(problem, found), _mends(problem, found, tried))


def _broken(problem: Problem) -> list[int]:
    """The runs of the fewest neighbouring courses that cannot be laid, or none."""
    model = Model(problem)
    for k in range(len(problem.runs)):
        if not stack(model, (model.graph_of[k],)).arcs:
            return [k]
    for key, groups in stacks(model):
        for size in range(2, len(key) + 1):
            for at in range(len(key) - size + 1):
                if not stack(model, key[at : at + size]).arcs:
                    return groups[0][at : at + size]
    beside = Beside(model)
    walls: dict[int, list[int]] = {}
    for i in range(len(problem.runs)):
        walls[problem.runs[i].wall] = walls.get(problem.runs[i].wall, []) + [i]
    least: list[int] = []
    fewest = 0
    for wall in sorted(walls):
        if not beside.possible(walls[wall]):
            runs, courses = _window(problem, beside, walls[wall])
            if not least or courses < fewest:
                least, fewest = runs, courses
    for run in list(least):
        rest = [r for r in least if r != run]
        if not beside.possible(rest):
            least = rest
    return least


def _window(problem: Problem, beside: Beside, runs: list[int]) -> tuple[list[int], int]:
    """The runs of the fewest courses in a row that cannot be laid, and how many courses."""
    course = [problem.runs[i].course for i in runs]
    best, fewest = runs, max(course) - min(course) + 1
    last = min(course)
    for first in range(min(course), max(course) + 1):
        while last <= max(course):
            these = [runs[k] for k in range(len(runs)) if first <= course[k] <= last]
            if not beside.possible(these):
                if last - first + 1 < fewest:
                    best, fewest = these, last - first + 1
                break
            last += 1
    return best, fewest


def _possible(problem: Problem) -> bool:
    return not _broken(problem)


def _rule(problem: Problem, group: list[int]) -> str:
    """The rule that alone, taken away, lets the group be laid."""
    if len({problem.runs[i].course for i in group}) > 1:
        return "stagger"
    alone = Problem([problem.runs[i] for i in group], problem.stock, problem.rules, [])
    if problem.rules.matched and _possible(_ruled(alone, "matched", False)):
        return "matched"
    return "shortest" if _possible(_ruled(alone, "shortest", 1)) else "longest"


def _ruled(problem: Problem, name: str, value: int) -> Problem:
    """The problem with one rule changed."""
    r = problem.rules
    rules = Rules(
        r.kerf,
        r.trim,
        r.joint_gap,
        value if name == "shortest" else r.shortest,
        r.offsets,
        value if name == "stagger" else r.stagger,
        value if name == "reach" else r.reach,
        bool(value) if name == "matched" else r.matched,
        r.soft,
        r.soft_reach,
        r.kept,
    )
    return Problem(problem.runs, problem.stock, rules, problem.cuts)


def _longer(problem: Problem, length: int) -> Problem:
    """The problem with boards of this length to be had besides."""
    dear = max([s.cost for s in problem.stock])
    stock = problem.stock + [Stock(length, dear, None, 0)]
    return Problem(problem.runs, stock, problem.rules, problem.cuts)


def _with_more(problem: Problem, more: list[tuple[int, int]]) -> Problem:
    """The problem with so many boards more of these (stock index, how many)."""
    stock = list(problem.stock)
    for i, n in more:
        s = stock[i]
        stock[i] = Stock(s.length, s.cost, s.count + n, s.gone)
    return Problem(problem.runs, stock, problem.rules, problem.cuts)


def _with_stud(problem: Problem, wall: int, at: int) -> Problem:
    """The problem with one more stud on the wall; it takes the number after the last."""
    number = 1 + max([-1] + [n for r in problem.runs if r.wall == wall for n, _ in r.studs])
    runs = []
    for r in problem.runs:
        studs = r.studs
        if r.wall == wall and r.joints is None and r.left < at < r.right:
            studs = sorted(studs + [(number, at)], key=lambda s: (s[1], s[0]))
        runs.append(Run(r.wall, r.course, r.left, r.right, studs, r.more, r.joints))
    return Problem(runs, problem.stock, problem.rules, problem.cuts)


def _mends(
    problem: Problem, group: list[int], tried: "Callable[[Problem], bool] | None"
) -> list[Mend]:
    """The least changes that make every group possible, each tried."""

    def mends(changed: Problem) -> bool:
        return _possible(changed) and (tried is None or tried(changed))

    spans = _spans(problem)
    rules = problem.rules
    longest = max([s.length for s in problem.stock])
    out = []
    boards = [x + 2 * rules.trim for x in spans if x + 2 * rules.trim > longest]
    k = _first(len(boards), lambda i: mends(_longer(problem, boards[i])))
    if k >= 0:
        out.append(Mend("board", boards[k]))
    shorter = [x for x in spans if x < rules.shortest][::-1]
    k = _first(len(shorter), lambda i: mends(_ruled(problem, "shortest", shorter[i])))
    if k >= 0:
        out.append(Mend("shortest", shorter[k]))
    apart = sorted({x for x in _gaps(problem) if x < rules.stagger})[::-1]
    k = _first(len(apart), lambda i: mends(_ruled(problem, "stagger", apart[i])))
    if k >= 0:
        out.append(Mend("stagger", apart[k]))
    if rules.reach > 1 and mends(_ruled(problem, "reach", 1)):
        out.append(Mend("reach", 1))
    if rules.matched and mends(_ruled(problem, "matched", False)):
        out.append(Mend("turn", 0))
    for run in group:
        at = _stud(problem, run, mends)
        if at is not None:
            out.append(Mend("stud", at))
            break
    return out


def mended(problem: Problem, wall: int, mend: Mend) -> Problem:
    """The problem with a mend of a Reason made; wall: that of the Reason. Errors: none."""
    if mend.kind == "board":
        return _longer(problem, mend.value)
    if mend.kind == "stud":
        return _with_stud(problem, wall, mend.value)
    if mend.kind == "count":
        return _with_more(problem, mend.value)
    if mend.kind == "turn":
        return _ruled(problem, "matched", 0)
    return _ruled(problem, mend.kind, mend.value)


def _first(count: int, holds: "Callable[[int], bool]") -> int:
    """The first i below count that holds, where all after it hold too; or -1."""
    if count == 0 or not holds(count - 1):
        return -1
    lo, hi = 0, count - 1
    while lo < hi:
        mid = (lo + hi) // 2
        if holds(mid):
            hi = mid
        else:
            lo = mid + 1
    return lo


def _spans(problem: Problem) -> list[int]:
    """Every length a piece could have by the studs alone, ascending."""
    gap = problem.rules.joint_gap
    half = gap // 2
    found = set()
    for r in problem.runs:
        inner = [at + o for _, at in r.studs for o in problem.rules.offsets]
        inside = sorted({x for x in inner if r.left < x < r.right})
        found.add(r.right - r.left + r.more[0] + r.more[1])
        for i in range(len(inside)):
            found.add(inside[i] - half - r.left + r.more[0])
            found.add(r.right - inside[i] - (gap - half) + r.more[1])
            for j in range(i + 1, len(inside)):
                found.add(inside[j] - inside[i] - gap)
    return sorted({x for x in found if x > 0})


def _gaps(problem: Problem) -> list[int]:
    """Every distance of two studs of one wall, and 0."""
    walls: dict[int, set[int]] = {}
    for r in problem.runs:
        walls[r.wall] = walls.get(r.wall, set()) | {at for _, at in r.studs}
    out = [0]
    for wall in sorted(walls):
        studs = sorted(walls[wall])
        for i in range(len(studs)):
            out += [studs[j] - studs[i] for j in range(i + 1, len(studs))]
    return out


def _stud(problem: Problem, run: int, mends: "Callable[[Problem], bool]") -> int | None:
    """Where one more stud lets everything be laid, nearest the middle of the run; or None."""
    r = problem.runs[run]
    ends = [r.left] + [at for _, at in r.studs if r.left < at < r.right] + [r.right]
    longest = max([s.length for s in problem.stock]) - 2 * problem.rules.trim
    places = {(ends[i] + ends[i + 1]) // 2 for i in range(len(ends) - 1)}
    for x in ends:
        for step in (longest, problem.rules.shortest):
            places.add(x + step)
            places.add(x - step)
    middle = (r.left + r.right) // 2
    inside = [x for x in sorted(places) if r.left < x < r.right and x not in ends]
    for at in sorted(inside, key=lambda x: (abs(x - middle), x)):
        if mends(_with_stud(problem, r.wall, at)):
            return int(at)
    return None
