"""Prices from a linear programme: a guide for the search and the stuff of proofs.

The programme lets boards and layouts be used in parts. Columns (fillings of a board,
layouts of a unit) are made when wanted, at prices between the best known and the newest
(smoothing), which takes far fewer of them. Its floats are only a guide: bounds.py
proves by whole numbers. Only + - * / and comparisons in a fixed order.
Source: column generation for cutting stock, smoothing of dual prices; from memory.
"""

from .basis import Basis
from .model import ANY, WHOLE, Model
from .units import cheapest

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .basis import Column
    from .units import Unit

_EPS = 1e-7
_FILLS = 3  # fillings made at once, of different items
_MARGIN = 0.0003  # of the bound, lost when prices become whole
_FINE = 1.5  # boards, for taking back what is fixed
_LOOK = 4000  # fillings looked at for one column


class Programme(Basis):
    """Rows: an item each (cut at least what is laid), a unit each, a limited store each.

    Names: (unit, state, ...) of a layout, (-1 - store,) of a filling. best, centre: the
    bound so far, about, and its prices. done: it can rise no more. need: of each item the
    most that a filling may hold, or None.
    """

    def __init__(
        self,
        model: Model,
        units: "list[Unit]",
        counts: list[int],
        like: "Programme | None" = None,
    ) -> None:
        self.model = model
        self.units = units
        self.best = -1.0
        self.done = False
        self.items: list[int] = []
        self.row: dict[int, int] = {}
        self.limit: dict[int, int] = {}
        self.first_unit = 0
        self.unit_row: list[int] = []
        self.need: list[int] | None = None
        self.centre: list[float] = []
        if like is None:
            self._rows(counts)
            self._start()
        else:
            self.take_over(like)
            self.items, self.row, self.limit = like.items, like.row, like.limit
            self.first_unit, self.need = like.first_unit, like.need
            self.unit_row, self.centre = list(like.unit_row), list(like.centre)

    def _rows(self, counts: list[int]) -> None:
        model, units = self.model, self.units
        used = set()
        for u in units:
            for _, _, item, _ in u.arcs:
                if item:
                    used.add(item)
        self.items = sorted(used, key=lambda i: (model.weight[i], model.kind[i]))
        self.row = {self.items[r]: r for r in range(len(self.items))}
        n = self.first_unit = len(self.items)
        self.unit_row = [n + u for u in range(len(units))]
        limited = [t for t in range(len(model.stores)) if model.stores[t].count is not None]
        self.limit = {limited[k]: n + len(units) + k for k in range(len(limited))}
        right = [0.0] * n + [float(c) for c in counts]
        right += [float(model.stores[t].count) for t in limited]
        Basis.__init__(self, right, _FINE * max([s.cost for s in model.stores]))
        rate = min([s.cost / s.cap for s in model.stores if s.cost > 0])
        self.centre = [model.weight[i] * rate for i in self.items]

    def _start(self) -> None:
        """A basis: each item alone on boards, each unit in one layout, limits unused."""
        model = self.model
        n = len(self.items)
        dear = 10.0 * max([s.cost for s in model.stores]) + 1.0
        for r in range(n):
            i = self.items[r]
            best = -1.0
            hold = 1
            for t in range(len(model.stores)):
                s = model.stores[t]
                many = s.cap // model.weight[i]
                if model.kind[i] != ANY:
                    many = min(many, 1)
                if model.kind[i] == WHOLE and s.whole + model.rules.kerf != model.weight[i]:
                    many = 0
                if many and s.count is None and (best < 0 or s.cost / many < best):
                    best = s.cost / many
                    hold = many
                    self.names[r] = (-1 - t,)
            self.inverse[r][r] = 1.0 / hold
            self.columns[r] = [(r, hold)]
            self.dual[r] = best if best >= 0 else dear
        flat = [0.0 if i == 0 else float(self.model.weight[i]) for i in range(len(model.weight))]
        for u in range(len(self.units)):
            way = cheapest(self.units[u], flat)
            r = n + u
            self.inverse[r][r] = 1.0
            self.value[r] = self.right[r]
            if way is not None:
                self.names[r] = tuple([u] + way[1])
                self.columns[r] = self.column(u, way[1])
                for row, many in self._counts(u, way[1]):
                    self.inverse[r][row] = many * self.inverse[row][row]
                    self.value[row] += many * self.inverse[row][row] * self.right[r]
                    self.dual[r] += many * self.dual[row]
        for t in self.limit:
            r = self.limit[t]
            self.inverse[r][r] = 1.0
            self.value[r] = self.right[r]

    def _counts(self, unit: int, path: list[int]) -> list[tuple[int, int]]:
        """How many of each item's row the layout has."""
        found: dict[int, int] = {}
        steps = set()
        for k in range(len(path) - 1):
            steps.add((path[k], path[k + 1]))
        for a, b, item, _ in self.units[unit].arcs:
            if item and (a, b) in steps:
                r = self.row[item]
                found[r] = found.get(r, 0) + 1
        return sorted(found.items())

    def column(self, unit: int, path: list[int]) -> "Column":
        """The column of a layout."""
        return [(r, -many) for r, many in self._counts(unit, path)] + [(self.unit_row[unit], 1)]

    def rounds(self, pivots: int, unit: float) -> None:
        """Go on until `pivots` are made, or the bound can rise no more by `unit`."""
        alpha = 0.7
        end = self.pivots + pivots
        while self.pivots < end and not self.done:
            self._drop()
            high = self.objective()
            if self.best >= 0 and (
                high - self.best < 1e-5 * high
                or _up(self.best - _MARGIN * high, unit) >= _up(high, unit)
            ):
                self.done = True
                break
            new = [max(self.dual[r], 0.0) for r in range(self.first_unit)]
            at = [alpha * c + (1.0 - alpha) * p for c, p in zip(self.centre, new)]
            entered = self._price(at)
            if not entered:
                if alpha == 0.0:
                    self.done = True
                alpha = 0.0
            else:
                alpha = 0.7

    def _drop(self) -> None:
        """Let surplus in where a price fell below 0, and unused limits."""
        for _ in range(self.size):
            least, row = -_EPS, -1
            for r in range(self.first_unit):
                if self.dual[r] < least:
                    least, row = self.dual[r], r
            column = [(row, -1)]
            for t in sorted(self.limit):
                r = self.limit[t]
                if -self.dual[r] < least:
                    least, row = -self.dual[r], r
                    column = [(row, 1)]
            if row < 0:
                return
            self.enter(column, least, ())

    def _price(self, at: list[float]) -> int:
        """Make columns at these prices and let those in that pay. How many."""
        model = self.model
        n = self.first_unit
        full = [0.0] * len(model.weight)
        for r in range(n):
            full[self.items[r]] = at[r]
        columns: list[tuple[Column, float, tuple[int, ...]]] = []
        fills = []
        for t in range(len(model.stores)):
            most, filling = self.fill(t, at)
            fills.append(most)
            rest = list(at)
            for _ in range(_FILLS):
                if not filling:
                    break
                column = list(filling)
                if t in self.limit:
                    column.append((self.limit[t], 1))
                columns.append((column, float(model.stores[t].cost), (-1 - t,)))
                for r, _many in filling:
                    rest[r] = 0.0
                _most, filling = self.fill(t, rest)
        total = 0.0
        for r in range(n):
            total += at[r] * self.right[r]
        for u in range(len(self.units)):
            many = self.right[self.unit_row[u]]
            way = cheapest(self.units[u], full) if many > 0.0 else None
            if way is not None:
                total += way[0] * many
                columns.append((self.column(u, way[1]), 0.0, tuple([u] + way[1])))
        low, scale = self._bound(total, fills)
        if low > self.best:
            self.best = low
            self.centre = [p / scale for p in at]
        entered = 0
        for column, cost, name in columns:
            gain = cost
            for r, many in column:
                gain -= self.dual[r] * many
            if gain < -_EPS * max(cost, 1.0) and self.enter(column, gain, name):
                entered += 1
        return entered

    def _bound(self, total: float, fills: list[float]) -> tuple[float, float]:
        """What these prices prove, about; and by how much they are too high."""
        stores = self.model.stores
        best, scale = -1.0, 1.0
        for t in range(len(stores)):
            if stores[t].cost == 0 or fills[t] <= 0.0:
                continue
            d = fills[t] / stores[t].cost
            rest = total
            for k in range(len(stores)):
                over = fills[k] - d * stores[k].cost
                if over > 1e-9 * d:
                    if stores[k].count is None:
                        break
                    rest -= over * stores[k].count
            else:
                if rest / d > best:
                    best, scale = rest / d, d
        return best, scale

    def fill(self, store: int, at: list[float]) -> tuple[float, list[tuple[int, int]]]:
        """The best filling of a board at these prices, of those looked at: (price, rows)."""
        model = self.model
        s = model.stores[store]
        whole = (0.0, -1)
        items = []
        for r in range(self.first_unit):
            i = self.items[r]
            weight, kind = model.weight[i], model.kind[i]
            if kind == WHOLE:
                if s.whole >= 0 and weight == s.cap and at[r] > whole[0]:
                    whole = (at[r], r)
            elif (
                at[r] > _EPS
                and weight <= s.cap
                and not kind & s.gone
                and (not self.need or self.need[r] > 0)
            ):
                items.append((-at[r] / weight, weight, at[r], r, kind))
        items.sort()
        lightest = [0] * (len(items) + 1)
        lightest[-1] = s.cap + 1
        for k in range(len(items) - 1, -1, -1):
            lightest[k] = min(lightest[k + 1], items[k][1])
        best = 0.0
        chosen: list[tuple[int, int]] = []
        taken: list[tuple[int, int]] = []
        value, room, k, looked, ends = 0.0, s.cap, 0, 0, s.gone
        need = self.need
        while looked < _LOOK:
            looked += 1
            while lightest[k] <= room:
                rate, weight, worth, _, kind = items[k]
                if value - rate * room <= best * (1.0 + 1e-12):
                    break
                many = room // weight
                if need and many > need[items[k][3]]:
                    many = need[items[k][3]]
                if kind and many:
                    many = 0 if ends & kind else 1
                    ends |= kind
                if many:
                    taken.append((k, many))
                    value += many * worth
                    room -= many * weight
                k += 1
            if value > best:
                best = value
                chosen = list(taken)
            if not taken:
                break
            k, many = taken.pop()
            value -= items[k][2]
            room += items[k][1]
            if many > 1:
                taken.append((k, many - 1))
            elif items[k][4]:
                ends &= ~items[k][4]
            k += 1
        if whole[0] > best:
            return whole[0], [(whole[1], 1)]
        return best, [(items[k][3], many) for k, many in chosen]

    def split(self, unit: int, only: "Unit", path: list[int]) -> int:
        """Make one stack of the unit a unit by itself, with fewer ways; its number.

        path: one of these ways; it becomes basic.
        """
        self.fix([(self.unit_row[unit], 1)])
        self.units.append(only)
        self.unit_row.append(self.size)
        number = len(self.units) - 1
        self.grow(self.column(number, path), tuple([number] + path))
        return number

    def copy(self) -> "Programme":
        """The same programme, to go on with by itself."""
        return Programme(self.model, list(self.units), [], self)

    def whole_prices(self, grain: int) -> list[int]:
        """The best prices as whole numbers: `grain` for what the dearest board costs."""
        top = max([s.cost for s in self.model.stores])
        out = [0] * len(self.model.weight)
        for r in range(self.first_unit):
            out[self.items[r]] = int(self.centre[r] * grain / top + 1e-6)
        return out

    def layouts(self) -> list[tuple[float, tuple[int, ...]]]:
        """The layouts in the programme's plan: (how many, (unit, states...))."""
        out = []
        for r in range(self.size):
            if self.names[r] and self.names[r][0] >= 0:
                out.append((self.value[r], self.names[r]))
        return out


def _up(x: float, unit: float) -> int:
    """How many whole units x comes to, rounded up but for a trifle."""
    n = int(x / unit)
    return n if x <= (n + 1e-6) * unit else n + 1
