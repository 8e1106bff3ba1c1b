"""What to look out for on a wall: strips that break, feathers, joints in cuts, ends that hang free.

Sentences for the plan's warnings, by course.
"""

from .lengths import from_mm, show
from .thin import narrowest

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .job import Job
    from .walls import Built
else:
    Any = object

# Framing stands around these, so that a board's end has something behind it.
# Common practice, no source.
FRAMED = ("window", "door")
# Mm at most from an end to a stud's centre or a block. Common practice, no source.
_BEARS = 2 * 25.4


def watch(
    job: "Job", wall: dict[str, Any], built: "Built", pieces: list[dict[str, Any]],
    thin: "dict[str, list[tuple[int, str, str]]]", forced: list[tuple[int, int]],
) -> list[str]:  # fmt: skip
    """Sentences about the wall.

    wall, pieces: as in the plan file; thin: a piece's id -> what thin.strips_left
    found on it; forced: (course, stud) of joints that could not keep clear. Errors: none.
    """
    out = feathers(job, built)
    for p in sorted(pieces, key=lambda p: (p["course"], p["left"], p["id"])):
        out.extend(_thin(job, p, thin.get(p["id"], [])))
    for course, stud in forced:
        out.append(
            "Course %d: its joint on stud %d falls in the cut for a box or opening, as no other "
            "stud would do. Longer boards or another stud mend it." % (course, stud)
        )
    return out + _free(wall, pieces)


def feathers(job: "Job", built: "Built") -> list[str]:
    """Courses that run out along a floor or ceiling out of level to less than the least rip."""
    out = []
    for n in range(len(built.courses)):
        c = built.courses[n]
        runs = [s for s in built.strips if s.course == n]
        least = min([narrowest(s, built.blocks) for s in runs] or [job.rules.least_rip])
        if least < job.rules.least_rip <= c.top - c.bottom:
            out.append(
                "Course %d runs out to %s; the narrowest rip is set to %s. Move the course lines."
                % (c.number, show(least, job.unit), show(job.rules.least_rip, job.unit))
            )
    return out


def _thin(job: "Job", p: dict[str, Any], thin: list[tuple[int, str, str]]) -> list[str]:
    """Strips on a piece, and a piece that is but a strip itself."""
    here = "Course %d, piece %s: " % (p["course"], p["id"])
    tall = max([up for ring in p["shape"] for _, up in ring])
    for mm, what in ((p["length"], "long"), (tall, "wide")):
        if from_mm(mm) < job.rules.sliver:
            size = show(from_mm(mm), job.unit)
            mend = "leave it out where a casing covers that, or move the course lines."
            return [here + "it is only %s %s and will break: %s" % (size, what, mend)]
    return [
        here + "only %s of board remains %s %s and will break: move the course lines, or take it "
        "off where the casing or plate covers that." % (show(size, job.unit), where, by)
        for size, where, by in thin
    ]


def _free(wall: dict[str, Any], pieces: list[dict[str, Any]]) -> list[str]:
    """Ends at openings without framing, and at boxes, that no stud or block stands behind."""
    kinds = {r["name"]: r["kind"] for r in wall["openings"] + wall["boxes"]}
    found: dict[tuple[str, str], list[int]] = {}
    for p in pieces:
        middle = p["bottom"] + max([up for ring in p["shape"] for _, up in ring]) / 2
        for key, x, way in (("left_end", p["left"], 1), ("right_end", p["right"], -1)):
            end = p[key]
            if end["kind"] != "opening" or kinds.get(end["name"]) in FRAMED:
                continue
            if not bears(wall, x, way, middle):
                side = (end["name"], "right" if way > 0 else "left")
                found[side] = found.get(side, []) + [p["course"]]
    return [
        "%s at the %s of %s: no stud is behind the boards' ends: set a block there."
        % (_courses(sorted(set(found[side]))), side[1], side[0])
        for side in sorted(found)
    ]


def _courses(numbers: list[int]) -> str:
    """ "Course 3", "Courses 3 to 9", "Courses 3, 5 and 9"."""
    if len(numbers) == 1:
        return "Course %d" % numbers[0]
    if numbers[-1] - numbers[0] == len(numbers) - 1:
        return "Courses %d to %d" % (numbers[0], numbers[-1])
    return "Courses %s and %d" % (", ".join([str(n) for n in numbers[:-1]]), numbers[-1])


def bears(wall: dict[str, Any], x: float, way: int, y: float) -> bool:
    """Whether a stud or a block stands behind a board's end.

    wall: of the plan file; x, y: mm, of the end; way: 1 where the board goes on
    to the right of it, -1 to the left.
    """
    for s in wall["studs"]:
        at = s["at"] + (s["top"] - s["at"]) * y / wall["height"]
        if 0 <= (at - x) * way <= _BEARS:
            return True
    for b in wall["blocking"]:
        near, far = (b["left"], b["right"]) if way > 0 else (-b["right"], -b["left"])
        if b["bottom"] <= y <= b["top"] and far > x * way and near - x * way <= _BEARS:
            return True
    return False
