"""Boards against rules of the hand: `python -m tests.benchmarks.saving INSTANCE... --seconds S`.

One JSON line for each instance, then the mean saving in per cent against each rule:
carry: course by course from the left, the offcut of a run's end starts the next run if it
reaches a stud, boards are cut back to the farthest stud; keep: the same, but every offcut
is kept and the oldest that reaches a stud is taken; area: length of all courses and 10 per
cent. All obey the rules of shortest piece and stagger. Common practice, no source.
Instances have one stock length and ends that need not match. Nothing here passes or fails.
"""

import argparse
import json
import statistics
import time
from pathlib import Path

from calc.solver.solve import solve
from tests.benchmarks.layout import read
from tests.solver import checker


def by_hand(problem, keep):
    """(boards, the joints of each run) by the rule; keep: every offcut, else the last one."""
    stock, rules, runs = problem.stock[0], problem.rules, problem.runs
    ways = [checker.layouts(problem, run) for run in runs]
    order = sorted(range(len(runs)), key=lambda i: (runs[i].wall, runs[i].course, runs[i].left))
    joints, offcuts, boards = {}, [], 0
    for i in order:
        fits = [w for w in ways[i] if _may(problem, ways, joints, i, w[0])]
        done = 0
        while fits:
            for source in [*offcuts, None]:
                room = stock.length - 2 * rules.trim if source is None else source
                longest = max((w[1][done][0] for w in fits if w[1][done][0] <= room), default=0)
                if longest:
                    break
            else:
                raise ValueError(f"run {i} needs a piece longer than a board")
            if source is None:
                boards += 1
            else:
                offcuts.remove(source)
            rest = room - longest - rules.kerf
            fits = [w for w in fits if w[1][done][0] == longest]
            done += 1
            ended = [w for w in fits if len(w[1]) == done]
            if keep and rest > 0:
                offcuts.append(rest)
            elif not keep:
                offcuts = [rest] if ended and rest > 0 else []
            if ended:
                joints[i] = ended[0][0]
                break
        else:
            raise ValueError(f"run {i} cannot be laid after those before it")
    return boards, [joints[i] for i in range(len(runs))]


def _may(problem, ways, joints, i, mine):
    """Whether run i may have these joints, and leaves a way for each run of the next course."""
    runs = problem.runs
    if not all(checker.agree(problem, runs[j], runs[i], joints[j], mine) for j in joints):
        return False
    after = [k for k, r in enumerate(runs) if (r.wall, r.course - 1) == runs[i][:2]]
    return all(
        any(checker.agree(problem, runs[i], runs[k], mine, w[0]) for w in ways[k]) for k in after
    )


def main():
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("instances", nargs="+")
    options.add_argument("--seconds", type=float, default=10.0)
    given = options.parse_args()
    savings = {"carry": [], "keep": [], "area": []}
    for path in given.instances:
        problem, _ = read(json.loads(Path(path).read_text(encoding="utf-8")))
        if len(problem.stock) > 1 or problem.rules.matched:
            raise ValueError(f"{path}: the rules of the hand know one plain stock length")
        start = time.process_time()

        def share(start=start):
            return (time.process_time() - start) / given.seconds

        answer = solve(problem, share, 1, 10**9, lambda _: None)
        assert checker.faults(problem, answer) == []
        length = sum(r.right - r.left for r in problem.runs)
        hand = {
            "carry": by_hand(problem, False)[0],
            "keep": by_hand(problem, True)[0],
            "area": -(-length * 11 // (10 * problem.stock[0].length)),
        }
        boards = len(answer.boards)
        for rule, many in hand.items():
            savings[rule].append(100 * (many - boards) / many)
        print(json.dumps({"name": Path(path).stem, "boards": boards, **hand}), flush=True)
    print(json.dumps({rule: round(statistics.mean(row), 1) for rule, row in savings.items()}))


if __name__ == "__main__":
    main()
