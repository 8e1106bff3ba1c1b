"""Plans of large jobs: boards filled to the end, the runs of bad boards laid anew.

Where hundreds of lengths meet, almost every board can be filled exactly, if the right
pieces are cut. All runs are laid by prices, their pieces packed, and what a length costs
is learned from the boards it lay on. Source: sequential value correction (Belov and
Scheithauer 2007), from memory. Then a few boards at a time are taken apart, what lay on
them is packed anew, or laid and packed anew, and kept by annealing.
"""

from math import sqrt

from .chance import WAITS, Random
from .filling import Filler
from .model import Model
from .search import way_with
from .units import BIG

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterator

    from .filling import Filled, Piece
    from .given import Problem
    from .search import Search

_LARGE = 150  # runs; a plan for fewer is found by search alone
_ROUNDS = 30  # of laying all runs
_LEARN = 0.1  # of a new price
_SPREAD = 0.02  # noise in prices where all runs are laid
_SPREADS = 0.04, 0.08, 0.16, 0.32  # where some are, one of these
_STILL = 60  # per cent of moves that lay nothing, only pack
_BOARDS = 12  # about the most that are taken apart at once
_SPREADING = 0.3  # of a board: what waste costs that is spread over many
_HEAT = 0.03  # of a board, at the start of each cycle
_RISE = 0.3  # of prices of pieces that all lie on counted boards, where these run short


def is_large(problem: "Problem") -> bool:
    """Whether the job is large."""
    return len([1 for r in problem.runs if r.joints is None]) >= _LARGE


