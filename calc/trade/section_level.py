"""Level, plumb and square in the job: what each wall's readings say, and what to check."""

from collections import namedtuple

from ..angles import plumb_limit
from ..draft import Table
from ..lengths import JOTS_PER_INCH, JOTS_PER_MM
from ..profile import between
from ..survey import outline
from .levels import (
    LIMITS_SOURCE,
    STUDS_ALIGNED,
    STUDS_SOURCE,
    diagonal,
    limit_words,
    seen,
    tell_slope,
)

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from ..draft import Draft
    from ..job import Job
    from ..jobwalls import Wall
    from ..profile import Point

# A floor or ceiling that runs steeper is a rake or a stair, meant so: 1 in 24, and no less than
# that much in all. Common practice, no source.
_RAKE = 24
_RAKE_LEAST = 2 * JOTS_PER_INCH
_RAKE_LEAST_METRIC = 50 * JOTS_PER_MM
# More is no corner that a straightedge lies on. Common practice, no source.
_BOWED = JOTS_PER_INCH // 8

# What a wall's outline says, in jots. fall: the floor's right end over its left; floor_out,
# ceiling_out: from its lowest to its highest point; ceiling: its right end over its left;
# width: along the floor. left, right: Lean of the corners; wider: at the ceiling than at the
# floor, below 0 where narrower; up_right, up_left: Diagonal. assumed: "floor" or "ceiling"
# where no level line was read and that counts as level, else "".
Levels = namedtuple(
    "Levels",
    "wall fall floor_out ceiling ceiling_out width left right wider up_right up_left assumed",
)
# out: how far its head is over to the right of its foot; height; bow: how far its middle is from
# the straight line, 0 where that was not read.
Lean = namedtuple("Lean", "out height bow")
# across, up: between the two corners that it joins; long: the diagonal itself.
Diagonal = namedtuple("Diagonal", "across up long")


def levels_of(w: "Wall") -> Levels:
    """What the readings of a wall say. Errors: none for a wall of read_job."""
    o = outline(w)
    low, high = [y for _, y in o.floor], [y for _, y in o.ceiling]
    return Levels(
        w.name,
        o.floor[-1][1] - o.floor[0][1],
        max(low) - min(low),
        o.ceiling[-1][1] - o.ceiling[0][1],
        max(high) - min(high),
        w.width_floor,
        _lean(o.left),
        _lean(o.right),
        w.width_top - w.width_floor,
        _across(o.left[0], o.right[-1]),
        _across(o.right[0], o.left[-1]),
        w.level if o.level is None else "",
    )


def _lean(corner: "list[Point]") -> Lean:
    foot, head = corner[0], corner[-1]
    bow = 0
    for x, y in corner[1:-1]:
        bow = max(bow, abs(x - between((foot[1], foot[0]), (head[1], head[0]), y)))
    return Lean(head[0] - foot[0], head[1] - foot[1], bow)


def _across(a: "Point", b: "Point") -> Diagonal:
    across, up = abs(a[0] - b[0]), abs(a[1] - b[1])
    return Diagonal(across, up, diagonal(across, up))


def write(d: "Draft", job: "Job", plan: "dict[str, Any] | None") -> None:
    """Fill the draft with level, plumb and square of every wall. plan: not used."""
    many = [levels_of(w) for w in job.walls]
    lean = max([max(abs(v.left.out), abs(v.right.out)) for v in many])
    d.length("plumb", "Most out of plumb", lean)
    outs = [n for v in many for n in (v.floor_out, v.ceiling_out) if not _raked(d, n, v)]
    d.length("level", "Most out of level", max([0] + outs))
    d.tables.append(
        Table(
            "Level and plumb",
            [
                "Wall",
                "Floor",
                "Ceiling",
                "Left corner",
                "Right corner",
                "Top against floor",
                "Diagonals should be",
            ],
            [
                [
                    v.wall,
                    _level_text(d, v.fall, v.floor_out),
                    _level_text(d, v.ceiling, v.ceiling_out),
                    _lean_text(d, v.left, 1),
                    _lean_text(d, v.right, -1),
                    _wider_text(d, v.wider),
                    _diagonals_text(d, v),
                ]
                for v in many
            ],
        )
    )
    for name in ("floor", "ceiling"):
        walls = [v.wall for v in many if v.assumed == name]
        if walls:
            d.row("The %s counts as level" % name, "no level line was read: " + "; ".join(walls))
    for v in many:
        _tell(d, v)
    d.row(
        "Studs",
        "neighbours in one plane within %s (%s): lay a straightedge over three"
        % (d.show(STUDS_ALIGNED), STUDS_SOURCE),
    )
    d.row("Limits of plumb", "by a " + LIMITS_SOURCE)
    for key in ("damp-wall", "clearances"):
        d.caution(key)


