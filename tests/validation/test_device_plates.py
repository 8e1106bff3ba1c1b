"""Device plates and screws.

Source: NEMA WD 6 / OS 1: plates 4-1/2 in high and 2-3/4 + 1-13/16 (n - 1) in
wide, each within 1/16 in; device screws 3-9/32 in centre to centre. BS 4662
and national tables: 60.3 and 120.6 mm; 60 mm at 71 mm pitch, 68 mm hole; 84 mm.
Trust: published.
"""

from fractions import Fraction

import pytest

from calc.boxes import PLATE_HEIGHT, gang_size, screw_span, standard, us_plate
from tests.quick.gen import ask

INCH = 8128
MM = 320


@pytest.mark.parametrize(
    ("gangs", "inches"),
    [(1, "11/4"), (2, "73/16"), (3, "51/8"), (4, "131/16"), (5, "10")],
)
def test_us_plates(gangs, inches):
    """2-3/4, 4-9/16, 6-3/8, 8-3/16 and 10 in as printed."""
    width, height = us_plate(gangs)
    assert width == Fraction(inches) * INCH
    assert height == PLATE_HEIGHT == Fraction(9, 2) * INCH


@pytest.mark.parametrize("gangs", range(1, 7))
def test_us_device_screws(gangs):
    """3-9/32 in one above the other, however many gangs."""
    assert screw_span(standard("us"), gangs) == Fraction(105, 32) * INCH


@pytest.mark.parametrize(
    ("key", "gangs", "mm"),
    [
        ("uk", 1, Fraction("60.3")),
        ("uk", 2, Fraction("120.6")),
        ("eu", 1, 60),
        ("eu", 2, 131),
        ("au", 1, 84),
        ("au", 2, 84),
    ],
)
def test_metric_screws(key, gangs, mm):
    """60.3 and 120.6; 60 and 60 + 71; 84 whatever the gangs."""
    assert screw_span(standard(key), gangs) == mm * MM


@pytest.mark.parametrize(
    ("gangs", "plate"),
    [("1", '2-3/4" wide'), ("2", '4-9/16" wide'), ("3", '6-3/8" wide'), ("4", '8-3/16" wide')],
)
def test_box_extension_takes_them(gangs, plate):
    rows = dict(ask("box-extension", thickness="3/4", gangs=gangs)["answer"]["rows"])
    assert rows["Plate"] == plate + ', 4-1/2" high'


@pytest.mark.parametrize(
    ("key", "mm", "warns"),
    [("uk", "63.2", False), ("uk", "60", True), ("eu", "60", False), ("eu", "59", True)],
)
def test_a_box_narrower_than_its_screws_is_named(key, mm, warns):
    """BS 4662: 60.3 mm; continental 60 mm."""
    given = {"thickness": "19", "standard": key, "width": mm, "height": "70", "gangs": "1"}
    warnings = ask("box-extension", "mm", **given)["answer"]["warnings"]
    assert any("less than their centres" in w for w in warnings) == warns


def test_us_gangs_stand_so_far_apart():
    """NEMA WD 6 / OS 1: 1-13/16 in from gang to gang, in screws and in plates alike."""
    assert standard("us").pitch == Fraction(29, 16) * INCH
    for gangs in range(1, 6):
        assert us_plate(gangs + 1)[0] - us_plate(gangs)[0] == Fraction(29, 16) * INCH


def test_a_larger_plate_is_an_entry():
    """Larger plates are not standardised: 2-1/4 + 2 x 1/16 = 2-3/8; (3-1/2 - 2-3/8) / 2 = 9/16."""
    box = {"bottom": "3", "top": "6 3/4", "left": "20", "right": "22 1/4", "face": "5 1/8"}
    more = {"edge": "square", "plate_width": "3 1/2", "plate_height": "5 1/4", "clearance": "1/16"}
    answer = ask("box-notch", thickness="3/4", **box, **more)["answer"]
    assert answer["values"]["plate sides"] == Fraction(9, 16) * INCH
    assert dict(answer["rows"])["Plate"] == '3-1/2" wide, 5-1/4" high'


def test_a_continental_hole_is_68_mm():
    """National tables: one hole of 68 mm, each gang 71 mm on: 68 + 71 = 139."""
    assert gang_size("eu", 1) == (68 * MM, 68 * MM)
    assert gang_size("eu", 2) == (139 * MM, 68 * MM)
