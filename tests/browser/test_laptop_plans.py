"""A large job's plan comes from the laptop where that is sooner, and is the phone's own."""

import json
from pathlib import Path

from playwright.sync_api import expect

from tests.browser.hands import opened

HOUSE = json.loads(
    (Path(__file__).parents[2] / "examples" / "house.json").read_text(encoding="utf-8")
)
SAID = "The laptop worked out this plan, sooner than this phone."
LONG = 120000  # ms; the phone alone, on two busy cores


def bought(page):
    answer = page.locator(".figure .answer").first
    expect(answer).to_contain_text("boards", timeout=LONG)
    return answer.inner_text()


def test_the_laptop_plans_a_house_and_the_phone_says_so(phone, live):
    page = phone.new_page()
    opened(page, live.address, HOUSE, "layout")
    assert bought(page)
    expect(page.get_by_text(SAID)).to_be_visible()


def test_a_laptop_with_another_calc_is_not_listened_to(phone, live):
    """Its plan says one board; the phone's own says what it says."""
    page = phone.new_page()
    asked = []

    def other(route):
        asked.append(route.request.url)
        answer = route.fetch().json()
        answer["view"]["summary"]["boards"] = "1 board of another laptop"
        route.fulfill(json={**answer, "calc": "0" * 32})

    page.route("**/api/plan", other)
    with page.expect_response("**/api/plan", timeout=LONG):
        opened(page, live.address, HOUSE, "survey")
    page.wait_for_timeout(500)  # what it says would be on the screen by now
    expect(page.locator(".figure .answer").first).not_to_contain_text("another", timeout=LONG)
    assert "another laptop" not in bought(page) and asked
    expect(page.get_by_text(SAID)).to_have_count(0)
