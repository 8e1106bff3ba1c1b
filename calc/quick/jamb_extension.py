"""Jamb extension: from a window's jamb out to the finished face, at each corner."""

from ..angles import degrees, hundredths
from ..bounds import MOST_END_GAP, MOST_THICKNESS, TALLEST
from ..draft import Answer, Draft, Sketch, Table
from ..lengths import JOTS_PER_INCH, JOTS_PER_MM
from .declare import Calculator, choice, length

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

# A usual reveal. Common practice, no source.
REVEAL_LEAST = JOTS_PER_INCH // 8
REVEAL_MOST = JOTS_PER_INCH // 4
# A rip thinner than this splits when nailed. Common practice, no source.
THIN = 3 * JOTS_PER_INCH // 8
# A thicker shim under a casing is more likely a misread depth. Common practice, no source.
SHIM_MOST = JOTS_PER_INCH // 4
SHIM_MOST_METRIC = 6 * JOTS_PER_MM
_DEEPEST = 39 * JOTS_PER_INCH

_CORNERS = [
    ("top_left", "top left"),
    ("top_right", "top right"),
    ("bottom_left", "bottom left"),
    ("bottom_right", "bottom right"),
]

_ACROSS = ("head", "sill")
_ENDS_ACROSS = ("left", "right")
_ENDS_UP = ("top", "bottom")

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
    wide = _widths(d, v)
    _plane(d, v, wide)
    sides = [
        ("head", "Head", "top_left", "top_right", v["width"]),
        ("left", "Left leg", "top_left", "bottom_left", v["height"]),
        ("right", "Right leg", "top_right", "bottom_right", v["height"]),
    ]
    if v["sides"] == "four":
        sides.append(("sill", "Sill", "bottom_left", "bottom_right", v["width"]))
    _rips(d, v, wide, [x for x in sides if x[0] in _ACROSS], _ENDS_ACROSS)
    _rips(d, v, wide, [x for x in sides if x[0] not in _ACROSS], _ENDS_UP)
    if v["width"] is None and v["height"] is None:
        d.row("Lengths", "give width and height")
    elif v["reveal"] and not REVEAL_LEAST <= v["reveal"] <= REVEAL_MOST:
        d.warn(
            "A reveal of %s is unusual: %s to %s hides small errors and still reads as a line."
            % (d.show(v["reveal"]), d.show(REVEAL_LEAST), d.show(REVEAL_MOST))
        )
    d.caution("lead-asbestos")
    d.caution("saw-dust")
    d.sketch = _sketch(d, wide)
    return d.done()


def _rips(
    d: Draft,
    v: "dict[str, Any]",
    wide: dict[str, int],
    sides: "list[tuple[str, str, str, str, int | None]]",
    ends: tuple[str, str],
) -> None:
    """The table of the sides that lie the same way; their lengths where the opening's is known."""
    rows = []
    long = False
    for key, label, one, other, along in sides:
        a, b = wide[one], wide[other]
        row = [label, d.show(max(a, 0)), d.show(max(b, 0))]
        cut = None
        if along is not None:
            cut = _length(d, v, key, along)
            d.value(key + " length", cut)
            row.append(d.show(cut))
            long = True
        taper = abs(max(a, 0) - max(b, 0))
        d.value(key + " taper", taper)
        note = "straight"
        if max(a, b) <= 0:
            note = "none"
        elif a != b:
            note = "tapers %s" % d.show(taper)
            if min(a, b) < 0:
                note += _runs_out(d, key, a, b, cut)
            if cut is not None:
                angle = hundredths(abs(a - b), cut)
                note += ", %s" % degrees(angle)
                d.value(key + " angle", angle)
            if min(a, b) < 0:
                note += "; plane the jamb from there on"
        rows.append(row + [note])
    names = [r[0] for r in rows]
    title = "Rips, legs" if ends == _ENDS_UP else "Rips, " + " and ".join(names).lower()  # ASCII
    heads = ["Piece", "At the " + ends[0], "At the " + ends[1]]
    d.tables.append(Table(title, heads + (["Length"] if long else []) + ["Rip"], rows))


