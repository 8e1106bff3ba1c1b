"""What stands round a wall: stud marks, course numbers, dimensions, and the key to it all."""

from .boards import Boards, ripped
from .sheet import Sheet, lines_of
from .style import CHALK, INK, LEVEL_DASH, STUD_DASH, TINT, WHITE, Style, dash
from .wall import height_at

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object


def stud_marks(sheet: Sheet, wall: dict[str, Any], unit: str) -> list[tuple[int, list[str]]]:
    """(place in the wall's studs, words) of the marks that are named at the sheet's scale.

    All with number and reading, or every second, or numbers alone.
    """
    marks = wall["studs"]
    full = [[str(s["number"])] + lines_of(s["at"], unit) for s in marks]
    xs = [sheet.x(s["at"]) for s in marks]
    for words in (full, [f[:1] for f in full]):
        wide = max([0] + [sheet.wide(t) for lines in words for t in lines])
        for skip in (1, 2) if words is full else (1, 2, 4, 8, 16, 32):
            shown = [i for i in range(len(marks)) if i % skip == 0]
            if all([xs[shown[i + 1]] - xs[shown[i]] >= wide for i in range(len(shown) - 1)]):
                return [(i, words[i]) for i in shown]
    return []


def stud_words(sheet: Sheet, wall: dict[str, Any], unit: str, row: int) -> None:
    """The marks' words under the floor, from `row` down; at the ceiling of those that lean."""
    marks = wall["studs"]
    for i, lines in stud_marks(sheet, wall, unit):
        x, y = sheet.x(marks[i]["at"]), sheet.y(height_at(wall["floor"], marks[i]["at"]))
        set_down = sheet.word(x, row + sheet.high * len(lines) // 2, "middle", lines)
        if set_down and row - y > sheet.high:
            sheet.line(x, y, x, row, sheet.style.hair)
    corner = wall["left"][-1][0]  # a tape at the ceiling starts there
    for s in marks:
        if s["top"] != s["at"]:
            told = lines_of(s["top"] - corner, unit)
            _over(sheet, wall, s["top"], ["%d top" % s["number"]] + told)


def _over(sheet: Sheet, wall: dict[str, Any], x: float, lines: list[str]) -> bool:
    """Words above the ceiling at x, clear of it where it slopes."""
    half = max([sheet.wide(t) for t in lines]) // 2 / sheet.k
    line = wall["ceiling"]
    ys = [height_at(line, x - half), height_at(line, x + half)]
    ys += [p[1] for p in line if x - half <= p[0] <= x + half]
    foot = sheet.y(max(ys)) - sheet.style.gap
    return sheet.word(sheet.x(x), foot - sheet.high * len(lines) // 2, "middle", lines)


def breaks(sheet: Sheet, wall: dict[str, Any], unit: str) -> None:
    """How high the room is at each corner of the ceiling between its ends."""
    for x, y in wall["ceiling"][1:-1]:
        lines = lines_of(y - height_at(wall["floor"], x), unit)
        _over(sheet, wall, x, [lines[0] + " high"] + lines[1:])


def course_words(sheet: Sheet, wall: dict[str, Any], boards: Boards) -> None:
    """Each course's number left and right of it; where they are low, every second and so on."""
    courses = [c for c in wall["courses"] if c["runs"]]
    if not courses:
        return
    face = max([c["top"] - c["bottom"] for c in courses]) * sheet.k
    skip = 1
    while face * skip < sheet.high:
        skip += 1
    for c in courses:
        if (c["number"] - 1) % skip:
            continue
        ends = [c["runs"][0]["pieces"][0], c["runs"][-1]["pieces"][-1]]
        if not all([e in boards.at for e in ends]):
            continue
        middle = (c["bottom"] + c["top"]) / 2
        for end, key, anchor, side in (
            (ends[0], "left", "end", -1),
            (ends[1], "right", "start", 1),
        ):
            points = [q for ring in boards.rings[boards.at[end]] for q in ring]
            xs = [side * q[0] for q in points]
            ys = [q[1] for q in points]
            line = wall[key]
            if line[0][1] <= middle <= line[-1][1]:  # the bare corner may stand farther out
                xs.append(side * sheet.x(height_at([[q[1], q[0]] for q in line], middle)))
            x = side * (max(xs) + sheet.style.gap)
            sheet.word(x, (min(ys) + max(ys)) // 2, anchor, [str(c["number"])])


def across(sheet: Sheet, x0: int, x1: int, y: int, text: str) -> None:
    """A dimension line along the wall, its reading over the middle of it or in it."""
    _tick(sheet, x0, y, False)
    _tick(sheet, x1, y, False)
    sheet.line(x0, y, x1, y, sheet.style.hair)
    sheet.word((x0 + x1) // 2, y, "middle", [text], False, True)


def upright(sheet: Sheet, x: int, y0: int, y1: int, text: str) -> None:
    """A dimension line up the wall, read from the right."""
    _tick(sheet, x, y0, True)
    _tick(sheet, x, y1, True)
    sheet.line(x, y0, x, y1, sheet.style.hair)
    sheet.word(x, (y0 + y1) // 2, "middle", [text], False, True, True)


def _tick(sheet: Sheet, x: int, y: int, level: bool) -> None:
    """A dimension line's end: a stroke at 45 degrees (ISO 129-1, from memory)."""
    t = sheet.style.step // 3
    sheet.line(x - t, y + t, x + t, y - t, sheet.style.thin, INK)
    if level:
        sheet.line(x - 2 * t, y, x + 2 * t, y, sheet.style.hair)
    else:
        sheet.line(x, y - 2 * t, x, y + 2 * t, sheet.style.hair)


def running(sheet: Sheet, wall: dict[str, Any], unit: str, y: int, room: int) -> None:
    """Readings from the left corner to every side of an opening and step in the floor.

    One line at y with ticks from the corner on, each reading under its tick;
    room: for so many lines of words, the lower half for what finds no room above.
    """
    xs = stations(wall)
    if not xs:
        return
    x0 = sheet.x(0)
    sheet.line(x0, y, sheet.x(xs[-1]), y, sheet.style.hair)
    _tick(sheet, x0, y, False)
    row = sheet.high * max([len(lines_of(mm, unit)) for mm in xs])
    for mm in xs:
        lines = lines_of(mm, unit)
        x, high = sheet.x(mm), sheet.high * len(lines)
        _tick(sheet, x, y, False)
        top = y + sheet.style.gap
        if sheet.word(x, top + high // 2, "middle", lines):
            continue
        top += row
        if row < room * sheet.high and sheet.word(x, top + high // 2, "middle", lines):
            sheet.line(x, y, x, top, sheet.style.hair)


def crowded(sheet: Sheet, wall: dict[str, Any], unit: str) -> bool:
    """Whether the readings of `running` need a second row at the sheet's scale."""
    free = -1
    for mm in stations(wall):
        half = max([sheet.wide(t) for t in lines_of(mm, unit)]) // 2
        if sheet.x(mm) - half < free:
            return True
        free = sheet.x(mm) + half + 1
    return False


def stations(wall: dict[str, Any]) -> list[float]:
    """Where along the wall openings begin and end, and the floor steps (mm, sorted)."""
    xs = [o["left"] for o in wall["openings"]] + [o["right"] for o in wall["openings"]]
    floor = wall["floor"]
    xs += [floor[i][0] for i in range(1, len(floor)) if floor[i][0] == floor[i - 1][0]]
    return sorted(set(xs))


def legend_items(wall: dict[str, Any], pieces: list[dict[str, Any]], joints: bool) -> list[str]:
    """The keys of what is drawn and has to be told apart."""
    out = ["board"]
    if any([ripped(p) for p in pieces]):
        out.append("rip")
    if joints:
        out.append("joint")
    if wall["studs"]:
        out.append("stud")
    if any([s["doubled"] for s in wall["studs"]]):
        out.append("double")
    for key, name in (("openings", "opening"), ("boxes", "box"), ("blocking", "block")):
        if wall[key]:
            out.append(name)
    if wall["level"] is not None:
        out.append("level")
    return out


_NAMES = {
    "board": "full board", "rip": "ripped board", "joint": "joint", "stud": "stud",
    "double": "doubled stud", "opening": "opening", "box": "box", "block": "blocking",
    "level": "level line",
}  # fmt: skip


def legend_rows(style: Style, items: list[str], width: int) -> list[list[tuple[str, int]]]:
    """Rows of (key, left edge) that fit in `width` sheet units."""
    ruler = Sheet(style, 0, 0, 0, 0, 0)
    rows: list[list[tuple[str, int]]] = [[]]
    x = 0
    for key in items:
        wide = 2 * style.text + style.gap + ruler.wide(_NAMES[key]) + style.text
        if x and x + wide > width:
            rows.append([])
            x = 0
        rows[-1].append((key, x))
        x += wide
    return rows


def legend(
    sheet: Sheet, rows: list[list[tuple[str, int]]], left: int, top: int, pattern: str
) -> None:
    """The key, drawn with the drawing's own lines and patterns."""
    style = sheet.style
    for row in rows:
        for key, x in row:
            a, b = left + x, left + x + 2 * style.text
            _swatch(sheet, key, a, top + style.text // 10, b, top + style.text * 11 // 10, pattern)
            sheet.word(b + style.gap, top + sheet.high // 2, "start", [_NAMES[key]])
        top += sheet.high + style.gap


def _swatch(sheet: Sheet, key: str, a: int, top: int, b: int, foot: int, pattern: str) -> None:
    style = sheet.style
    middle, x = (top + foot) // 2, (a + b) // 2
    fills = {
        "board": (WHITE, CHALK, style.thin),
        "rip": ("url(#%srip)" % pattern, CHALK, style.thin),
        "opening": (TINT, INK, style.bold),
        "box": ("url(#%sbox)" % pattern, INK, style.line),
        "block": ("url(#%sblock)" % pattern, CHALK, style.thin),
    }
    if key in fills:
        more = ' fill="%s" stroke="%s" stroke-width="%d"' % fills[key]
        sheet.rect(a, top, b, foot, more + (dash(style, (6, 4)) if key == "block" else ""))
        if key == "opening":
            sheet.line(a, top, b, foot, style.thin)
            sheet.line(a, foot, b, top, style.thin)
    elif key == "joint":
        sheet.line(x, top, x, foot, style.bold, INK)
    elif key == "level":
        more = ' stroke="%s" stroke-width="%d"%s' % (INK, style.line, dash(style, LEVEL_DASH))
        sheet.path([(a, middle), (b, middle)], more)
    else:
        more = ' stroke="%s" stroke-width="%d"%s' % (CHALK, style.hair, dash(style, STUD_DASH))
        for y in (
            (middle - 2 * style.bold, middle + 2 * style.bold) if key == "double" else (middle,)
        ):
            sheet.path([(a, y), (b, y)], more)
