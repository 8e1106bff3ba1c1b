"""Stud marks: every centre from the first mark, both ways, from either corner."""

from ..angles import PLUMB_LIMITS, degrees, hundredths, limit_text, per_metre, plumb_limit, slope
from ..bounds import LONGEST_BOARD, MOST_END_GAP, TALLEST, WIDEST
from ..draft import Answer, Draft, Sketch, Table, refuse
from ..lengths import JOTS_PER_INCH, JOTS_PER_MM, read
from ..studs import (
    OWN_PART,
    SPACINGS,
    Mark,
    grid_count,
    grid_place,
    marks,
    nearest_text,
    strays,
)
from .declare import Calculator, choice, count, length, lengths

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

# A board's end within this of a centre is on it. Common practice, no source:
# the finest line of a tape that is read at arm's length.
ON_CENTRE = JOTS_PER_INCH // 16

# What a number under the drawing takes, where the wall gets 272 px: four digits.
_LABEL = 36
_LEAST_SPACING = 100 * JOTS_PER_MM  # reads 3-15/16 in

FIELDS = [
    length("width", "Wall, corner to corner", lo=1, hi=WIDEST),
    choice("corner", "Read from", [("left", "Left corner"), ("right", "Right corner")], "", "left"),
    length("first", "First mark, centre", "from that corner", hi=WIDEST),
    choice(
        "spacing",
        "Spacing",
        [(s, s) for s in SPACINGS] + [("other", "Other")],
        "centre to centre",
        "16 in",
        "400 mm",
    ),
    length("other", "Other spacing", "", lo=_LEAST_SPACING, hi=WIDEST, needed=False),
    lengths("found", "Centres found by probing", "each from that corner", hi=WIDEST),
    lengths("missing", "Marks with no stud", "each from that corner", hi=WIDEST),
    length(
        "limit",
        "Off the grid by at most",
        "a found mark further off warns",
        "1/2 in",
        "12 mm",
        hi=12 * JOTS_PER_INCH,
    ),
    length(
        "board",
        "Board length",
        "which marks it runs between",
        lo=1,
        hi=LONGEST_BOARD,
        needed=False,
    ),
    count("begin", "Board starts at mark", "0 is the corner", "0", 0, hi=1400),
    length("end_gap", "End gap at a corner", "", "1/8 in", "3 mm", hi=MOST_END_GAP),
    length("ceiling", "First mark at the ceiling", "shows a lean", hi=WIDEST, needed=False),
    length(
        "height", "Floor to ceiling", "only with a ceiling mark", lo=1, hi=TALLEST, needed=False
    ),
]


def answer(v: "dict[str, Any]", unit: str) -> Answer:
    """The answer from the fields' values (see FIELDS), jots. Raises InputError."""
    d = Draft(unit)
    spacing, name = _spacing(v)
    _check(d, v, spacing)
    found = marks(v["width"], v["first"], spacing, v["found"], v["missing"])
    if not found:
        raise refuse(
            "missing",
            "%d marks" % len(v["missing"]),
            "Marks with no stud: none is left on this wall.",
            "Take one out, or give the centres found by probing.",
        )
    d.length("nearest", "First mark from the %s" % v["corner"], found[0].at)
    d.count("count", "Marks", len(found), "mark")
    d.length("farthest", "Last mark from the %s" % v["corner"], found[-1].at)
    d.work("spacing %s, from %s both ways" % (name, d.show(v["first"])))
    back = [m for m in found if m.at < v["first"] and m.kind == "grid"]
    if back:
        d.work(
            "back: %s - %d x %s = %s"
            % (d.show(v["first"]), _steps(v, spacing, back[0].at), name, d.show(back[0].at))
        )
    grid = [m for m in found if m.kind == "grid" and m.at > v["first"]]
    if grid:
        d.work(
            "on: %s + %d x %s = %s"
            % (d.show(v["first"]), _steps(v, spacing, grid[-1].at), name, d.show(grid[-1].at))
        )
    d.tables.append(_table(d, v, spacing, found))
    if v["board"] is not None:
        _board(d, v, found)
    if v["ceiling"] is not None:
        _lean(d, v)
    d.caution("hidden-lines")
    d.sketch = _sketch(d, v, found)
    for i in range(len(found)):
        d.value("mark %d" % (i + 1), found[i].at)
    return d.done()


