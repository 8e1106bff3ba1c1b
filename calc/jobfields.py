"""The table of fields of lapwright-job: what each holds, its range and its default.

Bounds: see bounds.py. Defaults: common practice, no source.
"""

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
from .fieldkinds import ID, MOST_ID, Field, choice, length, of
from .lengths import JOTS_PER_INCH, JOTS_PER_MM, UNITS
from .trade.species import KEYS, MDF, UNKNOWN
from .tradefields import BOUGHT, COST, FINISH, GLUE, NAILS, SITE, TRIM

MOST_COURSES = 600
MOST_MARKS = 4000  # pieces marked as cut, and so on
MOST_WALLS = 40
MOST_STUDS = 250
_INCH = JOTS_PER_INCH
_MM = JOTS_PER_MM
_M = 1000 * JOTS_PER_MM


STOCK = [
    length("length", "length", 300 * _MM, LONGEST_BOARD),
    of("price", "price", "money", 1000000, []),
    of("count", "count", "count", 100000, []),
    choice("kind", "kind", ("new", "offcut")),
    ID,
]
BOARD = [
    length("face", "Face", 10 * _MM, MOST_FACE),
    length("overall", "Overall width", 10 * _MM, MOST_OVERALL),
    length("thickness", "Thickness", _MM, MOST_THICKNESS, 3 * _INCH // 4, 19 * _MM),
    choice("edge", "Edge", ("lapped", "tongue-and-groove", "square")),
    of("stock", "Stock", "objects", 20, STOCK),
    choice("ends", "Ends", ("plain", "matched")),
    choice("species", "Wood", (UNKNOWN, MDF) + KEYS),
    choice("grain", "Grain", ("flat", "vertical")),
]
# In the order of job.Rules.
RULES = [
    choice("start", "Start edge", ("floor", "ceiling")),
    choice("courses", "Courses", ("full", "balanced", "head", "sill", "line")),
    length("kerf", "Saw kerf", 0, MOST_KERF, _INCH // 8, 3 * _MM),
    length("end_gap", "Gap at each end", 0, MOST_END_GAP, _INCH // 8, 3 * _MM),
    length("joint_gap", "Gap at each joint", 0, MOST_JOINT_GAP, 0, 0),
    length("floor_gap", "Gap at the floor", 0, _M, 0, 0),
    length("ceiling_gap", "Gap at the ceiling", 0, _M, 0, 0),
    length("shortest", "Shortest piece", 0, MOST_SHORTEST, 16 * _INCH, 400 * _MM),
    length("stagger", "Joints apart, at least", 0, MOST_SHORTEST, 0, 0),
    length("least_rip", "Narrowest rip", 0, MOST_FACE, 2 * _INCH, 50 * _MM),
    length("line", "Course line", 0, TALLEST),
    of("align", "Opening to align with", "text", 40, []),
    length("opening_gap", "Gap around openings", 0, MOST_END_GAP, _INCH // 8, 3 * _MM),
    length("box_gap", "Gap around boxes", 0, MOST_JOINT_GAP, _INCH // 16, 3 * _MM // 2),
    length("sliver", "Narrowest strip", 0, MOST_END_GAP, _INCH // 2, 13 * _MM),
    length("trim", "Trim off each board end", 0, MOST_TRIM, 0, 0),
    Field("reach", "Joint on the same stud after", "count", 1, MOST_REACH, (), [], 1, 1),
    length("spread", "Joints rather apart by", 0, MOST_SHORTEST, 24 * _INCH, 600 * _MM),
    length("allowance", "Over at the walls", 0, MOST_ALLOWANCE, 0, 0),
    of("kept", "Offcuts kept for later", "count", MOST_KEPT, []),
]
_MARK = length("", "mark", 1, WIDEST)
LEANING = [
    length("at", "mark at the floor", 1, WIDEST),
    length("top", "reading at the ceiling", 0, WIDEST),
    ID,
]
STUDS = [
    length("first", "first mark", 1, WIDEST),
    length("spacing", "stud spacing", 6 * _INCH, 60 * _INCH),
    of("found", "found mark", "lengths", MOST_READINGS, [_MARK]),
    of("missing", "missing mark", "lengths", MOST_READINGS, [_MARK]),
    length("first_top", "first mark at the ceiling", 0, WIDEST),
    of("leaning", "leaning stud", "objects", MOST_READINGS, LEANING),
    of("doubled", "doubled stud", "lengths", MOST_READINGS, [_MARK]),
]
STATION = [
    length("at", "place", 0, WIDEST),
    length("down", "down to the floor", 0, TALLEST),
    length("up", "up to the ceiling", 0, TALLEST),
    ID,
]
_LEFT = length("left", "left edge", 0, WIDEST)
_BOTTOM = length("bottom", "bottom", 0, TALLEST)
_KINDS = ("window", "door", "pass-through", "radiator", "other")
OPENING = [
    of("name", "name", "text", 40, []),
    choice("kind", "kind", _KINDS),
    _LEFT,
    length("width", "width", 10 * _MM, WIDEST),
    length("bottom", "bottom", 0, TALLEST, 0, 0),
    length("height", "height", 10 * _MM, TALLEST),
    choice("trim", "casing", ("by-kind", "cased", "none")),
    length("depth_top_left", "depth, top left", 0, _M),
    length("depth_top_right", "depth, top right", 0, _M),
    length("depth_bottom_left", "depth, bottom left", 0, _M),
    length("depth_bottom_right", "depth, bottom right", 0, _M),
    length("proud", "jamb proud by", 0, _M, 0, 0),
    ID,
]
BLOCK = [
    _LEFT,
    length("width", "width", 10 * _MM, WIDEST),
    _BOTTOM,
    length("height", "height", 10 * _MM, TALLEST),
    ID,
]
BOX = [
    of("name", "name", "text", 40, []),
    choice("by", "measured by", ("gangs", "edges", "diameter")),
    choice("standard", "standard", ("us", "uk", "eu", "au")),
    Field("gangs", "gangs", "count", 1, MOST_GANGS, (), [], 1, 1),
    length("centre", "centre", 0, WIDEST),
    length("middle", "middle", 0, TALLEST),
    _LEFT,
    _BOTTOM,
    length("width", "width", 10 * _MM, MOST_BOX),
    length("height", "height", 10 * _MM, MOST_BOX),
    length("diameter", "diameter", 10 * _MM, MOST_BOX),
    choice("holds", "holds", ("device", "pipe")),
    length("proud", "proud of the wallboard by", 0, MOST_END_GAP, 0, 0),
    length("set_back", "set back from the wallboard by", 0, MOST_END_GAP, 0, 0),
    length("extension", "extension fitted", 0, MOST_END_GAP, 0, 0),
    ID,
]
WALL = [
    of("name", "name", "text", 40, []),
    length("height_left", "height at the left", 50 * _MM, TALLEST),
    length("height_right", "height at the right", 50 * _MM, TALLEST),
    length("width_floor", "width at the floor", 100 * _MM, WIDEST),
    length("width_top", "width at the top", 100 * _MM, WIDEST),
    of("studs", "", "object", 0, STUDS),
    choice("level", "level", ("floor", "ceiling")),
    of("stations", "station", "objects", MOST_STATIONS, STATION),
    length("width_middle", "width half-way up", 100 * _MM, WIDEST),
    choice("left_corner", "left corner", ("plumb", "in", "out")),
    length("left_lean", "lean of the left corner", 0, MOST_LEAN),
    choice("corner", "corner", ("none", "inside", "outside", "mitred")),
    choice("right_end", "right end", ("wall", "boards")),
    of("openings", "opening", "objects", MOST_OPENINGS, OPENING),
    of("boxes", "box", "objects", MOST_BOXES, BOX),
    of("blocking", "blocking", "objects", MOST_READINGS, BLOCK),
    ID,
]
# Where a piece hangs: wall: the wall's id; run: of the course, from the left, piece: of the run,
# both from 1; joints: those of its run, that it was cut for.
_PLACE = [
    of("wall", "wall", "text", MOST_ID, []),
    Field("course", "course", "count", 1, MOST_COURSES, (), [], None, None),
    Field("run", "run", "count", 1, MOST_OPENINGS * 2, (), [], None, None),
    Field("piece", "piece", "count", 1, MOST_STUDS, (), [], None, None),
    of("joints", "joint", "lengths", MOST_STUDS, [length("", "joint", 0, WIDEST)]),
]
# The board with that number pencilled on it: stock, kind, line: its length when it was new, and
# the id of its line of the stock; from: the id of the mark of the short piece that it is.
_BOARD = [
    Field("board", "board", "count", 1, 100000, (), [], None, None),
    length("stock", "board's length", _MM, LONGEST_BOARD),
    choice("kind", "kind", ("new", "offcut")),
    of("line", "stock line", "text", MOST_ID, []),
    of("from", "short piece", "text", MOST_ID, []),
]
CUT = (
    _PLACE
    + _BOARD
    + [
        choice("state", "state", ("cut", "short")),
        length("length", "length", _MM, LONGEST_BOARD),
        of("name", "name", "text", 12, []),
        ID,
    ]
)
REJECTED = _BOARD + [of("why", "why", "text", 80, []), ID]
CALLED = _PLACE + [length("length", "length", _MM, LONGEST_BOARD), ID]
DONE = [
    of("cut", "Cut", "objects", MOST_MARKS, CUT),
    of("rejected", "Rejected board", "objects", MOST_MARKS, REJECTED),
    of("called", "Called length", "objects", MOST_MARKS, CALLED),
    of("bought", "Bought", "objects", MOST_READINGS, BOUGHT),
]
JOB = [
    of("format", "Format", "any", 0, []),
    of("version", "Version", "any", 0, []),
    of("title", "Title", "text", 80, []),
    choice("unit", "Unit", UNITS),
    of("board", "", "object", 0, BOARD),
    of("rules", "", "object", 0, RULES),
    of("walls", "Wall", "objects", MOST_WALLS, WALL),
    of("site", "", "object", 0, SITE),
    of("nails", "", "object", 0, NAILS),
    of("glue", "", "object", 0, GLUE),
    of("trim", "", "object", 0, TRIM),
    of("finish", "", "object", 0, FINISH),
    of("cost", "", "object", 0, COST),
    of("done", "", "object", 0, DONE),
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
