"""The boards of an elevation: outlines, hatching, joints, numbers and a finger's room."""

from ..lengths import reading
from .sheet import Sheet, escape, jots
from .style import CHALK, INK, WHITE

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

_FINGER = 240  # sheet units of the screen: what a finger hits, at least


def ripped(piece: dict[str, Any]) -> bool:
    """Whether a piece is sawn along its length, straight or tapered."""
    return piece["rip"] is not None or any([c["kind"] == "taper" for c in piece["cuts"]])


class Boards:
    """The pieces of one wall on a sheet, with their outlines in sheet units."""

    def __init__(self, sheet: Sheet, pieces: list[dict[str, Any]], unit: str, key: str) -> None:
        """key: before the patterns' names; unit: that readings are told in."""
        self.sheet = sheet
        self.pieces = pieces
        self.unit = unit
        self.key = key
        self.rings = [[sheet.points(r) for r in p["shows"]] for p in pieces]
        self.extents = [_extent(rings) for rings in self.rings]
        self.plain = [_plain(rings) for rings in self.rings]
        self.readings = [reading(jots(p["length"]), unit) for p in pieces]
        self.at = {pieces[i]["id"]: i for i in range(len(pieces))}

    def draw(self, touch: bool, face: float) -> None:
        """Every piece in a group of its own; touch: with room for a finger.

        face: mm that a course covers. A piece lower than that is drawn last
        and can be hit round about it, where others are drawn lower still.
        """
        least = min(_FINGER, int(face * self.sheet.k))
        low: list[str] = []
        for i in range(len(self.pieces)):
            p = self.pieces[i]
            d = " ".join(
                ["M%sz" % "L".join(["%d %d" % point for point in ring]) for ring in self.rings[i]]
            )
            fill = "url(#%srip)" % self.key if ripped(p) else WHITE
            body = '<path d="%s" fill="%s" fill-rule="evenodd" stroke="%s" stroke-width="%d"/>' % (
                d,
                fill,
                CHALK,
                self.sheet.style.thin,
            )
            if not touch:
                self.sheet.parts.append('<g data-piece="%s">%s</g>' % (p["id"], body))
                continue
            left, top, right, bottom = self.extents[i]
            small = bottom - top < least - 20 or right - left < least
            across = max(0, least - (right - left)) // 2 if small else 0
            down = max(0, least - (bottom - top)) // 2 if small else 0
            hit = (
                '<rect x="%d" y="%d" width="%d" height="%d" fill="%s" fill-opacity="0"'
                ' pointer-events="all"/>'
                % (
                    left - across,
                    top - down,
                    right - left + 2 * across,
                    bottom - top + 2 * down,
                    WHITE,
                )
                if small
                else ""
            )
            group = '<g data-piece="%s" role="button" tabindex="0" aria-label="%s">%s%s</g>' % (
                p["id"],
                escape(self.say(i)),
                body,
                hit,
            )
            if small:
                low.append(group)
            else:
                self.sheet.parts.append(group)
        self.sheet.parts.extend(low)

    def say(self, i: int) -> str:
        """A piece in words."""
        p = self.pieces[i]
        text = "Piece %s, course %d, %s" % (p["id"], p["course"], self.readings[i].say)
        if ripped(p):
            text += ", ripped"
        if any([c["kind"] in ("notch", "hole", "round") for c in p["cuts"]]):
            text += ", cut out"
        return text

    def joints(self, runs: list[dict[str, Any]]) -> int:
        """A bold line at each joint of the runs, as high as the board left of it; how many."""
        n = 0
        for run in runs:
            for key in run["pieces"][:-1]:
                if key not in self.at:
                    continue
                points = [q for ring in self.rings[self.at[key]] for q in ring]
                x = max([q[0] for q in points])
                ys = [q[1] for q in points if q[0] == x]
                self.sheet.line(x, min(ys), x, max(ys), self.sheet.style.bold, INK)
                n += 1
        return n

    def choose(self, key: str, words: bool) -> None:
        """The chosen piece: a heavy outline, and the word on it or beside it."""
        if key not in self.at:
            return
        i = self.at[key]
        sheet = self.sheet
        for ring in self.rings[i]:
            sheet.path(
                ring + ring[:2],
                ' stroke="%s" stroke-width="%d" pointer-events="none"' % (INK, sheet.style.heavy),
            )
        left, top, right, bottom = self.extents[i]
        lines = ["%s chosen" % key]
        r = self.readings[i]
        if words and not r.lean and self.set(i, ["%s chosen %s" % (key, r.text)]):
            return
        if self.set(i, lines):
            return
        far = sheet.high // 2 + sheet.style.gap // 2
        for y in (top - far, bottom + far, (top + bottom) // 2):
            half = sheet.wide(lines[0], True) // 2
            x = min(max((left + right) // 2, half + 1), sheet.width - half - 1)
            if sheet.word(x, y, "middle", lines, True, True):
                return

    def label(self, i: int) -> None:
        """A piece's name and length on it, its name alone, or nothing: what fits."""
        p, r = self.pieces[i], self.readings[i]
        one = "%s  %s" % (p["id"], r.text)
        if r.lean:
            if self.set(i, [one + " " + r.lean]) or self.set(i, [one, r.lean]):
                return
        elif self.set(i, [one]) or self.set(i, [p["id"], r.text]):
            return
        self.set(i, [p["id"]])

    def set(self, i: int, lines: list[str]) -> bool:
        """Words on piece i, wherever they stand free within its outline."""
        sheet = self.sheet
        left, top, right, bottom = self.extents[i]
        wide = max([sheet.wide(t, True) for t in lines])
        high = sheet.high * len(lines)
        spare, over = right - left - wide, bottom - top - high
        if spare < 0 or over < 0:
            return False
        for down in (2, 1, 3, 0, 4) if over > sheet.high // 2 else (2,):
            y = top + over * down // 4
            for across in (4, 2, 6, 1, 7, 3, 5, 0, 8):
                x = left + spare * across // 8
                if sheet.free(x, y, x + wide, y + high) and (
                    self.plain[i] or _clear(self.rings[i], x, y, x + wide, y + high)
                ):
                    sheet.put(x, y, wide, high, x + wide // 2, "middle", lines, True, True)
                    return True
        return False


def _extent(rings: list[list[tuple[int, int]]]) -> tuple[int, int, int, int]:
    xs = [p[0] for p in rings[0]]
    ys = [p[1] for p in rings[0]]
    return min(xs), min(ys), max(xs), max(ys)


def _plain(rings: list[list[tuple[int, int]]]) -> bool:
    """Whether the outline is an upright rectangle."""
    if len(rings) != 1 or len(rings[0]) != 4:
        return False
    a, b, c, d = rings[0]
    return (a[1] == b[1] and b[0] == c[0] and c[1] == d[1] and d[0] == a[0]) or (
        a[0] == b[0] and b[1] == c[1] and c[0] == d[0] and d[1] == a[1]
    )


def _clear(
    rings: list[list[tuple[int, int]]], left: int, top: int, right: int, bottom: int
) -> bool:
    """Whether the box lies within the rings: no side runs through it, its middle is inside."""
    mx, my = (left + right) // 2, (top + bottom) // 2
    inside = False
    for ring in rings:
        x0, y0 = ring[-1]
        for x1, y1 in ring:
            if (y0 > my) != (y1 > my) and (x1 - x0) * (my - y0) // (y1 - y0) + x0 > mx:
                inside = not inside
            if (
                max(x0, x1) > left
                and min(x0, x1) < right
                and max(y0, y1) > top
                and min(y0, y1) < bottom
                and _through(x0, y0, x1, y1, left, top, right, bottom)
            ):
                return False
            x0, y0 = x1, y1
    return inside


def _through(
    x0: int, y0: int, x1: int, y1: int, left: int, top: int, right: int, bottom: int
) -> bool:
    """Whether the box has corners on both sides of the line."""
    a, b = y1 - y0, x0 - x1
    c = a * x0 + b * y0
    sides = [a * x + b * y > c for x in (left, right) for y in (top, bottom)]
    return any(sides) and not all(sides)
