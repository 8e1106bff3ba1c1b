"""Layout: one wall's drawing, its pieces' cards, its figures, and the ways to divide it."""

import re

from playwright.sync_api import expect

from tests.browser.hands import key, opened, planned, tab
from tests.browser.measure import controls, sideways, too_near, too_small
from tests.browser.rooms import full_wall, room
from tests.jobs import job

DRAWN = 60000  # ms; two busy cores


def layout(phone, live, doc, wall=1):
    page = phone.new_page()
    opened(page, live.address, doc, f"layout/{wall}")
    expect(page.locator("body")).to_have_attribute("data-plan", "whole", timeout=DRAWN)
    expect(page.locator(".drawing svg")).to_be_visible(timeout=DRAWN)
    return page


def test_a_touch_opens_the_pieces_card_and_marks_it(phone, live):
    page = layout(phone, live, room())
    piece = page.locator('[data-piece="1-3A"]')
    said = piece.get_attribute("aria-label")
    piece.tap(position={"x": 8, "y": 8})
    card = page.get_by_role("dialog", name="Piece 1-3A")
    expect(card.locator(".answer")).to_be_visible()
    expect(page.locator("#live")).to_contain_text("Piece 1-3A, course 3")
    assert too_small(controls(page)) == [] and too_near(controls(page)) == []
    # The reading on the card is the one the drawing says aloud.
    assert "inches" in said and "Piece 1-3A, course 3" in said
    card.get_by_role("button", name="Next piece").tap()
    expect(page.get_by_role("dialog", name="Piece 1-3B")).to_be_visible()
    page.get_by_role("button", name="Close").tap()
    expect(page.get_by_role("dialog")).to_have_count(0)
    expect(page.locator(".drawing svg")).to_contain_text("1-3B chosen")


def test_enter_opens_a_card_and_escape_shuts_it(phone, live):
    page = layout(phone, live, room())
    page.locator('[data-piece="1-2A"]').focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("dialog", name="Piece 1-2A")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.get_by_role("dialog")).to_have_count(0)
    page.locator("select.pieces").select_option("1-4A")
    expect(page.get_by_role("dialog", name="Piece 1-4A")).to_be_visible()


def test_only_the_drawing_pans_in_its_own_box(phone, live):
    page = layout(phone, live, room())
    box = page.locator(".drawing")
    where = "e => [e.scrollLeft, e.scrollTop]"
    # It comes up where the first course goes, at the floor.
    page.wait_for_function("document.querySelector('.drawing').scrollTop > 0")
    before = box.evaluate(where)
    page.get_by_role("button", name="Move right").tap()
    expect(page.get_by_role("button", name="Move right")).to_be_enabled()
    assert box.evaluate(where)[0] > before[0]
    page.get_by_role("button", name="Move up").tap()
    assert box.evaluate(where)[1] < before[1]
    wide = page.locator(".drawing svg").get_attribute("width")
    page.get_by_role("button", name="Larger").tap()
    expect(page.locator(".drawing svg")).not_to_have_attribute("width", wide)
    assert sideways(page) <= 0
    page.get_by_role("button", name="Whole wall").tap()
    expect(page.locator(".drawing svg.fit")).to_be_visible()
    assert box.evaluate("e => e.scrollWidth - e.clientWidth") <= 0


def test_the_tables_hold_every_number_of_the_drawing(phone, live):
    """No figure is in the drawing alone."""
    page = layout(phone, live, job(title="Room", walls=[full_wall()]))
    expect(page.locator(".table table").first).to_be_visible()
    for _ in range(2):
        page.get_by_role("button", name="Larger").tap()
    expect(page.locator(".drawing svg text").nth(40)).to_be_attached()
    words = page.locator(".drawing svg text").all_text_contents()
    told = page.locator(".table").inner_text().replace("\xa0", " ")
    pieces = {t for text in page.locator(".table td").all_text_contents() for t in text.split()}
    alone = []
    for text in words:
        for reading in re.findall(r"\d+(?:-\d+/\d+)?\"|\d+/\d+\"", text):
            if reading not in told and reading not in pieces:
                alone.append((text, reading))
    assert alone == []


def test_a_wall_that_is_not_measured_says_so(phone, live):
    page = layout(phone, live, room())
    page.locator(".walls select").select_option("3 of 3: East")
    expect(page.locator("main")).to_contain_text("This wall is not planned yet.")
    expect(page.locator(".drawing")).to_have_count(0)


def test_ways_to_divide_are_compared_and_one_is_used(phone, live):
    page = layout(phone, live, job(walls=[full_wall()]))
    page.get_by_role("button", name="Compare the ways to divide").tap()
    now = page.locator(".way-card", has_text="This is how the job is now.")
    expect(now).to_have_count(1, timeout=60000)
    expect(now.locator("h3")).to_have_text("From the floor, full board first")
    page.get_by_role("button", name="Use this: From the ceiling, full board first").tap()
    expect(now.locator("h3")).to_have_text("From the ceiling, full board first")
    expect(page.locator("main")).to_contain_text("Start at the ceiling", timeout=DRAWN)
    page.get_by_role("button", name="Undo").tap()
    expect(page.locator("main")).to_contain_text("Start at the floor", timeout=DRAWN)


def test_the_saw_shows_what_is_cut_out_of_a_piece(phone, live):
    page = layout(phone, live, job(walls=[full_wall()]))
    planned(page)
    tab(page, "Saw")
    page.get_by_role("button", name="Whole list").tap()
    notched = page.locator(".cut", has_text="Box 1").first
    expect(notched.locator(".cuts")).to_contain_text("Box 1")
    expect(notched.locator("figure.sketch svg")).to_be_visible()


def test_the_keypads_are_not_reached_through_a_card(phone, live):
    """A key that is hit while a card is open types nothing."""
    page = layout(phone, live, room())
    page.locator("select.pieces").select_option("1-2A")
    expect(page.get_by_role("dialog")).to_be_visible()
    page.keyboard.type("96")
    expect(page.locator(".keys")).to_have_count(0)
    page.get_by_role("button", name="Close").tap()
    tab(page, "Survey")
    page.locator("button.field", has_text="Height").first.tap()
    key(page, "9", "done")
