"""What to look out for on a wall's pieces: strips that break, ends that hang free.

Reads a wall and its pieces as the plan file has them.
"""

from .lengths import from_mm, show

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .job import Job
else:
    Any = object

# Framing stands around these, so that a board's end has something behind it.
# Common practice, no source.
FRAMED = ("window", "door")
_BEARS = 2  # inches at most from an end to a stud's centre or a block. Common practice, no source.


def watch(job: "Job", wall: dict[str, Any], pieces: list[dict[str, Any]]) -> list[str]:
    """Sentences about the wall's pieces, by course.

    wall, pieces: as in the plan file. A strip narrower than rules.sliver beside
    an opening, a box or an edge breaks; an end at an opening without framing,
    or beside a box, wants a stud or a block behind it. Errors: none.
    """
    out: list[str] = []
    for p in sorted(pieces, key=lambda p: (p["course"], p["left"], p["id"])):
        for text in _slivers(job, wall, p) + _free(job, wall, p):
            if text not in out:
                out.append(text)
    return out


def slivers(job: "Job", p: dict[str, Any]) -> list[tuple[str, int, str]]:
    """(what it is beside, its width in jots, where: "under", "left of" ...) of each narrow strip.

    p: a piece of the plan file.
    """
    out = []
    tall = max([up for ring in p["shape"] for _, up in ring])
    for c in p["cuts"]:
        if c["kind"] == "round":
            r = c["diameter"] / 2
            along, up = c["centre"]
            sides = (up - r, tall - up - r, along - r, p["length"] - along - r)
        elif "low" in c:
            sides = (c["low"], tall - c["high"], c["from"], p["length"] - c["to"])
        else:
            continue
        words = ("under", "over", "left of", "right of")
        for size, word in zip(sides, words):
            if word in ("under", "over") and c["kind"] == "lap":
                continue
            if 0 < size and from_mm(size) < job.rules.sliver:
                out.append((c["by"], from_mm(size), word))
    return out


def _slivers(job: "Job", wall: dict[str, Any], p: dict[str, Any]) -> list[str]:
    out = []
    for by, size, word in slivers(job, p):
        mend = "move the course lines, or take it off where the casing or plate covers that."
        if word in ("left of", "right of"):
            mend = "put another joint, or take it off where the casing or plate covers that."
        out.append(
            "Course %d, piece %s: only %s of board is left %s %s and will break: %s"
            % (p["course"], p["id"], show(size, job.unit), word, by, mend)
        )
    return out


def _free(job: "Job", wall: dict[str, Any], p: dict[str, Any]) -> list[str]:
    out = []
    kinds = {r["name"]: r["kind"] for r in wall["openings"] + wall["boxes"]}
    middle = p["bottom"] + max([up for ring in p["shape"] for _, up in ring]) / 2
    for key, x, way in (("left_end", p["left"], 1), ("right_end", p["right"], -1)):
        end = p[key]
        if end["kind"] != "opening" or kinds.get(end["name"]) in FRAMED:
            continue
        if not bears(wall, x, way, middle):
            out.append(
                "Course %d, piece %s: its end at %s has no stud behind it: set a block there."
                % (p["course"], p["id"], end["name"])
            )
    return out


def bears(wall: dict[str, Any], x: float, way: int, y: float) -> bool:
    """Whether a stud or a block stands behind a board's end.

    wall: of the plan file; x, y: mm, of the end; way: 1 where the board goes on
    to the right of it, -1 to the left.
    """
    reach = _BEARS * 25.4
    for s in wall["studs"]:
        if 0 <= (s["at"] - x) * way <= reach:
            return True
    for b in wall["blocking"]:
        near, far = (b["left"], b["right"]) if way > 0 else (-b["right"], -b["left"])
        if b["bottom"] <= y <= b["top"] and far > x * way and near - x * way <= reach:
            return True
    return False
