"""How good and how fast the solver is: `python -m tests.benchmarks.layout INSTANCE... --seconds S`.

One JSON line for each instance: name, cost, bound, proven, seconds to the first plan, to
the best one, to its proof, to the end (process time), moves; the look of the plan that
first had the final cost and of the final plan, and of both how often a stud is joined two
courses apart and how often joints step like stairs. --engine phone runs them on the
phone's engine in a headless Chromium, by the clock. --out DIR writes each solution as
NAME.json.
An instance is a JSON file of one layout problem; read() says its fields.
Nothing here passes or fails.
"""

import argparse
import contextlib
import json
import time
from pathlib import Path

from calc.solver.given import Problem, Rules, Run, Stock
from calc.solver.solve import Solver
from tests.benchmarks.phone_engine import phone_engine
from tests.solver import checker


def read(inst):
    """(Problem, the (wall, course, run) of each run) of an instance.

    `stock`: `len`, `cost`, `qty` or null; `kerf`, `trim`, `min_piece`, `joint_offsets`,
    `stagger_hard`, `k_hard`, `stagger_soft`, `k_soft`, `handed`; `walls`: `studs`, and
    `courses` with `runs` [left, right] and `ban`, where studs
    stand that may have no joint in this course.
    """
    runs, places = [], []
    for w, wall in enumerate(inst["walls"]):
        for c, course in enumerate(wall["courses"]):
            studs = [(k, x) for k, x in enumerate(wall["studs"]) if x not in course["ban"]]
            for r, (left, right) in enumerate(course["runs"]):
                runs.append(Run(w, c, left, right, studs, (0, 0), None))
                places.append((w, c, r))
    rules = Rules(
        kerf=inst["kerf"],
        trim=inst.get("trim", 0),
        joint_gap=0,
        shortest=inst["min_piece"],
        offsets=inst.get("joint_offsets", [0]),
        stagger=inst["stagger_hard"],
        reach=inst["k_hard"],
        matched=bool(inst.get("handed")),
        soft=inst.get("stagger_soft", 0),
        soft_reach=inst.get("k_soft", 2),
        kept=None,
    )
    stock = [Stock(s["len"], s["cost"], s["qty"], 0) for s in inst["stock"]]
    return Problem(runs, stock, rules, []), places


def written(inst, places, answer):
    """The answer as a solution file: joints by wall, course and run; boards with their pieces."""
    joints = [[[[] for _ in c["runs"]] for c in w["courses"]] for w in inst["walls"]]
    for (w, c, r), row in zip(places, answer.joints, strict=True):
        joints[w][c][r] = [list(j) for j in row]
    boards = [[t, [[*places[run], k] for run, k in held]] for t, held in answer.boards]
    return {"joints": joints, "boards": boards}


@contextlib.contextmanager
def laptop_engine():
    """A function (problem, seconds, seed, steps) -> (Answer or None, seconds, better plans, proof).

    Of each better plan (seconds, cost, joints); proof: seconds to it, or None.
    """

    def timed(problem, seconds, seed, steps):
        start = time.process_time()
        seen, proof = [], None

        def since():
            return time.process_time() - start

        solver = Solver(problem, lambda: since() / seconds, seed, steps)
        for progress in solver.slices():
            if progress is not None and (not seen or progress.cost < seen[-1][1]):
                seen.append((since(), progress.cost, solver.answer().joints))
            if progress is not None and proof is None and progress.cost == progress.bound:
                proof = since()
        return solver.answer(), since(), seen, proof

    yield timed


def measure(path, engine, seconds, seed, steps):
    """(the line of figures, the solution or None) of one instance."""
    inst = json.loads(Path(path).read_text(encoding="utf-8"))
    name = inst.get("name", Path(path).stem)
    problem, places = read(inst)
    answer, took, seen, proof = engine(problem, seconds, seed, steps)
    if answer is None:
        return {"name": name, "cost": None, "seconds": round(took, 3)}, None
    best, cost, joints = seen[-1]
    assert cost == answer.cost
    before, after = checker.look(problem, joints), checker.look(problem, answer.joints)
    line = {
        "name": name,
        "cost": answer.cost,
        "bound": answer.bound,
        "proven": answer.proven,
        "first": round(seen[0][0], 3),
        "best": round(best, 3),
        "proof": proof and round(proof, 3),
        "seconds": round(took, 3),
        "steps": answer.steps,
        "first_look": before["score"],
        "look": after["score"],
        "same": [before["same"], after["same"]],
        "stairs": [before["stairs"], after["stairs"]],
    }
    return line, written(inst, places, answer)


ENGINES = {"laptop": laptop_engine, "phone": phone_engine}


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("instances", nargs="+")
    parser.add_argument("--seconds", type=float, default=10.0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--steps", type=int, default=10**9)
    parser.add_argument("--engine", choices=sorted(ENGINES), default="laptop")
    parser.add_argument("--out", type=Path)
    args = parser.parse_args()
    with ENGINES[args.engine]() as engine:
        for path in args.instances:
            line, solution = measure(path, engine, args.seconds, args.seed, args.steps)
            if args.out and solution:
                args.out.mkdir(parents=True, exist_ok=True)
                (args.out / f"{line['name']}.json").write_text(json.dumps(solution))
            print(json.dumps(line), flush=True)


if __name__ == "__main__":
    main()
