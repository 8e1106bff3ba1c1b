"""One wall of the job file: its records, and what is wrong with its readings."""

from collections import namedtuple

from .jobneeds import box_name, opening_name, wall_name
from .jobread import Reader
from .profile import y_at
from .survey import (
    OutlineError,
    block_rect,
    box_rect,
    ceiling_at,
    floor_at,
    lines,
    opening_rect,
    outline,
)

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .survey import Outline, Rect
else:
    Any = object

# Lengths in jots; what was not given and has no default is None.
# height_left, height_right  None where the document has stations
# index      of the wall in the document, from 0; default names count by it
# stations   Stations in order, always from 0 to the width at the floor: where the
#            document has none, or none at an end, the heights stand there as `up`
# level      "floor" or "ceiling": what is level where no station has `down`
# left_corner, left_lean     "plumb", "in" or "out", and by how much (0 where plumb)
# corner     how it starts on the wall before: "none", "inside", "outside", "mitred"
# corner_right  the same of the wall after it in the document, be that complete or not, or
#            "boards" where its right end butts boards that hang there already
Wall = namedtuple(
    "Wall",
    "name height_left height_right width_floor width_top studs index level stations width_middle "
    "left_corner left_lean corner corner_right openings boxes blocking",
)
# first, spacing in jots; found, missing and doubled are lists of jots from the left
# corner, first_top from the left corner at the ceiling; leaning is a list of Leaning.
Studs = namedtuple("Studs", "first spacing found missing first_top leaning doubled")
# at from the left corner at the floor, top from the left corner at the ceiling.
Leaning = namedtuple("Leaning", "at top")
# down, up: from the level line; without any down, up is the height.
Station = namedtuple("Station", "at down up")
# trim: "by-kind", "cased" or "none"; depths: from the jamb's edge to the wallboard at its top
# left, top right, bottom left and bottom right, None where not read; proud: past the wallboard.
Opening = namedtuple("Opening", "name kind left width bottom height trim depths proud")
# by is "gangs", "edges" or "diameter"; the fields of the others are None. holds: "device" or
# "pipe"; proud, set_back: of its front from the wallboard's; extension: fitted to it already.
Box = namedtuple(
    "Box",
    "name by standard gangs centre middle left bottom width height diameter "
    "holds proud set_back extension",
)
Block = namedtuple("Block", "left width bottom height")


def read_wall(w: "dict[str, Any]", i: int, after: "dict[str, Any]") -> Wall:
    """The record of a wall that lacks nothing, from the values read.

    w: the wall's values by field; i: its index in the document; after: the
    next wall's values, {} for the last. Studs and parts may lack what they need
    where only the outline is wanted.
    """
    s = w.get("studs") or {}
    left = w.get("height_left")
    corner = w.get("left_corner", "plumb")
    rows = w.get("stations") or []
    leaning = [Leaning(k.get("at"), k.get("top")) for k in s.get("leaning") or []]
    many = w.get("openings") or []
    return Wall(
        wall_name(w, i),
        None if rows else left,
        None if rows else w.get("height_right", left),
        w["width_floor"],
        w.get("width_top", w["width_floor"]),
        Studs(
            s.get("first"), s.get("spacing"), s.get("found") or [], s.get("missing") or [],
            s.get("first_top"), leaning, s.get("doubled") or [],
        ),
        i,
        w.get("level", "floor"),
        _stations(w),
        w.get("width_middle"),
        corner,
        0 if corner == "plumb" else w["left_lean"],
        w.get("corner", "none"),
        _right(w, after),
        [_opening(many[j], opening_name(many[j], many[:j])) for j in range(len(many))],
        [_box(b, j) for j, b in enumerate(w.get("boxes") or [])],
        [Block(b.get("left"), b.get("width"), b.get("bottom"), b.get("height"))
         for b in w.get("blocking") or []],
    )  # fmt: skip


def _right(w: "dict[str, Any]", after: "dict[str, Any]") -> str:
    """What the boards meet at the wall's right end."""
    corner: str = after.get("corner", "none")
    return "boards" if corner == "none" and w.get("right_end") == "boards" else corner


def _stations(w: "dict[str, Any]") -> list[Station]:
    """The stations with one at each end; see Wall."""
    width = w["width_floor"]
    rows = [Station(s.get("at"), s.get("down"), s.get("up")) for s in w.get("stations") or []]
    if [1 for s in rows if s.down is not None]:
        return rows
    rows = [s for s in rows if s.up is not None]
    if not rows or rows[0].at > 0:
        rows = [Station(0, None, w["height_left"])] + rows
    if rows[-1].at < width:
        rows.append(Station(width, None, w.get("height_right", rows[0].up)))
    return rows


_CORNERS = ("top_left", "top_right", "bottom_left", "bottom_right")


