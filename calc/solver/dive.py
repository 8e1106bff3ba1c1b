"""A plan from the linear programme: fix a layout, solve again, and so on; boards likewise.

What is fixed leaves the programme, and the rest of it is worth solving again: each step
costs little, and the plan ends up near the bound. Source: diving in column generation,
from memory.
"""

from .chance import Random
from .programme import Programme
from .search import Search
from .units import joints, walk

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterator

    from .programme import Column

    Stacks = list[tuple[tuple[int, ...], list[list[int]]]]
    Way = tuple[int, list[int]]  # unit, states

_PART = 1e-6


class Dive:
    """One dive: done when `slices` ends; `plan` is then the search that holds it, or None."""

    def __init__(
        self,
        programme: Programme,
        stacks: "Stacks",
        empty: Search,
        random: Random,
        goal: float,
        strict: bool,
    ) -> None:
        self.programme = programme.copy()
        self.stacks = stacks
        self.search = empty
        self.random = random
        self.goal = goal
        self.strict = strict
        self.first = strict
        self.made = 0  # pivots
        self.open = [list(groups) for _, groups in stacks]
        self.spent = 0.0
        self.pivots = 60 + 2 * programme.size
        self.width = 4
        self.lost = False
        self.left: list[int] = []
        self.boards: list[tuple[int, Column]] = []
        self.plan: Search | None = None

    def slices(self) -> "Iterator[None]":
        """Go on, a little at a time."""
        while not self._laid():
            yield from self._step(True)
            if self.lost:
                return
        while self._needs():
            before = len(self.boards)
            yield from self._step(False)
            if self.lost:
                return
            if len(self.boards) == before:
                break
        self._place()

    def _laid(self) -> bool:
        return not [1 for groups in self.open if groups]

    def _needs(self) -> bool:
        """Whether pieces are still to be cut; no filling is to hold more than these."""
        p = self.programme
        p.need = [max(int(round(p.right[r])), 0) for r in range(p.first_unit)]
        return [1 for x in p.need if x] != []

    def _solve(self, p: Programme, spent: float) -> "Iterator[None]":
        """Solve again as far as it takes to see the goal in reach or out of it."""
        p.best = -1.0
        p.done = False
        before = p.pivots
        end = before + self.pivots
        while p.pivots < end and not p.done:
            p.rounds(6, 1e-3)
            yield None
            if p.best + spent > self.goal + 0.5 or (
                not p.forced and p.objective() + spent <= self.goal
            ):
                break
        self.made += p.pivots - before
        for r in sorted(p.forced):
            if p.value[r] > _PART:
                p.fine(r)

    def _choices(self, lay: bool) -> "list[tuple[float, tuple[int, ...], Column]]":
        """The columns in use, those most nearly whole first."""
        p = self.programme
        found: list[tuple[float, int]] = []
        for r in range(p.size):
            value = p.value[r]
            if value <= _PART or (p.names[r] != ()) != lay:
                continue
            if lay:
                if not self.open[p.names[r][0]]:
                    continue
            elif not p.basis[r] or p.basis[r][0][1] < 0 or p.basis[r][0][0] >= p.first_unit:
                continue
            lot = value
            if self.strict:
                lot *= 1.0 + self.random.below(1000) / 1000
            found.append((-lot, r))
        found.sort()
        return [(p.value[r], p.names[r], p.basis[r]) for _, r in found]

    def _step(self, lay: bool) -> "Iterator[None]":
        """Fix what is whole in the programme, else what keeps the goal in reach."""
        choices = self._choices(lay)
        whole = False
        for value, name, column in choices:
            for _ in range(int(value + _PART)):
                if self.first and self.random.below(3) == 0:
                    continue
                if not self._take(name, column, self.programme):
                    break
                whole = True
        if whole and not self.first:
            yield from self._solve(self.programme, self.spent)
            return
        self.first = False
        best: Programme | None = None
        least, chosen = 0.0, -1
        tried = 0
        for k in range(len(choices)):
            _, name, column = choices[k]
            if not self._can(name, column):
                continue
            trial = self.programme.copy()
            trial.fix(column, 1)
            spent = self.spent + (0.0 if lay else self._cost(column))
            yield from self._solve(trial, spent)
            score = trial.objective() + spent
            if best is None or score < least:
                best, least, chosen = trial, score, k
            tried += 1
            if (score <= self.goal and not trial.forced) or tried == self.width:
                break
        self.lost = self.strict and best is not None and least > self.goal
        if best is not None:
            _, name, column = choices[chosen]
            self._take(name, column, None)
            self.programme = best
        elif lay:
            self._made()
            yield from self._solve(self.programme, self.spent)

    def _cost(self, column: "Column") -> float:
        return float(self.programme.model.stores[self._store(column)].cost)

    def _store(self, column: "Column") -> int:
        p = self.programme
        for t in p.limit:
            if column[-1][0] == p.limit[t]:
                return t
        return 0

    def _can(self, name: "tuple[int, ...]", column: "Column") -> bool:
        if name:
            return self._place_for(name) is not None
        need = self.programme.need or []
        return not [1 for r, many in column if r < len(need) and need[r] < many]

    def _take(self, name: "tuple[int, ...]", column: "Column", p: "Programme | None") -> bool:
        """Fix the column, in the programme too unless that is done."""
        if not self._can(name, column):
            return False
        if name:
            found = self._place_for(name)
            if found is not None:
                k, way = found
                for run, nodes in zip(self.open[name[0]].pop(k), way):
                    self.search.joints[run] = nodes
        else:
            need = self.programme.need or []
            for r, many in column:
                if r < len(need):
                    need[r] -= many
            self.boards.append((self._store(column), column))
            self.spent += self._cost(column)
        if p is not None:
            p.fix(column, 1)
        return True

    def _place_for(self, name: "tuple[int, ...]") -> "tuple[int, list[list[int]]] | None":
        """The first of the unit's stacks where the layout fits, and the joints there."""
        unit = name[0]
        graphs = list(self.stacks[unit][0])
        way = joints(self.programme.units[unit], list(name[1:]))
        ways = [way, way[::-1]] if graphs == graphs[::-1] and len(graphs) > 1 else [way]
        groups = self.open[unit]
        for k in range(len(groups)):
            for w in ways:
                if self._free(groups[k], w):
                    return k, w
        return None

    def _free(self, runs: list[int], layout: list[list[int]]) -> bool:
        for run, nodes in zip(runs, layout):
            mask = self.search.blocked(run)
            if mask:
                for v in nodes:
                    if mask >> v & 1:
                        return False
        return True

    def _made(self) -> None:
        """Lay a stack by the programme's prices among its neighbours, or leave it for later."""
        p = self.programme
        full = [0.0] * len(p.model.weight)
        for r in range(p.first_unit):
            full[p.items[r]] = max(p.dual[r], 0.0)
        u = 0
        while not self.open[u]:
            u += 1
        unit = p.units[u]
        mask = 0
        runs = self.open[u].pop(0)
        for k in range(len(runs)):
            mask |= self.search.blocked(runs[k]) << unit.shift[k]
        way = walk([a for a in unit.arcs if not a[3] & mask], unit.last, full)
        if way is None:
            self.left += runs
            way = walk(unit.arcs, unit.last, full)
        else:
            for run, nodes in zip(runs, joints(unit, way[1])):
                self.search.joints[run] = nodes
        if way is not None:
            p.fix(p.column(u, way[1]), 1)

    def _place(self) -> None:
        search, p = self.search, self.programme
        left = self.left
        model = p.model
        waiting: list[list[tuple[int, int]]] = [[] for _ in range(p.first_unit)]
        for run in range(len(search.joints)):
            if search.joints[run] is None:
                continue
            graph = model.graph_of[run]
            nodes = [0] + (search.joints[run] or []) + [len(model.graphs[graph].x) - 1]
            search.cuts[run] = [-1] * (len(nodes) - 1)
            for k in range(len(nodes) - 1):
                item = search.steps[graph][nodes[k], nodes[k + 1]]
                if item:
                    waiting[p.row[item]].append((run, k))
        for store, column in self.boards:
            pieces = []
            for r, many in column:
                if r < p.first_unit:
                    for _ in range(many):
                        if waiting[r]:
                            pieces.append(waiting[r].pop())
            if pieces:
                search.place(store, pieces)
        rest = []
        for r in range(p.first_unit):
            for run, k in waiting[r]:
                rest.append((-model.weight[p.items[r]], run, k, p.items[r]))
        rest.sort()
        for _, run, k, item in rest:
            search.cuts[run][k] = search.cut(run, k, item)
        if left and not search.settle(left):
            return
        search.log = {}
        search.keep()
        self.plan = search
