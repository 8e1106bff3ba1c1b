"""What goes wrong on a phone: answers that get lost, storage that is denied or full, an engine
that stops, two tabs, a laptop that forgot. Nothing keyed is lost, and it is said in words."""

import re
import socket
import time

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import SCREEN, serving
from tests.browser.hands import (
    field,
    key,
    keyed,
    open_page,
    saved_here,
    start_job,
    survey_wall,
    tab,
)
from tests.browser.shared import other_phone_writes, sent

RUN = "Run, corner to corner"


def test_an_open_job_learns_of_another_phones_change(phone, live):
    page = open_page(phone.new_page(), live.address)
    job = start_job(page)
    sent(page)
    other_phone_writes(page, live.address, job, lambda doc: doc.update(title="Hers"))
    expect(page.locator("h1")).to_have_text("Hers", timeout=20000)


def test_a_lost_answer_is_no_quarrel(phone, live):
    page = open_page(phone.new_page(), live.address)
    job = start_job(page)
    sent(page)
    lost = []

    def lose(route):
        """The laptop takes it, and its answer never arrives."""
        if route.request.method == "POST" and not lost:
            lost.append(route.fetch().status)
            route.abort()
        else:
            route.continue_()

    page.route("**/api/jobs/*/writes", lose)
    keyed(page, "Height", ["9", "6"])
    expect(page.locator(".sent")).to_have_text("Saved on this phone, 1 to send")
    keyed(page, "Width", ["1", "6", "0"])
    sent(page)
    assert lost == [200]
    stored = page.request.get(f"{live.address}/api/jobs/{job}").json()["job"]["walls"][0]
    assert (stored["height_left"], stored["width_floor"]) == ('96"', '160"')


def test_a_laptop_that_lost_its_jobs_gets_them_back(phone, tmp_path):
    with socket.create_server(("127.0.0.1", 0)) as s:
        port = s.getsockname()[1]
    with serving(tmp_path / "one", port=port) as first:
        page = open_page(phone.new_page(), first.address)
        job = start_job(page)
        keyed(page, "Height", ["9", "6"])
        sent(page)
    with serving(tmp_path / "two", port=port) as second:
        stored = f"{second.address}/api/jobs/{job}"
        end = time.monotonic() + 30
        while page.request.get(stored).status != 200:
            assert time.monotonic() < end
            page.wait_for_timeout(200)
        wall = page.request.get(stored).json()["job"]["walls"][0]
        assert wall["height_left"] == '96"'
        sent(page)


def test_an_unknown_link_does_not_stand_in_the_way_of_a_known_job(phone, live):
    page = open_page(phone.new_page(), live.address)
    job = start_job(page)
    page.route("**/api/jobs/" + "A" * 22, lambda route: None)  # never answered
    page.evaluate("location.hash = '#/job/AAAAAAAAAAAAAAAAAAAAAA/survey'")
    page.evaluate(f"location.hash = '#/job/{job}/survey'")
    expect(field(page, "Height")).to_be_visible()
    page.wait_for_timeout(3000)  # the page gives the other one up after 2.5 s
    expect(page.locator("main")).not_to_contain_text("not here yet")


def test_two_tabs_keep_each_others_readings(phone, live):
    one = open_page(phone.new_page(), live.address, "#/quick/remaining-run")
    two = open_page(phone.new_page(), live.address, "#/quick/remaining-run")
    keyed(one, RUN, ["7", "5"])
    expect(field(two, RUN)).to_contain_text('75"')
    keyed(two, "Board length", ["4", "8"])
    expect(field(one, "Board length")).to_contain_text('48"')
    expect(field(one, RUN)).to_contain_text('75"')


NO_STORAGE = {
    "localStorage": """Object.defineProperty(window, 'localStorage', {get() {
        throw new DOMException('denied', 'SecurityError'); }});""",
    "indexedDB": """indexedDB.open = () => {
        throw new DOMException('denied', 'SecurityError'); };""",
}


@pytest.mark.parametrize("kind", NO_STORAGE)
def test_without_storage_the_page_works_and_says_that_it_keeps_nothing(phone, live, kind):
    page = phone.new_page()
    page.add_init_script(NO_STORAGE[kind])
    open_page(page, live.address)
    expect(page.locator(".notice")).to_contain_text("This phone keeps no")
    page.locator("a", has_text="Remaining run").tap()
    keyed(page, RUN, ["7", "5"])
    expect(page.locator(".result .answer")).to_have_text('74-3/4"')
    start_job(page)
    keyed(page, "Height", ["9", "6"])
    expect(field(page, "Height")).to_contain_text('96"')


