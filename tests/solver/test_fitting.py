"""Boards filled to the end, and large jobs planned with them."""

import itertools
import random

import pytest

from calc.solver.chance import Random
from calc.solver.filling import Filler, Pool
from calc.solver.fitting import Fitting, is_large
from calc.solver.given import Problem, Rules, Run, Stock
from calc.solver.model import Model
from calc.solver.solve import solve
from tests.solver import checker
from tests.solver.making import house, wall

PRICED = [Stock(1536, 1051, None, 0), Stock(2304, 1490, 20, 0), Stock(3072, 2186, 5, 0)]


@pytest.mark.parametrize("seed", range(30))
def test_the_fullest_filling_is_the_best_of_all_subsets(seed):
    """Against every subset; pools so small that the search is not cut short."""
    r = random.Random(seed)
    kinds = [0, 0, 0, 1, 2] if seed % 2 else [0]
    pieces = sorted((4 * r.randint(20, 90) + r.choice(kinds) for _ in range(7)), reverse=True)
    keys = sorted(set(pieces), reverse=True)
    left = [pieces.count(k) for k in keys]
    room = r.randint(50, 300)
    chosen, rest = Pool(keys, left).fullest(0, room, 1 if seed % 4 == 1 else 0)
    ends = [1] if seed % 4 == 1 else []
    best = room
    for n in range(len(pieces) + 1):
        for subset in itertools.combinations(pieces, n):
            used = ends + [p % 4 for p in subset if p % 4]
            weight = sum(p // 4 for p in subset)
            if len(used) == len(set(used)) and weight <= room:
                best = min(best, room - weight)
    assert rest == best == room - sum(keys[k] // 4 for k in chosen)
    assert left == [pieces.count(k) for k in keys]


def bare(lengths, stock):
    """A model of runs that need no joint, no kerf: one piece each."""
    runs = [Run(0, 2 * c, 0, length, [], (0, 0), None) for c, length in enumerate(lengths)]
    return Model(Problem(runs, stock, Rules(0, 0, 0, 1, [0], 1, 1, False, 0, 2, None), []))


def packed(lengths, stock):
    model = bare(lengths, stock)
    used = [0] * len(stock)
    pieces = [(i, 0, model.graphs[model.graph_of[i]].arcs[0][2]) for i in range(len(lengths))]
    boards = Filler(model).pack(pieces, used)
    return [(t, cut, sorted(lengths[run] for run, _, _ in row)) for t, cut, row in boards], used


def test_boards_are_filled_one_by_one_as_by_hand():
    """60 + 40, 50 + 30 + 20 and what is left: longest first, exact where it can be."""
    boards, used = packed([60, 50, 40, 30, 20, 45], [Stock(100, 1, None, 0)])
    assert boards == [(0, 100, [40, 60]), (0, 100, [20, 30, 50]), (0, 45, [45])]
    assert used == [3]


def test_the_cheaper_board_by_length_is_taken_as_far_as_there_are():
    """Of two boards at 1 a unit the first holds 90; the rest goes on what costs 2 a unit."""
    boards, used = packed([90, 90, 90], [Stock(90, 180, None, 0), Stock(100, 100, 2, 0)])
    assert [b[0] for b in boards] == [1, 1, 0]
    assert used == [1, 2]


def test_a_board_that_is_not_to_be_had_is_not_taken_for_its_fit():
    boards, _ = packed([100, 100, 100], [Stock(110, 200, None, 0), Stock(100, 100, 1, 0)])
    assert [b[0] for b in boards] == [1, 0, 0]
    assert Filler(bare([100], [Stock(100, 100, 1, 0)])).over([3]) == 2


def test_pieces_that_no_board_holds_are_said_so():
    """A left end is asked for, and all boards have lost theirs."""
    model = Model(
        Problem(
            [Run(0, 0, 0, 150, [(0, 70)], (0, 0), None)],
            [Stock(100, 1, None, 3)],
            Rules(0, 0, 0, 1, [0], 1, 1, True, 0, 2, None),
            [],
        )
    )
    pieces = [(0, u, item) for u, _, item in model.graphs[0].arcs]
    assert Filler(model).pack(pieces, [0]) is None


def solved(problem, steps):
    told = []
    return solve(problem, lambda: 0.0, 1, steps, told.append), told


@pytest.mark.parametrize(
    ("seed", "stock", "matched"),
    [(1, None, False), (2, None, False), (3, PRICED, False), (4, PRICED, False), (5, None, True)],
)
def test_a_house_is_valid_and_near_its_bound(seed, stock, matched):
    """The bound is proven, so nearness needs no expected figure."""
    problem = house(seed, stock=stock, matched=matched)
    assert is_large(problem)
    answer, told = solved(problem, 3000)
    assert checker.faults(problem, answer) == []
    costs = [p.cost for p in told]
    assert costs == sorted(costs, reverse=True)
    assert answer.cost <= answer.bound * (1.06 if matched else 1.03)


def test_the_same_house_gives_the_same_plan():
    problem = house(6, stock=PRICED)
    assert solved(problem, 2000) == solved(problem, 2000)


def test_a_move_keeps_every_piece_in_its_place():
    """After many moves all runs are whole, and cost, use and places are as counted anew."""
    model = Model(house(7, stock=PRICED))
    fitting = Fitting(model, Random(1))
    for _ in fitting.start():
        pass
    fitting.rewind()
    before = fitting.best_cost
    fitting.improve(500, 0.0, 0.5)
    held = sorted((run, u) for _, _, row in fitting.boards for run, u, _ in row)
    assert held == sorted((r, u) for r in range(len(model.graph_of)) for u in fitting.nodes(r)[:-1])
    assert fitting.cost == sum(model.stores[t].cost for t, _, _ in fitting.boards)
    assert fitting.used == [sum(b[0] == t for b in fitting.boards) for t in range(3)]
    for b, (store, cut, row) in enumerate(fitting.boards):
        assert cut == sum(model.weight[item] for _, _, item in row) <= model.stores[store].cap
        assert all(fitting.place[run, u] == b for run, u, _ in row)
    assert len(fitting.place) == len(held)
    assert fitting.best_cost <= before


def test_a_job_of_one_wall_is_not_large():
    assert not is_large(wall(1))
