"""Why no plan exists: which course, which rule, and the least change that mends it.

Found from the smallest group of runs that cannot be laid: one run, two neighbours, three.
Each mend named is tried on the whole job first: it makes every such group possible.
"""

from collections import namedtuple

from .given import Problem, Rules, Run, Stock
from .model import Model
from .units import stack, stacks

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable

# wall, course  0-based; courses: how many neighbouring ones the group takes, from this one on
# rule          "longest": a piece would be longer than any board; "shortest": pieces would be
#               too short; "stagger": joints would be too near each other; "matched": matched
#               ends ask for whole boards that do not fit; "stock": no board at all
# mends         list of Mend, each alone enough
Reason = namedtuple("Reason", "wall course courses rule mends")

# kind  "board": a stock length of `value` or more; "shortest", "stagger", "reach": that rule
#       at most `value`; "turn": ends not matched; "stud": one more stud at `value`
Mend = namedtuple("Mend", "kind value")


def why(problem: Problem) -> Reason | None:
    """Why the problem has no plan, or None where each group of neighbours can be laid."""
    if not problem.stock or max([-1 if s.count == 0 else s.length for s in problem.stock]) <= 0:
        return Reason(0, 0, 1, "stock", [])
    found = _broken(problem)
    if not found:
        return None
    group = found[0]
    first = problem.runs[group[0]]
    rule = _rule(problem, group)
    return Reason(first.wall, first.course, len(group), rule, _mends(problem, group))


def _broken(problem: Problem) -> list[list[int]]:
    """The first group of runs that cannot be laid, smallest first, or none."""
    model = Model(problem)
    for k in range(len(problem.runs)):
        if not stack(model, (model.graph_of[k],)).arcs:
            return [[k]]
    for key, groups in stacks(model):
        for size in range(2, len(key) + 1):
            for at in range(len(key) - size + 1):
                if not stack(model, key[at : at + size]).arcs:
                    return [groups[0][at : at + size]]
    return []


def _possible(problem: Problem) -> bool:
    return not _broken(problem)


def _rule(problem: Problem, group: list[int]) -> str:
    """The rule that alone, taken away, lets the group be laid."""
    if len(group) > 1:
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
    )
    return Problem(problem.runs, problem.stock, rules, problem.cuts)


def _longer(problem: Problem, length: int) -> Problem:
    """The problem with boards of this length to be had besides."""
    dear = max([s.cost for s in problem.stock])
    stock = problem.stock + [Stock(length, dear, None, 0)]
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


def _mends(problem: Problem, group: list[int]) -> list[Mend]:
    """The least changes that make every group possible, each tried."""
    spans = _spans(problem)
    rules = problem.rules
    longest = max([s.length for s in problem.stock])
    out = []
    boards = [x + 2 * rules.trim for x in spans if x + 2 * rules.trim > longest]
    k = _first(len(boards), lambda i: _possible(_longer(problem, boards[i])))
    if k >= 0:
        out.append(Mend("board", boards[k]))
    shorter = [x for x in spans if x < rules.shortest][::-1]
    k = _first(len(shorter), lambda i: _possible(_ruled(problem, "shortest", shorter[i])))
    if k >= 0:
        out.append(Mend("shortest", shorter[k]))
    apart = sorted({x for x in _gaps(problem) if x < rules.stagger})[::-1]
    k = _first(len(apart), lambda i: _possible(_ruled(problem, "stagger", apart[i])))
    if k >= 0:
        out.append(Mend("stagger", apart[k]))
    if rules.reach > 1 and _possible(_ruled(problem, "reach", 1)):
        out.append(Mend("reach", 1))
    if rules.matched and _possible(_ruled(problem, "matched", False)):
        out.append(Mend("turn", 0))
    for run in group:
        at = _stud(problem, run)
        if at is not None:
            out.append(Mend("stud", at))
            break
    return out


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


def _stud(problem: Problem, run: int) -> int | None:
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
        if _possible(_with_stud(problem, r.wall, at)):
            return int(at)
    return None
