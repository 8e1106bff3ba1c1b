"""The plan file's walls and pieces: what was built and laid, as JSON objects in millimetres."""

from collections import namedtuple

from .courses import Rip
from .layout import Piece, pieces
from .lengths import to_mm
from .outline import EDGES
from .shapes import Cut, Shape, shape
from .survey import ceiling_at, floor_at
from .walls import Built

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .job import Job
    from .outline import Block
    from .solver.given import Answer, Run
    from .task import Laid
else:
    Any = object

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def piece_id(wall: int, course: int, place: int, walls: int) -> str:
    """ "3A": course 3, first from the left; "2-3A" on wall 2 where there are several.

    wall: its number in the job, from 1; place: 0-based; course: its number;
    walls: how many the job has.
    """
    letters = _LETTERS[place % 26]
    if place >= 26:
        letters = _LETTERS[place // 26 - 1] + letters
    return ("%d-" % wall if walls > 1 else "") + "%d%s" % (course, letters)


# pieces  every piece of the plan file in hanging order
# ids     (run, piece) -> its place there; named: run -> the ids of its pieces
# thin    id -> strips on it that break (thin.py)
# forced  (wall of the plan, course number, stud) of each joint that could not keep clear
CutUp = namedtuple("CutUp", "pieces ids named thin forced")


def pieces_of(job: "Job", built: list[Built], laid: "Laid", answer: "Answer") -> CutUp:
    """Every piece as the plan file has it, and what is found on them."""
    names = _Names(job, built, laid)
    runs = laid.problem.runs
    order = sorted([(r.wall, r.course, r.left, r.right, i) for i, r in enumerate(runs)])
    out: list[dict[str, Any]] = []
    ids = {}
    named: dict[int, list[str]] = {}
    thin: dict[str, list[tuple[int, str, str]]] = {}
    forced: list[tuple[int, int, int]] = []
    row, place = (-1, -1), 0
    for w, c, _, _, i in order:
        if (w, c) != row:
            row, place = (w, c), 0
        wall = built[w]
        course = wall.courses[c]
        cut = pieces(runs[i], answer.joints[i], job.rules.joint_gap)
        named[i] = []
        clear = [number for number, _ in laid.strips[i].studs]
        for number, _ in answer.joints[i]:
            if number not in clear and runs[i].joints is None:
                forced.append((w + 1, course.number, number))
        for k in range(len(cut)):
            s = shape(
                laid.strips[i], course, job.board, job.rules.start == "floor", wall.face,
                wall.blocks, cut[k].left, cut[k].right, job.rules.sliver,
            )  # fmt: skip
            key, place = names.of((i, k), job.walls[w].index + 1, course.number, place)
            ids[(i, k)] = len(out)
            named[i].append(key)
            thin[key] = s.thin
            ends = (laid.strips[i].left_end, laid.strips[i].right_end)
            more = runs[i].more
            over = (more[0] if k == 0 else 0, more[1] if k == len(cut) - 1 else 0)
            done = _done(laid, (i, k))
            if done["called"] is not None:
                over = (0, 0)
            out.append(_piece(key, w + 1, course.number, cut[k], over, s, ends))
            out[-1].update(done)
    return CutUp(out, ids, named, thin, forced)


class _Names:
    """The ids of the pieces: by their place, but for those that bear another already."""

    def __init__(self, job: "Job", built: list[Built], laid: "Laid") -> None:
        self._walls = job.count
        self._names: dict[tuple[int, int], str] = {}
        if laid.marks is not None:
            names = laid.marks.names
            all_names = [names[at] for at in sorted(names)]
            for at in sorted(names):
                strip = laid.strips[at[0]]
                number = built[strip.wall].courses[strip.course].number
                plain = piece_id(job.walls[strip.wall].index + 1, number, 0, job.count)[:-1]
                rest = names[at][len(plain) :]
                like = names[at].startswith(plain) and len(rest) in (1, 2)
                if like and not [1 for ch in rest if ch not in _LETTERS]:
                    if all_names.count(names[at]) == 1:
                        self._names[at] = names[at]
        self._taken = set([self._names[at] for at in self._names])

    def of(self, at: tuple[int, int], wall: int, course: int, place: int) -> tuple[str, int]:
        """The id of the piece at (run, piece), and the place that the next one goes by.

        wall, course: their numbers; place: how many letters of the course are gone.
        """
        if at in self._names:
            return self._names[at], place
        while piece_id(wall, course, place, self._walls) in self._taken:
            place += 1
        return piece_id(wall, course, place, self._walls), place + 1


def _done(laid: "Laid", at: tuple[int, int]) -> dict[str, Any]:
    """What is marked of a piece of the plan file."""
    out: dict[str, Any] = {"state": "to cut", "called": None, "sawn": None}
    if laid.marks is not None:
        if at in laid.marks.called:
            out["called"] = to_mm(laid.marks.called[at])
        if at in laid.marks.cut:
            out["state"], out["sawn"] = "cut", to_mm(laid.marks.cut[at])
    return out


def _piece(
    key: str, wall: int, course: int, piece: Piece, over: tuple[int, int], s: Shape,
    ends: "tuple[Block | None, Block | None]",
) -> dict[str, Any]:  # fmt: skip
    return {
        "id": key,
        "wall": wall,
        "course": course,
        "board": 0,
        "left": to_mm(piece.left),
        "right": to_mm(piece.right),
        "length": to_mm(piece.right - piece.left),
        "over": {"left": to_mm(over[0]), "right": to_mm(over[1])},
        "bottom": to_mm(s.bottom),
        "rip": rip_json(s.rip),
        "shape": [_points(ring) for ring in s.shape],
        "shows": [_points(ring) for ring in s.shows],
        "lengths": {"lower": to_mm(s.lower), "upper": to_mm(s.upper)},
        "widths": {"left": to_mm(s.left_width), "right": to_mm(s.right_width)},
        "left_end": _end(piece.start, ends[0], s.left_off),
        "right_end": _end(piece.end, ends[1], s.right_off),
        "cuts": [_cut(c) for c in s.cuts],
        "scribe": [
            {
                "edge": edge,
                "marks": [
                    {"stud": stud, "along": to_mm(along), "up": to_mm(up)}
                    for stud, along, up in marks
                ],
            }
            for edge, marks in s.scribe
        ],
    }


def rip_json(rip: Rip | None) -> dict[str, Any] | None:
    """A rip of the plan file, or null."""
    if rip is None:
        return None
    return {"width": to_mm(rip.width), "cut": rip.cut, "keeps": rip.keeps}


def _points(points: list[tuple[int, int]]) -> list[list[float]]:
    return [[to_mm(x), to_mm(y)] for x, y in points]


def _end(
    joint: tuple[int, int] | None, block: "Block | None", off: tuple[int, str]
) -> dict[str, Any]:
    """An end of a piece. joint: (stud, at) where it meets one, else the Block it ends at."""
    if joint is not None:
        out = _joint(joint[0], joint[1])
        out["angle"], out["long"] = 0, None
        return out
    out = {"kind": "wall end", "angle": off[0], "long": off[1] or None}
    if block is not None and block.kind in EDGES:
        out["by"] = block.by
    elif block is not None:
        out["kind"] = "opening"
        out["name"] = block.by
    return out


def _joint(stud: int, at: int) -> dict[str, Any]:
    """A joint of the plan file."""
    return {"kind": "joint", "stud": stud, "at": to_mm(at)}


def _joints(run: "Run", joints: list[tuple[int, int]]) -> list[dict[str, Any]]:
    places = {number: at for number, at in run.studs}
    return [_joint(stud, places[stud] + offset) for stud, offset in joints]


def _cut(c: Cut) -> dict[str, Any]:
    out: dict[str, Any] = {"kind": c.kind, "by": c.by, "edge": c.edge}
    if c.points:
        out["points"] = _points(c.points)
        return out
    start, end, low, high = c.place
    if c.kind == "round":
        out["centre"] = [to_mm(start + end) / 2, to_mm(low + high) / 2]
        out["diameter"] = to_mm(end - start)
        return out
    out["from"], out["to"] = to_mm(start), to_mm(end)
    out["low"], out["high"] = to_mm(low), to_mm(high)
    out["open"] = c.open
    return out


def wall_json(
    job: "Job", w: int, built: Built, laid: "Laid", answer: "Answer",
    named: "dict[int, list[str]]",
) -> dict[str, Any]:  # fmt: skip
    """A wall of the plan file: what stands there, its courses and runs, its story pole."""
    face = built.face
    up = job.rules.start == "floor"
    rows: list[dict[str, Any]] = []
    for c in built.courses:
        rows.append(
            {
                "number": c.number,
                "bottom": to_mm(c.bottom),
                "top": to_mm(c.top),
                "rip": rip_json(c.rip),
                "runs": [],
            }
        )
    runs = laid.problem.runs
    for i in sorted(range(len(runs)), key=lambda i: (runs[i].left, runs[i].right, i)):
        run = runs[i]
        if run.wall == w:
            rows[run.course]["runs"].append(
                {
                    "left": to_mm(run.left),
                    "right": to_mm(run.right),
                    "joints": _joints(run, answer.joints[i]),
                    "pieces": named[i],
                }
            )
    high = max([y for _, y in face.ceiling])
    return {
        "number": job.walls[w].index + 1,
        "id": job.ids[job.walls[w].index],
        "name": job.walls[w].name,
        "corner": job.walls[w].corner,
        "corner_right": job.walls[w].corner_right,
        "width": to_mm(face.right[0][0]),
        "height": to_mm(high),
        "floor": _points(face.floor),
        "ceiling": _points(face.ceiling),
        "left": _points(face.left),
        "right": _points(face.right),
        "level": None if face.level is None else to_mm(face.level),
        "studs": [
            {
                "number": s.number,
                "at": to_mm(s.at),
                "top": to_mm(s.top),
                "kind": s.kind,
                "doubled": s.doubled,
            }
            for s in face.studs
        ],
        "openings": [_rect(r) for r in face.openings],
        "boxes": [_rect(r) for r in face.boxes],
        "blocking": [_rect(r) for r in face.blocking],
        "courses": rows,
        "pole": {
            "left": _pole(built, floor_at(face, face.floor[0][0], 1), up),
            "right": _pole(built, floor_at(face, face.floor[-1][0], -1), up),
        },
        "heights": {
            "left": to_mm(ceiling_at(face, face.floor[0][0], 1) - floor_at(face, 0, 1)),
            "right": to_mm(
                ceiling_at(face, face.floor[-1][0], -1) - floor_at(face, face.floor[-1][0], -1)
            ),
        },
    }


def _rect(r: "Any") -> dict[str, Any]:
    return {
        "name": r.name,
        "kind": r.kind,
        "left": to_mm(r.left),
        "bottom": to_mm(r.bottom),
        "right": to_mm(r.right),
        "top": to_mm(r.top),
    }


def _pole(built: Built, floor: int, up: bool) -> list[dict[str, Any]]:
    """Every course line as it is marked at one end, up from the floor there.

    up: whether boards hang from the floor up. A line's course is the one that starts
    at it: it has its lower edge there, or its upper one where boards hang down.
    """
    ordered = sorted(built.courses, key=lambda c: c.bottom)
    out = [(c.bottom if up else c.top, c.number) for c in ordered]
    if ordered and up:
        out.append((ordered[-1].top, 0))
    elif ordered:
        out.insert(0, (ordered[0].bottom, 0))
    return [
        {
            "line": to_mm(y),
            "course": number or None,
            "up": to_mm(y - floor) if y >= floor else None,
        }
        for y, number in out
    ]
