"""A limit on the offcuts that wait for later courses."""

import pytest

from calc.solver.given import Problem, Rules, Run, Stock
from calc.solver.solve import solve
from tests.solver import checker
from tests.solver.making import wall


def limited(problem, kept):
    rules = problem.rules._replace(kept=kept)
    return Problem(problem.runs, problem.stock, rules, problem.cuts)


@pytest.mark.parametrize("seed", range(4))
def test_the_tighter_the_limit_the_dearer_and_never_broken(seed):
    costs = []
    for kept in (0, 1, 2, 4, None):
        problem = limited(wall(seed, 16), kept)
        answer = solve(problem, lambda: 0.0, 1, 1500, lambda _: None)
        assert checker.faults(problem, answer) == []
        assert checker.proves(problem, answer.certificate) == answer.bound <= answer.cost
        costs.append(answer.cost)
    assert costs == sorted(costs, reverse=True)


@pytest.mark.parametrize(("kept", "boards"), [(0, 8), (1, 6), (None, 6)])
def test_two_courses_share_a_board_where_an_offcut_may_wait(kept, boards):
    """In sixteenths: boards of 1536, a kerf of 2, runs of 2167 with studs at 767 and 1400, no
    piece under 640. A run is 767 and 1400, by turns; 1400 takes a board, and of 767 a board
    gives two (767 + 2 + 767 = 1536): two boards a course, or three for two courses.
    """
    studs = [(0, 767), (1, 1400)]
    rules = Rules(2, 0, 0, 640, [0], 1, 1, False, 0, 2, kept)
    runs = [Run(0, c, 0, 2167, studs, (0, 0), None) for c in range(4)]
    answer = solve(Problem(runs, [Stock(1536, 1, None, 0)], rules, []), lambda: 0.0, 1, 2000,
                   lambda _: None)  # fmt: skip
    assert answer.cost == boards


def test_the_checker_sees_an_offcut_too_many():
    problem = wall(1, 16)
    answer = solve(problem, lambda: 0.0, 1, 1500, lambda _: None)
    assert any("wait" in fault for fault in checker.faults(limited(problem, 0), answer))
