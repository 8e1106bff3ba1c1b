"""A piece's sketch: its shape with the readings that its edges, ends and cuts are marked by.

Laid out in pixels of a narrow phone; length and height each have a scale of
their own, since a board to scale is a thread. Readings along it are from its
left end and stand over and under it, each right of a line from where it is
taken; heights stand beside its ends and its cuts.
"""

from collections import namedtuple

from .drawing.sheet import jots, lines_of
from .lengths import JOTS_PER_INCH

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

_PX = JOTS_PER_INCH // 16  # jots a pixel here
_LETTER = 8.5  # px a character takes, at most
_LINE = 17  # px from one line of text to the next
_BASE = 13  # px from a line's upper edge to its base line
_WIDE = 272
_A, _B = 52, 198  # px: the piece's ends
_BODY = 96  # px of the piece's height
_ROWS = 4  # of readings over and under the piece
_LAST = 306  # px: as far right as words may go, in the page's margin

# A reading along the piece: where its line is and its row, 0 next to the piece.
_Flag = namedtuple("_Flag", "x row lines")


def piece_sketch(p: dict[str, Any], unit: str) -> dict[str, Any]:
    """The sketch of a plan's piece: width, height, items and say, as Sketch in quick/declare.

    unit: one of UNITS. A reading for which there is no room is left out: it
    stands in the card's words. Errors: KeyError for what is no piece.
    """
    tall = max([q[1] for q in p["shape"][0]]) or 1
    over, under = _along(p, tall)
    flags_over, flags_under = _flags(p, over, unit), _flags(p, under, unit)
    head = _high(flags_over)
    page = _Page(p, unit, tall, head)
    page.shape()
    page.flags(flags_over, head, -1)
    page.flags(flags_under, head + _BODY, 1)
    page.ends()
    for c in p["cuts"]:
        if c["kind"] in ("notch", "hole", "lap"):
            page.depth(c)
        elif c["kind"] == "round":
            page.across(c)
    say = "The piece from the front, its length and its height not to one scale; "
    say += "readings along it are from its left end, heights from its lower edge, "
    say += "the one beside a notch is its depth."
    height = head + _BODY + _high(flags_under)
    return {"width": _WIDE * _PX, "height": height * _PX, "items": page.items, "say": say}


def _along(p: dict[str, Any], tall: float) -> tuple[list[float], list[float]]:
    """Where readings are taken along the upper and along the lower edge (mm)."""
    over: set[float] = set()
    under: set[float] = set()
    for along, up in p["shape"][0]:
        if 2 * up > tall:
            over.add(along)
    for along, up in p["shape"][0]:
        if not jots(up) or not (2 * up > tall or along in over):
            under.add(along)
    for c in p["cuts"]:
        if c["kind"] == "hole":
            over.add(c["from"])
            over.add(c["to"])
        elif c["kind"] == "round":
            over.add(c["centre"][0])
    if over <= under:
        over = set()
    return [mm for mm in sorted(over) if jots(mm)], [mm for mm in sorted(under) if jots(mm)]


def _x(p: dict[str, Any], along: float) -> int:
    return _A + int((_B - _A) * along / max(p["length"], 0.001) + 0.5)


def _wide(lines: list[str]) -> int:
    return int(max([len(t) for t in lines]) * _LETTER) + 1


def _flags(p: dict[str, Any], places: list[float], unit: str) -> list[Any]:
    """Each reading in a row of its own where it would reach over the next one's line."""
    out: list[Any] = []
    for mm in places[::-1]:
        x, lines = _x(p, mm), lines_of(mm, unit)
        row = 0
        for f in out:
            if f.x <= x + 4 + _wide(lines):
                row = max(row, f.row + 1)
        if row < _ROWS and x + 3 + _wide(lines) <= _LAST:
            out.append(_Flag(x, row, lines))
    return out


def _tall(flags: list[Any]) -> int:
    """Pixels of a row."""
    return _LINE * max([len(f.lines) for f in flags])


def _high(flags: list[Any]) -> int:
    return _tall(flags) * (1 + max([f.row for f in flags])) + 4 if flags else 0


