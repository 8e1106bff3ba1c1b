"""The plan, lapwright-plan version 1: everything that follows from a job, as one JSON object.

Lengths are numbers of millimetres (a jot is exactly 0.003125 mm); money is a
number with two decimals. DEVELOPERS.md has the table of its fields.
"""

from . import cautions
from .advise import cannot_lay, not_enough, stray, unready
from .boards import Bound, Chain, Stock
from .courses import Course, lines, rip_warnings
from .job import Job, read_job
from .layout import Graph, Limits, Run, graph, pieces
from .lengths import JOTS_PER_INCH, exact, show, to_mm
from .problems import InputError, Problem
from .solve import Solution, Task, solve
from .studs import Mark, marks

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

FORMAT = "lapwright-plan"
VERSION = 1
SEED = 1
CAUTIONS = ("saw-dust", "hidden-lines", "lead-asbestos", "clearances")
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_TIGHT = JOTS_PER_INCH // 32


def make(doc: object, steps: int | None = None) -> dict[str, Any]:
    """The plan of a job document.

    doc: the parsed JSON of a job; steps: the most moves the search may make,
    None for what suits the size of the job. Deterministic. Raises InputError
    for a job that is wrong, incomplete, or that no layout can meet.
    """
    job = read_job(doc)
    problems = unready(job) or stray(job)
    if problems:
        raise InputError(problems)
    studs = [marks_of(job, i) for i in range(len(job.walls))]
    courses = [lines(w.height_left, job.board, job.rules) for w in job.walls]
    runs = runs_of(job, studs, courses)
    task = task_of(job, runs)
    if steps is None:
        steps = usual_steps(task)
    solution = solve(task, steps, SEED)
    if solution is None:
        raise InputError(cannot_lay(job, task, runs))
    if solution.over:
        raise InputError(not_enough(job, task, steps, SEED))
    return _document(job, studs, courses, runs, task, solution)


def trouble(job: Job) -> list[Problem]:
    """What keeps a complete job from being laid out, found without planning it."""
    problems = unready(job) or stray(job)
    if problems:
        return problems
    studs = [marks_of(job, i) for i in range(len(job.walls))]
    courses = [lines(w.height_left, job.board, job.rules) for w in job.walls]
    runs = runs_of(job, studs, courses)
    return cannot_lay(job, task_of(job, runs), runs)


def marks_of(job: Job, wall: int) -> list[Mark]:
    """The stud marks of the job's wall of that index, left to right."""
    w = job.walls[wall]
    return marks(w.width_floor, w.studs.first, w.studs.spacing, w.studs.found, w.studs.missing)


def runs_of(job: Job, studs: list[list[Mark]], courses: list[list[Course]]) -> list[Run]:
    """Every run, wall by wall in hanging order: here one per course, end to end."""
    out = []
    gap = job.rules.end_gap
    for w in range(len(courses)):
        usable = [(i + 1, studs[w][i].at) for i in range(len(studs[w]))]
        for c in range(len(courses[w])):
            out.append(Run(w, c, gap, job.walls[w].width_floor - gap, usable))
    return out


def limits_of(job: Job) -> Limits:
    """The job's limits on pieces and joints."""
    longest = max([s.length for s in job.board.stock if s.count != 0])
    r = job.rules
    return Limits(r.joint_gap, r.shortest, longest, r.stagger)


def task_of(job: Job, runs: list[Run]) -> Task:
    """What the solver is given: runs of one kind share a graph."""
    limits = limits_of(job)
    graphs: list[Graph] = []
    keys: list[tuple[int, int, list[tuple[int, int]]]] = []
    placed = []
    chains: list[Chain] = []
    for i in range(len(runs)):
        run = runs[i]
        key = (run.left, run.right, run.studs)
        if key not in keys:
            keys.append(key)
            graphs.append(graph(run, limits))
        kind = keys.index(key)
        near = []
        for j in (i - 1, i + 1):
            if 0 <= j < len(runs) and runs[j].wall == run.wall:
                near.append(j)
        placed.append((kind, near))
        if i and runs[i - 1].wall == run.wall and chains[-1].graph == kind:
            chains[-1] = Chain(kind, chains[-1].courses + 1)
        else:
            chains.append(Chain(kind, 1))
    priced = by_price(job)
    kerf = job.rules.kerf
    stock = []
    for i in range(len(job.board.stock)):
        s = job.board.stock[i]
        if s.count != 0:
            stock.append(Stock(s.length + kerf, s.price if priced else s.length, s.count, i))
    return Task(graphs, placed, chains, stock, kerf, limits.stagger)


def by_price(job: Job) -> bool:
    """Whether cost is money: every stock length has a price. Else it is length bought."""
    return not [1 for s in job.board.stock if s.price is None]


