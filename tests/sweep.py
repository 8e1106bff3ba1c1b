"""Every tape length a job can meet, through reading, storing and showing.

Both engines run the same hops: the typed text is read and switched through
all units and back, by the bridge's "show". A stored length is the exact text
in a unit, so one round that ends on the text it began with is every further
round too: 100 switches are 20 of them.

What is expected comes from fractions of an inch (1 in = 25.4 mm: NBS Circular
572 addendum), not from calc.
"""

import re
from fractions import Fraction as F

JOTS = 8128  # to the inch, by the definition in DEVELOPERS.md
MM = F(10, 254)  # in inches
ROUND = {"in": ("ft", "mm", "cm", "m", "in"), "mm": ("m", "in", "ft", "cm", "mm")}
BATCH = 500
# How far a shown length may lie from the exact one: half the finest step shown
# (1/32 in, 0.5 mm). Rounding to 1/n errs by at most 1/(2n): arithmetic.
CLOSE = {"in": F(1, 64), "ft": F(1, 64), "mm": MM / 4, "cm": MM / 4, "m": MM / 4}


def typed():
    """unit -> list of (text as typed, inches): each 1/32 in to 240 in, each 0.5 mm to 6 m."""
    inches = []
    for n in range(240 * 32 + 1):
        whole, part = divmod(n, 32)
        f = F(part, 32)
        parts = [str(whole)] if whole or not part else []
        if part:
            parts.append(f"{f.numerator}/{f.denominator}")
        inches.append((" ".join(parts), F(n, 32)))
    half_mm = [(f"{n // 2}.5" if n % 2 else str(n // 2), n * MM / 2) for n in range(2 * 6000 + 1)]
    return {"in": inches, "mm": half_mm}


def hop(texts, unit, to):
    """The bridge requests that switch the texts from one unit to another."""
    return [
        {"do": "show", "texts": texts[i : i + BATCH], "unit": unit, "to": to}
        for i in range(0, len(texts), BATCH)
    ]


def round_trip(ask, unit, pairs):
    """Take the (text, inches) pairs once round all units; ask(requests) -> answers.

    Returns the lines that say what went wrong, none if nothing did.
    """
    wrong = []
    texts = [text for text, _ in pairs]
    ends = []
    for to in (unit, *ROUND[unit]):
        said = [one for answer in ask(hop(texts, unit, to)) for one in answer["lengths"]]
        assert len(said) == len(pairs)
        for (text, inches), one in zip(pairs, said, strict=True):
            wrong += [f"{text} {unit} -> {to}: {what}" for what in faults(one, inches, to)]
        texts, unit = [one["exact"] for one in said], to
        ends.append(texts)
    if ends[0] != ends[-1]:
        wrong.append(f"after a round the texts in {unit} are not what they were")
    return wrong


def hundred_switches(ask):
    """Every 211th inch length through 100 switches of unit; the lines that say what changed."""
    pairs = typed()["in"][::211]
    texts, unit = [text for text, _ in pairs], "in"
    for n in range(100):
        to = ROUND["in"][n % 5]
        said = [one for answer in ask(hop(texts, unit, to)) for one in answer["lengths"]]
        texts, unit = [one["exact"] for one in said], to
    return [
        f"{text} in became {one['jots']} jots"
        for (text, inches), one in zip(pairs, said, strict=True)
        if one["jots"] != inches * JOTS or in_inches(one["exact"]) != inches
    ]


def faults(one, inches, unit):
    """What is wrong with one answer for a length of so many inches."""
    if one["jots"] != inches * JOTS:
        yield f"{one['jots']} jots instead of {inches * JOTS}"
    if in_inches(one["exact"]) != inches:
        yield f"{one['exact']!r} is not exact"
    if abs(in_inches(one["text"]) + leaning(one["lean"]) - inches) > CLOSE[unit]:
        yield f"{one['text']!r} {one['lean']!r} is too far off"


def in_inches(text):
    """A shown length in inches, read here by fractions alone."""
    metric = re.fullmatch(r"(\d+(?:\.\d+)?) (mm|cm|m)", text)
    if metric:
        return F(metric[1]) * MM * {"mm": 1, "cm": 10, "m": 1000}[metric[2]]
    tape = re.fullmatch(r"""(?:(\d+)' )?(?:(\d+)(?:-(\d+/\d+))?|(\d+/\d+))\"""", text)
    assert tape, text
    feet, whole, beside, alone = tape.groups()
    return 12 * F(feet or 0) + F(whole or 0) + F(beside or alone or 0)


def leaning(lean):
    """What a heavy or light says it is worth, in inches."""
    if lean == "":
        return F(0)
    note = re.fullmatch(r"""(heavy|light) \(([+-])1/32"\)""", lean)
    assert note and (note[1] == "heavy") == (note[2] == "+"), lean
    return F(1, 32) if note[2] == "+" else F(-1, 32)