def _opening(o: "dict[str, Any]", name: str) -> Opening:
    return Opening(
        name, o.get("kind", "window"), o.get("left"), o.get("width"), o.get("bottom", 0),
        o.get("height"), o.get("trim", "by-kind"), [o.get("depth_" + c) for c in _CORNERS],
        o.get("proud", 0),
    )  # fmt: skip


_USED = {
    "gangs": ("standard", "gangs", "centre", "middle"),
    "edges": ("left", "bottom", "width", "height"),
    "diameter": ("centre", "middle", "diameter"),
}
_USUAL = {"standard": "us", "gangs": 1}


def _box(b: "dict[str, Any]", j: int) -> Box:
    by = b.get("by", "gangs")
    held = [
        b.get(key, _USUAL.get(key)) if key in _USED[by] else None
        for key in ("standard", "gangs", "centre", "middle", "left", "bottom", "width", "height",
                    "diameter")
    ]  # fmt: skip
    held += [b.get("holds", "device")]
    held += [b.get(key, 0) for key in ("proud", "set_back", "extension")]
    return Box(box_name(b, j), by, *held)


def check_wall(
    w: "dict[str, Any]", i: int, lacks: "list[tuple[str, str]]", reader: Reader
) -> tuple[int, int]:
    """Add what is wrong with the wall's shape and parts to the reader's problems.

    w: its values as far as they could be read; lacks: its needs. Returns the
    jots from floor to ceiling where they are nearest, and from the lowest floor
    to the highest ceiling, as far as they are known, or 0.
    """
    path, label = "walls[%d]." % i, "Wall %d, " % (i + 1)
    _check_stations(w, path, label, reader)
    _check_names(w, path, label, reader)
    if i == 0 and w.get("corner", "none") != "none":
        reader.add(
            path + "corner", w["corner"], label + "corner: the first wall has none before it.",
            "Choose none, or survey the wall that it continues before it.",
        )  # fmt: skip
    heights = [w[key] for key in ("height_left", "height_right") if key in w]
    known = (min(heights), max(heights)) if heights else (0, 0)
    if "width_floor" not in w:
        return known
    held = [field for field, _ in lacks] + [p.field for p in reader.problems]
    if [1 for field in held if field.startswith(path) and field[len(path) :].startswith(_SHAPE)]:
        return known
    wall = read_wall(w, i, {})
    known = _check_heights(w, wall, path, label, reader)
    if known[0] <= 0:
        return known
    try:
        o = outline(wall)
    except OutlineError as e:
        key = e.field if e.field in w else "width_floor"
        reader.add_length(path + key, w[key], label + e.message, e.fix, None)
        return known
    check_parts(wall, o, path, label, reader)
    return known


# A wall's fields that its outline is made from.
_SHAPE = ("height", "stations", "width", "left_", "level")


def _check_stations(w: "dict[str, Any]", path: str, label: str, reader: Reader) -> None:
    rows = w.get("stations") or []
    width = w.get("width_floor")
    level = [1 for s in rows if "down" in s] != []
    places: list[int] = []
    for j in range(len(rows)):
        at = rows[j].get("at")
        if at is None:
            continue
        where, what = path + "stations[%d].at" % j, "%sstation %d: " % (label, j + 1)
        if width is not None and at > width:
            reader.add_length(
                where, at, what + "%s is beyond the wall's width.", "Give at most %s.", width
            )
        elif places and at < places[-1]:
            reader.add_length(
                where, at, what + "%s is left of the station before it.",
                "Give the stations from left to right; the one before is at %s.", places[-1],
            )  # fmt: skip
        elif places and at == places[-1]:
            if at == 0 or at == width or places[-2:] == [at, at]:
                reader.add_length(
                    where, at, what + "%s has a station already.",
                    "Give one at a corner, two at a step: left of it, then right of it.", None,
                )  # fmt: skip
        places.append(at)
    for key, x in (("height_left", 0), ("height_right", width)):
        if key not in w:
            continue
        side = label + "height at the " + key[7:] + ": "
        if level:
            reader.add_length(
                path + key, w[key], side + "%s is given beside readings down from a level line.",
                "Take one out: this height, or the readings down.", None,
            )  # fmt: skip
            continue
        for s in rows:
            if s.get("at") == x and s.get("up", w[key]) != w[key]:
                reader.add_length(
                    path + key, w[key], side + "%s, and the station there says otherwise.",
                    "Take one out; the station says %s.", s["up"],
                )  # fmt: skip