def usual_steps(task: Task) -> int:
    """Moves that fit the time: about a tenth of a second of a laptop for an everyday wall."""
    nodes = max([len(g.x) for g in task.graphs])
    return max(20, min(300, 40000 // (len(task.runs) * nodes)))


def piece_id(wall: int, course: int, place: int, walls: int) -> str:
    """ "3A": course 3, first from the left; "2-3A" on wall 2 where there are several.

    wall, place: 0-based; course: its number; walls: how many the job has.
    """
    letters = _LETTERS[place % 26]
    if place >= 26:
        letters = _LETTERS[place // 26 - 1] + letters
    return ("%d-" % (wall + 1) if walls > 1 else "") + "%d%s" % (course, letters)


def _document(
    job: Job,
    studs: list[list[Mark]],
    courses: list[list[Course]],
    runs: list[Run],
    task: Task,
    solution: Solution,
) -> dict[str, Any]:
    cut, ids = _pieces(job, courses, runs, task, solution)
    boards = _boards(job, task, runs, solution, ids, cut)
    priced = by_price(job)
    r = job.rules
    warnings = []
    for w in range(len(job.walls)):
        found = rip_warnings(courses[w], job.walls[w].height_left, job.board, r, job.unit)
        prefix = job.walls[w].name + ": " if len(job.walls) > 1 else ""
        warnings.extend([prefix + text for text in found])
    tight = [b["number"] for b in boards if b["tight"]]
    if tight:
        ends, them = ("its end", "it") if len(tight) == 1 else ("their ends", "them")
        warnings.append(
            "%s used to %s: measure %s before cutting, and do not take more than the kerf of %s."
            % (_listed("Board", tight), ends, them, exact(r.kerf, job.unit))
        )
    warnings.extend(_unpriced(job))
    return {
        "format": FORMAT,
        "version": VERSION,
        "title": job.title,
        "unit": job.unit,
        "board": {
            "face": to_mm(job.board.face),
            "overall": to_mm(job.board.overall),
            "thickness": to_mm(job.board.thickness),
            "edge": job.board.edge,
        },
        "rules": {
            "start": r.start,
            "courses": r.courses,
            "kerf": to_mm(r.kerf),
            "end_gap": to_mm(r.end_gap),
            "joint_gap": to_mm(r.joint_gap),
            "floor_gap": to_mm(r.floor_gap),
            "ceiling_gap": to_mm(r.ceiling_gap),
            "shortest": to_mm(r.shortest),
            "stagger": to_mm(r.stagger),
            "least_rip": to_mm(r.least_rip),
        },
        "walls": [
            _wall(job, w, studs[w], courses[w], runs, task, solution, ids, cut)
            for w in range(len(job.walls))
        ],
        "pieces": cut,
        "boards": boards,
        "buy": _buy(job, boards),
        "cost": {
            "by": "price" if priced else "length",
            "total": _cost(solution.cost, priced),
            "bound": _cost(solution.bound.cost, priced),
            "proven": solution.cost == solution.bound.cost,
            "counted": [1 for s in job.board.stock if s.count] != [],
        },
        "certificate": _certificate(job, task, solution.bound),
        "compare": _compare(job),
        "warnings": warnings,
        "cautions": [cautions.to_dict(key) for key in CAUTIONS],
    }


def _unpriced(job: Job) -> list[str]:
    """Where only some stock lengths have a price: those without, as no price counts then."""
    without = [show(s.length, job.unit) for s in job.board.stock if s.price is None]
    if len(without) in (0, len(job.board.stock)):
        return []
    have = "has" if len(without) == 1 else "have"
    names = " and ".join([", ".join(without[:-1])] * (len(without) > 1) + without[-1:])
    return ["%s %s no price, so boards are counted by length." % (names, have)]


def _cost(cost: int, priced: bool) -> float:
    """A whole cost as money, or as millimetres of length bought."""
    return cost / 100 if priced else to_mm(cost)


def _listed(word: str, numbers: list[int]) -> str:
    """ "Board 3 is", "Boards 3 and 5 are", and so on with at most eight named."""
    if len(numbers) == 1:
        return "%s %d is" % (word, numbers[0])
    if len(numbers) > 8:
        return "%ss %s and %d more are" % (
            word,
            ", ".join([str(n) for n in numbers[:7]]),
            len(numbers) - 7,
        )
    return "%ss %s and %d are" % (word, ", ".join([str(n) for n in numbers[:-1]]), numbers[-1])


def _pieces(
    job: Job, courses: list[list[Course]], runs: list[Run], task: Task, solution: Solution
) -> tuple[list[dict[str, Any]], "dict[tuple[int, int], int]"]:
    """Every piece in hanging order, and (run, piece) -> its place in that list."""
    out: list[dict[str, Any]] = []
    ids = {}
    half = job.rules.joint_gap // 2
    for i in range(len(runs)):
        run = runs[i]
        g = task.graphs[task.runs[i][0]]
        course = courses[run.wall][run.course]
        cut = pieces(g, solution.joints[i])
        for k in range(len(cut)):
            u, v, length = cut[k]
            right = g.x[v] - (half if k < len(cut) - 1 else 0)
            ids[(i, k)] = len(out)
            out.append(
                {
                    "id": piece_id(run.wall, course.number, k, len(job.walls)),
                    "wall": run.wall + 1,
                    "course": course.number,
                    "left": to_mm(right - length),
                    "right": to_mm(right),
                    "length": to_mm(length),
                    "rip": None if course.rip is None else to_mm(course.rip.width),
                    "left_end": _end(g, u),
                    "right_end": _end(g, v),
                    "board": 0,
                }
            )
    return out, ids


def _end(g: Graph, node: int) -> dict[str, Any]:
    if 0 < node < len(g.x) - 1:
        return {"kind": "joint", "stud": g.studs[node], "at": to_mm(g.x[node])}
    return {"kind": "wall end"}


def _boards(
    job: Job,
    task: Task,
    runs: list[Run],
    solution: Solution,
    ids: "dict[tuple[int, int], int]",
    cut: list[dict[str, Any]],
) -> list[dict[str, Any]]:
    """Boards by the first course they serve, cuts in hanging order."""
    sizes = {}
    for i in range(len(runs)):
        row = pieces(task.graphs[task.runs[i][0]], solution.joints[i])
        for k in range(len(row)):
            sizes[ids[(i, k)]] = row[k][2]
    rows = sorted([(sorted([ids[h] for h in held]), stock) for stock, held in solution.boards])
    out = []
    for n in range(len(rows)):
        places, stock = rows[n]
        length = job.board.stock[stock].length
        left = length - sum([sizes[p] + job.rules.kerf for p in places])
        for p in places:
            cut[p]["board"] = n + 1
        out.append(
            {
                "number": n + 1,
                "line": stock + 1,
                "stock": to_mm(length),
                "cuts": [cut[p]["id"] for p in places],
                "offcut": to_mm(max(left, 0)),
                "tight": left + job.rules.kerf < _TIGHT,
            }
        )
    return out


def _buy(job: Job, boards: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """How many of each line of the job's stock, those that are not needed left out."""
    out = []
    for i in range(len(job.board.stock)):
        s = job.board.stock[i]
        count = len([b for b in boards if b["line"] == i + 1])
        if count:
            out.append(
                {
                    "line": i + 1,
                    "length": to_mm(s.length),
                    "count": count,
                    "price": None if s.price is None else s.price / 100,
                    "cost": None if s.price is None else count * s.price / 100,
                }
            )
    return out


def _wall(
    job: Job,
    w: int,
    studs: list[Mark],
    courses: list[Course],
    runs: list[Run],
    task: Task,
    solution: Solution,
    ids: "dict[tuple[int, int], int]",
    cut: list[dict[str, Any]],
) -> dict[str, Any]:
    rows = []
    for c in range(len(courses)):
        course = courses[c]
        rip = course.rip
        row: dict[str, Any] = {
            "number": course.number,
            "bottom": to_mm(course.bottom),
            "top": to_mm(course.top),
            "rip": None
            if rip is None
            else {"width": to_mm(rip.width), "cut": rip.cut, "keeps": rip.keeps},
            "runs": [],
        }
        for i in range(len(runs)):
            if runs[i].wall == w and runs[i].course == c:
                g = task.graphs[task.runs[i][0]]
                row["runs"].append(
                    {
                        "left": to_mm(runs[i].left),
                        "right": to_mm(runs[i].right),
                        "joints": [_end(g, v) for v in solution.joints[i]],
                        "pieces": [
                            cut[ids[(i, k)]]["id"] for k in range(len(solution.joints[i]) + 1)
                        ],
                    }
                )
        rows.append(row)
    wall = job.walls[w]
    return {
        "name": wall.name,
        "width": to_mm(wall.width_floor),
        "height": to_mm(wall.height_left),
        "studs": [
            {"number": i + 1, "at": to_mm(studs[i].at), "kind": studs[i].kind}
            for i in range(len(studs))
        ],
        "courses": rows,
    }


def _certificate(job: Job, task: Task, bound: Bound) -> dict[str, Any]:
    """The prices, and what they give: anyone can add them up again (see boards.py)."""
    return {
        "prices": [{"length": to_mm(length), "price": price} for length, price in bound.prices],
        "fills": [{"line": index + 1, "most": most} for index, most in bound.fills],
        "runs": [
            {"courses": c.courses, "one": bound.ones[c.graph], "two": bound.twos[c.graph]}
            for c in task.chains
        ],
    }


def _compare(job: Job) -> dict[str, Any]:
    """The rule of thumb: area and 10 % over, as a length and as boards of the longest stock.

    Source: (area - openings) x 1.10 x lineal factor 12 / face in inches,
    western lumber association coverage table.
    """
    gaps = job.rules.floor_gap + job.rules.ceiling_gap
    face = job.board.face
    area = sum([w.width_floor * (w.height_left - gaps) for w in job.walls])
    length = (11 * area + 10 * face - 1) // (10 * face)
    stock = max([s.length for s in job.board.stock if s.count != 0])
    return {"length": to_mm(length), "stock": to_mm(stock), "boards": -(-length // stock)}
