"""What stands there: a wall's outline, openings, boxes and studs, from its readings.

Lengths are jots. x runs right from the left corner at the floor; y runs up from
the lowest point of the wall's floor. A point that is on no whole jot is taken
to the nearest, a half upwards. Source of everything here: plane geometry.
"""

from collections import namedtuple

from .boxes import gang_size
from .lengths import show
from .problems import Problem
from .profile import Point, between, nearest, plain, reach, y_at
from .studs import OWN_PART, marks, near_mark, nearest_text, strays

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .job import Job
    from .jobwalls import Block, Box, Opening, Wall

# floor, ceiling  points from the left corner to the right one; a step is two
#         points of one x
# left, right  points from floor to ceiling; left 2, right 2 or 3
# level   y of the level line that was read from, or None
# openings, boxes, blocking  Rects; studs: Studs from the left
Face = namedtuple("Face", "floor ceiling left right level openings boxes blocking studs")
# kind  an opening's kind; "box", or "round" for the square around a round box; "blocking"
Rect = namedtuple("Rect", "name kind left bottom right top")
# number  from the left, from 1; at, top: x at the floor and at the ceiling; kind:
# "grid" or "found"; doubled: True or False; lean: top - at
Stud = namedtuple("Stud", "number at top kind doubled lean")
# floor, ceiling, left, right, level: as in Face
Outline = namedtuple("Outline", "floor ceiling left right level")


class OutlineError(Exception):
    """Readings that make no outline. field is the wall's, message and fix are sentences."""

    def __init__(self, field: str, message: str, fix: str) -> None:
        super().__init__(message)
        self.field = field
        self.message = message
        self.fix = fix


def faces(job: "Job") -> list[Face]:
    """face() of every wall of the job, in order."""
    return [face(job, i) for i in range(len(job.walls))]


def face(job: "Job", i: int) -> Face:
    """The wall job.walls[i] as it stands, as a Face.

    Errors: none for a job of read_job whose stray_marks are none; a mark that
    is no stud raises ValueError.
    """
    w = job.walls[i]
    o = outline(w)
    return Face(
        o.floor,
        o.ceiling,
        o.left,
        o.right,
        o.level,
        [opening_rect(o, p) for p in w.openings],
        [box_rect(o, b) for b in w.boxes],
        [block_rect(o, w.blocking[k], k) for k in range(len(w.blocking))],
        studs(w, o),
    )


def outline(w: "Wall") -> Outline:
    """Floor, ceiling and corners of a wall.

    The left corner runs straight from the floor's left end to the ceiling, over
    by its lean. The right corner stands at width_floor on the floor's right end;
    half-way up the height at the right, and at the height of the ceiling there,
    it is the left corner's x at that height (its straight line, gone on with where
    the ceiling is higher at the right) and the width read. The ceiling goes on in
    its end segment's line as far as a corner leans out, and ends where it leans in.
    Raises OutlineError where a corner would run through the floor or ceiling.
    """
    floor, ceiling, level = lines(w)
    foot = floor[0]
    lean = {"plumb": 0, "in": w.left_lean, "out": -w.left_lean}[w.left_corner]
    head = (lean, y_at(ceiling, lean, 1))
    right_floor, right_ceiling = floor[-1][1], ceiling[-1][1]
    left = [foot, head]
    _check_corner(left, floor, "left_lean", "left corner")
    right = [floor[-1]]
    if w.width_middle is not None:
        y = nearest(right_floor + right_ceiling, 2)
        right.append((corner_x(left, y) + w.width_middle, y))
    x = corner_x(left, right_ceiling) + w.width_top
    right.append((x, y_at(ceiling, x, -1)))
    _check_corner(right, floor, "width_top", "right corner")
    return Outline(floor, reach(ceiling, lean, x), left, right, level)


def _check_corner(corner: list[Point], floor: list[Point], field: str, what: str) -> None:
    for i in range(len(corner) - 1):
        p, q = corner[i], corner[i + 1]
        low, high = min(p[0], q[0]), max(p[0], q[0])
        crossed = [f for f in floor if low < f[0] < high and between(p, q, f[0]) <= f[1]]
        if q[1] <= p[1] or crossed:
            raise OutlineError(
                field,
                "the %s: with %%s it meets the %s." % (what, "floor" if crossed else "ceiling"),
                "Check the lean and the widths.",
            )


