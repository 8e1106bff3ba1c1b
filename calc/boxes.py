"""Device boxes: what a box takes out of each course, plates, screws and ears."""

from collections import namedtuple

from .lengths import JOTS_PER_INCH, JOTS_PER_MM

# What one course loses to a box. course: 1 is the course whose lower edge is
# the line, 2 the next above, 0 the one below; low, high: jots, the board's own
# lower and upper edge, lap or tongue included; start, end: jots, from where to
# where the cut goes; kind: "lower" (a notch from the lower edge), "upper",
# "hole" (board on all sides) or "split" (through both edges).
Cut = namedtuple("Cut", "course low high start end kind")

# A kind of box. screws: jots between the fixing screws' centres; pitch: jots
# between gangs (0 where plates of several gangs are not so divided); upright:
# whether the screws stand one above the other.
Standard = namedtuple("Standard", "key label screws pitch upright")

# Source: NEMA WD 6 / OS 1 (3-9/32 in, 1-13/16 in); BS 4662 (60.3 mm; 120.6 mm
# for two gangs) and national tables (60 mm and 71 mm pitch; 84 mm).
STANDARDS = (
    Standard("us", "US device box", 105 * JOTS_PER_INCH // 32, 29 * JOTS_PER_INCH // 16, True),
    Standard("uk", "UK (60.3)", 603 * JOTS_PER_MM // 10, 603 * JOTS_PER_MM // 10, False),
    Standard("eu", "Continental (60)", 60 * JOTS_PER_MM, 71 * JOTS_PER_MM, False),
    Standard("au", "AU/NZ (84)", 84 * JOTS_PER_MM, 0, False),
)

# US plates, NEMA WD 6: 4-1/2 in high, 2-3/4 in wide and 1-13/16 in a gang more.
PLATE_HEIGHT = 9 * JOTS_PER_INCH // 2
PLATE_WIDTH = 11 * JOTS_PER_INCH // 4
# A US device's yoke over its ears, from memory: about 4-1/8 in.
YOKE = 33 * JOTS_PER_INCH // 8
# The least that an ear should bear on: common practice, no source.
EAR_LEAST = JOTS_PER_INCH // 8
# The widest gap at a box, NFPA 70 (NEC) 314.21; a workmanship limit on wood.
GAP_MOST = JOTS_PER_INCH // 8


def standard(key: str) -> Standard:
    """The Standard of that key. Raises KeyError for a key that is not ours."""
    for s in STANDARDS:
        if s.key == key:
            return s
    raise KeyError(key)


def us_plate(gangs: int) -> tuple[int, int]:
    """(width, height) in jots of the US plate for 1 or more gangs.

    Source: NEMA WD 6: 2-3/4 + 1-13/16 (n - 1) by 4-1/2 in.
    """
    return PLATE_WIDTH + (gangs - 1) * standard("us").pitch, PLATE_HEIGHT


def screw_span(s: Standard, gangs: int) -> int:
    """Jots that a box must at least measure along its screws, for its gangs."""
    span: int = s.screws
    if not s.upright and gangs > 1:
        span += (gangs - 1) * s.pitch
    return span


# One gang's box outside, (width, height). US: from memory; pitch as above. UK and
# continental: from memory. AU/NZ boxes have no usual size.
_ONE_GANG = {
    "us": (9 * JOTS_PER_INCH // 4, 15 * JOTS_PER_INCH // 4),
    "uk": (75 * JOTS_PER_MM, 75 * JOTS_PER_MM),
    "eu": (68 * JOTS_PER_MM, 68 * JOTS_PER_MM),
}


def gang_size(key: str, gangs: int) -> tuple[int, int]:
    """(width, height) in jots of the outside of a box of so many gangs.

    key: a Standard's but "au", for which there is no usual size (KeyError);
    gangs: 1 or more. Each gang adds the standard's pitch to the width.
    Source: one gang from memory; pitch as in STANDARDS.
    """
    width, height = _ONE_GANG[key]
    return width + (gangs - 1) * standard(key).pitch, height


def cuts(bottom: int, top: int, line: int, face: int, lap: int, lap_up: bool) -> list[Cut]:
    """What each course loses to a cut from `bottom` to `top`, lowest course first.

    bottom, top, line: jots up from one datum, bottom < top; line is a course's
    visible lower edge; face: jots one course covers, more than 0; lap: jots of
    lap or tongue, 0 to less than the face, hidden at the board's upper edge
    (lap_up) or behind its lower one. A cut that only touches an edge takes
    nothing. Errors: none. Source: plane geometry.
    """
    out: list[Cut] = []
    n = (bottom - line) // face - 1
    while True:
        low = line + n * face - (0 if lap_up else lap)
        high = low + face + lap
        if low >= top:
            return out
        if high > bottom:
            start, end = max(bottom, low), min(top, high)
            if start == low:
                kind = "split" if end == high else "lower"
            else:
                kind = "upper" if end == high else "hole"
            out.append(Cut(n + 1, low, high, start, end, kind))
        n += 1