class Fitting:
    """One plan being improved."""

    def __init__(self, model: Model, random: Random) -> None:
        self.model = model
        self.random = random
        self.filler = Filler(model)
        self.stores = model.stores
        self.prices = [self._price(i) for i in range(len(model.weight))]
        counts = [s.count for s in self.stores if s.count is not None]
        self.counted = sum(counts)
        plenty = max([s.cap for s in self.stores if s.count is None] + [0])
        self.scarce = [w > plenty for w in model.weight]  # only counted boards hold these
        self.arcs = []
        self.steps: list[dict[tuple[int, int], int]] = []
        for g in model.graphs:
            last = len(g.x) - 1
            self.arcs.append([(u, v, i, 0 if v == last else 1 << v) for u, v, i in g.arcs])
            self.steps.append({(u, v): i for u, v, i in g.arcs})
        self.near = []
        for run in range(len(model.graph_of)):
            mine = model.graph_of[run]
            row = [(j, model.barred(mine, model.graph_of[j], d)) for j, d in model.near[run]]
            self.near.append(row)
        self._between: dict[tuple[int, int, int], list[tuple[int, int, int, int]]] = {}
        self.joints: list[list[int]] = []
        self.boards: list[Filled] = []
        self.place: dict[tuple[int, int], int] = {}  # the board of (run, node)
        self.used: list[int] = []
        self.cost = 0
        self.best_over = -1
        self.best_cost = -1

    def _price(self, item: int) -> float:
        """What the item costs at least: its length, or that of the boards it needs."""
        rates = [s.cost / s.cap for s in self.stores if s.cap >= self.model.weight[item]]
        return float(self.model.weight[item] * max(min(rates), self.filler.rate))

    # -- laying

    def _blocked(self, run: int) -> int:
        """Nodes where the run may have no joint for its neighbours' sake, as bits."""
        mask = 0
        for other, table in self.near[run]:
            for v in self.joints[other]:
                mask |= table[v]
        return mask

    def _lay(self, run: int, a: int, b: int, spread: float) -> list[int] | None:
        """Nodes of the cheapest joints between nodes a and b of the run, or None.

        spread: the most that chance adds to a price, as a share of it.
        """
        graph = self.model.graph_of[run]
        key = (graph, a, b)
        arcs = self._between.get(key)
        if arcs is None:
            arcs = [arc for arc in self.arcs[graph] if arc[0] >= a and arc[1] <= b]
            self._between[key] = arcs
        mask = self._blocked(run)
        prices = self.prices
        step = spread / 1000
        x = self.random.below(7875)
        best = [BIG] * (b + 1)
        back = [0] * (b + 1)
        best[a] = 0.0
        for u, v, item, bit in arcs:
            c = best[u]
            if c < BIG and not bit & mask:
                # all 7875 values in turn. Source: theorem of Hull and Dobell, from memory
                x = (x * 421 + 1663) % 7875
                c += prices[item] * (1.0 + step * (x % 1000))
                if c < best[v]:
                    best[v] = c
                    back[v] = u
        if best[b] >= BIG:
            return None
        out = []
        v = back[b]
        while v > a:
            out.append(v)
            v = back[v]
        return out[::-1]

    def _lay_all(self, spread: float) -> bool:
        """Lay all runs. Those in the way of another are laid again, as in Search.settle."""
        model = self.model
        self.joints = [[] for _ in model.graph_of]
        waiting = list(range(len(self.joints)))
        often = [0] * len(waiting)
        for _ in range(2000 + 20 * len(waiting)):
            if not waiting:
                return True
            run = waiting.pop(0)
            graph = model.graph_of[run]
            last = len(model.graphs[graph].x) - 1
            path = self._lay(run, 0, last, spread)
            if path is None:
                path = self._push(run, last, often)
                if path is None:
                    return False
                for j, table in self.near[run]:
                    if [1 for v in self.joints[j] if [1 for u in path if table[v] >> u & 1]]:
                        self.joints[j] = []
                        waiting.append(j)
                        often[j] += 1
            self.joints[run] = path
        return not waiting

    def _push(self, run: int, last: int, often: list[int]) -> list[int] | None:
        """The joints that put out fewest neighbours, those least that were put out often."""
        toll = [0.0] * (last + 1)
        for j, table in self.near[run]:
            for u in range(1, last):
                if [1 for v in self.joints[j] if table[v] >> u & 1]:
                    toll[u] += often[j] + 1.0
        cost = [0.01 * self.random.below(1000) / 1000 for _ in self.model.weight]
        return way_with(self.arcs[self.model.graph_of[run]], last, cost, toll)

    def _pieces(self, run: int, nodes: list[int]) -> "list[Piece]":
        steps = self.steps[self.model.graph_of[run]]
        return [(run, nodes[k], steps[nodes[k], nodes[k + 1]]) for k in range(len(nodes) - 1)]

    def nodes(self, run: int) -> list[int]:
        """The nodes of the run's ends and joints."""
        last = len(self.model.graphs[self.model.graph_of[run]].x) - 1
        return [0] + self.joints[run] + [last]

    # -- all runs

    def start(self) -> "Iterator[int]":
        """Lay and pack all runs again and again; after each time how many moves it was worth."""
        for _ in range(_ROUNDS):
            if not self._lay_all(_SPREAD):
                return
            pieces: list[Piece] = []
            for run in range(len(self.joints)):
                pieces += self._pieces(run, self.nodes(run))
            self.used = [0] * len(self.stores)
            boards = self.filler.pack(pieces, self.used)
            if boards is None:
                return
            self.boards = boards
            self.cost = self._cost(self.boards)
            self._learn()
            self._keep()
            yield len(self.joints) // 4

    def _learn(self) -> None:
        """Move each price towards what the piece cost on its board."""
        usual = self.filler.rate
        over = self.filler.over(self.used)
        for t, cut, row in self.boards:
            rate = max(self.stores[t].cost / cut, usual)
            for _, _, item in row:
                p = self.prices[item]
                if not (over and self.scarce[item]):
                    self.prices[item] = p + _LEARN * (rate * self.model.weight[item] - p)
        if over:
            rise = 1.0 + _RISE * over / (over + self.counted)
            self.prices = [p * rise if s else p for p, s in zip(self.prices, self.scarce)]

    def _cost(self, boards: "list[Filled]") -> int:
        return sum([self.stores[b[0]].cost for b in boards])

    def _energy(self, boards: "list[Filled]") -> float:
        """What the boards cost by what is cut from them, and for waste that is not together."""
        out = 0.0
        for t, cut, _ in boards:
            s = self.stores[t]
            share = 1.0 - cut / s.cap
            out += s.cost * (1.0 - share) * (1.0 + _SPREADING * sqrt(share))
        return out

    def _keep(self) -> None:
        """Remember the plan if it is the best: fewest boards not to be had, then the cost."""
        over = self.filler.over(self.used)
        if self.best_cost < 0 or (over, self.cost) < (self.best_over, self.best_cost):
            self.best_over, self.best_cost = over, self.cost
            self.best_joints = list(self.joints)
            self.best_boards = list(self.boards)
            self.best_used = list(self.used)

    def hand(self, search: "Search") -> None:
        """Put the best plan into the empty search."""
        for run in range(len(self.best_joints)):
            search.joints[run] = self.best_joints[run]
            search.cuts[run] = [-1] * (len(self.best_joints[run]) + 1)
        for t, _, row in self.best_boards:
            search.place(t, [(run, ([0] + self.best_joints[run]).index(u)) for run, u, _ in row])
        search.log = {}

    # -- some boards

    def rewind(self) -> None:
        """Go back to the best plan."""
        self.joints = list(self.best_joints)
        self.boards = list(self.best_boards)
        self.used = list(self.best_used)
        self.cost = self.best_cost
        self.place = {}
        for b in range(len(self.boards)):
            for run, u, _ in self.boards[b][2]:
                self.place[run, u] = b

    def improve(self, moves: int, begin: float, end: float) -> None:
        """Make moves, cooling: begin and end are shares of the cycle, 0 to 1."""
        board = self.filler.board
        for k in range(moves):
            cold = 1.0 - begin - (end - begin) * k / moves
            heat = _HEAT * cold * cold * board * WAITS[self.random.below(512)]
            self._move(self._choose(), heat)

    def _choose(self) -> list[int]:
        """A few boards, some of them wasteful, each with those that share a run with it."""
        below = self.random.below
        n = len(self.boards)
        size = min(2 + below(1 + below(_BOARDS)), n)
        out: list[int] = []
        while len(out) < size:
            best, most = -1, -BIG
            for _ in range(1 if below(3) else 3):
                b = below(n)
                t, cut, _ = self.boards[b]
                waste = self.stores[t].cost - cut * self.filler.rate
                if waste > most:
                    best, most = b, waste
            row = self.boards[best][2]
            run = row[below(len(row))][0]
            for b in [best] + [self.place[run, u] for u in [0] + self.joints[run]]:
                if b not in out:
                    out.append(b)
        return out

    def _segments(self, boards: "list[Filled]") -> list[tuple[int, int, int]]:
        """The (run, node, node) between which these boards hold all pieces, as long as can be."""
        loose: dict[int, list[int]] = {}
        for _, _, row in boards:
            for run, u, _ in row:
                if run in loose:
                    loose[run].append(u)
                else:
                    loose[run] = [u]
        out = []
        for run in sorted(loose):
            nodes = self.nodes(run)
            a = -1
            for u in nodes:
                if u in loose[run]:
                    if a < 0:
                        a = u
                elif a >= 0:
                    out.append((run, a, u))
                    a = -1
        return out

    def _move(self, freed: list[int], heat: float) -> bool:
        """Take these boards apart, lay and pack anew; undone if it is worse by more than heat.

        Laying is left out now and then.
        """
        gone = [self.boards[b] for b in freed]
        segments = [] if self.random.below(100) < _STILL else self._segments(gone)
        old = [(run, self.joints[run]) for run, _, _ in segments]
        for run, a, b in segments:
            self.joints[run] = [v for v in self.joints[run] if v <= a or v >= b]
        pieces = self._relay(segments) if segments else [h for g in gone for h in g[2]]
        if pieces is not None:
            used = list(self.used)
            for t, _, _ in gone:
                used[t] -= 1
            made = self.filler.pack(pieces, used)
            if made is not None and self._rise(gone, made, used) <= heat:
                self.used = used
                self.cost += self._cost(made) - self._cost(gone)
                self._exchange(freed, made)
                self._keep()
                return True
        for run, joints in old[::-1]:
            self.joints[run] = joints
        return False

    def _rise(self, gone: "list[Filled]", made: "list[Filled]", used: list[int]) -> float:
        """How much more energy the new boards have, those not to be had counting tenfold."""
        over = self.filler.over(used) - self.filler.over(self.used)
        return self._energy(made) - self._energy(gone) + 10.0 * self.filler.board * over

    def _relay(self, segments: list[tuple[int, int, int]]) -> "list[Piece] | None":
        """Lay these in any order; their pieces, or None where one cannot be laid."""
        todo = list(segments)
        spread = _SPREADS[self.random.below(len(_SPREADS))]
        pieces: list[Piece] = []
        while todo:
            run, a, b = todo.pop(self.random.below(len(todo)))
            path = self._lay(run, a, b, spread)
            if path is None:
                return None
            if path:
                self.joints[run] = sorted(self.joints[run] + path)
            pieces += self._pieces(run, [a] + path + [b])
        return pieces

    def _exchange(self, freed: list[int], made: "list[Filled]") -> None:
        """Put the new boards in the place of those taken apart."""
        boards, place = self.boards, self.place
        for b in freed:
            for run, u, _ in boards[b][2]:
                del place[run, u]
        holes = sorted(freed)
        for k in range(max(len(holes), len(made))):
            if k >= len(made):
                # the last board goes into the hole that is first from the end
                b = holes.pop()
                last = boards.pop()
                if b == len(boards):
                    continue
                boards[b] = last
            elif k < len(holes):
                b = holes[k]
                boards[b] = made[k]
            else:
                b = len(boards)
                boards.append(made[k])
            for run, u, _ in boards[b][2]:
                place[run, u] = b
