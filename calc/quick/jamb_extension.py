"""Jamb extension: from a window's jamb out to the finished face, at each corner."""

from ..bounds import MOST_END_GAP, MOST_THICKNESS, TALLEST
from ..draft import Answer, Draft, Sketch, Table
from ..lengths import JOTS_PER_INCH
from ..trade.jambs import (
    CORNERS,
    Jamb,
    Piece,
    across,
    ends_of,
    exists,
    pieces,
    tell_piece,
    tell_plane,
    tell_reveal,
    tell_widths,
    twist,
    widths,
)
from .declare import Calculator, choice, length

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

_DEEPEST = 39 * JOTS_PER_INCH

FIELDS = [
    choice(
        "face",
        "Readings reach to",
        [("drywall", "The drywall"), ("finished", "The finished face")],
        "finished: held against a scrap of board",
        "drywall",
    ),
    length("top_left", "Depth, top left", "from the jamb's edge", hi=_DEEPEST),
    length("top_right", "Depth, top right", hi=_DEEPEST),
    length("bottom_left", "Depth, bottom left", hi=_DEEPEST),
    length("bottom_right", "Depth, bottom right", hi=_DEEPEST),
    length(
        "thickness",
        "Cladding thickness",
        "added to drywall readings",
        "3/4 in",
        "19 mm",
        hi=MOST_THICKNESS,
    ),
    length(
        "proud",
        "Jamb already proud by",
        "past the drywall, all round",
        "0 in",
        "0 mm",
        hi=_DEEPEST,
    ),
    length("width", "Jamb to jamb, width", "for lengths", lo=1, hi=TALLEST, needed=False),
    length("height", "Head to sill, height", "for lengths", lo=1, hi=TALLEST, needed=False),
    length("reveal", "Reveal", "jamb edge left to see", "3/16 in", "5 mm", hi=MOST_END_GAP),
    length("stock", "Extension thickness", "", "3/4 in", "19 mm", hi=MOST_THICKNESS),
    choice("sides", "Sides", [("four", "All four"), ("three", "Head and legs")], "", "four"),
    choice(
        "through",
        "Runs through",
        [("head", "Head (and sill)"), ("legs", "Legs")],
        "the other butts against it",
        "head",
    ),
    length("limit", "Out of plane by at most", "more warns", "1/16 in", "1.5 mm", hi=MOST_END_GAP),
]


def answer(v: "dict[str, Any]", unit: str) -> Answer:
    """The answer from the fields' values (see FIELDS), jots. Raises no error."""
    d = Draft(unit)
    j = Jamb(
        {key: v[key] for key, _ in CORNERS},
        v["thickness"] if v["face"] == "drywall" else 0,
        v["proud"],
        v["width"],
        v["height"],
        v["reveal"],
        v["stock"],
        v["sides"],
        v["through"],
    )
    wide = widths(j)
    tell_widths(d, j, v["face"])
    for key, label in CORNERS:
        d.length(key, "Rip, " + label, max(wide[key], 0))
    if max([wide[key] for key, _ in CORNERS]) <= 0:
        d.row("Extension", "none needed")
    _seats(d, wide, v["limit"])
    many = pieces(j)
    _rips(d, j, [p for p in many if across(p.side)])
    _rips(d, j, [p for p in many if not across(p.side)])
    if v["width"] is None and v["height"] is None:
        d.row("Lengths", "give width and height")
    elif v["reveal"]:
        tell_reveal(d, v["reveal"])
    d.caution("lead-asbestos")
    d.caution("saw-dust")
    d.sketch = _sketch(d, wide)
    return d.done()


def _seats(d: Draft, wide: dict[str, int], limit: int) -> None:
    """How far the bottom right corner is from the plane of the other three."""
    off = twist(wide)
    d.value("twist", off)
    if off == 0:
        d.row("Casing seats on", "one plane")
    else:
        d.row(
            "Bottom right",
            "%s %s the plane" % (d.show(abs(off)), "in front of" if off > 0 else "behind"),
        )
    tell_plane(d, wide, limit)


def _rips(d: Draft, j: Jamb, many: list[Piece]) -> None:
    """The table of the sides that lie the same way; their lengths where the opening's is known."""
    rows = []
    for p in many:
        row = [p.label, d.show(max(p.start, 0)), d.show(max(p.end, 0))]
        if p.length is not None:
            row.append(d.show(p.length) if exists(p) else "-")
        rows.append(row + [tell_piece(d, j, p)])
    names = " and ".join([p.label for p in many]).lower()  # ASCII
    ends = ends_of(many[0].side)
    title = "Rips, " + names if across(many[0].side) else "Rips, legs"
    heads = ["Piece", "At the " + ends[0], "At the " + ends[1]]
    long = many[0].length is not None
    d.tables.append(Table(title, heads + (["Length"] if long else []) + ["Rip"], rows))


def _sketch(d: Draft, wide: dict[str, int]) -> Sketch:
    """The window from inside, each corner with its rip width."""
    u = JOTS_PER_INCH
    items: list[list[object]] = [
        ["rect", 6 * u, 7 * u, 36 * u, 24 * u, "board"],
        ["rect", 8 * u, 9 * u, 32 * u, 20 * u, "hole"],
    ]
    for key, x, y, anchor in (
        ("top_left", 6 * u, 3 * u, "start"),
        ("top_right", 42 * u, 3 * u, "end"),
        ("bottom_left", 6 * u, 34 * u, "start"),
        ("bottom_right", 42 * u, 34 * u, "end"),
    ):
        mark = d.mark(x, y, anchor, max(wide[key], 0), 3 * u)
        if len(mark) > 1:  # heavy or light takes half the page's width: into the margin
            for item in mark:
                item[1] = -4 * u if anchor == "start" else 52 * u
        items.extend(mark)
    say = "The window from inside, not to scale, with the rip width at each corner."
    return Sketch(48 * u, 38 * u, items, say)


CALCULATOR = Calculator(
    "jamb-extension",
    "Jamb extension",
    "How wide and long are the extensions from the jamb to the finished face?",
    FIELDS,
    answer,
    [
        "Cladding added, less what the jamb is proud; reveal: common practice, no source",
        "Plane of four corners, lengths: plane geometry",
    ],
)
