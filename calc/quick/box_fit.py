"""Whether what goes on a device box fits its cut: plate, ears, extension."""

from ..boxes import EAR_LEAST, GAP_MOST, YOKE, screw_span, standard, us_plate
from ..draft import Draft
from ..lengths import JOTS_PER_INCH

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any


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
    margin = v["margin"]
    d.row("Plate", "%s wide, %s high" % (d.show(width), d.show(height)))
    for key, name, size, cut in (
        ("plate sides", "left and right", width, wide),
        ("plate ends", "above and below", height, tall),
    ):
        cover = (size - cut) // 2
        d.value(key, cover)
        d.row("Plate laps " + name, d.show(cover) if cover >= 0 else "open by %s" % d.show(-cover))
        d.work("plate %s: (%s - %s) / 2 = %s" % (name, d.show(size), d.show(cut), d.show(cover)))
        if size - cut < 2 * margin:
            spare = v["clearance"] + cover - margin
            mend = "cut with a clearance of %s there" % d.show(spare)
            if spare < 0:
                mend = "take a plate of at least %s" % d.show(cut + 2 * margin)
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
    bear = (yoke - along) // 2
    d.value("ears", bear)
    d.row("Each ear bears on", d.show(max(bear, 0)))
    d.work("ears: (%s - %s) / 2 = %s" % (d.show(yoke), d.show(along), d.show(bear)))
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
    need = v["thickness"] - v["proud"]
    d.value("extension", need)
    d.work("extension: %s - %s = %s" % (d.show(v["thickness"]), d.show(v["proud"]), d.show(need)))
    if need > 0:
        d.row("Box extension wanted", d.show(need))
    else:
        d.row("Box extension wanted", "none, box is flush" if need == 0 else "none")
    if need < 0:
        d.warn(
            "The box stands %s past the cladding: the plate can't seat; set it back."
            % d.show(-need)
        )
    if v["clearance"] > GAP_MOST:
        d.warn(
            "A gap of %s at the box is over %s: cut with %s or less."
            % (d.show(v["clearance"]), d.show(GAP_MOST), d.show(GAP_MOST))
        )
