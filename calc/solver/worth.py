"""What a board or an offcut can hold at most, by whole prices of the items."""

from .model import ANY, LEFT, RIGHT, WHOLE, Model


class Worth:
    """Knapsack values: the most price that fits into a room, ends counted.

    prices: for each item of the model a whole price of 0 or more. Ends in use are
    bits: LEFT and RIGHT, 3 for both. Source: dynamic programming over the value.
    """

    def __init__(self, model: Model, prices: list[int]) -> None:
        self.prices = prices
        self.model = model
        top = max([s.cap for s in model.stores])
        of: list[list[tuple[int, int]]] = [[], [], [], []]
        for i in range(1, len(prices)):
            if prices[i] > 0 and model.weight[i] <= top:
                of[model.kind[i]].append((model.weight[i], prices[i]))
        plain = _filled(_useful(of[ANY]), top)
        lefts, rights = _useful(of[LEFT]), _useful(of[RIGHT])
        one = _with(plain, lefts, top)
        other = _with(plain, rights, top)
        both = _with(other, lefts, top) if lefts else other
        self.reach = [both, other, one, plain]
        self._kept: dict[int, int] = {}

    def hold(self, state: int) -> int:
        """The most price in the room state >> 2 with the ends state & 3 in use."""
        value = self._kept.get(state, -1)
        if value < 0:
            reach = self.reach[state & 3]
            room = state >> 2
            lo, hi = 0, len(reach) - 1
            while lo < hi:
                mid = (lo + hi + 1) // 2
                if reach[mid] <= room:
                    lo = mid
                else:
                    hi = mid - 1
            value = self._kept[state] = lo
        return value

    def fill(self, store: int) -> int:
        """The most price that one board of the store holds."""
        s = self.model.stores[store]
        best = self.hold(s.cap * 4 + s.gone)
        if s.whole >= 0:
            for i in range(1, len(self.prices)):
                if self.model.kind[i] == WHOLE and self.model.weight[i] == s.cap:
                    best = max(best, self.prices[i])
        return best


def _useful(items: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Of (weight, price) those that no lighter one is as good as."""
    out: list[tuple[int, int]] = []
    for w, p in sorted(items, key=lambda wp: (wp[0], -wp[1])):
        if not out or p > out[-1][1]:
            out.append((w, p))
    return out


def _filled(items: list[tuple[int, int]], top: int) -> list[int]:
    """At v the least weight of items worth v or more in all, while <= top.

    items: (weight, price), both rising.
    """
    out = [0]
    less: list[tuple[int, int]] = []  # worth less than v
    k = 0
    while items:
        v = len(out)
        while k < len(items) and items[k][1] < v:
            less.append(items[k])
            k += 1
        best = items[k][0] if k < len(items) else top + 1
        if less:
            best = min(best, min([w + out[v - p] for w, p in less]))
        if best > top:
            break
        out.append(best)
    return out


def _with(base: list[int], items: list[tuple[int, int]], top: int) -> list[int]:
    """The same with at most one of the items besides."""
    if not items:
        return base
    most = max([p for _, p in items])
    out = []
    for v in range(len(base) + most):
        best = base[v] if v < len(base) else top + 1
        for weight, price in items:
            rest = v - price if v > price else 0
            if rest < len(base) and weight + base[rest] < best:
                best = weight + base[rest]
        if best > top:
            break
        out.append(best)
    return out
