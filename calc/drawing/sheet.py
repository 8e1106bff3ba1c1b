"""The sheet an elevation is drawn on: where a point of the wall comes, lines and words.

Its unit is a whole number (style.py); y runs down. Each word takes its place
when it is set: one that would touch another or the sheet's edge is not set.
"""

from ..lengths import JOTS_PER_MM, reading
from .style import CHALK, INK, WHITE, Style

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence

# Widths of characters in hundredths of the type's size, wide ones of the common
# sans-serif faces (measured on DejaVu Sans, the widest of them); others: 64.
_WIDTHS = {}
for _chars, _wide in (
    ("ijl.,:;'| ", 33), ("frt-/()\"I", 47), ("csxzvykJ", 60), ("mw%", 98), ("MWOQ@", 99),
    ("ABCDGHKNPRSTUVXYZEFL+=", 78),
):  # fmt: skip
    for _c in _chars:
        _WIDTHS[_c] = _wide


def jots(mm: float) -> int:
    """A plan's length, or a place left of or under the corner, as jots."""
    return int(mm * JOTS_PER_MM + 0.5) if mm >= 0 else -int(0.5 - mm * JOTS_PER_MM)


def lines_of(mm: float, unit: str) -> list[str]:
    """A reading in one or two short lines: heavy and light by their value alone."""
    r = reading(jots(mm), unit)
    return [r.text, r.lean[7:-1]] if r.lean else [r.text]


def escape(text: str) -> str:
    """Text as it stands in SVG, between tags or in an attribute."""
    return (
        text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")
    )


class Sheet:
    """The drawing so far, in `parts`, and what its words have taken."""

    def __init__(self, style: Style, width: int, height: int, k: float, left: int, foot: int):
        """width, height: of the sheet; k: sheet units a millimetre of the wall;
        left, foot: where the wall's x = 0 and y = 0 come."""
        self.style = style
        self.width = width
        self.height = height
        self.k = k
        self.left = left
        self.foot = foot
        self.parts: list[str] = []
        self.words: list[str] = []
        self.high = style.text * 6 // 5  # a line of text with the room over and under it
        self._rows: dict[int, list[tuple[int, int, int, int]]] = {}

    def x(self, mm: float) -> int:
        return int(mm * self.k + self.left + 0.5)

    def y(self, mm: float) -> int:
        return int(self.foot - mm * self.k + 0.5)

    def points(self, line: "Sequence[Sequence[float]]") -> list[tuple[int, int]]:
        k, left, foot = self.k, self.left + 0.5, self.foot + 0.5
        return [(int(p[0] * k + left), int(foot - p[1] * k)) for p in line]

    def path(self, points: list[tuple[int, int]], more: str) -> None:
        """An open line through points of the sheet; more: its other attributes."""
        d = "L".join(["%d %d" % p for p in points])
        self.parts.append('<path d="M%s" fill="none"%s/>' % (d, more))

    def line(self, x1: int, y1: int, x2: int, y2: int, width: int, ink: str = CHALK) -> None:
        self.parts.append(
            '<path d="M%d %dL%d %d" stroke="%s" stroke-width="%d"/>' % (x1, y1, x2, y2, ink, width)
        )

    def rect(self, left: int, top: int, right: int, bottom: int, more: str) -> None:
        self.parts.append(
            '<rect x="%d" y="%d" width="%d" height="%d"%s/>'
            % (left, top, right - left, bottom - top, more)
        )

    def wide(self, text: str, bold: bool = False) -> int:
        """At most so wide is the text, in sheet units."""
        n = 0
        for c in text:
            n += _WIDTHS.get(c, 64)
        if bold:
            n += n // 8
        units: int = n * self.style.text // 100 + self.style.gap // 2
        return units

    def free(self, left: int, top: int, right: int, bottom: int) -> bool:
        """Whether nothing has been set there, and it is on the sheet."""
        if left < 0 or top < 0 or right > self.width or bottom > self.height:
            return False
        for row in range(top // self.high, bottom // self.high + 1):
            for a, b, c, d in self._rows.get(row, ()):
                if left < c and a < right and top < d and b < bottom:
                    return False
        return True

    def take(self, left: int, top: int, right: int, bottom: int) -> None:
        """Keep words off there."""
        for row in range(top // self.high, bottom // self.high + 1):
            if row not in self._rows:
                self._rows[row] = []
            self._rows[row].append((left, top, right, bottom))

    def word(
        self,
        x: int,
        middle: int,
        anchor: str,
        lines: list[str],
        bold: bool = False,
        plate: bool = False,
        upright: bool = False,
    ) -> bool:
        """Set lines of text about `middle`; False where there is no room.

        anchor: start, middle or end. plate: on white, over what is drawn
        there. upright: one line, to be read from the right, about (x, middle).
        """
        wide = max([self.wide(t, bold) for t in lines])
        high = self.high * len(lines)
        if upright:
            wide, high = high, wide
        left = x - (0 if anchor == "start" else wide if anchor == "end" else wide // 2)
        top = middle - high // 2
        if not self.free(left, top, left + wide, top + high):
            return False
        self.put(left, top, wide, high, x, anchor, lines, bold, plate, upright)
        return True

    def put(
        self,
        left: int,
        top: int,
        wide: int,
        high: int,
        x: int,
        anchor: str,
        lines: list[str],
        bold: bool,
        plate: bool,
        upright: bool = False,
    ) -> None:
        """Set lines of text in a box that has been found free; the rest as for `word`."""
        self.take(left, top, left + wide, top + high)
        if plate:
            # The widths are of a wide face: as a rule the words are narrower.
            spare = wide // 14, self.style.text // 10
            h, v = (spare[1], spare[0]) if upright else spare
            self.words.append(
                '<rect x="%d" y="%d" width="%d" height="%d" fill="%s"/>'
                % (left + h, top + v, wide - 2 * h, high - 2 * v, WHITE)
            )
        drop = self.style.text * 35 // 100
        more = ' font-weight="bold"' if bold else ""
        if upright:
            middle = top + high // 2
            more += ' transform="rotate(-90 %d %d)"' % (x, middle)
        line = top + (high if upright else self.high) // 2
        for text in lines:
            self.words.append(
                '<text x="%d" y="%d" text-anchor="%s"%s>%s</text>'
                % (x, line + drop, anchor, more, escape(text))
            )
            line += self.high

    def text(self) -> str:
        """All that was drawn, the words last."""
        body = "".join(self.parts)
        if self.words:
            body += (
                '<g font-family="sans-serif" font-size="%d" fill="%s" pointer-events="none"'
                ' aria-hidden="true">%s</g>' % (self.style.text, INK, "".join(self.words))
            )
        return body
