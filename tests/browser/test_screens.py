"""Every screen at a small phone's sizes: thumbs reach, eyes read, nothing runs off the side.

The least sizes, distances and contrasts are in measure.py. The pictures go to the
folder named by LAPWRIGHT_SHOTS, where one is given, for a person to look at.
"""

import os
from pathlib import Path

import pytest
from playwright.sync_api import expect

from calc.quick import NAMES
from tests.browser.conftest import serving
from tests.browser.hands import (
    LONG,
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
from tests.browser.rooms import kitchen, room

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
    "casing": {"width": '34"', "height": '50"', "space": '2"'},
    "mitre": {"corner": "90 °", "rise": '4"'},
    "level-taper": {"off": '3/8"', "level": '32"', "run": '96"'},
    "square-check": {"width": '36"', "height": '48"', "one": '60-1/16"', "two": '59-7/8"'},
    "rake": {"face": '5-1/8"', "rise": '4"', "width": '150"'},
    "tape-error": {"length": '48" heavy', "pieces": "12"},
    "board-estimate": {
        "width": '150"',
        "height": '96"',
        "face": '5-1/8"',
        "board": '144"',
        "openings": ['34"', '50"'],
        "nominal": '6"',
    },
    "wood-movement": {
        "species": "white-fir",
        "width": '8"',
        "lap": '1/2"',
        "moisture": "16 %",
        "driest": "6 %",
        "dampest": "11 %",
        "length": '144"',
    },
    "room-moisture": {
        "temperature": "70 °F",
        "humidity": "45 %",
        "other": "75 %",
        "moisture": "16 %",
    },
    "nails": {"thickness": '3/4"', "made": "mdf", "length": '3"'},
    "nail-hold": {"depth": '1"', "nails": "4"},
    "box-extension": {"thickness": '3/4"', "gangs": "3", "clearance": '3/16"'},
    "paint": {"widths": ['164-1/2"', '118"'], "height": '96"', "openings": "20 sq ft"},
    "finish-hours": {"boards": "40"},
}
# Upright, small, lying down, and with text of twice the size: width, height, text %.
VIEWS = {
    "360x640": (360, 640, 100),
    "320x568": (320, 568, 100),
    "640x360": (640, 360, 100),
    "double-text": (360, 640, 200),
}


@pytest.fixture(scope="module")
def shown(tmp_path_factory):
    """The address of a server for all looks at a calculator, which keeps nothing there."""
    with serving(tmp_path_factory.mktemp("looks")) as server:
        yield server.address


def held_like(page, view):
    """Turn the page to that view."""
    width, height, text = VIEWS[view]
    page.set_viewport_size({"width": width, "height": height})
    page.evaluate("(size) => { document.documentElement.style.fontSize = size; }", f"{text}%")


def unfold_all(page):
    """Open whatever is folded away, workings and readings that stand well as they are."""
    page.locator("details").evaluate_all("all => all.forEach(e => { e.open = true; })")


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


def test_every_calculator_is_looked_at():
    assert list(READINGS) == list(NAMES)


@pytest.mark.parametrize("size", VIEWS)
def test_quick(phone, live, size):
    page = open_page(phone.new_page(), live.address)
    held_like(page, size)
    expect(page.locator(".list .card")).to_have_count(len(NAMES) + 1)
    look(page, "quick", size)


@pytest.mark.parametrize("size", VIEWS)
@pytest.mark.parametrize("name", READINGS)
def test_a_calculator(phone, shown, name, size):
    """Empty, and answered with all that is folded away unfolded."""
    page = open_page(phone.new_page(), shown, f"#/quick/{name}")
    held_like(page, size)
    expect(page.locator(".fields .field, .fields .many").first).to_be_visible()
    look(page, f"{name}-empty", size)
    page.evaluate(
        "([name, v]) => localStorage.setItem('lapwright.quick.' + name, JSON.stringify(v))",
        [name, {"values": READINGS[name], "undo": []}],
    )
    page.reload()
    expect(page.locator(".result .answer")).to_be_visible()
    expect(page.locator(".problem")).to_have_count(0)
    held_like(page, size)
    unfold_all(page)
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


@pytest.mark.parametrize("size", VIEWS)
def test_what_is_bought_and_the_steps_of_the_work(phone, live, size):
    """Take-off and Finish of a job that warns: shut, and with each step open."""
    page = phone.new_page()
    slips = {"site": {"moisture": "16 %"}, "nails": {"length": "2 3/4", "price": 14.5}}
    held = opened(page, live.address, kitchen(**slips), "take-off")
    held_like(page, size)
    expect(page.locator("body")).to_have_attribute("data-plan", "whole", timeout=LONG)
    expect(page.locator(".result:not(.old) .answer")).to_be_visible()
    page.locator(".tick").first.tap()
    expect(page.locator(".tick").first).to_have_attribute("aria-pressed", "true")
    look(page, "take-off", size)
    unfold_all(page)
    for title in ("Nails", "Primer"):
        unfold(page, title)
        look(page, f"take-off-{title}", size)
    page.goto(f"{live.address}/p#/job/{held}/finish")
    expect(page.locator("[id^=step-]").first).to_be_visible()
    expect(page.locator(".fields.old")).to_have_count(0)
    look(page, "finish", size)
    steps = page.locator("[id^=step-]").evaluate_all("all => all.map(e => e.id)")
    assert len(steps) == 8
    for step in steps:
        bar = page.locator(f"#{step} > button")
        bar.tap()
        expect(bar).to_have_attribute("aria-expanded", "true")
        unfold_all(page)
        look(page, f"finish-{step}", size)
        seen_to = page.locator(f"#{step} .cautions").get_by_role("button", name="Yes, seen to")
        if seen_to.count():
            seen_to.first.tap()
            expect(page.locator(f"#{step} .seen-to")).not_to_have_count(0)
            look(page, f"finish-{step}-seen-to", size)
        bar.tap()


def test_text_of_twice_the_size_keeps_entry_answer_and_controls(phone, live):
    page = open_page(phone.new_page(), live.address, "#/quick/remaining-run")
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    look(page, "double-text", "360x640")
    field(page, "Run, corner to corner").tap()
    key(page, "1", "0", "5", "3/4", "+1/16", "heavy")
    expect(page.locator(".sheet .answer")).to_be_in_viewport(ratio=0.99)
    expect(page.locator(".sheet .entry")).to_be_in_viewport(ratio=0.99)
    look(page, "double-text-pad", "360x640")
