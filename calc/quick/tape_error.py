"""Tape error: how far pieces in a row may be out, by the tape and by the reading."""

from ..bounds import LONGEST_BOARD, TALLEST
from ..draft import Answer, Draft
from ..lengths import JOTS_PER_INCH, JOTS_PER_MM
from ..measures import decimal
from ..trade.saying import said
from ..trade.tape import (
    CLASSES,
    DIRECTIVE,
    chained,
    from_datum,
    likely,
    limit,
    metres,
    rounding,
    same_tape,
)
from .declare import Calculator, choice, count, length

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

FIELDS = [
    length("length", "Each piece is", "as it is measured", lo=1, hi=LONGEST_BOARD),
    count("pieces", "Pieces in a row", "each measured from the last", "", 1, hi=60),
    choice(
        "grade",
        "Tape's class",
        [("I", "Class I"), ("II", "Class II"), ("III", "Class III")],
        "in an oval on the tape; most are II",
        "II",
    ),
    length(
        "mark", "Read to the nearest", "the finest mark used", "1/16 in", "1 mm",
        lo=1, hi=TALLEST // 200,
    ),
]  # fmt: skip


def answer(v: "dict[str, Any]", unit: str) -> Answer:
    """The answer from the fields' values (see FIELDS), jots. Raises no error."""
    d = Draft(unit)
    n, piece = v["pieces"], v["length"]
    read = rounding(v["mark"])
    one, whole = limit(v["grade"], piece), limit(v["grade"], n * piece)
    _limit(d, v["grade"], "the tape over a piece", piece, one)
    if n > 1:
        _limit(d, v["grade"], "the tape over the row", n * piece, whole)
    d.step("reading", "half the mark", "%s / 2" % d.show(v["mark"]), _out(read, unit), "arithmetic")
    _figure(d, "datum", "All from one end, at most", from_datum(whole, read))
    d.step(
        "all from one end, at most", "tape + reading",
        "%s + %s" % (_out(whole, unit), _out(read, unit)), _out(from_datum(whole, read), unit),
        "arithmetic",
    )  # fmt: skip
    if n == 1:
        return d.done()
    worst, same, root = chained(n, one, read), same_tape(n, one, read), likely(n, one, read)
    _figure(d, "chained", "Each from the last, at most", worst)
    d.step(
        "each from the last, at worst", "pieces x (tape + reading)",
        "%d x (%s + %s)" % (n, _out(one, unit), _out(read, unit)), _out(worst, unit), "arithmetic",
    )  # fmt: skip
    # One tape errs alike each time, so that its error adds up whole; readings partly cancel.
    _figure(d, "likely", "Each from the last, likely", same)
    d.step(
        "each from the last, likely", "pieces x tape + root of pieces x reading",
        "%d x %s + root of %d x %s" % (n, _out(one, unit), n, _out(read, unit)),
        _out(same, unit), "arithmetic: one tape errs alike each time",
    )  # fmt: skip
    d.row("Each from the last, each by another tape, likely", _out(root, unit))
    d.value("apart", int(root + 0.5))
    d.step(
        "each by another tape, likely", "root of pieces x (tape squared + reading squared)",
        "root of %d x (%s squared + %s squared)" % (n, _out(one, unit), _out(read, unit)),
        _out(root, unit), "root sum square of tolerances, common practice",
    )  # fmt: skip
    if worst > from_datum(whole, read):
        d.warn(
            "Measured each from the last, %d pieces may be out by %s at the end: mark all joints "
            "from one datum with the tape left hooked, and it is %s."
            % (n, _out(worst, unit), _out(from_datum(whole, read), unit))
        )
    return d.done()


def _limit(d: Draft, grade: str, what: str, length: int, jots: int) -> None:
    a, b = CLASSES[grade]
    d.step(
        what, "a + b for each metre, up to a whole one",
        "%s mm + %d x %s mm" % (decimal(a / 10, 1), metres(length), decimal(b / 10, 1)),
        _out(jots, d.unit), DIRECTIVE,
    )  # fmt: skip


def _out(jots: float, unit: str) -> str:
    """A small length in decimals, since no tape has it: thousandths of an inch, or mm."""
    if unit in ("in", "ft"):
        return "%s in" % decimal(jots / JOTS_PER_INCH, 3)
    return "%s mm" % decimal(jots / JOTS_PER_MM, 2)


def _figure(d: Draft, key: str, label: str, jots: float) -> None:
    inches = d.unit in ("in", "ft")
    value = jots / (JOTS_PER_INCH if inches else JOTS_PER_MM)
    say = (
        said(value, 3, "inch", "inches") if inches else said(value, 2, "millimetre", "millimetres")
    )
    d.figure(key, label, _out(jots, d.unit), say, int(jots + 0.5))


CALCULATOR = Calculator(
    "tape-error",
    "Tape error",
    "How far may a row of pieces be out by the tape alone?",
    FIELDS,
    answer,
    [
        "Limits of error by class: " + DIRECTIVE,
        "Half a mark for each reading, sums and root sum square: arithmetic",
    ],
)
