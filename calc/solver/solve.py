"""Choose joints and cut boards together: bounds, a first plan, and cycles of search.

First a plan by prices by length, at once; then a bound. Then the linear programme: a
better bound, dives from it that mostly meet it, plans rounded from its layouts, and
searches by its prices and by length, in turn, each cycle longer than the last. It ends
when the cost meets the bound, when `stop` says so, or when the steps are used up.
"""

from .bounds import Bounds
from .chance import Random
from .cutting import Tuning
from .dive import Dive
from .finish import Finish, Refuted
from .fitting import Fitting, is_large
from .given import Answer, Problem, Progress
from .looking import Looking
from .model import Model
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
_COARSE = 630  # prices for the first plan, which is to come at once
_TRIES = 20  # rounded plans made for each cycle
_BOARDS = 0.8  # of the time
_LOOKS = 1500  # moves for the look of each run
_PIVOTS = 4000  # of the programme, for the look alone
_CYCLE = 16000  # moves of the first cycle of fitting; each has 8/5 of the one before
_TIGHTER = 3  # limits on waiting offcuts that are tried below the one given
_FEW = 150  # items; with more the programme is too slow
_SMALL = 7  # runs; fewer or as many are finished by branching
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
    moves of searches and pivots of dives, 0 or more. report: told of each better plan. The
    same problem, seed and steps give the same answer on both interpreters as long as stop
    never says so.
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
        self.taken = (-1, -1)
        # Boards may be filled in any order: no limit on the offcuts that wait for their course.
        self.free = problem.rules.kept is None
        self.paid = [1 for s in self.model.stores if s.cost > 0] != []
        self.look = 0
        self.dived = False

    def stop(self) -> bool:
        """Whether the time for boards is over."""
        return self.share() >= _BOARDS

    def slices(self) -> "Iterator[Progress | None]":
        """Search to the end, a slice at a time."""
        if not self.model.stores or [1 for own in self.model.graphs if not own.arcs]:
            return
        self.bounds = Bounds(self.model, self.stacks, [])
        fits = is_large(self.problem) and self.free and not self.problem.cuts
        fitting = Fitting(self.model, self.random) if fits else None
        if fitting is not None:
            lengths = self._searcher(self._lengths(), 0.93, 0.1)
            yield from self._start(fitting, lengths)
            if self.best is not None:
                lengths.adopt(self.best)
            elif not lengths.build(self.stacks):
                return
            lengths.keep()
        else:
            quick = self._searcher(self._lengths(_COARSE), 0.93, 0.1)
            if not quick.build(self.stacks):
                return
            quick.keep()
            yield self._seen(quick)
            lengths = self._searcher(self._lengths(), 0.93, 0.1)
            lengths.adopt(quick)
        self._prove()
        yield self._seen(lengths)
        if not self.free:
            yield from self._tighter(lengths)
        steps = list(range(1, 25 if len(self.model.weight) < 200 else 13))
        self.bounds.by_steps(steps)
        yield self._seen(lengths)
        if fitting is not None and fitting.boards:
            yield from self._fit(fitting, lengths)
        if len(self.problem.runs) <= _SMALL and self.free:
            yield from self._improve(lengths, 200)
            yield from self._finish()
        if self._open() and self.paid:
            yield from self._cycles(lengths)
        elif self._open():
            yield from self._improve(lengths, self.steps)
        yield from self._look()

    def _tighter(self, search: Search) -> "Iterator[Progress | None]":
        """Short searches by tighter limits on what waits: what they lead to is often cheaper."""
        for kept in range(min(self.problem.rules.kept, _TIGHTER)):
            other = search.again()
            other.keeping.most = kept
            if other.build(self.stacks):
                other.keep()
                yield from self._improve(other, 300)
        if self.best is not None and self.best is not search:
            search.adopt(self.best)

    def _prove(self) -> None:
        """The first bound; not before the first plan, which is to come at once."""
        if self.bounds.best is None:
            self.units = self.bounds.units = [stack(self.model, key) for key, _ in self.stacks]
            self.bounds.by_length()

    def _start(self, fitting: Fitting, empty: Search) -> "Iterator[Progress | None]":
        """The first plans of a large job."""
        for moves in fitting.start():
            self.made += moves
            yield self._fitted(fitting, empty)
            if not self._open():
                break

    def _fit(self, fitting: Fitting, empty: Search) -> "Iterator[Progress | None]":
        """Better plans of a large job, in cycles from hot to cold, each from the best plan."""
        moves = _CYCLE
        few = len(self.model.weight) <= _FEW
        while self._open() and not (few and moves > 2 * _CYCLE):
            fitting.rewind()
            done = 0
            while done < moves and self._open():
                part = min(_SLICE, moves - done, self.steps - self.made)
                fitting.improve(part, done / moves, (done + part) / moves)
                done += part
                self.made += part
                yield self._fitted(fitting, empty)
            moves = moves * 8 // 5

    def _fitted(self, fitting: Fitting, empty: Search) -> Progress | None:
        """Keep the fitting's best plan if it is better."""
        key = (fitting.best_over, fitting.best_cost)
        if key == self.taken:
            return None
        self.taken = key
        plan = empty.again()
        fitting.hand(plan)
        plan.keep()
        return self._seen(plan)

    def _cycles(self, first: Search) -> "Iterator[Progress | None]":
        """The linear programme, and searches by its prices and by length in turn."""
        programme = self.programme = self._programme()
        small = len(programme.items) <= _FEW
        large = len(programme.items) > 500 or (not small and is_large(self.problem))
        pivots, moves, cycle = 400, 400, 0
        while self._open():
            if not large and not programme.done:
                yield from self._pivots(programme, pivots)
            if large or cycle == 0:
                yield from self._improve(first, 200)
            if programme.done and self.free:
                yield from self._dives(programme, pivots)
            if not large and (cycle or not programme.done):
                yield from self._rounds(programme, moves)
            if self.best is not None and first.best_cost > self.best.best_cost:
                first.adopt(self.best)
            if cycle:
                yield from self._improve(first, moves)
            moves = min(2 * moves, 12000)
            pivots *= 2
            cycle += 1

    def _rounds(self, programme: Programme, moves: int) -> "Iterator[Progress | None]":
        """Searches from plans rounded from the programme, by length and by its prices."""
        rounding = Rounding(programme)
        for k in range(2):
            if not self._open():
                break
            if k == 0:
                empty = self._searcher(self._lengths(), 0.95, 0.1)
            else:
                prices = self._mixed(0.03, programme.whole_prices(_GRAIN))
                empty = self._searcher(prices, 0.85, 0.3)
            fresh = self._rounded(rounding, empty)
            if fresh is not None:
                yield self._seen(fresh)
                yield from self._improve(fresh, moves)

    def _lengths(self, grain: int = 2 * _GRAIN) -> list[int]:
        """Prices by length, a board's being `grain`."""
        top = max([s.cap for s in self.model.stores])
        return [grain * w // top for w in self.model.weight]

    def _dives(self, programme: Programme, pivots: int) -> "Iterator[Progress | None]":
        """Plans fixed bit by bit from the programme, each to be cheaper than the best so far."""
        empty = self._searcher(self._mixed(0.03, programme.whole_prices(_GRAIN)), 0.85, 0.3)
        made = 0
        while made < pivots and self._open() and self.best is not None:
            goal = float(self.best.best_cost - max(self.bounds.common, 1))
            dive = Dive(programme, self.stacks, empty.again(), self.random, goal, self.dived)
            self.dived = True
            for _ in dive.slices():
                yield None
                if self.stop() or self.made + dive.made >= self.steps:
                    break
            made += dive.made
            self.made += dive.made
            if dive.plan is not None:
                yield self._seen(dive.plan)
                yield from self._improve(dive.plan, 400)

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
                search.hand(finish.found[0], finish.found[1])
                search.keep()
                yield self._seen(search)
            else:
                return

    def _programme(self) -> Programme:
        return Programme(self.model, self.units, [len(rows) for _, rows in self.stacks])

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

    def _mixed(self, share: float, prices: list[int]) -> list[int]:
        """These prices with this share of them by length."""
        lengths = self._lengths(_GRAIN)
        return [int((1.0 - share) * p + share * n) for p, n in zip(prices, lengths)]

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
        prices = self._lengths()
        programme = self.programme
        if programme is None and self.paid:
            programme = self._programme()
        if programme is not None and len(programme.items) <= _FEW:
            while programme.pivots < _PIVOTS and not programme.done and self.share() < 1.0:
                programme.rounds(20, float(max(self.bounds.common, 1)))
                yield None
        if programme is not None and programme.done:
            prices = self._mixed(0.03, programme.whole_prices(_GRAIN))
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
        self._prove()
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
