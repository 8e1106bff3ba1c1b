"""Box notch: from a device box to the cut in every course it touches."""

from ..bounds import (
    LONGEST_BOARD,
    MOST_FACE,
    MOST_OVERALL,
    MOST_THICKNESS,
    TALLEST,
    WIDEST,
)
from ..boxes import STANDARDS, Cut, cuts
from ..draft import Answer, Draft, Table, refuse
from ..lengths import JOTS_PER_INCH, JOTS_PER_MM
from ..trade.box_fit import ears, extension, plate
from .box_sketch import box_sketch
from .declare import Calculator, choice, count, flag, length

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

_MOST_BOX = 24 * JOTS_PER_INCH
_MOST_PLATE = 30 * JOTS_PER_INCH
# A strip left beside a cut breaks off under this: common practice, no source.
STRIP = JOTS_PER_INCH // 2

FIELDS = [
    length("bottom", "Box, lower edge", "up from the course line, or floor", hi=TALLEST),
    length("top", "Box, upper edge", "from the same place", hi=TALLEST),
    length("left", "Box, left edge", "from the piece's end, or corner", hi=WIDEST),
    length("right", "Box, right edge", "from the same place", hi=WIDEST),
    length(
        "line",
        "Course line",
        "up from the floor; 0 if read from it",
        "0 in",
        "0 mm",
        hi=TALLEST,
    ),
    length(
        "end",
        "Piece's left end",
        "from the corner; 0 if read from it",
        "0 in",
        "0 mm",
        hi=WIDEST,
    ),
    length(
        "piece",
        "Piece length",
        "where the box is near its end",
        lo=1,
        hi=LONGEST_BOARD,
        needed=False,
    ),
    choice(
        "edge",
        "Board's edge",
        [("lapped", "Lapped"), ("tongue-and-groove", "Tongue and groove"), ("square", "Square")],
        "",
        "lapped",
    ),
    length("face", "Course height", "what one board covers", lo=19 * JOTS_PER_MM, hi=MOST_FACE),
    length(
        "overall",
        "Board height overall",
        "with its lap or tongue; square: empty",
        lo=1,
        hi=MOST_OVERALL,
        needed=False,
    ),
    choice(
        "lap",
        "Hidden lap or tongue",
        [("upper", "At the upper edge"), ("lower", "At the lower edge")],
        "no matter on a square edge",
        "upper",
    ),
    length("clearance", "Clearance, each side", "", "1/16 in", "1.5 mm", hi=JOTS_PER_INCH),
    length("thickness", "Cladding thickness", "", "3/4 in", "19 mm", hi=MOST_THICKNESS),
    length("proud", "Box already proud by", "past the drywall", "0 in", "0 mm", hi=MOST_THICKNESS),
    count("gangs", "Gangs", "devices side by side", "1", 1, hi=6),
    choice("standard", "Kind of box", [(s.key, s.label) for s in STANDARDS], "", "us", "eu"),
    flag("sideways", "Box lies on its side"),
    length(
        "plate_width", "Plate width", "US: empty is standard", lo=1, hi=_MOST_PLATE, needed=False
    ),
    length(
        "plate_height", "Plate height", "US: empty is standard", lo=1, hi=_MOST_PLATE, needed=False
    ),
    length(
        "margin",
        "Plate laps the cut by",
        "at least, on each side",
        "1/8 in",
        "3 mm",
        hi=2 * JOTS_PER_INCH,
    ),
    length(
        "yoke", "Device over its ears", "US: empty is standard", lo=1, hi=_MOST_BOX, needed=False
    ),
]


