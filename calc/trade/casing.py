"""Casing around an opening: what its pieces are cut to, and where short space rips them.

Long points of mitred casing: plane geometry. Lengths are jots, angles hundredths of a degree.
"""

from collections import namedtuple

from ..angles import degrees, hundredths
from ..lengths import JOTS_PER_INCH, JOTS_PER_MM
from .levels import SAW_MOST, degrees_text, saw_mend

TYPE_CHECKING = False
if TYPE_CHECKING:
    from ..draft import Draft

# A narrower strip breaks as it is ripped or nailed; a job has its own limit. Common practice, no
# source.
SLIVER = JOTS_PER_INCH // 2
SLIVER_METRIC = 13 * JOTS_PER_MM

# width: of the opening; left_leg, right_leg: from where the leg stands (stool, floor, or the
# opening's lower edge) up to its head. joint: "mitred", or "butted": the head lies over the legs.
# foot: "stool" (with horns and apron), "casing" (all round) or "floor". left, right, top,
# bottom: the Band there; horn_left, horn_right: of the stool past the casing; drop: how wide the
# apron is.
Casing = namedtuple(
    "Casing",
    "width left_leg right_leg joint foot left right top bottom horn_left horn_right drop",
)
# reveal: what is left to see; wide: of the casing, 0 where there is no space for any.
Band = namedtuple("Band", "reveal wide")
# part: "head", "left", "right", "sill", "stool" or "apron"; length: the longest, at its long
# points; short: at its short points; start, end: the saw's setting from square at its left and
# right, or top and bottom; wide: what it is ripped to, None where that is not known here (stool).
Cut = namedtuple("Cut", "part label length short start end wide")


def band(space: int | None, reveal: int, wide: int, sliver: int) -> Band:
    """Reveal and casing in the space from the opening's edge, None where there is plenty.

    The reveal comes first; the casing is ripped to what is left, and left out (wide 0) where that
    is less than sliver. Jots. Errors: none.
    """
    if space is None or space >= reveal + wide:
        return Band(reveal, wide)
    return Band(max(min(reveal, space), 0), ripped(space - reveal, wide, sliver))


def ripped(left: int, wide: int, sliver: int) -> int:
    """What a piece of that width is ripped to where so much is left for it; 0: it is left out."""
    return wide if left >= wide else left if left >= sliver and left > 0 else 0


def plain(
    width: int, height: int, joint: str, foot: str, reveal: int, wide: int, horn: int
) -> Casing:
    """The Casing that has space all round and stands level."""
    b = Band(reveal, wide)
    return Casing(width, height, height, joint, foot, b, b, b, b, horn, horn, wide)


def cuts(c: Casing) -> list[Cut]:
    """The pieces: head, left and right leg, then sill, or stool and apron.

    Without space for it there is no such piece. Mitred ends meet corner to corner, so where one
    piece is ripped the two are not sawn at 45 degrees.
    """
    out = []
    inside = c.width + c.left.reveal + c.right.reveal
    outside = inside + c.left.wide + c.right.wide
    if c.top.wide:
        out.append(_level("head", "Head", c, c.top, inside, outside))
    for part, label, leg, side in (
        ("left", "Left leg", c.left_leg, c.left),
        ("right", "Right leg", c.right_leg, c.right),
    ):
        if side.wide:
            out.append(_leg(part, label, c, leg, side))
    if c.foot == "casing" and c.bottom.wide:
        out.append(_level("sill", "Sill casing", c, c.bottom, inside, outside))
    if c.foot == "stool":
        whole = outside + c.horn_left + c.horn_right
        out.append(Cut("stool", "Stool", whole, whole, 0, 0, None))
        if c.drop:
            out.append(Cut("apron", "Apron", outside, outside, 0, 0, c.drop))
    return out


def _level(part: str, label: str, c: Casing, own: Band, inside: int, outside: int) -> Cut:
    if c.joint == "butted":
        return Cut(part, label, outside, outside, 0, 0, own.wide)
    ends = [hundredths(side.wide, own.wide) for side in (c.left, c.right)]
    return Cut(part, label, outside, inside, ends[0], ends[1], own.wide)


def _leg(part: str, label: str, c: Casing, leg: int, own: Band) -> Cut:
    short = leg + c.top.reveal + (c.bottom.reveal if c.foot == "casing" else 0)
    if c.joint == "butted":
        return Cut(part, label, short, short, 0, 0, own.wide)
    length, end = short + c.top.wide, 0
    if c.foot == "casing":
        length += c.bottom.wide
        end = hundredths(c.bottom.wide, own.wide)
    return Cut(part, label, length, short, hundredths(c.top.wide, own.wide), end, own.wide)