class _Page:
    """The sketch's items, and where words stand in the piece."""

    def __init__(self, p: dict[str, Any], unit: str, tall: float, head: int) -> None:
        self.p = p
        self.unit = unit
        self.tall = tall
        self.head = head
        self.items: list[list[object]] = []
        self.taken: list[tuple[int, int, int, int]] = []
        for c in p["cuts"]:
            if c["kind"] in ("notch", "hole", "lap"):
                self.taken.append(
                    (_x(p, c["from"]), self.y(c["high"]), _x(p, c["to"]), self.y(c["low"]))
                )
            elif c["kind"] == "round":
                left, top, wide, high = self.round(c)
                self.taken.append((left, top, left + wide, top + high))

    def y(self, up: float) -> int:
        return self.head + _BODY - int(_BODY * up / self.tall + 0.5)

    def round(self, c: dict[str, Any]) -> tuple[int, int, int, int]:
        """The box round a round hole: left, top, width, height in px."""
        half = c["diameter"] / 2
        along, up = c["centre"]
        left, top = _x(self.p, along - half), self.y(up + half)
        return left, top, _x(self.p, along + half) - left, self.y(up - half) - top

    def shape(self) -> None:
        rings = []
        for ring in self.p["shape"]:
            flat: list[int] = []
            for along, up in ring:
                flat.extend((_x(self.p, along) * _PX, self.y(up) * _PX))
            rings.append(flat)
        self.items.append(["path", rings, "board"])
        for c in self.p["cuts"]:
            if c["kind"] == "round":
                left, top, wide, high = [n * _PX for n in self.round(c)]
                w, h = wide * 3 // 10, high * 3 // 10
                ring = [left + w, top, left + wide - w, top, left + wide, top + h]
                ring += [left + wide, top + high - h, left + wide - w, top + high]
                ring += [left + w, top + high, left, top + high - h, left, top + h]
                self.items.append(["path", [ring], "hole"])

    def text(self, x: int, top: int, anchor: str, lines: list[str]) -> None:
        for line in lines:
            self.items.append(["text", x * _PX, (top + _BASE) * _PX, anchor, line])
            top += _LINE

    def flags(self, flags: list[Any], edge: int, way: int) -> None:
        """Readings over (way -1) or under (1) the piece's edge."""
        for f in flags:
            high = _tall(flags)
            near = edge + way * (4 + f.row * high)
            far = near + way * high
            self.items.append(
                ["line", f.x * _PX, edge * _PX, f.x * _PX, (far - way * 3) * _PX, "dim"]
            )
            self.text(f.x + 3, min(near, far), "start", f.lines)

    def ends(self) -> None:
        """How high the piece is at its ends, beside them."""
        ring = self.p["shape"][0]
        for side, x, anchor in (("left", _A - 6, "end"), ("right", _B + 6, "start")):
            mm = self.p["widths"][side]
            if jots(mm):
                at = [q[0] for q in ring]
                edge = min(at) if side == "left" else max(at)
                ups = [q[1] for q in ring if q[0] == edge]
                lines = lines_of(mm, self.unit)
                middle = (self.y(min(ups)) + self.y(max(ups))) // 2
                self.text(x, middle - _LINE * len(lines) // 2, anchor, lines)

    def depth(self, c: dict[str, Any]) -> None:
        """A notch's depth beside it, or where a hole begins and ends, if there is room."""
        left, right = _x(self.p, c["from"]), _x(self.p, c["to"])
        top, foot = self.y(c["high"]), self.y(c["low"])
        if c["kind"] == "hole":
            low, high = lines_of(c["low"], self.unit), lines_of(c["high"], self.unit)
            apart = max(0, _LINE - (foot - top) // 2)
            self._beside(left, right, (top + foot) // 2 - apart - _LINE * len(high), high)
            self._beside(left, right, (top + foot) // 2 + apart, low)
            return
        lines = lines_of(c["high"] - c["low"], self.unit)
        self._beside(left, right, (top + foot - _LINE * len(lines)) // 2, lines)

    def across(self, c: dict[str, Any]) -> None:
        """How high a round hole's centre is, and how wide the hole, beside it."""
        left, top, wide, high = self.round(c)
        up = lines_of(c["centre"][1], self.unit)
        big = lines_of(c["diameter"], self.unit)
        short = [up[0] + " up"] + up[1:] + [big[0] + " wide"] + big[1:]
        for lines in (short, up + ["up"] + big + ["wide"]):
            if self._beside(left, left + wide, top + (high - _LINE * len(lines)) // 2, lines):
                return

    def _beside(self, left: int, right: int, top: int, lines: list[str]) -> bool:
        """Words right or left of a cut; False where neither is free."""
        wide, high = _wide(lines), _LINE * len(lines)
        top = min(max(top, self.head + 2), self.head + _BODY - high - 2)
        for x, start, anchor in (
            (right + 4, right + 4, "start"),
            (left - 4, left - 4 - wide, "end"),
        ):
            box = (start, top, start + wide, top + high)
            if start < _A + 2 or start + wide > _B - 8:
                continue
            if all([
                box[0] >= t[2] or t[0] >= box[2] or box[1] >= t[3] or t[1] >= box[3]
                for t in self.taken
            ]):  # fmt: skip
                self.taken.append(box)
                self.text(x, top, anchor, lines)
                return True
        return False
