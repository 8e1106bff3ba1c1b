"""Money and counts as a person types them."""

MONEY_FIX = "Give an amount like 12.50 or 12,50, nothing before or after it."
_MOST_DIGITS = 12


def count_of(raw: object) -> int:
    """A whole number, typed or a JSON number; -1 where it is none."""
    if isinstance(raw, str):
        return _typed(raw.strip(" "), "")
    return raw if isinstance(raw, int) and raw is not True and raw is not False else -1


def money_of(raw: object) -> int:
    """An amount in hundredths, typed or a JSON number; -1 where it is none.

    A point or comma followed by one or two digits is the decimal point; "1,234" could be a
    thousand or a little over one, so it is none.
    """
    if isinstance(raw, (int, float)) and raw is not True and raw is not False:
        if not -1 < raw < 10**_MOST_DIGITS:  # nor is what is not finite
            return -1
        n = int(raw * 100 + 0.5)
        return n if -1e-4 < raw * 100 - n < 1e-4 else -1
    if not isinstance(raw, str):
        return -1
    halves = raw.strip(" ").replace(",", ".").split(".")
    if len(halves) == 1:
        return _typed(halves[0], "00")
    if len(halves) != 2 or not 1 <= len(halves[1]) <= 2:
        return -1
    return _typed(halves[0], (halves[1] + "0")[:2])


def _typed(whole: str, part: str) -> int:
    # Not str.isdigit: CPython's also takes digits of other scripts.
    if not whole or len(whole) > _MOST_DIGITS:
        return -1
    if [1 for ch in whole + part if ch not in "0123456789"]:
        return -1
    return int(whole + part)
