"""Jamb extensions: how wide at each corner, how they taper and how long they are.

Widths, tapers and the plane of four corners: plane geometry. Cladding added on one side, less
what the jamb is proud already, and the reveal: common practice, no source. Lengths are jots.
"""

from collections import namedtuple

from ..angles import degrees, hundredths
from ..lengths import JOTS_PER_INCH, JOTS_PER_MM

TYPE_CHECKING = False
if TYPE_CHECKING:
    from ..draft import Draft

# A usual reveal. Common practice, no source.
_REVEAL_LEAST = JOTS_PER_INCH // 8
_REVEAL_MOST = JOTS_PER_INCH // 4
# A rip thinner than this splits when nailed. Common practice, no source.
THIN = 3 * JOTS_PER_INCH // 8
# A thicker shim under a casing is more likely a misread depth. Common practice, no source.
SHIM_MOST = JOTS_PER_INCH // 4
SHIM_MOST_METRIC = 6 * JOTS_PER_MM
# Four corners that are farther out of one plane make a casing rock. Common practice, no source.
LIMIT = JOTS_PER_INCH // 16
LIMIT_METRIC = 3 * JOTS_PER_MM // 2

CORNERS = (
    ("top_left", "top left"),
    ("top_right", "top right"),
    ("bottom_left", "bottom left"),
    ("bottom_right", "bottom right"),
)

# depths: by the keys of CORNERS, from the jamb's edge to the face that was read to; add: the
# cladding that comes onto that face, 0 where it was read to the finished one; proud: of the jamb
# past it. width, height: of the opening, None where not known; reveal; stock: the extension's
# thickness. sides: "four", or "three" (head and legs); through: "head" or "legs", which run
# through while the others butt.
Jamb = namedtuple("Jamb", "depths add proud width height reveal stock sides through")
# side: "head", "left", "right" or "sill"; start, end: its width at the left and the right, or at
# the top and the bottom, below 0 where the jamb is too far out; length: or None.
Piece = namedtuple("Piece", "side label start end length")

_SIDES = (
    ("head", "Head", "top_left", "top_right"),
    ("left", "Left leg", "top_left", "bottom_left"),
    ("right", "Right leg", "top_right", "bottom_right"),
    ("sill", "Sill", "bottom_left", "bottom_right"),
)


def across(side: str) -> bool:
    """Whether the side lies level."""
    return side in ("head", "sill")


def ends_of(side: str) -> tuple[str, str]:
    """What its ends are called, as start and end of a Piece."""
    return ("left", "right") if across(side) else ("top", "bottom")


def widths(j: Jamb) -> dict[str, int]:
    """Width of the extension at each of CORNERS; below 0 where the jamb stands past the face."""
    return {key: j.depths[key] + j.add - j.proud for key, _ in CORNERS}


def twist(wide: dict[str, int]) -> int:
    """How far the bottom right corner is in front of the plane of the other three, or behind."""
    return wide["bottom_right"] - _plane(wide)


def _plane(wide: dict[str, int]) -> int:
    return wide["top_right"] + wide["bottom_left"] - wide["top_left"]


def length(j: Jamb, side: str) -> int | None:
    """Length of the piece on that side, None where the opening's is not known."""
    along: int | None = j.width if across(side) else j.height
    if along is None:
        return None
    return int(along + _ends(j, side) * (j.reveal + (j.stock if _through(j, side) else 0)))


def _ends(j: Jamb, side: str) -> int:
    return 2 if across(side) or j.sides == "four" else 1


def _through(j: Jamb, side: str) -> bool:
    level: bool = j.through == "head"
    return level == across(side)


def pieces(j: Jamb) -> list[Piece]:
    """The pieces: head, left and right leg, and the sill where there are four sides."""
    wide = widths(j)
    return [
        Piece(side, label, wide[one], wide[other], length(j, side))
        for side, label, one, other in _SIDES
        if side != "sill" or j.sides == "four"
    ]


def exists(p: Piece) -> bool:
    """Whether there is such a piece: not where the jamb is out far enough all along."""
    return bool(max(p.start, p.end) > 0)


def runs_out(p: Piece) -> int | None:
    """Where a piece that is below 0 at one end comes to nothing, from its thick end.

    None where it does not, or where its length is not known.
    """
    thick, thin = max(p.start, p.end), min(p.start, p.end)
    if thin >= 0 or thick <= 0 or p.length is None:
        return None
    return (2 * p.length * thick + thick - thin) // (2 * (thick - thin))  # type: ignore[no-any-return]


