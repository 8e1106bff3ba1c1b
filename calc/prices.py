"""What each piece length is worth: prices from a linear programme, as a guide and for proof.

The programme lets boards and layouts be used in parts. Its columns (fillings
of a board; layouts of one course or of two neighbouring ones) are made when
they are wanted, and its dual values are the prices. They are floats and only
a guide: a bound is proven in boards.py by whole numbers made from them.
Source: column generation for cutting stock, from memory.
"""

from .boards import Chain, Stock, lengths
from .layout import Graph, one, pieces, two

_EPS = 1e-7
_LOOK = 200  # how many fillings of a board are looked at for one column


def prices(
    graphs: list[Graph],
    chains: list[Chain],
    stock: list[Stock],
    kerf: int,
    stagger: int,
    pivots: int,
) -> "dict[int, float]":
    """Piece length -> what it is worth, where a board is worth its cost.

    pivots: the most steps of the simplex method; fewer where it converges.
    Errors: none; every chain must be feasible. The same on both interpreters:
    only + - * / and comparisons of doubles, in a fixed order.
    """
    programme = _Programme(graphs, chains, stock, kerf, stagger)
    for _ in range(pivots):
        if not programme.pivot():
            break
    return programme.worth()


class _Programme:
    """Rows: one for each length (cut at least what is laid), one for each kind of unit."""

    def __init__(
        self, graphs: list[Graph], chains: list[Chain], stock: list[Stock], kerf: int, stagger: int
    ) -> None:
        self.graphs = graphs
        self.stock = stock
        self.kerf = kerf
        self.stagger = stagger
        self.turn = 0  # the stock whose fillings are looked at next
        self.lengths = lengths(graphs)
        self.row = {self.lengths[i]: i for i in range(len(self.lengths))}
        self.units: list[tuple[int, int]] = []  # (graph, courses in one unit)
        counts: list[int] = []
        for c in chains:
            for courses, n in ((2, c.courses // 2), (1, c.courses % 2)):
                unit = (c.graph, courses)
                if n and unit in self.units:
                    counts[self.units.index(unit)] += n
                elif n:
                    self.units.append(unit)
                    counts.append(n)
        size = len(self.lengths) + len(self.units)
        self.inverse = [[0.0] * size for _ in range(size)]
        self.right = [0.0] * len(self.lengths) + [float(n) for n in counts]
        self._start()

    def _start(self) -> None:
        """A basis: for each length boards of it alone, for each unit one layout."""
        n = len(self.lengths)
        size = n + len(self.units)
        zero = {length: 0.0 for length in self.lengths}
        first = [self.layout(u, zero)[1] for u in range(len(self.units))]
        self.dual = [0.0] * size
        self.value = [0.0] * size
        for i in range(n):
            weight = self.lengths[i] + self.kerf
            best = -1.0
            for s in self.stock:
                many = s.cap // weight
                if many and (best < 0 or s.cost / many < best):
                    best = s.cost / many
                    hold = many
            self.inverse[i][i] = 1.0 / hold
            self.dual[i] = best
        for u in range(len(self.units)):
            r = n + u
            self.inverse[r][r] = 1.0
            self.value[r] = self.right[r]
            for i, many in first[u]:
                self.inverse[i][r] += many * self.inverse[i][i]
                self.value[i] += many * self.inverse[i][i] * self.right[r]
                self.dual[r] += many * self.dual[i]

    def worth(self) -> "dict[int, float]":
        return {self.lengths[i]: max(self.dual[i], 0.0) for i in range(len(self.lengths))}

    def layout(self, unit: int, worth: "dict[int, float]") -> tuple[float, list[tuple[int, int]]]:
        """The cheapest layout of the unit, and its (row, how many) of each length."""
        kind, courses = self.units[unit]
        g = self.graphs[kind]
        cut = []
        if courses == 1:
            path = one(g, worth, ())
            cost = path[0] if path else 0.0
            cut = pieces(g, path[1]) if path else []
        else:
            pair = two(g, worth, self.stagger)
            cost = pair[0] if pair else 0.0
            cut = pieces(g, pair[1]) + pieces(g, pair[2]) if pair else []
        counts: dict[int, int] = {}
        for _, _, length in cut:
            i = self.row[length]
            counts[i] = counts.get(i, 0) + 1
        return cost, sorted(counts.items())

    def pivot(self) -> bool:
        """One step: the first column found that lowers the cost. False where there is none."""
        n = len(self.lengths)
        for i in range(n):
            if self.dual[i] < -_EPS:
                return self.enter([(i, -1)], self.dual[i])
        for _ in range(len(self.stock)):
            s = self.stock[self.turn]
            value, filling = self.fill(s.cap)
            if value > s.cost * (1.0 + _EPS):
                return self.enter(filling, s.cost - value)
            self.turn = (self.turn + 1) % len(self.stock)
        worth = self.worth()
        for u in range(len(self.units)):
            cost, counts = self.layout(u, worth)
            gain = cost - self.dual[n + u]
            if gain < -_EPS * max(cost, 1.0):
                return self.enter([(i, -many) for i, many in counts] + [(n + u, 1)], gain)
        return False

    def fill(self, cap: int) -> tuple[float, list[tuple[int, int]]]:
        """The best filling of a board by the dual values, of those looked at."""
        items = []
        for i in range(len(self.lengths)):
            weight = self.lengths[i] + self.kerf
            if self.dual[i] > _EPS and weight <= cap:
                items.append((-self.dual[i] / weight, weight, self.dual[i], i))
        items.sort()
        best = 0.0
        chosen: list[tuple[int, int]] = []
        taken: list[tuple[int, int]] = []  # (place in items, how many)
        value, room, k, looked = 0.0, cap, 0, 0
        while looked < _LOOK:
            looked += 1
            while k < len(items):
                rate, weight, worth, _ = items[k]
                if value - rate * room <= best:
                    break
                many = room // weight
                if many:
                    taken.append((k, many))
                    value += many * worth
                    room -= many * weight
                k += 1
            if value > best * (1.0 + 1e-12):
                best = value
                chosen = list(taken)
            if not taken:
                break
            k, many = taken.pop()
            value -= items[k][2]
            room += items[k][1]
            if many > 1:
                taken.append((k, many - 1))
            k += 1
        return best, [(items[k][3], many) for k, many in chosen]

    def enter(self, column: list[tuple[int, int]], gain: float) -> bool:
        """Bring a column into the basis; False where nothing can leave."""
        size = len(self.dual)
        inverse = self.inverse
        d = []
        for r in range(size):
            row = inverse[r]
            x = 0.0
            for i, many in column:
                x += row[i] * many
            d.append(x)
        out = -1
        least = 0.0
        for r in range(size):
            if d[r] > 1e-9:
                ratio = self.value[r] / d[r]
                if out < 0 or ratio < least - 1e-12 or (ratio <= least and d[r] > d[out]):
                    out, least = r, ratio
        if out < 0:
            return False
        scale = 1.0 / d[out]
        leaving = [x * scale for x in inverse[out]]
        inverse[out] = leaving
        for r in range(size):
            x = d[r]
            if r != out and x != 0.0:
                row = inverse[r]
                inverse[r] = [row[i] - x * leaving[i] for i in range(size)]
                self.value[r] -= x * least
        self.value[out] = least
        self.dual = [self.dual[i] + gain * leaving[i] for i in range(size)]
        return True
