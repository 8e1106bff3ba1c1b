"""Boards: what a stock length holds, and proof of the least that any cutting costs.

A piece weighs its length + kerf and a board holds its length + kerf, so k
pieces need k - 1 cuts exactly. Everything is whole numbers.

The proof: give each piece length a price of 0 or more. No board of stock t
holds more than its best filling K(t); no layout of a run is cheaper than its
cheapest path. So whatever is laid and cut costs at least
    (sum over runs of the cheapest path) x (least cost(t) / K(t)).
Two neighbouring courses of one kind are priced together, so that the stagger
counts. Source: linear programming duality; arithmetic.
"""

from collections import namedtuple

from .layout import Graph, one, two

# cap    what a board holds: its length + kerf, in jots
# cost   whole: hundredths of money, or jots of length bought
# count  boards to be had, or None
# index  its place in the job's list
Stock = namedtuple("Stock", "cap cost count index")

# cost    no plan costs less (whole, as in Stock.cost)
# prices  list of (length in jots, whole price), by length
# fills   list of (stock index, most price that one such board can hold)
# ones, twos  for each graph the cheapest path, and the cheapest two neighbours
#         (None where only one course was asked for)
Bound = namedtuple("Bound", "cost prices fills ones twos")

# graph  index of the graph; courses: how many neighbouring courses it runs through
Chain = namedtuple("Chain", "graph courses")


def length_bound(
    graphs: list[Graph], chains: list[Chain], stock: list[Stock], kerf: int, stagger: int
) -> Bound:
    """The bound with each price the piece's length + kerf."""
    prices = {length: length + kerf for length in lengths(graphs)}
    fills = [s.cap for s in stock]
    return _bound(graphs, chains, stock, stagger, prices, fills)


def step_bounds(
    graphs: list[Graph],
    chains: list[Chain],
    stock: list[Stock],
    kerf: int,
    stagger: int,
    steps: list[int],
) -> list[Bound]:
    """Bounds with prices in steps (how many k-ths of a board a piece takes), best first.

    steps: the k to try, each for each stock length. The price of weight w is
    the most whole (k+1)-ths of the board that are less than w; no filling of
    that board holds more than k. At most three come back. Source: dual
    feasible functions, from memory.
    """
    found = []
    all_lengths = lengths(graphs)
    seen = []
    for s in stock:
        for k in steps:
            row = [((k + 1) * (length + kerf) - 1) // s.cap for length in all_lengths]
            if row in seen:
                continue
            seen.append(row)
            prices = {}
            for i in range(len(row)):
                prices[all_lengths[i]] = row[i]
            reach = least_weights(prices, kerf, max([t.cap for t in stock]))
            fills = [most(reach, t.cap) for t in stock]
            bound = _bound(graphs, chains, stock, -1, prices, fills)
            # fractions of a board more, as whole millionths, to order by
            found.append((-_ratio(bound, chains, stock, fills), len(seen), prices, fills))
    found.sort(key=lambda f: (f[0], f[1]))
    out = [_bound(graphs, chains, stock, stagger, f[2], f[3]) for f in found[:3]]
    return sorted(out, key=lambda b: (-b.cost, b.prices))


def priced_bound(
    graphs: list[Graph],
    chains: list[Chain],
    stock: list[Stock],
    kerf: int,
    stagger: int,
    prices: "dict[int, int]",
) -> Bound:
    """The bound with these whole prices, each 0 or more."""
    reach = least_weights(prices, kerf, max([s.cap for s in stock]))
    fills = [most(reach, s.cap) for s in stock]
    return _bound(graphs, chains, stock, stagger, prices, fills)


def _ratio(bound: Bound, chains: list[Chain], stock: list[Stock], fills: list[int]) -> int:
    """The bound before it is rounded, in millionths."""
    total = sum([c.courses * bound.ones[c.graph] for c in chains])
    worth = [1000000 * total * stock[i].cost // fills[i] for i in range(len(stock)) if fills[i] > 0]
    return min(worth) if worth else 0


def _bound(
    graphs: list[Graph],
    chains: list[Chain],
    stock: list[Stock],
    stagger: int,
    prices: "dict[int, int]",
    fills: list[int],
) -> Bound:
    """The bound of these prices; a stagger below 0 leaves the stagger out of it."""
    ones = []
    twos = []
    for i in range(len(graphs)):
        path = one(graphs[i], prices, ())
        ones.append(path[0] if path else 0)
        pair = None
        if stagger >= 0 and max([c.courses for c in chains if c.graph == i]) > 1:
            pair = two(graphs[i], prices, stagger)
        twos.append(pair[0] if pair else None)
    total = 0
    for c in chains:
        if twos[c.graph] is None:
            total += c.courses * ones[c.graph]
        else:
            total += c.courses // 2 * twos[c.graph] + c.courses % 2 * ones[c.graph]
    return Bound(
        least_cost(total, stock, fills),
        sorted(prices.items()),
        [(stock[i].index, fills[i]) for i in range(len(stock))],
        ones,
        twos,
    )


def least_cost(total: int, stock: list[Stock], fills: list[int]) -> int:
    """The least that boards holding `total` of price can cost.

    Rounded up to a multiple of what all stock costs have in common.
    """
    best = -1
    common = 0
    for i in range(len(stock)):
        common = gcd(common, stock[i].cost)
        if fills[i] > 0:
            need = -(-total * stock[i].cost // fills[i])
            if best < 0 or need < best:
                best = need
    if best < 0 or common == 0:
        return 0
    return -(-best // common) * common


def gcd(a: int, b: int) -> int:
    """The greatest common divisor of two whole numbers of 0 or more."""
    while b:
        a, b = b, a % b
    return a


def lengths(graphs: list[Graph]) -> list[int]:
    """Every piece length of the graphs, ascending, in jots."""
    found = set()
    for g in graphs:
        for out in g.arcs:
            for _, length in out:
                found.add(length)
    return sorted(found)


def least_weights(prices: "dict[int, int]", kerf: int, cap: int) -> list[int]:
    """At v the least weight of pieces whose prices come to v or more, while <= cap.

    prices: piece length -> whole price. The list ends before the first v that
    no board of `cap` can hold.
    """
    lightest: list[tuple[int, int]] = []  # (price, weight), only what is worth its weight
    for length, price in sorted(prices.items(), key=lambda lp: (lp[0], lp[1])):
        if price > 0 and not [1 for p, _ in lightest if p >= price]:
            lightest.append((price, length + kerf))
    out = [0]
    while True:
        v = len(out)
        best = -1
        for price, weight in lightest:
            w = weight + (out[v - price] if price < v else 0)
            if best < 0 or w < best:
                best = w
        if best < 0 or best > cap:
            return out
        out.append(best)


def most(reach: list[int], room: int) -> int:
    """The most price that fits into `room`: reach as from least_weights."""
    lo, hi = 0, len(reach) - 1
    while lo < hi:
        mid = (lo + hi + 1) // 2
        if reach[mid] <= room:
            lo = mid
        else:
            hi = mid - 1
    return lo
