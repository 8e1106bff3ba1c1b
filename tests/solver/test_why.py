"""Why there is no plan: named only where HiGHS finds none either, with mends that mend."""

import random

import pytest

from calc.solver.given import Problem, Rules, Run, Stock
from calc.solver.lacking import lacking, laid
from calc.solver.solve import solve
from calc.solver.why import mended, why
from tests.solver import checker
from tests.solver.making import wall
from tests.solver.test_exact import exact


def tight(seed):
    """A wall of three to six courses with few studs, so that rules are hard to meet together."""
    r = random.Random(seed)
    width = r.choice([1900, 2200, 2600])
    studs = [(k, x) for k, x in enumerate(sorted(r.sample(range(300, width - 250, 40), 5)))]
    runs = []
    for course in range(r.randint(3, 6)):
        mine = r.sample(studs, r.choice([2, 3, 4]))
        runs.append(Run(0, course, 0, width, sorted(mine, key=lambda s: s[1]), (0, 0), None))
    matched = r.random() < 0.15
    rules = Rules(2, 0, 0, 300, [0], r.choice([1, 200]), r.choice([1, 2]), matched, 400, 2, None)
    return Problem(runs, [Stock(1536, 1, None, 0)], rules, [])


@pytest.mark.parametrize("seed", range(60))
def test_a_reason_stands_where_highs_finds_no_plan_and_each_mend_gives_one(seed):
    problem = tight(seed)
    reason = why(problem)
    assert (reason is None) == (exact(problem) is not None)
    answer = solve(problem, lambda: 0.0, 1, 50, lambda _: None)
    assert (answer is None) == (reason is not None)
    if reason is not None:
        assert reason.mends
        last = reason.course + reason.courses - 1
        group = [r for r in problem.runs if reason.course <= r.course <= last]
        assert exact(Problem(group, *problem[1:])) is None
        for fewer in (group[1:], group[:-1]):
            assert not fewer or exact(Problem(fewer, *problem[1:])) is not None
        for mend in reason.mends:
            better = mended(problem, reason.wall, mend)
            plan = solve(better, lambda: 0.0, 1, 50, lambda _: None)
            assert plan is not None and checker.faults(better, plan) == []


def test_the_cases_reach_chains_of_more_than_two_courses():
    found = [why(tight(seed)) for seed in range(60)]
    assert max(r.courses for r in found if r) >= 3
    assert {r.rule for r in found if r} >= {"stagger", "longest"}


def test_a_chain_of_courses_where_no_two_neighbours_are_at_fault():
    """By hand: stud 0 alone, then 0 or 1, then 1 or 0, then 0 alone: three changes, even ends."""
    places = [(0, 800), (1, 1200)]
    of = [[0], [0, 1], [0, 1], [0]]
    runs = [Run(0, c, 0, 2000, [places[k] for k in ks], (0, 0), None) for c, ks in enumerate(of)]
    rules = wall(0).rules
    reason = why(Problem(runs, [Stock(1400, 1, None, 0)], rules, []))
    assert (reason.course, reason.courses, reason.rule) == (0, 4, "stagger")


def test_too_few_boards_are_counted_and_with_those_more_there_is_a_plan():
    problem = wall(2)
    plan = solve(problem, lambda: 0.0, 1, 500, lambda _: None)
    assert plan.cost == plan.bound
    stock = problem.stock[0]
    few = Problem(problem.runs, [Stock(stock.length, 1, plan.cost - 3, 0)], problem.rules, [])
    assert solve(few, lambda: 0.0, 1, 200, lambda _: None) is None
    reason = lacking(few, 1, 500)
    assert reason.rule == "count"
    assert reason.mends[0].kind == "count" and reason.mends[0].value == [(0, 3)]
    enough = mended(few, reason.wall, reason.mends[0])
    assert solve(enough, lambda: 0.0, 1, 500, lambda _: None).cost == plan.cost


def test_matched_ends_that_ask_for_whole_boards():
    """By hand: 3000 between ends takes a board of 1500 between two joints; studs 1400 apart."""
    studs = [(0, 800), (1, 2200)]
    rules = Rules(2, 0, 0, 300, [0], 1, 1, True, 0, 2, None)
    problem = Problem(
        [Run(0, 0, 0, 3000, studs, (0, 0), None)], [Stock(1500, 1, None, 0)], rules, []
    )
    reason = why(problem)
    assert reason.rule == "matched" and "turn" in {m.kind for m in reason.mends}


def test_a_mend_is_named_only_if_a_plan_is_found_with_it():
    """Joints kept three studs apart: most mends that leave no hindrance in sight lead nowhere."""
    mends = 0
    for seed in range(6):
        problem = wall(seed, 10)
        hard = Problem(problem.runs, problem.stock, problem.rules._replace(stagger=800), [])
        reason = why(hard, laid)
        assert (reason is None) == (solve(hard, lambda: 0.0, 1, 300, lambda _: None) is not None)
        for mend in reason.mends if reason else []:
            mends += 1
            found = solve(mended(hard, reason.wall, mend), lambda: 0.0, 1, 0, lambda _: None)
            assert found is not None
            assert checker.faults(mended(hard, reason.wall, mend), found) == []
    assert mends > 1