def _tell(d: "Draft", v: Levels) -> None:
    """Rows, working and warnings of one wall."""
    key = v.wall + " "
    d.value(key + "floor", v.fall)
    d.value(key + "ceiling", v.ceiling)
    d.value(key + "left", v.left.out)
    d.value(key + "right", v.right.out)
    d.value(key + "wider", v.wider)
    d.value(key + "up right", v.up_right.long)
    d.value(key + "up left", v.up_left.long)
    for name, lean, way in (("left", v.left, 1), ("right", v.right, -1)):
        if lean.out:
            tell_slope(d, "%s, %s corner" % (v.wall, name), abs(lean.out), lean.height)
        if plumb_limit(abs(lean.out), lean.height) is None:
            d.warn(
                "%s: the %s corner leans %s by %s over %s, past the loosest usual limit: take the "
                "length of each course there at its own height, and scribe the ends."
                % (v.wall, name, "in" if lean.out * way > 0 else "out", d.show(abs(lean.out)),
                   d.show(lean.height))
            )  # fmt: skip
        if lean.bow > _BOWED:
            d.warn(
                "%s: the %s corner is %s off straight half-way up: scribe the ends there, or cover "
                "them with a bead." % (v.wall, name, d.show(lean.bow))
            )
    for name, fall, out in (
        ("floor", v.fall, v.floor_out),
        ("ceiling", v.ceiling, v.ceiling_out),
    ):
        if fall:
            tell_slope(d, "%s, %s" % (v.wall, name), abs(fall), v.width)
        if out > seen(d.unit) and not _raked(d, out, v):
            d.warn(
                "%s: the %s is %s out of level: lay the courses to a level line, and rip the taper "
                "off the course that meets it." % (v.wall, name, d.show(out))
            )
    for side, line in (("right", v.up_right), ("left", v.up_left)):
        if side == "left" and line == v.up_right:
            continue
        d.step(
            "%s, diagonal up to the %s" % (v.wall, side),
            "square root of across^2 + up^2, corner to corner as surveyed",
            "root(%s^2 + %s^2)" % (d.show(line.across), d.show(line.up)),
            d.show(line.long), "plane geometry",
        )  # fmt: skip


def _raked(d: "Draft", out: int, v: Levels) -> bool:
    """Whether that much over the wall's width is meant to be: a rake, a stair or a step."""
    least = _RAKE_LEAST if d.unit in ("in", "ft") else _RAKE_LEAST_METRIC
    return bool(out >= least and out * _RAKE > v.width)


def _diagonals_text(d: "Draft", v: Levels) -> str:
    """What the tape should read corner to corner, if the survey is right."""
    right, left = v.up_right.long, v.up_left.long
    if right == left:
        return "both %s" % d.show(right)
    return "%s up to the right, %s up to the left" % (d.show(right), d.show(left))


def _level_text(d: "Draft", fall: int, out: int) -> str:
    if not out:
        return "level"
    text = "%s %s to the right" % ("climbs" if fall > 0 else "falls", d.show(abs(fall)))
    if not fall:
        return "%s out, ends level" % d.show(out)
    return text if out == abs(fall) else "%s, %s out in all" % (text, d.show(out))


def _lean_text(d: "Draft", lean: Lean, way: int) -> str:
    if not lean.out:
        return "plumb"
    return "%s %s over %s, %s" % (
        "in" if lean.out * way > 0 else "out", d.show(abs(lean.out)), d.show(lean.height),
        limit_words(abs(lean.out), lean.height, d.unit),
    )  # fmt: skip


def _wider_text(d: "Draft", wider: int) -> str:
    if not wider:
        return "as wide"
    return "%s %s" % (d.show(abs(wider)), "wider" if wider > 0 else "narrower")
