"""The openings that are trimmed, each with the space its casing has on every side.

Lengths are jots, in the wall's own frame (calc/survey.py). Source: plane geometry; who gives way
where two casings meet: common practice, no source.
"""

from collections import namedtuple

from ..profile import y_at
from ..survey import corner_x, opening_rect, outline
from .casing import Band, Casing, band, ripped

TYPE_CHECKING = False
if TYPE_CHECKING:
    from ..job import Job
    from ..jobwalls import Opening, Wall
    from ..profile import Point
    from ..survey import Outline, Rect

# wall: its name; opening: the job's record; rect: where it stands; foot: "stool", "casing" or
# "floor"; spaces: list of Space, left, right, top, and bottom where the foot is no floor;
# left_leg, right_leg: from where the leg stands to the opening's head, the longest of its width;
# slant: how much the floor falls or climbs under the legs, at most; casing: a Casing (casing.py).
Trimmed = namedtuple("Trimmed", "wall opening rect foot spaces left_leg right_leg slant casing")
# side: "left", "right", "head" or "foot"; room: from the opening's edge, what this one may take;
# by: what is there, "the ceiling", "Window 2"; shared: whether that is cased as well and both
# give way.
Space = namedtuple("Space", "side room by shared")


def is_trimmed(p: "Opening") -> bool:
    """Whether an Opening of the job is cased. The one place that says so. Errors: none."""
    return p.trim == "cased" or (p.trim == "by-kind" and p.kind in ("window", "door"))


def foot_of(job: "Job", p: "Opening") -> str:
    """What its casing stands on: "stool", "casing" or "floor".

    A window's as the job says; what reaches the floor has no foot; others are cased all round.
    """
    if p.kind == "door" or (p.kind != "window" and p.bottom == 0):
        return "floor"
    return str(job.trade.trim.foot) if p.kind == "window" else "casing"


def trimmed(job: "Job") -> list[Trimmed]:
    """Every opening that is cased, wall by wall, as the job lists them. Errors: none."""
    out = []
    for w in job.walls:
        o = outline(w)
        rects = [opening_rect(o, p) for p in w.openings]
        for k, p in enumerate(w.openings):
            if is_trimmed(p):
                out.append(_trimmed(job, w, o, rects, k))
    return out


def _trimmed(job: "Job", w: "Wall", o: "Outline", rects: "list[Rect]", k: int) -> Trimmed:
    t, p, r = job.trade.trim, w.openings[k], rects[k]
    foot = foot_of(job, p)
    spaces = _spaces(job, w, o, rects, k)
    sliver = job.rules.sliver
    sides = [band(s.room, t.reveal, t.width, sliver) for s in spaces]
    left, right, top = sides[0], sides[1], sides[2]
    bottom, drop = Band(t.reveal, t.width), 0
    if foot == "casing":
        bottom = sides[3]
    elif foot == "stool":
        drop = ripped(spaces[3].room - t.jamb, t.width, sliver)
    legs, slant = [r.top - r.bottom] * 2, 0
    if foot == "floor":
        legs = []
        for edge, b, way in ((r.left, left, -1), (r.right, right, 1)):
            near, far = edge + way * b.reveal, edge + way * (b.reveal + b.wide)
            ys = _along(o.floor, min(near, far), max(near, far))
            legs.append(r.top - min(ys))
            slant = max(slant, max(ys) - min(ys))
    horns = [
        max(min(t.horn, s.room - b.reveal - b.wide), 0) for s, b in zip(spaces[:2], (left, right))
    ]
    c = Casing(
        p.width, legs[0], legs[1], t.joint, foot, left, right, top, bottom, horns[0], horns[1], drop
    )
    return Trimmed(w.name, p, r, foot, spaces, legs[0], legs[1], slant, c)


def _spaces(job: "Job", w: "Wall", o: "Outline", rects: "list[Rect]", k: int) -> list[Space]:
    """What the casing of rects[k] may take on each side, from the opening's edge."""
    r = rects[k]
    foot = foot_of(job, w.openings[k])
    left, low, right, high = _taken(job, w, r, k)
    thick = job.board.thickness
    ins = thick if w.corner == "inside" else 0
    start = max([corner_x(o.left, y) for y in _heights(o.left, low, high)]) + ins
    ins = thick if w.corner_right in ("inside", "boards") else 0
    end = min([corner_x(o.right, y) for y in _heights(o.right, low, high)]) - ins
    out = [
        Space("left", r.left - start, "the left corner", False),
        Space("right", end - r.right, "the right corner", False),
        Space("head", min(_along(o.ceiling, left, right)) - r.top, "the ceiling", False),
    ]
    if foot != "floor":
        floor = max(_along(o.floor, left, right))
        out.append(Space("foot", r.bottom - floor, "the floor", False))
    for n in range(len(rects)):
        if n == k:
            continue
        q = rects[n]
        q_left, q_low, q_right, q_high = _taken(job, w, q, n)
        gap = -1
        if q_low < high and q_high > low:
            if q.right <= r.left:
                side, gap, theirs = 0, r.left - q.right, q_right - q.right
            elif q.left >= r.right:
                side, gap, theirs = 1, q.left - r.right, q.left - q_left
        if gap < 0 and q.left < r.right and q.right > r.left:
            if q.bottom >= r.top:
                side, gap, theirs = 2, q.bottom - r.top, q.bottom - q_low
            elif q.top <= r.bottom and foot != "floor":
                side, gap, theirs = 3, r.bottom - q.top, q_high - q.top
        if gap < 0:
            continue
        mine = (r.left - left, right - r.right, high - r.top, r.bottom - low)[side]
        shared = theirs > 0
        if shared and gap < mine + theirs:
            gap = max(gap // 2, gap - theirs)  # both give way
        elif shared:
            gap = mine + (gap - mine - theirs) // 2  # the horns between them likewise
        if gap < out[side].room:
            out[side] = Space(out[side].side, gap, q.name, shared)
    return out


def _taken(job: "Job", w: "Wall", r: "Rect", k: int) -> tuple[int, int, int, int]:
    """(left, bottom, right, top) of the opening with all its casing wants."""
    t = job.trade.trim
    p = w.openings[k]
    if not is_trimmed(p):
        return r.left, r.bottom, r.right, r.top
    out = t.reveal + t.width
    foot = foot_of(job, p)
    down = {"floor": 0, "casing": out, "stool": t.jamb + t.width}[foot]
    return r.left - out, r.bottom - down, r.right + out, r.top + out


def _heights(corner: "list[Point]", low: int, high: int) -> list[int]:
    return [low, high] + [y for _, y in corner if low < y < high]


def _along(line: "list[Point]", left: int, right: int) -> list[int]:
    """The line's y at both ends and at every point between them."""
    inner = [y for x, y in line if left < x < right]
    return [y_at(line, left, 1), y_at(line, right, -1)] + inner
