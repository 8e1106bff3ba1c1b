"""The programme and its dives: against HiGHS, and on walls where neighbours bar each other."""

import highspy
import pytest

from calc.solver.basis import Basis
from calc.solver.bounds import Bounds
from calc.solver.dive import Dive
from calc.solver.programme import Programme
from calc.solver.solve import Solver
from calc.solver.units import stack
from tests.solver import checker
from tests.solver.making import wall
from tests.solver.test_exact import fillings


def least(problem):
    """What the linear programme of single courses costs, by HiGHS: boards and layouts in parts."""
    h = highspy.Highs()
    h.silent()
    need = {}
    for run in problem.runs:
        row = []
        for _, pieces in checker.layouts(problem, run):
            v = h.addVariable(lb=0.0)
            row.append(v)
            for p in pieces:
                need.setdefault(p, []).append(v)
        h.addConstr(sum(row) == 1)
    cut = {p: [] for p in need}
    for stock in problem.stock:
        for filling in fillings(problem, stock, sorted(need)):
            v = h.addVariable(lb=0.0, obj=stock.cost)
            for p, many in filling.items():
                cut[p].append(many * v)
    for p, rows in need.items():
        h.addConstr(sum(cut[p]) - sum(rows) >= 0)
    h.run()
    return h.getInfo().objective_function_value


def ready(problem, deep):
    """(solver, programme run to its end), the units as deep as the solver makes them or single."""
    solver = Solver(problem, lambda: 0.0, 1, 1000)
    if not deep:
        graphs = sorted(set(solver.model.graph_of))
        runs = range(len(problem.runs))
        solver.stacks = [
            ((g,), [[i] for i in runs if solver.model.graph_of[i] == g]) for g in graphs
        ]
    units = [stack(solver.model, key) for key, _ in solver.stacks]
    programme = Programme(solver.model, units, [len(rows) for _, rows in solver.stacks])
    while not programme.done:
        programme.rounds(50, 1e-6)
    return solver, programme


@pytest.mark.parametrize("seed", range(6))
def test_the_programme_costs_what_highs_says(seed):
    problem = wall(seed, 3)
    problem = problem._replace(rules=problem.rules._replace(shortest=550))
    _, programme = ready(problem, deep=False)
    # it ends within 1e-5 of its own bound
    assert programme.objective() == pytest.approx(least(problem), rel=2e-5)


@pytest.mark.parametrize("seed", range(8))
def test_a_dive_gives_a_whole_plan_close_to_the_bound(seed):
    problem = wall(seed)
    solver, programme = ready(problem, deep=True)
    goal = float(int(programme.objective() + 0.9999))
    solver.bounds = Bounds(solver.model, solver.stacks, programme.units)
    empty = solver._searcher(solver._lengths(), 0.9, 0.1)
    dive = Dive(programme, solver.stacks, empty, solver.random, goal, False)
    for _ in dive.slices():
        pass
    solver.best = dive.plan
    plan = solver.answer()
    assert checker.faults(problem, plan) == []
    assert plan.cost - goal in (0.0, 1.0)


def test_what_is_fixed_is_paid_and_no_longer_in_the_programme():
    problem = wall(1)
    _, programme = ready(problem, deep=True)
    before = programme.objective()
    value, name = max(programme.layouts())
    column = programme.column(name[0], list(name[1:]))
    fixed = programme.copy()
    fixed.fix(column)
    assert value >= 1.0 and fixed.owing() == []
    assert fixed.objective() == pytest.approx(before)
    assert programme.objective() == before


def test_a_basis_of_two_rows_by_hand():
    """At least 3 of x, each 1 at a cost of 2, or 2 at once at a cost of 3: 4.5 in all."""
    basis = Basis([3.0], 10.0)
    basis.inverse[0][0] = 1.0
    basis.dual[0], basis.value[0] = 2.0, 3.0
    assert basis.objective() == 6.0
    assert basis.enter([(0, 2)], 3.0 - 4.0, (7,))
    assert basis.objective() == 4.5 and basis.value == [1.5] and basis.names == [(7,)]
    basis.fix([(0, 2)])
    assert basis.value == [0.5] and basis.objective() == 1.5
    basis.fix([(0, 2)])  # half of it is taken back, until something better comes
    assert basis.owing() == [0] and basis.value == [0.5]
