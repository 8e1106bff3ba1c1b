"""Casing: what head, legs, stool and apron around an opening are cut to."""

from ..bounds import MOST_END_GAP, MOST_FACE, TALLEST
from ..draft import Answer, Draft, Table
from ..lengths import JOTS_PER_MM
from ..trade.casing import (
    SLIVER,
    SLIVER_METRIC,
    Casing,
    Cut,
    band,
    cuts,
    ends_text,
    plain,
    tell,
    tell_tight,
)
from ..trade.jambs import tell_reveal
from .declare import Calculator, choice, length

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

_LEAST = 10 * JOTS_PER_MM
# The legs where one side is tight.
_LEGS = {"left": "Tight-side leg", "right": "Other leg"}

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
    many = [_named(cut, c) for cut in cuts(c)]
    for cut in many:
        if cut.part == "left" and c.left == c.right:
            d.length(cut.part, "Leg, each", cut.length)
        elif cut.part == "right" and c.left == c.right:
            d.value(cut.part, cut.length)
        else:
            d.length(cut.part, cut.label, cut.length)
    long = c.joint == "mitred"
    heads = ["Piece", "Long points" if long else "Length"] + (["Short points"] if long else [])
    rows = []
    for cut in many:
        row = [cut.label, d.show(cut.length)]
        if long:
            row.append("-" if cut.short == cut.length else d.show(cut.short))
        rows.append(row + [ends_text(cut), "-" if cut.wide is None else d.show(cut.wide)])
        d.value(cut.part + " start", cut.start)
        d.value(cut.part + " end", cut.end)
    d.tables.append(Table("Casing", heads + ["Saw", "Width"], rows))
    tell(d, c, many)
    total = sum([cut.length for cut in many if cut.wide is not None])
    d.row("Casing in all, before kerfs", d.show(total))
    d.value("total", total)
    tell_reveal(d, v["reveal"])
    d.caution("lead-asbestos")
    d.caution("saw-dust")
    return d.done()


def _named(cut: Cut, c: Casing) -> Cut:
    """A leg is called by its side's space, where that is not the same at both."""
    if c.left == c.right or cut.part not in _LEGS:
        return cut
    label = _LEGS[cut.part]
    return Cut(
        cut.part, label, cut.length, cut.short, cut.start, cut.end, cut.wide
    )  # fmt: skip


def _tight(d: Draft, c: Casing, v: "dict[str, Any]") -> Casing:
    """The casing where one side, here the left, has but so much space."""
    sliver = SLIVER if d.unit in ("in", "ft") else SLIVER_METRIC
    b = band(v["space"], v["reveal"], v["casing"], sliver)
    horn = max(min(c.horn_left, v["space"] - b.reveal - b.wide), 0)
    if c.foot == "stool" and horn < c.horn_left:
        d.row("Horn, tight side", d.show(horn))
    if b.wide < v["casing"]:
        d.value("tight", b.wide)
        tell_tight(
            d, "", "Too little space: ", ("tight-side leg", b.wide),
            ("reveal", v["reveal"]), v["space"], c.joint == "mitred",
        )  # fmt: skip
    return Casing(
        c.width, c.left_leg, c.right_leg, c.joint, c.foot, b, c.right, c.top, c.bottom, horn,
        c.horn_right, c.drop,
    )  # fmt: skip


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
