"""The end of a small problem: proof that nothing is cheaper, or a plan that is.

A plan cheaper than `cost` uses boards by some counts that cost less. For each such choice
of counts that no other takes in, either prices show that the boards hold less than the
cheapest layouts ask for, or one run is looked at with a joint on a stud and without, and
so on; where every run has but one layout, its pieces are packed by trying.
Source: branch and bound; linear programming duality; from memory.
"""

from collections import namedtuple

from .given import Problem, Stock
from .model import Model
from .programme import Programme
from .units import Unit, cheapest, joints, stack, stacks
from .worth import Worth

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Generator, Iterator
    from typing import Any

# counts  for each stock how many boards; tree: that these don't do, one of
#   ("prices", prices as in bounds.py, groups of runs): their cheapest layouts ask for more
#   ("none", group): these runs have no layout any more
#   ("clash", run, other): each has one layout, and these are too near each other
#   ("packed",): each run has one layout, and no packing of the pieces fits
#   ("joint", run, (stud, offset), tree with that joint, tree without)
Refuted = namedtuple("Refuted", "counts tree")

_CHOICES = 200  # choices of counts
_NODES = 600  # programmes solved
_PACKS = 100000  # places tried for one packing
_GRAINS = (840, 5040, 100000)


class Finish:
    """One try to show that no plan costs less than `cost`.

    slices() works at it, a programme a turn. Then `proof` is a list of Refuted, whole; or
    None: not shown, or a cheaper plan is there, which `found` names as (joints of each run,
    boards as (stock index, [(run, piece)])). Not for boards that are begun.
    """

    def __init__(self, problem: Problem, cost: int) -> None:
        self.problem = problem
        self.cost = cost
        self.proof: list[Refuted] | None = None
        self.found: tuple[list[list[int]], list[tuple[int, list[tuple[int, int]]]]] | None = None
        self.nodes = 0

    def slices(self) -> "Iterator[None]":
        """Work to the end."""
        if self.problem.cuts or [1 for r in self.problem.runs if r.joints is not None]:
            return
        choices = most_boards(self.problem.stock, self.cost - 1)
        proof = []
        for counts in choices or []:
            self.branch = _Branch(self.problem, counts)
            tree = yield from self._refute({})
            if tree is None:
                return
            proof.append(Refuted(counts, tree))
        if choices is not None:
            self.proof = proof

    def _refute(self, fixed: "dict[tuple[int, int], bool]") -> "Generator[None, None, Any]":
        """A tree by which these counts don't do, with these joints (run, node) decided."""
        if self.nodes >= _NODES:
            return None
        self.nodes += 1
        yield None
        branch = self.branch
        tree, split = branch.bound(fixed)
        if tree is not None:
            return tree
        if split is None:
            clash = branch.clash(fixed)
            if clash is not None:
                return ("clash", clash[0], clash[1])
            packed = branch.pack(fixed)
            if packed is not None:
                self.found = packed
            return ("packed",) if packed is None and branch.tried < _PACKS else None
        sides = []
        for side in (True, False):
            then = {key: fixed[key] for key in fixed}
            then[split] = side
            tree = yield from self._refute(then)
            if tree is None:
                return None
            sides.append(tree)
        model = branch.model
        mark = model.graphs[model.graph_of[split[0]]].marks[split[1]]
        return ("joint", split[0], mark, sides[0], sides[1])


