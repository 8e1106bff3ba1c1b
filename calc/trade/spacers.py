"""What is held between two courses while the upper one is nailed: how it is called."""

from ..lengths import JOTS_PER_INCH, reading, show, words

_PARTS = {2: "half", 4: "quarter", 8: "eighth", 16: "sixteenth", 32: "thirty-second"}


def spacer_text(jots: int, unit: str) -> str:
    """A spacer as the fraction that it is, 3/32", which a tape would read as 1/8" light."""
    if unit not in ("in", "ft"):
        return show(jots, unit)
    whole, part, of = _mixed(jots)
    if not part:
        return '%d"' % whole
    return '%s%d/%d"' % ("%d-" % whole if whole else "", part, of)


def spacer_say(jots: int, unit: str) -> str:
    """The same in words, for a voice."""
    if unit not in ("in", "ft"):
        metric: str = reading(jots, unit).say
        return metric
    whole, part, of = _mixed(jots)
    said = [words(whole)] if whole or not part else []
    if part:
        said.append("%s %s%s" % (words(part), _PARTS[of], "" if part == 1 else "s"))
    return " and ".join(said) + (" inch" if whole + part == 1 else " inches")


def _mixed(jots: int) -> tuple[int, int, int]:
    """Whole inches, and the rest in lowest terms; jots: whole thirty-seconds of an inch."""
    whole, part = divmod(jots * 32 // JOTS_PER_INCH, 32)
    of = 32
    while part and part % 2 == 0:
        part, of = part // 2, of // 2
    return whole, part, of
