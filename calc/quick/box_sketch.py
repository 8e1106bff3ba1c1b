"""The box notch's drawing: the part of each board round its cut, with its readings beside it.

It is laid out in pixels of a narrow phone and not to scale but for each cut in
its board's height: names stand left of the boards, readings right of them and
above, so that no text is on a board and none on another.
"""

from ..boxes import Cut
from ..draft import Sketch
from ..lengths import JOTS_PER_INCH, Reading, reading

_WIDE, _TALL = 272, 244  # px that the page gives a drawing inside its margin, at most
_PX = JOTS_PER_INCH // 16  # jots a pixel here
_LETTER = 8.5  # px a character takes, at most
_LINE = 16  # px from one line of text to the next
_UP, _DOWN = 12, 3  # px a text reaches over and under its base line
_NAMES = -26  # px where the names start, in the page's margin
_LEFT, _RIGHT = 52, 156  # px: the boards' ends
_A, _B = 80, 128  # px: the cut's sides
_READINGS = 168  # px where the readings beside the boards start
_MIDDLE = 104  # px: the readings above part here
_ROWS = 4  # more boards than this, and those cut in two are drawn as one
_BETWEEN = 8  # px between two boards
_TALLEST = 84  # px of a board
_NEAR = 5 * JOTS_PER_INCH  # a piece's end nearer than this to the cut is drawn as it is
_LEAST = 3  # px of a cut, or of what is left beside it


def box_sketch(
    unit: str, found: list[Cut], names: list[str], x0: int, x1: int, piece: int | None
) -> Sketch:
    """The drawing of the cuts, the highest on top.

    unit: one of UNITS; found: the cuts, lowest first, with the courses' names;
    x0, x1: jots from the piece's left end to the cut's sides; piece: its
    length or None. Errors: none.
    """
    page = _Page(unit)
    open_left = x0 <= 0
    open_right = piece is not None and x1 >= piece
    left = _A if open_left else _LEFT
    right = _B if open_right else _RIGHT
    head = max(
        0 if open_left else page.lines(x0),
        0 if open_right else page.lines(x1),
    )
    top = head * _LINE + 6 if head else 0
    if not open_left:
        long = page.long(x0)
        page.reading(min(_MIDDLE - 3, int(_A + long / 2)), 0, "end", x0)
        page.line(_A, page.lines(x0) * _LINE + 1, _A, top, "dim")
    if not open_right:
        long = page.long(x1)
        page.reading(max(_MIDDLE + 4, int(_B - long / 2)), 0, "start", x1)
        page.line(_B, page.lines(x1) * _LINE + 1, _B, top, "dim")
    rows = _rows(found, names)
    slot = min((_TALL - top) // len(rows), _TALLEST + _BETWEEN)
    broken_right = piece is None or piece - x1 > _NEAR
    for cut, words in rows[::-1]:
        page.board(left, right, top, slot, x0 > _NEAR, broken_right and not open_right)
        page.cut(cut, right, top, slot)
        page.name(words, top + (slot - _BETWEEN) // 2)
        top += slot
    say = "The boards round the cut, the highest on top, not to scale; heights of a hole or a "
    say += "lower notch are from the lower edge, depths of an upper notch from the upper edge."
    return Sketch(_WIDE * _PX, top * _PX, page.items, say)


def _rows(found: list[Cut], names: list[str]) -> list[tuple[Cut, list[str]]]:
    """(cut, words of its name) of each board drawn, lowest first."""
    out: list[tuple[Cut, list[str]]] = []
    split = len([c for c in found if c.kind == "split"])
    for i in range(len(found)):
        words = [names[i]] if len(names[i]) * _LETTER <= _LEFT - _NAMES - 4 else names[i].split(" ")
        if found[i].kind == "split" and len(found) > _ROWS:
            if i and found[i - 1].kind == "split":
                continue
            words = ["%d split" % split]
        out.append((found[i], words))
    return out


class _Page:
    """The drawing's items, in pixels when they are given and in jots when they are held."""

    def __init__(self, unit: str) -> None:
        self.unit = unit
        self.items: list[list[object]] = []

    def line(self, x1: int, y1: int, x2: int, y2: int, style: str) -> None:
        self.items.append(["line", x1 * _PX, y1 * _PX, x2 * _PX, y2 * _PX, style])

    def text(self, x: int, top: int, anchor: str, text: str) -> None:
        """A line of text whose upper edge is at `top`."""
        self.items.append(["text", x * _PX, (top + _UP) * _PX, anchor, text])

    def texts(self, jots: int) -> list[str]:
        """A reading's lines: heavy or light stands under it."""
        r: Reading = reading(jots, self.unit)
        return [r.text, r.lean] if r.lean else [r.text]

    def lines(self, jots: int) -> int:
        return len(self.texts(jots))

    def long(self, jots: int) -> float:
        """Pixels that the reading's longest line takes."""
        return max([len(t) for t in self.texts(jots)]) * _LETTER

    def reading(self, x: int, top: int, anchor: str, jots: int) -> None:
        for text in self.texts(jots):
            self.text(x, top, anchor, text)
            top += _LINE

    def name(self, words: list[str], middle: int) -> None:
        top = middle - len(words) * _LINE // 2
        for word in words:
            self.text(_NAMES, top, "start", word)
            top += _LINE

    def board(self, left: int, right: int, top: int, slot: int, cut: bool, more: bool) -> None:
        """A board's outline; `cut`, `more`: whether it goes on to the left and to the right."""
        foot = top + slot - _BETWEEN
        self.line(left, top, right, top, "mark")
        self.line(left, foot, right, foot, "mark")
        for x, broken in ((left, cut), (right, more)):
            if not broken:
                self.line(x, top, x, foot, "mark")
                continue
            for k in range(4):
                y, below = top + k * (foot - top) // 4, top + (k + 1) * (foot - top) // 4
                side = 3 if k % 2 else -3
                middle = (y + below) // 2
                self.line(x, y, x + side, middle, "dim")
                self.line(x + side, middle, x, below, "dim")

    def cut(self, cut: Cut, right: int, top: int, slot: int) -> None:
        """The cut in its board, and its readings with a line from where they are taken to."""
        h = slot - _BETWEEN
        tall = cut.high - cut.low
        over = _part(cut.high - cut.end, tall, h)  # px left above the cut
        under = _part(cut.start - cut.low, tall, h)
        self.items.append(
            ["rect", _A * _PX, (top + over) * _PX, (_B - _A) * _PX, (h - over - under) * _PX, "cut"]
        )
        marks: list[tuple[int, int]] = []
        if cut.kind in ("lower", "hole"):
            marks.append((cut.end - cut.low, top + over))
        if cut.kind == "hole":
            marks.append((cut.start - cut.low, top + h - under))
        if cut.kind == "upper":
            marks.append((cut.high - cut.start, top + h - under))
        free, foot = top - 1, top + slot - 1
        for k in range(len(marks)):
            jots, edge = marks[k]
            high = self.lines(jots) * _LINE
            rest = sum([self.lines(m[0]) for m in marks[k + 1 :]]) * _LINE
            at = max(free, min(edge - high // 2, foot - rest - high))
            self.reading(_READINGS, at, "start", jots)
            self.line(_B, edge, right + 4, edge, "dim")
            self.line(right + 4, edge, _READINGS - 3, at + high // 2, "dim")
            free = at + high


def _part(jots: int, tall: int, h: int) -> int:
    """Pixels of what is left beside a cut: to scale, but something is never drawn as nothing."""
    if jots == 0:
        return 0
    return max(_LEAST, min(h * jots // tall, h - 2 * _LEAST))
