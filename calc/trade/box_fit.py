"""Whether what goes on a device box fits its cut: plate, ears, extension. Lengths are jots."""

from ..boxes import EAR_LEAST, GAP_MOST, YOKE, screw_span, standard, us_plate
from ..draft import Draft
from ..lengths import JOTS_PER_INCH, JOTS_PER_MM

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any


# How far a box may be set back in a non-combustible surface. Source: NFPA 70 (NEC) 314.20.
SET_BACK_MOST = JOTS_PER_INCH // 4


def margin(unit: str) -> int:
    """What a plate laps its cut by at least, on each side: 1/8 in or 3 mm. Common practice."""
    return JOTS_PER_INCH // 8 if unit in ("in", "ft") else 3 * JOTS_PER_MM


def wanted(cladding: int, set_back: int, proud: int, fitted: int = 0) -> int:
    """How far a box must come forward to the face of wood or MDF; below 0 it stands past it.

    set_back, proud: of its front from the wallboard's; fitted: the extension it has already.
    Source: NFPA 70 (NEC) 314.20: the box or a listed extender comes to the finished surface.
    """
    return cladding + set_back - proud - fitted


def laps(size: int, cut: int) -> int:
    """What a plate in the middle of its cut laps on each side; below 0 the cut is open."""
    return (size - cut) // 2


def bearing(yoke: int, along: int) -> int:
    """What each ear of a device bears on; along: the cut along its screws. Source: geometry."""
    return (yoke - along) // 2


def plate(d: Draft, v: "dict[str, Any]", wide: int, tall: int) -> None:
    """Whether the plate covers the cut with its margin on every side."""
    width, height = v["plate_width"], v["plate_height"]
    if v["standard"] == "us":
        across, up = us_plate(v["gangs"])
        if v["sideways"]:
            across, up = up, across
        width = across if width is None else width
        height = up if height is None else height
    if width is None or height is None:
        d.row("Plate", "not checked")
        d.warn(
            "The plate is not checked: give its width and height; the cut is %s by %s."
            % (d.show(wide), d.show(tall))
        )
        return
    least = v["margin"]
    d.row("Plate", "%s wide, %s high" % (d.show(width), d.show(height)))
    for key, name, size, cut in (
        ("plate sides", "left and right", width, wide),
        ("plate ends", "above and below", height, tall),
    ):
        cover = laps(size, cut)
        d.value(key, cover)
        d.row("Plate laps " + name, d.show(cover) if cover >= 0 else "open by %s" % d.show(-cover))
        d.step(
            "plate " + name,
            "(plate - cut) / 2",
            "(%s - %s) / 2" % (d.show(size), d.show(cut)),
            d.show(cover),
            "US plates: NEMA WD 6" if v["standard"] == "us" else "geometry",
        )
        if size - cut < 2 * least:
            spare = v["clearance"] + cover - least
            mend = "cut with a clearance of %s there" % d.show(spare)
            if spare < 0:
                mend = "take a plate of at least %s" % d.show(cut + 2 * least)
            what = "laps the cut only %s" % d.show(cover)
            if cover < 0:
                what = "leaves %s of the cut open" % d.show(-cover)
            d.warn("The plate %s %s: %s." % (what, name, mend))


def ears(d: Draft, v: "dict[str, Any]", wide: int, tall: int) -> None:
    """Whether box and gangs agree, and whether the device's ears bear."""
    s = standard(v["standard"])
    upright = s.upright != v["sideways"]
    c = v["clearance"]
    along, across = (tall, wide) if upright else (wide, tall)
    if s.key == "au":
        along = max(tall, wide)
    span = screw_span(s, v["gangs"])
    if along - 2 * c < span:
        d.warn(
            "The box measures %s along its screws, less than their centres, %s: check readings, "
            "gangs and kind of box." % (d.show(along - 2 * c), d.show(span))
        )
    if s.key == "us" and across - 2 * c < (v["gangs"] - 1) * s.pitch + JOTS_PER_INCH:
        d.warn(
            "A box %s across is too narrow for %d gangs at %s: check the gangs."
            % (d.show(across - 2 * c), v["gangs"], d.show(s.pitch))
        )
    yoke = YOKE if v["yoke"] is None and s.key == "us" else v["yoke"]
    if yoke is None:
        d.row("Ears", "none on this kind of box")
        return
    bear = bearing(yoke, along)
    d.value("ears", bear)
    d.row("Each ear bears on", d.show(max(bear, 0)))
    d.step(
        "ears",
        "(device over its ears - cut along its screws) / 2",
        "(%s - %s) / 2" % (d.show(yoke), d.show(along)),
        d.show(bear),
        "US device: from memory" if v["yoke"] is None else "geometry",
    )
    d.row("At the screw ends", "cut no farther than the drywall")
    if bear < EAR_LEAST:
        most = c + bear - EAR_LEAST
        mend = "cut with a clearance of %s at the screw ends, or set an extender under the ears"
        mend = mend % d.show(most) if most >= 0 else "set a box extender under the ears"
        d.warn(
            "The ears bear on %s of board, under %s: %s."
            % (d.show(max(bear, 0)), d.show(EAR_LEAST), mend)
        )


def extension(d: Draft, v: "dict[str, Any]") -> None:
    """How far the box must come forward, and the gap around it."""
    need = wanted(v["thickness"], 0, v["proud"])
    d.value("extension", need)
    d.step(
        "extension",
        "boards - proud",
        "%s - %s" % (d.show(v["thickness"]), d.show(v["proud"])),
        d.show(need),
        "NFPA 70 (NEC) 314.20",
    )
    if need > 0:
        d.row("Box extension wanted", d.show(need))
    else:
        d.row("Box extension wanted", "none, box is flush" if need == 0 else "none")
    if need < 0:
        d.warn(
            "The box stands %s past the cladding: the plate can't seat; set it back."
            % d.show(-need)
        )
    gap(d, v["clearance"])


def gap(d: Draft, clearance: int) -> None:
    """Whether the gap around a box is within the workmanship limit. Source: NEC 314.21."""
    if clearance > GAP_MOST:
        d.warn(
            "A gap of %s at the box is over %s: cut with %s or less."
            % (d.show(clearance), d.show(GAP_MOST), d.show(GAP_MOST))
        )
