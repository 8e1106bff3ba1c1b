"""How far boards and their lines move with moisture, and the gap to hang them with.

Lengths are jots, moisture contents floats in percent, coefficients whole hundred-thousandths
of the width for one percent of moisture (species.py).

Courses are taken to lie at one spacing and each to keep its own place, however it is nailed:
then a line moves by one board's whole change, half from each neighbour where they are nailed in
the middle, all of it from the free edge where they are nailed along one. Nothing is taken off
for restraint: nailed tongue-and-groove boards were found to move as much as loose ones.
"""

from collections import namedtuple

from ..draft import Table
from ..lengths import JOTS_PER_INCH, JOTS_PER_MM
from ..measures import decimal, fixed
from .moisture import percent
from .spacers import spacer_say, spacer_text
from .species import SOURCES as _COEFFICIENTS
from .species import UNKNOWN, cautious, coefficient, species

TYPE_CHECKING = False
if TYPE_CHECKING:
    from ..draft import Draft

FORMULA = "Wood Handbook (FPL-GTR-190), ch. 13, dD = D x C x (MF - MI)"
RESTRAINT = "FPL research paper, Treesearch 64430"
PANELS = "ANSI A208.2-2009; the span of 50 to 80 % humidity from memory"
# Where the formula holds, percent. Source: as FORMULA.
VALID_LOW, VALID_HIGH = 6.0, 14.0
# Wetter wood shrinks no farther off: fibre saturation, percent. Source: the same.
SATURATION = 30.0
# Linear expansion of MDF stays under it, in hundredths of a percent. Source: PANELS.
MDF_MOST = 33
# Its thickness is within 0.125 mm (0.005 in) of what it is sold as.
THICKNESS = "ANSI A208.2-2009"
# What a spacer comes in: 1/32 in, 0.5 mm. A lap that covers by less is barely one: 1/16 in,
# 1.5 mm. Common practice, no source.
SPACERS = (JOTS_PER_INCH // 32, JOTS_PER_MM // 2)
LEAST_COVER = (JOTS_PER_INCH // 16, 3 * JOTS_PER_MM // 2)

# moisture: percent; line: what stands open between two courses' faces, never below 0 where it was
# hung with the spacer; cover: what the hidden lap or tongue still covers, below 0: it gapes.
Season = namedtuple("Season", "label moisture line cover")
# change: of a whole board between driest and dampest; growth: of one course's face from hanging
# to dampest, 0 or more; spacer: growth as a spacer comes; seasons: hung, driest, dampest.
Moves = namedtuple("Moves", "change growth spacer seasons")


def change(width: int, c: int, points: float) -> int:
    """How much a width changes: jots, below 0 where it shrinks.

    width: when it was read; c: its coefficient; points: percent of moisture gained. Good within
    6 to 14 % of moisture content. Errors: none. Source: FORMULA.
    """
    exact = width * c * points / 100000
    n = int(abs(exact) + 0.5)
    return -n if exact < 0 else n


def from_shrinkage(shrinkage: float, saturation: float = 30.0) -> float:
    """The coefficient, as a share of the width, out of the shrinkage from green to ovendry.

    shrinkage: percent, above 0; saturation: fibre saturation point, percent (22 for western
    redcedar, northern white-cedar and redwood). Raises ZeroDivisionError at a shrinkage of 0.
    Source: Wood Handbook (FPL-GTR-190), ch. 13, for the mean of 6 to 14 %: at 10 %.
    """
    return 1 / (100 * saturation / shrinkage - saturation + 10)


def mdf_most(length: int) -> int:
    """The most that MDF of that length or width grows, jots, rounded up. Source: PANELS."""
    return (length * MDF_MOST + 9999) // 10000


def as_spacer(jots: int, unit: str) -> int:
    """A gap rounded up to what a spacer comes in, 1/32 in or 0.5 mm. Errors: none."""
    step = SPACERS[0 if unit in ("in", "ft") else 1]
    return -(-jots // step) * step


def moves(
    face: int, overall: int, c: int, hung: float, low: float, high: float, unit: str
) -> Moves:
    """What a board and its lines do over the year, hung with the spacer that they want.

    face: what one course covers, boards held tight; overall: with the lap or tongue, at least
    the face; hung, low, high: percent. A board's whole section grows alike, so that at the
    dampest the faces touch, and a tongue finds its groove no tighter. Errors: none.
    """
    growth = max(0, change(face, c, high - hung))
    spacer = as_spacer(growth, unit)
    seasons = [
        Season(
            label,
            m,
            spacer - change(face, c, m - hung),
            overall - face - spacer + change(overall, c, m - hung),
        )
        for label, m in (("Hung", hung), ("Driest", low), ("Dampest", high))
    ]
    return Moves(change(overall, c, high - low), growth, spacer, seasons)


def if_hung_now(m: Moves, unit: str) -> str:
    """What comes of hanging the boards as they are, as a sentence. Errors: none."""
    hung, dry, damp = m.seasons
    if hung.moisture < dry.moisture:
        return "Hung now without spacers, they press by %s at each line by the dampest." % fine(
            m.growth, unit
        )
    if hung.moisture > damp.moisture:
        return "Hung now, each line opens to %s by the driest." % fine(dry.line, unit)
    return ""


def fine(jots: int, unit: str) -> str:
    """A small length finer than a tape reads: "0.048 in", "1.23 mm"; metric always in mm."""
    if unit in ("in", "ft"):
        return decimal(jots / JOTS_PER_INCH, 3) + " in"
    return decimal(jots / JOTS_PER_MM, 2) + " mm"


def write_coefficient(d: "Draft", wood: str, grain: str) -> int:
    """The coefficient of a wood, said in the draft. wood: a key of species.py or UNKNOWN."""
    s = cautious() if wood == UNKNOWN else species(wood)
    c = coefficient(s, "flat" if wood == UNKNOWN else grain)
    which = "%s, %s grain" % (s.label, "flat" if wood == UNKNOWN else grain)
    if wood == UNKNOWN:
        d.row("Wood", "not given: reckoned as the softwood that moves most, %s" % which)
    else:
        d.row("Wood", which)
    d.step(
        "C",
        "dimensional change coefficient for 1 % of moisture",
        which,
        fixed(c / 100000, 5),
        _COEFFICIENTS[s.source],
    )
    return c


def write_moves(
    d: "Draft", face: int, overall: int, wood: str, grain: str, hung: float, low: float, high: float
) -> Moves:
    """Figures, table, warnings and working of solid boards; arguments as of moves."""
    c = write_coefficient(d, wood, grain)
    if hung > SATURATION:
        d.row("Wetter than 30 %", "reckoned at 30 %: only below it does wood shrink")
        hung = SATURATION
    m = moves(face, overall, c, hung, low, high, d.unit)
    text = spacer_text(m.spacer, d.unit)
    d.figure("spacer", "Spacer at each course", text, spacer_say(m.spacer, d.unit), m.spacer)
    text = fine(m.change, d.unit)
    d.figure("change", "Board changes, all year", text, text, m.change)
    d.value("growth", m.growth)
    d.step(
        "Board over the year",
        "width x C x (dampest - driest)",
        "%s x %s x (%s - %s)"
        % (d.show(overall), fixed(c / 100000, 5), percent(high), percent(low)),
        fine(m.change, d.unit),
        FORMULA,
    )
    d.step(
        "Face from hanging to dampest",
        "face x C x (dampest - hung), or 0 where it is hung wetter",
        "%s x %s x (%s - %s)" % (d.show(face), fixed(c / 100000, 5), percent(high), percent(hung)),
        fine(m.growth, d.unit),
        FORMULA,
    )
    d.step(
        "Spacer",
        "that growth, rounded up to a spacer: at the dampest the boards just touch",
        fine(m.growth, d.unit),
        spacer_text(m.spacer, d.unit),
        "plane geometry",
    )
    _write_seasons(d, face, overall, c, m, hung)
    d.step(
        "Held back by nails and neighbours",
        "nothing is taken off for restraint, as none was found",
        "the whole change",
        fine(m.change, d.unit),
        RESTRAINT,
    )
    outside = sorted({v for v in (hung, low, high) if not VALID_LOW <= v <= VALID_HIGH})
    if outside:
        d.row(
            "Rough",
            "the formula is good from %s to %s: what comes of %s is a rough figure"
            % (
                percent(VALID_LOW),
                percent(VALID_HIGH),
                " and ".join([percent(v) for v in outside]),
            ),
        )
    return m


def write_mdf(d: "Draft", face: int, lengths: list[int]) -> None:
    """Figures, table and working of MDF boards. lengths: of whole boards, jots, maybe none."""
    d.row("Wood", "MDF: taken at the most that the standard lets it grow")
    rows = []
    for n in lengths:
        most = mdf_most(n)
        if n == max(lengths):
            text = fine(most, d.unit)
            d.figure("end_gap", "Both end gaps, " + d.show(n), text, text, most)
        rows.append([d.show(n), fine(most, d.unit), d.show(as_spacer((most + 1) // 2, d.unit))])
        d.step(
            "Growth of %s" % d.show(n),
            "length x 0.33 %",
            "%s x 0.0033" % d.show(n),
            fine(most, d.unit),
            PANELS,
        )
    if rows:
        d.tables.append(
            Table("End gaps, MDF", ["Board", "Grows by at most", "Gap, each end"], rows)
        )
    growth = mdf_most(face)
    spacer = as_spacer(growth, d.unit)
    d.length("spacer", "Spacer at each course", spacer)
    d.value("growth", growth)
    d.step("Growth of the face", "face x 0.33 %", "%s x 0.0033" % d.show(face),
           fine(growth, d.unit), PANELS)  # fmt: skip
    d.step("Spacer", "that growth, rounded up to a spacer", fine(growth, d.unit),
           d.show(spacer), "plane geometry")  # fmt: skip
    d.row("Thickness", "off by up to %s (%s)" % (
        "0.005 in" if d.unit in ("in", "ft") else "0.125 mm", THICKNESS))  # fmt: skip
    d.row("Meter", "one made for wood reads MDF only roughly: let it lie in the room meanwhile")


def _write_seasons(d: "Draft", face: int, overall: int, c: int, m: Moves, hung: float) -> None:
    """The lines by season, what covers them, and what goes wrong there."""
    laps = overall > face
    rows = []
    for s in m.seasons:
        row = [s.label, percent(s.moisture), fine(s.line, d.unit)]
        rows.append(row + ([fine(s.cover, d.unit)] if laps else []))
    heads = ["Boards", "At", "Line open"] + (["Lap, tongue"] if laps else [])
    d.tables.append(Table("Lines by season", heads, rows))
    dry = m.seasons[1]
    numbers = (fixed(c / 100000, 5), percent(dry.moisture), percent(hung))
    d.step(
        "Line at the driest",
        "spacer - face x C x (driest - hung), each course keeping its place",
        "%s - %s x %s x (%s - %s)" % ((d.show(m.spacer), d.show(face)) + numbers),
        fine(dry.line, d.unit),
        FORMULA + ", and plane geometry",
    )
    d.value("line_driest", dry.line)
    if not laps:
        d.row("Behind the lines", "no lap: %s of the wall shows at the driest" % fine(
            dry.line, d.unit))  # fmt: skip
        if dry.line > 0:
            d.warn(
                "Square boards open to %s at each line by the driest, and the wall shows: paint it "
                "in the boards' colour before they hang." % fine(dry.line, d.unit)
            )
        return
    d.value("cover_driest", dry.cover)
    d.step(
        "Lap at the driest",
        "overall - face - spacer + overall x C x (driest - hung)",
        "%s - %s - %s + %s x %s x (%s - %s)"
        % ((d.show(overall), d.show(face), d.show(m.spacer), d.show(overall)) + numbers),
        fine(dry.cover, d.unit),
        FORMULA + ", and plane geometry",
    )
    lap = d.show(overall - face)
    if dry.cover <= 0:
        d.row("Lap or tongue covers", "no")
        d.warn(
            "By the driest the laps no longer cover: they gape by %s, and the wall shows. Let the "
            "boards dry nearer to %s before they hang, or take narrower boards or a lap deeper "
            "than %s." % (fine(-dry.cover, d.unit), percent(dry.moisture), lap)
        )
        return
    d.row("Lap or tongue covers", "yes, by %s of %s" % (fine(dry.cover, d.unit), lap))
    if dry.line > 0:
        d.row("Coat lap or tongue first", "%s of it shows at the driest" % fine(dry.line, d.unit))
    if dry.cover < LEAST_COVER[0 if d.unit in ("in", "ft") else 1]:
        d.warn(
            "By the driest the laps cover by %s only, so a board that is a hair narrow gapes: hang "
            "drier boards, or take a lap deeper than %s." % (fine(dry.cover, d.unit), lap)
        )
