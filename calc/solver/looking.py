"""The search for a better look that costs no more, by moves that leave the boards full.

A move gives some runs other joints. Most need the same pieces as before in all: two runs
of one kind exchange their joints, one run lays its pieces in another order, one run is
laid anew and another takes up what that changes; the boards then stay as they are. The
rest are cut anew from offcuts. Worse looks are taken now and then, less and less.
Source: simulated annealing, from memory.
"""

from .chance import WAITS
from .cutting import SCALE
from .look import Look
from .search import Search, way_with

TYPE_CHECKING = False
if TYPE_CHECKING:
    Before = list[tuple[int, list[int] | None, list[int]]]
    Change = tuple[int, list[int], list[int]]  # run, joints till now, joints from now on

_HOT, _COLD = 40.0, 1.0  # score that is taken on, about, at the start and end of a round
_BOARD = 1500.0  # score that a board more is worth
_ROUND = 50  # moves for each run in the first round; each after it has twice as many
_ORDERS = 24  # layouts of the same pieces looked at
_KEPT = 20000
_HELPERS = 60  # runs asked to take up a change
_MOST = 5  # runs cut anew together


class Looking:
    """Moves by number, so that the same moves give the same plan."""

    def __init__(self, search: Search, moves: int) -> None:
        """search: a whole plan, which is changed; moves: how many are to be made in all."""
        self.search = search
        self.look = Look(search)
        self.cap = search.cost
        self.best = self.look.total
        self.limit = 0.0
        model = search.model
        runs = model.problem.runs
        self.free = [i for i in range(len(runs)) if self._choice(i)]
        self.moves, self.made = moves if self.free else 0, 0
        self.start, self.length = 0, _ROUND * len(self.free)  # of this round
        self.kinds: dict[int, list[int]] = {}
        for i in self.free:
            kind = model.graph_of[i]
            self.kinds[kind] = self.kinds.get(kind, []) + [i]
        self.out: list[list[list[tuple[int, int]]]] = []
        for g in model.graphs:
            row: list[list[tuple[int, int]]] = [[] for _ in g.x]
            for u, v, item in g.arcs:
                row[u].append((v, item))
            self.out.append(row)
        self._orders: dict[tuple[int, tuple[int, ...]], list[list[int]]] = {}
        search.keep()

    def _choice(self, run: int) -> bool:
        """Whether the run could have other joints."""
        model = self.search.model
        g = model.graphs[model.graph_of[run]]
        return model.problem.runs[run].joints is None and len(g.arcs) > 1

    def improve(self, moves: int) -> int:
        """Make so many moves, fewer at the end. The best look so far."""
        search, look = self.search, self.look
        below = search.random.below
        end = min(self.made + moves, self.moves)
        while self.made < end:
            if self.made >= self.start + self.length:
                self.start = self.made
                self.length *= 2
            done = (self.made - self.start) / self.length
            heat = _COLD + (_HOT - _COLD) * (1.0 - done) * (1.0 - done) * (1.0 - done)
            self.made += 1
            self.limit = self.value() + heat * WAITS[below(512)]
            lot = below(100) if search.keeping is None else 99  # the others ask no offcut's leave
            if lot < 25:
                self.exchange()
            elif lot < 30:
                self.reorder()
            elif lot < 55:
                self.shift()
            else:
                self.recut()
            if look.total < self.best and search.cost <= self.cap:
                self.best = look.total
                search.keep()
        return self.best

    def value(self) -> float:
        """What is made less: the look, and the boards."""
        return self.look.total + _BOARD / SCALE * self.search.energy

    # -- the moves

    def pick(self) -> int:
        """Of a few runs the one whose courses score most."""
        most, chosen = -1, 0
        for _ in range(2):
            run = self.free[self.search.random.below(len(self.free))]
            score = self.look.alone(run)
            if score > most:
                most, chosen = score, run
        return chosen

    def exchange(self) -> bool:
        """Two runs of one kind take each other's joints."""
        joints = self.search.joints
        run = self.pick()
        like = self.kinds[self.search.model.graph_of[run]]
        other = like[self.search.random.below(len(like))]
        a, b = joints[run] or [], joints[other] or []
        if a == b:
            return False
        return self.swap([(run, a, b), (other, b, a)])

    def reorder(self) -> bool:
        """A run lays the same pieces in another order."""
        run = self.pick()
        old = self.search.joints[run] or []
        new = self.order(run, self.items(run, old), old)
        return new is not None and self.swap([(run, old, new)])

    def shift(self) -> bool:
        """A run is laid by its look; another takes up the change of pieces, or offcuts do."""
        search = self.search
        run = self.pick()
        graph = search.model.graph_of[run]
        mask = search.blocked(run)
        arcs = search.arcs[graph]
        if mask:
            arcs = [a for a in arcs if not a[3] & mask]
        spice = 1 + search.random.below(16)
        below = search.random.below
        tolls = [float(t + below(spice)) for t in self.look.tolls(run)]
        own = len(search.model.own[graph])
        new = way_with(arcs, len(tolls) - 1, [0.0] * (own + 1), tolls)
        old = search.joints[run] or []
        if new is None or new == old:
            return False
        spare, need = self.items(run, old), []
        for item in self.items(run, new):
            if item in spare:
                spare.remove(item)
            else:
                need.append(item)
        if not need:
            return self.swap([(run, old, new)])
        search.joints[run] = new
        change = self.helper(run, spare, need)
        search.joints[run] = old
        if change is not None and self.swap([(run, old, new), change]):
            return True
        return self.cut([(run, old, new)])

    def helper(self, run: int, spare: list[int], need: list[int]) -> "Change | None":
        """Another run that can do with the spare pieces in place of the needed ones."""
        search = self.search
        n = len(self.free)
        start = search.random.below(n)
        for k in range(min(n, _HELPERS)):
            other = self.free[(start + k) % n]
            if other == run:
                continue
            old = search.joints[other] or []
            items = self.items(other, old)
            for item in need:
                if item not in items:
                    break
                items.remove(item)
            else:
                new = self.order(other, items + spare, old)
                if new is not None:
                    return (other, old, new)
        return None

    def recut(self) -> bool:
        """A few neighbours, and who shares a board with them, are laid by cost and look."""
        search, look = self.search, self.look
        random = search.random
        run = self.pick()
        runs = [run]
        near = search.near[run]
        for _ in range(random.below(3)):
            if near:
                j = near[random.below(len(near))][0]
                if j not in runs and search.model.problem.runs[j].joints is None:
                    runs.append(j)
        for b in search.cuts[run]:
            board = search.boards[b] if b >= 0 else None
            if board is not None and random.below(2):
                for h in board[2]:
                    if (
                        h[0] not in runs
                        and len(runs) < 5
                        and search.model.problem.runs[h[0]].joints is None
                    ):
                        runs.append(h[0])
        price = 60.0 * (1 + random.below(4)) / max(search.toll_of_board(), 1.0)
        before: Before = [(r, search.joints[r], search.cuts[r]) for r in runs]
        search.log = {}
        for r in runs:
            search.take(r)
        look.begin()
        for r, old, _ in before:
            look.change(r, old or [], [])
        todo = list(runs)
        while todo:
            r = todo.pop(random.below(len(todo)))
            graph = search.model.graph_of[r]
            mask = search.blocked(r)
            arcs = search.arcs[graph]
            if mask:
                arcs = [a for a in arcs if not a[3] & mask]
            cost = [c * price for c in search.costs(graph)]
            tolls = [float(t) for t in look.tolls(r)]
            path = way_with(arcs, len(tolls) - 1, cost, tolls)
            if path is None:
                break
            search.put(r, path)
            look.change(r, [], path)
        else:
            search.shrink()
            look.settle()
            if self.value() <= self.limit:
                return True
        look.undo()
        search.undo(before)
        return False

    # -- making a change

    def swap(self, changes: "list[Change]") -> bool:
        """Make these changes, which need the same pieces in all, if rules and look allow."""
        search = self.search
        for run, _, new in changes:
            search.joints[run] = new
        for run, _, new in changes:
            mask = search.blocked(run)
            if mask and [1 for v in new if mask >> v & 1]:
                break
        else:
            self.score(changes)
            if self.value() <= self.limit:
                self.relabel(changes)
                return True
            self.look.undo()
        for run, old, _ in changes:
            search.joints[run] = old
        return False

    def cut(self, changes: "list[Change]") -> bool:
        """Make these changes and cut their pieces from offcuts, if cost and look allow."""
        search = self.search
        self.score(changes)
        if self.value() - _BOARD <= self.limit:
            before: Before = [(run, old, search.cuts[run]) for run, old, _ in changes]
            search.log = {}
            for run, _, _ in changes:
                search.take(run)
            search.put_all([(run, new) for run, _, new in changes])
            search.shrink()
            if self.value() <= self.limit:
                return True
            search.undo(before)
        self.look.undo()
        return False

    def score(self, changes: "list[Change]") -> None:
        self.look.begin()
        for run, old, new in changes:
            self.look.change(run, old, new)
        self.look.settle()

    def relabel(self, changes: "list[Change]") -> None:
        """Say on the boards which piece is now whose."""
        search = self.search
        places: dict[int, list[int]] = {}
        runs = [c[0] for c in changes]
        boards = set()
        for run, old, _ in changes:
            items = self.items(run, old)
            for k in range(len(items)):
                b = search.cuts[run][k]
                boards.add(b)
                places[items[k]] = places.get(items[k], []) + [b]
        more: dict[int, list[tuple[int, int, int]]] = {}
        for run, _, new in changes:
            items = self.items(run, new)
            cuts = []
            for k in range(len(items)):
                b = places[items[k]].pop()
                cuts.append(b)
                more[b] = more.get(b, []) + [(run, k, items[k])]
            search.cuts[run] = cuts
        for b in boards:
            board = search.boards[b]
            if board is not None:
                rest = [h for h in board[2] if h[0] not in runs]
                search.boards[b] = (board[0], board[1], tuple(rest + more.get(b, [])))

    def items(self, run: int, joints: list[int]) -> list[int]:
        """The pieces of the run with these joints, from the left."""
        graph = self.search.model.graph_of[run]
        steps = self.search.steps[graph]
        out = []
        u = 0
        for v in joints:
            out.append(steps[u, v])
            u = v
        out.append(steps[u, len(self.out[graph]) - 1])
        return out

    def order(self, run: int, items: list[int], old: list[int]) -> list[int] | None:
        """Joints of the run with just these pieces, by look and chance; not the old; or None."""
        search = self.search
        graph = search.model.graph_of[run]
        key = (graph, tuple(sorted(items)))
        ways = self._orders.get(key)
        if ways is None:
            if len(self._orders) > _KEPT:
                self._orders = {}
            ways = self._orders[key] = self._all(graph, list(key[1]))
        if not ways:
            return None
        mask = search.blocked(run)
        tolls = self.look.tolls(run)
        below = search.random.below
        spice = 1 + below(16)
        best, least = None, 0
        for way in ways:
            if way == old:
                continue
            score = below(spice)
            for v in way:
                if mask >> v & 1:
                    break
                score += tolls[v]
            else:
                if best is None or score < least:
                    best, least = way, score
        return best

    def _all(self, graph: int, items: list[int]) -> list[list[int]]:
        """The layouts with just these pieces, at most so many."""
        out: list[list[int]] = []
        arcs = self.out[graph]
        end = len(arcs) - 1

        def go(u: int, left: list[int], so_far: list[int]) -> None:
            for v, item in arcs[u]:
                if item in left and len(out) < _ORDERS:
                    rest = list(left)
                    rest.remove(item)
                    if v < end:
                        go(v, rest, so_far + [v])
                    elif not rest:
                        out.append(so_far)

        go(0, items, [])
        return out
