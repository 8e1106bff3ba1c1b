"""What lengths of trim to buy for a list of pieces, by the one solver."""

from collections import namedtuple

from ..search import searched
from ..solver.given import Problem, Rules, Run, Stock

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .records import TrimStock

# Pieces beyond which the search keeps to its first plans, so that a page is never kept waiting.
_MANY = 60
_STEPS = 600

# rows: list of (length, count, price of one in hundredths or None), the longest first; total:
# running length of all pieces; longest: the longest piece, 0 where there is none; over: places
# of the pieces that no stock holds; boards: list of Board; priced: whether the cheapest were
# chosen, not the least length; cost: of all in hundredths, None where a price is missing.
ToBuy = namedtuple("ToBuy", "rows total longest over boards priced cost")
# length: of the stock; pieces: places among the lengths asked for; left: what remains.
Board = namedtuple("Board", "length pieces left")


def buy(lengths: list[int], stock: "list[TrimStock]", kerf: int) -> ToBuy:
    """The lengths to buy: the cheapest where all have a price (0 is free), else the least length.

    lengths: of the pieces, in jots, each more than 0; stock: what is to be had, as many as
    wanted; empty: bought by running length, so rows is. kerf: between two pieces. The same
    question has the same answer on both interpreters. Errors: none.
    """
    total, longest = sum(lengths), max([0] + lengths)
    top = max([0] + [s.length for s in stock])
    over = [k for k in range(len(lengths)) if stock and lengths[k] > top]
    held = [k for k in range(len(lengths)) if k not in over]
    if not stock or not held:
        return ToBuy([], total, longest, over, [], False, None)
    priced = not [1 for s in stock if s.price is None]
    runs = [Run(0, 2 * i, 0, lengths[k], [], (0, 0), None) for i, k in enumerate(held)]
    # Of what is free no more is taken than is needed: its length counts, less than any price.
    free = priced and 0 in [s.price for s in stock]
    one = 1 + len(held) * top if free else 1
    costs = [
        Stock(s.length, s.price * one if priced and s.price else s.length, None, 0) for s in stock
    ]
    rules = Rules(kerf, 0, 0, 1, [0], 1, 1, False, 0, 1, None)
    answer = searched(
        Problem(runs, costs, rules, []), _STEPS if len(held) <= _MANY else _STEPS // 10
    )
    if answer is None:  # no plan was found at all; not known to happen
        return ToBuy([], total, longest, over, [], priced, None)
    boards = []
    counts = [0] * len(stock)
    for line, cut in answer.boards:
        pieces = sorted([held[run] for run, _ in cut])
        used = sum([lengths[k] + kerf for k in pieces]) - kerf
        counts[line] += 1
        boards.append(Board(stock[line].length, pieces, stock[line].length - used))
    boards.sort(key=lambda b: (-b.length, b.pieces))
    order = sorted(range(len(stock)), key=lambda i: (-stock[i].length, i))
    rows = [(stock[i].length, counts[i], stock[i].price) for i in order if counts[i]]
    cost = None
    if not [1 for _, _, price in rows if price is None]:
        cost = sum([count * price for _, count, price in rows])
    return ToBuy(rows, total, longest, over, boards, priced, cost)
