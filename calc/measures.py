"""Readings that are no lengths: moisture, temperature, spreading rates, hours and the like.

A measure's value is a float in its base unit (see MEASURES); a person may type it in any of its
units, and a bare number is in the one that goes with the job's unit. In files a JSON number is
in the base unit, which is metric.
"""

from collections import namedtuple

from .lengths import lower
from .problems import shown

# name: as it stands behind a number; names: how else it may be typed, in lower case; times,
# plus: value in the base unit = typed * times + plus; places: decimals shown at most.
Unit = namedtuple("Unit", "name names times plus places")
# units: the base unit first; inches, metric: places among them of the unit that a bare number
# has, where the job's unit is in or ft, and where it is metric.
Measure = namedtuple("Measure", "units inches metric")

_LITRES = 3.785411784  # a US gallon, 231 cubic inches. Source: NIST Handbook 44, App. C
_SQUARE_METRES = 0.09290304  # a square foot. Source: the same, from 0.3048 m
_NEWTONS = 4.4482216152605  # a pound-force. Source: the same

MEASURES = {
    "percent": Measure((Unit("%", ("percent", "pct"), 1.0, 0.0, 2),), 0, 0),
    "temperature": Measure(
        (
            Unit("°C", ("c", "degc", "deg c", "° c"), 1.0, 0.0, 1),
            Unit("°F", ("f", "degf", "deg f", "° f"), 5.0 / 9.0, -160.0 / 9.0, 1),
        ),
        1,
        0,
    ),
    "coverage": Measure(
        (
            Unit("m²/L", ("m2/l", "m²/l"), 1.0, 0.0, 2),
            Unit(
                "sq ft/gal", ("ft2/gal", "ft²/gal", "sqft/gal", "sq ft/gallon"),
                _SQUARE_METRES / _LITRES, 0.0, 1,
            ),
        ),
        1,
        0,
    ),
    "volume": Measure(
        (
            Unit("L", ("l", "litre", "litres", "liter", "liters"), 1.0, 0.0, 3),
            Unit("gal", ("gallon", "gallons"), _LITRES, 0.0, 3),
            Unit("qt", ("quart", "quarts"), _LITRES / 4, 0.0, 3),
            Unit("fl oz", ("floz", "oz"), _LITRES / 128, 0.0, 1),
            Unit("ml", ("millilitre", "milliliter"), 0.001, 0.0, 0),
        ),
        1,
        0,
    ),
    "cartridge": Measure(
        (
            Unit("ml", ("millilitre", "milliliter"), 1.0, 0.0, 0),
            Unit("fl oz", ("floz", "oz"), 1000 * _LITRES / 128, 0.0, 1),
            Unit("L", ("l", "litre", "litres", "liter", "liters"), 1000.0, 0.0, 3),
            Unit("qt", ("quart", "quarts"), 250 * _LITRES, 0.0, 3),
            Unit("gal", ("gallon", "gallons"), 1000 * _LITRES, 0.0, 3),
        ),
        1,
        0,
    ),
    "hours": Measure(
        (
            Unit("h", ("hour", "hours"), 1.0, 0.0, 2),
            Unit("min", ("minutes", "minute"), 1.0 / 60.0, 0.0, 0),
            Unit("days", ("day", "d"), 24.0, 0.0, 2),
        ),
        0,
        0,
    ),
    "film": Measure(
        (
            Unit("µm", ("um", "micron", "microns", "μm"), 1.0, 0.0, 1),
            Unit("mil", ("mils",), 25.4, 0.0, 2),
        ),
        1,
        0,
    ),
    "wire": Measure(
        (Unit("mm", (), 1.0, 0.0, 3), Unit("in", ("inch", "inches"), 25.4, 0.0, 4)), 1, 0
    ),
    "area": Measure(
        (
            Unit("m²", ("m2", "sq m", "sqm"), 1.0, 0.0, 2),
            Unit("sq ft", ("ft2", "ft²", "sqft"), _SQUARE_METRES, 0.0, 1),
        ),
        1,
        0,
    ),
    "force": Measure(
        (Unit("N", ("n",), 1.0, 0.0, 0), Unit("lb", ("lbf",), _NEWTONS, 0.0, 1)), 1, 0
    ),
    "angle": Measure((Unit("°", ("deg", "degrees"), 1.0, 0.0, 2),), 0, 0),
    "number": Measure((Unit("", (), 1.0, 0.0, 5),), 0, 0),
}  # fmt: skip

_MOST_DIGITS = 12
_MOST = 1e15  # of a number


class MeasureError(Exception):
    """A text that is no such measure; carries message and fix, both sentences."""

    def __init__(self, message: str, fix: str) -> None:
        super().__init__(message + " " + fix)
        self.message = message
        self.fix = fix


