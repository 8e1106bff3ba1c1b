"""Cutting alone, joints being fixed: `python -m tests.benchmarks.frozen [--seconds S] [--each N]`.

Packing problems made anew by published recipes, from memory: E. Falkenauer, A hybrid
grouping genetic algorithm for bin packing, 1996 (uniform: boards of 150, pieces 20 to 100;
triplets: boards of 1000 that three pieces fill exactly: the first 380 to 490, the second
250 to half of the rest); A. Scholl, R. Klein, C. Juergens, BISON, 1997 (first set: boards
of 100 to 150, pieces 1 to 100, 20 to 100 or 30 to 100; second: pieces within 20, 50 or 90
per cent of a mean of a third to a ninth of a board of 1000; third: boards of 100000, pieces
20000 to 35000). Only the recipes are theirs: every number is drawn here.

Each piece is a run without a joint, or several are one run that hangs, with its joints.
One JSON line for each instance: pieces, boards, the bound, the least by HiGHS, a
general-purpose exact solver, on an arc-flow model (null: not settled in its time, or the
model is too large; then `over` counts from the better of its bound and ours), seconds.
Nothing here passes or fails.
"""

import argparse
import itertools
import json
import math
import random
import time

import highspy
import numpy as np

from calc.solver.given import Problem, Rules, Run, Stock
from calc.solver.solve import solve
from tests.solver import checker

ARCS = 60000  # of the largest model that HiGHS is asked


def recipes(seed):
    """(name, board, pieces) of each recipe, by this seed."""
    r = random.Random(seed)
    for n in (120, 250):
        yield f"uniform {n}", 150, [r.randint(20, 100) for _ in range(n)]
    for n in (60, 120):
        pieces = []
        for _ in range(n // 3):
            a = r.randint(380, 490)
            b = r.randint(250, (1000 - a) // 2)
            pieces += [a, b, 1000 - a - b]
        yield f"triplets {n}", 1000, r.sample(pieces, n)
    for board, low, n in ((100, 1, 50), (120, 20, 100), (150, 30, 100), (120, 1, 200)):
        yield f"first set {board} {low} {n}", board, [r.randint(low, 100) for _ in range(n)]
    for parts, spread, n in ((3, 20, 50), (5, 50, 100), (7, 90, 100), (9, 20, 200)):
        mean = 1000 // parts
        low, high = mean * (100 - spread) // 100, mean * (100 + spread) // 100
        yield f"second set {parts} {spread} {n}", 1000, [r.randint(low, high) for _ in range(n)]
    yield "third set 200", 100000, [r.randint(20000, 35000) for _ in range(200)]


def problem_of(board, pieces, together):
    """Runs that hang with their joints, `together` pieces each; 1: a run for each piece."""
    runs = []
    for k in range(0, len(pieces), together):
        here = pieces[k : k + together]
        x, studs = 0, []
        for n in here[:-1]:
            x += n
            studs.append((len(studs), x))
        joints = [(s, 0) for s, _ in studs] if studs else None
        runs.append(Run(0, 2 * (k // together), 0, x + here[-1], studs, (0, 0), joints))
    rules = Rules(0, 0, 0, 1, [0], 1, 1, False, 0, 1, None)
    return Problem(runs, [Stock(board, 1, None, 0)], rules, [])


def least(board, pieces, seconds):
    """(fewest boards or None, a bound on them) by HiGHS: ways from 0 to the board's end.

    Each arc is a piece laid where the one before ends, longest first. Source: arc-flow
    model, J. M. Valerio de Carvalho, 1999, from memory.
    """
    count = {n: pieces.count(n) for n in sorted(set(pieces), reverse=True)}
    lengths = list(count)
    first = {0: 0}
    arcs = []
    nodes = [0]
    waiting = {0}
    while waiting:
        at = min(waiting)
        waiting.discard(at)
        for k in range(first[at], len(lengths)):
            to = at + lengths[k]
            if to <= board:
                arcs.append((at, to, k))
                if to not in first:
                    nodes.append(to)
                first[to] = min(first.get(to, k), k)
                waiting.add(to)
        if len(arcs) > ARCS:
            return None, 0
    nodes = sorted([*nodes, board] if board not in first else nodes)
    arcs += [(a, b, -1) for a, b in itertools.pairwise(nodes)]
    row = {at: i for i, at in enumerate(nodes)}
    lp = highspy.HighsLp()
    size = len(nodes) + len(lengths)
    starts, index, value = [0], [], []
    for a, b, k in arcs:
        index += [row[a], row[b]] + ([len(nodes) + k] if k >= 0 else [])
        value += [1.0, -1.0] + ([1.0] if k >= 0 else [])
        starts.append(len(index))
    index += [row[0], row[board]]  # how many boards
    value += [-1.0, 1.0]
    starts.append(len(index))
    lp.num_col_, lp.num_row_ = len(arcs) + 1, size
    lp.col_cost_ = np.array([0.0] * len(arcs) + [1.0])
    lp.col_lower_ = np.zeros(len(arcs) + 1)
    lp.col_upper_ = np.full(len(arcs) + 1, float(len(pieces)))
    lp.row_lower_ = np.array([0.0] * len(nodes) + [float(count[n]) for n in lengths])
    lp.row_upper_ = np.array([0.0] * len(nodes) + [float(len(pieces))] * len(lengths))
    lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    lp.a_matrix_.start_, lp.a_matrix_.index_ = np.array(starts), np.array(index)
    lp.a_matrix_.value_ = np.array(value)
    lp.integrality_ = [highspy.HighsVarType.kInteger] * (len(arcs) + 1)
    h = highspy.Highs()
    h.silent()
    h.setOptionValue("threads", 1)
    h.setOptionValue("time_limit", seconds)
    h.passModel(lp)
    h.run()
    if h.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None, max(0, math.ceil(h.getInfo().mip_dual_bound - 1e-6))
    bound = round(h.getInfo().mip_dual_bound)
    return round(h.getInfo().objective_function_value), bound


def main():
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--seconds", type=float, default=10.0)
    options.add_argument("--exact", type=float, default=20.0, help="seconds for HiGHS")
    options.add_argument("--each", type=int, default=2, help="instances of each recipe")
    given = options.parse_args()
    for seed in range(given.each):
        for name, board, pieces in recipes(seed):
            problem = problem_of(board, pieces, 1 if seed % 2 == 0 else 4)
            start = time.process_time()

            def share(start=start):
                return (time.process_time() - start) / given.seconds

            answer = solve(problem, share, 1, 10**9, lambda _: None)
            spent = time.process_time() - start
            faults = checker.faults(problem, answer)
            fewest, bound = least(board, pieces, given.exact)
            line = {
                "name": f"{name} seed {seed}",
                "pieces": len(pieces),
                "boards": answer.cost,
                "bound": answer.bound,
                "least": fewest,
                "over": answer.cost - (max(bound, answer.bound) if fewest is None else fewest),
                "faults": len(faults),
                "seconds": round(spent, 2),
            }
            print(json.dumps(line), flush=True)


if __name__ == "__main__":
    main()