def answer(v: "dict[str, Any]", unit: str) -> Answer:
    """The answer from the fields' values (see FIELDS), jots. Raises InputError."""
    d = Draft(unit)
    _check(d, v)
    c = v["clearance"]
    overall = v["face"] if v["overall"] is None else v["overall"]
    lap = overall - v["face"]
    # What lies under 0, the floor or the line, is no board: nothing is cut there.
    low, high = max(v["bottom"] - c, 0), v["top"] + c
    touched = cuts(v["bottom"] - c, high, v["line"], v["face"], lap, v["lap"] == "upper")
    shows = [n for n in touched if v["line"] + n.course * v["face"] > 0]
    found = [_above(n) for n in shows]
    x0, x1 = v["left"] - c - v["end"], v["right"] + c - v["end"]
    d.work(
        "cut: %s to %s up, %s with %s clearance %s"
        % (
            d.show(low),
            d.show(high),
            d.show(high - low),
            d.show(c),
            "twice" if v["bottom"] >= c else "above, none below 0",
        )
    )
    rows = []
    for cut in found:
        rows.append(_course(d, v, cut, lap, x0, x1))
    d.length("left", "Left mark", max(x0, 0))
    right = x1 if v["piece"] is None else min(x1, v["piece"])
    d.length("right", "Right mark", right)
    d.work(
        "left mark: %s - %s - %s = %s"
        % (d.show(v["left"]), d.show(c), d.show(v["end"]), d.show(x0))
    )
    d.work(
        "right mark: %s + %s - %s = %s"
        % (d.show(v["right"]), d.show(c), d.show(v["end"]), d.show(x1))
    )
    d.value("courses", len(found))
    if v["line"] == 0 and len(shows) < len(touched):
        under = touched[0].high - touched[0].start
        d.row(
            "Below the line",
            "nothing cut; a course there would lose %s off its upper edge" % d.show(under),
        )
    d.tables.append(
        Table(
            "Cuts, up from each board's lower edge", ["Course", "Cut", "From", "To", "Board"], rows
        )
    )
    _ends(d, v, x0, x1)
    tall = v["top"] - v["bottom"] + 2 * c
    plate(d, v, x1 - x0, tall)
    ears(d, v, x1 - x0, tall)
    extension(d, v)
    for key in ("electricity", "box-extension", "box-gap", "hidden-lines", "saw-dust"):
        d.caution(key)
    names = [_name(cut.course) for cut in found]
    d.sketch = box_sketch(unit, found, names, x0, x1, v["piece"])
    return d.done()


def _check(d: Draft, v: "dict[str, Any]") -> None:
    for a, b, label, what in (
        ("bottom", "top", "Box, upper edge", "lower"),
        ("left", "right", "Box, right edge", "left"),
    ):
        if v[b] <= v[a]:
            raise refuse(
                b,
                d.show(v[b]),
                "%s: %s is not beyond the %s edge at %s."
                % (label, d.show(v[b]), what, d.show(v[a])),
                "Read both edges from the same place.",
            )
        if v[b] - v[a] > _MOST_BOX:
            raise refuse(
                b,
                d.show(v[b]),
                "%s: %s makes a box of %s, which is no device box."
                % (label, d.show(v[b]), d.show(v[b] - v[a])),
                "Read both edges from the same place; %s is the most." % d.show(_MOST_BOX),
            )
    _check_overall(d, v["edge"], v["overall"], v["face"])
    c, piece = v["clearance"], v["piece"]
    if v["right"] + c <= v["end"]:
        raise refuse(
            "end",
            d.show(v["end"]),
            "Piece's left end: at %s the piece is past the box, which ends at %s."
            % (d.show(v["end"]), d.show(v["right"])),
            "Read box and piece from the same corner.",
        )
    if piece is not None and v["left"] - c - v["end"] >= piece:
        raise refuse(
            "piece",
            d.show(piece),
            "Piece length: %s ends before the box, %s from its left end."
            % (d.show(piece), d.show(v["left"] - v["end"])),
            "Give the length of the piece that meets the box.",
        )


def _check_overall(d: Draft, edge: str, overall: int | None, face: int) -> None:
    """A lap or tongue counts in every cut, so its board's height must be known."""
    if edge == "square":
        if overall is not None and overall != face:
            raise refuse(
                "overall",
                d.show(overall),
                "Board height overall: %s differs from a square board's course height, %s."
                % (d.show(overall), d.show(face)),
                "Leave it empty, or choose lapped or tongue and groove.",
            )
        return
    what = "lap" if edge == "lapped" else "tongue"
    if overall is None:
        raise refuse(
            "overall",
            "nothing",
            "Board height overall: nothing is given, and the hidden %s counts in the cut." % what,
            "Measure a whole board with its %s, or choose a square edge." % what,
        )
    if not face < overall < 2 * face:
        raise refuse(
            "overall",
            d.show(overall),
            "Board height overall: %s does not go with a course height of %s."
            % (d.show(overall), d.show(face)),
            "Give the course height plus the %s, or choose a square edge." % what,
        )


