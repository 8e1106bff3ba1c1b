"""Chance that is the same on both interpreters."""


class Random:
    """A small generator of our own.

    Linear congruential, modulus 2^31, multiplier and increment from memory of
    the C standard's example; the high bits are used.
    """

    def __init__(self, seed: int) -> None:
        self._x = (seed * 2654435 + 12345) % 2147483648

    def below(self, n: int) -> int:
        """A whole number from 0 to n - 1, n from 1 to 32768."""
        self._x = (self._x * 1103515245 + 12345) % 2147483648
        return (self._x >> 16) * n >> 15


def logarithm(x: float) -> float:
    """The natural logarithm of x in (0, 1], by + - * / alone. Source: series of atanh."""
    halves = 0
    while x < 0.5:
        x *= 2.0
        halves += 1
    y = (x - 1.0) / (x + 1.0)
    term, total = y, 0.0
    for k in range(1, 40, 2):
        total += term / k
        term *= y * y
    return 2.0 * total - halves * 0.6931471805599453


WAITS = [-logarithm((k + 0.5) / 512) for k in range(512)]  # exponential, by its quantiles
