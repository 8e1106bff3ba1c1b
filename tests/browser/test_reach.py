"""Where the laptop is, once it has moved: the origin first, then what a link has told.

The module is the real one, taken from its source; the laptop at the other address is an answer
made up here, as no test has a second laptop.
"""

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import ROOT, SCREEN
from tests.browser.hands import open_page, saved_here

MOVED = "https://10.20.30.40:8129"
HINT = "#a=10.20.30.40:8129"
PING = f"{MOVED}/api/ping"
LOAD = "async () => { window.reach = await import('/src/reach.js'); }"
ASK = "() => reach.laptop('/api/jobs/KEY')"
CORS = {"Access-Control-Allow-Origin": "*"}


@pytest.fixture
def page(chromium, live):
    # The policy that lets the page call another address comes with https.
    context = chromium.new_context(viewport=SCREEN, bypass_csp=True)
    page = context.new_page()
    page.route(
        "**/src/*.js",
        lambda r: r.fulfill(path=ROOT / "web" / r.request.url.rsplit("/", 1)[1]),
    )
    page.goto(live.address + "/version.json")
    page.evaluate(LOAD)
    yield page
    context.close()


def moved(page, answer=None, status=200):
    """Have a laptop answer at the other address; what it was asked."""
    asked = []

    def tell(route):
        asked.append(route.request.url)
        route.fulfill(status=status, json=answer or {"ok": True, "version": "x"}, headers=CORS)

    page.route(f"{MOVED}/**", tell)
    return asked


@pytest.mark.parametrize(
    ("hash", "left", "hint"),
    [
        ("#a=192.168.7.20:8129", "#/quick", "192.168.7.20:8129"),
        ("#a=10.0.0.1:8129/job/KEY/saw", "#/job/KEY/saw", "10.0.0.1:8129"),
        ("#a=172.31.255.1:1", "#/quick", "172.31.255.1:1"),
        # Not private: RFC 1918 ends at 172.31, and begins at 172.16.
        ("#a=172.32.0.1:8129", "#/quick", ""),
        ("#a=172.15.0.1:8129", "#/quick", ""),
        ("#a=192.0.2.7:8129", "#/quick", ""),
        ("#a=8.8.8.8:443", "#/quick", ""),
        ("#a=192.168.7.256:8129", "#/quick", ""),
        ("#a=192.168.7.20:65536", "#/quick", ""),
        ("#a=192.168.7.20.evil.example", None, ""),
        ("#a=laptop.local:8129", None, ""),
        ("#/quick", None, ""),
    ],
)
def test_a_hint_is_a_private_address_and_nothing_else(page, hash, left, hint):
    assert page.evaluate("(hash) => reach.takeHint(hash)", hash) == left
    kept = page.evaluate("localStorage.getItem('lapwright.hint')")
    assert kept == (f'"{hint}"' if hint else None)


def test_a_hint_without_a_port_means_the_pages_own(page, live):
    page.evaluate("reach.takeHint('#a=10.20.30.40')")
    assert page.evaluate("localStorage.getItem('lapwright.hint')") == f'"10.20.30.40:{live.port}"'


def test_without_a_hint_nothing_is_asked(page, live):
    live.kill()
    assert page.evaluate(ASK) == "/api/jobs/KEY"


def test_the_origin_comes_first(page):
    asked = moved(page)
    page.evaluate("(hash) => reach.takeHint(hash)", HINT)
    assert page.evaluate(ASK) == "/api/jobs/KEY"
    assert asked == []


@pytest.mark.parametrize("gone", ["kill", "hang"])
def test_where_the_origin_is_silent_the_hint_is_used_until_it_is_lost(page, live, gone):
    asked = moved(page)
    page.evaluate("(hash) => reach.takeHint(hash)", HINT)
    getattr(live, gone)()
    try:
        both = page.evaluate(f"() => Promise.all([({ASK})(), ({ASK})()])")
        assert both == [f"{MOVED}/api/jobs/KEY"] * 2
        assert page.evaluate(ASK) == both[0]
        assert asked == [PING]
    finally:
        if gone == "hang":
            live.go()
            page.evaluate("reach.lost()")
            assert page.evaluate(ASK) == "/api/jobs/KEY"


def test_who_answers_there_must_be_a_laptop(page, live):
    page.evaluate("(hash) => reach.takeHint(hash)", HINT)
    live.kill()
    moved(page, {"hello": 1})
    assert page.evaluate(ASK) == "/api/jobs/KEY"
    page.unroute(f"{MOVED}/**")
    asked = moved(page, status=503)
    assert page.evaluate(ASK) == "/api/jobs/KEY"
    page.unroute(f"{MOVED}/**")
    assert asked == [PING]
    moved(page)
    assert page.evaluate(ASK) == f"{MOVED}/api/jobs/KEY"  # it is looked for each time


def test_a_link_of_a_laptop_that_moved_opens_the_page_and_is_kept(phone, live):
    page = open_page(phone.new_page(), live.address)
    saved_here(page)
    page.goto(live.address + "/version.json")
    live.kill()
    page.goto(live.address + "/#a=10.20.30.40:8129/quick/remaining-run")
    expect(page.locator("h1")).to_have_text("Remaining run")
    assert page.url == live.address + "/p#/quick/remaining-run"
    assert page.evaluate("localStorage.getItem('lapwright.hint')") == '"10.20.30.40:8129"'
    page.reload()
    expect(page.locator("h1")).to_have_text("Remaining run")
