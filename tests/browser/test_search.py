"""A plan at once, a better one later: shown, stopped, or offered where somebody works by it."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.hands import cut_list, open_page, opened, saved_here, tab
from tests.browser.measure import controls, too_small
from tests.jobs import job

# A wall of which no short search proves the least.
OPEN = job(
    walls__0__width_floor="231 3/8",
    walls__0__height_left="150",
    rules__stagger="16",
    board__stock=[{"length": "144", "price": 13.2}, {"length": "192", "price": 19.9}],
)
LONG = 120000  # ms; two busy cores
SEARCH = "section.search"
ANSWER = ".figure .answer"


@pytest.fixture
def alone(phone):
    """A phone whose laptop plans nothing."""
    page = phone.new_page()
    page.route("**/api/plan", lambda route: route.abort())
    return page


def test_the_first_plan_is_there_while_a_better_one_is_looked_for(alone, live):
    opened(alone, live.address, OPEN, "layout/1")
    expect(alone.locator(ANSWER).first).to_contain_text("boards")
    search = alone.locator(SEARCH)
    expect(search).to_contain_text("Looking for a better plan")
    expect(search).to_contain_text(re.compile(r"At most .* more can be saved\."))
    keep = alone.get_by_role("button", name="Keep this plan")
    assert keep.bounding_box()["height"] >= 56
    assert too_small(controls(alone)) == []
    keep.tap()
    expect(keep).to_have_count(0, timeout=LONG)
    expect(search).to_contain_text("Not proven: a better plan may exist.")


def test_what_is_proven_is_said(alone, live):
    opened(alone, live.address, job(), "layout/1")
    expect(alone.locator(SEARCH)).to_contain_text(
        "Proven: no plan needs fewer boards.", timeout=LONG
    )


def test_the_plan_does_not_change_at_the_saw_but_by_a_button(alone, live):
    opened(alone, live.address, OPEN, "saw")
    expect(alone.locator(".board").first).to_be_visible()
    before = alone.locator(".bound").inner_text(), alone.locator(".board").first.inner_text()
    use = alone.get_by_role("button", name="Use the better plan").first
    expect(use).to_be_visible(timeout=LONG)
    expect(alone.locator("main")).to_contain_text("A better plan is ready:")
    assert alone.locator(".board").first.inner_text() == before[1]
    use.tap()
    expect(use).to_have_count(0)
    tab(alone, "Layout")
    expect(alone.locator(SEARCH)).to_be_visible()


def test_a_key_is_answered_while_the_search_goes_on(alone, live):
    opened(alone, live.address, OPEN, "survey")
    expect(alone.locator(ANSWER).first).to_contain_text("boards")
    alone.get_by_role("link", name="Quick").tap()
    took = alone.evaluate(
        """async () => {
          const times = [];
          for (let i = 0; i < 5; i += 1) {
            const start = performance.now();
            await new Promise((done) => setTimeout(done, 0));
            times.push(performance.now() - start);
          }
          return Math.max(...times);
        }"""
    )
    assert took < 200  # the page's own thread is free; two busy cores


def test_a_plan_that_is_worked_by_or_kept_outlives_a_reload_without_the_laptop(phone, live):
    page = phone.new_page()
    page.route("**/api/plan", lambda route: route.abort())
    saved_here(open_page(page, live.address))
    opened(page, live.address, OPEN, "layout/1")
    keep = page.get_by_role("button", name="Keep this plan")
    keep.tap()
    before = cut_list(page)
    live.kill()
    page.reload()
    # At once, and for good: not another plan first, and this one a moment later.
    expect(page.locator(".board").first).to_be_visible()
    expect(page.locator("body")).to_have_attribute("data-plan", "whole", timeout=10000)
    assert cut_list(page) == before
    expect(page.locator(".hold").first).to_contain_text("Not proven")


def test_a_plan_in_mid_search_is_there_again_after_a_reload_and_searched_on(phone, live):
    page = phone.new_page()
    page.route("**/api/plan", lambda route: route.abort())
    saved_here(open_page(page, live.address))
    opened(page, live.address, OPEN, "saw")
    board = page.locator(".board").first
    expect(board).to_be_visible()
    before = board.inner_text()
    live.kill()
    page.reload()
    expect(board).to_be_visible()
    assert board.inner_text() == before
    expect(page.locator("body")).to_have_attribute("data-plan", "searched")
