"""Nail hold: what a nail in a stud takes before it is pulled out."""

from ..draft import Answer, Draft, refuse
from ..lengths import JOTS_PER_MM
from ..trade.holding import FRAMING, write_hold
from ..trade.nail_words import wire_text
from ..trade.nails import GAUGES, wire
from .declare import Calculator, choice, count, length, measure

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

FIELDS = [
    choice("framing", "Studs", [(f.key, f.label) for f in FRAMING], "", "spruce-pine-fir"),
    choice(
        "gauge",
        "Gauge",
        [(str(g), "%d gauge" % g) for g, _ in GAUGES] + [("other", "Other nail")],
        "steel wire, not AWG",
        "16",
    ),
    measure(
        "wire",
        "diameter",
        "Diameter of another nail",
        "of its shank",
        lo=0.5,
        hi=10.0,
        needed=False,
    ),
    length("depth", "Length in the stud", "", lo=1, hi=150 * JOTS_PER_MM),
    count("nails", "Nails that share it", "", "1", 1, hi=1000),
]


def answer(v: "dict[str, Any]", unit: str) -> Answer:
    """The answer from the fields' values (see FIELDS). Raises InputError."""
    d = Draft(unit)
    if v["gauge"] == "other":
        if v["diameter"] is None:
            raise refuse(
                "diameter",
                "nothing",
                "Diameter of another nail: nothing is given.",
                "Give it like 0.131 in or 2.5 mm, or choose a gauge.",
            )
        across = v["diameter"] / 25.4 * 10000  # ten-thousandths of an inch
    else:
        across = float(wire(int(v["gauge"])))
        d.work(
            "diameter: %s gauge = %s (steel wire gauge tables, not AWG)"
            % (v["gauge"], wire_text(across, unit))
        )
    write_hold(d, v["framing"], across, v["depth"], v["nails"])
    d.row("Diameter", wire_text(across, unit))
    return d.done()


CALCULATOR = Calculator(
    "nail-hold",
    "Nail hold",
    "What does a nail take before it is pulled out of the stud?",
    FIELDS,
    answer,
    [
        "Average greatest withdrawal, plain nail in side grain: Wood Handbook, ch. 8",
        "Allowable: AWC NDS, 1380 G^2.5 D lb for an inch; gravities: AWC NDS, from memory",
        "Wire: steel wire gauge tables",
    ],
)