def _check_heights(
    w: "dict[str, Any]", wall: Wall, path: str, label: str, reader: Reader
) -> tuple[int, int]:
    """(least, whole) height of the wall; the least is 0 or less where it is told of."""
    floor, ceiling, level = lines(wall)
    rows = w.get("stations") or []
    if level is None:  # floor or ceiling is straight, so `up` is the height
        heights = [s.up for s in wall.stations]
        least = min(heights)
        if least <= 0:
            low = [j for j in range(len(rows)) if rows[j].get("up") == least]
            _flat(low[0], rows, path, label, reader)
        return least, max(heights) if least > 0 else 0
    least = max([y for _, y in ceiling])
    for side in (-1, 1):
        for x, _ in floor + ceiling:
            high = y_at(ceiling, x, side) - y_at(floor, x, side)
            least = min(least, high)
            if high <= 0:
                here = [j for j in range(len(rows)) if rows[j]["at"] == x]
                _flat(here[-1 if side > 0 else 0], rows, path, label, reader)
                return high, 0
    return least, max([y for _, y in ceiling])


def _flat(j: int, rows: "list[dict[str, Any]]", path: str, label: str, reader: Reader) -> None:
    key = "up" if "up" in rows[j] else "down"
    reader.add_length(
        path + "stations[%d].%s" % (j, key), rows[j][key],
        "%sstation %d: with %%s %s the ceiling is not above the floor." % (label, j + 1, key),
        "Check the readings there; of a step, give the left side first.", None,
    )  # fmt: skip


def _check_names(w: "dict[str, Any]", path: str, label: str, reader: Reader) -> None:
    many = w.get("openings") or []
    named = [("openings[%d]" % j, opening_name(many[j], many[:j])) for j in range(len(many))]
    many = w.get("boxes") or []
    for j in range(len(many)):
        named.append(("boxes[%d]" % j, box_name(many[j], j)))
        if many[j].get("by", "gangs") == "gangs" and many[j].get("standard") == "au":
            reader.add(
                path + "boxes[%d].standard" % j, "au",
                "%sbox %d: AU/NZ boxes have no usual size." % (label, j + 1),
                "Measure the box, and give its edges.",
            )  # fmt: skip
    names: list[str] = []
    for where, name in named:
        if name in names:
            reader.add(
                path + where + ".name", name, '%sname: "%s" is taken.' % (label, name),
                "Give each opening and box of a wall a name of its own.",
            )  # fmt: skip
        names.append(name)


def check_parts(wall: Wall, o: "Outline", path: str, label: str, reader: Reader) -> None:
    """Whether openings, boxes and blocking that lack nothing stand within the wall."""
    for j in range(len(wall.openings)):
        p = wall.openings[j]
        if None not in (p.left, p.width, p.height):
            at = path + "openings[%d]." % j
            _within(
                opening_rect(o, p), o, (at + "left", at + "width", at + "height"), label, reader
            )
    for j in range(len(wall.boxes)):
        b = wall.boxes[j]
        at = path + "boxes[%d]." % j
        if b.by == "edges" and None not in (b.left, b.bottom, b.width, b.height):
            keys = (at + "left", at + "width", at + "height")
            _within(box_rect(o, b), o, keys, label, reader)
        elif b.by != "edges" and None not in (b.centre, b.middle):
            sized = b.diameter is not None if b.by == "diameter" else b.standard != "au"
            if sized:
                keys = (at + "centre", at + "centre", at + "middle")
                _within(box_rect(o, b), o, keys, label, reader)
    for j in range(len(wall.blocking)):
        k = wall.blocking[j]
        if None not in (k.left, k.width, k.bottom, k.height):
            at = path + "blocking[%d]." % j
            keys = (at + "left", at + "width", at + "height")
            _within(block_rect(o, k, j), o, keys, label, reader)


def _within(
    r: "Rect", o: "Outline", keys: "tuple[str, str, str]", label: str, reader: Reader
) -> None:
    """Tell where the rectangle sticks out of the wall, once. keys: fields of left, right, up."""
    low = min([x for x, _ in o.left])
    high = max([x for x, _ in o.right])
    ceiling = [y for x, y in o.ceiling if r.left < x < r.right]
    top = max(ceiling + [ceiling_at(o, r.left), ceiling_at(o, r.right)])
    floor = [y for x, y in o.floor if r.left < x < r.right]
    bottom = min(floor + [floor_at(o, r.left), floor_at(o, r.right)])
    what = label + r.name.replace("%", "%%")
    if r.left < low:
        reader.add_length(
            keys[0], low - r.left, what + ": its left edge is %s beyond the left corner.",
            "Check its place and size.", None,
        )  # fmt: skip
    elif r.right > high:
        key = keys[0] if r.left >= high else keys[1]
        reader.add_length(
            key, r.right, what + ": its right edge at %s is beyond the right corner.",
            "Check its place and size; the wall ends at %s.", high,
        )  # fmt: skip
    elif r.top > top:
        reader.add_length(
            keys[2], r.top - top, what + ": its top is %s above the ceiling.",
            "Check its height and where its bottom is.", None,
        )  # fmt: skip
    elif r.bottom < bottom:
        reader.add_length(
            keys[2], bottom - r.bottom, what + ": its bottom is %s under the floor.",
            "Check its height and where its middle is.", None,
        )  # fmt: skip