def test_damaged_storage_is_set_aside(phone, live):
    page = open_page(phone.new_page(), live.address)
    page.evaluate("localStorage.setItem('lapwright.prefs', '{half')")
    page.reload()
    expect(page.locator("a", has_text="Remaining run")).to_be_visible()


def test_a_full_phone_says_so_over_the_keypad_and_keeps_the_entry(phone, live):
    page = open_page(phone.new_page(), live.address)
    start_job(page)
    page.evaluate(
        "() => { IDBObjectStore.prototype.put = () => {"
        " throw new DOMException('no room left', 'QuotaExceededError'); }; }"
    )
    field(page, "Height").tap()
    key(page, "9", "6", "ok")
    expect(page.locator(".sheet .notice")).to_contain_text("no room left")
    expect(page.locator(".sheet .entry")).to_have_text('96"')
    key(page, "done")
    expect(page.locator(".sheet")).to_have_count(0)
    page.reload()
    expect(page.locator(".sheet .entry")).to_have_text('96"')
    key(page, "done")
    expect(field(page, "Height")).to_contain_text('96"')


def test_an_engine_that_stops_is_told_and_started_again(chromium, live):
    context = chromium.new_context(viewport=SCREEN, has_touch=True)
    page = open_page(context.new_page(), live.address)
    saved_here(page)
    page.route("**/quick.bin*", lambda route: route.fulfill(status=500, body="no"))
    page.evaluate(
        "caches.keys().then(names => Promise.all(names.map(n =>"
        " caches.open(n).then(c => c.delete('/quick.bin', {ignoreSearch: true})))))"
    )
    broken = context.new_page()
    broken.route("**/quick.bin*", lambda route: route.fulfill(status=500, body="no"))
    context.route("**/quick.bin*", lambda route: route.fulfill(status=500, body="no"))
    broken.goto(live.address + "/p")
    expect(broken.locator(".notice")).to_contain_text("The calculator on this phone stopped")
    context.unroute("**/quick.bin*")
    broken.unroute("**/quick.bin*")
    broken.get_by_role("button", name="Start it again").tap()
    expect(broken.locator(".notice")).to_have_count(0)
    broken.locator("a", has_text="Remaining run").tap()
    keyed(broken, RUN, ["7", "5"])
    expect(broken.locator(".result .answer")).to_have_text('74-3/4"')
    context.close()


def test_a_bare_number_keeps_its_meaning_when_the_unit_changes(phone, live):
    page = open_page(phone.new_page(), live.address)
    job = start_job(page)
    sent(page)
    other_phone_writes(
        page, live.address, job, lambda doc: doc["walls"][0].update(height_left="96")
    )
    expect(field(page, "Height")).to_contain_text('96"', timeout=20000)
    page.locator("label.field", has_text="A bare number means").locator("select").select_option(
        "mm"
    )
    expect(field(page, "Height")).to_contain_text("2438.5 mm")  # 96 in is 2438.4 mm


def test_a_price_that_is_no_number_is_refused_and_kept_in_the_entry(phone, live):
    page = open_page(phone.new_page(), live.address)
    start_job(page)
    field(page, "Price of one").tap()
    expect(page.locator(".sheet")).to_be_visible()
    page.keyboard.type("12.5x")
    key(page, "ok")
    expect(page.locator(".sheet .problem")).to_contain_text("12.5x")
    expect(page.locator(".sheet .entry")).to_have_text("12.5x")
    page.keyboard.press("Backspace")
    key(page, "done")
    expect(field(page, "Price of one")).to_contain_text("12.5")


def test_what_is_cut_stays_cut_where_the_wall_is_measured_anew(phone, live):
    page = open_page(phone.new_page(), live.address)
    start_job(page)
    survey_wall(page)
    tab(page, "Saw")
    page.get_by_role("button", name="Cut", exact=True).tap()
    expect(page.locator(".made")).to_have_text(re.compile(r"^1 of "))
    tab(page, "Survey")
    keyed(page, "Width", ["1", "5", "0"])
    tab(page, "Saw")
    expect(page.locator(".made")).to_have_text(re.compile(r"^1 of "))
    page.get_by_role("button", name="Whole list").tap()
    expect(page.locator(".cut.made")).to_have_count(1)
