"""Choose joints and cut boards together: bounds, a first plan, and cycles of search.

First prices by length: a bound, a plan, a short search. Then the linear programme: a
better bound, plans rounded from its layouts, searches by its prices; the two in turn,
each cycle longer than the last. It ends when the cost meets the bound, when `stop`
says so, or when the steps are used up.
"""

from .bounds import Bounds
from .chance import Random
from .cutting import Tuning
from .finish import Finish, Refuted
from .given import Answer, Problem, Progress
from .looking import Looking
from .model import Model
from .parts import gather, part_of, parted, span
from .programme import Programme
from .rounding import Rounding, build_rounded
from .search import Search
from .units import stack, stacks
from .worth import Worth

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

_SLICE = 64  # moves between two looks at `stop`
_GRAIN = 2520
_TRIES = 20  # rounded plans made for each cycle
_BOARDS = 0.8  # of the time
_LOOKS = 1500  # moves for the look of each run
_PIVOTS = 4000  # of the programme, for the look alone
_SMALL = 7  # runs; fewer or as many are finished by branching
_PART = 1000  # moves for each wall of a large job
_OVER = 1 << 49


def solve(
    problem: Problem,
    stop: "Callable[[], float]",
    seed: int,
    steps: int,
    report: "Callable[[Progress], None]",
) -> Answer | None:
    """The best plan found, with a proven bound; None where none was found.

    stop: asked now and then for the share of the time that is over: 1 or more ends the
    search with what there is, and from 0.8 on only the look is worked at. steps: the most
    moves, 0 or more. report: told of each better plan. The same problem, seed and steps
    give the same answer on both interpreters as long as stop never says so.
    """
    solver = Solver(problem, stop, seed, steps)
    for progress in solver.slices():
        if progress is not None:
            report(progress)
    return solver.answer()


