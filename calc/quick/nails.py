"""Nails: how long, through boards and wallboard into the stud, and what they reach there."""

from ..bounds import MOST_THICKNESS
from ..draft import Answer, Draft
from ..lengths import JOTS_PER_MM
from ..trade.nail_words import write_length, write_thin
from ..trade.nails import GAUGES
from .declare import Calculator, choice, length

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

FIELDS = [
    length("thickness", "Board thickness", "at the nail", lo=1, hi=MOST_THICKNESS),
    choice("made", "Boards of", [("wood", "Wood"), ("mdf", "MDF")], "", "wood"),
    length(
        "wallboard",
        "Wallboard behind",
        "0 on bare studs",
        "1/2 in",
        "12.5 mm",
        hi=MOST_THICKNESS,
    ),
    length(
        "penetration",
        "Into the stud at least",
        "",
        "1 in",
        "25 mm",
        hi=100 * JOTS_PER_MM,
    ),
    choice(
        "gauge",
        "Gauge",
        [(str(g), "%d gauge" % g) for g, _ in GAUGES],
        "steel wire, not AWG",
        "16",
    ),
    length(
        "length",
        "Nail at hand",
        "empty: only what is wanted",
        lo=10 * JOTS_PER_MM,
        hi=150 * JOTS_PER_MM,
        needed=False,
    ),
]


def answer(v: "dict[str, Any]", unit: str) -> Answer:
    """The answer from the fields' values (see FIELDS), jots. Raises no error."""
    d = Draft(unit)
    mdf = v["made"] == "mdf"
    gauge = int(v["gauge"])
    write_length(d, v["thickness"], v["wallboard"], v["penetration"], mdf, v["length"], gauge)
    if write_thin(d, v["thickness"], v["wallboard"]):
        d.caution("flame-spread")
    return d.done()


CALCULATOR = Calculator(
    "nails",
    "Nails",
    "How long must a nail be, and what does it reach?",
    FIELDS,
    answer,
    [
        "Boards, wallboard and 1 in or 25 mm into the stud, steps of length: common practice",
        "Three times the thickness held: US Navy manual 14119",
        "1-1/4 in (32 mm): NFPA 70 (NEC) 300.4; MDF 20 mm: Ontario O. Reg. 332/12, 9.29",
        "Wire: steel wire gauge tables; penny sizes: carpentry texts; thin panels: IRC R702.5",
        "Longest strips: from memory",
    ],
)
