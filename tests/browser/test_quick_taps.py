"""Every quick calculator on the phone: what must be keyed before it answers, and in how many taps.

`python -m pytest tests/browser/test_quick_taps.py -s` prints the list.
"""

import pytest
from playwright.sync_api import expect

from calc.quick import NAMES
from tests.browser.conftest import serving
from tests.browser.hands import field, open_page

MOST = 8  # entries before an answer
# Calculator -> (label of the field, keys), in the order of the tape.
ENTRIES = {
    "remaining-run": [("Run, corner to corner", "192"), ("Boards already up", "96")],
    "box-notch": [
        ("Box, lower edge", "3"),
        ("Box, upper edge", ["6", "3/4"]),
        ("Box, left edge", "20"),
        ("Box, right edge", ["2", "2", "1/4"]),
        ("Course height", ["5", "1/8"]),
        ("Board height overall", ["5", "3/8"]),
    ],
    "stud-marks": [("Wall, corner to corner", "160"), ("First mark, centre", "16")],
    "jamb-extension": [
        ("Depth, top left", ["3/4"]),
        ("Depth, top right", ["3/4"]),
        ("Depth, bottom left", ["7/8"]),
        ("Depth, bottom right", ["3/4"]),
    ],
    "casing": [("Opening, width", "34"), ("Opening, height", "50")],
    "mitre": [("Corner", "92")],
    "level-taper": [("Gap at its end", ["1/4"]), ("Wall's height or width", "96")],
    "square-check": [
        ("Width, at the foot", "48"),
        ("Height, up the side", "36"),
        ("Diagonal, up to the right", "60"),
    ],
    "rake": [("Course height", ["5", "1/8"]), ("Rise", "4")],
    "tape-error": [("Each piece is", "48"), ("Pieces in a row", "12")],
    "board-estimate": [
        ("Wall width", "150"),
        ("Wall height", "96"),
        ("Board face", ["5", "1/8"]),
        ("Board length", "144"),
    ],
    "wood-movement": [("Face, one course", ["5", "1/8"]), ("Boards' moisture now", "8")],
    "room-moisture": [("Room's temperature", "70"), ("Humidity now", "45")],
    "nails": [("Board thickness", ["3/4"])],
    "nail-hold": [("Length in the stud", "1")],
    "box-extension": [("Board thickness", ["3/4"])],
    "paint": [("Widths of the walls", "150"), ("Height", "96")],
    "finish-hours": [("Boards", "24")],
}


def test_every_calculator_is_tried():
    assert sorted(ENTRIES) == sorted(NAMES)


def _open(page, label):
    """Tap the field, or the button that adds to a list of readings."""
    listed = page.locator(".many", has=page.locator(".name", has_text=label)).locator(".add")
    if listed.count():
        listed.first.tap()
    else:
        field(page, label).tap()


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    with serving(tmp_path_factory.mktemp("taps")) as server:
        yield server.address


@pytest.mark.parametrize("name", NAMES)
def test_few_taps_lead_to_an_answer(phone, address, name):
    phone = open_page(phone.new_page(), address, f"#/quick/{name}")
    expect(phone.locator("section.fields h2")).to_be_visible()
    answer = phone.locator("output.answer").first
    taps = 0
    for label, keys in ENTRIES[name]:
        sheet = phone.locator(".sheet-bar h2")
        if not sheet.count() or not sheet.inner_text().startswith(label):
            if sheet.count():
                phone.locator('[data-key="done"]').tap()
                taps += 1
            _open(phone, label)
            taps += 1
        expect(phone.locator(".sheet-bar h2")).to_contain_text(label)
        before = ""
        for k in keys:
            if k == before:
                phone.wait_for_timeout(90)  # sooner than 60 ms is a bounce, and types once
            phone.locator(f'.sheet [data-key="{k}"]').tap()
            before = k
        last = label == ENTRIES[name][-1][0]
        phone.locator('[data-key="done"]' if last else '[data-key="ok"]').tap()
        taps += len(keys) + 1
        if not last:
            expect(phone.locator(".sheet-bar h2")).not_to_have_text(label)
    expect(phone.locator(".sheet")).to_have_count(0)
    expect(answer).to_be_visible()
    assert any(ch.isdigit() for ch in answer.inner_text())
    entries = len(ENTRIES[name])
    print(f"{name}: {entries} entries, {taps} taps, {answer.inner_text()}")
    assert entries <= MOST
