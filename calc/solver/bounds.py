"""Proof of the least that any plan costs, in whole numbers.

Give each item a whole price of 0 or more. One board of store t holds at most its best
filling K(t), and the runs of a unit take at least their cheapest layout together. With
any rate D = K(s) / cost(s) that no boards to be had without limit exceed, all boards cost
at least
    (sum of the cheapest layouts - sum over limited t of count x max(0, K(t) - D cost(t))) / D,
rounded up to what all costs have in common. Source: linear programming duality; arithmetic.
"""

from collections import namedtuple

from .model import LACK, Model
from .units import cheapest
from .worth import Worth

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .units import Unit

_FINE = 5040  # units to a board

# cost    no plan costs less
# prices  list of (length, kind, whole price)
# fills   for each store of the model (origin, K): see model.py
# units   list of (list of runs, cheapest layout of these runs together)
# rate    (K, cost) of the store that sets D
Certificate = namedtuple("Certificate", "cost prices fills units rate")


class Bounds:
    """Makes certificates for one model, and keeps the best."""

    def __init__(
        self,
        model: Model,
        stacks: list[tuple[tuple[int, ...], list[list[int]]]],
        units: "list[Unit]",
    ) -> None:
        self.model = model
        self.stacks = stacks
        self.units = units
        self.common = 0
        for s in model.stores:
            self.common = gcd(self.common, s.cost)
        self.best: Certificate | None = None
        self.prices = [0] * len(model.weight)

    def offer(self, prices: list[int]) -> tuple[int, Worth]:
        """The bound by these prices, kept if it is the best; and what boards are worth by them."""
        worth = Worth(self.model, prices)
        fills = [worth.fill(t) for t in range(len(self.model.stores))]
        return self._proved(prices, fills), worth

    def _proved(self, prices: list[int], fills: list[int]) -> int:
        """The bound by these prices, where no board of store t holds more than fills[t]."""
        least = []
        total = 0
        for k in range(len(self.units)):
            way = cheapest(self.units[k], prices)
            c = way[0] if way else 0
            least.append(c)
            total += c * len(self.stacks[k][1])
        cost, rate = least_cost(
            total, [(s.cost, s.count, f) for s, f in zip(self.model.stores, fills)], self.common
        )
        cost += self.model.sunk
        if self.best is None or cost > self.best.cost:
            self.prices = prices
            listed = []
            for i in range(1, len(prices)):
                length = self.model.weight[i] - self.model.rules.kerf
                listed.append((length, self.model.kind[i], prices[i]))
            held = [(s.origin, f) for s, f in zip(self.model.stores, fills) if s.origin != LACK]
            in_units = []
            for k in range(len(self.units)):
                for runs in self.stacks[k][1]:
                    in_units.append((runs, least[k]))
            self.best = Certificate(cost, sorted(listed), held, in_units, rate)
        return int(cost)

    def by_length(self) -> int:
        """The bound with each price the item's weight.

        Where lengths are told finely, a board is taken to be filled to its end: the table of
        fillings would have a row for each unit of its length.
        """
        caps = [s.cap for s in self.model.stores]
        if max(caps) > _FINE:
            return self._proved(list(self.model.weight), caps)
        return self.offer(list(self.model.weight))[0]

    def by_steps(self, steps: list[int]) -> list[tuple[int, list[int]]]:
        """The bounds with prices in k + 1 equal steps of a board, for each k and store.

        The price of weight w is the most whole (k + 1)-ths of the board below w; the board
        holds no more than k. Source: dual feasible functions, from memory.
        """
        out = []
        seen: list[list[int]] = []
        for s in self.model.stores:
            if s.origin < 0 or s.origin == LACK:
                continue
            for k in steps:
                prices = [((k + 1) * w - 1) // s.cap if w else 0 for w in self.model.weight]
                if prices not in seen:
                    seen.append(prices)
                    out.append((self.offer(prices)[0], prices))
        return out


def least_cost(
    total: int, stores: "list[tuple[int, int | None, int]]", common: int
) -> tuple[int, tuple[int, int]]:
    """The least cost of boards that hold `total` of price, and the (K, cost) that gives D.

    stores: (cost, count, K) of each.
    """
    best, rate = 0, (0, 1)
    for cost, _, most in stores:
        if cost == 0 or most == 0:
            continue
        rest = total * cost
        for c, count, k in stores:
            over = k * cost - most * c
            if over > 0:
                if count is None:
                    break
                rest -= count * over
        else:
            need = -(-rest // most)
            if need > best:
                best, rate = need, (most, cost)
    if common:
        best = -(-best // common) * common
    return best, rate


def gcd(a: int, b: int) -> int:
    """The greatest common divisor of two whole numbers of 0 or more."""
    while b:
        a, b = b, a % b
    return a
