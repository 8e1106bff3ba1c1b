"""One wall's elevation as SVG, from the plan: for page, print, export and command line.

Presentation attributes only, so that the text stands by itself and needs no
style sheet. Seen from the room, y up from the lowest point of the floor.
"""

from .drawing import around, style, wall
from .drawing.boards import Boards
from .drawing.frame import Frame, frame, tightened, top_width
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
MOST_ASIDE = 140  # mm of paper left free beside a drawing
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
    aside: int = 0,
) -> dict[str, Any]:
    """The drawing of wall `number` (from 1).

    plan: a lapwright-plan, at least its unit, walls and that wall's pieces.
    scale: whole CSS px a metre of wall, on the screen; paper: one of PAPERS,
    fitted into the page less `aside` mm at its right; one of the two is None.
    labels: whether words, dimensions and key are drawn. select: a piece's id, marked by a heavy
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
    room = frame(here, pieces, looks, unit, labels)
    line = looks.text * 6 // 5
    across, tall = room.right - room.left, room.high - room.low
    if paper:
        width, height = PAPERS[paper]
        width -= 100 * aside
        rows = around.legend_rows(looks, items, width - 2 * _MARGIN) if labels else []
        key = len(rows) * (line + looks.gap)
        title = 2 * looks.text
        room_x = width - 2 * (_MARGIN + room.beside)
        room_y = height - 2 * _MARGIN - title - room.over - room.under - key
        k = min(room_x / across, room_y / tall)
        x0 = _MARGIN + room.beside + int(room_x - across * k) // 2 - int(room.left * k)
        foot = _MARGIN + title + room.over + int(room.high * k)
    else:
        assert scale is not None
        k = scale / 100
        if labels:
            room = tightened(room, here, looks, unit, k)
        broad = int(across * k) + 2 * room.beside
        width = max(broad, _LEAST) if labels else broad
        rows = around.legend_rows(looks, items, width - 2 * looks.gap) if labels else []
        key = len(rows) * (line + looks.gap)
        height = int(tall * k) + room.over + room.under + key
        x0 = room.beside + (width - broad) // 2 - int(room.left * k)
        foot = room.over + int(room.high * k)
    sheet = Sheet(looks, width, height, k, x0, foot)
    pattern = "%s%d-" % (looks.name, number)
    sheet.parts.append(style.patterns(looks, pattern))
    sheet.rect(0, 0, width, height, ' fill="%s"' % style.WHITE)
    boards = Boards(sheet, pieces, unit, pattern)
    boards.draw(paper is None, _face(here))
    wall.blocking(sheet, here, pattern)
    boards.joints([run for c in here["courses"] for run in c["runs"]])
    wall.studs(sheet, here)
    wall.level(sheet, here, room.left, room.right)
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
        _words(sheet, here, boards, unit, room)
        lowest = sheet.y(room.low) + room.under
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


def _words(sheet: Sheet, here: dict[str, Any], boards: Boards, unit: str, room: Frame) -> None:
    """Names, numbers and dimensions, what matters most first."""
    gap, line = sheet.style.gap, sheet.high
    row = sheet.y(room.low) + gap
    chain = row + room.studs * line + 2 * gap
    foot = chain + (room.chain * line + 2 * gap if room.chain else 0)
    floor, ceiling = here["floor"], here["ceiling"]
    for ends, mm, y in (
        (floor, here["width"], foot + line // 2),
        (ceiling, top_width(here), sheet.y(room.high) - room.over + gap + line // 2),
    ):
        if mm is not None:
            x0, x1 = sheet.x(ends[0][0]), sheet.x(ends[-1][0])
            around.across(sheet, x0, x1, y, show(jots(mm), unit))
    far = line * 5 // 2
    for i, side, x in (
        (0, "left", sheet.x(room.left) - far),
        (-1, "right", sheet.x(room.right) + far),
    ):
        foot, tall = floor[i][1], here["heights"][side]
        around.upright(sheet, x, sheet.y(foot), sheet.y(foot + tall), show(jots(tall), unit))
    around.course_words(sheet, here, boards)
    wall.opening_words(sheet, here, unit)
    around.stud_words(sheet, here, unit, row)
    around.breaks(sheet, here, unit)
    around.running(sheet, here, unit, chain, room.chain)
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
    """The bridge's verb: "wall", "scale" or "paper", "labels", "select", "aside" of a request.

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
    aside = asked.get("aside", 0)
    if not _whole(aside) or not 0 <= aside <= MOST_ASIDE:  # type: ignore[operator]
        wrong("aside", "is out of range", "Give whole mm, 0 to %d." % MOST_ASIDE)
    if problems:
        raise InputError(problems)
    return elevation(plan, number, scale, paper, labels, select, aside)  # type: ignore[arg-type]


def _whole(value: object) -> bool:
    return isinstance(value, int) and value is not True and value is not False