def _above(cut: Cut) -> Cut:
    """The cut without what lies under 0."""
    start = max(cut.start, min(cut.end, 0))
    return Cut(cut.course, cut.low, cut.high, start, cut.end, cut.kind)


def _name(course: int) -> str:
    """Course 1 has its lower edge on the line."""
    if course > 0:
        return "Course %d" % course
    return "%d below" % (1 - course)


def _course(d: Draft, v: "dict[str, Any]", cut: Cut, lap: int, x0: int, x1: int) -> list[str]:
    """Figures, warnings and the table's row of one course."""
    name, tall = _name(cut.course), cut.high - cut.low
    start, end = cut.start - cut.low, cut.end - cut.low
    key = "course %d" % cut.course
    d.value(key + " from", start)
    d.value(key + " to", end)
    counted = ", its %s lap counted" % d.show(lap) if lap else ""
    if cut.kind == "lower":
        d.length(key + " depth", name + ", from lower edge", end)
        d.work(
            "%s: %s - %s = %s up%s"
            % (
                name,
                d.show(cut.end),
                d.show(cut.low),
                d.show(end),
                counted if v["lap"] == "lower" else "",
            )
        )
        text = "notch, lower edge"
    elif cut.kind == "upper":
        d.length(key + " depth", name + ", from upper edge", tall - start)
        d.work(
            "%s: %s - %s = %s down%s"
            % (
                name,
                d.show(cut.high),
                d.show(cut.start),
                d.show(tall - start),
                counted if v["lap"] == "upper" else "",
            )
        )
        text = "notch, upper edge"
    elif cut.kind == "hole":
        d.length(key + " start", name + ", hole from", start)
        d.length(key + " end", name + ", hole to", end)
        d.work("%s: hole %s to %s up from its lower edge" % (name, d.show(start), d.show(end)))
        text = "hole"
    else:
        text = "split in two"
        if x0 > 0:
            d.length(key + " left piece", name + ", left piece", x0)
        if v["piece"] is not None and x1 < v["piece"]:
            d.length(key + " right piece", name + ", right piece", v["piece"] - x1)
        if x0 <= 0 or (v["piece"] is not None and x1 >= v["piece"]):
            text = "shorter piece"
        else:
            d.warn("%s is cut in two: nail each end beside the box to a stud or a block." % name)
        d.work("%s: the cut passes both edges of a board of %s" % (name, d.show(tall)))
    for strip, where, edge in ((start, "below", "lower"), (tall - end, "above", "upper")):
        if 0 < strip < STRIP and end > start:
            d.warn(
                "%s: only %s of board is left %s the cut and will break; move the course line by "
                "%s, or cut it away to the %s edge if the plate covers that."
                % (name, d.show(strip), where, d.show(STRIP - strip), edge)
            )
    return [name, text, d.show(start), d.show(end), d.show(tall)]


def _ends(d: Draft, v: "dict[str, Any]", x0: int, x1: int) -> None:
    """What the cut does at the piece's ends."""
    piece = v["piece"]
    at_right = piece is not None and x1 >= piece
    if x0 <= 0 and at_right:
        d.warn(
            "The cut is longer than this piece, %s: rip the piece, or take a longer one."
            % d.show(piece)
        )
        return
    if x0 <= 0:
        d.row("Left end", "cut open to the end")
    elif x0 < STRIP:
        d.warn(
            "Only %s is left at the left end and will break: move the joint by %s."
            % (d.show(x0), d.show(STRIP - x0))
        )
    if at_right:
        d.row("Right end", "cut open to the end")
    elif piece is not None:
        d.row("From the right end", "%s to %s" % (d.show(piece - x1), d.show(piece - max(x0, 0))))
        if piece - x1 < STRIP:
            d.warn(
                "Only %s is left at the right end and will break: move the joint by %s."
                % (d.show(piece - x1), d.show(STRIP - (piece - x1)))
            )


CALCULATOR = Calculator(
    "box-notch",
    "Box notch",
    "What does a device box take out of each course?",
    FIELDS,
    answer,
    [
        "US plates and screws: NEMA WD 6 / OS 1; 60.3 mm: BS 4662; 60, 71, 84 mm: national tables",
        "Flush box in wood, gap 1/8 in: NFPA 70 (NEC) 314.20, 314.21; local code decides",
        "Ears, strips, plate margin: common practice, no source; 4-1/8 in yoke: from memory",
    ],
)
