"""Every wall of a job built up: what is clad, its courses, its runs.

The one place where the rules on courses become a line. A wall that continues
the courses of the wall before shares its lines and their numbers.
"""

from collections import namedtuple

from .courses import Course, line_of, lines
from .outline import bounds, clad
from .region import extent
from .strips import strips
from .survey import faces, floor_at, lift

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .job import Job
    from .survey import Face, Rect

# face      what stands there (survey.py); blocks: what bounds it (outline.py)
# traps     what is clad, in slices; low, high: jots of its lowest and its highest
# span      (lowest, highest) of all walls that share the course lines, in this one's frame
# courses   list of Course in hanging order; strips: list of Strip
# told      sentences on the way the courses fall
Built = namedtuple("Built", "face blocks traps low high span courses strips told")


# A wall before its course lines are known; fields as in Built.
_Bare = namedtuple("_Bare", "face blocks traps low high")


def build(job: "Job") -> list[Built]:
    """All walls of the job, in their order. Errors: none; the job's checks keep the ranges."""
    stand = faces(job)
    made: list[_Bare] = []
    for i in range(len(job.walls)):
        blocks = bounds(job, i, stand[i])
        traps = clad(stand[i], blocks)
        low, high = (extent(traps)[1], extent(traps)[3]) if traps else (0, 0)
        made.append(_Bare(stand[i], blocks, traps, low, high))
    out: list[Built] = []
    first = 0
    while first < len(made):
        end = first + 1
        while end < len(made) and job.walls[end].corner != "none":
            end += 1
        out.extend(_room(job, made, first, end))
        first = end
    return out


def _room(job: "Job", made: list[_Bare], first: int, end: int) -> list[Built]:
    """The walls from first to end, which share their course lines."""
    face = job.board.face
    up = job.rules.start == "floor"
    lifts = [lift(job, i) for i in range(first, end)]
    clad_ones = [k for k in range(end - first) if made[first + k].traps]
    lowest = min([made[first + k].low + lifts[k] for k in clad_ones] or [0])
    highest = max([made[first + k].high + lifts[k] for k in clad_ones] or [0])
    line, told = _line(job, made, first, end, (lowest, highest))
    rows: list[tuple[list[int], list[Course]]] = []
    for i in range(first, end):
        bare = made[i]
        at = line - lifts[i - first]
        courses = lines(bare.low, bare.high, at, job.board, job.rules) if bare.traps else []
        rows.append(([((c.whole[0] if up else c.whole[1]) - at) // face for c in courses], courses))
    every = [n for numbers, _ in rows for n in numbers]
    start = (min(every) if up else max(every)) if every else 0
    out = []
    for i in range(first, end):
        bare = made[i]
        numbers, courses = rows[i - first]
        own = [
            Course(abs(n - start) + 1, c.bottom, c.top, c.low, c.high, c.whole, c.rip)
            for n, c in zip(numbers, courses)
        ]
        runs = strips(i, bare.face, own, bare.traps, bare.blocks, up, job.rules.least_rip,
                      job.rules.sliver)  # fmt: skip
        span = (lowest - lifts[i - first], highest - lifts[i - first])
        said = told if i == first else []
        out.append(
            Built(bare.face, bare.blocks, bare.traps, bare.low, bare.high, span, own, runs, said)
        )
    return out


def _line(
    job: "Job", made: list[_Bare], first: int, end: int, span: tuple[int, int]
) -> tuple[int, list[str]]:
    """(a course line's height in the first wall's frame, sentences about it)."""
    rules = job.rules
    if rules.courses == "line":
        return floor_at(made[first].face, 0, 1) + rules.line, []
    line = line_of(span[0], span[1], job.board, rules)
    if rules.courses not in ("head", "sill"):
        return line, []
    sill = rules.courses == "sill"
    for windows in (True, False):
        for i in range(first, end):
            opening = _aligned(made[i].face, rules.align, windows, sill)
            if opening is not None:
                y = opening.bottom - rules.opening_gap if sill else opening.top + rules.opening_gap
                return y + lift(job, i), []
    what = 'opening "%s"' % rules.align if rules.align else "opening with a %s" % rules.courses
    return line, [
        "There is no %s here to take a course line from, so a full board stands at the %s."
        % (what, rules.start)
    ]


def _aligned(face: "Face", name: str, windows: bool, sill: bool) -> "Rect | None":
    """The opening of that name, or the first window, or else the first opening, or None.

    What stands on the floor has no sill.
    """
    best: Rect | None = None
    for r in face.openings:
        if sill and (r.kind == "door" or r.bottom <= floor_at(face, r.left, 1)):
            continue
        if best is None and (r.name == name if name else (r.kind == "window") == windows):
            best = r
    return best
