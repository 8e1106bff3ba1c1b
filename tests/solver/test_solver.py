"""The solver on walls of its own making: valid, proven by certificate, the same each time."""

import pytest

from calc.solver.given import Cut, Problem, Run, Stock
from calc.solver.solve import solve
from calc.solver.why import _longer, _possible, _ruled, _with_stud, why
from tests.solver import checker
from tests.solver.making import wall


def solved(problem, seed=1, steps=1500, told=None):
    told = [] if told is None else told
    return solve(problem, lambda: 0.0, seed, steps, told.append)


@pytest.mark.parametrize("seed", range(8))
def test_a_wall_is_proven_and_its_certificate_adds_up(seed):
    problem = wall(seed)
    told = []
    answer = solved(problem, told=told)
    assert checker.faults(problem, answer) == []
    assert checker.proves(problem, answer.certificate) == answer.bound
    assert answer.cost - answer.bound == (1 if seed == 5 else 0)  # frozen: seed 5 stays open
    costs = [p.cost for p in told]
    assert costs == sorted(costs, reverse=True) and costs[-1] == answer.cost


def test_the_checker_sees_a_bad_plan_and_a_bad_proof():
    problem = wall(1)
    answer = solved(problem)
    spoilt = answer.boards[1:]
    assert checker.faults(problem, answer._replace(boards=spoilt))
    dear = [(n, k, 2 * p + 1) for n, k, p in answer.certificate.prices[:3]]
    prices = dear + list(answer.certificate.prices[3:])
    assert checker.proves(problem, answer.certificate._replace(prices=prices)) != answer.bound + 1


def test_the_same_seed_and_steps_give_the_same_answer():
    problem = wall(3)
    assert solved(problem, 5) == solved(problem, 5)


def test_an_early_stop_gives_a_whole_plan():
    problem = wall(4)
    answer = solve(problem, lambda: 1.0, 1, 1000, lambda _: None)
    assert checker.faults(problem, answer) == []


def test_offcuts_on_site_cost_nothing_and_are_used_first():
    problem = wall(2)
    before = solved(problem)
    more = Problem(problem.runs, [*problem.stock, Stock(1000, 0, 3, 3)], problem.rules, [])
    answer = solved(more)
    assert checker.faults(more, answer) == []
    assert answer.cost < before.cost
    assert sum(t == 1 for t, _ in answer.boards) == 3


def test_what_hangs_and_what_is_cut_stays():
    problem = wall(6)
    plan = solved(problem)
    runs = [Run(*r[:6], plan.joints[i]) if i < 2 else r for i, r in enumerate(problem.runs)]
    cuts = []
    for t, held in plan.boards:
        mine = [(i, k) for i, k in held if i < 2]
        if mine:
            left = problem.stock[t].length - 2 * problem.rules.trim
            for i, k in mine:
                length = checker.pieces_of(problem, problem.runs[i], plan.joints[i])[k][0]
                left -= length + problem.rules.kerf
            cuts.append(Cut(t, mine, left, 0, problem.stock[t].cost))
    assert len(cuts) > 1
    begun = Problem(runs, problem.stock, problem.rules, cuts)
    answer = solved(begun)
    assert checker.faults(begun, answer) == []
    assert answer.joints[:2] == plan.joints[:2]
    for cut, (stock, held) in zip(cuts, answer.boards, strict=False):
        assert stock == cut.stock and held[: len(cut.pieces)] == cut.pieces


def test_why_names_the_course_the_rule_and_mends_that_mend():
    studs = [(0, 700), (1, 1400)]
    runs = [Run(0, c, 0, 2000, studs, (0, 0), None) for c in range(3)]
    problem = Problem(runs, [Stock(1500, 1, None, 0)], wall(0).rules, [])
    hard = _ruled(problem, "shortest", 650)
    assert solved(hard) is None
    reason = why(hard)
    assert (reason.wall, reason.course, reason.rule) == (0, 0, "stagger")
    kinds = {m.kind: m.value for m in reason.mends}
    assert kinds["board"] == 2000 and kinds["shortest"] == 600
    assert _possible(_longer(hard, 2000)) and not _possible(_longer(hard, 1999))
    assert _possible(_ruled(hard, "shortest", 600)) and not _possible(_ruled(hard, "shortest", 601))
    if "stud" in kinds:
        assert _possible(_with_stud(hard, 0, kinds["stud"]))
    assert why(problem) is None
