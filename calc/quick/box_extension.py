"""Box extension: what brings a box to the boards' face, and whether its plate covers the cut."""

from ..bounds import MOST_BOX, MOST_END_GAP, MOST_THICKNESS
from ..boxes import STANDARDS, gang_size
from ..draft import Answer, Draft, refuse
from ..lengths import JOTS_PER_INCH, JOTS_PER_MM
from ..trade.box_fit import SET_BACK_MOST, ears, gap, margin, plate, wanted
from .declare import Calculator, choice, count, length

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

FIELDS = [
    length("thickness", "Board thickness", "what is added over the box", lo=1, hi=MOST_THICKNESS),
    choice(
        "stands",
        "Front of the box",
        [("flush", "Flush"), ("back", "Set back"), ("proud", "Proud")],
        "of the wallboard; with any extender",
        "flush",
    ),
    length("by", "Set back or proud by", "", "0 in", "0 mm", hi=MOST_END_GAP),
    choice("standard", "Kind of box", [(s.key, s.label) for s in STANDARDS], "", "us", "eu"),
    count("gangs", "Gangs", "devices side by side", "1", 1, hi=6),
    length(
        "width",
        "Box width",
        "empty: the usual one",
        lo=10 * JOTS_PER_MM,
        hi=MOST_BOX,
        needed=False,
    ),
    length(
        "height",
        "Box height",
        "empty: the usual one",
        lo=10 * JOTS_PER_MM,
        hi=MOST_BOX,
        needed=False,
    ),
    length("clearance", "Gap, each side", "", "1/16 in", "1.5 mm", hi=JOTS_PER_INCH),
]


def answer(v: "dict[str, Any]", unit: str) -> Answer:
    """The answer from the fields' values (see FIELDS), jots. Raises InputError."""
    d = Draft(unit)
    back, proud = _stands(d, v)
    need = wanted(v["thickness"], back, proud)
    d.length("extension", "Box extension", max(need, 0))
    d.value("past", max(-need, 0))
    d.step(
        "extension",
        "boards + set back - proud",
        "%s + %s - %s" % (d.show(v["thickness"]), d.show(back), d.show(proud)),
        d.show(need),
        "NFPA 70 (NEC) 314.20",
    )
    if need > 0:
        d.row("Set", "a listed extender of %s, to the boards' face" % d.show(need))
    elif need == 0:
        d.row("Set", "no extender: the box is flush")
    else:
        d.row("Set", "no extender")
        d.warn(
            "The box stands %s past the boards: the plate can't seat; set it back." % d.show(-need)
        )
    if back > SET_BACK_MOST:
        d.row(
            "Behind the wallboard",
            "set back over %s, which is too far there already: the extender mends both"
            % d.show(SET_BACK_MOST),
        )
    _covered(d, v)
    gap(d, v["clearance"])
    for key in ("electricity", "box-extension", "box-gap"):
        d.caution(key)
    return d.done()


def _stands(d: Draft, v: "dict[str, Any]") -> tuple[int, int]:
    """(set back, proud) of the wallboard, jots."""
    if v["stands"] == "flush":
        if v["by"]:
            raise refuse(
                "by",
                d.show(v["by"]),
                "Set back or proud by: %s, and the box is flush." % d.show(v["by"]),
                "Choose set back or proud, or give 0.",
            )
        return 0, 0
    return (v["by"], 0) if v["stands"] == "back" else (0, v["by"])


def _covered(d: Draft, v: "dict[str, Any]") -> None:
    """Plate and ears, where the box's size is known."""
    wide, tall = v["width"], v["height"]
    if v["standard"] != "au":
        usual = gang_size(v["standard"], v["gangs"])
        wide = usual[0] if wide is None else wide
        tall = usual[1] if tall is None else tall
    if wide is None or tall is None:
        d.row("Plate and ears", "give the box's width and height")
        return
    c, lap = v["clearance"], margin(d.unit)
    d.row("Cut", "%s wide, %s high" % (d.show(wide + 2 * c), d.show(tall + 2 * c)))
    d.step(
        "cut",
        "box + gap on both sides",
        "%s + 2 x %s by %s + 2 x %s" % (d.show(wide), d.show(c), d.show(tall), d.show(c)),
        "%s by %s" % (d.show(wide + 2 * c), d.show(tall + 2 * c)),
    )
    held = {
        "standard": v["standard"],
        "gangs": v["gangs"],
        "clearance": c,
        "sideways": False,
        "plate_width": None,
        "plate_height": None,
        "margin": lap,
        "yoke": None,
    }
    if v["standard"] == "us":
        plate(d, held, wide + 2 * c, tall + 2 * c)
    else:
        across, up = d.show(wide + 2 * c + 2 * lap), d.show(tall + 2 * c + 2 * lap)
        d.row("Plate", "at least %s by %s" % (across, up))
        d.step(
            "plate at least",
            "cut + what it laps on both sides",
            "%s + 2 x %s by %s + 2 x %s"
            % (d.show(wide + 2 * c), d.show(lap), d.show(tall + 2 * c), d.show(lap)),
            "%s by %s" % (across, up),
        )
    ears(d, held, wide + 2 * c, tall + 2 * c)


CALCULATOR = Calculator(
    "box-extension",
    "Box extension",
    "How far must a box come forward to the boards' face?",
    FIELDS,
    answer,
    [
        "Box or listed extender at the face of wood: NFPA 70 (NEC) 314.20; local code decides",
        "Gap 1/8 in (3 mm) at a box: NFPA 70 (NEC) 314.21, a limit of workmanship on wood",
        "Device held at the surface, plate covers the cut: NFPA 70 (NEC) 406.5",
        "US plates and screws: NEMA WD 6 / OS 1; 60.3 mm: BS 4662; 60, 71, 84 mm: national tables",
        "Usual box sizes, 4-1/8 in yoke: from memory; plate margin, ears: common practice",
    ],
)
