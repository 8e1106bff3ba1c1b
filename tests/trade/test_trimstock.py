"""Trim stock: against every way to buy, on lists so short that all can be tried."""

import itertools
import random

import pytest

from calc.trade.records import TrimStock
from calc.trade.trimstock import buy


def least(lengths, stock, kerf):
    """The least cost by trying every way to put pieces together and the cheapest stock of each."""

    def price(group):
        need = sum(group) + kerf * (len(group) - 1)
        return min((cost for length, cost in stock if length >= need), default=None)

    def ways(left):
        if not left:
            return 0
        first, rest = left[0], left[1:]
        best = None
        for n in range(len(rest) + 1):
            for others in itertools.combinations(range(len(rest)), n):
                here = price([first] + [rest[i] for i in others])
                if here is None:
                    continue
                there = ways([x for i, x in enumerate(rest) if i not in others])
                if there is not None and (best is None or here + there < best):
                    best = here + there
        return best

    return ways(sorted(lengths, reverse=True))


@pytest.mark.parametrize("priced", [True, False])
@pytest.mark.parametrize("seed", range(25))
def test_nothing_cheaper_is_to_be_had(seed, priced):
    r = random.Random(seed)
    lengths = [r.randint(200, 900) * 508 for _ in range(r.randint(1, 7))]
    sizes = r.sample([84, 96, 120, 144, 192], r.randint(1, 3))
    stock = [(n * 8128, r.randint(11 * n, 15 * n) if priced else n * 8128) for n in sizes]
    kerf = r.choice([0, 1016])
    bought = buy(lengths, [TrimStock(n, c if priced else None) for n, c in stock], kerf)
    got = bought.cost if priced else sum(n * k for n, k, _ in bought.rows)
    assert got == least(lengths, stock, kerf)
    assert bought.over == [] and bought.priced == priced


@pytest.mark.parametrize("seed", range(10))
def test_each_piece_lies_on_one_board_that_holds_it(seed):
    r = random.Random(seed)
    lengths = [r.randint(200, 1100) * 508 for _ in range(r.randint(10, 60))]
    stock = [TrimStock(96 * 8128, 1100), TrimStock(144 * 8128, 1590)]
    bought = buy(lengths, stock, 1016)
    assert sorted(k for b in bought.boards for k in b.pieces) == list(range(len(lengths)))
    for b in bought.boards:
        used = sum(lengths[k] for k in b.pieces) + 1016 * (len(b.pieces) - 1)
        assert b.left == b.length - used >= 0
    counted = [(n, sum(b.length == n for b in bought.boards)) for n, _, _ in bought.rows]
    assert counted == [(n, count) for n, count, _ in bought.rows]
    assert bought.total == sum(lengths) and bought.longest == max(lengths)
    # Never more than a third over the running length, kerfs and all: a crude roof on waste.
    assert sum(b.length for b in bought.boards) < bought.total * 4 / 3 + 144 * 8128
    assert bought == buy(lengths, stock, 1016)


def test_what_is_too_long_is_told_and_the_rest_is_cut():
    bought = buy([100, 250, 90], [TrimStock(200, 5)], 10)
    assert bought.over == [1]
    assert bought.boards[0].pieces == [0, 2] and bought.boards[0].left == 0
    assert (bought.rows, bought.cost) == ([(200, 1, 5)], 5)


def test_no_stock_and_no_pieces():
    bare = buy([100, 250], [], 10)
    assert (bare.rows, bare.total, bare.longest, bare.over) == ([], 350, 250, [])
    none = buy([], [TrimStock(200, 5)], 10)
    assert (none.rows, none.total, none.longest, none.boards) == ([], 0, 0, [])


def test_where_one_price_is_missing_the_least_length_is_bought():
    bought = buy([90, 90], [TrimStock(100, None), TrimStock(200, 1)], 0)
    assert not bought.priced
    assert sum(n * k for n, k, _ in bought.rows) == 200


def test_a_price_of_nothing_is_a_price():
    """What is left of another job is free: two of it, not one long length for money."""
    bought = buy([90, 90], [TrimStock(100, 0), TrimStock(180, 1)], 0)
    assert bought.priced and bought.cost == 0
    assert bought.rows == [(100, 2, 0)]


def test_no_more_is_taken_of_what_is_free_than_is_needed():
    """40 and 40, 30 and 30, 90: three of 100 hold them; a price is dearer than any free length."""
    bought = buy([40, 40, 30, 30, 90], [TrimStock(100, 0)], 0)
    assert (bought.rows, bought.cost) == ([(100, 3, 0)], 0)
    bought = buy([40, 40, 30, 30, 90], [TrimStock(100, 0), TrimStock(240, 1)], 0)
    assert (bought.rows, bought.cost) == ([(100, 3, 0)], 0)