class Solver:
    """A search that can be left and taken up again.

    for progress in solver.slices(): each turn is a little work; a Progress where a plan
    or a bound is better than before, else None. answer() is the best so far, at any turn.
    """

    def __init__(
        self,
        problem: Problem,
        stop: "Callable[[], float]",
        seed: int,
        steps: int,
    ) -> None:
        self.problem = problem
        self.share = stop
        self.steps = steps
        self.made = 0
        self.random = Random(seed)
        self.model = Model(problem)
        self.stacks = stacks(self.model)
        self.best: Search | None = None
        self.programme: Programme | None = None
        self.refuted: list[Refuted] = []
        self.shown = 0  # what is proven by self.refuted
        self.told = -1
        self.look = 0
        self.looks = True

    def stop(self) -> bool:
        """Whether the time for boards is over."""
        return self.share() >= (_BOARDS if self.looks else 1.0)

    def slices(self) -> "Iterator[Progress | None]":
        """Search to the end, a slice at a time."""
        if not self.model.stores or [1 for own in self.model.graphs if not own.arcs]:
            return
        self.units = [stack(self.model, key) for key, _ in self.stacks]
        if [1 for u in self.units if not u.arcs]:
            return
        self.bounds = Bounds(self.model, self.stacks, self.units)
        self.bounds.by_length()
        parts = parted(self.problem)
        by_length = self._by_length(1.0, [0] * len(self.model.weight))
        if parts:
            lengths = self._searcher(by_length, 0.85, 0.02)
            lengths.tuning.heat = 0.004
            lengths.tuning.toll = 0.04
            lengths.ready()
        else:
            lengths = self._searcher(by_length, 0.93, 0.1)
        if not (parts and self._by_parts(lengths, parts)) and not lengths.build(self.stacks):
            return
        lengths.keep()
        yield self._seen(lengths)
        steps = list(range(1, 25 if len(self.model.weight) < 200 else 13))
        self.bounds.by_steps(steps)
        yield self._seen(lengths)
        if len(self.problem.runs) <= _SMALL:
            yield from self._improve(lengths, 200)
            yield from self._finish()
        if self._open():
            yield from self._cycles(lengths)
        if self.looks:
            yield from self._look()

    def _by_parts(self, search: Search, parts: list[list[int]]) -> bool:
        """Plan each wall by itself and put the plans together. False where one has none."""
        total = span(self.problem, list(range(len(self.problem.runs))))
        plans = []
        for runs in parts:
            part = part_of(self.problem, runs, span(self.problem, runs), total)
            solver = Solver(part, self._part_share, self.random.below(1000), _PART)
            solver.looks = False
            for _ in solver.slices():
                pass
            plan = solver.answer()
            if plan is None:
                return False
            plans.append((runs, plan.joints, plan.boards))
        gather(search, plans)
        return True

    def _part_share(self) -> float:
        return 1.0 if self.stop() else 0.0

    def _cycles(self, first: Search) -> "Iterator[Progress | None]":
        """The linear programme, and searches by its prices and by length in turn."""
        programme = self.programme = self._programme()
        large = self._large(programme)
        by_length = self._by_length(1.0, [0] * len(self.model.weight))
        pivots, moves, cycle = 400, 400, 0
        while self._open():
            if not large and not programme.done:
                yield from self._pivots(programme, pivots)
            if large or cycle == 0:
                yield from self._improve(first, 200)
            if not large:
                rounding = Rounding(programme)
                for k in range(2):
                    if not self._open():
                        break
                    if k == 0:
                        empty = self._searcher(by_length, 0.95, 0.1)
                    else:
                        prices = self._by_length(0.03, programme.whole_prices(_GRAIN))
                        empty = self._searcher(prices, 0.85, 0.3)
                    fresh = self._rounded(rounding, empty)
                    if fresh is not None:
                        yield self._seen(fresh)
                        yield from self._improve(fresh, moves)
            if self.best is not None and first.best_cost > self.best.best_cost:
                first.adopt(self.best)
            if cycle:
                yield from self._improve(first, moves)
            moves = min(2 * moves, 12000)
            pivots *= 2
            cycle += 1

    def _finish(self) -> "Iterator[Progress | None]":
        """Prove that nothing is cheaper, or take what is, as long as there is leave."""
        while self._open() and self.best is not None and self.best.best_cost < _OVER:
            finish = Finish(self.problem, self.best.best_cost)
            for _ in finish.slices():
                yield None
                if self.stop():
                    return
            if finish.proof is not None:
                self.refuted, self.shown = finish.proof, finish.cost
                yield self._seen(self.best)
            elif finish.found is not None:
                search = self.best.again()
                everything = list(range(len(self.problem.runs)))
                gather(search, [(everything, finish.found[0], finish.found[1])])
                search.keep()
                yield self._seen(search)
            else:
                return

    def _programme(self) -> Programme:
        return Programme(self.model, self.units, [len(rows) for _, rows in self.stacks])

    def _large(self, programme: Programme) -> bool:
        return len(programme.items) > 150

    def _pivots(self, programme: Programme, pivots: int) -> "Iterator[Progress | None]":
        """Go on with the programme, and prove what its prices prove."""
        before = programme.pivots
        while programme.pivots < before + pivots and not programme.done and not self.stop():
            programme.rounds(20, float(max(self.bounds.common, 1)))
            yield None
        for grain in (840, _GRAIN, 5040):
            self.bounds.offer(programme.whole_prices(grain))
        if self.best is not None:
            yield self._seen(self.best)

    def _rounded(self, rounding: Rounding, empty: Search) -> Search | None:
        """The best of several plans rounded from the programme's layouts."""
        best: Search | None = None
        for _ in range(_TRIES):
            search = empty.again()
            if build_rounded(search, self.stacks, rounding, self.random) and (
                best is None or search.energy < best.energy
            ):
                best = search
                if search.cost <= self._target():
                    break
            if self.stop():
                break
        if best is not None:
            best.log = {}
            best.keep()
        return best

    def _by_length(self, share: float, prices: list[int]) -> list[int]:
        """Prices with this share of them by length."""
        top = max([s.cap for s in self.model.stores])
        grain = _GRAIN if share < 1.0 else 2 * _GRAIN
        return [
            int((1.0 - share) * p + share * grain * w / top)
            for p, w in zip(prices, self.model.weight)
        ]

    def _searcher(self, prices: list[int], used: float, noise: float) -> Search:
        tuning = Tuning()
        tuning.used = used
        tuning.noise = noise
        search = Search(self.model, Worth(self.model, prices), self.random, tuning)
        search.ready()
        return search

    def _target(self) -> int:
        best = self.bounds.best
        return max(self.shown, best.cost - self.model.sunk if best is not None else 0)

    def _open(self) -> bool:
        """Whether there is more to find, and leave to look for it."""
        return (
            self.made < self.steps
            and not self.stop()
            and (self.best is None or self.best.best_cost > self._target())
        )

    def _improve(self, search: Search, moves: int) -> "Iterator[Progress | None]":
        end = min(self.made + moves, self.steps)
        while self.made < end and search.best_cost > self._target() and not self.stop():
            self.made += search.improve(min(_SLICE, end - self.made), self._target())
            yield self._seen(search)

    def _seen(self, search: Search) -> Progress | None:
        """Keep a better plan; what is better now, or None."""
        if self.best is None or search.best_cost < self.best.best_cost:
            self.best = search
        cost = self.best.best_cost + self.model.sunk
        bound = self._target() + self.model.sunk
        if self.best.best_cost >= _OVER or cost * 2 - bound == self.told:
            return None
        self.told = cost * 2 - bound
        return Progress(cost, bound, 0, self.made / max(self.steps, 1))

    def _look(self) -> "Iterator[Progress | None]":
        """Better looks at the same cost, from the best plan."""
        if self.best is None or self.best.best_cost >= _OVER:
            return
        prices = self._by_length(1.0, [0] * len(self.model.weight))
        programme = self.programme or self._programme()
        if not self._large(programme):
            while programme.pivots < _PIVOTS and not programme.done and self.share() < 1.0:
                programme.rounds(20, float(max(self.bounds.common, 1)))
                yield None
            if programme.done:
                prices = self._by_length(0.03, programme.whole_prices(_GRAIN))
        search = self._searcher(prices, 0.85, 0.1)
        search.adopt(self.best)
        looking = Looking(search, min(_LOOKS * len(self.problem.runs), 2 * self.steps))
        self.look = looking.best
        while looking.made < looking.moves and self.share() < 1.0:
            look = looking.improve(_SLICE)
            if look < self.look:
                self.look = look
                self.best = search
                bound = self._target() + self.model.sunk
                done = looking.made / looking.moves
                yield Progress(search.best_cost + self.model.sunk, bound, look, done)
            else:
                yield None

    def answer(self) -> Answer | None:
        """The best plan so far, or None."""
        search = self.best
        if search is None or search.best_cost >= _OVER:
            return None
        model = self.model
        joints = []
        for i in range(len(self.problem.runs)):
            marks = model.graphs[model.graph_of[i]].marks
            joints.append([marks[v] for v in search.best_joints[i] or []])
        cut: list[list[tuple[int, int]]] = [list(c.pieces) for c in self.problem.cuts]
        boards: list[tuple[int, list[tuple[int, int]]]] = []
        for board in search.best_boards:
            if board is not None:
                held = sorted([(h[0], h[1]) for h in board[2]])
                origin = model.stores[board[0]].origin
                if origin < 0:
                    cut[-1 - origin] += held
                else:
                    boards.append((origin, held))
        given = [(self.problem.cuts[k].stock, cut[k]) for k in range(len(cut))]
        cost = search.best_cost + model.sunk
        bound = self._target() + model.sunk
        return Answer(
            joints,
            given + boards,
            cost,
            bound,
            cost == bound,
            self.bounds.best,
            self.look,
            self.made,
            self.refuted,
        )
