"""Coats: what a litre covers, what an area takes, whole cans.

Areas are square metres, volumes litres, spreading rates square metres a litre, films
micrometres, solids and losses percent; all floats.
"""

from collections import namedtuple

from ..draft import Draft, Table
from ..measures import decimal, fixed, show, unit_of
from .saying import said

# Of the rate on a smooth primed surface, on a raw one: 10 to 20 % less. Common practice, no source.
ON_RAW = 0.85
GUIDES = "coatings practice guides"
LABEL = "the label; common practice"
_CUBIC_INCHES = 231.0  # in a US gallon. Source: NIST Handbook 44, App. C

# name: "Primer", "Paint"; rate: on a smooth primed surface, all losses taken off
Coating = namedtuple("Coating", "name rate")
# one coat: on: what it is put on, in words; raw: whether that is bare; litres it takes
Coat = namedtuple("Coat", "name on area rate raw litres")


def by_solids(solids: float, film: float) -> float:
    """Square metres a litre covers at a dry film: 1000 x solids / micrometres.

    solids: percent of the volume, over 0 to 100; film: micrometres dry, over 0. Errors: none.
    Source: coatings practice guides (in gallons, 1604 x solids / mils: 231 cubic inches).
    """
    return 10.0 * solids / film


def rate_of(label: float, solids: "float | None", film: "float | None", loss: float) -> float:
    """The spreading rate to reckon with: by solids and film where both are given, else the label's.

    loss: percent that does not reach the surface (100 less the transfer efficiency), 0 to 90.
    Errors: none. Source: coatings practice guides.
    """
    full = label if solids is None or film is None else by_solids(solids, film)
    return full * (1.0 - loss / 100.0)


def coat(coating: Coating, on: str, area: float, raw: bool) -> Coat:
    """One coat on an area; a raw surface takes what ON_RAW says. Errors: none."""
    rate = coating.rate * ON_RAW if raw else coating.rate
    return Coat(coating.name, on, area, rate, raw, area / rate)


def whole_cans(litres: float, can: float) -> int:
    """The cans to buy: whole ones. litres, can: litres, can over 0. Errors: none."""
    n = int(litres / can)
    # A billionth of a can is arithmetic, no paint.
    return n if litres <= (n + 1e-9) * can else n + 1


def write_rate(
    d: Draft, name: str, label: float, solids: "float | None", film: "float | None", loss: float
) -> Coating:
    """The coating of that name, its rate written into the working of `d`."""
    rate = rate_of(label, solids, film, loss)
    kept = " x (1 - %s lost)" % show(loss, "percent", d.unit) if loss else ""
    words = " x what reaches the surface" if loss else ""
    if solids is not None and film is not None:
        top = "1000" if d.unit not in ("in", "ft") else fixed(_CUBIC_INCHES * 1000 / 144, 0)
        mark = unit_of("film", d.unit).name
        d.step(
            name + " covers",
            "%s x solids / dry %s%s" % (top, mark, words),
            "%s x %s / %s%s" % (top, decimal(solids / 100, 4), show(film, "film", d.unit), kept),
            show(rate, "coverage", d.unit),
            GUIDES,
        )
    else:
        d.step(
            name + " covers", "by the label" + words,
            show(label, "coverage", d.unit) + kept, show(rate, "coverage", d.unit), LABEL,
        )  # fmt: skip
        if solids is not None or film is not None:
            given, lacks = ("solids", "dry film") if film is None else ("dry film", "solids")
            d.warn(
                "%s: its %s alone give no rate, so the label's is taken. Give the %s too, or "
                "leave both out." % (name, given, lacks)
            )
    return Coating(name, rate)


def write_coats(d: Draft, coats: "list[Coat]") -> float:
    """The table of the coats and their working, into `d`; litres of them all."""
    rows = []
    litres = 0.0
    for i, c in enumerate(coats):
        title = "%d. %s" % (i + 1, c.name)
        area, rate = show(c.area, "area", d.unit), show(c.rate, "coverage", d.unit)
        takes = show(c.litres, "volume", d.unit)
        rows.append([title, c.on, area, rate, takes])
        full = show(c.rate / ON_RAW, "coverage", d.unit)
        covers = "(%s x %s)" % (full, decimal(ON_RAW, 2)) if c.raw else rate
        d.step(
            title, "area / what it covers" + (" on a raw surface, 15 % less" if c.raw else ""),
            "%s / %s" % (area, covers), takes,
        )  # fmt: skip
        litres += c.litres
    if rows:
        d.tables.append(Table("Coats", ["Coat", "On", "Area", "Covers", "Takes"], rows))
    return litres


def write_volume(d: Draft, key: str, label: str, litres: float) -> None:
    """A volume as the next figure; its value is whole millilitres."""
    inches = d.unit in ("in", "ft")
    u = unit_of("volume", d.unit)
    name = "gallon" if inches else "litre"
    say = said(litres / u.times, 2, name, name + "s")
    text = "%s %s" % (decimal(litres / u.times, 2), u.name)
    d.figure(key, label, text, say, int(litres * 1000 + 0.5))


def write_cans(d: Draft, key: str, name: str, litres: float, can: float) -> int:
    """Whole cans as the next figure, with their working; how many."""
    n = whole_cans(litres, can)
    d.count(key, "%s, cans of %s" % (name, show(can, "volume", d.unit)), n, "can")
    d.step(
        name + " cans", "volume / can, up to a whole one",
        "%s / %s" % (show(litres, "volume", d.unit), show(can, "volume", d.unit)), str(n),
    )  # fmt: skip
    return n
