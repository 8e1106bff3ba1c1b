"""What a job still lacks before it, or one of its walls, can be planned."""

from .jobread import given
from .lengths import UNITS, LengthError, jots_of
from .problems import shown

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    Needs = list[tuple[str, str]]
else:
    Any = object
    Needs = list

_MOST = 400  # rows of one list that are looked through; no list may have more


def opening_name(opening: "dict[str, Any]", before: "list[dict[str, Any]]") -> str:
    """The opening's name, by default its kind and how many of that kind stand before it.

    opening, before: objects of the document, or values read. Errors: none.
    """
    kind = _kind(opening)
    number = 1 + len([1 for o in before if _kind(o) == kind])
    return str(opening.get("name") or "%s %d" % (kind, number))


_KINDS = {
    "door": "Door",
    "pass-through": "Pass-through",
    "radiator": "Radiator",
    "other": "Opening",
}


def _kind(opening: "dict[str, Any]") -> str:
    kind = opening.get("kind")
    return _KINDS.get(kind, "Window") if isinstance(kind, str) else "Window"


def box_name(box: "dict[str, Any]", i: int) -> str:
    """The box's name, by default from its place in the list. Errors: none."""
    return str(box.get("name") or "Box %d" % (i + 1))


def wall_name(wall: "dict[str, Any]", i: int) -> str:
    """The wall's name, by default from its place in the document. Errors: none."""
    return str(wall.get("name") or "Wall %d" % (i + 1))


def job_needs(doc: "dict[str, Any]") -> Needs:
    """What is missing for any wall at all: (path, message)."""
    out: Needs = []
    board = doc.get("board", {})
    _need(out, board, "face", "board.face", "Give the board's face: the height one course covers.")
    stock = board.get("stock", []) if isinstance(board, dict) else None
    if stock == []:
        out.append(("board.stock", "Give at least one stock length."))
    for i, line in _rows(stock):
        say = "Give the length of stock %d." % (i + 1)
        _need(out, line, "length", "board.stock[%d].length" % i, say)
    rules = doc.get("rules", {})
    if isinstance(rules, dict) and rules.get("courses") == "line":
        say = "Give the height of the course line over the floor at the left corner."
        _need(out, rules, "line", "rules.line", say)
    if doc.get("walls", []) == []:
        out.append(("walls", "Measure at least one wall."))
    return out


def walls_needs(doc: "dict[str, Any]", most: int) -> list[Needs]:
    """What is missing for each wall of the document, in its order.

    most: walls of more than this are far too many to name each; none is then.
    """
    walls = doc.get("walls", [])
    out: list[Needs] = []
    if not isinstance(walls, list) or len(walls) > most:
        return out
    unit = doc.get("unit")
    unit = unit if isinstance(unit, str) and unit in UNITS else "in"
    for i in range(len(walls)):
        wall: Any = walls[i]
        own: Needs = []
        if isinstance(wall, dict):
            own = _wall(wall, i, unit)
            before = walls[i - 1] if i else None
            corner = wall.get("corner")
            if isinstance(before, dict) and corner in ("inside", "outside", "mitred") and out[-1]:
                say = "%s continues %s: measure %s first."
                earlier = shown(wall_name(before, i - 1))
                path = "walls[%d].corner" % i
                own.append((path, say % (shown(wall_name(wall, i)), earlier, earlier)))
        out.append(own)
    return out


def _wall(wall: "dict[str, Any]", i: int, unit: str) -> Needs:
    out: Needs = []
    path, name = "walls[%d]." % i, shown(wall_name(wall, i))
    _heights(out, wall, path, name, unit)
    say = "Give the width of %s at the floor." % name
    _need(out, wall, "width_floor", path + "width_floor", say)
    if wall.get("left_corner") in ("in", "out"):
        say = "Give how far the left corner of %s leans over its height." % name
        _need(out, wall, "left_lean", path + "left_lean", say)
    studs = wall.get("studs", {})
    _need(out, studs, "first", path + "studs.first", "Give the first stud mark of %s." % name)
    say = "Give the stud spacing of %s." % name
    _need(out, studs, "spacing", path + "studs.spacing", say)
    leaning = studs.get("leaning", []) if isinstance(studs, dict) else []
    for j, row in _rows(leaning):
        at, what = path + "studs.leaning[%d]." % j, "leaning stud %d of %s" % (j + 1, name)
        _need(out, row, "at", at + "at", "Give the mark at the floor of %s." % what)
        _need(out, row, "top", at + "top", "Give the reading at the ceiling of %s." % what)
    _rects(out, wall, path, name)
    return out


