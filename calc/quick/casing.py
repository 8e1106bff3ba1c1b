"""Casing: what head, legs, stool and apron around an opening are cut to."""

from ..bounds import MOST_END_GAP, MOST_FACE, TALLEST
from ..draft import Answer, Draft, Table
from ..lengths import JOTS_PER_MM
from ..trade.casing import Casing, band, cuts, ends_text, plain, tell
from ..trade.jambs import REVEAL_LEAST, REVEAL_MOST
from .declare import Calculator, choice, length

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

_LEAST = 10 * JOTS_PER_MM
# A narrower strip breaks as it is ripped or nailed. Common practice, no source.
_SLIVER = 13 * JOTS_PER_MM

FIELDS = [
    length("width", "Opening, width", "jamb to jamb", lo=_LEAST, hi=TALLEST),
    length("height", "Opening, height", "to the stool, sill or floor", lo=_LEAST, hi=TALLEST),
    choice(
        "foot",
        "At the foot",
        [("stool", "Stool and apron"), ("casing", "Casing all round"), ("floor", "Floor (door)")],
        "",
        "stool",
    ),
    choice("joint", "Corners", [("mitred", "Mitred"), ("butted", "Head over legs")], "", "mitred"),
    length("casing", "Casing width", "", "2 1/4 in", "57 mm", lo=_LEAST, hi=MOST_FACE),
    length("reveal", "Reveal", "jamb edge left to see", "3/16 in", "5 mm", hi=MOST_END_GAP),
    length("horn", "Horn", "stool past the casing", "3/4 in", "20 mm", hi=MOST_FACE),
    length("space", "Space at a tight side", "from the jamb's edge", "", hi=TALLEST, needed=False),
]


def answer(v: "dict[str, Any]", unit: str) -> Answer:
    """The answer from the fields' values (see FIELDS), jots. Raises no error."""
    d = Draft(unit)
    c = plain(v["width"], v["height"], v["joint"], v["foot"], v["reveal"], v["casing"], v["horn"])
    if v["space"] is not None:
        c = _tight(d, c, v)
    many = cuts(c)
    for cut in many:
        if cut.part != "right" or c.left.wide != c.right.wide:
            label = "Leg, each" if cut.part == "left" and c.left == c.right else cut.label
            if c.left != c.right and cut.part in ("left", "right"):
                label = "Leg, tight side" if cut.part == "left" else "Leg, other side"
            d.length(cut.part, label, cut.length)
        else:
            d.value(cut.part, cut.length)
    long = c.joint == "mitred"
    heads = ["Piece", "Long points" if long else "Length"] + (["Short points"] if long else [])
    rows = []
    for cut in many:
        row = [cut.label, d.show(cut.length)]
        if long:
            row.append("-" if cut.short == cut.length else d.show(cut.short))
        if c.left != c.right and cut.part in ("left", "right"):
            row[0] = "Leg, tight side" if cut.part == "left" else "Leg, other side"
        rows.append(row + [ends_text(cut), "-" if cut.wide is None else d.show(cut.wide)])
        d.value(cut.part + " start", cut.start)
        d.value(cut.part + " end", cut.end)
    d.tables.append(Table("Casing", heads + ["Saw", "Width"], rows))
    tell(d, c)
    total = sum([cut.length for cut in many if cut.wide is not None])
    d.row("Casing in all, before kerfs", d.show(total))
    d.value("total", total)
    if not REVEAL_LEAST <= v["reveal"] <= REVEAL_MOST:
        d.warn(
            "A reveal of %s is unusual: %s to %s hides small errors and still reads as a line."
            % (d.show(v["reveal"]), d.show(REVEAL_LEAST), d.show(REVEAL_MOST))
        )
    d.caution("lead-asbestos")
    d.caution("saw-dust")
    return d.done()


def _tight(d: Draft, c: Casing, v: "dict[str, Any]") -> Casing:
    """The casing where one side, here the left, has but so much space."""
    b = band(v["space"], v["reveal"], v["casing"])
    horn = max(min(c.horn_left, v["space"] - b.reveal - b.wide), 0)
    if c.foot == "stool" and horn < c.horn_left:
        d.row("Horn, tight side", d.show(horn))
    if b.wide < v["casing"]:
        d.value("tight", b.wide)
        d.step(
            "casing at the tight side", "space - reveal",
            "%s - %s" % (d.show(v["space"]), d.show(v["reveal"])), d.show(b.wide),
        )  # fmt: skip
    if not b.wide:
        d.warn(
            "At the tight side there is no space for casing: end the head there square, and close "
            "the joint with a narrow bead or caulk."
        )
    elif b.wide < _SLIVER:
        d.warn(
            "At the tight side the casing is only %s wide and will break as it is ripped: leave it "
            "out and close the joint with a narrow bead." % d.show(b.wide)
        )
    elif b.wide < v["casing"]:
        d.warn(
            "The casing does not fit at the tight side: rip the leg there to %s, off its outer "
            "edge%s." % (d.show(b.wide), _saw_note(c))
        )
    return Casing(
        c.width, c.left_leg, c.right_leg, c.joint, c.foot, b, c.right, c.top, c.bottom, horn,
        c.horn_right, c.drop,
    )  # fmt: skip


def _saw_note(c: Casing) -> str:
    return "; its mitre is not 45°, see the table" if c.joint == "mitred" else ""


CALCULATOR = Calculator(
    "casing",
    "Casing",
    "How long are head, legs, stool and apron around a window or door?",
    FIELDS,
    answer,
    [
        "Long points: plane geometry",
        "Reveal 1/8 to 1/4 in, stool, horns and apron: common practice, no source",
    ],
)
