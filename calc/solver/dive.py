"""A plan from the linear programme: fix a layout, solve again, and so on; boards likewise.

What is fixed leaves the programme, and the rest of it is worth solving again: each step
costs little, and the plan ends up near the bound. Source: diving in column generation,
from memory.
"""

from .basis import PART
from .chance import Random
from .programme import Programme
from .search import Search
from .units import BIG, Unit, cheapest, joints, walk

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterator
    from typing import Any

    from .basis import Column

    Stacks = list[tuple[tuple[int, ...], list[list[int]]]]
    Way = tuple[int, list[int]]  # unit, states

_LONG = 1500000  # work of a dive; one that takes more is given up
_DEAR = 0.3  # of a board: what a layout may add to its neighbours' cost


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
        self.search = empty
        self.random = random
        self.goal = goal
        self.strict = strict
        self.first = strict
        self.made = 0  # pivots
        self.work = 0  # what they took, about: rows, and arcs looked at
        self.spent = 0.0
        self.pivots = 60 + 2 * programme.size
        self.width = 4
        self.lost = False
        self.boards: list[tuple[int, Column]] = []
        self.plan: Search | None = None
        self.dear = float(max([s.cost for s in empty.stores]))
        self.runs: list[list[int]] = []  # of each group
        self.unit: list[int] = []
        self.about: list[bool] = []  # whether the group may be turned about
        of: dict[int, int] = {}
        for u in range(len(stacks)):
            graphs, groups = stacks[u]
            for runs in groups:
                for run in runs:
                    of[run] = len(self.runs)
                self.runs.append(runs)
                self.unit.append(u)
                self.about.append(len(runs) > 1 and list(graphs) == list(graphs)[::-1])
        self.mask = [0] * len(self.runs)
        self.open = list(range(len(self.runs)))
        self.beside = []
        for g in range(len(self.runs)):
            beside = set()
            for run in self.runs[g]:
                for other, _ in empty.model.near[run]:
                    beside.add(of[other])
            beside.discard(g)
            self.beside.append(sorted(beside))
        self.kept: dict[tuple[int, int], float] = {}
        self.full: list[float] = []

    def slices(self) -> "Iterator[None]":
        """Go on, a little at a time."""
        while self.open and not self.lost:
            yield from self._step(True)
            if self.work > _LONG:
                self.width, self.pivots, self.lost = 1, 40, self.strict
        while not self.lost and self._needs():
            before = len(self.boards)
            yield from self._step(False)
            if len(self.boards) == before:
                break
        if not self.lost:
            self._place()

    def _needs(self) -> bool:
        """Whether pieces are still to be cut; no filling is to hold more than these."""
        p = self.programme
        p.need = [max(int(p.right[r] + 0.5), 0) for r in range(p.first_unit)]
        return [1 for x in p.need if x] != []

    def _solve(self, p: Programme, spent: float) -> "Iterator[None]":
        """Solve again as far as it takes to see the goal in reach or out of it."""
        p.best = -1.0
        p.done = False
        before = p.pivots
        end = before + self.pivots
        while p.pivots < end and not p.done:
            last = p.pivots
            p.rounds(6, 1e-3)
            self.made += p.pivots - last
            yield None
            if p.best + spent > self.goal + (1e-6 if self.strict else 0.5 * self.dear) or (
                p.objective() + spent <= self.goal and not p.owing()
            ):
                break
        arcs = 0
        for u in range(len(p.units)):
            if p.right[p.unit_row[u]] > 0.0:
                arcs += len(p.units[u].arcs)
        self.work += (p.pivots - before) * (p.size + arcs // 6)
        p.owe()

    def _choices(self, lay: bool) -> "list[tuple[float, tuple[int, ...], Column]]":
        """The columns in use, those most nearly whole first."""
        p = self.programme
        found: list[tuple[float, int]] = []
        for r in range(p.size):
            value = p.value[r]
            if value <= PART or not p.names[r] or (p.names[r][0] >= 0) != lay:
                continue
            if lay and not self._groups(p.names[r][0]):
                continue
            lot = value
            if self.strict:
                lot *= 1.0 + self.random.below(1000) / 1000
            found.append((-lot, r))
        found.sort()
        return [(p.value[r], p.names[r], p.columns[r]) for _, r in found]

    def _step(self, lay: bool) -> "Iterator[None]":
        """Fix what is whole in the programme, else what keeps the goal in reach."""
        choices = self._choices(lay)
        self._prices()
        p = self.programme
        whole = False
        for value, name, column in choices:
            for _ in range(int(value + PART)):
                if self.first and self.random.below(3) == 0:
                    continue
                if lay:
                    where = self._where(name)
                    if where is None or where[0] > _DEAR * self.dear:
                        break
                    self._lay(p, name, where[1], where[2])
                elif not self._cut(p, -1 - name[0], column):
                    break
                whole = True
        if whole:
            self.first = False
            self._split(p)
            yield from self._solve(p, self.spent)
            return
        best: Programme | None = None
        least = 0.0
        tried = 0
        before = self._state()
        after = before
        for _, name, column in choices:
            trial = p.copy()
            if lay:
                where = self._where(name)
                if where is None:
                    continue
                self._lay(trial, name, where[1], where[2])
                self._split(trial)
            elif not self._cut(trial, -1 - name[0], column):
                continue
            yield from self._solve(trial, self.spent)
            score = trial.objective() + self.spent
            if best is None or score < least:
                best, least, after = trial, score, self._state()
            self._back(before)
            tried += 1
            if (least <= self.goal and not best.owing()) or tried == self.width:
                break
        if best is not None:
            self.lost = self.strict and least > self.goal
            self.programme = best
            self._back(after)
        elif lay:
            self._made()
            yield from self._solve(p, self.spent)

    def _state(self) -> "tuple[Any, ...]":
        s = self.search
        return (
            list(s.joints),
            list(self.open),
            list(self.unit),
            list(self.mask),
            list(self.boards),
            self.spent,
        )

    def _back(self, state: "tuple[Any, ...]") -> None:
        self.search.joints = list(state[0])
        self.open, self.unit, self.mask = list(state[1]), list(state[2]), list(state[3])
        self.boards, self.spent = list(state[4]), state[5]

    def _prices(self) -> None:
        """Take the programme's prices for the judging of layouts."""
        p = self.programme
        self.full = [0.0] * len(p.model.weight)
        for r in range(p.first_unit):
            self.full[p.items[r]] = max(p.dual[r], 0.0)
        self.kept = {}

    def _groups(self, unit: int) -> list[int]:
        return [g for g in self.open if self.unit[g] == unit]

    def _blocked(self, group: int) -> int:
        shift = self.programme.units[self.unit[group]].shift
        mask = 0
        runs = self.runs[group]
        for k in range(len(runs)):
            mask |= self.search.blocked(runs[k]) << shift[k]
        return mask

    def _price(self, group: int, mask: int) -> float:
        """The cheapest layout of the group with this mask."""
        key = (self.unit[group], mask)
        if key not in self.kept:
            unit = self.programme.units[self.unit[group]]
            way = walk([a for a in unit.arcs if not a[3] & mask], unit.last, self.full)
            self.kept[key] = BIG if way is None else float(way[0])
        return self.kept[key]

    def _where(self, name: "tuple[int, ...]") -> "tuple[float, int, list[list[int]]] | None":
        """Where the layout makes its neighbours least dear: (how much, group, joints)."""
        unit = self.programme.units[name[0]]
        way = joints(unit, list(name[1:]))
        best = None
        for g in self._groups(name[0]):
            for turned in range(2 if self.about[g] and not self.mask[g] else 1):
                w = way[::-1] if turned else way
                if not self._free(self.runs[g], w):
                    continue
                was = [
                    (o, self._price(o, self._blocked(o))) for o in self.beside[g] if o in self.open
                ]
                for run, nodes in zip(self.runs[g], w):
                    self.search.joints[run] = nodes
                more = 0.0
                for o, cost in was:
                    more += self._price(o, self._blocked(o)) - cost
                for run in self.runs[g]:
                    self.search.joints[run] = None
                if more < BIG / 2 and (best is None or more < best[0] - 1e-9):
                    best = (more, g, w)
        return best

    def _lay(self, p: Programme, name: "tuple[int, ...]", group: int, way: list[list[int]]) -> None:
        p.fix(p.column(name[0], list(name[1:])))
        self.open.remove(group)
        for run, nodes in zip(self.runs[group], way):
            self.search.joints[run] = nodes

    def _split(self, p: Programme) -> None:
        """Tell the programme of the joints that laid neighbours bar."""
        for g in list(self.open):
            mask = self._blocked(g)
            if mask == self.mask[g]:
                continue
            unit = p.units[self.unit[g]]
            arcs = [a for a in unit.arcs if not a[3] & mask]
            way = walk(arcs, unit.last, self.full)
            if way is None:  # later, by the search
                self._leave(p, g)
                continue
            self.mask[g] = mask
            only = Unit(unit.graphs, arcs, unit.last, unit.nodes, unit.shift)
            self.unit[g] = p.split(self.unit[g], only, way[1])

    def _leave(self, p: Programme, group: int) -> None:
        unit = p.units[self.unit[group]]
        way = cheapest(unit, self.full)
        self.open.remove(group)
        if way is not None:
            p.fix(p.column(self.unit[group], way[1]))

    def _made(self) -> None:
        """Lay a group by the programme's prices among its neighbours, or leave it for later."""
        p = self.programme
        group = self.open[0]
        unit = p.units[self.unit[group]]
        way = cheapest(unit, self.full)
        if way is None or not self._free(self.runs[group], joints(unit, way[1])):
            self._leave(p, group)
            return
        self._lay(p, tuple([self.unit[group]] + way[1]), group, joints(unit, way[1]))
        self._split(p)

    def _free(self, runs: list[int], layout: list[list[int]]) -> bool:
        for run, nodes in zip(runs, layout):
            mask = self.search.blocked(run)
            if mask:
                for v in nodes:
                    if mask >> v & 1:
                        return False
        return True

    def _cut(self, p: Programme, store: int, column: "Column") -> bool:
        need = p.need or []
        if [1 for r, many in column if r < len(need) and need[r] < many]:
            return False
        p.need = list(need)
        for r, many in column:
            if r < len(need):
                p.need[r] -= many
        self.boards.append((store, column))
        self.spent += float(p.model.stores[store].cost)
        p.fix(column)
        return True

    def _place(self) -> None:
        search, p = self.search, self.programme
        left = [r for r in range(len(search.joints)) if search.joints[r] is None]
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
