"""Lengths: whole jots inside, tape readings outside.

One jot is 1/8128 inch = 1/320 mm, so 1/64 in (127 jots) and 1 mm (320 jots)
are both whole (1 in = 25.4 mm exactly: NBS Circular 572 addendum).
Everything here is integer arithmetic; the two interpreters agree to the jot.
"""

from collections import namedtuple

from .problems import shown

JOTS_PER_INCH = 8128
JOTS_PER_FOOT = 12 * JOTS_PER_INCH
JOTS_PER_MM = 320

# What "heavy" adds and "light" takes off. Common practice, no source: a hair
# is usually read as 1/32 in; not uniform, so its value is always shown.
LEAN_INCH = JOTS_PER_INCH // 32
LEAN_METRIC = JOTS_PER_MM // 2

# A job's unit: what a bare number typed on the page means. In "ft" readings
# are shown as feet and inches, and a bare number is inches.
UNITS = ("in", "ft", "mm", "cm", "m")
UNIT_NAMES = {
    "in": "inches",
    "ft": "feet and inches",
    "mm": "millimetres",
    "cm": "centimetres",
    "m": "metres",
}

# text is the figure with its unit, lean is "" or the heavy/light with its
# value, say is the whole reading in words for a voice.
Reading = namedtuple("Reading", "text lean say")

_METRIC = {"mm": JOTS_PER_MM, "cm": 10 * JOTS_PER_MM, "m": 1000 * JOTS_PER_MM}
_WORDS = {
    "in": "in", "inch": "in", "inches": "in", "ins": "in",
    "ft": "ft", "foot": "ft", "feet": "ft",
    "mm": "mm", "millimetre": "mm", "millimetres": "mm",
    "millimeter": "mm", "millimeters": "mm",
    "cm": "cm", "centimetre": "cm", "centimetres": "cm",
    "centimeter": "cm", "centimeters": "cm",
    "m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "heavy": "+", "h": "+", "strong": "+",
    "light": "-", "l": "-", "shy": "-", "scant": "-",
}  # fmt: skip
_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
    "⅙": "1/6", "⅚": "5/6",
}  # fmt: skip
_PLAIN = {
    "\u2032": "'", "\u2019": "'", "\u2018": "'", "`": "'", "\u00b4": "'",
    "\u2033": '"', "\u201d": '"', "\u201c": '"',
    "\u2010": "-", "\u2011": "-", "\u2012": "-", "\u2013": "-", "\u2014": "-", "\u2212": "-",
    "\u2044": "/", "\u2215": "/",
    "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\t": " ", "\n": " ", "\r": " ",
}  # fmt: skip
# Our own notes of what heavy and light are worth, accepted when read back.
_NOTES = ('(+1/32")', '(-1/32")', "(+1/32 in)", "(-1/32 in)", "(+0.5 mm)", "(-0.5 mm)")
_DIGITS = "0123456789"
_LETTERS = "abcdefghijklmnopqrstuvwxyz"
# Not str.lower: CPython's also turns the Kelvin sign into a k, the phone's does not.
_LOWER = {"ABCDEFGHIJKLMNOPQRSTUVWXYZ"[i]: _LETTERS[i] for i in range(26)}
_MOST_DIGITS = 9  # in a row

_EXAMPLES = {
    "in": "75 3/4 or 75-3/4 heavy",
    "ft": "6' 3-1/2\" or 75 3/4",
    "mm": "1925 or 1925.5 mm",
    "cm": "192.5 or 192.5 cm",
    "m": "1.925 or 1.925 m",
}


class LengthError(Exception):
    """Text that is not a tape reading. Has message and fix, each a sentence."""

    def __init__(self, message: str, fix: str) -> None:
        super().__init__(message)
        self.message = message
        self.fix = fix


