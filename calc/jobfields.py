"""The table of fields of lapwright-job: what each holds, its range and its default.

Bounds: see bounds.py. Defaults: common practice, no source.
"""

from collections import namedtuple

from .bounds import (
    LONGEST_BOARD,
    MOST_ALLOWANCE,
    MOST_BOX,
    MOST_BOXES,
    MOST_END_GAP,
    MOST_FACE,
    MOST_GANGS,
    MOST_JOINT_GAP,
    MOST_KEPT,
    MOST_KERF,
    MOST_LEAN,
    MOST_OPENINGS,
    MOST_OVERALL,
    MOST_REACH,
    MOST_READINGS,
    MOST_SHORTEST,
    MOST_STATIONS,
    MOST_THICKNESS,
    MOST_TRIM,
    TALLEST,
    WIDEST,
)
from .lengths import JOTS_PER_INCH, JOTS_PER_MM, UNITS

# kind: "length" jots from lo to hi; "lengths" a list of at most hi, each as fields[0];
#       "choice" one of choices; "text" at most hi characters; "count" a whole number
#       lo to hi; "money" 0 to hi, read as hundredths; "object" with fields; "objects" a
#       list of at most hi of them; "any" checked elsewhere.
# default, metric: the value where none is given, in jots for a length; metric
#       where the job's unit is mm, cm or m. None: no default.
Field = namedtuple("Field", "key label kind lo hi choices fields default metric")

MOST_COURSES = 600
MOST_MARKS = 4000  # pieces marked as cut, and so on
MOST_ID = 40  # characters
MOST_WALLS = 40
MOST_STUDS = 250
_INCH = JOTS_PER_INCH
_MM = JOTS_PER_MM
_M = 1000 * JOTS_PER_MM


def _length(
    key: str, label: str, lo: int, hi: int, default: int | None = None, metric: int | None = None
) -> Field:
    return Field(key, label, "length", lo, hi, (), [], default, metric)


def _choice(key: str, label: str, choices: tuple[str, ...]) -> Field:
    return Field(key, label, "choice", 0, 0, choices, [], choices[0], choices[0])


def _of(key: str, label: str, kind: str, hi: int, fields: list[Field]) -> Field:
    return Field(key, label, kind, 0, hi, (), fields, None, None)