class _Branch:
    """A problem with just these boards, all others at a cost of 1 each."""

    def __init__(self, problem: Problem, counts: list[int]) -> None:
        stock = [Stock(s.length, 1, None, s.gone) for s in problem.stock]
        for k in range(len(counts)):
            if counts[k]:
                s = problem.stock[k]
                stock.append(Stock(s.length, 0, counts[k], s.gone))
        self.counts = counts
        self.model = Model(Problem(problem.runs, stock, problem.rules, []))
        self.groups: list[list[int]] = []
        self.units: list[Unit] = []
        for key, groups in stacks(self.model):
            unit = stack(self.model, key)
            for runs in groups:
                self.groups.append(runs)
                self.units.append(unit)
        self.tried = 0

    def bound(self, fixed: "dict[tuple[int, int], bool]") -> "tuple[Any, tuple[int, int] | None]":
        """(a tree or None, else what to split: (run, node), or None where nothing is open)."""
        units = self.open_units(fixed)
        for k in range(len(units)):
            if not units[k].arcs:
                return ("none", self.groups[k]), None
        programme = Programme(self.model, units, [1] * len(units))
        while not programme.done:
            before = programme.pivots
            programme.rounds(50, 1.0)
            if programme.pivots == before:
                break
        for grain in _GRAINS:
            prices = programme.whole_prices(grain)
            if self._short(units, prices):
                kerf, model = self.model.rules.kerf, self.model
                listed = [
                    (model.weight[i] - kerf, model.kind[i], prices[i])
                    for i in range(1, len(prices))
                ]
                return ("prices", sorted(listed), self.groups), None
        return None, self._open(programme, units)

    def open_units(self, fixed: "dict[tuple[int, int], bool]") -> list[Unit]:
        """The units with the layouts still open: a decided joint bars some of its neighbours'."""
        model = self.model
        all_fixed = {key: fixed[key] for key in fixed}
        for run, v in sorted(fixed):
            if fixed[run, v]:
                for other, apart in model.near[run]:
                    mask = model.barred(model.graph_of[other], model.graph_of[run], apart)[v]
                    for u in range(mask_size(mask)):
                        if mask >> u & 1:
                            if all_fixed.get((other, u)):
                                return [Unit(u.graphs, [], 0, [], []) for u in self.units]
                            all_fixed[other, u] = False
        return [_filtered(u, g, all_fixed) for u, g in zip(self.units, self.groups)]

    def rows(self, fixed: "dict[tuple[int, int], bool]") -> list[list[int]]:
        """The nodes of the one layout that each run has left."""
        rows: list[list[int]] = [[] for _ in self.model.graph_of]
        for unit, group in zip(self.open_units(fixed), self.groups):
            for run, row in zip(group, joints(unit, _ways(unit, 1)[0])):
                rows[run] = row
        return rows

    def clash(self, fixed: "dict[tuple[int, int], bool]") -> "tuple[int, int] | None":
        """Two runs whose only layouts are too near each other, or None."""
        model = self.model
        rows = self.rows(fixed)
        for run in range(len(rows)):
            for other, apart in model.near[run]:
                barred = model.barred(model.graph_of[run], model.graph_of[other], apart)
                for v in rows[other]:
                    if [1 for u in rows[run] if barred[v] >> u & 1]:
                        return run, other
        return None

    def _short(self, units: list[Unit], prices: list[int]) -> bool:
        """Whether the boards hold less, by these prices, than the layouts ask for."""
        worth = Worth(self.model, prices)
        holds = sum([self.counts[k] * worth.fill(k) for k in range(len(self.counts))])
        asked = 0
        for unit in units:
            way = cheapest(unit, prices)
            asked += way[0] if way else 0
        return bool(asked > holds)

    def _open(self, programme: Programme, units: list[Unit]) -> "tuple[int, int] | None":
        """The joint (run, node) used most nearly by half; else any that is still open."""
        used: dict[tuple[int, int], float] = {}
        for value, name in programme.layouts():
            rows = joints(units[name[0]], list(name[1:]))
            for run, row in zip(self.groups[name[0]], rows):
                for v in row:
                    used[run, v] = used.get((run, v), 0.0) + value
        best, least = None, 0.499999
        for key in sorted(used):
            off = abs(used[key] - 0.5)
            if off < least:
                best, least = key, off
        if best is not None:
            return best
        for unit, group in zip(units, self.groups):
            on: dict[tuple[int, int], int] = {}
            ways = _ways(unit, 200)
            for way in ways:
                for run, row in zip(group, joints(unit, way)):
                    for v in row:
                        on[run, v] = on.get((run, v), 0) + 1
            for key in sorted(on):
                if on[key] < len(ways):
                    return key
        return None

    def pack(self, fixed: "dict[tuple[int, int], bool]") -> "Any":
        """The plan of the one layout there is, or None where its pieces don't go on the boards."""
        model = self.model
        rows = self.rows(fixed)
        pieces = []
        for run in range(len(rows)):
            g = model.graphs[model.graph_of[run]]
            item_of = {(u, v): i for u, v, i in g.arcs}
            nodes = [0] + rows[run] + [len(g.x) - 1]
            for k in range(len(nodes) - 1):
                item = item_of[nodes[k], nodes[k + 1]]
                pieces.append((-model.weight[item], model.kind[item], run, k))
        pieces.sort()
        boards = []
        for t in range(len(self.counts)):
            s = model.stores[t]
            boards += [[t, s.cap, s.gone, s.whole >= 0] for _ in range(self.counts[t])]
        self.tried = 0
        places = self._placed(pieces, boards)
        if places is None:
            return None
        held: list[list[tuple[int, int]]] = [[] for _ in boards]
        for (_, _, run, k), b in zip(pieces, places):
            held[b].append((run, k))
        marks = [
            [model.graphs[model.graph_of[r]].marks[v] for v in rows[r]] for r in range(len(rows))
        ]
        return marks, [(boards[b][0], sorted(held[b])) for b in range(len(boards)) if held[b]]

    def _placed(self, pieces: "list[Any]", boards: "list[Any]") -> "list[int] | None":
        """The board of each piece, longest first, by trying; None where they don't go on."""
        places: list[int] = []
        undo: list[tuple[int, int, int]] = []
        b = 0
        while len(places) < len(pieces):
            k = len(places)
            need, kind = -pieces[k][0], pieces[k][1]
            if k and b == 0 and pieces[k][:2] == pieces[k - 1][:2]:
                b = places[k - 1]
            seen = {(boards[j][0], boards[j][1], boards[j][2]) for j in range(b)}
            while b < len(boards):
                t, room, ends, whole = boards[b]
                if (t, room, ends) not in seen:
                    seen.add((t, room, ends))
                    if kind == 3:
                        good = whole and room == need and room == self.model.stores[t].cap
                    else:
                        good = room >= need and not ends & kind
                    if good:
                        break
                b += 1
            self.tried += 1
            if self.tried >= _PACKS:
                return None
            if b < len(boards):
                undo.append((b, boards[b][1], boards[b][2]))
                boards[b][1] -= need
                boards[b][2] |= kind
                places.append(b)
                b = 0
            elif not places:
                return None
            else:
                places.pop()
                b, room, ends = undo.pop()
                boards[b][1], boards[b][2] = room, ends
                b += 1
        return places


