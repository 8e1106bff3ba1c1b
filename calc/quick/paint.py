"""Paint: what an area takes of it, coat by coat, and in cans."""

from ..bounds import TALLEST, WIDEST
from ..draft import Answer, Draft, refuse
from ..lengths import JOTS_PER_MM
from ..measures import show
from ..trade.coats import (
    GUIDES,
    coat,
    write_cans,
    write_coats,
    write_rate,
    write_volume,
)
from .declare import Calculator, choice, count, length, lengths, measure

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

_METRE = 1000 * JOTS_PER_MM
_MOST_AREA = 5000.0

FIELDS = [
    lengths("widths", "Widths of the walls", "each corner to corner", hi=WIDEST, most=20),
    length("height", "Height", "of them all", hi=TALLEST),
    choice(
        "surface",
        "Surface",
        [("raw", "Raw wood or MDF"), ("primed", "Primed or painted")],
        "raw: the first coat takes more",
        "raw",
    ),
    measure(
        "area", "more", "Area besides", "or all of it, without widths", "0 sq ft", "0 m2",
        lo=0.0, hi=_MOST_AREA,
    ),
    measure(
        "area", "openings", "Openings", "doors and windows in all", "0 sq ft", "0 m2",
        lo=0.0, hi=_MOST_AREA,
    ),
    count("coats", "Coats", "", "2", 1, hi=6),
    measure(
        "coverage", "rate", "A can covers", "by its label", "350 sq ft/gal", "9 m2/L",
        lo=0.5, hi=30.0,
    ),
    measure("volume", "can", "Can", "", "1 gal", "2.5 L", lo=0.05, hi=250.0),
    measure(
        "percent", "solids", "Solids by volume", "with the film, in place of covers",
        lo=1.0, hi=100.0, needed=False,
    ),
    measure("film", "film", "Dry film", "", lo=1.0, hi=1000.0, needed=False),
    measure("percent", "loss", "Lost on the tool", "spraying loses most", "0 %", lo=0.0, hi=90.0),
]  # fmt: skip


def answer(v: "dict[str, Any]", unit: str) -> Answer:
    """The answer from the fields' values (see FIELDS). Raises InputError where no area is left."""
    d = Draft(unit)
    wide = sum(v["widths"])
    walls = wide * v["height"] / (_METRE * _METRE)
    area = walls + v["more"] - v["openings"]
    if walls + v["more"] <= 0:
        raise refuse(
            "widths", "nothing", "Widths of the walls: nothing is given to coat.",
            "Give a width and the height, or an area besides.",
        )  # fmt: skip
    if area <= 0:
        raise refuse(
            "openings", show(v["openings"], "area", unit),
            "Openings: %s is no less than what there is to coat, %s."
            % (show(v["openings"], "area", unit), show(walls + v["more"], "area", unit)),
            "Give the openings' area, or read the walls again.",
        )  # fmt: skip
    d.step(
        "Area", "widths x height + besides - openings",
        "%s x %s + %s - %s" % (
            d.show(wide), d.show(v["height"]), show(v["more"], "area", unit),
            show(v["openings"], "area", unit),
        ),
        show(area, "area", unit), "geometry",
    )  # fmt: skip
    paint = write_rate(d, "Paint", v["rate"], v["solids"], v["film"], v["loss"])
    coats = []
    for i in range(v["coats"]):
        raw = i == 0 and v["surface"] == "raw"
        coats.append(coat(paint, "raw" if raw else "the coat before" if i else "old coat",
                          area, raw))  # fmt: skip
    litres = write_coats(d, coats)
    write_cans(d, "cans", "Paint", litres, v["can"])
    write_volume(d, "paint", "Paint in all", litres)
    d.row("Area", show(area, "area", unit))
    d.value("area", int(area * 10000 + 0.5))
    d.caution("lead-asbestos")
    d.caution("flame-spread")
    return d.done()


CALCULATOR = Calculator(
    "paint",
    "Paint",
    "How much paint do these coats take, and how many cans?",
    FIELDS,
    answer,
    [
        "1604 x solids / mils, 1000 x solids / micrometres: " + GUIDES,
        "15 % less on a raw surface: common practice, no source; the label governs",
    ],
)
