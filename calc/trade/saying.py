"""Decimal numbers for a voice."""

from ..lengths import words
from ..measures import decimal


def said(value: float, places: int, one: str, many: str) -> str:
    """A number from 0 to 999 999 with at most so many decimals, in words: "two point five hours".

    one, many: what it is a number of. Errors: none.
    """
    halves = decimal(value, places).split(".")
    out = words(int(halves[0]))
    if len(halves) > 1:
        out += " point " + " ".join([words(int(ch)) for ch in halves[1]])
    return out + " " + (one if halves == ["1"] else many)