def ends_text(cut: Cut) -> str:
    """How its ends are sawn: "45.00° both", "left 45.00°, right square"."""
    if cut.start == cut.end:
        return "%s both" % degrees(cut.start) if cut.start else "square"
    names = ("left", "right") if cut.part in ("head", "sill") else ("top", "foot")
    saw = [degrees(n) if n else "square" for n in (cut.start, cut.end)]
    return "%s %s, %s %s" % (names[0], saw[0], names[1], saw[1])


def tell(d: "Draft", c: Casing, many: list[Cut], where: str = "") -> None:
    """The working of every piece; a warning where the saw does not turn so far.

    many: of cuts(c), by the labels they are told by; where: leads a line, "Wall 1, Window 1: ".
    """
    reveals = _both(d, c.left.reveal, c.right.reveal)
    casings = _both(d, c.left.wide, c.right.wide)
    for cut in many:
        words, numbers = "opening + 2 reveal + 2 casing", [d.show(c.width), reveals, casings]
        if cut.part in ("left", "right"):
            words = "height + reveal + casing"
            numbers = [
                d.show(c.left_leg if cut.part == "left" else c.right_leg),
                d.show(c.top.reveal),
                d.show(c.top.wide),
            ]
            if c.foot == "casing":
                words = "height + 2 reveal + 2 casing"
                numbers[1] = _both(d, c.top.reveal, c.bottom.reveal)
                numbers[2] = _both(d, c.top.wide, c.bottom.wide)
            if c.joint == "butted":
                words, numbers = words[: words.rfind(" + ")], numbers[:2]
        elif cut.part == "stool":
            words += " + 2 horn"
            numbers.append(_both(d, c.horn_left, c.horn_right))
        elif cut.part == "apron":
            words = "stool - 2 horn"
            stool = cut.length + c.horn_left + c.horn_right
            horns = [d.show(c.horn_left), d.show(c.horn_right)]
            numbers = [
                "%s - 2 x %s" % (d.show(stool), horns[0])
                if horns[0] == horns[1]
                else "%s - %s - %s" % (d.show(stool), horns[0], horns[1])
            ]
        d.step(
            where + cut.label.lower(),  # ASCII
            words,
            " + ".join(numbers),
            d.show(cut.length),
            "plane geometry",
        )
    past = [(cut, n) for cut in many for n in (cut.start, cut.end) if n > int(100 * SAW_MOST)]
    if past:
        names = []
        for cut, _ in past:
            if cut.label.lower() not in names:  # ASCII
                names.append(cut.label.lower())  # ASCII
        saws = sorted(set([n for _, n in past]))
        d.warn(
            "%s %s: %s is more than most saws turn (%s): %s."
            % (
                where + "mitre of the" if where else "Mitre of the",
                " and the ".join(names),
                " and ".join([degrees(n) for n in saws]),
                degrees_text(SAW_MOST),
                saw_mend([n / 100 for n in saws]),
            )
        )


def tell_tight(
    d: "Draft", where: str, near: str, piece: tuple[str, int], less: tuple[str, int], room: int,
    mitred: bool, also: str = "",
) -> None:  # fmt: skip
    """Working and warning of a piece that has not the room for its whole width.

    where: leads the working; near: the warning, "Window 2 is too near: "; piece: what it is called
    and what it is ripped to, 0 where it is left out; less: what comes off the room first, "reveal"
    or the like, and how much; also: ends the warning.
    """
    (part, wide), (off, taken) = piece, less
    left = max(room - taken, 0)
    d.step(
        where + part + " width", "space - %s, no less than 0" % off,
        "%s - %s" % (d.show(room), d.show(taken)), d.show(left),
    )  # fmt: skip
    if wide:
        saw = "; its mitre is not 45°, see the table" if mitred else ""
        d.warn(near + "rip the %s to %s, off its outer edge%s%s." % (part, d.show(wide), saw, also))
        return
    why = "no space for the %s" % part
    if left:
        why = "the %s would be %s wide and break as it is ripped" % (part, d.show(left))
    end = "" if part == "apron" else "end square what meets it, "
    d.warn(
        near + "%s: leave it out, %sand close the joint with a narrow bead%s." % (why, end, also)
    )


def _both(d: "Draft", one: int, other: int) -> str:
    if one == other:
        return "2 x %s" % d.show(one)
    return "%s + %s" % (d.show(one), d.show(other))
