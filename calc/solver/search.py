"""The search: take out the runs of a few wasteful boards, lay them again, keep what is better.

A piece costs what it takes from the cheapest offcut, by what offcuts can hold; a run is
laid by its cheapest path among its neighbours' joints. A move touches only the boards
and runs it changes, and is undone from a log.
"""

from .chance import WAITS
from .cutting import KEPT, OVER, SCALE, Cutting
from .model import WHOLE
from .units import BIG, Unit, stack

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .cutting import Board

_MOST_ARCS = 4000  # a pair with more is laid one by one


class Search(Cutting):
    """One plan being improved."""

    # -- laying

    def blocked(self, run: int) -> int:
        """Nodes where the run may have no joint for its neighbours' sake, as bits."""
        mask = 0
        joints = self.joints
        for other, table in self.near[run]:
            theirs = joints[other]
            if theirs:
                for v in theirs:
                    mask |= table[v]
        return mask

    def lay(self, run: int) -> bool:
        """Lay the run among its neighbours and cut it. False where it cannot be laid."""
        graph = self.model.graph_of[run]
        mask = self.blocked(run)
        arcs = self._ways.get((graph, mask))
        if arcs is None:
            if len(self._ways) > KEPT:
                self._ways = {}
            arcs = [(u, v, i) for u, v, i, bit in self.arcs[graph] if not bit & mask]
            self._ways[graph, mask] = arcs
        path = _way(arcs, len(self.model.graphs[graph].x) - 1, self.costs(graph))
        if path is None:
            return False
        self.put(run, path)
        return True

    def lay_two(self, run: int, other: int) -> bool:
        """The same for two neighbours of one kind together."""
        graph = self.model.graph_of[run]
        if graph not in self._twins:
            self._twins[graph] = self._twin(graph)
        unit = self._twins[graph]
        if unit is None:
            return self.lay(run) and self.lay(other)
        mask = self.blocked(run) | self.blocked(other) << unit.shift[1]
        arcs = self._twin_ways.get((graph, mask))
        if arcs is None:
            if len(self._twin_ways) > KEPT // 10:
                self._twin_ways = {}
            arcs = [(a, b, i) for a, b, i, bit in unit.arcs if not bit & mask]
            self._twin_ways[graph, mask] = arcs
        path = _way(arcs, unit.last, self.costs(graph))
        if path is None:
            return False
        one: list[int] = []
        two: list[int] = []
        end = unit.nodes[unit.last][0]
        for state in path:
            u, v = unit.nodes[state]
            if 0 < u < end and (not one or one[-1] != u):
                one.append(u)
            if 0 < v < end and (not two or two[-1] != v):
                two.append(v)
        self.put(run, one)
        self.put(other, two)
        return True

    def _twin(self, graph: int) -> "Unit | None":
        unit = stack(self.model, (graph, graph))
        if not unit.arcs or len(unit.arcs) > _MOST_ARCS:
            return None
        own = self.model.own[graph]
        at = {own[i]: i for i in range(len(own))}
        at[0] = len(own)
        arcs = [(a, b, at[i], bit) for a, b, i, bit in unit.arcs]
        return Unit(unit.graphs, arcs, unit.last, unit.nodes, unit.shift)

    def build(self, stacks: "list[tuple[tuple[int, ...], list[list[int]]]]") -> bool:
        """Lay every run, unit by unit. False where that came to no end, which proves nothing."""
        for _, groups in stacks:
            for runs in groups:
                if not self.lay_all(runs):
                    waiting = [r for r in runs if self.joints[r] is None]
                    if not self.settle(waiting):
                        return False
        return True

    def lay_all(self, runs: list[int]) -> bool:
        todo = list(runs)
        while todo:
            run = todo.pop(0)
            if todo and self.model.graph_of[run] == self.model.graph_of[todo[0]]:
                if self.lay_two(run, todo.pop(0)):
                    continue
                return False
            if not self.lay(run):
                return False
        return True

    def settle(self, runs: list[int]) -> bool:
        """Lay these where their neighbours leave no room: those in the way are laid after.

        The more often a run was in the way, the dearer to put it out again. False where
        that comes to no end, which proves nothing.
        """
        waiting = list(runs)
        weights: dict[int, int] = {}
        for _ in range(2000 + 20 * len(self.joints)):
            if not waiting:
                return True
            run = waiting.pop(0)
            if self.joints[run] is not None or self.lay(run):
                continue
            graph = self.model.graph_of[run]
            last = len(self.model.graphs[graph].x) - 1
            toll = [0.0] * (last + 1)
            bars = self._bars(run)
            for j, mask in bars:
                for u in range(1, last):
                    if mask >> u & 1:
                        toll[u] += weights.get(j, 0) + 1.0
            path = way_with(
                self.arcs[graph], last, [0.01 * n for n in self._noise[self.random.below(64)]], toll
            )
            if path is None:
                return False
            bits = 0
            for v in path:
                bits |= 1 << v
            for j, mask in bars:
                if mask & bits:
                    self.take(j)
                    waiting.append(j)
                    weights[j] = weights.get(j, 0) + 1
            self.put(run, path)
        return not waiting

    def _bars(self, run: int) -> list[tuple[int, int]]:
        """(neighbour, nodes where its joints allow none of the run's, as bits), those laid."""
        out = []
        for j, table in self.near[run]:
            mask = 0
            for v in self.joints[j] or []:
                mask |= table[v]
            if mask:
                out.append((j, mask))
        return out

    # -- improving

    def pick(self) -> list[int]:
        """The runs of one to a few wasteful boards."""
        random, tuning = self.random, self.tuning
        boards = self.boards
        hold = self.worth.hold
        out: list[int] = []
        n = len(boards)
        for _ in range(1 + random.below(tuning.boards)):
            best: Board | None = None
            most = -1
            for _ in range(tuning.rivals):
                b = boards[random.below(n)]
                if b is not None and b[2] and hold(b[1]) > most:
                    best, most = b, hold(b[1])
            if best is not None:
                for h in best[2]:
                    if h[0] not in out:
                        out.append(h[0])
        return out[: tuning.runs]

    def move(self, out: list[int]) -> bool:
        """Take these runs out and lay them again."""
        random = self.random
        for run in out:
            self.take(run)
        todo = list(out)
        graph_of = self.model.graph_of
        while todo:
            run = todo.pop(random.below(len(todo)))
            twin = -1
            if todo and random.below(100) < self.tuning.pairs:
                for j, apart in self.model.near[run]:
                    if apart == 1 and graph_of[j] == graph_of[run] and j in todo:
                        twin = j
                        break
            if twin >= 0:
                todo.remove(twin)
                if not self.lay_two(run, twin):
                    return False
            elif not self.lay(run):
                return False
        return True

    def shrink(self) -> None:
        """Give each board just changed the cheapest stock that holds what is cut from it."""
        if len(self.stores) == 1:
            return
        for b in sorted(self.log):
            board = self.boards[b]
            if board is None or board[0] in self.home or board[0] == self.lack:
                continue
            t, state = board[0], board[1]
            s = self.stores[t]
            need = s.cap - (state >> 2)
            ends = state & 3 & ~s.gone
            best, cost = t, s.cost
            if self.counts[t] is not None and self.used[t] > self.counts[t]:
                cost = OVER
            if [1 for h in board[2] if self.model.kind[h[2]] == WHOLE]:
                continue
            for k in range(len(self.stores)):
                o = self.stores[k]
                if o.cap >= need and not o.gone & ends and o.cost < cost:
                    if self.counts[k] is None or self.used[k] < self.counts[k]:
                        best, cost = k, o.cost
            if best != t:
                o = self.stores[best]
                self.change(b, (best, (o.cap - need) * 4 | o.gone | ends, board[2]))

    def improve(self, moves: int, target: int) -> int:
        """Make up to `moves` moves, fewer when the cost reaches the target. How many."""
        made = 0
        heat = self.tuning.heat * SCALE
        random = self.random
        if self.best_cost < 0:
            self.keep()
        while made < moves and self.best_cost > target:
            made += 1
            out = self.pick()
            if not out:
                continue
            self.log = {}
            before = self.energy
            old = [(r, self.joints[r], self.cuts[r]) for r in out]
            self.shy = random.below(4) == 0
            if self.move(out):
                self.shrink()
                if self.energy <= before + int(heat * WAITS[random.below(512)]):
                    if self.cost < self.best_cost:
                        self.keep()
                    continue
            self.undo(old)
        return made

    def undo(self, old: "list[tuple[int, list[int] | None, list[int]]]") -> None:
        """Put boards and runs back as they were before the move."""
        for b in sorted(self.log):
            now, then = self.boards[b], self.log[b]
            if now is None and then is not None:
                self.free.remove(b)
            elif now is not None and then is None:
                self.free.append(b)
            self._set(b, now, then)
        for run, joints, cuts in old:
            self.joints[run] = joints
            self.cuts[run] = cuts
        self.log = {}

    best_cost = -1

    def adopt(self, other: "Search") -> None:
        """Take over the best plan of another search of the same problem."""
        self._empty()
        self.joints = list(other.best_joints)
        self.cuts = list(other.best_cuts)
        self.boards = [None] * len(other.best_boards)
        for b in range(len(self.boards)):
            if other.best_boards[b] is None:
                self.free.append(b)
            else:
                self._set(b, None, other.best_boards[b])
        self.keep()

    def hand(
        self, joints: "list[list[Any]]", boards: list[tuple[int, list[tuple[int, int]]]]
    ) -> None:
        """Put a plan as an Answer has it into the empty search."""
        model = self.model
        store_of = {model.stores[t].origin: t for t in range(len(model.stores))}
        for i in range(len(joints)):
            graph = model.graphs[model.graph_of[i]]
            at = {graph.marks[v]: v for v in range(1, len(graph.marks) - 1)}
            self.joints[i] = [at[mark] for mark in joints[i]]
            self.cuts[i] = [-1] * (len(joints[i]) + 1)
        for origin, held in boards:
            self.place(store_of[origin], held)
        self.log = {}

    def keep(self) -> None:
        """Remember the plan as the best."""
        self.best_cost = self.cost
        self.best_joints = list(self.joints)
        self.best_cuts = list(self.cuts)
        self.best_boards = list(self.boards)


def way_with(
    arcs: "list[Any]", last: int, cost: list[float], toll: list[float]
) -> list[int] | None:
    """The cheapest way from 0 to last where each node on it costs its toll besides."""
    best = [BIG] * (last + 1)
    back = [0] * (last + 1)
    best[0] = 0.0
    for a, b, i, _ in arcs:
        c = best[a] + cost[i] + toll[b]
        if c < best[b]:
            best[b] = c
            back[b] = a
    return None if best[last] >= BIG else _nodes(back, last)


def _way(arcs: "list[Any]", last: int, cost: list[float]) -> list[int] | None:
    """The cheapest way from 0 to last, its nodes between, or None."""
    best = [BIG] * (last + 1)
    back = [0] * (last + 1)
    best[0] = 0.0
    for a, b, i in arcs:
        c = best[a] + cost[i]
        if c < best[b]:
            best[b] = c
            back[b] = a
    return None if best[last] >= BIG else _nodes(back, last)


def _nodes(back: list[int], last: int) -> list[int]:
    """The nodes between 0 and the last on the way that `back` tells."""
    out = []
    v = back[last]
    while v > 0:
        out.append(v)
        v = back[v]
    return out[::-1]
