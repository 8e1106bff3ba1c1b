"""The job's fields beside the layout: site, nails, glue, trim, finish, cost.

None is needed for a plan. Defaults: common practice, no source, unless a source is named.
"""

from .bounds import LONGEST_BOARD, MOST_END_GAP, MOST_FACE, MOST_THICKNESS
from .fieldkinds import ID, Field, choice, count, length, measure, of
from .lengths import JOTS_PER_INCH, JOTS_PER_MM

_INCH = JOTS_PER_INCH
_MM = JOTS_PER_MM
_GALLON = 3.785411784
_SQ_FT_A_GALLON = 0.09290304 / _GALLON
_MOST_PRICE = 1000000


def _price(key: str, label: str) -> Field:
    return of(key, label, "money", _MOST_PRICE, [])


# built: when the house was; moisture: of the boards now, by the meter; driest, dampest: what they
# come to in this room over the year, else from its air, else from the climate.
SITE = [
    length("wallboard", "Wallboard", 0, MOST_THICKNESS, _INCH // 2, 25 * _MM // 2),
    choice("built", "House built", ("unknown", "before-1978", "later")),
    measure("percent", "moisture", "Boards' moisture now", 1.0, 60.0),
    choice("climate", "Climate", ("most", "dry", "damp")),
    measure("temperature", "temperature", "Room's temperature", -10.0, 45.0),
    measure("percent", "humidity_low", "Driest air", 1.0, 99.0),
    measure("percent", "humidity_high", "Dampest air", 1.0, 99.0),
    measure("percent", "driest", "Boards at their driest", 1.0, 30.0),
    measure("percent", "dampest", "Boards at their dampest", 1.0, 30.0),
]
# length: of the nails at hand, None for what the wall wants. gauge: steel wire gauge.
NAILS = [
    length("length", "Nail length", 10 * _MM, 150 * _MM),
    choice("gauge", "Gauge", ("16", "15", "18")),
    choice(
        "framing", "Studs", ("spruce-pine-fir", "douglas-fir-larch", "southern-pine", "hem-fir")
    ),
    length("penetration", "Into the stud at least", 0, 100 * _MM, _INCH, 25 * _MM),
    count("per_stud", "At each stud", 0, 6, 2),
    count("per_end", "At each piece's end", 0, 6, 2),
    measure("percent", "spare", "Nails over", 0.0, 100.0, 5.0),
    count("box", "Nails in a box", 1, 100000, 1000),
    _price("price", "Price of a box"),
]
GLUE = [
    choice("used", "Adhesive", ("none", "studs")),
    length("bead", "Bead", _MM, 20 * _MM, _INCH // 4, 6 * _MM),
    measure("cartridge", "cartridge", "Cartridge", 50.0, 1000.0, 1000 * _GALLON * 10 / 128, 300.0),
    _price("price", "Price of a cartridge"),
]
TRIM_STOCK = [
    length("length", "length", 300 * _MM, LONGEST_BOARD),
    _price("price", "price"),
    ID,
]
TRIM = [
    choice("joint", "Casing corners", ("mitred", "butted")),
    choice("foot", "Under a window", ("stool", "casing")),
    length("width", "Casing width", 10 * _MM, MOST_FACE, 9 * _INCH // 4, 57 * _MM),
    length("thickness", "Casing thickness", _MM, MOST_THICKNESS, 11 * _INCH // 16, 18 * _MM),
    length("reveal", "Reveal", 0, MOST_END_GAP, 3 * _INCH // 16, 5 * _MM),
    length("horn", "Stool past the casing", 0, MOST_FACE, 3 * _INCH // 4, 20 * _MM),
    length("jamb", "Jamb extension thickness", _MM, MOST_THICKNESS, 3 * _INCH // 4, 19 * _MM),
    choice("through", "Jamb extension runs through", ("head", "legs")),
    of("casing_stock", "Casing stock", "objects", 6, TRIM_STOCK),
    of("jamb_stock", "Jamb stock", "objects", 6, TRIM_STOCK),
]
# Coats: primer, then paint before hanging, on the face and both edges (and the back); then paint
# on the wall. rate: by the label, or solids and film, where both are given.
FINISH = [
    count("primer_coats", "Primer coats before hanging", 0, 4, 1),
    count("paint_before", "Paint coats before hanging", 0, 4, 1),
    count("paint_after", "Paint coats on the wall", 0, 4, 1),
    choice("back", "Backs", ("bare", "coated")),
    measure("coverage", "primer_rate", "Primer covers", 0.5, 30.0, 300 * _SQ_FT_A_GALLON, 7.5),
    measure("percent", "primer_solids", "Primer solids by volume", 1.0, 100.0),
    measure("film", "primer_film", "Primer's dry film", 1.0, 1000.0),
    measure("volume", "primer_can", "Primer can", 0.05, 250.0, _GALLON, 2.5),
    _price("primer_price", "Price of a primer can"),
    measure("coverage", "paint_rate", "Paint covers", 0.5, 30.0, 350 * _SQ_FT_A_GALLON, 9.0),
    measure("percent", "paint_solids", "Paint solids by volume", 1.0, 100.0),
    measure("film", "paint_film", "Paint's dry film", 1.0, 1000.0),
    measure("volume", "paint_can", "Paint can", 0.05, 250.0, _GALLON, 2.5),
    _price("paint_price", "Price of a paint can"),
    measure("percent", "loss", "Lost on the tool", 0.0, 90.0, 0.0),
    measure("hours", "recoat", "Between coats", 0.0, 240.0, 4.0),
    measure("hours", "dry", "Last coat dries before hanging", 0.0, 480.0, 24.0),
    measure("hours", "filler", "Filler before sanding", 0.0, 240.0, 3.0),
    measure("hours", "caulk", "Caulk before paint", 0.0, 240.0, 2.0),
    measure("hours", "free", "Last coat before the room is used", 0.0, 480.0, 4.0),
    measure("number", "pace", "Boards hung an hour", 0.2, 60.0, 6.0),
    measure("cartridge", "filler_tub", "Tub of filler", 50.0, 20000.0, 1000 * _GALLON / 16, 250.0),
    _price("filler_price", "Price of a tub of filler"),
    measure("cartridge", "caulk_cartridge", "Cartridge of caulk", 50.0, 1000.0,
            1000 * _GALLON * 10 / 128, 300.0),
    _price("caulk_price", "Price of a cartridge of caulk"),
]  # fmt: skip
COST = [measure("percent", "tax", "Tax", 0.0, 100.0)]
# What was ticked off the shopping list, and how much of it there was to buy then.
BOUGHT = [
    of("item", "item", "text", 60, []),
    count("count", "count", 0, 1000000),
    ID,
]