def read(text: str, unit: str) -> int:
    """Read a tape reading; a bare number is in `unit`.

    text: feet, inches, fractions, decimals and metric in every tape form:
        "75 3/4", "75-3/4 heavy", "6' 3-1/2\\"", "75¾", "1925 mm", "192,5 cm".
    unit: one of UNITS.
    Returns jots, never negative. Fractions are exact; a decimal is taken to
    the nearest jot (within 1/16256 in). heavy/light add or take 1/32 in, or
    0.5 mm after a metric number. Raises LengthError.
    Source: 1 in = 25.4 mm, NBS Circular 572 addendum; lean: common practice.
    """
    tokens = _scan(_plain(text), text, unit)
    tokens, lean = _take_lean(tokens, text, unit)
    jots, metric = _parse(tokens, text, unit)
    jots += lean * (LEAN_METRIC if metric else LEAN_INCH)
    if jots < 0:
        raise LengthError(
            '"%s" is less than nothing.' % _short(text), "Give a length of 0 or more."
        )
    return jots


def lower(text: str) -> str:
    """The text with A to Z in small letters, all else as it is: the same on both engines."""
    return "".join([_LOWER.get(ch, ch) for ch in text])


def _plain(text: str) -> str:
    """The text in ASCII, lower case, without a note of ours at its end."""
    out = []
    for ch in text:
        if ch in _VULGAR:
            out.append(" " + _VULGAR[ch])
        else:
            out.append(_PLAIN.get(ch, _LOWER.get(ch, ch)))
    plain = "".join(out).strip(" ").replace("''", '"')
    for note in _NOTES:
        if plain.endswith(note):
            before = plain[: -len(note)].rstrip(" ")
            if before.endswith("heavy") and note[1] == "+":
                return before
            if before.endswith("light") and note[1] == "-":
                return before
    return plain


def _short(text: str) -> str:
    return text if len(text) <= 40 else text[:37] + "..."


def _not_a_reading(text: str, unit: str) -> LengthError:
    return LengthError(
        '"%s" is not a tape reading.' % _short(text), "Write it like %s." % _EXAMPLES[unit]
    )


def _scan(plain: str, text: str, unit: str) -> list[tuple[str, str]]:
    """Tokens (kind, text): number, /, ', ", +, - or a unit word's meaning."""
    if plain == "":
        raise LengthError("No length was given.", "Write it like %s." % _EXAMPLES[unit])
    tokens: list[tuple[str, str]] = []
    i = 0
    while i < len(plain):
        ch = plain[i]
        start = i
        if ch in _DIGITS or (ch in ".," and plain[i + 1 : i + 2] in tuple(_DIGITS)):
            while i < len(plain) and (plain[i] in _DIGITS or plain[i] in ".,"):
                i += 1
            tokens.append(("number", plain[start:i]))
        elif ch in _LETTERS:
            while i < len(plain) and plain[i] in _LETTERS:
                i += 1
            word = plain[start:i]
            if word not in _WORDS:
                raise LengthError(
                    '"%s" in "%s" is not a unit.' % (_short(word), _short(text)),
                    "Use in, ft, mm, cm or m, and heavy or light.",
                )
            tokens.append((_WORDS[word], word))
        elif ch in "/'\"+-":
            i += 1
            tokens.append(({"'": "ft", '"': "in"}.get(ch, ch), ch))
        elif ch == " ":
            i += 1
            tokens.append((" ", " "))
        elif ch == "." and tokens and tokens[-1][0] in _UNIT_MARKS:
            i += 1  # "75 in."
        else:
            raise _not_a_reading(text, unit)
    return tokens


_UNIT_MARKS = ("in", "ft", "mm", "cm", "m")


def _take_lean(
    tokens: list[tuple[str, str]], text: str, unit: str
) -> tuple[list[tuple[str, str]], int]:
    """Split off heavy/light (word, or a sign at the very end) as +1, -1 or 0."""
    words = [t for t in tokens if t[0] in "+-" and t[1] not in "+-"]
    kept = [t for t in tokens if t not in words and t[0] != " "]
    # Spaces only matter between whole and fraction, and a number next to a
    # number is refused by the parser anyway.
    if len(words) > 1:
        raise LengthError(
            '"%s" leans twice.' % _short(text), "Say heavy or light once, at the end."
        )
    sign = words[0][0] if words else ""
    if kept and kept[-1][0] in "+-":
        if sign:
            raise LengthError(
                '"%s" leans twice.' % _short(text), "Say heavy or light once, at the end."
            )
        sign = kept[-1][0]
        kept = kept[:-1]
    if not kept:
        raise _not_a_reading(text, unit)
    return kept, {"+": 1, "-": -1, "": 0}[sign]


