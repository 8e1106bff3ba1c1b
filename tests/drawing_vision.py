"""Greyscale distance of fills as people with other colour vision, or none, see them.

Dichromats: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A
physiologically-based model for simulation of color vision deficiency", IEEE
TVCG 15(6), 2009, the matrices of severity 1.0 (from memory; each row must sum
to 1, since white stays white, and the tests check it). They act on linear RGB.
Achromatopsia and grey: the luminance of ITU-R BT.709. Transfer curve and
contrast: IEC 61966-2-1 and WCAG 2.2.
"""

import math

NONE = ((1, 0, 0), (0, 1, 0), (0, 0, 1))
LUMINANCE = (0.2126, 0.7152, 0.0722)
SIGHTS = {
    "none": NONE,
    "achromatopsia": (LUMINANCE, LUMINANCE, LUMINANCE),
    "protanopia": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deuteranopia": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritanopia": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}


def linear(byte):
    v = byte / 255
    return v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4


def encoded(v):
    v = min(max(v, 0), 1)
    return v * 12.92 if v <= 0.0031308 else 1.055 * v ** (1 / 2.4) - 0.055


def grey(rgb, sight):
    """The grey, 0 to 1, of an sRGB colour of bytes as that sight has it."""
    light = [linear(v) for v in rgb]
    seen = [
        min(max(sum(m * v for m, v in zip(row, light, strict=True)), 0), 1) for row in SIGHTS[sight]
    ]
    return encoded(sum(w * v for w, v in zip(LUMINANCE, seen, strict=True)))


def greys(picture, sight):
    """Rows of grey of a Pillow picture."""
    known = {}
    wide, high = picture.size
    rows = []
    for y in range(high):
        row = []
        for x in range(wide):
            rgb = picture.getpixel((x, y))[:3]
            if rgb not in known:
                known[rgb] = grey(rgb, sight)
            row.append(known[rgb])
        rows.append(row)
    return rows


def least_rms(one, other, size, shifts):
    """The least root mean square of the difference of two patches of `size` square,
    over shifts of the second: patterns may fall on each other in any place."""
    least = math.inf
    for dy in shifts:
        for dx in shifts:
            total = sum(
                (one[y][x] - other[y + dy][x + dx]) ** 2 for y in range(size) for x in range(size)
            )
            least = min(least, math.sqrt(total / size**2))
    return least


def contrast(one, other):
    """The contrast of two "#rrggbb", 1 to 21 (WCAG 2.2)."""
    light = []
    for colour in (one, other):
        rgb = [int(colour[i : i + 2], 16) for i in (1, 3, 5)]
        light.append(sum(w * linear(v) for w, v in zip(LUMINANCE, rgb, strict=True)))
    return (max(light) + 0.05) / (min(light) + 0.05)