def most_boards(stock: list[Stock], cost: int) -> "list[list[int]] | None":
    """The choices of counts that cost at most `cost` and leave none for another board.

    None where there are too many, or boards without limit cost nothing. Errors: none.
    """
    out: list[list[int]] = [[]]
    for k in range(len(stock)):
        s = stock[k]
        more = []
        for counts in out:
            rest = cost - sum([n * stock[i].cost for i, n in enumerate(counts)])
            if s.cost == 0:
                if s.count is None:
                    return None
                more.append(counts + [s.count])
                continue
            top = max(rest, 0) // s.cost
            if s.count is not None:
                top = min(top, s.count)
            if top > _CHOICES:
                return None
            more += [counts + [n] for n in range(top + 1)]
        out = more
        if len(out) > 20 * _CHOICES:
            return None
    most = []
    for counts in out:
        rest = cost - sum([n * stock[i].cost for i, n in enumerate(counts)])
        room = [
            1
            for i, n in enumerate(counts)
            if stock[i].cost <= rest and (stock[i].count is None or n < stock[i].count)
        ]
        if not room and rest >= 0:
            most.append(counts)
    return most if len(most) <= _CHOICES else None


def mask_size(mask: int) -> int:
    """How many bits up to the highest that is set."""
    return len(bin(mask)) - 2


def _filtered(unit: Unit, group: list[int], fixed: "dict[tuple[int, int], bool]") -> Unit:
    """The unit of these runs without the layouts that what is decided rules out."""
    arcs = unit.arcs
    for run, v in sorted(fixed):
        if run not in group:
            continue
        k = group.index(run)
        nodes = unit.nodes
        if fixed[run, v]:
            arcs = [a for a in arcs if not nodes[a[0]][k] < v < nodes[a[1]][k]]
        else:
            arcs = [a for a in arcs if nodes[a[1]][k] != v]
    if arcs is unit.arcs:
        return unit
    seen = {0}
    alive = []
    for a in arcs:
        if a[0] in seen:
            seen.add(a[1])
            alive.append(a)
    good = {unit.last}
    kept = []
    for a in alive[::-1]:
        if a[1] in good:
            good.add(a[0])
            kept.append(a)
    return Unit(unit.graphs, kept[::-1], unit.last, unit.nodes, unit.shift)


def _ways(unit: Unit, most: int) -> list[list[int]]:
    """Layouts of the unit as states, at most so many."""
    out_of: dict[int, list[int]] = {}
    for a, b, _, _ in unit.arcs:
        out_of[a] = out_of.get(a, []) + [b]
    out: list[list[int]] = []
    waiting = [[0]]
    while waiting and len(out) < most:
        path = waiting.pop()
        if path[-1] == unit.last:
            out.append(path)
        else:
            waiting += [path + [b] for b in out_of.get(path[-1], [])]
    return out
