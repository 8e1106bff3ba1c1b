"""Level taper: what the reading of a spirit level comes to over the whole wall."""

from ..angles import per_metre, plumb_limit, slope
from ..bounds import WIDEST
from ..draft import Answer, Draft, refuse
from ..lengths import JOTS_PER_INCH, JOTS_PER_MM
from ..measures import decimal
from ..trade.levels import LIMITS_SOURCE, limit_words, over, over_angle, seen, tell_slope
from .declare import Calculator, choice, length, measure

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

_SHORTEST = 100 * JOTS_PER_MM
_MOST_OFF = 20 * JOTS_PER_INCH
_DEGREES = 30.0

FIELDS = [
    choice(
        "way",
        "Held",
        [("plumb", "Plumb, up the wall"), ("level", "Level, along the wall")],
        "",
        "plumb",
    ),
    length("off", "Gap at its end", "bubble in the middle", hi=_MOST_OFF, needed=False),
    measure("angle", "angle", "Or digital level reads", "off level or plumb",
            lo=0.0, hi=_DEGREES, needed=False),
    length("run", "Wall's height or width", "to work the taper out over", lo=_SHORTEST, hi=WIDEST),
    length("level", "Level's length", "", "48 in", "1200 mm", lo=_SHORTEST, hi=WIDEST),
]  # fmt: skip


def answer(v: "dict[str, Any]", unit: str) -> Answer:
    """The answer from the fields' values. Raises InputError where no reading is given."""
    d = Draft(unit)
    off, angle, run = v["off"], v["angle"], v["run"]
    if off is None and angle is None:
        raise refuse(
            "off", "nothing", "Gap at its end: nothing is given, and no angle.",
            "Measure the gap, or read the angle off a digital level.",
        )  # fmt: skip
    if off is not None and angle is not None:
        raise refuse(
            "angle", "both", "Digital level: the gap at the level's end is given too.",
            "Take one of them out.",
        )  # fmt: skip
    if off is not None and off >= v["level"]:
        raise refuse(
            "off", d.show(off), "Gap at its end: %s is as much as the level is long." % d.show(off),
            "Give the gap between the level's end and the wall.",
        )  # fmt: skip
    if angle is None:
        taper = over(off, v["level"], run)
        numbers = "%s x %s / %s" % (d.show(off), d.show(run), d.show(v["level"]))
        words = "gap x wall / level"
    else:
        taper = over_angle(angle, run)
        numbers = "%s x tan %s°" % (d.show(run), decimal(angle, 4))
        words = "wall x tangent of the angle"
    d.length("taper", "Off over the whole wall", taper)
    d.step("taper", words, numbers, d.show(taper), "plane geometry")
    # The slope by what was read, not by the taper that was rounded.
    rise, base = (off, v["level"]) if angle is None else (over_angle(angle, WIDEST), WIDEST)
    if angle is None:
        tell_slope(d, "slope", rise, base)
    else:
        d.step(
            "slope", "tangent of the angle", "tan %s°" % decimal(angle, 4),
            slope(rise, base, unit), "plane geometry",
        )  # fmt: skip
    d.row("Slope", slope(rise, base, unit))
    d.value("slope", per_metre(rise, base))
    if v["way"] == "plumb":
        d.row("Limits of plumb", limit_words(rise, base, unit))
        limit = plumb_limit(rise, base)
        d.value("kept", 0 if limit is None else 1)
        if limit is None:
            d.warn(
                "It leans more than the loosest usual limit: read each course's end on its own, "
                "and scribe the boards to the corner."
            )
    else:
        d.row("First or last course", "tapers %s over the wall" % d.show(taper))
        if taper > seen(unit):
            d.warn(
                "Courses laid along this line would be %s out of level: strike a level line, lay "
                "them to it, and rip the taper off the course at the floor or the ceiling."
                % d.show(taper)
            )
    return d.done()


CALCULATOR = Calculator(
    "level-taper",
    "Level and plumb",
    "What does the gap at my level come to over the whole wall?",
    FIELDS,
    answer,
    ["Taper and slope: plane geometry", "Limits of plumb: " + LIMITS_SOURCE],
)
