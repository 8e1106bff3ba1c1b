"""Why a job cannot be laid out, and the least change that mends it, tried before it is named."""

from .job import Job
from .layout import pieces
from .lengths import JOTS_PER_INCH, JOTS_PER_MM, exact, show
from .problems import Problem
from .search import SEED, usual_steps
from .solver.given import Problem as Task
from .solver.given import Run
from .solver.lacking import lacking
from .solver.lacking import laid as found
from .solver.why import why

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .solver.why import Mend, Reason
    from .task import Laid
    from .walls import Built

_NEAR = 8  # of a stud spacing: nearer than an eighth a mark takes another's place (studs.py)


def cannot_lay(job: Job, built: "list[Built]", laid: "Laid") -> list[Problem]:
    """The first course that no layout can meet, by which rule, and what mends it; or [].

    Each mend is the least change of one thing, and was tried: with it alone every
    course can be laid. Errors: none.
    """
    reason = why(laid.problem, found)
    if reason is None:
        return []
    marked = laid.marks is not None and found(Task(_free(laid), laid.problem.stock,
                                                   laid.problem.rules, []))  # fmt: skip
    rows = built[reason.wall].courses
    places = [reason.course + k for k in range(reason.courses)]
    open_ = [p for p in places if (reason.wall, p) in _open(laid)]
    if open_:  # what is partly up stays: the course to be laid is one that is not
        places = [p for p in places if p != open_[-1]] + [open_[-1]]
    names = [rows[p].number for p in places]
    field, value, message = _said(job, reason, names)
    course = "Course %d" % (names[-1] if reason.rule == "stagger" else names[0])
    if len(job.walls) > 1:
        course = "%s, c%s" % (job.walls[reason.wall].name, course[1:])
    mends = [_mended(m, job, reason.wall) for m in reason.mends]
    mends = [text for text in mends if text]
    if marked:
        mends.append("taking back what is marked as cut or called there")
    fix = "Any one of these mends it: %s." if len(mends) > 1 else "This mends it: %s."
    if not mends:
        fix = "No one change mends it: try longer boards and a smaller shortest piece together."
        return [Problem(field, value, "%s: %s." % (course, message), fix)]
    return [Problem(field, value, "%s: %s." % (course, message), fix % "; ".join(mends))]


def _open(laid: "Laid") -> set[tuple[int, int]]:
    """(wall, course) of those with a run that has no joints yet, where others have."""
    if laid.marks is None:
        return set()
    return {(r.wall, r.course) for r in laid.problem.runs if r.joints is None}


def _free(laid: "Laid") -> list[Run]:
    """The runs as if nothing were cut."""
    return [Run(r.wall, r.course, r.left, r.right, s.spare if r.joints is not None else r.studs,
                (0, 0) if r.joints is not None else r.more, None)
            for r, s in zip(laid.problem.runs, laid.strips)]  # fmt: skip


def cannot_hold(job: Job, built: "list[Built]", laid: "Laid") -> list[Problem]:
    """A Problem for each piece that is bound to a length that no board gives; or []. Errors: none.

    Only what is called from the wall, or stands between joints that others were cut for.
    """
    if laid.marks is None:
        return []
    given, r = laid.problem, job.rules
    used = [c.stock for c in given.cuts]
    rooms = [
        s.length - 2 * r.trim for i, s in enumerate(given.stock)
        if s.count is None or s.count > used.count(i)
    ]  # fmt: skip
    rooms += [c.left for c in given.cuts]
    longest = max(rooms + [0])
    out = []
    for i, run in enumerate(given.runs):
        if run.joints is None:
            continue
        cut = pieces(run, run.joints, r.joint_gap)
        for k in range(len(cut)):
            over = (run.more[0] if k == 0 else 0) + (run.more[1] if k == len(cut) - 1 else 0)
            length = cut[k].right - cut[k].left + over
            if (i, k) not in laid.marks.cut and length > longest:
                out.append(_too_long(job, built, laid, (i, k), length, longest))
    return out


