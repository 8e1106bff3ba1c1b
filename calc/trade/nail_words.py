"""Nails in words: length, reach and counts, as lines of a draft."""

from ..draft import Draft
from ..measures import decimal, fixed
from .nails import (
    CLOSE,
    DEEP,
    FIBREBOARD,
    GYPSUM,
    PENETRATION,
    THIN_PANEL,
    Count,
    hand_nail,
    into_stud,
    least,
    longest,
    penny,
    step_of,
    thrice,
    wanted,
    wire,
)

TYPE_CHECKING = False
if TYPE_CHECKING:
    from ..job import Job

_NEC = "NFPA 70 (NEC) 300.4"


def wire_text(across: float, unit: str) -> str:
    """A diameter in ten-thousandths of an inch as text: "0.0625 in", "1.588 mm"."""
    if unit in ("in", "ft"):
        return "%s in" % fixed(across / 10000, 4)
    return "%s mm" % fixed(across * 254 / 100000, 3)


def write_length(
    d: Draft,
    cladding: int,
    wallboard: int,
    into: int,
    fibreboard: bool,
    given: int | None,
    gauge: int,
) -> int:
    """The nail wanted, what it or the one at hand does, as the draft's next lines.

    cladding, wallboard, into (the stud at least): jots; fibreboard: the boards are MDF; given:
    the nail at hand, jots, or None; gauge: of steel wire. Returns how far the one that is used,
    given or else wanted, goes into the stud: jots, 0 or less where it does not reach it.
    """
    want = _wanted(d, cladding, wallboard, into, fibreboard)
    if given is None and want > longest(gauge, d.unit):
        _unsold(d, gauge, want)
    used = want if given is None else given
    reach = into_stud(used, cladding, wallboard)
    d.value("into stud", reach)
    name = "The nail wanted" if given is None else "The nail at hand"
    d.row("Into the stud", d.show(reach) if reach > 0 else "does not reach it")
    d.step(
        "into the stud",
        "nail - boards - wallboard",
        "%s - %s - %s" % (d.show(used), d.show(cladding), d.show(wallboard)),
        d.show(reach),
    )
    need = max(into, FIBREBOARD if fibreboard else 0)
    if reach <= 0 and given is None:
        d.warn(
            "Nothing is asked for into the stud, so %s ends before it and holds nothing: ask for "
            "%s." % (d.show(used), d.show(PENETRATION))
        )
    elif reach < need or reach <= 0:
        _too_short(d, name, used, reach, need, want)
    if reach > DEEP:
        _too_long(d, name, used, reach, cladding + wallboard, want)
    d.row("Wire", "%d gauge, %s" % (gauge, wire_text(wire(gauge), d.unit)))
    d.work(
        "wire: %d gauge = %s (steel wire gauge tables, not AWG)"
        % (gauge, wire_text(wire(gauge), d.unit))
    )
    d.row("Cables and pipes", _lines(d))
    d.caution("hidden-lines")
    d.caution("nailer")
    return reach


def _lines(d: Draft) -> str:
    """What the code leaves of a stud to nails, said. Source: NFPA 70 (NEC) 300.4; IRC P2603."""
    inches = d.unit in ("in", "ft")
    return (
        "mostly %s or more from the stud's edge, or behind a steel plate of %s; pipes %s by some "
        "editions (%s; IRC P2603)"
        % (
            d.show(DEEP),
            '1/16"' if inches else "1.6 mm",
            '1-1/2"' if inches else "38 mm",
            _NEC,
        )
    )


def _wanted(d: Draft, cladding: int, wallboard: int, into: int, fibreboard: bool) -> int:
    need = max(into, FIBREBOARD if fibreboard else 0)
    short = least(cladding, wallboard, need)
    want = wanted(cladding, wallboard, into, fibreboard, d.unit)
    d.length("length", "Nail length", want)
    d.value("least length", short)
    d.row("At least", d.show(short))
    if fibreboard:
        d.row("MDF", "at least %s into the stud" % d.show(FIBREBOARD))
        d.step(
            "into the stud for MDF",
            "the larger of what is asked for and the code's least",
            "larger of %s and %s" % (d.show(into), d.show(FIBREBOARD)),
            d.show(need),
            "Ontario O. Reg. 332/12, 9.29",
        )
    d.step(
        "shortest nail",
        "boards + wallboard + into the stud",
        "%s + %s + %s" % (d.show(cladding), d.show(wallboard), d.show(need)),
        d.show(short),
    )
    d.step(
        "nail length",
        "shortest, up to the next length that is sold",
        "%s up to a step of %s" % (d.show(short), d.show(step_of(d.unit))),
        d.show(want),
    )
    three = thrice(cladding)
    met = "met" if three <= want else "%s longer" % d.show(three - want)
    d.row("By three times the boards", "%s, %s" % (d.show(three), met))
    d.step(
        "other rule",
        "three times the thickness held",
        "3 x %s" % d.show(cladding),
        d.show(three),
        "US Navy manual 14119",
    )
    size = hand_nail(want) if d.unit in ("in", "ft") else 0
    if size:
        d.row("Hand nail", "%dd, %s" % (size, d.show(penny(size))))
        d.step(
            "hand nail",
            '1/2" + 1/4" for each penny',
            '1/2" + %d x 1/4"' % size,
            d.show(penny(size)),
            "carpentry texts",
        )
    return want


