"""The plan's search: the solver over all boards, then whether the longest alone do as well."""

from .solver.given import Answer, Cut, Problem, Progress
from .solver.solve import Solver

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterator

SEED = 1
SHORT = 200  # moves that tell one way of dividing a wall from another


def usual_steps(problem: Problem) -> int:
    """Moves of the solver that suit the size of the problem."""
    return max(1500, 30 * len(problem.runs))


def searched(problem: Problem, steps: int | None = None) -> Answer | None:
    """The answer after at most so many moves, the usual ones where none are given, or None."""
    search = PlanSearch(problem, steps)
    for _ in search.slices():
        pass
    return search.answer()


class PlanSearch:
    """A search that can be left and taken up again: see Solver.

    Of plans that cost the same the one with the fewest boards is taken, of those the one
    with the fewest joints. The longest boards alone often cost no more, and the solver, which
    counts cost, would have to change many boards at once to find that.
    """

    def __init__(self, problem: Problem, steps: int | None = None) -> None:
        """steps: the most moves of the solver, 0 or more; None for the usual ones."""
        self.problem = problem
        self.steps = usual_steps(problem) if steps is None else steps
        self._all = Solver(problem, _in_time, SEED, self.steps)
        top = max([0] + [s.length for s in problem.stock if s.cost > 0])
        self._longest = [i for i, s in enumerate(problem.stock) if s.length == top or s.cost == 0]
        self._alone: Answer | None = None
        self._open = True

    def slices(self) -> "Iterator[Progress | None]":
        """Search to the end; each turn is a little work, a Progress where something is better."""
        for progress in self._all.slices():
            if progress is not None and progress.cost == progress.bound:
                self._open = False
            yield progress
        self._open = False
        best = self._all.answer()
        if best is None or not best.cost or len(self._longest) == len(self.problem.stock):
            return
        stock = [self.problem.stock[i] for i in self._longest]
        cuts = [
            Cut(at(self._longest, c.stock), c.pieces, c.left, c.gone, c.cost)
            for c in self.problem.cuts
        ]
        alone = Solver(
            Problem(self.problem.runs, stock, self.problem.rules, cuts),
            _in_time, SEED, self.steps // 2,
        )  # fmt: skip
        for progress in alone.slices():
            if progress is not None and progress.bound > best.cost:
                return
            yield None
        self._alone = alone.answer()

    def share(self) -> float:
        """How much of the search for cheaper boards is done, 0 to 1; 1 where none are left."""
        return min(1.0, self._all.made / max(self.steps, 1)) if self._open else 1.0

    def answer(self) -> Answer | None:
        """The best plan so far: the cheapest, of those the fewest boards, then joints; or None."""
        best, other = self._all.answer(), self._alone
        if best is None:
            return None
        joints, boards, cost, look = best.joints, best.boards, best.cost, best.look
        if other is not None and _rank(other) < _rank(best):
            begun = len(self.problem.cuts)
            boards = [(c.stock, held) for c, (_, held) in zip(self.problem.cuts, other.boards)]
            boards += [(self._longest[stock], held) for stock, held in other.boards[begun:]]
            joints, cost, look = other.joints, other.cost, other.look
        # The plan file carries prices alone: a bound by branching is not claimed in it.
        bound = best.certificate.cost
        proven = cost == bound
        return Answer(
            joints, boards, cost, bound, proven, best.certificate, look, best.steps, []
        )  # fmt: skip


def _rank(answer: Answer) -> tuple[int, int, int]:
    return answer.cost, len(answer.boards), sum([len(row) for row in answer.joints])


def at(places: list[int], place: int) -> int:
    """Where the place stands among these, or -1."""
    return places.index(place) if place in places else -1


def _in_time() -> float:
    return 0.0