def _parse(tokens: list[tuple[str, str]], text: str, unit: str) -> tuple[int, bool]:
    """(jots, whether the number was metric)."""
    kinds = [t[0] for t in tokens]
    if kinds[0] == "-":
        raise LengthError(
            '"%s" is less than nothing.' % _short(text), "Give a length of 0 or more."
        )
    if kinds[-1] in _METRIC or (unit in _METRIC and not ("in" in kinds or "ft" in kinds)):
        scale_unit = kinds[-1] if kinds[-1] in _METRIC else unit
        if kinds[-1] in _METRIC:
            kinds = kinds[:-1]
        if kinds != ["number"]:
            raise LengthError(
                '"%s" mixes fractions or units.' % _short(text),
                "Write a metric length as one number, like 1925.5 mm; for inches add in.",
            )
        num, den = _decimal(tokens[0][1], text, unit)
        return _nearest(num * _METRIC[scale_unit], den), True
    feet = 0
    if "ft" in kinds:
        at = kinds.index("ft")
        feet = _mixed(tokens[:at], JOTS_PER_FOOT, text, unit)
        tokens = tokens[at + 1 :]
        if tokens and tokens[0][0] == "-":
            tokens = tokens[1:]
        if not tokens:
            return feet, False
    if tokens[-1][0] == "in":
        tokens = tokens[:-1]
    return feet + _mixed(tokens, JOTS_PER_INCH, text, unit), False


def _mixed(tokens: list[tuple[str, str]], scale: int, text: str, unit: str) -> int:
    """A whole number, a decimal, a fraction or whole and fraction, times scale."""
    kinds = [t[0] for t in tokens]
    if kinds == ["number"]:
        num, den = _decimal(tokens[0][1], text, unit)
        return _nearest(num * scale, den)
    whole = 0
    if kinds == ["number", "number", "/", "number"]:
        whole, tokens = _whole(tokens[0][1], text, unit), tokens[1:]
    elif kinds == ["number", "-", "number", "/", "number"]:
        whole, tokens = _whole(tokens[0][1], text, unit), tokens[2:]
    elif kinds != ["number", "/", "number"]:
        raise _not_a_reading(text, unit)
    top, bottom = _whole(tokens[0][1], text, unit), _whole(tokens[2][1], text, unit)
    if bottom not in (2, 4, 8, 16, 32, 64):
        if bottom == 0:
            raise LengthError(
                '"%s" divides by nothing.' % _short(text), "Use halves to 64ths, like 3/4."
            )
        near = (2 * top * 64 + bottom) // (2 * bottom)
        raise LengthError(
            '"%s": a tape has no %d/%d.' % (_short(text), top, bottom),
            "Use halves to 64ths; the nearest is %s." % _fraction(near, 64),
        )
    if top >= bottom and whole:
        raise LengthError(
            '"%s": %d/%d is a whole inch or more.' % (_short(text), top, bottom),
            "Write the whole inches apart, like 75 3/4.",
        )
    return whole * scale + top * scale // bottom


def _whole(number: str, text: str, unit: str) -> int:
    if "." in number or "," in number:
        raise LengthError(
            '"%s" mixes a decimal and a fraction.' % _short(text),
            "Use one of them, like %s." % _EXAMPLES["in"],
        )
    if len(number) > _MOST_DIGITS:
        raise _too_long(text)
    return int(number)


def _decimal(number: str, text: str, unit: str) -> tuple[int, int]:
    """(numerator, denominator) of "75", "75.25" or "192,5"."""
    points = number.count(".") + number.count(",")
    if points == 0:
        return _whole(number, text, unit), 1
    whole, part = number.replace(",", ".").split(".")[:2]
    if points > 1 or ("," in number and len(part) == 3):
        raise LengthError(
            '"%s" could be read two ways.' % _short(text),
            "Write thousands without a comma and decimals with a point.",
        )
    if part == "":
        raise _not_a_reading(text, unit)
    # Nine places hold any jot in metres, so exact() always reads back.
    if len(whole) > _MOST_DIGITS or len(part) > _MOST_DIGITS:
        raise _too_long(text)
    return int((whole or "0") + part), 10 ** len(part)


