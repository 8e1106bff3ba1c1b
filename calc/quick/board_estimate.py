"""Board estimate: how much board a wall takes by its area, and how many courses."""

from ..bounds import LONGEST_BOARD, MOST_FACE, MOST_OVERALL, TALLEST, WIDEST
from ..draft import Answer, Draft, refuse
from ..lengths import JOTS_PER_FOOT, JOTS_PER_INCH, JOTS_PER_MM
from ..measures import decimal, show
from ..trade.estimate import (
    COVERAGE,
    board_factor,
    divided,
    lineal,
    lineal_factor,
)
from .declare import Calculator, length, lengths, measure

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

_METRE = 1000 * JOTS_PER_MM
_MOST_SIZES = 40
# A narrower rip warns, as the job's own rule has it. Common practice, no source.
_LEAST = 2 * JOTS_PER_INCH
_LEAST_METRIC = 50 * JOTS_PER_MM

FIELDS = [
    length("width", "Wall width", "corner to corner", lo=1, hi=WIDEST),
    length("height", "Wall height", "of what is clad", lo=1, hi=TALLEST),
    length("face", "Board face", "what a course covers", lo=JOTS_PER_INCH // 2, hi=MOST_FACE),
    length("board", "Board length", "as it is sold", lo=12 * JOTS_PER_INCH, hi=LONGEST_BOARD),
    lengths(
        "openings", "Openings", "width; height, one after another", hi=WIDEST, most=_MOST_SIZES
    ),
    measure(
        "area", "less", "Openings besides", "by their area", "0 sq ft", "0 m2", lo=0.0, hi=2000.0
    ),
    measure("percent", "over", "Cut off", "of the area", "10 %", lo=0.0, hi=100.0),
    length(
        "nominal", "Sold as wide as", "for the board factor", lo=1, hi=MOST_OVERALL, needed=False
    ),
]


def answer(v: "dict[str, Any]", unit: str) -> Answer:
    """The answer from the fields' values (see FIELDS). Raises InputError, see the messages."""
    d = Draft(unit)
    twice = _twice(d, v)
    long = lineal(twice, v["face"], v["over"])
    boards = -(-long // v["board"])
    d.count("boards", "Boards", boards, "board")
    d.length("length", "Length of board", long)
    inches = unit in ("in", "ft")
    each, per = (JOTS_PER_FOOT, "ft for each sq ft") if inches else (_METRE, "m for each m²")
    factor = lineal_factor(v["face"], each)
    d.step(
        "length for the area", "%s / face" % ("12 in" if inches else "1 m"),
        "%s / %s" % ("12" if inches else d.show(_METRE), d.show(v["face"])),
        "%s %s" % (decimal(factor, 3), per), COVERAGE,
    )  # fmt: skip
    net = show(twice / 2 / _METRE / _METRE, "area", unit)
    more = decimal(1 + v["over"] / 100, 3)
    told = "%s ft" % decimal(long / JOTS_PER_FOOT, 1) if inches else d.show(long)
    d.row("Lineal length", told)
    d.step(
        "length of board", "(area - openings) x what is cut off x length for the area",
        "%s x %s x %s" % (net, more, decimal(factor, 3)), told, COVERAGE,
    )  # fmt: skip
    d.step(
        "boards", "length / board, up to a whole one",
        "%s / %s" % (d.show(long), d.show(v["board"])), str(boards), "arithmetic",
    )  # fmt: skip
    if v["nominal"] is not None:
        by = board_factor(v["nominal"], v["face"])
        d.row("Board factor", decimal(by, 2))
        d.row("To buy by nominal area", _bought(twice, by, v["over"], unit))
        d.step(
            "board factor", "sold as / face",
            "%s / %s" % (d.show(v["nominal"]), d.show(v["face"])), decimal(by, 2), COVERAGE,
        )  # fmt: skip
    _courses(d, v["height"], v["face"])
    if inches:
        d.row("Boards come", "in whole feet, mostly 6 to 20 ft by steps of 2 (common practice)")
    d.row("Counts", "area alone: joints on studs are the plan's, and may want more")
    d.caution("saw-dust")
    return d.done()


def _twice(d: Draft, v: "dict[str, Any]") -> int:
    """Twice the area that is clad, square jots, which is more than nothing."""
    sizes = v["openings"]
    if len(sizes) % 2:
        raise refuse(
            "openings", d.show(sizes[-1]),
            "Openings: %s has no height with it." % d.show(sizes[-1]),
            "Give the width and the height of each, one after another.",
        )  # fmt: skip
    gone = sum([sizes[i] * sizes[i + 1] for i in range(0, len(sizes), 2)])
    gone += int(v["less"] * _METRE * _METRE + 0.5)
    whole = v["width"] * v["height"]
    unit = d.unit

    def text(n: int) -> str:
        return show(n / _METRE / _METRE, "area", unit)

    if gone >= whole:
        raise refuse(
            "openings", text(gone),
            "Openings: %s is no less than the wall, %s." % (text(gone), text(whole)),
            "Give the openings' widths and heights, or read the wall again.",
        )  # fmt: skip
    d.step(
        "area", "width x height - openings",
        "%s x %s - %s" % (d.show(v["width"]), d.show(v["height"]), text(gone)),
        text(whole - gone), "geometry",
    )  # fmt: skip
    d.value("area", int((whole - gone) / _METRE / _METRE * 10000 + 0.5))
    return 2 * int(whole - gone)


def _bought(twice: int, by: float, over: float, unit: str) -> str:
    area = twice / 2 / _METRE / _METRE * (1 + over / 100) * by
    return show(area, "area", unit)


def _courses(d: Draft, height: int, face: int) -> None:
    """How the height falls into courses, by both ways."""
    full, even = divided(height, face, "full"), divided(height, face, "balanced")
    d.value("full", full.full)
    d.value("courses", full.full + len(full.rips))
    if not full.rips:
        d.row("Courses", "%d, all whole" % full.full)
        return
    d.value("rip", full.rips[-1])
    d.row("Courses", "%d full + %s" % (full.full, d.show(full.rips[-1])))
    d.step(
        "courses", "height / face",
        "%s / %s" % (d.show(height), d.show(face)),
        "%d full, %s left" % (full.full, d.show(full.rips[-1])), "arithmetic",
    )  # fmt: skip
    rip = even.rips[-1]
    if len(even.rips) == 2:
        d.value("balanced", even.full)
        d.value("balanced rip", rip)
        d.row("Balanced", "%s + two of %s" % ("%d full" % even.full, d.show(rip)))
        d.step(
            "balanced", "(face + what is left) / 2",
            "(%s + %s) / 2" % (d.show(face), d.show(full.rips[-1])), d.show(rip), "arithmetic",
        )  # fmt: skip
    least = _LEAST if d.unit in ("in", "ft") else _LEAST_METRIC
    if full.rips[-1] < least and len(even.rips) == 2:
        d.warn(
            "The last course is a rip of %s, which splits and shows: balance the courses, with "
            "%s at the floor and at the ceiling." % (d.show(full.rips[-1]), d.show(rip))
        )


CALCULATOR = Calculator(
    "board-estimate",
    "Board estimate",
    "How many boards does a wall take, by its area?",
    FIELDS,
    answer,
    [
        "(area - openings) x 1.10 x 12 / face: " + COVERAGE,
        "Courses: arithmetic",
    ],
)
