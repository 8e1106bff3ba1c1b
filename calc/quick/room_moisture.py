"""Room moisture: what boards come to in a room's air, and so what they should read."""

from ..draft import Answer, Draft
from ..trade.moisture import (
    ABOUT,
    AT_INSTALLATION,
    CLIMATES,
    COLDEST,
    EQUATION,
    INTERIORS,
    MOST_HUMID,
    WARMEST,
    percent,
    write_damp_air,
    write_emc,
    write_factors,
    write_wait,
)
from .declare import Calculator, measure

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

FIELDS = [
    measure("temperature", "temperature", "Room's temperature", "now", lo=COLDEST, hi=WARMEST),
    measure("percent", "humidity", "Humidity now", "relative, by the meter", lo=0.0, hi=MOST_HUMID),
    measure(
        "percent",
        "other",
        "Humidity, other season",
        "for the range of the year",
        lo=0.0,
        hi=MOST_HUMID,
        needed=False,
    ),
    measure(
        "percent", "moisture", "Boards read now", "may they hang?", lo=1.0, hi=60.0, needed=False
    ),
]


def answer(v: "dict[str, Any]", unit: str) -> Answer:
    """The answer from the fields' values (see FIELDS). Raises no error."""
    d = Draft(unit)
    write_factors(d, v["temperature"])
    now = write_emc(d, "Boards come to", v["temperature"], v["humidity"])
    _figure(d, "emc", "Boards come to", now)
    if v["other"] is None or v["other"] == v["humidity"]:
        low, high = max(now - ABOUT, 0), now + ABOUT
        d.step(
            "Boards should read",
            "what they come to, and 2 % either way, as 6 to 10 % lie about 8 %",
            "%s - 2 %%, %s + 2 %%" % (percent(now), percent(now)),
            "%s to %s" % (percent(low), percent(high)),
            AT_INSTALLATION,
        )
    else:
        then = write_emc(d, "In the other season", v["temperature"], v["other"])
        d.row("The other season", "reckoned at the same temperature")
        low, high = min(now, then), max(now, then)
        _figure(d, "driest", "Driest", low)
        _figure(d, "dampest", "Dampest", high)
        d.step(
            "Boards should read",
            "between what they come to in either season",
            "%s, %s" % (percent(now), percent(then)),
            "%s to %s" % (percent(low), percent(high)),
            "Wood Handbook (FPL-GTR-190), ch. 13",
        )
    d.row("Boards should read", "%s to %s before they hang" % (percent(low), percent(high)))
    d.row(
        "Usual indoors",
        "; ".join(["%s %s" % (percent(c.usual), c.label) for c in CLIMATES]),
    )
    d.caution("acclimatise")
    write_damp_air(d, high)
    if v["moisture"] is not None:
        write_wait(d, v["moisture"], low, high, "this room")
    return d.done()


def _figure(d: Draft, key: str, label: str, value: float) -> None:
    """A moisture content as a figure; as a value in hundredths of a percent."""
    text = percent(value)
    d.figure(key, label, text, text, int(value * 100 + 0.5))


CALCULATOR = Calculator(
    "room-moisture",
    "Room moisture",
    "What moisture do boards come to in this room's air?",
    FIELDS,
    answer,
    [EQUATION, "Usual indoors: " + INTERIORS, "Single pieces about it: " + AT_INSTALLATION],
)
