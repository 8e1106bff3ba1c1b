"""What boards go when each run starts with the offcut of the run before: the hand's own rule.

Course by course, from the left: the offcut carried along is cut to the farthest stud that the
rules allow, then full boards follow, each cut back to the farthest stud; what is left of the
last board is carried to the next run. An offcut that serves no stud is waste. Common
practice, no source.
"""

from .given import Problem
from .model import LACK, WHOLE, Model

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any


def carried(problem: Problem) -> tuple[int, list[int]] | None:
    """(cost, boards of each stock line) by the hand's rule, with the one stock length that suits
    it best; None where the rule comes to an end at some run or no length suffices.

    Stock at a cost of 0 is left where it is. Of a length that runs out the next longest is
    taken. Raises nothing.
    """
    best = None
    model = Model(problem)
    order = sorted(range(len(model.stores)), key=lambda t: (-model.stores[t].cap, t))
    order = [t for t in order if 0 <= model.stores[t].origin < LACK and model.stores[t].cost > 0]
    for first in order:
        used = _Hand(model, [first] + [t for t in order if t != first]).go()
        if used is not None:
            cost = sum([model.stores[t].cost * used[t] for t in range(len(used))])
            if best is None or cost < best[0]:
                best = (cost, used)
    if best is None:
        return None
    counts = [0] * len(problem.stock)
    for t in range(len(best[1])):
        if 0 <= model.stores[t].origin < LACK:
            counts[model.stores[t].origin] += best[1][t]
    for cut in problem.cuts:
        if cut.stock >= 0:
            counts[cut.stock] += 1
    return best[0] + model.sunk, counts


class _Hand:
    """One go along the wall with boards of one length."""

    def __init__(self, model: Model, order: list[int]) -> None:
        self.model = model
        self.order = order
        self.used = [0] * len(model.stores)
        self.left = 0  # weight still free on the offcut carried along
        self.ends = 0  # its factory ends that are used
        self.joints: list[list[int] | None] = [None] * len(model.problem.runs)

    def go(self) -> list[int] | None:
        """How many boards of each store, or None."""
        runs = self.model.problem.runs
        order = sorted(range(len(runs)), key=lambda i: (runs[i].wall, runs[i].course, runs[i].left))
        for run in order:
            graph = self.model.graphs[self.model.graph_of[run]]
            out: list[list[tuple[int, int]]] = [[] for _ in graph.x]
            for u, v, item in graph.arcs:
                out[u].append((v, item))
            mask = self._barred(run)
            path = None
            for cap in (self.model.stores[self.order[0]].cap, 1 << 60):
                dead: set[int] = set()
                for carry in (True, False):
                    path = path or self._way(out, 0, mask, cap, carry, dead)
            if path is None or not self._cut(path):
                return None
            self.joints[run] = [v for v, _, _ in path[:-1]]
        return self.used

    def _barred(self, run: int) -> int:
        mask = 0
        for other, apart in self.model.near[run]:
            theirs = self.joints[other]
            if theirs:
                table = self.model.barred(
                    self.model.graph_of[run], self.model.graph_of[other], apart
                )
                for v in theirs:
                    mask |= table[v]
        return mask

    def _way(
        self, out: "Any", node: int, mask: int, cap: int, carry: bool, dead: set[int]
    ) -> list[tuple[int, int, bool]] | None:
        """(node, item, from the offcut) of each piece to the end of the run, farthest first.

        dead: nodes from which no way was found, more of them from here on.
        """
        weight = self.model.weight
        for v, item in out[node][::-1]:
            if mask >> v & 1 or weight[item] > cap or v in dead:
                continue
            kind = self.model.kind[item]
            if carry and (weight[item] > self.left or kind == WHOLE or kind & self.ends):
                continue
            if v == len(out) - 1:
                return [(v, item, carry)]
            rest = self._way(out, v, mask, cap, False, dead)
            if rest is not None:
                return [(v, item, carry)] + rest
        if not carry:
            dead.add(node)
        return None

    def _cut(self, path: list[tuple[int, int, bool]]) -> bool:
        """Take the boards of the run; False where none is left to be had."""
        for _, item, carry in path:
            weight, kind = self.model.weight[item], self.model.kind[item]
            if carry:
                self.left -= weight
                self.ends |= kind
                continue
            for t in self.order:
                s = self.model.stores[t]
                if kind == WHOLE:
                    fits = s.whole + self.model.rules.kerf == weight
                else:
                    fits = s.cap >= weight and not s.gone & kind
                if fits and (s.count is None or self.used[t] < s.count):
                    break
            else:
                return False
            if item:
                self.used[t] += 1
                self.left = s.cap - weight
                self.ends = s.gone | kind
        return True
