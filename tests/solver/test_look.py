"""The look: scored as the checker scores it, and better at the same cost."""

import pytest

from calc.solver.given import Problem, Run
from calc.solver.look import Look
from calc.solver.looking import Looking
from calc.solver.solve import Solver, solve
from tests.solver import checker
from tests.solver.making import wall


def plans(problem, steps):
    """(the joints that first had the final cost, the final answer)."""
    solver = Solver(problem, lambda: 0.0, 1, steps)
    first, cost = None, None
    for progress in solver.slices():
        if progress is not None and (cost is None or progress.cost < cost):
            first, cost = solver.answer().joints, progress.cost
    return first, solver.answer()


@pytest.mark.parametrize("seed", range(8))
def test_the_look_is_better_at_the_same_cost_and_is_what_the_checker_counts(seed):
    problem = wall(seed, 14)
    first, answer = plans(problem, 2000)
    assert checker.faults(problem, answer) == []
    score = checker.look(problem, answer.joints)["score"]
    assert answer.look == score <= checker.look(problem, first)["score"]
    assert answer.cost == solve(problem, lambda: 0.0, 1, 2000, lambda _: None).cost


def test_a_wall_of_two_studs_by_hand():
    """Four courses on studs 0 and 1: 0, 1, 0, 1 has each stud twice, two apart, by hand."""
    studs = [(0, 400), (1, 900)]
    joints = [[(0, 0)], [(1, 0)], [(0, 0)], [(1, 0)]]
    runs = [Run(0, c, 0, 1300, studs, (0, 0), None) for c in range(4)]
    problem = Problem(runs, *wall(0)[1:])
    counts = checker.look(problem, joints)
    assert counts == {"same": 2, "near": 3, "stairs": 0, "joints": 4, "score": 33}


@pytest.mark.parametrize("seed", range(4))
def test_moves_keep_boards_whole_and_the_score_right(seed):
    problem = wall(seed, 10)
    solver = Solver(problem, lambda: 0.0, seed, 800)
    solver.looks = False
    for _ in solver.slices():
        pass
    search = solver.best
    looking = Looking(search, 3000)
    for _ in range(30):
        looking.improve(100)
        assert Look(search).total == looking.look.total
        held = {}
        for b, board in enumerate(search.boards):
            if board is not None:
                used = sum(search.model.weight[item] for _, _, item in board[2])
                assert used + (board[1] >> 2) == search.model.stores[board[0]].cap
                held.update({(run, k): b for run, k, _ in board[2]})
        assert held == {(r, k): b for r, row in enumerate(search.cuts) for k, b in enumerate(row)}
    assert looking.best <= looking.look.total
