"""Casing around an opening: what its pieces are cut to, and where short space rips them.

Long points of mitred casing: plane geometry. Lengths are jots, angles hundredths of a degree.
"""

from collections import namedtuple

from ..angles import degrees, hundredths

TYPE_CHECKING = False
if TYPE_CHECKING:
    from ..draft import Draft

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


def band(space: int | None, reveal: int, wide: int) -> Band:
    """Reveal and casing in the space from the opening's edge, None where there is plenty.

    The reveal comes first; the casing is ripped to what is left.
    """
    if space is None or space >= reveal + wide:
        return Band(reveal, wide)
    space = max(space, 0)
    return Band(min(reveal, space), max(space - reveal, 0))


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


def tell(d: "Draft", c: Casing, where: str = "") -> None:
    """The working of every piece. where: what leads a line, "Wall 1, Window 1: "."""
    reveals = _both(d, c.left.reveal, c.right.reveal)
    casings = _both(d, c.left.wide, c.right.wide)
    for cut in cuts(c):
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


def _both(d: "Draft", one: int, other: int) -> str:
    if one == other:
        return "2 x %s" % d.show(one)
    return "%s + %s" % (d.show(one), d.show(other))
