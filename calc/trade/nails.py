"""Nails through boards and wallboard into the studs: their wire, their length, how many.

Lengths are jots. Steel wire gauges alone; a nail's gauge is never AWG, whose 15 and 18 are
thinner wires. In words: nail_words.py.
"""

from collections import namedtuple

from ..lengths import JOTS_PER_INCH, JOTS_PER_MM, from_mm
from ..profile import between, y_at

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from ..job import Job
else:
    Any = object

# (gauge, ten-thousandths of an inch across). Source: steel wire gauge tables.
GAUGES = ((15, 720), (16, 625), (18, 475))
# What nails for a nailer go up by. Common practice, no source.
STEP = JOTS_PER_INCH // 4
STEP_METRIC = 5 * JOTS_PER_MM
# The longest strips for a nailer of that gauge. Common practice, from memory: (gauge, in, mm).
_LONGEST = (
    (15, 5 * JOTS_PER_INCH // 2, 65 * JOTS_PER_MM),
    (16, 5 * JOTS_PER_INCH // 2, 65 * JOTS_PER_MM),
    (18, 2 * JOTS_PER_INCH, 50 * JOTS_PER_MM),
)
# A nail that goes farther into a stud may meet what runs through it. Source: NFPA 70 (NEC)
# 300.4(A)(1), (D): a cable lies at least so far from the stud's edge, or behind a plate.
DEEP = 5 * JOTS_PER_INCH // 4
# Into the stud, where nobody says another figure. Common practice, no source.
PENETRATION = JOTS_PER_INCH
# Into the supports behind a fibreboard finish. Source: Ontario O. Reg. 332/12, 9.29.
FIBREBOARD = 20 * JOTS_PER_MM
# A thinner panelling wants wallboard behind it, of at least GYPSUM (3/8 in, sold as 9.5 mm),
# and studs no farther apart than CLOSE. Source: IRC R702.5.
THIN_PANEL = JOTS_PER_INCH // 4
GYPSUM = 19 * JOTS_PER_MM // 2
CLOSE = 16 * JOTS_PER_INCH
# Hand nails have penny sizes from 2 to 10 that go by one rule. Source: carpentry texts.
PENNIES = range(2, 11)

# crossings: studs strictly inside a piece, of all pieces; ends: of pieces; nails in them; spare:
# nails over; total of both; boxes to buy.
Count = namedtuple("Count", "crossings ends nails spare total boxes")
# inside, ends: as Count's crossings and ends; joints: where two pieces meet on a stud.
Crossings = namedtuple("Crossings", "inside ends joints")


def wire(gauge: int) -> int:
    """A nail's diameter in ten-thousandths of an inch. gauge: 15, 16 or 18, else KeyError.

    Source: steel wire gauge tables: .0720, .0625, .0475 in (1.829, 1.588, 1.207 mm).
    """
    for g, across in GAUGES:
        if g == gauge:
            return across
    raise KeyError(gauge)


def penny(d: int) -> int:
    """The length of a hand nail of so many pennies, in jots. d: 2 to 10.

    Source: carpentry texts: 1/2 in and 1/4 in for each penny, so 8d is 2-1/2 in.
    """
    return JOTS_PER_INCH // 2 + d * JOTS_PER_INCH // 4


def hand_nail(length: int) -> int:
    """The smallest penny size that is at least so long, 2 to 10, or 0 where none is."""
    for d in PENNIES:
        if penny(d) >= length:
            return d
    return 0


def step_of(unit: str) -> int:
    """What nails for a nailer go up by where that unit is used."""
    return STEP if unit in ("in", "ft") else STEP_METRIC


def longest(gauge: int, unit: str) -> int:
    """The longest nail of that gauge for a nailer, as usually sold. gauge: 15, 16 or 18.

    Source: common practice, from memory.
    """
    for g, inches, metric in _LONGEST:
        if g == gauge:
            return inches if unit in ("in", "ft") else metric
    raise KeyError(gauge)


def least(cladding: int, wallboard: int, into: int) -> int:
    """The shortest nail: through both and so far into the stud. Source: common practice."""
    return cladding + wallboard + into


def usual(length: int, step: int) -> int:
    """The next length that is sold: up to a whole step."""
    return -(-length // step) * step


def wanted(cladding: int, wallboard: int, into: int, fibreboard: bool, unit: str) -> int:
    """The nail to take: the shortest that will do, up to the next length that is sold.

    fibreboard: the boards are MDF, which asks for FIBREBOARD at least. Jots; unit: one of UNITS.
    """
    need = max(into, FIBREBOARD if fibreboard else 0)
    return usual(least(cladding, wallboard, need), step_of(unit))


def nail_of(job: "Job") -> int:
    """The length of a job's nails, jots: of those at hand, else what its wall wants."""
    n, board = job.trade.nails, job.board
    if n.length is not None:
        return n.length  # type: ignore[no-any-return]
    wallboard = job.trade.site.wallboard
    return wanted(board.thickness, wallboard, n.penetration, board.species == "mdf", job.unit)


def into_stud(length: int, cladding: int, wallboard: int) -> int:
    """How far a nail driven square and flush goes into the stud; below 0 it ends before it."""
    return length - cladding - wallboard


def thrice(cladding: int) -> int:
    """The other rule: three times the thickness held. Source: US Navy manual 14119."""
    return 3 * cladding


def crossings(plan: "dict[str, Any]") -> Crossings:
    """Where the pieces of a lapwright-plan meet studs.

    A stud is inside a piece where its centre, at the middle of the course's height, lies strictly
    between the piece's ends; the stud that a joint is on is inside neither. Errors: none.
    """
    rows: dict[tuple[int, int], list[tuple[int, int]]] = {}
    inside = joints = 0
    for p in plan["pieces"]:
        at = (p["wall"], p["course"])
        if at not in rows:
            rows[at] = _studs(plan["walls"][p["wall"] - 1], p["course"])
        ends = (p["left_end"], p["right_end"])
        own = [e["stud"] for e in ends if e["kind"] == "joint"]
        left, right = from_mm(p["left"]), from_mm(p["right"])
        inside += len([1 for n, x in rows[at] if left < x < right and n not in own])
        if p["left_end"]["kind"] == "joint":
            joints += 1
    return Crossings(inside, 2 * len(plan["pieces"]), joints)


def _studs(wall: "dict[str, Any]", course: int) -> list[tuple[int, int]]:
    """(number, x in jots) of each stud at the middle of the course."""
    middle = 0
    for c in wall["courses"]:
        if c["number"] == course:
            middle = (from_mm(c["bottom"]) + from_mm(c["top"])) // 2
    floor = [(from_mm(x), from_mm(y)) for x, y in wall["floor"]]
    ceiling = [(from_mm(x), from_mm(y)) for x, y in wall["ceiling"]]
    out = []
    for s in wall["studs"]:
        at, top = from_mm(s["at"]), from_mm(s["top"])
        if at != top:
            foot = min(y_at(floor, at, -1), y_at(floor, at, 1))
            head = max(y_at(ceiling, top, -1), y_at(ceiling, top, 1))
            at = between((foot, at), (head, top), middle)
        out.append((s["number"], at))
    return out


def count(job: "Job", plan: "dict[str, Any] | None") -> Count | None:
    """The nails of a plan: at each stud inside a piece, and at both ends of each piece.

    At an end on a joint the end's nails stand in place of the stud's. None without a plan: no
    count is guessed from an area. Source of the usual two and two: common practice.
    """
    if plan is None:
        return None
    n = job.trade.nails
    met = crossings(plan)
    nails = met.inside * n.per_stud + met.ends * n.per_end
    # Hundredths of a percent, so that whole numbers alone decide what is rounded up.
    spare = -(-nails * int(n.spare * 100 + 0.5) // 10000)
    total = nails + spare
    return Count(met.inside, met.ends, nails, spare, total, -(-total // n.box))
