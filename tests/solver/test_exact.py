"""Fifty tiny problems against HiGHS, a general-purpose exact solver: equal cost, and proven.

The model is its own: every layout of a run, every filling of a board, as whole variables.
"""

import highspy
import pytest

from calc.solver.solve import solve
from tests.solver import checker
from tests.solver.making import tiny


def fillings(problem, stock, kinds):
    """Every set of pieces that a board of the stock holds, as {(length, kind): how many}."""
    cap = stock.length - 2 * problem.rules.trim + problem.rules.kerf
    out = []

    def go(k, room, ends, held):
        if held:
            out.append(dict(held))
        for j in range(k, len(kinds)):
            n, kind = kinds[j]
            weight = n + problem.rules.kerf
            if kind == 3:
                if not held and weight == cap and stock.gone == 0:
                    out.append({kinds[j]: 1})
            elif weight <= room and not ends & kind:
                more = {**held, kinds[j]: held.get(kinds[j], 0) + 1}
                go(j, room - weight, ends | kind, more)

    go(0, cap, stock.gone, {})
    return out


def exact(problem):
    """The least cost by HiGHS, or None where there is no plan."""
    h = highspy.Highs()
    h.silent()
    need = {}
    chosen = []
    for run in problem.runs:
        ways = checker.layouts(problem, run)
        if not ways:
            return None
        row = [(h.addBinary(), js, ps) for js, ps in ways]
        h.addConstr(sum(v for v, _, _ in row) == 1)
        for v, _, ps in row:
            for p in ps:
                need.setdefault(p, []).append(v)
        chosen.append(row)
    for i, a in enumerate(problem.runs):
        for j, b in enumerate(problem.runs[:i]):
            for v, js, _ in chosen[i]:
                for w, ks, _ in chosen[j]:
                    if not checker.agree(problem, a, b, js, ks):
                        h.addConstr(v + w <= 1)
    cut = {p: [] for p in need}
    for stock in problem.stock:
        mine = []
        for filling in fillings(problem, stock, sorted(need)):
            v = h.addIntegral(obj=stock.cost)
            mine.append(v)
            for p, many in filling.items():
                cut[p].append(many * v)
        if stock.count is not None and mine:
            h.addConstr(sum(mine) <= stock.count)
    for p, rows in need.items():
        if not cut[p]:
            for v in rows:
                h.addConstr(v <= 0)
        else:
            h.addConstr(sum(cut[p]) - sum(rows) >= 0)
    h.run()
    if h.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    return round(h.getInfo().objective_function_value)


@pytest.mark.parametrize("seed", range(50))
def test_cost_is_the_least(seed):
    problem = tiny(seed)
    least = exact(problem)
    answer = solve(problem, lambda: 0.0, 1, 600, lambda _: None)
    if least is None:
        assert answer is None
        return
    assert answer is not None
    assert checker.faults(problem, answer) == []
    assert answer.cost == least
    assert answer.bound == least and answer.proven
    if answer.refuted:
        assert checker.refutes(problem, answer.refuted, answer.bound)
    else:
        assert checker.proves(problem, answer.certificate) == answer.bound


def test_a_branch_left_out_or_spoilt_is_seen():
    problem = tiny(9)
    answer = solve(problem, lambda: 0.0, 1, 600, lambda _: None)
    assert answer.bound > answer.certificate.cost
    assert checker.refutes(problem, answer.refuted, answer.bound)
    with pytest.raises(AssertionError):
        checker.refutes(problem, answer.refuted[1:], answer.bound)
    first = answer.refuted[0]
    free = ("prices", [(n, k, 0) for n, k, _ in first.tree[1]], first.tree[2])
    spoilt = [first._replace(tree=free), *answer.refuted[1:]]
    assert not checker.refutes(problem, spoilt, answer.bound)
