"""What a drawing is drawn with: sizes of words and lines, inks and patterns.

Two sheets: the screen, in tenths of a CSS pixel, and paper, in hundredths of a
millimetre. Line widths on paper are of the series 0.18, 0.25, 0.35, 0.5, 0.7 mm
and letters there are 2.5 mm high (ISO 128-2 and ISO 3098-1, from memory): a
capital is about 0.72 of the size of the type, so the type is 3.5 mm.
"""

from collections import namedtuple

# per_unit: sheet units in a CSS pixel or a millimetre; text: size of the type;
# hair, thin, line, bold, heavy: widths of lines, thinnest first;
# step: the distance of lines in a pattern; gap: room between words and lines
Style = namedtuple("Style", "name per_unit text hair thin line bold heavy step gap")

SCREEN = Style("s", 10, 150, 10, 10, 15, 20, 40, 70, 50)
PAPER = Style("p", 100, 350, 18, 25, 35, 50, 70, 160, 110)

INK = "#13283b"
CHALK = "#174a75"
WHITE = "#ffffff"
TINT = "#b9cbdc"  # the openings' tone: its grey stands 0.2 from white

# Dashes in steps of a pattern's distance: (on, off, ...) in tenths of it.
STUD_DASH = (12, 5, 2, 5)
LEVEL_DASH = (24, 6)


def dash(style: Style, of: tuple[int, ...]) -> str:
    """The attribute of a dashed line."""
    return ' stroke-dasharray="%s"' % " ".join([str(n * style.step // 10) for n in of])


def patterns(style: Style, key: str) -> str:
    """The patterns' definitions; `key` keeps drawings on one page apart.

    rip: slanting lines; box: a chequer; block: crosses far apart.
    """
    s = style.step
    half = s // 2
    head = '<pattern id="%s%s" width="%d" height="%d" patternUnits="userSpaceOnUse"%s>'
    return (
        "<defs>"
        + head % (key, "rip", s, s, ' patternTransform="rotate(45)"')
        + '<path d="M0 0V%d" stroke="%s" stroke-width="%d"/></pattern>' % (s, CHALK, 2 * style.line)
        + head % (key, "box", half, half, "")
        + '<rect width="%d" height="%d" fill="%s"/>' % (half, half, WHITE)
        + '<path d="M0 0h%dv%dh%dv%dh-%dz" fill="%s"/></pattern>'
        % (half // 2, half // 2, half - half // 2, half - half // 2, half - half // 2, INK)
        + head % (key, "block", s, s, "")
        + '<path d="M%d %dh%dM%d %dv%d" stroke="%s" stroke-width="%d"/></pattern>'
        % (s // 5, half, s - 2 * (s // 5), half, s // 5, s - 2 * (s // 5), INK, style.line)
        + "</defs>"
    )
