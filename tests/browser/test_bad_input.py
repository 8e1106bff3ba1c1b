"""Bad input on the page: each is named with its value and a mend, and what was typed stays."""

import pytest
from playwright.sync_api import expect

from tests.browser.hands import field, key, open_page, start_job, survey_wall, unfold

# Field of Remaining run or Survey, what is typed, and what the message says.
ON_QUICK = [
    ("Run, corner to corner", "seventy two", '"seventy" in "seventy two" is not a unit.'),
    ("Run, corner to corner", "75 3/0", '"75 3/0" divides by nothing.'),
    ("Run, corner to corner", "75 1/3", "a tape has no 1/3. Use halves to 64ths"),
    ("Run, corner to corner", "-40", '"-40" is less than nothing. Give a length of 0 or more.'),
    ("Run, corner to corner", "1,925 mm", "could be read two ways."),
    ("Run, corner to corner", "75 heavy light", "leans twice. Say heavy or light once"),
    ("Run, corner to corner", "99999999", '"99999999" is out of range. Give'),
    ("Run, corner to corner", "192.5.1", "could be read two ways."),
]
ON_SURVEY = [
    ("Height", "0", "is out of range. Give"),
    ("First stud mark", "200", "is not inside the wall. Give less than 160\", the wall's width."),
    ("Overall width", "4", 'is less than the face. Give 5-1/8" or more'),
    ("Price of one", "twelve", '"twelve"'),
    ("Boards to be had", "2.5", '"2.5"'),
    ("Saw kerf", "3", '"3" is out of range. Give'),
]


def refuse(page, label, typed, says):
    """Type it, press OK: the message says so, and the entry stays until it is mended."""
    field(page, label).tap()
    expect(page.locator(".sheet")).to_be_visible()
    page.keyboard.type(typed)
    key(page, "ok")
    expect(page.locator(".sheet .problem")).to_contain_text(says)
    expect(page.locator(".sheet .entry")).to_have_text(typed)
    for _ in typed:
        page.keyboard.press("Backspace")


def test_on_the_calculators(phone, live):
    page = open_page(phone.new_page(), live.address, "#/quick/remaining-run")
    for label, typed, says in ON_QUICK:
        refuse(page, label, typed, says)
        key(page, "7", "5", "done")  # mended, and the next one starts anew
        expect(page.locator(".sheet")).to_have_count(0)
        expect(field(page, label)).to_contain_text('75"')


def test_in_the_survey(phone, live):
    page = open_page(phone.new_page(), live.address)
    start_job(page)
    survey_wall(page)
    unfold(page, "Saw and joints")
    for label, typed, says in ON_SURVEY:
        before = field(page, label).inner_text()
        refuse(page, label, typed, says)
        key(page, "done")
        expect(page.locator(".sheet")).to_have_count(0)
        assert field(page, label).inner_text() == before


@pytest.mark.parametrize("typed", ["12,50", "12.5", "7"])
def test_money_as_people_write_it_is_taken(phone, live, typed):
    page = open_page(phone.new_page(), live.address)
    start_job(page)
    field(page, "Price of one").tap()
    expect(page.locator(".sheet")).to_be_visible()
    page.keyboard.type(typed)
    key(page, "done")
    expect(page.locator(".sheet")).to_have_count(0)
    expect(field(page, "Price of one")).to_contain_text(typed)
