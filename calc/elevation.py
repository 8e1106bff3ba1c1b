"""One wall's elevation as SVG, from the plan: for page, print, export and command line.

Presentation attributes only, so that the text stands by itself and needs no
style sheet. Seen from the room, y up from the lowest point of the floor.
"""

from .drawing import around, style, wall
from .drawing.boards import Boards
from .drawing.sheet import Sheet, escape, jots
from .lengths import reading, show
from .problems import InputError, Problem, shown

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

# In hundredths of a millimetre: ISO 216; Letter is 11 by 8-1/2 in.
PAPERS = {"A4": (29700, 21000), "Letter": (27940, 21590)}
LEAST_SCALE, MOST_SCALE = 10, 2000  # CSS px a metre of wall
_MARGIN = 1000  # round the drawing on paper
_LEAST = 3000  # a screen's drawing is at least so wide, for its key


def elevation(
    plan: dict[str, Any],
    number: int,
    scale: int | None,
    paper: str | None,
    labels: bool = True,
    select: str | None = None,
) -> dict[str, Any]:
    """The drawing of wall `number` (from 1).

    plan: a lapwright-plan, at least its unit, walls and that wall's pieces.
    scale: whole CSS px a metre of wall, on the screen; paper: one of PAPERS,
    fitted into the page; one of the two is None. labels: whether words,
    dimensions and key are drawn. select: a piece's id, marked by a heavy
    outline and a word (which stands even without labels), or None.
    Returns "svg", "width" and "height" (px, or mm on paper), and "say", the
    drawing in words. Errors: KeyError, IndexError for what is no plan or wall.
    """
    here = plan["walls"][number - 1]
    pieces = [p for p in plan["pieces"] if p["wall"] == number]
    unit = plan["unit"]
    looks = style.PAPER if paper else style.SCREEN
    joints = any([len(run["pieces"]) > 1 for c in here["courses"] for run in c["runs"]])
    items = around.legend_items(here, pieces, joints)
    frame = _frame(here, pieces, looks, labels, unit)
    left, low, right, high, west, north, south = frame
    if paper:
        width, height = PAPERS[paper]
        rows = around.legend_rows(looks, items, width - 2 * _MARGIN) if labels else []
        key = len(rows) * (looks.text * 6 // 5 + looks.gap)
        title = 2 * looks.text
        room_x = width - 2 * (_MARGIN + west)
        room_y = height - 2 * _MARGIN - title - north - south - key
        k = min(room_x / (right - left), room_y / (high - low))
        spare = int(room_x - (right - left) * k) // 2
        x0 = _MARGIN + west + spare - int(left * k)
        foot = _MARGIN + title + north + int(high * k)
    else:
        assert scale is not None
        k = scale / 100
        broad = int((right - left) * k) + 2 * west
        width = max(broad, _LEAST) if labels else broad
        rows = around.legend_rows(looks, items, width - 2 * looks.gap) if labels else []
        key = len(rows) * (looks.text * 6 // 5 + looks.gap)
        height = int((high - low) * k) + north + south + key
        x0 = west + (width - broad) // 2 - int(left * k)
        foot = north + int(high * k)
    sheet = Sheet(looks, width, height, k, x0, foot)
    pattern = "%s%d-" % (looks.name, number)
    sheet.parts.append(style.patterns(looks, pattern))
    sheet.rect(0, 0, width, height, ' fill="%s"' % style.WHITE)
    boards = Boards(sheet, pieces, unit, pattern)
    boards.draw(paper is None, _face(here))
    wall.blocking(sheet, here, pattern)
    boards.joints([run for c in here["courses"] for run in c["runs"]])
    wall.studs(sheet, here)
    wall.level(sheet, here, left, right)
    wall.openings(sheet, here)
    wall.outline(sheet, here)
    wall.boxes(sheet, here, pattern)
    if select is not None:
        boards.choose(select, labels)
    if labels:
        if paper:
            name = here["name"]
            if plan.get("title"):
                name = plan["title"] + ": " + name
            sheet.word(_MARGIN, _MARGIN + looks.text, "start", [_cut(sheet, name)], True)
        _words(sheet, here, boards, unit, frame)
        lowest = sheet.y(low) + south
        margin = _MARGIN if paper else looks.gap
        around.legend(sheet, rows, margin, lowest, pattern)
        for i in range(len(pieces)):
            if pieces[i]["id"] != select:
                boards.label(i)
        wall.level_word(sheet, here)
    say = _say(plan, here, pieces)
    size = "mm" if paper else ""
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="%s%s" height="%s%s"'
        ' viewBox="0 0 %d %d" role="%s" aria-label="%s">%s</svg>'
        % (
            _plain(width, looks.per_unit),
            size,
            _plain(height, looks.per_unit),
            size,
            width,
            height,
            "img" if paper else "group",
            escape(say),
            sheet.text(),
        )
    )
    per = looks.per_unit
    return {"svg": svg, "width": width / per, "height": height / per, "say": say}


def _plain(units: int, per: int) -> str:
    """Sheet units as a decimal number of px or mm."""
    whole, part = divmod(units, per)
    return "%d.%s" % (whole, ("%02d" if per == 100 else "%d") % part) if part else str(whole)


def _face(here: dict[str, Any]) -> float:
    """The tallest course that shows, in mm."""
    face: float = max([0.0] + [c["top"] - c["bottom"] for c in here["courses"]])
    return face


def _cut(sheet: Sheet, name: str) -> str:
    """A title no wider than the sheet."""
    while sheet.wide(name, True) > sheet.width - 2 * _MARGIN:
        name = name[:-4] + "..."
    return name


def _frame(
    here: dict[str, Any], pieces: list[dict[str, Any]], looks: style.Style, labels: bool, unit: str
) -> tuple[float, float, float, float, int, int, int]:
    """What the drawing spans (mm: left, low, right, high), and the room for words beside,
    over and under it (sheet units)."""
    points = here["floor"] + here["ceiling"] + here["left"] + here["right"]
    points = points + [q for p in pieces for ring in p["shows"] for q in ring]
    xs = [p[0] for p in points]
    ys = [p[1] for p in points]
    line = looks.text * 6 // 5
    over = 2 * looks.gap
    under = beside = over
    if labels:
        over = under = 2 * looks.gap
        beside = line * 3 + looks.gap
        under += around.stud_room(here, unit) * line + 2 * looks.gap
        if around.stations(here):
            under += around.chain_room(here, unit) * line + 2 * looks.gap
        under += line + 2 * looks.gap
        leans = any([s["top"] != s["at"] for s in here["studs"]])
        if leans or len(here["ceiling"]) > 2:
            over += 3 * line
        if _top_width(here) is not None:
            over += line + looks.gap
    return min(xs), min(ys), max(xs), max(ys), beside, over, under


def _top_width(here: dict[str, Any]) -> float | None:
    """The width at the ceiling where it is another than at the floor."""
    top: float = here["ceiling"][-1][0] - here["ceiling"][0][0]
    return top if jots(top) != jots(here["width"]) else None


def _words(
    sheet: Sheet,
    here: dict[str, Any],
    boards: Boards,
    unit: str,
    frame: tuple[float, float, float, float, int, int, int],
) -> None:
    """Names, numbers and dimensions, what matters most first."""
    left, low, right, high = frame[:4]
    gap, line = sheet.style.gap, sheet.high
    row = sheet.y(low) + gap
    chain = row + around.stud_room(here, unit) * line + 2 * gap
    foot = chain
    if around.stations(here):
        foot += around.chain_room(here, unit) * line + 2 * gap
    floor, ceiling = here["floor"], here["ceiling"]
    across = foot + line // 2
    around.across(
        sheet, sheet.x(floor[0][0]), sheet.x(floor[-1][0]), across, show(jots(here["width"]), unit)
    )
    top = _top_width(here)
    if top is not None:
        y = sheet.y(high) - frame[5] + gap + line // 2
        around.across(
            sheet, sheet.x(ceiling[0][0]), sheet.x(ceiling[-1][0]), y, show(jots(top), unit)
        )
    for i, x in ((0, sheet.x(left) - line * 5 // 2), (-1, sheet.x(right) + line * 5 // 2)):
        tall = show(jots(ceiling[i][1] - floor[i][1]), unit)
        around.upright(sheet, x, sheet.y(floor[i][1]), sheet.y(ceiling[i][1]), tall)
    around.course_words(sheet, here, boards)
    wall.opening_words(sheet, here, unit)
    around.stud_words(sheet, here, unit, row, False)
    around.stud_words(sheet, here, unit, row, True)
    around.breaks(sheet, here, unit)
    around.running(sheet, here, unit, chain)
    wall.small_words(sheet, here)


def _say(plan: dict[str, Any], here: dict[str, Any], pieces: list[dict[str, Any]]) -> str:
    """The drawing in words."""
    unit = plan["unit"]
    courses = len([c for c in here["courses"] if c["runs"]])
    parts = [
        "%s, seen from the room: width %s, greatest height %s"
        % (
            here["name"],
            reading(jots(here["width"]), unit).say,
            reading(jots(here["height"]), unit).say,
        ),
        "%d %s" % (courses, "course" if courses == 1 else "courses"),
        "%d %s" % (len(pieces), "piece" if len(pieces) == 1 else "pieces"),
        "%d %s" % (len(here["studs"]), "stud" if len(here["studs"]) == 1 else "studs"),
    ]
    parts += [o["name"] for o in here["openings"]] + [b["name"] for b in here["boxes"]]
    return ", ".join(parts) + "."


def asked_for(plan: dict[str, Any], asked: dict[str, object]) -> dict[str, Any]:
    """The bridge's verb: "wall", "scale" or "paper", "labels", "select" of a request.

    Returns what elevation() does. Raises InputError naming what is wrong.
    """
    problems = []

    def wrong(field: str, what: str, fix: str) -> None:
        given = shown(asked.get(field))
        problems.append(Problem(field, given, "%s: %s %s." % (field, given, what), fix))

    number, scale, paper = asked.get("wall"), asked.get("scale"), asked.get("paper")
    labels, select = asked.get("labels", True), asked.get("select")
    if not _whole(number) or not 1 <= number <= len(plan["walls"]):  # type: ignore[operator]
        wrong("wall", "is no wall of the plan", "Give 1 to %d." % len(plan["walls"]))
    if scale is not None and (
        not _whole(scale) or not LEAST_SCALE <= scale <= MOST_SCALE  # type: ignore[operator]
    ):
        fix = "Give whole px a metre, %d to %d." % (LEAST_SCALE, MOST_SCALE)
        wrong("scale", "is out of range", fix)
    if paper is not None and paper not in PAPERS:
        wrong("paper", "is not known", "Use one of %s." % ", ".join(sorted(PAPERS)))
    if (scale is None) == (paper is None):
        wrong("scale", "does not go with paper", "Give one of scale and paper, the other null.")
    if labels is not True and labels is not False:
        wrong("labels", "is neither true nor false", "Give true or false.")
    if select is not None and not isinstance(select, str):
        wrong("select", "is no piece", "Give a piece's id, or null.")
    if problems:
        raise InputError(problems)
    return elevation(plan, number, scale, paper, labels, select)  # type: ignore[arg-type]


def _whole(value: object) -> bool:
    return isinstance(value, int) and value is not True and value is not False