def tell_widths(d: "Draft", j: Jamb, face: str, where: str = "") -> None:
    """The working and the warnings of the four widths.

    face: what was read to, "drywall" or "finished"; where: what leads a line, "Wall 1, Door: ".
    """
    wide = widths(j)
    short = []
    words = "depth + cladding - proud" if face == "drywall" else "depth - proud"
    for key, label in CORNERS:
        w = wide[key]
        numbers = d.show(j.depths[key])
        if face == "drywall":
            numbers += " + %s cladding" % d.show(j.add)
        numbers += " - %s proud" % d.show(j.proud)
        d.step(where + label, words, numbers, d.show(w))
        if w < 0:
            d.warn(
                "%s the jamb stands %s past the finished face: plane it back, or fur the "
                "cladding out by as much." % (_at(where, label), d.show(-w))
            )
        elif 0 < w < THIN:
            short.append("%s %s" % (label, d.show(w)))
    if short:
        d.warn(
            "%s (%s): under %s it splits when nailed; glue and pin it."
            % (where + "thin rip" if where else "Thin rip", "; ".join(short), d.show(THIN))
        )


def tell_reveal(d: "Draft", reveal: int, where: str = "") -> None:
    """A warning where the reveal is none of the usual ones. where: what leads it, "Casing: "."""
    if not _REVEAL_LEAST <= reveal <= _REVEAL_MOST:
        d.warn(
            "%s reveal of %s is unusual: %s to %s hides small errors and still reads as a line."
            % (where + "a" if where else "A", d.show(reveal), d.show(_REVEAL_LEAST),
               d.show(_REVEAL_MOST))
        )  # fmt: skip


def _at(where: str, label: str) -> str:
    return "%sat the %s" % (where, label) if where else "At the %s" % label


def tell_plane(d: "Draft", wide: dict[str, int], limit: int, where: str = "") -> None:
    """Whether the casing seats on one plane: working, warnings. limit: out of it at most."""
    plane, off = _plane(wide), twist(wide)
    d.step(
        where + "plane at bottom right",
        "top right + bottom left - top left",
        "%s + %s - %s"
        % (d.show(wide["top_right"]), d.show(wide["bottom_left"]), d.show(wide["top_left"])),
        "%s; it is %s" % (d.show(plane), d.show(wide["bottom_right"])),
        "plane geometry",
    )
    if abs(off) <= limit:
        return
    shim = (abs(off) + 1) // 2
    half = d.show(shim)
    high, low = "bottom right and top left", "top right and bottom left"
    if off < 0:
        high, low = low, high
    d.warn(
        "%she casing rocks: the four corners are %s out of plane (limit %s). Shim it %s at the %s, "
        "or plane as much off the cladding at the %s."
        % (where + "t" if where else "T", d.show(abs(off)), d.show(limit), half, low, high)
    )
    most = SHIM_MOST if d.unit in ("in", "ft") else SHIM_MOST_METRIC
    if shim > most:
        d.warn(
            "%s shim of %s is over %s: read the four depths again before you cut; one of them may "
            "be wrong." % (where + "a" if where else "A", half, d.show(most))
        )


def tell_piece(d: "Draft", j: Jamb, p: Piece, where: str = "") -> str:
    """The working and values of one piece; how it is ripped, "none" where it is not there."""
    if not exists(p):
        return "none"
    if p.length is not None:
        ends = _ends(j, p.side)
        numbers = "%s + %d x %s reveal" % (
            d.show(j.width if across(p.side) else j.height),
            ends,
            d.show(j.reveal),
        )
        words = "opening + reveals"
        if _through(j, p.side):
            numbers += " + %d x %s" % (ends, d.show(j.stock))
            words += " + thicknesses"
        d.step(where + p.side, words, numbers, d.show(p.length), "plane geometry")
        d.value(where + p.side + " length", p.length)
    taper = abs(max(p.start, 0) - max(p.end, 0))
    d.value(where + p.side + " taper", taper)
    if p.start == p.end:
        return "straight"
    note = "tapers %s" % d.show(taper)
    past = min(p.start, p.end) < 0
    if past:
        note += _to_nothing(d, p, where)
    if p.length is not None:
        angle = hundredths(abs(p.start - p.end), p.length)
        note += ", %s" % degrees(angle)
        d.value(where + p.side + " angle", angle)
    if past:
        note += "; plane the jamb from there on"
    return note


def _to_nothing(d: "Draft", p: Piece, where: str) -> str:
    """Where a rip comes to nothing, one end of it being below 0."""
    thick, thin = max(p.start, p.end), min(p.start, p.end)
    out = runs_out(p)
    if out is None:
        at = "%d %% of the way" % ((200 * thick + thick - thin) // (2 * (thick - thin)))
    else:
        d.value(where + p.side + " out", out)
        d.step(
            where + p.side + " runs out",
            "length x thick / (thick + lacking)",
            "%s x %s / (%s + %s)" % (d.show(p.length), d.show(thick), d.show(thick), d.show(-thin)),
            d.show(out),
            "plane geometry",
        )
        at = d.show(out)
    return " to nothing %s from the %s" % (at, ends_of(p.side)[0 if p.start > p.end else 1])
