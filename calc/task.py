"""What the solver is given: the job's runs and rules, and the boards to be had."""

from collections import namedtuple

from .begunboards import given
from .job import Job
from .marks import marks_of
from .solver.given import Problem, Rules, Run, Stock
from .solver.why import why
from .strips import run_of
from .walls import Built

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .strips import Strip

_LOOK = 2  # courses over which joints on one stud are looked at

# problem  the solver's Problem
# strips   the Strip of each of its runs
# lines    for each of its stock the place in the job's list
# marks    how what is done already binds it, Marks; None where nothing is marked
Laid = namedtuple("Laid", "problem strips lines marks")


def by_price(job: Job) -> bool:
    """Whether cost is money: every length to be bought has a price. Else it is length bought."""
    usable = [s for s in job.board.stock if s.count != 0 and s.kind == "new"]
    return not [1 for s in usable if s.price is None]


def allowances(job: Job, strip: "Strip") -> tuple[int, int]:
    """Jots that the pieces at a run's left and right end are cut over, for fitting on site.

    Only where it ends in the corner of a wall; an outside corner fits without.
    """
    wall = job.walls[strip.wall]
    out = []
    for end, corner in ((strip.left_end, wall.corner), (strip.right_end, wall.corner_right)):
        free = corner in ("outside", "mitred")
        at_wall = end is not None and end.kind in ("left", "right")
        out.append(job.rules.allowance if at_wall and not free else 0)
    return out[0], out[1]


def task_of(job: Job, built: list[Built]) -> Laid:
    """The problem of all walls together, lengths in jots, costs in hundredths or jots."""
    r = job.rules
    matched = job.board.ends == "matched"
    rules = Rules(
        r.kerf, r.trim, r.joint_gap, r.shortest, [0], r.stagger, r.reach, matched, r.spread, _LOOK,
        r.kept,
    )  # fmt: skip
    priced = by_price(job)
    lines = [i for i in range(len(job.board.stock)) if job.board.stock[i].count != 0]
    stock = []
    for i in lines:
        s = job.board.stock[i]
        cost = s.price if priced else s.length
        offcut = s.kind == "offcut"  # nobody says which of its ends are a factory's
        stock.append(Stock(s.length, 0 if offcut else cost, s.count, 3 if offcut else 0))
    strips = [strip for wall in built for strip in wall.strips]
    runs: list[Run] = []
    clear: dict[tuple[object, ...], bool] = {}
    for strip in strips:
        more = allowances(job, strip)
        run = run_of(strip, False, more)
        if len(strip.spare) > len(strip.studs):
            key = (run.left, run.right, tuple(run.studs), more)
            if key not in clear:
                clear[key] = why(Problem([run], stock, rules, [])) is None
            if not clear[key]:
                run = run_of(strip, True, more)
        runs.append(run)
    if job.done is None:
        return Laid(Problem(runs, stock, rules, []), strips, lines, None)
    marks = marks_of(job, built, strips, runs, priced)
    cuts = [given(b, lines) for b in marks.boards]
    return Laid(Problem(marks.runs, stock, rules, cuts), strips, lines, marks)
