"""What a camera sees: our QR drawn from the SVG, or from a terminal's letters, and decoded."""

import re

import zxingcpp
from PIL import Image

_SCALE = 6


def decode(svg):
    """(text, level) of the QR in an SVG: runs of modules as strokes of width 1."""
    size = int(re.search(r'viewBox="0 0 (\d+) \1"', svg)[1])
    ink = re.search(r'<path stroke="(#\w+)" d="([^"]+)"/>', svg)
    light = re.search(r'<path fill="(#\w+)" d="M0 0h(\d+)v\2h-\2z"/>', svg)
    assert int(light[2]) == size
    image = Image.new("RGB", (size, size), light[1])
    x = y = 0.0
    for letter, args in re.findall(r"([Mmh])([-\d. ]+)", ink[2]):
        numbers = [float(n) for n in args.split()]
        if letter == "h":
            for i in range(int(numbers[0])):
                image.putpixel((int(x) + i, int(y)), _rgb(ink[1]))
            x += numbers[0]
        elif letter == "M":
            x, y = numbers
        else:
            x, y = x + numbers[0], y + numbers[1]
    return _read(image), _margin(image)


def decode_terminal(text):
    """(text, level) of a QR printed in half blocks, light letters on a dark terminal."""
    lines = [line for line in text.split("\n") if line]
    image = Image.new("RGB", (len(lines[0]), 2 * len(lines)), "black")
    for y, line in enumerate(lines):
        for x, ch in enumerate(line):
            if ch in "█▀":
                image.putpixel((x, 2 * y), (255, 255, 255))
            if ch in "█▄":
                image.putpixel((x, 2 * y + 1), (255, 255, 255))
    return _read(image)


def _rgb(colour):
    return tuple(int(colour[i : i + 2], 16) for i in (1, 3, 5))


def _read(image):
    large = image.resize((image.width * _SCALE, image.height * _SCALE), Image.Resampling.NEAREST)
    found = zxingcpp.read_barcodes(large)
    assert len(found) == 1
    return found[0].text, found[0].ec_level


def _margin(image):
    """Modules of light on the narrowest side."""
    light = image.getpixel((0, 0))
    ink = [
        (x, y)
        for x in range(image.width)
        for y in range(image.height)
        if image.getpixel((x, y)) != light
    ]
    xs, ys = [p[0] for p in ink], [p[1] for p in ink]
    return min(min(xs), min(ys), image.width - 1 - max(xs), image.height - 1 - max(ys))
