"""Every screen at a small phone's sizes: thumbs reach, eyes read, nothing runs off the side.

Acceptance 1, 2, 4, 5, 6 and 7. The pictures go to the folder named by
LAPWRIGHT_SHOTS, where one is given, for a person to look at.
"""

import os
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.hands import (
    field,
    key,
    open_page,
    opened,
    start_job,
    survey_wall,
    tab,
    unfold,
)
from tests.browser.measure import controls, faint, sideways, too_near, too_small
from tests.browser.rooms import room

READINGS = {
    "remaining-run": {"run": '192" heavy', "up": ['96"'], "stock": '48"', "spacing": '16"'},
    "box-notch": {
        "bottom": '3"',
        "top": '6-3/4"',
        "left": '20"',
        "right": '22"',
        "face": '5-1/8"',
        "overall": '5-3/8"',
    },
    "stud-marks": {"width": '160"', "first": '16"', "ceiling": '16-1/4"', "height": '96"'},
    "jamb-extension": {
        "top_left": '3/4"',
        "top_right": '13/16"',
        "bottom_left": '7/8"',
        "bottom_right": '3/4"',
        "width": '36"',
        "height": '48"',
    },
}
SIZES = {"360x640": (360, 640), "320x568": (320, 568)}
# A job's screens also lying down, and with text of twice the size: width, height, text %.
VIEWS = {
    "360x640": (360, 640, 100),
    "320x568": (320, 568, 100),
    "640x360": (640, 360, 100),
    "double-text": (360, 640, 200),
}


def held_like(page, view):
    """Turn the page to that view."""
    width, height, text = VIEWS[view]
    page.set_viewport_size({"width": width, "height": height})
    page.evaluate("(size) => { document.documentElement.style.fontSize = size; }", f"{text}%")


def look(page, name, size):
    """Check what is on the screen; keep its picture where one is wanted."""
    folder = os.environ.get("LAPWRIGHT_SHOTS")
    if folder:
        Path(folder).mkdir(parents=True, exist_ok=True)
        page.screenshot(path=f"{folder}/{name}-{size}.png")
        page.screenshot(path=f"{folder}/{name}-{size}-full.png", full_page=True)
    found = controls(page)
    assert found
    assert too_small(found) == [], name
    assert too_near(found) == [], name
    assert faint(page) == [], name
    assert sideways(page) <= 0, name


@pytest.mark.parametrize("size", SIZES)
def test_quick(phone, live, size):
    page = open_page(phone.new_page(), live.address)
    page.set_viewport_size(dict(zip(("width", "height"), SIZES[size], strict=True)))
    look(page, "quick", size)
    for name in READINGS:
        page.goto(f"{live.address}/p#/quick/{name}")
        expect(page.locator(".fields .field").first).to_be_visible()
        look(page, f"{name}-empty", size)
    for name, values in READINGS.items():
        page.evaluate(
            "([name, v]) => localStorage.setItem('lapwright.quick.' + name, JSON.stringify(v))",
            [name, {"values": values, "undo": []}],
        )
        page.goto(f"{live.address}/p#/quick/{name}")
        expect(page.locator(".result .answer")).to_be_visible()
        look(page, name, size)


@pytest.mark.parametrize("size", VIEWS)
def test_job(phone, live, size):
    page = open_page(phone.new_page(), live.address, "#/jobs")
    held_like(page, size)
    expect(page.get_by_role("button", name="Start a job")).to_be_visible()
    look(page, "jobs", size)
    start_job(page)
    look(page, "survey-empty", size)
    survey_wall(page)
    look(page, "survey", size)
    field(page, "Height").tap()
    key(page, "9", "6", "3/4", "+1/16", "heavy")
    expect(page.locator(".sheet .answer")).to_be_visible()
    look(page, "pad-in", size)
    key(page, "deck", "1", "9", "2", "5")
    expect(page.locator(".sheet .answer")).to_be_visible()
    look(page, "pad-mm", size)
    key(page, *["back"] * 4, "done")
    tab(page, "Layout")
    expect(page.locator(".drawing svg")).to_be_visible()
    look(page, "layout", size)
    page.get_by_role("button", name="Whole wall").tap()
    look(page, "layout-whole", size)
    page.locator("select.pieces").select_option("3A")
    expect(page.locator(".piece-card .answer")).to_be_visible()
    look(page, "card", size)
    page.get_by_role("button", name="Call its length").tap()
    expect(page.get_by_role("button", name="Key the length")).to_be_enabled()
    look(page, "call", size)
    page.get_by_role("button", name="Close").tap()
    page.get_by_role("button", name="Compare the ways to divide").tap()
    expect(page.locator(".way-card").first).to_be_visible()
    look(page, "compare", size)
    tab(page, "Saw")
    expect(page.locator(".board")).to_be_visible()
    look(page, "saw", size)
    tab(page, "Survey")
    page.get_by_role("link", name="Share").tap()
    expect(page.locator("img.qr")).to_be_visible()
    look(page, "share", size)


@pytest.mark.parametrize("size", VIEWS)
def test_a_house_with_openings(phone, live, size):
    page = phone.new_page()
    held = opened(page, live.address, room())
    held_like(page, size)
    expect(page.locator(".needs")).to_contain_text("The other walls are planned.")
    unfold(page, "Window 1")
    look(page, "survey-opening", size)
    page.goto(f"{live.address}/p#/job/{held}/layout/2")
    expect(page.locator(".table table").first).to_be_visible()
    look(page, "layout-gable", size)
    page.goto(f"{live.address}/p#/job/{held}/print")
    expect(page.get_by_role("button", name="Print", exact=True)).to_be_enabled()
    look(page, "print", size)
    page.goto(f"{live.address}/p#/jobs")
    wrong = {"name": "wrong.json", "mimeType": "application/json", "buffer": b'{"colour": "blue"}'}
    page.locator("#job-file").set_input_files([wrong])
    expect(page.locator(".refused")).to_be_visible()
    look(page, "file-refused", size)


def test_text_of_twice_the_size_keeps_entry_answer_and_controls(phone, live):
    page = open_page(phone.new_page(), live.address, "#/quick/remaining-run")
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    look(page, "double-text", "360x640")
    field(page, "Run, corner to corner").tap()
    key(page, "1", "0", "5", "3/4", "+1/16", "heavy")
    expect(page.locator(".sheet .answer")).to_be_in_viewport(ratio=0.99)
    expect(page.locator(".sheet .entry")).to_be_in_viewport(ratio=0.99)
    look(page, "double-text-pad", "360x640")
