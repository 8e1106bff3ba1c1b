"""Choose joints and cut boards together: one search, one proof.

Built first course by course, each run by its cheapest path where a piece
costs what it takes from the cheapest offcut. Then moves: take out all runs
that touch a few wasteful boards, lay them again, cut again, keep what is no
worse. It ends when the cost meets the proven bound or the moves are used up.
"""

from collections import namedtuple

from .boards import (
    Bound,
    Chain,
    least_weights,
    length_bound,
    lengths,
    most,
    priced_bound,
    step_bounds,
)
from .layout import Graph, feasible, one, pieces, two
from .prices import prices

# What is to be solved.
# graphs list of Graph, one per kind of run
# runs   for each run (graph index, indexes of the runs in neighbouring courses)
# chains list of Chain: runs of one kind in neighbouring courses
# stock  list of Stock; kerf, stagger in jots
Task = namedtuple("Task", "graphs runs chains stock kerf stagger")

# joints  for each run the nodes of its joints, left to right
# boards  list of (stock index, list of (run, piece)), pieces of a run from the left
# cost    as in Stock.cost; over: boards used beyond the counts to be had
# bound   Bound; steps: moves made
Solution = namedtuple("Solution", "joints boards cost over bound steps")

_GRAIN = 840  # prices are whole 840ths of the dearest board: halves to eighths come out even
_MOST_LENGTHS = 90  # more distinct pieces than this, and the linear programme is left out
_FEW_PIVOTS = 10  # where each kind of run has a programme of its own
_DISCOUNTS = (5, 12, 30)  # per cent
_TOLL, _TIDY_TOLL = 4, 40  # thousandths of a board: fewer joints, all else the same
_OVER = 1 << 40  # more than any cost: a board that is not to be had


class Random:
    """A small generator of our own, the same on both interpreters.

    Linear congruential, modulus 2^31, multiplier and increment from memory of
    the C standard's example; the high bits are used.
    """

    def __init__(self, seed: int) -> None:
        self._x = (seed * 2654435 + 12345) % 2147483648

    def below(self, n: int) -> int:
        """A whole number from 0 to n - 1, n from 1 to 32768."""
        self._x = (self._x * 1103515245 + 12345) % 2147483648
        return (self._x >> 16) * n >> 15