def _spacing(v: "dict[str, Any]") -> tuple[int, str]:
    """(jots, as it is said) of the spacing chosen."""
    if v["spacing"] != "other":
        return read(v["spacing"], "in"), v["spacing"]
    if v["other"] is None:
        raise refuse(
            "other",
            "nothing",
            "Other spacing: nothing is given.",
            "Give it centre to centre, like 20 in, or choose a spacing from the list.",
        )
    return v["other"], "the spacing"


def _check(d: Draft, v: "dict[str, Any]", spacing: int) -> None:
    width = v["width"]
    if v["first"] >= width:
        raise refuse(
            "first",
            d.show(v["first"]),
            "First mark, centre: %s is not on a wall of %s." % (d.show(v["first"]), d.show(width)),
            "Give a reading under the wall's width.",
        )
    for key, label in (("found", "Centres found"), ("missing", "Marks with no stud")):
        for at in v[key]:
            if not 0 < at < width:
                raise refuse(
                    key,
                    d.show(at),
                    "%s: %s is not on a wall of %s." % (label, d.show(at), d.show(width)),
                    "Give readings between the corners, or take it out.",
                )
    for i, near in strays(width, v["first"], spacing, v["missing"])[:1]:
        at = d.show(v["missing"][i])
        raise refuse(
            "missing",
            at,
            "Marks with no stud: no grid mark is at %s; %s." % (at, nearest_text(near, d.unit)),
            "Give the grid mark that has no stud, or take this one out.",
        )
    if v["ceiling"] is not None and v["height"] is None:
        raise refuse(
            "height",
            "nothing",
            "Floor to ceiling: nothing is given, and the mark at the ceiling needs it.",
            "Give the height between the two marks, or clear the ceiling mark.",
        )


def _steps(v: "dict[str, Any]", spacing: int, at: int) -> int:
    """How many spacings from the first mark to the grid mark at `at`."""
    return abs(grid_count(spacing, at + 1 - v["first"]) - 1)


def _table(d: Draft, v: "dict[str, Any]", spacing: int, found: list[Mark]) -> Table:
    """Each mark from both corners; warns of those off the grid."""
    rows = []
    for i in range(len(found)):
        m = found[i]
        note = m.kind
        more = abs(m.off) > spacing // OWN_PART
        if more:
            note = "found, one more"
        elif m.off:
            way = "farther" if m.off > 0 else "nearer"
            note = "found, %s %s" % (d.show(abs(m.off)), way)
        elif m.kind == "found" and grid_place(v["first"], spacing, 0) != m.at:
            k = _steps(v, spacing, m.at) * (1 if m.at > v["first"] else -1)
            if grid_place(v["first"], spacing, k) != m.at:
                note = "found, beside the grid"
        if abs(m.off) > v["limit"]:
            note += ", check"
            told = "Mark %d at %s is %s off the grid: probe again at %s; if it stands, "
            told += "it is one stud more" if more else "nail and join on %s" % d.show(m.at)
            d.warn((told + ".") % (i + 1, d.show(m.at), d.show(abs(m.off)), d.show(m.at - m.off)))
        near, far = d.show(m.at), d.show(v["width"] - m.at)
        left, right = (near, far) if v["corner"] == "left" else (far, near)
        rows.append([str(i + 1), left, right, note])
    return Table("Centres", ["Mark", "From left", "From right", "Kind"], rows)