def _runs_out(d: Draft, key: str, a: int, b: int, along: int | None) -> str:
    """Where a rip `along` long, a at one end and b at the other, one below 0, comes to nothing."""
    thick, thin = max(a, b), min(a, b)
    ends = _ENDS_ACROSS if key in _ACROSS else _ENDS_UP
    if along is None:
        at = "%d %% of the way" % ((200 * thick + thick - thin) // (2 * (thick - thin)))
    else:
        out = (2 * along * thick + thick - thin) // (2 * (thick - thin))
        d.value(key + " out", out)
        d.work(
            "%s runs out: %s x %s / (%s + %s) = %s"
            % (key, d.show(along), d.show(thick), d.show(thick), d.show(-thin), d.show(out))
        )
        at = d.show(out)
    return " to nothing %s from the %s" % (at, ends[0] if a > b else ends[1])


def _widths(d: Draft, v: "dict[str, Any]") -> dict[str, int]:
    """Rip width at each corner; 0 where the jamb is out far enough."""
    add = v["thickness"] if v["face"] == "drywall" else 0
    wide = {}
    short = []
    for key, label in _CORNERS:
        w = v[key] + add - v["proud"]
        if v["face"] == "drywall":
            d.work(
                "%s: %s + %s cladding - %s proud = %s"
                % (label, d.show(v[key]), d.show(add), d.show(v["proud"]), d.show(w))
            )
        else:
            d.work(
                "%s: %s - %s proud = %s" % (label, d.show(v[key]), d.show(v["proud"]), d.show(w))
            )
        if w < 0:
            d.warn(
                "At the %s the jamb stands %s past the finished face: plane it back, or fur the "
                "cladding out by as much." % (label, d.show(-w))
            )
        elif 0 < w < THIN:
            short.append("%s %s" % (label, d.show(w)))
        wide[key] = w
        d.length(key, "Rip, " + label, max(w, 0))
    if short:
        d.warn(
            "Thin rip (%s): under %s it splits when nailed; glue and pin it."
            % ("; ".join(short), d.show(THIN))
        )
    if max([wide[k] for k, _ in _CORNERS]) <= 0:
        d.row("Extension", "none needed")
    return wide


def _plane(d: Draft, v: "dict[str, Any]", wide: dict[str, int]) -> None:
    """How far the bottom right corner is from the plane of the other three."""
    plane = wide["top_right"] + wide["bottom_left"] - wide["top_left"]
    off = wide["bottom_right"] - plane
    d.value("twist", off)
    d.work(
        "plane at bottom right: %s + %s - %s = %s; it is %s"
        % (
            d.show(wide["top_right"]),
            d.show(wide["bottom_left"]),
            d.show(wide["top_left"]),
            d.show(plane),
            d.show(wide["bottom_right"]),
        )
    )
    if off == 0:
        d.row("Casing seats on", "one plane")
        return
    d.row(
        "Bottom right",
        "%s %s the plane" % (d.show(abs(off)), "in front of" if off > 0 else "behind"),
    )
    if abs(off) <= v["limit"]:
        return
    shim = (abs(off) + 1) // 2
    half = d.show(shim)
    high, low = "bottom right and top left", "top right and bottom left"
    if off < 0:
        high, low = low, high
    d.warn(
        "The casing rocks: the four corners are %s out of plane (limit %s). Shim it %s at the %s, "
        "or plane as much off the cladding at the %s."
        % (d.show(abs(off)), d.show(v["limit"]), half, low, high)
    )
    most = SHIM_MOST if d.unit in ("in", "ft") else SHIM_MOST_METRIC
    if shim > most:
        d.warn(
            "A shim of %s is over %s: read the four depths again before you cut; one of them may "
            "be wrong." % (half, d.show(most))
        )


def _length(d: Draft, v: "dict[str, Any]", key: str, along: int) -> int:
    """Length of the piece on that side; along: the opening's side. Jots."""
    across = key in _ACROSS
    ends = 2 if across or v["sides"] == "four" else 1
    through = (v["through"] == "head") == across
    cut: int = along + ends * v["reveal"] + (ends * v["stock"] if through else 0)
    d.work(
        "%s: %s + %d x %s reveal%s = %s"
        % (
            key,
            d.show(along),
            ends,
            d.show(v["reveal"]),
            " + %d x %s" % (ends, d.show(v["stock"])) if through else "",
            d.show(cut),
        )
    )
    return cut


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
