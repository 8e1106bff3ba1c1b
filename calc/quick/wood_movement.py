"""Wood movement: what a board and its lines do over the year, and the spacer to hang with."""

from ..bounds import LONGEST_BOARD, MOST_FACE
from ..draft import Answer, Draft, refuse
from ..lengths import JOTS_PER_MM
from ..measures import show
from ..trade.moisture import AT_INSTALLATION, write_wait
from ..trade.movement import FORMULA, PANELS, RESTRAINT, if_hung_now, write_mdf, write_moves
from ..trade.species import MDF, SPECIES, UNKNOWN
from .declare import Calculator, choice, length, measure

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

FIELDS = [
    choice(
        "species",
        "Wood",
        [(UNKNOWN, "Not known"), (MDF, "MDF")] + [(s.key, s.label) for s in SPECIES],
        "",
        UNKNOWN,
    ),
    choice(
        "grain",
        "Grain",
        [("flat", "Flat"), ("vertical", "Vertical")],
        "vertical: rings stand upright at the end",
        "flat",
    ),
    length(
        "width",
        "Face, one course",
        "what shows, boards held tight",
        lo=10 * JOTS_PER_MM,
        hi=MOST_FACE,
    ),
    length("lap", "Lap or tongue", "overall width less the face", hi=MOST_FACE, needed=False),
    measure("percent", "moisture", "Boards' moisture now", "by the meter", lo=1.0, hi=60.0),
    measure("percent", "driest", "Boards at their driest", "over the year", "6 %", lo=1.0, hi=30.0),
    measure(
        "percent", "dampest", "Boards at their dampest", "over the year", "10 %", lo=1.0, hi=30.0
    ),
    length(
        "length",
        "Board length, of MDF",
        "for the gaps at its ends",
        lo=300 * JOTS_PER_MM,
        hi=LONGEST_BOARD,
        needed=False,
    ),
]


def answer(v: "dict[str, Any]", unit: str) -> Answer:
    """The answer from the fields' values (see FIELDS).

    Raises InputError where the dampest is drier than the driest, or the lap wider than the face.
    """
    face, lap = v["width"], v["lap"] or 0
    low, high = v["driest"], v["dampest"]
    d = Draft(unit)
    if high < low:
        text = show(high, "percent", unit)
        raise refuse(
            "dampest",
            text,
            "Boards at their dampest: %s is drier than the driest, %s."
            % (text, show(low, "percent", unit)),
            "Give at least %s, or a smaller driest." % show(low, "percent", unit),
        )
    if lap > face:
        raise refuse(
            "lap",
            d.show(lap),
            "Lap or tongue: %s is more than the face, %s." % (d.show(lap), d.show(face)),
            "Give the overall width less the face.",
        )
    so = ""
    if v["species"] == MDF:
        write_mdf(d, face, [v["length"]] if v["length"] else [])
        if not v["length"]:
            d.row("End gaps", "give the board's length")
    else:
        m = write_moves(d, face, face + lap, v["species"], v["grain"], v["moisture"], low, high)
        so = if_hung_now(m, unit)
    write_wait(d, v["moisture"], low, high, "this room", so)
    return d.done()


CALCULATOR = Calculator(
    "wood-movement",
    "Wood movement",
    "How far do boards shrink and swell, and what spacer do they hang with?",
    FIELDS,
    answer,
    [
        FORMULA + ", good from 6 to 14 %",
        "Coefficients: Wood Handbook (FPL-GTR-190), Table 13-5; the working says which of them "
        "are from memory",
        "6 to 10 % where no other range is given: " + AT_INSTALLATION,
        "Restraint: " + RESTRAINT,
        "MDF: " + PANELS,
    ],
)
