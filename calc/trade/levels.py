"""Level, plumb, square, rakes and mitres: what a reading comes to over the wall.

Lengths are jots; angles here are degrees as floats. Source of everything but the limits: plane
geometry. Limits of plumb: calc/angles.py.
"""

import math
from collections import namedtuple

from ..angles import hundredths, limit_text, plumb_limit, slope
from ..lengths import JOTS_PER_INCH, JOTS_PER_MM
from ..measures import decimal

TYPE_CHECKING = False
if TYPE_CHECKING:
    from ..draft import Draft

# Neighbouring studs' faces are within this of one plane. Source: ASTM C840, from memory.
STUDS_ALIGNED = JOTS_PER_INCH // 8
STUDS_SOURCE = "ASTM C840, from memory"
LIMITS_SOURCE = "survey of published tolerance limits for light-frame walls"
# Most mitre saws turn no farther than this from square. Common practice, no source.
SAW_MOST = 50.0
# More out of level is seen along a wall. Common practice, no source.
_SEEN = JOTS_PER_INCH // 4
_SEEN_METRIC = 6 * JOTS_PER_MM

# shift: how far the top stands to the right of plumb, below 0 to the left; angle: in degrees, at
# the foot of the side that the first diagonal starts from; off: by how much the diagonals don't
# go with the sides, 0 where there is but one diagonal.
Square = namedtuple("Square", "shift angle off")


def seen(unit: str) -> int:
    """The most out of level that is not seen along a wall, jots. unit: the one it is told in."""
    return _SEEN if unit in ("in", "ft") else _SEEN_METRIC


def over(off: int, length: int, run: int) -> int:
    """What `off` over `length` comes to over `run`, to the nearest jot. length: more than 0."""
    return (2 * off * run + length) // (2 * length)


def over_angle(angle: float, run: int) -> int:
    """What an angle off level or plumb comes to over `run`. angle: degrees, 0 to under 90."""
    return int(run * math.tan(angle * math.pi / 180) + 0.5)


def angle_of(rise: int, run: int) -> float:
    """The angle of rise over run in degrees. rise, run: 0 or more, not both 0."""
    return math.atan2(rise, run) * 180 / math.pi


def diagonal(width: int, height: int) -> int:
    """The diagonal of a rectangle, to the nearest jot. Errors: none."""
    return int(math.sqrt(width * width + height * height) + 0.5)


def corner_angle(one: int, other: int, across: int) -> float:
    """The angle in degrees between two sides whose ends are `across` apart.

    Raises ValueError where the three make no triangle. Source: law of cosines.
    """
    if not abs(one - other) <= across <= one + other:
        raise ValueError("no triangle")
    cosine = (one * one + other * other - across * across) / (2 * one * other)
    return math.acos(min(1.0, max(-1.0, cosine))) * 180 / math.pi


def square(width: int, height: int, up_right: int, up_left: int | None) -> Square:
    """How far out of square a wall is whose opposite sides are equal.

    width: along the foot; height: up the sides; up_right, up_left: the diagonals that rise to the
    right and to the left, None where that was not read. Raises ValueError where they make no
    triangle with the sides. Source: up_right^2 - up_left^2 = 4 width shift.
    """
    corner = corner_angle(width, height, up_right)
    if up_left is None:
        twice = 2 * width
        num = up_right * up_right - width * width - height * height
        return Square((2 * num + twice) // (2 * twice), corner, 0)
    corner = (corner + 180.0 - corner_angle(width, height, up_left)) / 2
    four = 4 * width
    num = up_right * up_right - up_left * up_left
    mean = int(math.sqrt((up_right * up_right + up_left * up_left) / 2) + 0.5)
    return Square((2 * num + four) // (2 * four), corner, mean - diagonal(width, height))


def rake_change(face: int, rise: int, run: int) -> int:
    """By how much a course differs in length from the next under a rake: face x run / rise.

    rise: more than 0. Jots, to the nearest.
    """
    return over(face, rise, run)


def rake_factor(rise: int, run: int) -> float:
    """How much longer the rake is than its run. run: more than 0."""
    return math.sqrt(1.0 + (rise / run) * (rise / run))


def mitre(corner: float) -> float:
    """The saw's setting from square for a corner, in degrees: 90 - corner / 2."""
    return 90.0 - corner / 2.0


def raked_head(slope_angle: float) -> tuple[float, float]:
    """Settings from square where a raked head meets upright legs: (low side, high side).

    slope_angle: degrees. The corner inside is 90 + slope at the low side, 90 - slope at the high.
    """
    return mitre(90.0 + slope_angle), mitre(90.0 - slope_angle)


def degrees_text(angle: float, places: int = 2) -> str:
    """Degrees as text: "90.12°"."""
    return decimal(angle, places) + "°"


def limit_words(rise: int, run: int, unit: str) -> str:
    """The strictest usual limit of plumb that rise over run keeps, in words. run: more than 0."""
    limit = plumb_limit(rise, run)
    if limit is None:
        return "keeps none of the usual limits"
    return "keeps %s" % limit_text(limit, unit)


def saw_mend(settings: list[float]) -> str:
    """How to cut ends that are past SAW_MOST from square. settings: degrees, each over that."""
    return (
        "set the saw to %s and stand the piece on a block that is square to the fence, or cut it "
        "by hand to the bevel" % " and ".join([degrees_text(90.0 - saw) for saw in settings])
    )


def tell_slope(d: "Draft", where: str, rise: int, run: int) -> None:
    """Working: the slope and the angle of rise over run. rise: 0 or more; run: more than 0."""
    angle = hundredths(rise, run)
    d.step(
        where, "off / length", "%s / %s" % (d.show(rise), d.show(run)),
        "%s, %d.%02d°" % (slope(rise, run, d.unit), angle // 100, angle % 100), "plane geometry",
    )  # fmt: skip
