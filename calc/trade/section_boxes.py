"""A job's device boxes: the extension each wants, whether its plate covers and its ears bear."""

from collections import namedtuple

from ..boxes import EAR_LEAST, YOKE, us_plate
from ..draft import Draft, Table
from ..survey import box_size
from .box_fit import bearing, gap, laps, margin, wanted

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Any

    from ..job import Box, Job
else:
    Any = object

# wall, name: of the box; box: its record; need: the extension, below 0 it stands past the boards.
_Device = namedtuple("_Device", "wall name box need")


def write(d: Draft, job: "Job", plan: "dict[str, Any] | None") -> None:
    """The section as the draft's lines, one row of its table for each box.

    plan is not needed. Errors: none for a job that reads.
    """
    found = _devices(job)
    if not found:
        d.row("Boxes", "none with a device")
        return
    short = [x for x in found if x.need > 0]
    d.count("extensions", "Box extensions", len(short), "extension")
    d.value("boxes", len(found))
    _sizes(d, short)
    _steps(d, job, found)
    rows = []
    for x in found:
        _needed(d, x)
        rows.append([x.wall, x.name, _extension(d, x), _plate(d, job, x), _ears(d, job, x)])
    d.tables.append(Table("Boxes", ["Wall", "Box", "Extension", "Plate laps", "Ears on"], rows))
    gap(d, job.rules.box_gap)
    for key in ("electricity", "box-extension", "box-gap"):
        d.caution(key)


def _devices(job: "Job") -> "list[_Device]":
    return [
        _Device(w.name, b.name, b, wanted(job.board.thickness, b.set_back, b.proud, b.extension))
        for w in job.walls
        for b in w.boxes
        if b.holds == "device"
    ]


def extensions(job: "Job") -> list[tuple[int, int]]:
    """(depth in jots, how many) of the extensions still to be fitted, the smallest first."""
    needs = [x.need for x in _devices(job) if x.need > 0]
    return [(depth, needs.count(depth)) for depth in sorted(set(needs))]


def _sizes(d: Draft, short: "list[_Device]") -> None:
    """How many extensions of each size, the smallest first."""
    sizes = sorted(set([x.need for x in short]))
    for size in sizes:
        n = len([x for x in short if x.need == size])
        d.row("Extension of %s" % d.show(size), "for %s" % ("1 box" if n == 1 else "%d boxes" % n))


def _steps(d: Draft, job: "Job", found: "list[_Device]") -> None:
    """The working, once for all boxes that are alike."""
    for x, more in _first(found, _stands):
        b = x.box
        d.step(
            "extension, %s, %s%s" % (x.wall, x.name, more),
            "boards + set back - proud - extension fitted",
            "%s + %s - %s - %s"
            % tuple([d.show(n) for n in (job.board.thickness, b.set_back, b.proud, b.extension)]),
            d.show(x.need),
            "NFPA 70 (NEC) 314.20",
        )
    c = job.rules.box_gap
    for x, more in _first([x for x in found if _american(x.box)], _gangs):
        wide, tall = box_size(x.box)
        name = "%s, %s%s" % (x.wall, x.name, more)
        for where, plate, box in zip(("sides", "ends"), us_plate(x.box.gangs), (wide, tall)):
            d.step(
                "plate laps at its %s, %s" % (where, name),
                "(plate - box - 2 x gap) / 2",
                "(%s - %s - 2 x %s) / 2" % (d.show(plate), d.show(box), d.show(c)),
                d.show(laps(plate, box + 2 * c)),
                "NEMA WD 6; NFPA 70 (NEC) 406.5; usual box: from memory",
            )
        d.step(
            "ears bear on, %s" % name,
            "(device over its ears - box - 2 x gap) / 2",
            "(%s - %s - 2 x %s) / 2" % (d.show(YOKE), d.show(tall), d.show(c)),
            d.show(bearing(YOKE, tall + 2 * c)),
            "common practice; device and box: from memory",
        )


def _stands(x: "_Device") -> tuple[int, ...]:
    return x.box.set_back, x.box.proud, x.box.extension


def _gangs(x: "_Device") -> tuple[int, ...]:
    return (x.box.gangs,)


def _first(
    found: "list[_Device]", key: "Callable[[_Device], tuple[int, ...]]"
) -> "list[tuple[_Device, str]]":
    """The first of each that are alike by key, and how many more are: " and 2 alike"."""
    keys = [key(x) for x in found]
    out = []
    for i in range(len(found)):
        if keys[i] not in keys[:i]:
            more = keys.count(keys[i]) - 1
            out.append((found[i], " and %d alike" % more if more else ""))
    return out


def _american(b: "Box") -> bool:
    """Whether plate and device are known: a US box given by its gangs."""
    return bool(b.by == "gangs" and b.standard == "us")


def _extension(d: Draft, x: "_Device") -> str:
    if x.need < 0:
        return "%s past" % d.show(-x.need)
    return d.show(x.need) if x.need else "flush"


def _needed(d: Draft, x: "_Device") -> None:
    """Warn of a box that does not come to the boards' face, or stands past it."""
    if x.need > 0:
        more = ""
        if x.box.extension:
            whole = d.show(x.box.extension + x.need)
            more = " more, or one of %s in place of the one fitted" % whole
        d.warn(
            "%s, %s: set an extension of %s%s, so that it comes to the boards' face; the box must "
            "never be buried." % (x.wall, x.name, d.show(x.need), more)
        )
    elif x.need < 0:
        mend = "take a shorter extension" if x.box.extension else "set it back"
        d.warn(
            "%s, %s stands %s past the boards' face, and its plate can't seat: %s."
            % (x.wall, x.name, d.show(-x.need), mend)
        )


def _plate(d: Draft, job: "Job", x: "_Device") -> str:
    """What the plate laps of the cut, at the least; warns where that is too little."""
    b, c = x.box, job.rules.box_gap
    if not _american(b):
        return "not checked"
    least = margin(d.unit)
    wide, tall = box_size(b)
    plate = us_plate(b.gangs)
    over = min(laps(plate[0], wide + 2 * c), laps(plate[1], tall + 2 * c))
    if over < least:
        spare = c + over - least
        mend = "take a larger plate"
        if spare >= 0:
            mend = "set the gap around boxes to %s or less" % d.show(spare)
        d.warn(
            "%s, %s: the plate laps the cut only %s, under %s: %s."
            % (x.wall, x.name, d.show(max(over, 0)), d.show(least), mend)
        )
    return d.show(max(over, 0))


def _ears(d: Draft, job: "Job", x: "_Device") -> str:
    """What each ear of a device bears on; warns where that is too little."""
    b, c = x.box, job.rules.box_gap
    if not _american(b):
        return "none" if b.by == "gangs" else "not checked"
    bear = bearing(YOKE, box_size(b)[1] + 2 * c)
    if bear < EAR_LEAST:
        most = c + bear - EAR_LEAST
        mend = "set a box extender under the ears"
        if most >= 0:
            mend = "set the gap around boxes to %s, or an extender under the ears" % d.show(most)
        d.warn(
            "%s, %s: the ears bear on %s of board, under %s: %s."
            % (x.wall, x.name, d.show(max(bear, 0)), d.show(EAR_LEAST), mend)
        )
    return d.show(max(bear, 0))