def _board(d: Draft, v: "dict[str, Any]", found: list[Mark]) -> None:
    """Which marks the board runs between, and where its far end comes."""
    begin = v["begin"]
    if begin > len(found):
        raise refuse(
            "begin",
            str(begin),
            "Board starts at mark: there is no mark %d." % begin,
            "Give 0 for the corner, or 1 to %d." % len(found),
        )
    start = found[begin - 1].at if begin else v["end_gap"]
    most = v["width"] - v["end_gap"]  # as far as an end may come: the other corner
    if start >= most:
        raise refuse(
            "end_gap",
            d.show(v["end_gap"]),
            "End gap at a corner: %s leaves no room for a board that starts at %s."
            % (d.show(v["end_gap"]), d.show(start)),
            "Give a smaller end gap, or start at a mark nearer to the corner read from.",
        )
    end = start + v["board"]
    d.work("board's end: %s + %s = %s" % (d.show(start), d.show(v["board"]), d.show(end)))
    d.row("Board's end reads", d.show(end))
    d.value("end", end)
    if end > most:
        d.warn(
            "The board is %s longer than the wall from there: cut it to %s."
            % (d.show(end - most), d.show(most - start))
        )
        end = most
    one = "mark %d" % begin if begin else "corner"
    under = [i for i in range(len(found)) if start <= found[i].at <= end + ON_CENTRE]
    if end >= most - ON_CENTRE:
        # A wall's corner carries an end as a stud does: common practice, no source.
        d.row("Board runs between", one + (" and the corner" if begin else " and the other corner"))
        d.row("Board ends", "at the corner")
        if under:
            d.value("last mark", under[-1] + 1)
        return
    if not under or (begin and len(under) == 1):
        d.row("Board runs between", "no two marks")
        d.warn("The board ends before the next mark: it needs a block behind its end.")
        return
    last = under[-1]
    d.row("Board runs between", "%s and mark %d" % (one, last + 1))
    d.value("last mark", last + 1)
    over = end - found[last].at
    if abs(over) <= ON_CENTRE:
        d.row("Board ends", "on mark %d" % (last + 1))
        return
    d.length("cut", "Cut to end on mark %d" % (last + 1), found[last].at - start)
    d.warn(
        "The board's end is %s past mark %d, on no stud: cut it to %s."
        % (d.show(over), last + 1, d.show(found[last].at - start))
    )


def _lean(d: Draft, v: "dict[str, Any]") -> None:
    """How far the marks lean between floor and ceiling."""
    by, height = abs(v["ceiling"] - v["first"]), v["height"]
    d.value("lean", by)
    d.value("angle", hundredths(by, height))
    d.value("slope", per_metre(by, height))
    d.work("lean: %s in %s" % (d.show(by), d.show(height)))
    if by == 0:
        d.row("Lean", "none, plumb")
        return
    way = "away from" if v["ceiling"] > v["first"] else "towards"
    d.row("Lean at the ceiling", "%s %s the %s corner" % (d.show(by), way, v["corner"]))
    d.row("Angle", "%s, %s" % (degrees(hundredths(by, height)), slope(by, height, d.unit)))
    limit = plumb_limit(by, height)
    d.row("Plumb limit kept", limit_text(limit, d.unit) if limit else "none")
    over = len([x for x in PLUMB_LIMITS if by * x.run > x.rise * height])
    if over:
        d.row("Plumb limit exceeded", limit_text(PLUMB_LIMITS[over - 1], d.unit))
    if limit is None:
        step = 12 * JOTS_PER_INCH if d.unit in ("in", "ft") else 300 * JOTS_PER_MM
        d.warn(
            "The lean is over every published plumb limit (%s): snap a line from "
            "floor mark to ceiling mark, %s over in each %s of height."
            % (
                limit_text(PLUMB_LIMITS[-1], d.unit),
                d.show((2 * by * step + height) // (2 * height)),
                d.show(step),
            )
        )


def _sketch(d: Draft, v: "dict[str, Any]", found: list[Mark]) -> Sketch:
    """The wall as a strip with its marks."""
    width = v["width"]
    tall = max(width // 8, 1)
    items: list[list[object]] = [["rect", 0, 0, width, tall, "wall"]]
    apart = width * _LABEL // 272
    last = 0
    for i in range(len(found)):
        x = found[i].at if v["corner"] == "left" else width - found[i].at
        items.append(["line", x, 0, x, tall, "stud" if found[i].kind == "grid" else "mark"])
        if i == 0 or abs(x - last) >= apart:
            last = x
            items.append(["text", x, tall + tall // 2, "middle", str(i + 1)])
    say = "The wall with %d marks, numbered from the %s; found marks differ in line." % (
        len(found),
        v["corner"],
    )
    return Sketch(width, tall + 3 * tall // 4, items, say)


CALCULATOR = Calculator(
    "stud-marks",
    "Stud marks",
    "Where is every stud centre, from either corner?",
    FIELDS,
    answer,
    [
        "16, 19.2 (96/5), 24 in: tape convention; 400, 450, 600 mm: common practice, from memory",
        "Plumb limits: a survey of published tolerance limits for light-frame walls",
        "Limit off the grid: common practice, no source",
    ],
)