# What tells one of a list from the others where two copies of a job are merged; where none is
# given, its place in the list, from 1.
_ID = _of("id", "id", "text", MOST_ID, [])
STOCK = [
    _length("length", "length", 300 * _MM, LONGEST_BOARD),
    _of("price", "price", "money", 1000000, []),
    _of("count", "count", "count", 100000, []),
    _choice("kind", "kind", ("new", "offcut")),
    _ID,
]
BOARD = [
    _length("face", "Face", 10 * _MM, MOST_FACE),
    _length("overall", "Overall width", 10 * _MM, MOST_OVERALL),
    _length("thickness", "Thickness", _MM, MOST_THICKNESS, 3 * _INCH // 4, 19 * _MM),
    _choice("edge", "Edge", ("lapped", "tongue-and-groove", "square")),
    _of("stock", "Stock", "objects", 20, STOCK),
    _choice("ends", "Ends", ("plain", "matched")),
]
# In the order of job.Rules.
RULES = [
    _choice("start", "Start edge", ("floor", "ceiling")),
    _choice("courses", "Courses", ("full", "balanced", "head", "sill", "line")),
    _length("kerf", "Saw kerf", 0, MOST_KERF, _INCH // 8, 3 * _MM),
    _length("end_gap", "Gap at each end", 0, MOST_END_GAP, _INCH // 8, 3 * _MM),
    _length("joint_gap", "Gap at each joint", 0, MOST_JOINT_GAP, 0, 0),
    _length("floor_gap", "Gap at the floor", 0, _M, 0, 0),
    _length("ceiling_gap", "Gap at the ceiling", 0, _M, 0, 0),
    _length("shortest", "Shortest piece", 0, MOST_SHORTEST, 16 * _INCH, 400 * _MM),
    _length("stagger", "Joints apart, at least", 0, MOST_SHORTEST, 0, 0),
    _length("least_rip", "Narrowest rip", 0, MOST_FACE, 2 * _INCH, 50 * _MM),
    _length("line", "Course line", 0, TALLEST),
    _of("align", "Opening to align with", "text", 40, []),
    _length("opening_gap", "Gap around openings", 0, MOST_END_GAP, _INCH // 8, 3 * _MM),
    _length("box_gap", "Gap around boxes", 0, MOST_JOINT_GAP, _INCH // 16, 3 * _MM // 2),
    _length("sliver", "Narrowest strip", 0, MOST_END_GAP, _INCH // 2, 13 * _MM),
    _length("trim", "Trim off each board end", 0, MOST_TRIM, 0, 0),
    Field("reach", "Joint on the same stud after", "count", 1, MOST_REACH, (), [], 1, 1),
    _length("spread", "Joints rather apart by", 0, MOST_SHORTEST, 24 * _INCH, 600 * _MM),
    _length("allowance", "Over at the walls", 0, MOST_ALLOWANCE, 0, 0),
    _of("kept", "Offcuts kept for later", "count", MOST_KEPT, []),
]
_MARK = _length("", "mark", 1, WIDEST)
LEANING = [
    _length("at", "mark at the floor", 1, WIDEST),
    _length("top", "reading at the ceiling", 0, WIDEST),
    _ID,
]
STUDS = [
    _length("first", "first mark", 1, WIDEST),
    _length("spacing", "stud spacing", 6 * _INCH, 60 * _INCH),
    _of("found", "found mark", "lengths", MOST_READINGS, [_MARK]),
    _of("missing", "missing mark", "lengths", MOST_READINGS, [_MARK]),
    _length("first_top", "first mark at the ceiling", 0, WIDEST),
    _of("leaning", "leaning stud", "objects", MOST_READINGS, LEANING),
    _of("doubled", "doubled stud", "lengths", MOST_READINGS, [_MARK]),
]
STATION = [
    _length("at", "place", 0, WIDEST),
    _length("down", "down to the floor", 0, TALLEST),
    _length("up", "up to the ceiling", 0, TALLEST),
    _ID,
]
_LEFT = _length("left", "left edge", 0, WIDEST)
_BOTTOM = _length("bottom", "bottom", 0, TALLEST)
_KINDS = ("window", "door", "pass-through", "radiator", "other")
OPENING = [
    _of("name", "name", "text", 40, []),
    _choice("kind", "kind", _KINDS),
    _LEFT,
    _length("width", "width", 10 * _MM, WIDEST),
    _length("bottom", "bottom", 0, TALLEST, 0, 0),
    _length("height", "height", 10 * _MM, TALLEST),
    _ID,
]
BLOCK = [
    _LEFT,
    _length("width", "width", 10 * _MM, WIDEST),
    _BOTTOM,
    _length("height", "height", 10 * _MM, TALLEST),
    _ID,
]
BOX = [
    _of("name", "name", "text", 40, []),
    _choice("by", "measured by", ("gangs", "edges", "diameter")),
    _choice("standard", "standard", ("us", "uk", "eu", "au")),
    Field("gangs", "gangs", "count", 1, MOST_GANGS, (), [], 1, 1),
    _length("centre", "centre", 0, WIDEST),
    _length("middle", "middle", 0, TALLEST),
    _LEFT,
    _BOTTOM,
    _length("width", "width", 10 * _MM, MOST_BOX),
    _length("height", "height", 10 * _MM, MOST_BOX),
    _length("diameter", "diameter", 10 * _MM, MOST_BOX),
    _ID,
]
WALL = [
    _of("name", "name", "text", 40, []),
    _length("height_left", "height at the left", 50 * _MM, TALLEST),
    _length("height_right", "height at the right", 50 * _MM, TALLEST),
    _length("width_floor", "width at the floor", 100 * _MM, WIDEST),
    _length("width_top", "width at the top", 100 * _MM, WIDEST),
    _of("studs", "", "object", 0, STUDS),
    _choice("level", "level", ("floor", "ceiling")),
    _of("stations", "station", "objects", MOST_STATIONS, STATION),
    _length("width_middle", "width half-way up", 100 * _MM, WIDEST),
    _choice("left_corner", "left corner", ("plumb", "in", "out")),
    _length("left_lean", "lean of the left corner", 0, MOST_LEAN),
    _choice("corner", "corner", ("none", "inside", "outside", "mitred")),
    _choice("right_end", "right end", ("wall", "boards")),
    _of("openings", "opening", "objects", MOST_OPENINGS, OPENING),
    _of("boxes", "box", "objects", MOST_BOXES, BOX),
    _of("blocking", "blocking", "objects", MOST_READINGS, BLOCK),
    _ID,
]
# Where a piece hangs: wall: the wall's id; run: of the course, from the left, piece: of the run,
# both from 1; joints: those of its run, that it was cut for.
_PLACE = [
    _of("wall", "wall", "text", MOST_ID, []),
    Field("course", "course", "count", 1, MOST_COURSES, (), [], None, None),
    Field("run", "run", "count", 1, MOST_OPENINGS * 2, (), [], None, None),
    Field("piece", "piece", "count", 1, MOST_STUDS, (), [], None, None),
    _of("joints", "joint", "lengths", MOST_STUDS, [_length("", "joint", 0, WIDEST)]),
]
# The board with that number pencilled on it: stock, kind, line: its length when it was new, and
# the id of its line of the stock; from: the id of the mark of the short piece that it is.
_BOARD = [
    Field("board", "board", "count", 1, 100000, (), [], None, None),
    _length("stock", "board's length", _MM, LONGEST_BOARD),
    _choice("kind", "kind", ("new", "offcut")),
    _of("line", "stock line", "text", MOST_ID, []),
    _of("from", "short piece", "text", MOST_ID, []),
]
CUT = (
    _PLACE
    + _BOARD
    + [
        _choice("state", "state", ("cut", "short")),
        _length("length", "length", _MM, LONGEST_BOARD),
        _of("name", "name", "text", 12, []),
        _ID,
    ]
)
REJECTED = _BOARD + [_of("why", "why", "text", 80, []), _ID]
CALLED = _PLACE + [_length("length", "length", _MM, LONGEST_BOARD), _ID]
DONE = [
    _of("cut", "Cut", "objects", MOST_MARKS, CUT),
    _of("rejected", "Rejected board", "objects", MOST_MARKS, REJECTED),
    _of("called", "Called length", "objects", MOST_MARKS, CALLED),
]
JOB = [
    _of("format", "Format", "any", 0, []),
    _of("version", "Version", "any", 0, []),
    _of("title", "Title", "text", 80, []),
    _choice("unit", "Unit", UNITS),
    _of("board", "", "object", 0, BOARD),
    _of("rules", "", "object", 0, RULES),
    _of("walls", "Wall", "objects", MOST_WALLS, WALL),
    _of("done", "", "object", 0, DONE),
]


def id_of(item: object, place: int) -> str:
    """The id of the item at that place, from 0, of its list. Errors: none."""
    given = item.get("id") if isinstance(item, dict) else None
    return given if isinstance(given, str) and given else str(place + 1)


def nearest_name(name: str, known: "list[str] | tuple[str, ...]") -> str:
    """The known name that a slip of at most two letters made `name` of, or ""."""
    best, least = "", 3
    for k in known:
        d = _slips(name[:40], k)
        if d < least and 2 * d <= len(k):
            best, least = k, d
    return best


def _slips(a: str, b: str) -> int:
    """How many letters were added, dropped, changed or swapped between a and b."""
    before: list[int] = []
    row = list(range(len(b) + 1))
    for i in range(1, len(a) + 1):
        after = [i]
        for j in range(1, len(b) + 1):
            d = min(row[j] + 1, after[j - 1] + 1, row[j - 1] + (a[i - 1] != b[j - 1]))
            if i > 1 and j > 1 and a[i - 1] == b[j - 2] and a[i - 2] == b[j - 1]:
                d = min(d, before[j - 2] + 1)
            after.append(d)
        before, row = row, after
    return row[len(b)]