def _too_long(text: str) -> LengthError:
    return LengthError(
        '"%s" has more than %d digits in a row.' % (_short(text), _MOST_DIGITS),
        "A tape reading has fewer; check it.",
    )


def _nearest(num: int, den: int) -> int:
    return (2 * num + den) // (2 * den)


def _fraction(num: int, den: int) -> str:
    """num/den in lowest terms of halves, with its whole part: 75-3/4."""
    whole, num = divmod(num, den)
    while num and num % 2 == 0:
        num //= 2
        den //= 2
    if not num:
        return str(whole)
    return ("%d-%d/%d" % (whole, num, den)) if whole else "%d/%d" % (num, den)


def reading(jots: int, unit: str) -> Reading:
    """How a length stands on a tape, with its unit, and in words.

    jots: a length; negative ones get a leading minus sign.
    unit: one of UNITS. "in" and "ft" round to 1/32 in: a sixteenth, or a
        sixteenth heavy or light (the simpler of the two); metric rounds to
        0.5 mm. So |shown - exact| is at most 1/64 in or 0.25 mm.
    Returns a Reading. Errors: none.
    """
    if jots < 0:
        pos = reading(-jots, unit)
        return Reading("-" + pos.text, pos.lean, "minus " + pos.say)
    if unit in _METRIC:
        return _metric_reading(jots, unit)
    n = _nearest(jots * 32, JOTS_PER_INCH)
    lean = 0
    if n % 2 and n > 1:
        lean = 1 if _coarseness(n - 1) <= _coarseness(n + 1) else -1
        n -= lean
    inches, part = divmod(n, 32)
    feet = 0
    if unit == "ft" and inches >= 12:
        feet, inches = divmod(inches, 12)
    text = _fraction(inches * 32 + part, 32) + '"'
    say = _say_inches(inches, part)
    if feet:
        text = "%d' %s" % (feet, text)
        say = words(feet) + (" foot " if feet == 1 else " feet ") + say
    if lean:
        note = 'heavy (+1/32")' if lean > 0 else 'light (-1/32")'
        spoken = "heavy" if lean > 0 else "light"
        return Reading(text, note, say + ", " + spoken + " by one thirty second")
    return Reading(text, "", say)


def _coarseness(n32: int) -> int:
    """1, 2, 4, 8 or 16: the denominator of n/32 of an inch (n even)."""
    den = 32
    while den > 1 and n32 % 2 == 0:
        n32 //= 2
        den //= 2
    return den


def _metric_reading(jots: int, unit: str) -> Reading:
    halves = _nearest(jots, LEAN_METRIC)  # in 0.5 mm
    tenths = halves * 5  # of a millimetre
    places = {"mm": 1, "cm": 2, "m": 4}[unit]
    whole, part = divmod(tenths, 10**places)
    digits = ("%0" + str(places) + "d") % part
    while digits.endswith("0"):
        digits = digits[:-1]
    name = UNIT_NAMES[unit]
    if whole == 1 and not digits:
        name = name[:-1]
    say = words(whole)
    if digits:
        say += " point " + " ".join([words(int(d)) for d in digits])
    text = str(whole) + ("." + digits if digits else "")
    return Reading(text + " " + unit, "", say + " " + name)


def show(jots: int, unit: str) -> str:
    """The reading as one line of text: '75-3/4" heavy (+1/32")'."""
    r = reading(jots, unit)
    return "%s %s" % (r.text, r.lean) if r.lean else str(r.text)


