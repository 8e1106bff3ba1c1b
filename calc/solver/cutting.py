"""Boards being cut: what is on them, and what a piece takes from an offcut or a new board.

Offcuts of one state (room and ends) are one to the search, so its work grows with the
states, not with the boards. All changes are logged, so a move can be undone.
"""

from math import sqrt

from .chance import Random
from .keeping import Keeping
from .model import LACK, WHOLE, Model
from .units import BIG, Unit
from .worth import Worth

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    Held = tuple[int, int, int]  # run, piece, item
    Board = tuple[int, int, tuple[Held, ...]]  # store, state (room * 4 + ends), held

SCALE = 1000000  # energy of one board
OVER = 1 << 50  # a board that is not to be had
_SHARED = (
    "model worth random tuning stores counts arcs steps _ways _twins _twin_ways rate unit full "
    "_tables _new _gather _noise near toll limited least _fresh home lack"
).split(" ")
KEPT = 4000  # filtered graphs kept


class Tuning:
    """What the search is tuned by; see tests/benchmarks."""

    def __init__(self) -> None:
        self.heat = 0.02  # of a board
        self.noise = 0.06
        self.toll = 0.004  # of a board, for each piece
        self.boards = 3  # at most this many boards a move starts from
        self.runs = 6
        self.used = 0.93  # what of an offcut's worth is counted on
        self.pairs = 60  # per cent of neighbours laid together
        self.rivals = 2


