"""How far a tape and its reader may be out, and how that adds up. Lengths are jots."""

from math import sqrt

from ..lengths import JOTS_PER_MM

# class: (a, b), tenths of a millimetre: the limit of error is a + b for each metre, the length
# rounded up to a whole metre. Source: Directive 2014/32/EU, annex X (MI-008).
CLASSES = {"I": (1, 1), "II": (3, 2), "III": (6, 4)}
DIRECTIVE = "Directive 2014/32/EU, annex X (MI-008)"
_TENTH = JOTS_PER_MM // 10
_METRE = 1000 * JOTS_PER_MM


def metres(length: int) -> int:
    """The metres that a length counts as: up to a whole one. length: jots over 0. Errors: none."""
    return -(-length // _METRE)


def limit(grade: str, length: int) -> int:
    """The most that a tape of that class may be out over a length, jots.

    grade: a key of CLASSES; length: jots over 0. Raises KeyError for another grade.
    Source: Directive 2014/32/EU, annex X (MI-008).
    """
    a, b = CLASSES[grade]
    return (a + b * metres(length)) * _TENTH


def rounding(mark: int) -> float:
    """The most that reading to the nearest mark loses: half of it, jots. Source: arithmetic."""
    return mark / 2


def chained(n: int, tape: int, read: float) -> float:
    """Worst case of n pieces, each measured from the last one: n x (tape + reading), jots."""
    return n * (tape + read)


def likely(n: int, tape: int, read: float) -> float:
    """The likely error of the same: the root of the sum of the squares, jots.

    As if each error had nothing to do with the others; one tape's own error is the same each
    time, see same_tape. Errors: none. Source: common practice of tolerances.
    """
    return sqrt(n * (tape * tape + read * read))


def same_tape(n: int, tape: int, read: float) -> float:
    """The likely error where one tape errs alike each time: n x tape + root n x reading, jots."""
    return n * tape + sqrt(n) * read


def from_datum(tape: int, read: float) -> float:
    """Worst case of any mark read from one datum; tape: its limit over the whole length."""
    return tape + read
