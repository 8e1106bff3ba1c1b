"""The ways to divide a job's height into courses, side by side, each with what it costs."""

from .job import Job, Rules, planned_as, unmarked
from .lengths import show
from .plan import nothing_left
from .planparts import pieces_of
from .search import SHORT, searched
from .solver.why import why
from .task import by_price, task_of
from .thin import narrowest
from .walls import Built, build
from .words import cost_text

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

_WORDS = {
    "full": "full board first",
    "balanced": "equal rips at both edges",
    "head": "a line at the head of the opening",
    "sill": "a line at the sill of the opening",
    "line": "a line at the height given",
}


def choices(job: Job) -> list[tuple[str, str]]:
    """(start, courses) of each way that this job can take, in the order they are shown."""
    kinds = ["full", "balanced"]
    if [1 for w in job.walls if w.openings]:
        kinds += ["head", "sill"]
    if job.rules.line is not None:
        kinds.append("line")
    return [(start, kind) for kind in kinds for start in ("floor", "ceiling")]


def way(job: Job, start: str, kind: str) -> dict[str, Any]:
    """One way as a JSON object: how its courses fall and the boards it takes by a short search.

    job: as read, without problems of its own, taken as if nothing were cut yet; start, kind: of
    choices.
    least_rip: text of the narrowest course that shows; slivers: strips too
    narrow to last, beside openings and boxes; near: edges of boxes within
    rules.sliver of a course line; problem: why it can't be laid, or "".
    """
    r = job.rules
    rules = Rules(*[start if i == 0 else kind if i == 1 else r[i] for i in range(len(r))])
    job = unmarked(job)
    changed = planned_as(job, job.board, rules)
    built = build(changed)
    out: dict[str, Any] = {
        "rules": {"start": start, "courses": kind},
        "label": "From the %s, %s" % (start, _WORDS[kind]),
        "now": (start, kind) == (r.start, r.courses),
        "least_rip": show(_least(built), job.unit),
        "slivers": 0,
        "near": sum([_near(b, r.sliver) for b in built]),
        "boards": 0,
        "cost": "",
        "problem": "",
    }
    problems = nothing_left(changed, built)
    told = [text for b in built for text in b.told]
    rooms = [w for w in job.walls if w.corner == "none"]
    if problems or len(told) == len(rooms):  # where some room has none, it starts full
        out["problem"] = problems[0].message if problems else told[0]
        return out
    laid = task_of(changed, built)
    answer = searched(laid.problem, SHORT)
    if answer is None and why(laid.problem) is not None:
        out["problem"] = "No layout was found by these rules."
    elif answer is None:
        out["problem"] = "There are not boards enough."
    else:
        out["boards"] = len(answer.boards)
        thin = pieces_of(changed, built, laid, answer).thin
        out["slivers"] = sum([len(thin[key]) for key in sorted(thin)])
        out["cost"] = cost_text(answer.cost, by_price(job), job.unit)
    return out


def _least(built: list[Built]) -> int:
    """The narrowest that any course shows along its length."""
    sizes: list[int] = [narrowest(s, b.blocks) for b in built for s in b.strips]
    return min(sizes or [0])


def _near(b: Built, sliver: int) -> int:
    """Edges of boxes that lie so near to a course line that a strip beside them breaks."""
    lines = sorted(set([c.bottom for c in b.courses] + [c.top for c in b.courses]))
    edges = [y for block in b.blocks if block.kind in ("box", "round")
             for y in (block.bottom, block.top)]  # fmt: skip
    return len([1 for y in edges if [1 for line in lines if 0 < abs(y - line) < sliver]])