def corner_x(corner: list[Point], y: int) -> int:
    """x of a corner at the height y, to the nearest jot; its straight ends go on."""
    return y_at([(p[1], p[0]) for p in corner], y, 1)


def lines(w: "Wall") -> tuple[list[Point], list[Point], int | None]:
    """(floor, ceiling, y of the level line or None), from x = 0 to the width at the floor.

    w.stations begin at 0 and end at the width. With a reading down at any, both
    are read from one level line; else `up` is the height, and w.level says
    whether floor or ceiling is level.
    """
    ups = [(s.at, s.up) for s in w.stations if s.up is not None]
    downs = [(s.at, s.down) for s in w.stations if s.down is not None]
    width = w.width_floor
    if downs:
        level = max([down for _, down in downs])
        floor = [(at, level - down) for at, down in downs]
        return plain(floor), plain([(at, level + up) for at, up in ups]), level
    high = max([up for _, up in ups])
    if w.level == "ceiling":
        return plain([(at, high - up) for at, up in ups]), [(0, high), (width, high)], None
    return [(0, 0), (width, 0)], plain(ups), None


def floor_at(face: "Face | Outline", x: int, side: int = 0) -> int:
    """y of the floor at x. side: of a step, -1 left, 1 right, 0 the lower of both."""
    if side:
        return y_at(face.floor, x, side)
    return min(y_at(face.floor, x, -1), y_at(face.floor, x, 1))


def ceiling_at(face: "Face | Outline", x: int, side: int = 0) -> int:
    """y of the ceiling at x. side: of a step, -1 left, 1 right, 0 the higher of both."""
    if side:
        return y_at(face.ceiling, x, side)
    return max(y_at(face.ceiling, x, -1), y_at(face.ceiling, x, 1))


def opening_rect(o: Outline, p: "Opening") -> Rect:
    """An opening as it stands in the outline.

    Its bottom is up from the floor right below its left edge (right of a step
    there). A door's is the lowest floor under it, since it reaches the floor all
    along; its height is from the floor below its left edge.
    """
    right, base = p.left + p.width, floor_at(o, p.left, 1)
    if p.kind == "door":
        under = [y for x, y in o.floor if p.left < x < right]
        bottom = min([base, floor_at(o, right, -1)] + under)
        return Rect(p.name, p.kind, p.left, bottom, right, base + p.height)
    bottom = base + p.bottom
    return Rect(p.name, p.kind, p.left, bottom, right, bottom + p.height)


def box_rect(o: Outline, b: "Box") -> Rect:
    """A box as it stands in the outline; `middle` is up from the floor below the centre."""
    kind = "round" if b.by == "diameter" else "box"
    wide, high = box_size(b)
    if b.by == "edges":
        left, bottom = b.left, floor_at(o, b.left, 1) + b.bottom
    else:
        left = nearest(2 * b.centre - wide, 2)
        bottom = nearest(2 * (floor_at(o, b.centre, 1) + b.middle) - high, 2)
    return Rect(b.name, kind, left, bottom, left + wide, bottom + high)


def box_size(b: "Box") -> tuple[int, int]:
    """(width, height) of a box's outside in jots. Raises KeyError for au gangs."""
    if b.by == "gangs":
        return gang_size(b.standard, b.gangs)
    if b.by == "diameter":
        return b.diameter, b.diameter
    return b.width, b.height


def block_rect(o: Outline, b: "Block", i: int) -> Rect:
    """The blocking of that index, called "Blocking 1" and so on."""
    bottom = floor_at(o, b.left, 1) + b.bottom
    name = "Blocking %d" % (i + 1)
    return Rect(name, "blocking", b.left, bottom, b.left + b.width, bottom + b.height)


def studs(w: "Wall", o: Outline) -> list[Stud]:
    """Every stud between the corners at the floor, left to right.

    The readings at the ceiling are from the left corner there. A stud of
    `leaning` has its own; a grid stud has the first mark's lean where first_top
    is given; any other stands upright. Raises ValueError for a mark of missing,
    leaning or doubled that is no stud (see stray_marks).
    """
    s = w.studs
    row = marks(w.width_floor, s.first, s.spacing, s.found, s.missing)
    places = [m.at for m in row]
    corner = o.left[-1][0]
    tops: dict[int, int] = {}
    for k in s.leaning:
        tops[_stud(places, k.at, s.spacing)] = corner + k.top
    doubled = [_stud(places, at, s.spacing) for at in s.doubled]
    out = []
    for i in range(len(row)):
        at, kind = row[i].at, row[i].kind
        top = at
        if i in tops:
            top = tops[i]
        elif kind == "grid" and s.first_top is not None:
            top = corner + s.first_top - s.first + at
        out.append(Stud(i + 1, at, top, kind, i in doubled, top - at))
    return out


