"""The plan, lapwright-plan version 1: everything that follows from a job, as one JSON object.

Lengths are numbers of millimetres (a jot is exactly 0.003125 mm); money is a
number with two decimals. DEVELOPERS.md has the table of its fields.
"""

from . import cautions
from .advise import cannot_hold, cannot_lay, not_enough
from .billing import boards_of, buy
from .courses import rip_warnings
from .job import Job, read_job, unmarked
from .lengths import exact, show, to_mm
from .planparts import pieces_of, wall_json
from .problems import InputError, Problem
from .proof import certificate
from .search import searched
from .survey import stray_marks
from .task import Laid, by_price, task_of
from .thumb import compared
from .walls import Built, build
from .watch import watch
from .words import cost_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .solver.given import Answer
else:
    Any = object

FORMAT = "lapwright-plan"
VERSION = 1
CAUTIONS = ("saw-dust", "hidden-lines", "lead-asbestos", "clearances")
# Where a wall has a device box.
AT_BOXES = ("electricity",)


def make(doc: object, steps: int | None = None) -> dict[str, Any]:
    """The plan of a job document: of all its walls that are measured.

    doc: the parsed JSON of a job; steps: the most moves the search may make,
    None for what suits the size of the job. Deterministic. Raises InputError
    for a job that is wrong, without a wall that can be planned, or that no
    layout can meet.
    """
    job = read_job(doc)
    built = walls_of(job)
    laid = laid_of(job, built)
    answer = searched(laid.problem, steps)
    if answer is None:
        raise InputError(no_plan(job, built, laid))
    return document(job, built, laid, answer)


def laid_of(job: Job, built: list[Built]) -> Laid:
    """What the solver is given. Raises InputError where what is cut or called leaves no plan."""
    laid = task_of(job, built)
    problems = cannot_hold(job, built, laid)
    if problems:
        raise InputError(problems)
    return laid


def no_plan(job: Job, built: list[Built], laid: Laid) -> list[Problem]:
    """Why the search found no plan of the job: at least one Problem."""
    return cannot_lay(job, built, laid) or not_enough(job, laid)


def trouble(job: Job) -> list[Problem]:
    """What keeps the measured walls from being laid out, found without planning them."""
    try:
        built = walls_of(job)
        laid = laid_of(job, built)
    except InputError as e:
        return e.problems
    return cannot_lay(job, built, laid)


def walls_of(job: Job) -> list[Built]:
    """The walls, ready for joints. Raises InputError for what keeps one from being clad at all."""
    problems = stray_marks(job)
    if problems:
        raise InputError(problems)
    built = build(job)
    problems = nothing_left(job, built)
    if problems:
        raise InputError(problems)
    return built


def nothing_left(job: Job, built: list[Built]) -> list[Problem]:
    """A Problem for each wall on which gaps and openings leave nothing to clad."""
    out = []
    for w, b in zip(job.walls, built):
        if not b.strips:
            width = show(w.width_floor, job.unit)
            out.append(
                Problem(
                    "walls[%d]" % w.index, width,
                    "%s: nothing of it is left to clad." % w.name,
                    "Check its openings and the gaps against its size, or take the wall out.",
                )
            )  # fmt: skip
    return out


def document(job: Job, built: list[Built], laid: Laid, answer: "Answer") -> dict[str, Any]:
    """The plan file of the solver's answer. Errors: none."""
    cut, ids, named, thin, forced = pieces_of(job, built, laid, answer)
    boards = boards_of(job, laid, answer, ids, cut)
    walls = [wall_json(job, w, built[w], laid, answer, named) for w in range(len(job.walls))]
    priced = by_price(job)
    r = job.rules
    warnings = []
    for w in range(len(job.walls)):
        b = built[w]
        found = b.told + rip_warnings(b.courses, b.span[0], b.span[1], job.board, r, job.unit)
        own = [p for p in cut if p["wall"] == w + 1]
        found.extend(watch(job, walls[w], b, own, thin, [f[1:] for f in forced if f[0] == w + 1]))
        prefix = job.walls[w].name + ": " if job.count > 1 else ""
        warnings.extend([prefix + text for text in found])
    tight = [b["number"] for b in boards if b["tight"]]
    if tight:
        ends, them = ("its end", "it") if len(tight) == 1 else ("their ends", "them")
        warnings.append(
            "%s used to %s: measure %s before cutting, and do not take more than the kerf of %s."
            % (_listed("Board", tight), ends, them, exact(r.kerf, job.unit))
        )
    warnings.extend(_unpriced(job))
    if laid.marks is not None:
        warnings[:0] = laid.marks.warnings
    boxed = [1 for w in job.walls for b in w.boxes if b.holds == "device"] != []
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
            "ends": job.board.ends,
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
            "line": None if r.line is None else to_mm(r.line),
            "align": r.align,
            "opening_gap": to_mm(r.opening_gap),
            "box_gap": to_mm(r.box_gap),
            "sliver": to_mm(r.sliver),
            "trim": to_mm(r.trim),
            "reach": r.reach,
            "spread": to_mm(r.spread),
            "allowance": to_mm(r.allowance),
            "kept": r.kept,
        },
        "walls": walls,
        "pieces": cut,
        "boards": boards,
        "buy": buy(job, boards),
        "cost": {
            "by": "price" if priced else "length",
            "total": cost_of(answer.cost, priced),
            "bound": cost_of(answer.bound, priced),
            "proven": answer.proven,
        },
        "certificate": certificate(laid, built, answer.certificate, priced),
        "compare": compared(
            job, built, laid if job.done is None else task_of(unmarked(job), built)
        ),
        "warnings": warnings,
        "cautions": [cautions.to_dict(key) for key in (AT_BOXES if boxed else ()) + CAUTIONS],
    }


def _unpriced(job: Job) -> list[str]:
    """Where only some stock lengths have a price: those without, as no price counts then."""
    usable = [s for s in job.board.stock if s.count != 0 and s.kind == "new"]
    without = [show(s.length, job.unit) for s in usable if s.price is None]
    if len(without) in (0, len(usable)):
        return []
    have = "has" if len(without) == 1 else "have"
    names = " and ".join([", ".join(without[:-1])] * (len(without) > 1) + without[-1:])
    return ["%s %s no price, so boards are counted by length." % (names, have)]


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