def _unsold(d: Draft, gauge: int, want: int) -> None:
    mend = "take thinner boards or ask for less into the stud"
    size = hand_nail(want)
    if gauge == 18 and want <= longest(16, d.unit):
        mend = "take 16 gauge"
    elif size and d.unit in ("in", "ft"):
        mend = "drive %dd finish nails by hand" % size
    elif size:
        mend = "drive finish nails of %s by hand" % d.show(want)
    d.warn(
        "Strips of %d gauge usually end at %s, and %s is wanted: %s."
        % (gauge, d.show(longest(gauge, d.unit)), d.show(want), mend)
    )


def _too_short(d: Draft, name: str, used: int, reach: int, need: int, want: int) -> None:
    what = "goes only %s into the stud, under %s, and will not hold" % (d.show(reach), d.show(need))
    if reach <= 0:
        what = "does not reach the stud and holds nothing"
    d.warn("%s, %s, %s: take one of %s." % (name, d.show(used), what, d.show(want)))


def _too_long(d: Draft, name: str, used: int, reach: int, through: int, want: int) -> None:
    step = step_of(d.unit)
    most = (through + DEEP) // step * step
    mend = "take one of %s" % d.show(want)
    if want > most:
        mend = "ask for less into the stud"
    elif most > want:
        mend = "take one of %s to %s" % (d.show(want), d.show(most))
    d.warn(
        "%s, %s, goes %s into the stud, over %s, where it may meet a cable or a pipe: %s, and scan "
        "all the same: staying under that is no guarantee."
        % (name, d.show(used), d.show(reach), d.show(DEEP), mend)
    )
    d.step(
        "longest nail without this warning",
        "boards and wallboard + the least depth of a cable, down to a length that is sold",
        "%s + %s" % (d.show(through), d.show(DEEP)),
        d.show(most),
        _NEC,
    )


def write_thin(d: Draft, cladding: int, wallboard: int) -> bool:
    """Warn of thin panelling with too little behind it; whether it is thin. Source: IRC R702.5."""
    if cladding >= THIN_PANEL:
        return False
    if wallboard < GYPSUM:
        d.warn(
            "Panelling of %s is under %s: it wants gypsum wallboard of %s or more behind it, and "
            "there is %s: put it up first, or take thicker boards. Local code decides."
            % (d.show(cladding), d.show(THIN_PANEL), d.show(GYPSUM), d.show(wallboard))
        )
    d.step(
        "thin panelling",
        "its thickness against the least without wallboard",
        "%s against %s" % (d.show(cladding), d.show(THIN_PANEL)),
        "thin: %s of gypsum behind, studs %s apart at most" % (d.show(GYPSUM), d.show(CLOSE)),
        "IRC R702.5",
    )
    return True


def write_count(d: Draft, job: "Job", c: Count) -> None:
    """The counts as the draft's next lines."""
    n = job.trade.nails
    d.count("nails", "Nails", c.total, "nail")
    d.value("crossings", c.crossings)
    d.value("ends", c.ends)
    d.row("Boxes of %d" % n.box, str(c.boxes))
    d.value("boxes", c.boxes)
    d.row("Nails over", str(c.spare))
    d.step(
        "nails",
        "studs inside pieces x at each + ends of pieces x at each",
        "%d x %d + %d x %d" % (c.crossings, n.per_stud, c.ends, n.per_end),
        str(c.nails),
    )
    d.step(
        "nails over",
        "nails x share, up to a whole one",
        "%d x %s %%" % (c.nails, decimal(n.spare, 2)),
        str(c.spare),
    )
    d.step(
        "boxes",
        "(nails + nails over) / nails in a box, up to a whole one",
        "(%d + %d) / %d" % (c.nails, c.spare, n.box),
        str(c.boxes),
    )