def solve(task: Task, steps: int, seed: int) -> Solution | None:
    """Joints and boards for the task, with a proven bound.

    steps: the most moves to make, 0 or more; seed: any whole number. The same
    task, steps and seed give the same answer on every machine. None where
    some run cannot be laid, or none was found that keeps neighbours apart.
    Proven least when cost == bound.cost and over == 0.
    """
    graphs, chains, stock = task.graphs, task.chains, task.stock
    if not all([feasible(graphs[c.graph], c.courses, task.stagger) for c in chains]):
        return None
    bound = length_bound(graphs, chains, stock, task.kerf, task.stagger)
    guides = step_bounds(graphs, chains, stock, task.kerf, task.stagger, _steps(task))
    if guides[0].cost > bound.cost:
        bound = guides[0]
    random = Random(seed)
    first = _Search(task, random, guides[0].prices)
    if not first.build():
        return None
    if first.cost() <= bound.cost:
        longest = _of_longest(task, random, guides[0].prices, steps // 2, bound.cost)
        best = first if longest is None or first.rank() <= longest.rank() else longest
        return best.answer(bound, best.tidy(steps // 2))
    guide = _priced(task)
    if guide.cost > bound.cost:
        bound = guide
    search = _Search(task, random, guide.prices)
    if not search.build():
        search = first
    made = search.improve(steps, bound.cost)
    best = first if first.rank() < search.rank() else search
    longest = _of_longest(task, random, guide.prices, steps // 2, bound.cost)
    if longest is not None and longest.rank() < best.rank():
        best = longest
    return best.answer(bound, made + best.tidy(steps // 2))


def _of_longest(
    task: Task, random: Random, guide: list[tuple[int, int]], steps: int, target: int
) -> "_Search | None":
    """A search with the longest boards alone, or None where there are no others.

    It often costs the same in fewer boards and joints, and the moves of the
    others hardly ever find it: they would have to change many boards at once.
    """
    caps = [s.cap for s in task.stock]
    if min(caps) == max(caps):
        return None
    stock = [s for s in task.stock if s.cap == max(caps)]
    alone = Task(task.graphs, task.runs, task.chains, stock, task.kerf, task.stagger)
    search = _Search(alone, random, guide)
    if not search.build():
        return None
    search.improve(steps, target)
    return search


def _priced(task: Task) -> Bound:
    """The bound from the linear programme's prices, made whole.

    Where there are too many lengths for one programme, each kind of run has
    its own, and where even that is too many, a piece is priced by its weight.
    """
    top = max([s.cost for s in task.stock]) or 1
    whole: dict[int, int] = {}
    together = len(lengths(task.graphs)) <= _MOST_LENGTHS
    alone = [[c for c in task.chains if c.graph == k] for k in range(len(task.graphs))]
    programmes = [task.chains] if together else [part for part in alone if part]
    for part in programmes:
        kinds = sorted({c.graph for c in part})
        graphs = [task.graphs[k] for k in kinds]
        if len(lengths(graphs)) > _MOST_LENGTHS:
            for length in lengths(graphs):
                whole[length] = _GRAIN * (length + task.kerf) // max([s.cap for s in task.stock])
            continue
        chains = [Chain(kinds.index(c.graph), c.courses) for c in part]
        worth = prices(graphs, chains, task.stock, task.kerf, task.stagger,
                       max(_FEW_PIVOTS, _pivots(graphs) // len(programmes)))  # fmt: skip
        for length in sorted(worth):
            price = int(worth[length] * _GRAIN / top + 0.5)
            whole[length] = max(whole.get(length, 0), price)
    return priced_bound(task.graphs, task.chains, task.stock, task.kerf, task.stagger, whole)


def _pivots(graphs: list[Graph]) -> int:
    """How many steps of the simplex method: fewer where the graphs are large."""
    work = 0
    for g in graphs:
        arcs = sum([len(out) for out in g.arcs])
        work += arcs * arcs // len(g.x)
    return max(20, min(150, 400000 // (work + 1000)))


def _steps(task: Task) -> list[int]:
    """Which steps to price in: few where the graphs are large."""
    arcs = 0
    for g in task.graphs:
        arcs += sum([len(out) for out in g.arcs])
    return list(range(1, 25 if arcs < 400 else 9))


class _Board:
    """One board while it is being filled; replaced, never changed, once in a list."""

    def __init__(self, stock: int, room: int, held: list[tuple[int, int, int]]) -> None:
        self.stock = stock  # index into the sorted stock
        self.room = room  # weight still free
        self.held = held  # (run, piece, weight)


class _Search:
    def __init__(self, task: Task, random: Random, guide: list[tuple[int, int]]) -> None:
        self.task = task
        self.random = random
        self.stock = sorted(task.stock)  # by what it holds
        self.joints: list[list[int] | None] = [None] * len(task.runs)
        self.boards: list[_Board] = []
        self.lengths = lengths(task.graphs)
        self.own = [lengths([g]) for g in task.graphs]
        top = self.stock[-1].cap
        self.reach = least_weights(dict(guide), task.kerf, top)
        self.kept: dict[int, int] = {}
        self.counted = [s for s in task.stock if s.count is not None] != []
        self._judge()

    def _judge(self) -> None:
        """What a new board costs for each piece: its cost less what its offcut is worth.

        All in hundredths of a price. An offcut is worth a little less than the
        prices in it, as it may stay unused: one table for each of _DISCOUNTS.
        """
        fills = [max(self.hold(s.cap), 1) for s in self.stock]
        best = 0
        for i in range(1, len(self.stock)):
            if self.stock[i].cost * fills[best] < self.stock[best].cost * fills[i]:
                best = i
        unit = max(self.stock[best].cost, 1)
        whole = [100 * s.cost * fills[best] // unit for s in self.stock]
        self.board = whole[best]
        self.toll = self.board * _TOLL // 1000  # what each piece costs besides
        self.tables: list[dict[int, list[tuple[int, int]]]] = []
        for discount in _DISCOUNTS:
            table = {}
            for length in self.lengths:
                ways = []
                for i in range(len(self.stock)):
                    left = self.stock[i].cap - length - self.task.kerf
                    if left >= 0:
                        rest = self.hold(left) * (100 - discount)
                        ways.append((max(whole[i] - rest, 1), i))
                ways.sort()
                table[length] = ways
            self.tables.append(table)
        self.turn(0)

    def turn(self, table: int) -> None:
        """Value offcuts by this one of _DISCOUNTS from now on."""
        self.new = self.tables[table]
        self.worth = 100 - _DISCOUNTS[table]

    def hold(self, room: int) -> int:
        """The most price that fits into the room, looked up once."""
        value = self.kept.get(room, -1)
        if value < 0:
            value = self.kept[room] = most(self.reach, room)
        return value

    # -- laying runs

    def costs(self, graph: int, noise: int) -> "dict[int, int]":
        """What each piece length of the graph takes from the cheapest offcut or new board."""
        kerf = self.task.kerf
        own = self.own[graph]
        least = own[0] + kerf
        offcuts = [
            (room, self.hold(room)) for room in {b.room for b in self.boards} if room >= least
        ]
        hold, worth = self.hold, self.worth
        out = {}
        for length in own:
            weight = length + kerf
            cost = self.fresh(length)[0]
            for room, value in offcuts:
                if room >= weight:
                    take = (value - hold(room - weight)) * worth
                    if take < cost:
                        cost = take
            if noise:
                cost += cost * self.random.below(noise) // 1000
            out[length] = cost + self.toll
        return out

    def fresh(self, length: int) -> tuple[int, int]:
        """(what it costs, stock) to take the piece from a new board that is to be had."""
        ways = self.new[length]
        if not self.counted:
            return ways[0]
        used = self.used()
        for way in ways:
            count = self.stock[way[1]].count
            if count is None or used[way[1]] < count:
                return way
        return _OVER, ways[0][1]

    def used(self) -> list[int]:
        """How many boards of each stock are in use."""
        out = [0] * len(self.stock)
        for b in self.boards:
            out[b.stock] += 1
        return out

    def blocked(self, run: int) -> "set[int]":
        """Nodes where the run may have no joint for its neighbours' sake."""
        g = self.task.graphs[self.task.runs[run][0]]
        out = set()
        for other in self.task.runs[run][1]:
            theirs = self.joints[other]
            if not theirs:
                continue
            h = self.task.graphs[self.task.runs[other][0]]
            for v in theirs:
                for u in range(1, len(g.x) - 1):
                    if g.studs[u] == h.studs[v] or abs(g.x[u] - h.x[v]) < self.task.stagger:
                        out.add(u)
        return out

    def lay(self, run: int, noise: int) -> bool:
        """Lay the run among its neighbours and cut it. False where it cannot be laid."""
        graph = self.task.runs[run][0]
        g = self.task.graphs[graph]
        path = one(g, self.costs(graph, noise), self.blocked(run))
        if path is None:
            return False
        self.put(run, path[1])
        return True

    def lay_two(self, run: int, noise: int) -> bool:
        """As lay, for the run and the next one, which is of the same kind."""
        graph = self.task.runs[run][0]
        g = self.task.graphs[graph]
        pair = two(
            g, self.costs(graph, noise), self.task.stagger, self.blocked(run), self.blocked(run + 1)
        )
        if pair is None:
            return False
        self.put(run, pair[1])
        self.put(run + 1, pair[2])
        return True

    def twin(self, run: int, other: int) -> bool:
        """Whether the two runs are of one kind and lie in neighbouring courses."""
        mine, theirs = self.task.runs[run], self.task.runs[other]
        return mine[0] == theirs[0] and other in mine[1]

    def put(self, run: int, joints: list[int]) -> None:
        """Take these joints for the run and cut its pieces, longest first."""
        g = self.task.graphs[self.task.runs[run][0]]
        self.joints[run] = joints
        cut = pieces(g, joints)
        order = sorted([(-cut[k][2], k) for k in range(len(cut))])
        for minus, k in order:
            self.cut(run, k, -minus)

    def cut(self, run: int, k: int, length: int) -> None:
        """Cut one piece from the offcut that loses least, or from a new board."""
        weight = length + self.task.kerf
        best = -1
        key = (0, 0)
        seen = set()  # of boards with the same room the first would win anyway
        for j, board in enumerate(self.boards):
            room = board.room
            if room >= weight and room not in seen:
                seen.add(room)
                left = room - weight
                loss = (self.hold(room) - self.hold(left)) * self.worth
                if best < 0 or (loss, left) < key:
                    best, key = j, (loss, left)
        way, new = self.fresh(length)
        if best >= 0 and way >= key[0]:
            new = -1
        held = [(run, k, weight)]
        if new >= 0:
            self.boards.append(_Board(new, self.stock[new].cap - weight, held))
        else:
            b = self.boards[best]
            self.boards[best] = _Board(b.stock, b.room - weight, b.held + held)

    def build(self) -> bool:
        """Lay every run; where courses block each other, by two layouts that take turns."""
        start = 0
        for chain in self.task.chains:
            runs = list(range(start, start + chain.courses))
            start += chain.courses
            before = list(self.boards)
            for i in range(0, chain.courses, 2):
                if i + 1 < chain.courses:
                    laid = self.lay_two(runs[i], 0)
                else:
                    laid = self.lay(runs[i], 0)
                if laid:
                    continue
                if not self.alone(runs):
                    if not self.settle(runs[i : i + 2]):
                        return False
                    continue
                self.boards = before
                g = self.task.graphs[chain.graph]
                pair = (
                    two(g, self.costs(chain.graph, 0), self.task.stagger)
                    if chain.courses > 1
                    else None
                )
                if pair is None:
                    return False
                for again in runs:
                    self.put(again, (pair[1], pair[2])[again % 2])
                break
        return True

    def alone(self, runs: list[int]) -> bool:
        """Whether the runs have neighbours only among themselves."""
        return not [1 for run in runs for other in self.task.runs[run][1] if other not in runs]

    def settle(self, runs: list[int]) -> bool:
        """Lay these where their neighbours leave no room: take neighbours out, lay them after.

        False where that comes to no end, which proves nothing.
        """
        waiting = list(runs)
        for _ in range(200 + 10 * len(self.joints)):
            if not waiting:
                return True
            run = waiting.pop(0)
            if self.lay(run, 200):
                continue
            near = [other for other in self.task.runs[run][1] if self.joints[other] is not None]
            while near:
                other = near.pop(self.random.below(len(near)))
                self.take_out([other])
                waiting.append(other)
                if self.lay(run, 200):
                    break
            else:
                return False
        return not waiting

    def take_out(self, runs: list[int]) -> None:
        """Unlay the runs: what was cut for them is board again."""
        kept = []
        for b in self.boards:
            held = [h for h in b.held if h[0] not in runs]
            if len(held) == len(b.held):
                kept.append(b)
            elif held:
                room = b.room + sum([h[2] for h in b.held if h[0] in runs])
                kept.append(_Board(b.stock, room, held))
        self.boards = kept
        for run in runs:
            self.joints[run] = None

    # -- improving

    def cost(self) -> int:
        used = self.used()
        total = 0
        for i in range(len(used)):
            total += used[i] * self.stock[i].cost
            count = self.stock[i].count
            if count is not None and used[i] > count:
                total += (used[i] - count) * _OVER
        return total

    def gathered(self) -> int:
        """How well waste is gathered in few boards: higher is better."""
        total = 0
        for b in self.boards:
            rest = self.hold(b.room) // 8
            total += rest * rest
        return total

    def shrink(self) -> None:
        """Give each board the cheapest stock that holds what is cut from it."""
        if len(self.stock) == 1:
            return
        used = self.used()
        for j in range(len(self.boards)):
            b = self.boards[j]
            weight = self.stock[b.stock].cap - b.room
            best = b.stock
            for i in range(len(self.stock)):
                s = self.stock[i]
                if s.cap >= weight and (s.count is None or used[i] < s.count):
                    over = self.stock[b.stock].count
                    if s.cost < self.stock[best].cost or (
                        best == b.stock and over is not None and used[best] > over
                    ):
                        best = i
            if best != b.stock:
                used[b.stock] -= 1
                used[best] += 1
                self.boards[j] = _Board(best, self.stock[best].cap - weight, b.held)

    def improve(self, steps: int, target: int) -> int:
        """Make up to `steps` moves, fewer when the cost reaches the target. How many."""
        self.shrink()
        cost, held = self.cost(), self.gathered()
        made = 0
        while made < steps and cost > target:
            made += 1
            boards, joints = list(self.boards), list(self.joints)
            if self.move():
                self.shrink()
                now, then = self.cost(), self.gathered()
                slack = self.random.below(1 + held // 40)
                if now < cost or (now == cost and then + slack >= held):
                    cost, held = now, then
                    continue
            self.boards, self.joints = boards, joints
        return made

    def tidy(self, steps: int) -> int:
        """Make `steps` moves, keeping those that cost no more and save boards, or else joints."""
        self.toll = self.board * _TIDY_TOLL // 1000
        held = self.rank()
        for _ in range(steps):
            boards, joints = list(self.boards), list(self.joints)
            if self.move():
                self.shrink()
                now = self.rank()
                if now <= held:
                    held = now
                    continue
            self.boards, self.joints = boards, joints
        return steps

    def rank(self) -> tuple[int, int, int]:
        """(cost, boards, joints): of plans that cost the same, fewer boards, then fewer joints."""
        return self.cost(), len(self.boards), sum([len(j) for j in self.joints if j])

    def move(self) -> bool:
        """Take out the runs of one to three wasteful boards and lay them again."""
        self.turn(self.random.below(len(_DISCOUNTS)))
        out: list[int] = []
        for _ in range(1 + self.random.below(3)):
            a = self.boards[self.random.below(len(self.boards))]
            b = self.boards[self.random.below(len(self.boards))]
            for run, _k, _w in (a if a.room > b.room else b).held:
                if run not in out:
                    out.append(run)
        out = out[:6]
        self.take_out(out)
        while out:
            run = out.pop(self.random.below(len(out)))
            if run + 1 in out and self.twin(run, run + 1):
                out.remove(run + 1)
                if not self.lay_two(run, 60):
                    return False
            elif not self.lay(run, 60):
                return False
        return True

    def answer(self, bound: Bound, made: int) -> Solution:
        used = self.used()
        cost = over = 0
        for i in range(len(used)):
            cost += used[i] * self.stock[i].cost
            count = self.stock[i].count
            if count is not None and used[i] > count:
                over += used[i] - count
        boards = [
            (self.stock[b.stock].index, sorted([(h[0], h[1]) for h in b.held])) for b in self.boards
        ]
        return Solution([j or [] for j in self.joints], boards, cost, over, bound, made)
