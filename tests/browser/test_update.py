"""A new version of the page comes by a tap alone, in one tap, and never in mid-entry."""

import pytest
from playwright.sync_api import expect

from tests.browser.changing import Laptop
from tests.browser.hands import (
    field,
    key,
    open_page,
    saved_here,
    start_job,
    survey_wall,
    tab,
)

RUNS = "document.documentElement.dataset.version"
READY = "A new version of this page is ready."


@pytest.fixture
def laptop(tmp_path):
    one = Laptop(tmp_path)
    yield one
    if one.up:
        one.kill()


def look(page):
    """Let the page look for the laptop, as it does now and then."""
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")


def waits(page):
    """Wait until a new version is saved on the phone; it waits, and the one before still serves."""
    look(page)
    serves = page.evaluate(
        """async () => {
          const registration = await navigator.serviceWorker.getRegistration();
          const end = Date.now() + 30000;
          while (!registration.waiting && Date.now() < end) {
            await new Promise((done) => setTimeout(done, 50));
          }
          return [registration.waiting !== null, await new Promise((done) => {
            navigator.serviceWorker.addEventListener('message', (e) => done(e.data.version));
            registration.active.postMessage('saved?');
          })];
        }"""
    )
    assert serves == [True, page.evaluate(RUNS)]


def notice(page):
    return page.locator(".notice", has_text=READY)


def change_to_it(page, version):
    """Tap once; the page then runs that version."""
    with page.expect_navigation():
        notice(page).get_by_role("button", name="Change to it").tap()
    assert page.evaluate(RUNS) == version
    expect(page.locator("nav.tabs")).to_be_visible()
    expect(notice(page)).to_have_count(0)


def test_one_tap_with_the_laptop_gone_keeps_unsent_work_and_digits(phone, laptop):
    page = open_page(phone.new_page(), laptop.address)
    saved_here(page)
    assert page.evaluate(RUNS) == laptop.version(page)
    job = start_job(page)
    expect(page.locator(".sent")).to_contain_text("Sent ")
    field(page, "Height").tap()
    key(page, "9", "6")
    new = laptop.change(page)
    waits(page)
    expect(page.locator(".sheet .entry")).to_have_text('96"')
    assert notice(page).count() == 0  # something is being keyed
    laptop.kill()
    key(page, "done")
    expect(page.locator(".sent")).to_have_text("Saved on this phone, 1 to send")
    expect(notice(page)).to_be_visible()
    field(page, "Width").tap()
    key(page, "1", "6", "3/8")
    page.evaluate("location.hash = '#/jobs'")  # as by the phone's back button
    expect(page.locator(".sheet")).to_have_count(0)
    change_to_it(page, new)
    page.evaluate(f"location.hash = '#/job/{job}/survey'")
    expect(page.locator(".sheet .entry")).to_have_text('16-3/8"')
    key(page, "done")
    expect(field(page, "Height")).to_contain_text('96"')
    expect(field(page, "Width")).to_contain_text('16-3/8"')
    expect(page.locator(".sent")).to_have_text("Saved on this phone, 2 to send")
    laptop.start()
    look(page)
    expect(page.locator(".sent")).to_contain_text("Sent ")
    assert laptop.version(page) == page.evaluate(RUNS)


def test_one_tap_brings_what_the_laptop_has_by_now(phone, laptop):
    page = open_page(phone.new_page(), laptop.address)
    saved_here(page)
    laptop.change(page)
    waits(page)
    expect(notice(page)).to_be_visible()
    change_to_it(page, laptop.change(page))  # newer than the one that waits


def test_the_other_tab_goes_on_and_changes_by_its_own_tap(phone, laptop):
    keys = open_page(phone.new_page(), laptop.address)
    saved_here(keys)
    job = start_job(keys)
    survey_wall(keys)
    old = keys.evaluate(RUNS)
    field(keys, "Height").tap()
    key(keys, "4", "8")
    other = open_page(phone.new_page(), laptop.address)
    new = laptop.change(other)
    waits(other)
    change_to_it(other, new)
    saved_here(other)

    laptop.kill()
    # Its own version is still here.
    assert keys.evaluate("(v) => caches.has('lapwright-' + v)", old)
    assert keys.evaluate(RUNS) == old
    expect(keys.locator(".sheet .entry")).to_have_text('48"')
    # An engine that starts anew is one of the version that this tab runs.
    ready = """async (version) => {
      const worker = new Worker('/worker.js?v=' + version, {type: 'module'});
      return new Promise((done) => { worker.onmessage = ({data}) => done(data.ready); });
    }"""
    assert keys.evaluate(ready, old)
    key(keys, "done")
    expect(field(keys, "Height")).to_contain_text('48"')
    assert job in keys.url and keys.evaluate(RUNS) == old
    change_to_it(keys, new)
    expect(field(keys, "Height")).to_contain_text('48"')


def test_nothing_is_offered_while_the_saw_asks_whether_a_board_is_no_good(phone, laptop):
    page = open_page(phone.new_page(), laptop.address)
    saved_here(page)
    start_job(page)
    survey_wall(page)
    tab(page, "Saw")
    page.get_by_role("button", name="Board is no good").tap()
    keep = page.get_by_role("button", name="Keep the board")
    expect(keep).to_be_visible()
    new = laptop.change(page)
    waits(page)
    assert notice(page).count() == 0
    keep.tap()
    expect(notice(page)).to_be_visible()
    change_to_it(page, new)


def test_without_a_service_worker_a_tap_loads_the_new_version(phone, laptop):
    page = phone.new_page()
    page.add_init_script("Object.defineProperty(navigator, 'serviceWorker', {value: undefined});")
    open_page(page, laptop.address, "#/quick/remaining-run")
    field(page, "Run, corner to corner").tap()
    key(page, "7", "5")
    new = laptop.change(page)
    with page.expect_response("**/api/ping"):
        look(page)
    assert notice(page).count() == 0
    key(page, "done")
    expect(notice(page)).to_be_visible()
    change_to_it(page, new)
    expect(field(page, "Run, corner to corner")).to_contain_text('75"')
