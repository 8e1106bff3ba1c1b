"""The problem as graphs: pieces as items, runs as paths, neighbours as masks of barred nodes.

An item is a piece by weight (length + kerf) and kind. A board holds its length
- 2 trim + kerf, so k pieces need k - 1 cuts exactly. Kinds count only where ends
are matched: there a piece that starts a run needs a board's right-hand end, one
that ends a run its left-hand end, one between two joints is a whole board.
"""

from collections import namedtuple

from .given import Problem, Run

ANY, LEFT, RIGHT, WHOLE = 0, 1, 2, 3  # kinds; LEFT and RIGHT are also bits of ends in use
LACK = 1 << 30

# marks  for each node its (stud, offset), None for the two ends
# x, at  for each node where it is, and where its stud is
# arcs   list of (node, next node, item), by node
Graph = namedtuple("Graph", "marks x at arcs")

# Boards to cut from: cap as above, ends no longer to be had, whole: the length a
# whole board gives (-1 where it can't), origin: the stock index, or -1 - k for what is
# left of the k-th board already cut, or LACK: none holds what is put on it.
Store = namedtuple("Store", "cap cost count gone whole origin")


class Model:
    """The problem, indexed. Item 0 stands for a piece that is already cut."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        rules = problem.rules
        self.rules = rules
        self.weight = [0]
        self.kind = [ANY]
        self._items: dict[tuple[int, int], int] = {}
        self.stores = _stores(problem)
        self.sunk = sum([c.cost for c in problem.cuts])
        # What is used up is reckoned with: that no board of it is left is for the search to find.
        spent = [problem.stock[c.stock] for c in problem.cuts if c.stock >= 0]
        wholes = {s.length for s in spent if s.gone == 0 and rules.trim == 0}
        self.wholes = sorted(wholes | {s.whole for s in self.stores if s.whole >= 0})
        caps = [s.cap for s in self.stores] + [
            s.length - 2 * rules.trim + rules.kerf for s in spent
        ]
        self.longest = max(caps) - rules.kerf if caps else 0
        cut = set()
        for c in problem.cuts:
            for run, piece in c.pieces:
                cut.add((run, piece))
        self.graphs: list[Graph] = []
        self.fixed: list[bool] = []  # for each graph: its runs have their joints already
        self.graph_of: list[int] = []
        known: dict[tuple[object, ...], int] = {}
        for i in range(len(problem.runs)):
            run = problem.runs[i]
            done = [k for r, k in sorted(cut) if r == i] if run.joints is not None else []
            fixed = None if run.joints is None else tuple(run.joints)
            key = (run.left, run.right, tuple(run.studs), run.more, fixed, tuple(done))
            if key not in known:
                known[key] = len(self.graphs)
                self.graphs.append(self._graph(run, done))
                self.fixed.append(fixed is not None)
            self.graph_of.append(known[key])
        self.own = [sorted({i for _, _, i in g.arcs if i}) for g in self.graphs]
        self.near = _near(self)
        self._barred: dict[tuple[int, int, int], list[int]] = {}

    def item(self, length: int, kind: int) -> int:
        """The item of pieces of this length and kind."""
        key = (length + self.rules.kerf, kind)
        if key not in self._items:
            self._items[key] = len(self.weight)
            self.weight.append(key[0])
            self.kind.append(kind)
        return self._items[key]

    def _graph(self, run: Run, done: list[int]) -> Graph:
        rules = self.rules
        if run.joints is not None:
            places = {number: at for number, at in run.studs}
            nodes = [(s, o, places[s]) for s, o in run.joints]
        else:
            nodes = []
            for number, at in run.studs:
                for o in sorted(rules.offsets):
                    if run.left < at + o < run.right:
                        nodes.append((number, o, at))
            nodes.sort(key=lambda n: (n[2] + n[1], n[0]))
        x = [run.left] + [at + o for _, o, at in nodes] + [run.right]
        at = [run.left] + [n[2] for n in nodes] + [run.right]
        marks = [None] + [(n[0], n[1]) for n in nodes] + [None]
        end = len(x) - 1
        half = rules.joint_gap // 2
        arcs = []
        for u in range(end):
            left = x[u] + (rules.joint_gap - half if u else -run.more[0])
            for v in range(u + 1, end + 1):
                length = x[v] - (half if v < end else -run.more[1]) - left
                if run.joints is not None:
                    if v == u + 1:
                        item = 0 if u in done else self.item(length, self._kind(u, v, end))
                        arcs.append((u, v, item))
                    break
                if u and v < end and nodes[u - 1][0] == nodes[v - 1][0]:
                    continue
                if length <= 0 or ((u or v < end) and length < rules.shortest):
                    continue
                kind = self._kind(u, v, end)
                if length > self.longest and kind != WHOLE:
                    continue
                if kind == WHOLE and length not in self.wholes:
                    continue
                arcs.append((u, v, self.item(length, kind)))
        return Graph(marks, x, at, arcs)

    def _kind(self, u: int, v: int, end: int) -> int:
        if not self.rules.matched or (u == 0 and v == end):
            return ANY
        return RIGHT if u == 0 else LEFT if v == end else WHOLE

    def barred(self, graph: int, other: int, apart: int) -> list[int]:
        """For each node of the other graph, `apart` courses off, what it bars here, as bits.

        Where both have their joints already, nothing: they stay as they are.
        """
        key = (graph, other, apart)
        if key not in self._barred:
            g, h = self.graphs[graph], self.graphs[other]
            least = self.rules.stagger if apart == 1 else 0
            masks = []
            for v in range(len(h.x)):
                mask = 0
                if h.marks[v] is not None and not (self.fixed[graph] and self.fixed[other]):
                    for u in range(1, len(g.x) - 1):
                        if g.marks[u][0] == h.marks[v][0] or abs(g.at[u] - h.at[v]) < least:
                            mask |= 1 << u
                masks.append(mask)
            self._barred[key] = masks
        return self._barred[key]


def _stores(problem: Problem) -> list[Store]:
    """Stock and what is left of boards already cut."""
    rules = problem.rules
    out = []
    for i in range(len(problem.stock)):
        s = problem.stock[i]
        count = s.count
        if count is not None:
            count -= len([1 for c in problem.cuts if c.stock == i])
        if count is None or count > 0:
            whole = s.length if s.gone == 0 and rules.trim == 0 else -1
            cap = s.length - 2 * rules.trim + rules.kerf
            out.append(Store(cap, s.cost, count, s.gone, whole, i))
    for k in range(len(problem.cuts)):
        cut = problem.cuts[k]
        if cut.left > 0:
            out.append(Store(cut.left + rules.kerf, 0, 1, cut.gone, -1, -1 - k))
    if problem.cuts or [1 for r in problem.runs if r.joints is not None]:
        dear = max([s.cost for s in problem.stock] + [1])
        out.append(Store(1, dear, 0, 3, -1, LACK))
    return out


def _near(model: Model) -> list[list[tuple[int, int]]]:
    """For each run the (run, courses apart) whose joints bar some of its own."""
    runs = model.problem.runs
    rows: dict[tuple[int, int], list[int]] = {}
    for i in range(len(runs)):
        key = (runs[i].wall, runs[i].course)
        rows[key] = rows.get(key, []) + [i]
    model._barred = {}
    out = []
    for i in range(len(runs)):
        near = []
        for apart in range(1, model.rules.reach + 1):
            for course in (runs[i].course - apart, runs[i].course + apart):
                for j in rows.get((runs[i].wall, course), []):
                    if any(model.barred(model.graph_of[i], model.graph_of[j], apart)):
                        near.append((j, apart))
        out.append(near)
    return out
