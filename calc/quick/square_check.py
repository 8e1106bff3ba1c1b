"""Square check: how far out of square two diagonals, or one, say that a wall is."""

from ..bounds import TALLEST, WIDEST
from ..draft import Answer, Draft, refuse
from ..lengths import JOTS_PER_INCH, JOTS_PER_MM
from ..trade.levels import degrees_text, diagonal, limit_words, square
from .declare import Calculator, length

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

_LEAST = 10 * JOTS_PER_MM
# Diagonals that miss the sides by more were misread. Common practice, no source.
_MISREAD = JOTS_PER_INCH // 4
_MISREAD_METRIC = 6 * JOTS_PER_MM
_DEGREE = 1000

FIELDS = [
    length("width", "Width, at the foot", "corner to corner", lo=_LEAST, hi=WIDEST),
    length("height", "Height, up the side", "", lo=_LEAST, hi=TALLEST),
    length("one", "Diagonal, up to the right", "bottom left to top right", lo=1, hi=WIDEST),
    length("two", "Diagonal, up to the left", "bottom right to top left", lo=1, hi=WIDEST,
           needed=False),
]  # fmt: skip


def answer(v: "dict[str, Any]", unit: str) -> Answer:
    """The answer from the fields' values. Raises InputError where they make no triangle."""
    d = Draft(unit)
    wide, high = v["width"], v["height"]
    for key, label in (("one", "Diagonal, up to the right"), ("two", "Diagonal, up to the left")):
        c = v[key]
        if c is not None and not abs(wide - high) < c < wide + high:
            raise refuse(
                key, d.show(c), "%s: %s makes no triangle with the sides." % (label, d.show(c)),
                "Measure it again; in a square corner it is %s." % d.show(diagonal(wide, high)),
            )  # fmt: skip
    s = square(wide, high, v["one"], v["two"])
    d.length("out", "Out of square, over the height", abs(s.shift))
    d.value("shift", s.shift)
    d.value("angle", int(s.angle * 1000 + 0.5))
    should = diagonal(wide, high)
    d.value("square", should)
    d.row(
        "Top leans", "to the right" if s.shift > 0 else "to the left" if s.shift else "not at all"
    )
    d.row("Corner, bottom left", degrees_text(s.angle, 3))
    d.row("Both diagonals, if square", d.show(should))
    d.row("Limits of plumb", limit_words(abs(s.shift), high, unit))
    d.step(
        "diagonal, if square", "square root of width^2 + height^2",
        "root(%s^2 + %s^2)" % (d.show(wide), d.show(high)), d.show(should), "plane geometry",
    )  # fmt: skip
    if v["two"] is None:
        d.step(
            "out of square", "(diagonal^2 - width^2 - height^2) / (2 width)",
            "(%s^2 - %s^2 - %s^2) / (2 x %s)"
            % (d.show(v["one"]), d.show(wide), d.show(high), d.show(wide)),
            d.show(s.shift), "law of cosines",
        )  # fmt: skip
        if not s.shift:
            d.row("Wall", "square by one diagonal; read the other one as well")
        return d.done()
    d.step(
        "out of square", "(diagonal to the right^2 - to the left^2) / (4 width)",
        "(%s^2 - %s^2) / (4 x %s)" % (d.show(v["one"]), d.show(v["two"]), d.show(wide)),
        d.show(s.shift), "plane geometry",
    )  # fmt: skip
    d.value("off", s.off)
    most = _MISREAD if unit in ("in", "ft") else _MISREAD_METRIC
    if abs(s.off) > most:
        d.warn(
            "The diagonals are %s %s than these sides allow: measure again, and floor against "
            "ceiling and side against side; opposite sides may differ."
            % (d.show(abs(s.off)), "longer" if s.off > 0 else "shorter")
        )
    return d.done()


CALCULATOR = Calculator(
    "square-check",
    "Square check",
    "How far out of square is the wall, by its diagonals?",
    FIELDS,
    answer,
    ["Diagonals and 3-4-5: plane geometry", "Opposite sides taken as equal: common practice"],
)