class Cutting:
    """Boards, what is cut from them, and what a piece more would cost."""

    def __init__(
        self,
        model: Model,
        worth: Worth,
        random: Random,
        tuning: Tuning,
        like: "Cutting | None" = None,
    ) -> None:
        if like is not None:
            for name in _SHARED:
                setattr(self, name, getattr(like, name))
            self._empty()
            self._begin()
            return
        self.model = model
        self.worth = worth
        self.random = random
        self.tuning = tuning
        self.stores = model.stores
        begun = [t for t in range(len(self.stores)) if self.stores[t].origin < 0]
        self.home = {begun[b]: b for b in range(len(begun))}  # store -> the one board it is
        lack = [t for t in range(len(self.stores)) if self.stores[t].origin == LACK]
        self.lack = lack[0] if lack else -1  # the store of boards that are not to be had
        self._empty()
        self.counts = [s.count for s in self.stores]
        self._graphs()
        self._judge()
        self.near = []
        for i in range(len(model.problem.runs)):
            row = []
            for j, apart in model.near[i]:
                row.append((j, model.barred(model.graph_of[i], model.graph_of[j], apart)))
            self.near.append(row)
        self._begin()

    def again(self) -> "Any":
        """An empty plan of the same problem, sharing all that is looked up."""
        return self.__class__(self.model, self.worth, self.random, self.tuning, self)

    def _empty(self) -> None:
        n = len(self.model.problem.runs)
        self.joints: list[list[int] | None] = [None] * n
        self.cuts: list[list[int]] = [[] for _ in range(n)]
        self.boards: list[Board | None] = []
        self.free: list[int] = []
        self.rooms: dict[int, set[int]] = {}
        self.log: dict[int, Board | None] = {}
        self.used = [0] * len(self.stores)
        self.keeping = Keeping(self.model) if self.model.rules.kept is not None else None
        self.cost = 0
        self.energy = 0
        self.best_cost = -1
        self.shy = False  # of new boards: they count double

    def _begin(self) -> None:
        """Lay out the boards that were begun: offcuts, though nothing is on them yet."""
        for t in sorted(self.home):
            s = self.stores[t]
            self.boards.append(None)
            self._set(self.home[t], None, (t, s.cap * 4 + s.gone, ()))

    def _graphs(self) -> None:
        model = self.model
        self.arcs = []
        self.steps: list[dict[tuple[int, int], int]] = []
        for k in range(len(model.graphs)):
            own = model.own[k]
            at = {own[i]: i for i in range(len(own))}
            at[0] = len(own)
            arcs = model.graphs[k].arcs
            end = len(model.graphs[k].x) - 1
            self.arcs.append([(u, v, at[i], 0 if v == end else 1 << v) for u, v, i in arcs])
            self.steps.append({(u, v): i for u, v, i in arcs})
        self._ways: dict[tuple[int, int], list[Any]] = {}
        self._twins: dict[int, Unit | None] = {}
        self._twin_ways: dict[tuple[int, int], list[Any]] = {}

    def _judge(self) -> None:
        """Costs of pieces from new boards, all in what boards are worth."""
        fills = [self.worth.fill(t) for t in range(len(self.stores))]
        self.rate = 0.0
        for t in range(len(self.stores)):
            if self.stores[t].cost > 0:
                self.rate = max(self.rate, fills[t] / self.stores[t].cost)
        dear = [s.cost for s in self.stores]
        self.unit = max(max(dear), 1)
        self.full = max(self.unit * self.rate, 1.0)
        self._tables: dict[tuple[int, int], list[float]] = {}
        self._new: dict[tuple[int, int], tuple[list[float], list[int]]] = {}
        self._gather: dict[int, int] = {}
        self._fresh: dict[tuple[int, int], tuple[float, int]] = {}
        self._noise: list[list[float]] = []
        most = max([len(o) for o in self.model.own]) + 1
        for _ in range(64):
            row = [1.0 + self.tuning.noise * self.random.below(1000) / 1000 for _ in range(most)]
            self._noise.append(row)

    # -- what pieces cost

    def after(self, state: int, item: int) -> int:
        """The state of a board once the item is cut from it, or -1."""
        kind = self.model.kind[item]
        if kind == WHOLE or kind & state & 3:
            return -1
        left = state - 4 * self.model.weight[item]
        return left | kind if left >= 0 else -1

    def loss(self, state: int, item: int) -> float:
        """What the item takes from an offcut in this state, as a cost; BIG where it can't."""
        left = self.after(state, item)
        if left < 0:
            return BIG
        return power(float(self.worth.hold(state) - self.worth.hold(left)))

    def table(self, graph: int, state: int) -> list[float]:
        key = (graph, state)
        t = self._tables.get(key)
        if t is None:
            t = self._tables[key] = [self.loss(state, i) for i in self.model.own[graph]]
        return t

    def spent(self) -> int:
        """The stores of which no board is left, as bits."""
        bits = 0
        for t in range(len(self.counts)):
            if self.counts[t] is not None and self.used[t] >= self.counts[t]:
                bits |= 1 << t
        return bits

    def new(self, graph: int, spent: int) -> tuple[list[float], list[int]]:
        """For each item of the graph (what it costs from a new board, its store)."""
        key = (graph, spent)
        if key not in self._new:
            costs, ways = [], []
            for i in self.model.own[graph]:
                c, t = self.fresh(i, spent)
                costs.append(c)
                ways.append(t)
            self._new[key] = (costs, ways)
        return self._new[key]

    def fresh(self, item: int, spent: int) -> tuple[float, int]:
        """(what the item costs from a new board, the store it is best cut from)."""
        best, way = BIG, self.lack
        for t in range(len(self.stores)):
            s = self.stores[t]
            if t in self.home:
                continue
            if self.model.kind[item] == WHOLE:
                if s.whole < 0 or s.cap != self.model.weight[item]:
                    continue
                cost = s.cost * self.rate
            else:
                left = self.after(s.cap * 4 + s.gone, item)
                if left < 0:
                    continue
                cost = s.cost * self.rate - self.worth.hold(left) * self.tuning.used
            cost = power(max(cost, 1.0)) + (1e15 if spent >> t & 1 else 0.0)
            if cost < best:
                best, way = cost, t
        return best, way

    def costs(self, graph: int) -> list[float]:
        """For each item of the graph the least it costs from an offcut or a new board."""
        new = self.new(graph, self.spent() if self.limited else 0)[0]
        least = 4 * self.least[graph]
        tables = self._tables
        ts = []
        for state in self.rooms:
            if state >= least:
                t = tables.get((graph, state))
                ts.append(t if t is not None else self.table(graph, state))
        if self.shy:
            new = [2.0 * c for c in new]
        cost = list(map(min, new, *ts)) if ts else new
        noise = self._noise[self.random.below(64)]
        toll = self.toll
        out = [c * n + toll for c, n in zip(cost, noise)]
        out.append(0.0)
        return out

    def toll_of_board(self) -> float:
        """A whole board as the paths see it."""
        return power(self.full)

    def ready(self) -> None:
        """Set what depends on tuning and counts."""
        self.toll = self.tuning.toll * self.toll_of_board()
        self.limited = [1 for c in self.counts if c is not None] != []
        weight = self.model.weight
        self.least = [min([weight[i] for i in own]) if own else 0 for own in self.model.own]

    # -- boards

    def change(self, b: int, board: "Board | None") -> None:
        """Put this board in the place of the one with number b, and log what was there."""
        old = self.boards[b]
        if b not in self.log:
            self.log[b] = old
        self._set(b, old, board)

    def _set(self, b: int, old: "Board | None", board: "Board | None") -> None:
        if self.keeping is not None:
            if old is not None:
                self.keeping.change(old, -1)
            if board is not None:
                self.keeping.change(board, 1)
        if old is not None:
            t, state = old[0], old[1]
            here = self.rooms[state]
            here.discard(b)
            if not here:
                del self.rooms[state]
            self.cost -= self.stores[t].cost
            self.energy -= self.weigh(t, state)
            self.used[t] -= 1
            if self.counts[t] is not None and self.used[t] >= self.counts[t]:
                self.cost -= OVER
                self.energy -= OVER
        self.boards[b] = board
        if board is not None:
            t, state = board[0], board[1]
            if state in self.rooms:
                self.rooms[state].add(b)
            else:
                self.rooms[state] = {b}
            self.cost += self.stores[t].cost
            self.energy += self.weigh(t, state)
            if self.counts[t] is not None and self.used[t] >= self.counts[t]:
                self.cost += OVER
                self.energy += OVER
            self.used[t] += 1

    def weigh(self, store: int, state: int) -> int:
        """A board's part of the energy: its cost, less the more of it is left in one offcut."""
        key = state * len(self.stores) + store
        g = self._gather.get(key)
        if g is None:
            s = self.stores[store]
            share = self.worth.hold(state) / self.full
            if store in self.home:  # untouched it weighs nothing
                whole = self.worth.fill(store) / self.full
                g = self._gather[key] = int((whole * whole - share * share) * SCALE)
                return g
            g = self._gather[key] = int(
                s.cost * SCALE / self.unit - share * share * SCALE * self.unit / max(s.cost, 1)
            )
        return g

    def add(self, board: "Board") -> int:
        if self.free:
            b = self.free.pop()
        else:
            b = len(self.boards)
            self.boards.append(None)
        self.change(b, board)
        return b

    def take(self, run: int) -> None:
        """Unlay the run: what was cut for it is board again."""
        self.joints[run] = None
        weight, kind = self.model.weight, self.model.kind
        for b in self.cuts[run]:
            if b < 0:
                continue
            board = self.boards[b]
            if board is None:
                continue
            state = board[1]
            rest = []
            for h in board[2]:
                if h[0] == run:
                    state += 4 * weight[h[2]]
                    if kind[h[2]] != WHOLE:
                        state &= ~kind[h[2]]
                else:
                    rest.append(h)
            if len(rest) == len(board[2]):
                continue
            if rest or board[0] in self.home:
                self.change(b, (board[0], state, tuple(rest)))
            else:
                self.change(b, None)
                self.free.append(b)
        self.cuts[run] = []

    def put(self, run: int, joints: list[int]) -> None:
        """Take these joints for the run and cut its pieces, longest first."""
        model = self.model
        graph = model.graph_of[run]
        self.joints[run] = joints
        nodes = [0] + joints + [len(model.graphs[graph].x) - 1]
        steps = self.steps[graph]
        cut = []
        for k in range(len(nodes) - 1):
            item = steps[nodes[k], nodes[k + 1]]
            cut.append((-model.weight[item], k, item))
        places = [-1] * len(cut)
        cut.sort()
        for _, k, item in cut:
            if item:
                places[k] = self.cut(run, k, item)
        self.cuts[run] = places

    def put_all(self, chosen: "list[tuple[int, list[int]]]") -> None:
        """Take all these joints at once and cut the pieces, longest first of all."""
        model = self.model
        cut = []
        for run, joints in chosen:
            graph = model.graph_of[run]
            self.joints[run] = joints
            nodes = [0] + joints + [len(model.graphs[graph].x) - 1]
            self.cuts[run] = [-1] * (len(nodes) - 1)
            for k in range(len(nodes) - 1):
                item = self.steps[graph][nodes[k], nodes[k + 1]]
                if item:
                    cut.append((-model.weight[item], run, k, item))
        cut.sort()
        for _, run, k, item in cut:
            self.cuts[run][k] = self.cut(run, k, item)

    def place(self, store: int, pieces: list[tuple[int, int]]) -> None:
        """Cut these (run, piece), whose runs have their joints, from a new board of the store."""
        model = self.model
        s = self.stores[store]
        state = s.cap * 4 + s.gone
        held = []
        if store in self.home:
            self._go_on(store, pieces)
            return
        for run, k in pieces:
            graph = model.graph_of[run]
            nodes = [0] + (self.joints[run] or []) + [len(model.graphs[graph].x) - 1]
            item = self.steps[graph][nodes[k], nodes[k + 1]]
            whole = model.kind[item] == WHOLE
            state = 3 if whole else state - 4 * model.weight[item] | model.kind[item]
            held.append((run, k, item))
        b = self.add((store, state, tuple(held)))
        for run, k in pieces:
            self.cuts[run][k] = b

    def _go_on(self, store: int, pieces: list[tuple[int, int]]) -> None:
        """Cut these (run, piece) from the store's one board, from others what it won't hold."""
        b = self.home[store]
        for run, k in pieces:
            graph = self.model.graph_of[run]
            nodes = [0] + (self.joints[run] or []) + [len(self.model.graphs[graph].x) - 1]
            item = self.steps[graph][nodes[k], nodes[k + 1]]
            board = self.boards[b]
            to = self.after(board[1], item)  # type: ignore[index]
            if to < 0:
                self.cuts[run][k] = self.cut(run, k, item)
            else:
                self.change(b, (store, to, board[2] + ((run, k, item),)))  # type: ignore[index]
                self.cuts[run][k] = b

    def cut(self, run: int, piece: int, item: int) -> int:
        """Cut one piece from the offcut that loses least, or a new board. The board."""
        least = 4 * self.model.weight[item]
        best, left = BIG, 0
        weight = least - self.model.kind[item]
        hold = self.worth.hold
        kept = self.worth._kept
        chosen = -1
        kind = self.model.kind[item]
        if kind != WHOLE:
            for state in self.rooms:
                if state >= least and not state & kind:
                    to = state - weight
                    a, b = kept.get(state), kept.get(to)
                    loss = (hold(state) if a is None else a) - (hold(to) if b is None else b)
                    if loss < best or (loss == best and to < left):
                        best, left, chosen = loss, to, state
        cost, store = self.fresh_of(item)
        held = (run, piece, item)
        b = -1
        if self.keeping is not None:
            b, best = self.may_wait(run, item)
            chosen = self.boards[b][1] if b >= 0 else -1  # type: ignore[index]
            left = chosen - weight
        if self.shy:
            cost *= 2.0
        if chosen < 0 or cost < power(float(best)):
            s = self.stores[store]
            state = s.cap * 4 + s.gone - weight if kind != WHOLE and store != self.lack else 3
            return self.add((store, state, (held,)))
        if b < 0:
            b = min(self.rooms[chosen])
        board = self.boards[b]
        self.change(b, (board[0], left, board[2] + (held,)))  # type: ignore[index]
        return b

    def may_wait(self, run: int, item: int) -> tuple[int, float]:
        """(the board that loses least of those that may wait for the run, its loss), or -1."""
        ways = []
        for state in self.rooms:
            to = self.after(state, item)
            if to >= 0:
                ways.append((self.worth.hold(state) - self.worth.hold(to), to, state))
        for loss, _, state in sorted(ways):
            for b in sorted(self.rooms[state]):
                board = self.boards[b]
                if board is not None and self.keeping is not None:
                    if self.keeping.allows(board, run):
                        return b, float(loss)
        return -1, BIG

    def fresh_of(self, item: int) -> tuple[float, int]:
        spent = self.spent() if self.limited else 0
        key = (-1 - item, spent)
        way = self._fresh.get(key)
        if way is None:
            way = self._fresh[key] = self.fresh(item, spent)
        return way


def power(x: float) -> float:
    """x to the power 1 + 1/16 + 1/32, by square roots, which are exact on both interpreters."""
    r = sqrt(sqrt(sqrt(sqrt(x))))
    return x * r * sqrt(r)