def _rects(out: Needs, wall: "dict[str, Any]", path: str, name: str) -> None:
    rows = _rows(wall.get("openings", []))
    for j, row in rows:
        if isinstance(row, dict):
            called = opening_name(row, [r for k, r in rows if k < j and isinstance(r, dict)])
            what = "%s on %s" % (shown(called), name)
            _each(out, row, path + "openings[%d]." % j, what, ("left", "width", "height"))
    for j, row in _rows(wall.get("boxes", [])):
        if isinstance(row, dict):
            keys: tuple[str, ...] = ("centre", "middle")
            if row.get("by") == "edges":
                keys = ("left", "bottom", "width", "height")
            elif row.get("by") == "diameter":
                keys = ("centre", "middle", "diameter")
            what = "%s on %s" % (shown(box_name(row, j)), name)
            _each(out, row, path + "boxes[%d]." % j, what, keys)
    for j, row in _rows(wall.get("blocking", [])):
        what = "blocking %d on %s" % (j + 1, name)
        keys = ("left", "width", "bottom", "height")
        _each(out, row, path + "blocking[%d]." % j, what, keys)


_WHAT = {
    "left": "where %s begins from the left corner",
    "width": "the width of %s",
    "height": "the height of %s",
    "bottom": "the bottom of %s, up from the floor",
    "centre": "the centre of %s, from the left corner",
    "middle": "the middle of %s, up from the floor",
    "diameter": "the diameter of %s",
}


def _each(out: Needs, row: object, path: str, what: str, keys: "tuple[str, ...]") -> None:
    for key in keys:
        _need(out, row, key, path + key, "Give %s." % (_WHAT[key] % what))


def _heights(out: Needs, wall: "dict[str, Any]", path: str, name: str, unit: str) -> None:
    """The height at both corners, from stations where the wall has them."""
    stations = [(j, s) for j, s in _rows(wall.get("stations", [])) if isinstance(s, dict)]
    for j, s in stations:
        at = path + "stations[%d]." % j
        say = "Give where station %d of %s is, from the left corner." % (j + 1, name)
        _need(out, s, "at", at + "at", say)
    level = [1 for _, s in stations if given(s, "down")] != []
    width = _jots(wall, "width_floor", unit)
    ends = (("left", 0, "height_left"), ("right", width, "height_right"))
    at_ends = []
    for side, x, key in ends:
        here = [(j, s) for j, s in stations if x is not None and _jots(s, "at", unit) == x]
        at_ends.extend([j for j, _ in here])
        if level:
            if not here and (x is not None or side == "left"):
                say = "Give a station at the %s corner of %s, with its readings down and up."
                out.append((path + "stations", say % (side, name)))
            for j, s in here[:1]:
                for reading in ("down", "up"):
                    say = "Give the reading %s at the %s corner of %s." % (reading, side, name)
                    _need(out, s, reading, path + "stations[%d].%s" % (j, reading), say)
        elif side == "left" and not [1 for _, s in here if given(s, "up")]:
            _need(out, wall, key, path + key, "Give the height of %s." % name)
    for j, s in stations:
        if j not in at_ends and not given(s, "down") and not given(s, "up"):
            say = "Give a reading at station %d of %s." % (j + 1, name)
            out.append((path + "stations[%d].up" % j, say))


def _jots(doc: "dict[str, Any]", key: str, unit: str) -> int | None:
    if not given(doc, key):
        return None
    try:
        return jots_of(doc[key], unit)
    except LengthError:
        return None


def _rows(rows: object) -> "list[tuple[int, Any]]":
    """(index, row) of a list; none of what is no list, or has far too many to name each."""
    return list(enumerate(rows)) if isinstance(rows, list) and len(rows) <= _MOST else []


def _need(out: Needs, doc: object, key: str, path: str, say: str) -> None:
    """Add the need for the field to `out`; what is no object is wrong, not missing."""
    if isinstance(doc, dict) and not given(doc, key):
        out.append((path, say))
