"""What a wall has besides boards: outline, studs, openings, boxes, blocking, level line."""

from .sheet import Sheet, lines_of
from .style import CHALK, INK, LEVEL_DASH, STUD_DASH, TINT, dash

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

_DOUBLED = 19.05  # mm from a doubled stud's middle to either line, half of 1-1/2 in


def height_at(line: list[list[float]], x: float) -> float:
    """The height of a floor or ceiling line at x, on from its ends as there; of a
    step the side on the left."""
    last = line[0]
    for p in line[1:]:
        if x <= p[0] and p[0] > last[0]:
            if x <= last[0]:
                return last[1]
            return last[1] + (p[1] - last[1]) * (x - last[0]) / (p[0] - last[0])
        last = p
    return last[1]


def outline(sheet: Sheet, wall: dict[str, Any]) -> None:
    """The bare wall: its floor, right end, ceiling and left end in one heavy line."""
    ring = wall["floor"] + wall["right"] + wall["ceiling"][::-1] + wall["left"][::-1]
    d = "L".join(["%d %d" % p for p in sheet.points(ring)])
    sheet.parts.append(
        '<path d="M%sz" fill="none" stroke="%s" stroke-width="%d" stroke-linejoin="round"'
        ' pointer-events="none"/>' % (d, INK, sheet.style.heavy if sheet.style.name == "p" else 30)
    )


def studs(sheet: Sheet, wall: dict[str, Any]) -> None:
    """Each stud's line from its mark at the floor to its mark at the ceiling."""
    more = ' stroke="%s" stroke-width="%d" pointer-events="none"' % (CHALK, sheet.style.hair)
    for s in wall["studs"]:
        low = height_at(wall["floor"], s["at"])
        high = height_at(wall["ceiling"], s["top"])
        x0, x1, y0, y1 = sheet.x(s["at"]), sheet.x(s["top"]), sheet.y(low), sheet.y(high)
        apart = max(int(_DOUBLED * sheet.k), 2 * sheet.style.bold) if s["doubled"] else 0
        for side in (-apart, apart) if apart else (0,):
            sheet.path([(x0 + side, y0), (x1 + side, y1)], more + dash(sheet.style, STUD_DASH))
        tick = sheet.style.step
        for x, y in ((x0, y0), (x1, y1)):
            sheet.path([(x, y - tick // 2), (x, y + tick // 2)], more)


def openings(sheet: Sheet, wall: dict[str, Any]) -> None:
    """Each opening toned and crossed from corner to corner."""
    for o in wall["openings"]:
        left, right = sheet.x(o["left"]), sheet.x(o["right"])
        top, bottom = sheet.y(o["top"]), sheet.y(o["bottom"])
        more = ' fill="%s" stroke="%s" stroke-width="%d"' % (TINT, INK, sheet.style.bold)
        sheet.rect(left, top, right, bottom, more)
        for y0, y1 in ((top, bottom), (bottom, top)):
            sheet.line(left, y0, right, y1, sheet.style.thin)


def boxes(sheet: Sheet, wall: dict[str, Any], key: str) -> None:
    """Each box in its pattern, round ones as circles."""
    more = ' fill="url(#%sbox)" stroke="%s" stroke-width="%d" pointer-events="none"/>' % (
        key,
        INK,
        sheet.style.line,
    )
    for b in wall["boxes"]:
        left, right = sheet.x(b["left"]), sheet.x(b["right"])
        top, bottom = sheet.y(b["top"]), sheet.y(b["bottom"])
        if b["kind"] == "round":
            sheet.parts.append(
                '<circle cx="%d" cy="%d" r="%d"%s'
                % ((left + right) // 2, (top + bottom) // 2, (right - left) // 2, more)
            )
        else:
            sheet.rect(left, top, right, bottom, more[:-2])


def blocking(sheet: Sheet, wall: dict[str, Any], key: str) -> None:
    """Seen through the boards: the pattern lets them show."""
    more = ' fill="url(#%sblock)" stroke="%s" stroke-width="%d" pointer-events="none"%s' % (
        key,
        CHALK,
        sheet.style.thin,
        dash(sheet.style, (6, 4)),
    )
    for b in wall["blocking"]:
        sheet.rect(
            sheet.x(b["left"]), sheet.y(b["top"]), sheet.x(b["right"]), sheet.y(b["bottom"]), more
        )


def level(sheet: Sheet, wall: dict[str, Any], left: float, right: float) -> None:
    """The struck level line, from x = left to x = right (mm)."""
    if wall["level"] is not None:
        y = sheet.y(wall["level"])
        sheet.path(
            [(sheet.x(left), y), (sheet.x(right), y)],
            ' stroke="%s" stroke-width="%d" pointer-events="none"%s'
            % (INK, sheet.style.line, dash(sheet.style, LEVEL_DASH)),
        )


def opening_words(sheet: Sheet, wall: dict[str, Any], unit: str) -> None:
    """An opening's name, and its size and place as far as they fit in it."""
    for o in wall["openings"]:
        left, right = sheet.x(o["left"]), sheet.x(o["right"])
        top, bottom = sheet.y(o["top"]), sheet.y(o["bottom"])
        rows = [[o["name"]]]
        for mm, word in (
            (o["right"] - o["left"], "wide"),
            (o["top"] - o["bottom"], "high"),
            (o["bottom"] - height_at(wall["floor"], o["left"] + 0.001), "up"),
        ):
            if mm > 0.002:
                lines = lines_of(mm, unit)
                rows.append([lines[0] + " " + word] + lines[1:])
        room, broad = bottom - top - sheet.style.gap, right - left
        while rows:
            lines = [line for row in rows for line in row]
            fits = len(lines) * sheet.high <= room
            if fits and max([sheet.wide(t) for t in lines]) <= broad:
                x, y = (left + right) // 2, (top + bottom) // 2
                if sheet.word(x, y, "middle", lines, False, True):
                    break
            rows.pop()
        sheet.take(left, top, right, bottom)


def level_word(sheet: Sheet, wall: dict[str, Any]) -> None:
    """The level line's name on it, wherever there is room."""
    if wall["level"] is None:
        return
    left, right = sheet.x(wall["floor"][0][0]), sheet.x(wall["floor"][-1][0])
    for part in (1, 15, 5, 11, 3, 7, 9, 13):
        x = left + (right - left) * part // 16
        if sheet.word(x, sheet.y(wall["level"]), "middle", ["Level"], False, True):
            return


def small_words(sheet: Sheet, wall: dict[str, Any]) -> None:
    """The boxes' names beside them, blocking's in it, the level line's on it."""
    near = sheet.style.gap
    for b in wall["boxes"]:
        left, right = sheet.x(b["left"]), sheet.x(b["right"])
        top, bottom = sheet.y(b["top"]), sheet.y(b["bottom"])
        name = [b["name"]]
        sheet.take(left, top, right, bottom)
        mx, my, far = (left + right) // 2, (top + bottom) // 2, near + sheet.high // 2
        for x, y, anchor in (
            (right + near, my, "start"),
            (left - near, my, "end"),
            (mx, top - far, "middle"),
            (mx, bottom + far, "middle"),
        ):
            if sheet.word(x, y, anchor, name, False, True):
                break
    for b in wall["blocking"]:
        left, right = sheet.x(b["left"]), sheet.x(b["right"])
        top, bottom = sheet.y(b["top"]), sheet.y(b["bottom"])
        if sheet.wide("Blocking") <= right - left and sheet.high <= bottom - top:
            x, y = (left + right) // 2, (top + bottom) // 2
            sheet.word(x, y, "middle", ["Blocking"], False, True)
