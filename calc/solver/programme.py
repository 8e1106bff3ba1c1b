"""Prices from a linear programme: a guide for the search and the stuff of proofs.

The programme lets boards and layouts be used in parts. Columns (fillings of a board,
layouts of a unit) are made when wanted, at prices between the best known and the newest
(smoothing), which takes far fewer of them. Its floats are only a guide: bounds.py
proves by whole numbers. Only + - * / and comparisons in a fixed order.
Source: column generation for cutting stock, smoothing of dual prices; from memory.
"""

from .model import ANY, WHOLE, Model
from .units import cheapest

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .units import Unit

    Column = list[tuple[int, int]]  # (row, how many)

_EPS = 1e-7
_NIL = 1e-9  # less than this is nothing
_PIVOT = 1e-7
_NEAR = 1e-9
_FILLS = 3  # fillings made at once, of different items
_MARGIN = 0.0003  # of the bound, lost when prices become whole
_LOOK = 4000  # fillings looked at for one column


class Programme:
    """Rows: an item each (cut at least what is laid), a unit each, a limited store each."""

    def __init__(self, model: Model, units: "list[Unit]", counts: list[int]) -> None:
        self.model = model
        self.units = units
        used = set()
        for u in units:
            for _, _, item, _ in u.arcs:
                if item:
                    used.add(item)
        self.items = sorted(used, key=lambda i: (model.weight[i], model.kind[i]))
        self.row = {self.items[r]: r for r in range(len(self.items))}
        n = len(self.items)
        self.first_unit = n
        self.unit_row = [n + u for u in range(len(units))]
        limited = [t for t in range(len(model.stores)) if model.stores[t].count is not None]
        self.limit = {limited[k]: n + len(units) + k for k in range(len(limited))}
        self.size = n + len(units) + len(limited)
        self.right = (
            [0.0] * n + [float(c) for c in counts] + [float(model.stores[t].count) for t in limited]
        )
        self.inverse: list[dict[int, float]] = [{} for _ in range(self.size)]  # by columns
        self.pivots = 0
        self.names: list[tuple[int, ...]] = [()] * self.size  # (unit, path...) or (-1 - store,)
        self.basis: list[Column] = [[] for _ in range(self.size)]
        self.forced: set[int] = set()  # rows whose basic column takes back what was fixed
        self.need: list[int] | None = None  # of each item the most a filling may hold
        self._start()
        rate = min([s.cost / s.cap for s in model.stores if s.cost > 0])
        self.centre = [model.weight[i] * rate for i in self.items]
        self.best = -1.0
        self.done = False

    def _start(self) -> None:
        """A basis: each item alone on boards, each unit in one layout, limits unused."""
        model = self.model
        n = len(self.items)
        self.dual = [0.0] * self.size
        self.value = [0.0] * self.size
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
            self.basis[r] = [(r, hold)]
            self.dual[r] = best if best >= 0 else dear
        flat = [0.0 if i == 0 else float(self.model.weight[i]) for i in range(len(model.weight))]
        for u in range(len(self.units)):
            way = cheapest(self.units[u], flat)
            r = n + u
            self.inverse[r][r] = 1.0
            self.value[r] = self.right[r]
            if way is not None:
                self.names[r] = tuple([u] + way[1])
                self.basis[r] = self.column(u, way[1])
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

    def objective(self) -> float:
        """What the programme costs now."""
        total = 0.0
        for r in range(self.size):
            total += self.dual[r] * self.right[r]
        return total

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
            self._enter(column, least, ())

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
        total = sum([at[r] * self.right[r] for r in range(n)])
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
            if gain < -_EPS * max(cost, 1.0) and self._enter(column, gain, name):
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

    def _enter(self, column: list[tuple[int, int]], gain: float, name: tuple[int, ...]) -> bool:
        """Bring a column into the basis; False where nothing can leave."""
        d = self._seen(column)
        out = self._leaves(d)
        if out < 0:
            return False
        least = max(self.value[out] / d[out], 0.0)
        scale = 1.0 / d.pop(out)
        change = [(r, d[r]) for r in sorted(d)]
        for c in range(self.size):
            col = self.inverse[c]
            if out in col:
                f = col[out] * scale
                for r, x in change:
                    y = col.get(r, 0.0) - f * x
                    if -_NIL < y < _NIL:
                        col.pop(r, None)
                    else:
                        col[r] = y
                col[out] = f
                self.dual[c] += gain * f
        for r, x in change:
            self.value[r] -= least * x
        self.value[out] = least
        self.names[out] = name
        self.basis[out] = column
        self.forced.discard(out)
        self.pivots += 1
        return True

    def fix(self, column: "Column", times: int) -> None:
        """Take the column `times` for good; the others are worth what is left.

        A basic column that would be taken less than never is turned about: it then takes
        back what was fixed, at a fine, until another comes in its place.
        """
        for r, many in column:
            self.right[r] -= many * times
        d = self._seen(column)
        for r in sorted(d):
            self.value[r] -= times * d[r]
            if self.value[r] < -_NEAR:
                self.turn(r)

    def split(self, unit: int, only: "Unit", path: list[int]) -> int:
        """Make one stack of the unit a unit by itself, with fewer ways; its number.

        path: one of these ways; it becomes basic.
        """
        self.fix([(self.unit_row[unit], 1)], 1)
        row = self.size
        self.size += 1
        self.units.append(only)
        self.unit_row.append(row)
        number = len(self.units) - 1
        items = self.column(number, path)[:-1]
        d = self._seen(items)
        col = {r: -d[r] for r in d}
        col[row] = 1.0
        self.inverse.append(col)
        self.dual.append(-sum([many * self.dual[r] for r, many in items]))
        self.right.append(1.0)
        self.value.append(1.0)
        self.names.append(tuple([number] + path))
        self.basis.append(self.column(number, path))
        for r in sorted(d):
            self.value[r] -= d[r]
            if self.value[r] < -_NEAR:
                self.turn(r)
        return number

    def turn(self, row: int) -> None:
        self.value[row] = -self.value[row]
        self.names[row] = ()
        self.basis[row] = []
        self.forced.add(row)
        for col in self.inverse:
            if row in col:
                col[row] = -col[row]
        self.fine(row)

    def owing(self) -> list[int]:
        """The rows where something fixed is still taken back."""
        return [r for r in sorted(self.forced) if self.value[r] > 1e-6]

    def fine(self, row: int) -> None:
        """Make what is forced dearer, by a board and a half."""
        dear = 1.5 * max([s.cost for s in self.model.stores])
        for c in range(self.size):
            if row in self.inverse[c]:
                self.dual[c] += dear * self.inverse[c][row]

    def copy(self) -> "Programme":
        """The same programme, to go on with by itself."""
        other = object.__new__(Programme)
        for name in "model items row first_unit limit size pivots need".split(" "):
            setattr(other, name, getattr(self, name))
        for name in "units unit_row right dual value names basis centre".split(" "):
            setattr(other, name, list(getattr(self, name)))
        other.inverse = [dict(col) for col in self.inverse]
        other.forced = set(self.forced)
        other.best = -1.0
        other.done = False
        return other

    def _seen(self, column: list[tuple[int, int]]) -> dict[int, float]:
        """The column as the basis sees it, by rows."""
        d: dict[int, float] = {}
        for i, many in column:
            col = self.inverse[i]
            for r in col:
                d[r] = d.get(r, 0.0) + many * col[r]
        return d

    def _leaves(self, d: dict[int, float]) -> int:
        """The row whose basic column leaves for this one, -1 where none can.

        Of those that bind, or nearly, the largest pivot. Source: Harris's ratio test, from memory.
        """
        least = -1.0
        for r in d:
            if d[r] > _PIVOT:
                ratio = (max(self.value[r], 0.0) + _NEAR) / d[r]
                if least < 0.0 or ratio < least:
                    least = ratio
        out = -1
        for r in sorted(d):
            if d[r] > _PIVOT and self.value[r] <= least * d[r] and (out < 0 or d[r] > d[out]):
                out = r
        return out

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