def _stud(places: list[int], at: int, spacing: int) -> int:
    i = near_mark(places, at, spacing // OWN_PART)
    if i < 0:
        raise ValueError("a mark is no stud")
    return i


def stud_at(stud: Stud, face: Face, y: int) -> int:
    """x of the stud's centre at the height y, to the nearest jot.

    On the line through (at, floor there) and (top, ceiling there), gone on with
    beyond them. Errors: none for a face of a job whose stray_marks are none.
    """
    if not stud.lean:
        return int(stud.at)
    foot = (floor_at(face, stud.at), stud.at)
    return between(foot, (ceiling_at(face, stud.top), stud.top), y)


def lift(job: "Job", i: int) -> int:
    """y of this wall's zero over the zero of the first wall whose courses it continues.

    0 for a wall that continues none. The floor at its left corner is the floor
    at the right corner of the wall before.
    """
    total = 0
    while job.walls[i].corner != "none":
        total += lines(job.walls[i - 1])[0][-1][1] - lines(job.walls[i])[0][0][1]
        i -= 1
    return total


def stray_marks(job: "Job") -> list[Problem]:
    """Marks of missing, leaning and doubled that are no stud, and leans beyond a spacing.

    Each Problem names the field (walls[].studs...), the reading and the marks
    nearest to it. None: face() of every wall can be made.
    """
    out = []
    for w in job.walls:
        path, s = "walls[%d].studs." % w.index, w.studs
        gone = strays(w.width_floor, s.first, s.spacing, s.missing)
        for j, near in gone:
            out.append(_stray(job, w, path + "missing[%d]" % j, s.missing[j], near, True))
        if gone:
            continue
        row = marks(w.width_floor, s.first, s.spacing, s.found, s.missing)
        places = [m.at for m in row]
        named = [("leaning[%d].at" % j, s.leaning[j].at) for j in range(len(s.leaning))]
        named += [("doubled[%d]" % j, s.doubled[j]) for j in range(len(s.doubled))]
        lost = len(out)
        for key, at in named:
            if near_mark(places, at, s.spacing // OWN_PART) < 0:
                near = [x for x in places if x < at][-1:] + [x for x in places if x > at][:1]
                out.append(_stray(job, w, path + key, at, near, False))
        if len(out) == lost:
            out.extend(_leans(job, w, path))
    return out


def _stray(job: "Job", w: "Wall", path: str, at: int, near: list[int], missing: bool) -> Problem:
    what, fix = "mark of a stud: no stud", "Give the mark of a stud, or take this one out."
    if missing:
        what = "mark with no stud: no grid mark"
        fix = "Give the grid mark that has no stud, or take this one out."
    text = show(at, job.unit)
    return Problem(
        path, text, "%s, %s is at %s; %s." % (w.name, what, text, nearest_text(near, job.unit)), fix
    )


def _leans(job: "Job", w: "Wall", path: str) -> list[Problem]:
    """Studs that lean more than a spacing, or whose foot is not below the ceiling at their top."""
    o = outline(w)
    s = w.studs
    for stud in studs(w, o):
        if not stud.lean:
            continue
        high = ceiling_at(o, stud.top) > floor_at(o, stud.at)
        if high and abs(stud.lean) <= s.spacing:
            continue
        key, top = "first_top", s.first_top
        for j in range(len(s.leaning)):
            if abs(s.leaning[j].at - stud.at) <= s.spacing // OWN_PART:
                key, top = "leaning[%d].top" % j, s.leaning[j].top
        text = show(top, job.unit)
        return [
            Problem(
                path + key,
                text,
                "%s, reading at the ceiling: %s has the stud at %s lean by %s, more than a spacing."
                % (w.name, text, show(stud.at, job.unit), show(abs(stud.lean), job.unit)),
                "Read the same stud at floor and ceiling, both from the left corner.",
            )
        ]
    return []