def unit_of(measure: str, unit: str) -> Unit:
    """The Unit that a bare number has. measure: a key of MEASURES; unit: one of lengths.UNITS."""
    m = MEASURES[measure]
    place: int = m.inches if unit in ("in", "ft") else m.metric
    found: Unit = m.units[place]
    return found


def read(raw: object, measure: str, unit: str) -> float:
    """What was typed, in the measure's base unit.

    raw: a text as typed, "70", "70 °F", "8,5 %"; or a number, in the base unit. Raises
    MeasureError for what is no such measure.
    """
    if isinstance(raw, (int, float)) and raw is not True and raw is not False:
        if not -_MOST < raw < _MOST:  # nor is what is not finite
            raise MeasureError("%s is no such number." % shown(raw), _example(measure, unit))
        return float(raw)
    if not isinstance(raw, str):
        raise MeasureError("%s is no number." % shown(raw), _example(measure, unit))
    number, name = _split(raw)
    value = _decimal(number)
    if value is None:
        raise MeasureError('"%s" is no number.' % shown(raw), _example(measure, unit))
    if name == "":
        u = unit_of(measure, unit)
        return value * u.times + u.plus  # type: ignore[no-any-return]
    for u in MEASURES[measure].units:
        if name == lower(u.name) or name in u.names:
            return value * u.times + u.plus  # type: ignore[no-any-return]
    raise MeasureError(
        '"%s": "%s" is not known here.' % (shown(raw), shown(name)), _example(measure, unit)
    )


def show(value: float, measure: str, unit: str) -> str:
    """A value as text in the unit that goes with `unit`: "8 %", "70 °F", "350 sq ft/gal"."""
    return _text(value, unit_of(measure, unit))


def as_read(raw: object, measure: str, unit: str) -> object:
    """What stands in a document as it reads in `unit`; what can't be read as it stands."""
    if raw is None or raw == "":
        return raw
    try:
        return show(read(raw, measure, unit), measure, unit)
    except MeasureError:
        return raw


def with_unit(raw: object, measure: str, unit: str) -> object:
    """A typed measure that means in every unit what it means in `unit`.

    A bare number in a text gets its unit; a JSON number and what can't be read stay.
    """
    if not isinstance(raw, str):
        return raw
    number, name = _split(raw)
    suffix = unit_of(measure, unit).name
    if name or not suffix or _decimal(number) is None:
        return raw
    return "%s %s" % (number, suffix)


def decimal(value: float, places: int) -> str:
    """A number with at most so many decimals, by whole-number arithmetic: -0.05, 12.5, 7."""
    return _whole_text(value, places, True)


def fixed(value: float, places: int) -> str:
    """A number with just so many decimals: 0.00245, 12.50."""
    return _whole_text(value, places, False)


def _whole_text(value: float, places: int, short: bool) -> str:
    n = int(abs(value) * 10**places + 0.5)
    digits = str(n)
    digits = "0" * (places + 1 - len(digits)) + digits
    whole, part = (digits[:-places], digits[-places:]) if places else (digits, "")
    if short:
        part = part.rstrip("0")
    sign = "-" if value < 0 and n else ""
    return sign + whole + ("." + part if part else "")


def _text(value: float, u: Unit) -> str:
    number = decimal((value - u.plus) / u.times, u.places)
    return "%s %s" % (number, u.name) if u.name else number


def _example(measure: str, unit: str) -> str:
    m = MEASURES[measure]
    names = [u.name for u in m.units if u.name]
    if not names:
        return "Give a number like 12.5."
    first = unit_of(measure, unit).name
    return "Give a number like 12 %s%s." % (
        first,
        "" if len(names) == 1 else ", or in %s" % " or ".join([n for n in names if n != first]),
    )


def _split(raw: str) -> tuple[str, str]:
    """(number, unit in lower case) of a typed text."""
    text = raw.strip(" ")
    n = 0
    while n < len(text) and text[n] in "0123456789.,-":
        n += 1
    return text[:n], lower(text[n:].strip(" "))


def _decimal(text: str) -> float | None:
    """The number typed, with one decimal point or comma at most; None where it is none."""
    sign = 1
    if text[:1] == "-":
        sign, text = -1, text[1:]
    halves = text.replace(",", ".").split(".")
    if len(halves) > 2 or len(text) > _MOST_DIGITS or not "".join(halves):
        return None
    if [1 for ch in text if ch not in "0123456789.,"]:
        return None
    whole, part = halves[0], halves[1] if len(halves) == 2 else ""
    value: float = sign * int(whole + part) / 10 ** len(part)
    return value
