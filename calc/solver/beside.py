"""Whether runs can be laid beside each other: an exact search over their layouts.

Of a run only the layouts with the fewest joints matter: one whose joints are among
another's can stand wherever that can. Layouts without a fitting one next to them are
struck out until none is left to strike; what then stays open is tried course by course.
Source: constraint satisfaction by arc consistency and backtracking, from memory.
"""

from .model import Model

_PATHS = 20000  # arcs followed for the layouts of one run
_TRIES = 4000  # layouts tried for one group


class Beside:
    """The layouts of one model's runs, and which of them agree."""

    def __init__(self, model: Model) -> None:
        self.model = model
        self._ways: dict[int, list[int] | None] = {}
        self._bars: dict[tuple[int, int, int], list[int]] = {}
        self.reach = [dict(row) for row in model.near]

    def ways(self, graph: int) -> list[int] | None:
        """The least layouts of a graph, as bits of their nodes; None where they are too many."""
        if graph not in self._ways:
            self._ways[graph] = _least(self.model, graph)
        return self._ways[graph]

    def bars(self, graph: int, other: int, apart: int) -> list[int]:
        """For each layout of `other`, so many courses off, the nodes it bars in `graph`."""
        key = (graph, other, apart)
        if key not in self._bars:
            barred = self.model.barred(graph, other, apart)
            rows = []
            for way in self.ways(other) or []:
                mask = 0
                for v in range(len(barred)):
                    if way >> v & 1:
                        mask |= barred[v]
                rows.append(mask)
            self._bars[key] = rows
        return self._bars[key]

    def possible(self, runs: list[int]) -> bool:
        """False where these runs surely cannot be laid together; True where it is not known.

        Runs with too many layouts to be listed are taken as no hindrance.
        """
        graph_of = self.model.graph_of
        left: dict[int, list[int]] = {}
        for run in runs:
            ways = self.ways(graph_of[run])
            if ways is not None:
                left[run] = list(range(len(ways)))
                if not ways:
                    return False
        order = [r for r in runs if r in left]
        if not self._strike(left, order):
            return False
        self._tries = _TRIES
        for part in self._parts(order):
            if not self._try(left, part):
                return False
        return True

    def _parts(self, runs: list[int]) -> list[list[int]]:
        """The runs in groups that have nothing to do with each other."""
        out = []
        waiting = set(runs)
        for first in runs:
            if first in waiting:
                waiting.discard(first)
                group = [first]
                for run in group:
                    for other in sorted(self.reach[run]):
                        if other in waiting:
                            waiting.discard(other)
                            group.append(other)
                out.append(sorted(group))
        return out

    def _strike(self, left: dict[int, list[int]], todo: list[int]) -> bool:
        """Strike out what agrees with nothing at a neighbour's; False where nothing is left."""
        todo = list(todo)
        while todo:
            run = todo.pop(0)
            for other, apart in self.model.near[run]:
                if other not in left:
                    continue
                kept = self._agreeing(left, other, run, apart)
                if len(kept) < len(left[other]):
                    if not kept:
                        return False
                    left[other] = kept
                    if other not in todo:
                        todo.append(other)
        return True

    def _agreeing(self, left: dict[int, list[int]], run: int, other: int, apart: int) -> list[int]:
        graph, theirs = self.model.graph_of[run], self.model.graph_of[other]
        ways = self.ways(graph) or []
        bars = self.bars(graph, theirs, apart)
        masks = sorted({bars[k] for k in left[other]})
        out = []
        for k in left[run]:
            for mask in masks:
                if not ways[k] & mask:
                    out.append(k)
                    break
        return out

    def _try(self, left: dict[int, list[int]], runs: list[int]) -> bool:
        """Settle the runs in turn, without deep recursion: a stack of what was left before."""
        stack: list[tuple[int, int, dict[int, list[int]]]] = [(0, 0, left)]
        while stack:
            at, choice, now = stack.pop()
            while at < len(runs) and len(now[runs[at]]) == 1:
                at, choice = at + 1, 0
            if at == len(runs) or self._tries <= 0:
                return True
            run = runs[at]
            if choice >= len(now[run]):
                continue
            stack.append((at, choice + 1, now))
            self._tries -= 1
            then = {r: now[r] for r in now}
            then[run] = [now[run][choice]]
            if self._strike(then, [run]):
                stack.append((at + 1, 0, then))
        return False


def _least(model: Model, graph: int) -> list[int] | None:
    """The layouts none of whose joints can be left out for another layout, as bits."""
    g = model.graphs[graph]
    end = len(g.x) - 1
    out_of: list[list[int]] = [[] for _ in g.x]
    for u, v, _ in g.arcs:
        out_of[u].append(v)
    found: list[int] = []
    layer: list[tuple[int, int]] = [(0, 0)]
    followed = 0
    while layer:
        after = []
        whole = []
        for u, mask in layer:
            for v in out_of[u]:
                followed += 1
                if v == end:
                    whole.append(mask)
                else:
                    after.append((v, mask | 1 << v))
        if followed > _PATHS:
            return None
        found += [m for m in whole if not [1 for f in found if f & m == f]]
        layer = [(v, m) for v, m in after if not [1 for f in found if f & m == f]]
    return found
