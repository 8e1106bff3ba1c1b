"""Leans and tapers: an angle and a slope from two lengths, and plumb limits.

Angles are whole hundredths of a degree, slopes whole hundredths of a
millimetre per metre; both are printed by integer arithmetic.
"""

import math
from collections import namedtuple

from .lengths import JOTS_PER_FOOT, JOTS_PER_INCH, show

# name: how the limit is said; rise, run: jots.
Limit = namedtuple("Limit", "name rise run")

# From the strictest to the loosest. Source: a survey of published tolerance
# limits for light-frame walls (home builders' and facility guide specs).
PLUMB_LIMITS = (
    Limit("1/8 in per 8 ft", JOTS_PER_INCH // 8, 8 * JOTS_PER_FOOT),
    Limit("1/4 in per 10 ft", JOTS_PER_INCH // 4, 10 * JOTS_PER_FOOT),
    Limit("1/4 in per 8 ft", JOTS_PER_INCH // 4, 8 * JOTS_PER_FOOT),
    Limit("3/8 in per 32 in", 3 * JOTS_PER_INCH // 8, 32 * JOTS_PER_INCH),
)


def hundredths(rise: int, run: int) -> int:
    """The angle whose tangent is rise/run, in hundredths of a degree.

    rise, run: jots, 0 or more, not both 0. Returns 0 to 9000. Errors: none.
    Source: plane geometry.
    """
    return int(math.atan2(rise, run) * 18000 / math.pi + 0.5)


def degrees(hundredth: int) -> str:
    """Hundredths of a degree (0 or more) as text: 67 is "0.67°"."""
    return "%d.%02d°" % (hundredth // 100, hundredth % 100)


def per_metre(rise: int, run: int) -> int:
    """The slope rise/run in hundredths of a millimetre per metre, to the nearest.

    rise: jots, 0 or more; run: jots, more than 0. Errors: none.
    """
    return (2 * 100000 * rise + run) // (2 * run)


def slope(rise: int, run: int, unit: str) -> str:
    """The slope rise/run as text in the unit: "11.72 mm per m", or '1-1/8" in 8 ft'.

    rise: jots, 0 or more; run: jots, more than 0; unit: one of UNITS.
    """
    if unit in ("in", "ft"):
        over = 8 * JOTS_PER_FOOT
        return "%s in 8 ft" % show((2 * rise * over + run) // (2 * run), "in")
    n = per_metre(rise, run)
    return "%d.%02d mm per m" % (n // 100, n % 100)


def limit_text(limit: Limit, unit: str) -> str:
    """The limit as it is said in the unit: by its name, or in mm per m."""
    name: str = limit.name
    return name if unit in ("in", "ft") else slope(limit.rise, limit.run, unit)


def plumb_limit(rise: int, run: int) -> Limit | None:
    """The strictest published plumb limit that rise/run keeps, None if none.

    rise: jots, 0 or more; run: jots, more than 0. A lean exactly at a limit
    keeps it. Source: PLUMB_LIMITS.
    """
    for limit in PLUMB_LIMITS:
        if rise * limit.run <= limit.rise * run:
            return limit
    return None