def _too_long(
    job: Job, built: "list[Built]", laid: "Laid", at: tuple[int, int], length: int, longest: int
) -> Problem:
    strip = laid.strips[at[0]]
    number = built[strip.wall].courses[strip.course].number
    course = "Course %d" % number
    if job.count > 1:
        course = "%s, course %d" % (job.walls[strip.wall].name, number)
    text = show(length, job.unit)
    fix = "Have a board of %s or longer" % show(length + 2 * job.rules.trim, job.unit)
    if at in laid.marks.called:
        wall = job.ids[job.walls[strip.wall].index]
        calls = [
            n for n, c in enumerate(job.done.called)
            if (c.place.wall, c.place.course, c.place.piece) == (wall, number, at[1] + 1)
        ]  # fmt: skip
        return Problem(
            "done.called[%d].length" % calls[-1], text,
            "%s: %s was called, and no board that is left gives it; the longest gives %s."
            % (course, text, show(longest, job.unit)),
            fix + ", or measure again and call it anew.",
        )  # fmt: skip
    return Problem(
        "board.stock", show(longest, job.unit),
        "%s: piece %d is to be %s between the joints that are cut already, and no board that is "
        "left gives it; the longest gives %s." % (course, at[1] + 1, text, show(longest, job.unit)),
        fix + ", or take back what is marked as cut on that course.",
    )  # fmt: skip


def _said(job: Job, reason: "Reason", names: list[int]) -> tuple[str, str, str]:
    """(field, value, what is wrong) of the rule that cannot be met."""
    unit, r = job.unit, job.rules
    if reason.rule == "longest":
        value = show(max([s.length for s in job.board.stock if s.count != 0]), unit)
        return "board.stock", value, "no joint can be reached with boards of %s" % value
    if reason.rule == "shortest":
        value = show(r.shortest, unit)
        return "rules.shortest", value, "every layout has a piece under the shortest, %s" % value
    value = show(r.stagger, unit)
    if reason.rule == "matched":
        message = "a piece between two joints would have to be a whole board, and none fits"
        return "board.ends", job.board.ends, message
    before = names[:-1]
    words = "course %d" % before[0]
    if len(before) > 1:
        words = "courses %s and %d" % (", ".join([str(n) for n in before[:-1]]), before[-1])
    message = "every layout joins on a stud of %s" % words
    if r.stagger:
        message += ", or nearer to its joints than the stagger of %s" % value
    return "rules.stagger", value, message


def _mended(mend: "Mend", job: Job, wall: int) -> str:
    """A mend in words, or "" for one that the job has no field for."""
    unit = job.unit
    if mend.kind == "board":
        return "boards of %s or longer" % _up(mend.value, unit)
    if mend.kind == "shortest":
        return "a shortest piece of %s" % _down(mend.value, unit)
    if mend.kind == "stagger":
        return "a stagger of %s" % _down(mend.value, unit)
    if mend.kind == "reach":
        return "a joint on the same stud after %d" % mend.value + " course"
    if mend.kind == "turn":
        return "boards with plain ends"
    if mend.kind == "stud" and _apart(job, wall, mend.value):
        return "one more stud at %s from the left corner" % exact(mend.value, unit)
    return ""


def _apart(job: Job, wall: int, at: int) -> bool:
    """Whether a stud found there is one stud more, and takes no other's place."""
    studs = job.walls[wall].studs
    off = (at - studs.first) % studs.spacing
    return bool(min(off, studs.spacing - off) * _NEAR > studs.spacing)


def _up(jots: int, unit: str) -> str:
    """The least length of 1/16 in or 1 mm steps that is not less."""
    step = _step(unit)
    return show(-(-jots // step) * step, unit)


def _down(jots: int, unit: str) -> str:
    """The greatest length of 1/16 in or 1 mm steps that is not more."""
    step = _step(unit)
    return show(jots // step * step, unit)


def _step(unit: str) -> int:
    return JOTS_PER_INCH // 16 if unit in ("in", "ft") else JOTS_PER_MM


def not_enough(job: Job, laid: "Laid") -> list[Problem]:
    """No plan was found: with how many more boards one was, or that none was. Errors: none."""
    given = laid.problem
    reason = lacking(given, SEED, usual_steps(given))
    if not reason.mends and reason.rule != "count":
        value = show(job.rules.stagger, job.unit)
        return [
            Problem(
                "rules.stagger", value,
                "No layout was found that keeps the joints of neighbouring courses apart.",
                "Try a smaller stagger, a smaller shortest piece, or longer boards.",
            )
        ]  # fmt: skip
    unit = job.unit
    counted = [s for s in given.stock if s.count is not None]
    counts = ", ".join(["%d of %s" % (s.count, show(s.length, unit)) for s in counted])
    more = reason.mends[0].value if reason.mends else []
    wants = ["%d of %s" % (n, show(given.stock[i].length, unit)) for i, n in more]
    said = "No cutting was found with the boards to be had (%s)."
    if reason.rule == "count":
        said = "The boards to be had (%s) are too few for any plan."
    return [
        Problem(
            "board.stock",
            counts,
            said % counts,
            "With %s more it can be done." % " and ".join(wants) if wants else "Have more boards.",
        )
    ]
