"""What a nail holds against being pulled straight out of a stud's side grain."""

import math
from collections import namedtuple

from ..draft import Draft
from ..lengths import JOTS_PER_INCH, JOTS_PER_MM
from ..measures import decimal, fixed, unit_of
from ..measures import show as measured
from ..words import count_text
from .nail_words import wire_text

# Framing as it is graded; gravity: its specific gravity in hundredths.
# Source: AWC NDS, from memory.
Framing = namedtuple("Framing", "key label gravity")

FRAMING = (
    Framing("spruce-pine-fir", "Spruce-pine-fir", 42),
    Framing("douglas-fir-larch", "Douglas fir-larch", 50),
    Framing("southern-pine", "Southern pine", 55),
    Framing("hem-fir", "Hem-fir", 43),
)
# Average greatest withdrawal / (G^2.5 D L): N and mm, lb and in. Source: Wood Handbook, ch. 8.
AVERAGE_MM = 54.12
AVERAGE_IN = 7850.0
# Allowable withdrawal / (G^2.5 D L), lb and in, without the factors for a load's duration,
# moisture and the like. Source: AWC NDS.
ALLOWABLE_IN = 1380.0


def framing(key: str) -> Framing:
    """The Framing of that key. Raises KeyError for a key that is not ours."""
    for f in FRAMING:
        if f.key == key:
            return f
    raise KeyError(key)


def withdrawal(gravity: float, diameter: float, depth: float) -> float:
    """The average greatest pull in newtons that a plain nail takes.

    gravity: specific gravity, such as 0.42; diameter, depth in the stud: mm, 0 or more.
    Source: Wood Handbook, ch. 8: p = 54.12 G^2.5 D L.
    """
    return AVERAGE_MM * _power(gravity) * diameter * depth


def withdrawal_lb(gravity: float, diameter: float, depth: float) -> float:
    """The same in pounds, of inches. Source: Wood Handbook, ch. 8: p = 7850 G^2.5 D L."""
    return AVERAGE_IN * _power(gravity) * diameter * depth


def allowable_lb(gravity: float, diameter: float, depth: float) -> float:
    """The pull in pounds that design allows it, of inches.

    Source: AWC NDS: W = 1380 G^2.5 D pounds for each inch in the stud, before its factors.
    """
    return ALLOWABLE_IN * _power(gravity) * diameter * depth


def _power(gravity: float) -> float:
    """gravity to the 2.5; a root is the same to the last bit on both interpreters."""
    return gravity * gravity * math.sqrt(gravity)


def write_hold(d: Draft, key: str, across: float, depth: int, nails: int = 1) -> None:
    """What the nails hold as the draft's next lines.

    key: of a Framing; across: diameter, ten-thousandths of an inch; depth: jots in the stud,
    more than 0; nails: how many share the load, 1 or more. Values are tenths of a newton.
    """
    f = framing(key)
    gravity = f.gravity / 100
    newton = unit_of("force", "in").times
    inches = (across / 10000, depth / JOTS_PER_INCH)
    safe = allowable_lb(gravity, inches[0], inches[1]) * newton
    if d.unit in ("in", "ft"):
        most = withdrawal_lb(gravity, inches[0], inches[1]) * newton
        c = (decimal(AVERAGE_IN, 2), decimal(ALLOWABLE_IN, 2))
        deep = "%s in" % decimal(inches[1], 3)
    else:
        millimetres = (across * 254 / 100000, depth / JOTS_PER_MM)
        most = withdrawal(gravity, millimetres[0], millimetres[1])
        # 1380 lb/in2 in N/mm2
        c = (decimal(AVERAGE_MM, 2), fixed(ALLOWABLE_IN * newton / 645.16, 3))
        deep = "%s mm" % decimal(millimetres[1], 1)
    numbers = "%%s x 0.%d^2.5 x %s x %s" % (f.gravity, wire_text(across, d.unit), deep)
    for what, label, force, times, source in (
        ("average", "Pulls out at, on average", most, c[0], "Wood Handbook, ch. 8"),
        ("allowable", "Allowed by design", safe, c[1], "AWC NDS; gravity from memory"),
    ):
        text = measured(force * nails, "force", d.unit)
        d.figure(what, label, text, _say(text), int(force * nails * 10 + 0.5))
        words = "%s x gravity^2.5 x diameter x length in the stud" % times
        if nails == 1:
            d.step(what, words, numbers % times, text, source)
        else:
            d.step(what, words + " x nails", "%s x %d" % (numbers % times, nails), text, source)
    d.row("For", "%s in %s, gravity 0.%d" % (count_text(nails, "nail"), f.label, f.gravity))
    d.row("Allowed by design", "is without factors for load duration and damp wood")
    d.row("Small heads", "may pull through the board before the nail leaves the stud")


def _say(text: str) -> str:
    """A force in words for a voice."""
    number, name = text.split(" ")
    return "%s %s" % (number, {"N": "newtons", "lb": "pounds"}[name])