def exact(jots: int, unit: str) -> str:
    """Text that read() turns back into exactly `jots` (0 or more).

    unit: one of UNITS; a value that stands on 64ths (or, for metric units, on
        a decimal) is written in it, any other as decimal millimetres, which a
        jot always is (0.003125 mm).
    """
    if unit in _METRIC:
        return _exact_metric(jots, unit)
    if jots % (JOTS_PER_INCH // 64):
        return _exact_metric(jots, "mm")
    n = jots * 64 // JOTS_PER_INCH
    if unit == "ft" and n >= 12 * 64:
        return "%d' %s\"" % (n // (12 * 64), _fraction(n % (12 * 64), 64))
    return _fraction(n, 64) + '"'


def _exact_metric(jots: int, unit: str) -> str:
    places = {"mm": 6, "cm": 7, "m": 9}[unit]
    micro = jots * 3125  # millionths of a millimetre
    whole, part = divmod(micro, 10**places)
    digits = ("%0" + str(places) + "d") % part
    while digits.endswith("0"):
        digits = digits[:-1]
    return str(whole) + ("." + digits if digits else "") + " " + unit


def to_mm(jots: int) -> float:
    """Jots as the JSON number of files and API: millimetres."""
    return jots / JOTS_PER_MM


def from_mm(mm: float) -> int:
    """A JSON number of millimetres as jots, to the nearest; -x mm is as many jots below 0."""
    jots = int(abs(mm) * JOTS_PER_MM + 0.5)
    return -jots if mm < 0 else jots


def jots_of(value: object, unit: str) -> int:
    """A length of a file or a request: a text is a tape reading, a number millimetres.

    unit: one of UNITS, that of a bare number in a text. Returns jots, to the
    nearest; -1, which is out of every range, for a number that is below 0, not
    below 1e9, or not finite. Raises LengthError for a text that is no reading,
    and for what is neither a text nor a number.
    """
    if isinstance(value, str):
        return read(value, unit)
    if value is True or value is False or not isinstance(value, (int, float)):
        raise LengthError(
            "%s is not a length." % shown(value),
            "Give a tape reading like %s, or a number of millimetres." % _EXAMPLES[unit],
        )
    return from_mm(value) if 0 <= value < 1e9 else -1


def as_read(value: object, unit: str) -> object:
    """A length of a file (millimetres, or a tape reading) as it reads in `unit`.

    unit: one of UNITS, also that of a bare number in a text. A text that cannot
    be read, and anything but a text or a number from 0 to 1e9, is given back as
    it is, so that a person sees what stands there. Errors: none.
    """
    try:
        jots = jots_of(value, unit)
    except LengthError:
        return value
    return value if jots < 0 else show(jots, unit)


def usual(name: str, unit: str) -> str:
    """The name of a usual size ("19.2 in", "400 mm") for a person who works in `unit`.

    As it stands where it is of the same system; else as it reads in `unit`.
    A text that is no length is given back as it is. Errors: none.
    """
    inches = name.endswith(" in")
    if inches == (unit not in _METRIC) and (inches or name.endswith("mm")):
        return name
    return str(as_read(name, unit))


_ONES = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen "
    "fourteen fifteen sixteen seventeen eighteen nineteen"
).split(" ")
_TENS = "zero ten twenty thirty forty fifty sixty seventy eighty ninety".split(" ")
_PARTS = {
    2: ("half", "halves"),
    4: ("quarter", "quarters"),
    8: ("eighth", "eighths"),
    16: ("sixteenth", "sixteenths"),
    32: ("thirty second", "thirty seconds"),
}


def words(n: int) -> str:
    """A whole number from 0 to 999 999 in words, without hyphens."""
    if n < 20:
        return _ONES[n]
    if n < 100:
        return _TENS[n // 10] + (" " + _ONES[n % 10] if n % 10 else "")
    if n < 1000:
        return _ONES[n // 100] + " hundred" + (" " + words(n % 100) if n % 100 else "")
    return words(n // 1000) + " thousand" + (" " + words(n % 1000) if n % 1000 else "")


def _say_inches(whole: int, part: int) -> str:
    if not part:
        return words(whole) + (" inch" if whole == 1 else " inches")
    den = 32
    while part % 2 == 0:
        part //= 2
        den //= 2
    frac = words(part) + " " + _PARTS[den][0 if part == 1 else 1]
    if not whole:
        return frac + " of an inch"
    return words(whole) + " and " + frac + " inches"
