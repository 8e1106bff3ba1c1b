"""From the first scan to a laptop that has moved away, on a network of its own."""

import re
import shutil

import pytest
from playwright.sync_api import Error, expect

from server import certs, keeping
from tests.server.openssl import leaf_for

from . import says
from .net import LAPTOP, MOVED, PHONES
from .served import ROOT, Stranger

OVER_HTTP = f"http://{LAPTOP}:8128"


def until(page, expression):
    """Wait until it is true in the page; the page's policy lets nothing be evaluated there."""
    for _ in range(120):
        if page.evaluate(expression):
            return
        page.wait_for_timeout(250)
    raise AssertionError(expression)


def ready(page):
    """The engine has answered once."""
    expect(page.locator("nav.tabs")).to_be_visible()
    expect(page.locator("body")).to_have_attribute("data-engine", "ready", timeout=30_000)


def rung(page, text):
    expect(page.locator(".rung")).to_have_text(text, timeout=30_000)


def saved(page):
    """The page is kept on the phone, and it is the worker that serves it."""
    ready(page)
    rung(page, says.SAVED)
    until(page, "navigator.serviceWorker.controller !== null")


def away(page):
    """It says that the laptop is out of reach."""
    expect(page.locator(".sent")).to_have_text(says.AWAY, timeout=30_000)


def answered(page, path="/api/ping"):
    """What the laptop answers to the page, or the error's name."""
    return page.evaluate(
        """async (path) => {
          const signal = AbortSignal.timeout(2500);
          try { return (await fetch(path, { signal, cache: 'no-store' })).status; }
          catch (error) { return error.name; }
        }""",
        path,
    )


def reached(page, path="/api/ping"):
    """Whether the laptop answers before long."""
    for _ in range(30):
        if answered(page, path) == 200:
            return True
        page.wait_for_timeout(500)
    return False


def test_the_first_scan_works_over_plain_http(serve, phone):
    serve()
    page = phone.open()
    page.goto(f"{OVER_HTTP}/p")
    ready(page)
    rung(page, says.TAB_ONLY)
    assert page.evaluate("isSecureContext") is False
    assert answered(page) == 200


def test_the_steps_of_set_up_lead_to_a_saved_page(serve, phone):
    """All that the person needs stands on the page that came over plain http."""
    laptop = serve()
    phone.learn(laptop.name)
    page = phone.open()
    page.goto(f"{OVER_HTTP}/setup")
    shown = page.locator("#print")
    expect(shown).to_be_visible()
    assert shown.inner_text().replace("\n", ":") == laptop.fingerprint
    page.locator("#android summary").tap()
    file = page.get_by_role("link", name="Download the certificate").get_attribute("href")
    secure = page.locator("#secure").get_attribute("href")
    phone.close()
    phone.trust(phone.fetch(OVER_HTTP + file))
    page = phone.open()
    page.goto(secure)
    assert secure == laptop.page
    saved(page)
    assert page.get_by_role("link", name="Keep this page on the phone").count() == 0


def test_with_the_ca_it_opens_without_the_laptop(trusted, phone):
    """Killed for real: reload, a new tab, and the browser started again."""
    laptop, page = trusted
    saved(page)
    assert page.evaluate("isSecureContext") is True
    assert phone.knocks(LAPTOP, 8129)
    laptop.kill()
    assert not phone.knocks(LAPTOP, 8129) and not phone.knocks(LAPTOP, 8128)
    page.reload()
    saved(page)
    away(page)
    tab = phone.tab()
    tab.goto(laptop.page)
    saved(tab)
    again = phone.open()
    again.goto(laptop.page)
    saved(again)
    away(again)
    assert answered(again) == "TypeError"


def test_a_laptop_that_hangs_is_not_reachable(trusted):
    """Worse than a dead one: connections are taken, and nothing answers."""
    laptop, page = trusted
    saved(page)
    laptop.hang()
    page.reload()
    saved(page)
    away(page)
    assert answered(page) == "TimeoutError"


def test_the_worker_leaves_the_laptops_answers_alone(trusted):
    """An answer of the API from the phone's store would call a dead laptop alive."""
    laptop, page = trusted
    saved(page)
    for path in ("/api/ping", "/api/laptop", "/version.json"):
        assert answered(page, path) == 200
    laptop.kill()
    for path in ("/api/ping", "/api/laptop", "/version.json"):
        assert answered(page, path) == "TypeError"


def test_laptop_and_phone_go_to_another_network(trusted, phone, lan):
    """The page opens, the certificate follows, and the name leads to the laptop again."""
    laptop, page = trusted
    saved(page)
    assert laptop.names() == {laptop.name, "localhost", "127.0.0.1", LAPTOP}
    lan.join(MOVED, PHONES[1])
    page.reload()
    saved(page)
    away(page)
    # As the link with the new address in it does, before the name is known anew.
    assert reached(page, f"https://{MOVED}:8129/api/ping")
    assert laptop.names() == {laptop.name, "localhost", "127.0.0.1", MOVED}
    assert phone.learn(laptop.name) == MOVED
    page = phone.open()  # what a browser knows of a name it believes for a minute
    page.goto(laptop.page)
    saved(page)
    assert reached(page)
    tab = phone.tab()
    tab.goto(f"https://{MOVED}:8129/p")  # a phone that can't resolve names begins here
    saved(tab)


def test_a_link_tells_where_the_laptop_has_moved_to(trusted, phone, lan):
    """It names the origin, which answers no more: the page is opened from the phone."""
    laptop, page = trusted
    saved(page)
    lan.join(MOVED, PHONES[1])
    again = phone.open()
    again.goto(f"{laptop.page.removesuffix('p')}#a={MOVED}")
    saved(again)
    assert again.url == f"{laptop.page}#/quick"
    assert again.evaluate("localStorage.getItem('lapwright.hint')") == f'"{MOVED}:8129"'
    assert reached(again, f"https://{MOVED}:8129/api/ping")


def test_the_name_is_gone(trusted, phone, lan):
    """No resolution at all, as on a network that lets no multicast through."""
    laptop, page = trusted
    saved(page)
    lan.know({})
    again = phone.open()
    again.goto(laptop.page)
    saved(again)
    away(again)
    assert reached(again, f"https://{LAPTOP}:8129/api/ping")


def test_a_stop_takes_the_name_off_the_network(serve, phone):
    laptop = serve()
    assert phone.learn(laptop.name) == LAPTOP
    assert laptop.end() < 2  # measured 0.5
    assert phone.learn(laptop.name, seconds=1) == ""


def past_the_warning(page, address):
    """Go on to a page that the browser warns of, as a person may."""
    with pytest.raises(Error, match="ERR_CERT_AUTHORITY_INVALID"):
        page.goto(address)
    page.locator("#details-button").click()
    page.locator("#proceed-link").click()
    ready(page)


def test_without_the_ca_nothing_is_saved(serve, phone):
    laptop = serve()
    phone.learn(laptop.name)
    page = phone.open()
    past_the_warning(page, laptop.page)
    rung(page, says.UNTRUSTED)
    assert page.evaluate("isSecureContext") is True  # which is why nobody may go by it


def test_the_ca_is_taken_away(trusted, phone):
    """What was saved still opens; from the laptop's other address nothing more is taken."""
    laptop, page = trusted
    saved(page)
    phone.close()
    phone.distrust()
    page = phone.open()
    page.goto(laptop.page)
    saved(page)
    away(page)
    tab = phone.tab()
    past_the_warning(tab, f"https://{LAPTOP}:8129/p")
    rung(tab, says.UNTRUSTED)


def test_a_new_leaf_under_open_streams(trusted, lan):
    laptop, page = trusted
    saved(page)
    page.evaluate(
        """() => {
          window.events = 0;
          window.breaks = 0;
          const stream = new EventSource('/api/long');
          stream.onmessage = () => { window.events += 1; };
          stream.onerror = () => { window.breaks += 1; };
        }"""
    )
    until(page, "window.events > 2")
    lan.also(MOVED)
    assert reached(page, f"https://{MOVED}:8129/api/ping")
    assert laptop.names() == {laptop.name, "localhost", "127.0.0.1", LAPTOP, MOVED}
    before = page.evaluate("window.events")
    until(page, f"window.events > {before + 3}")
    assert page.evaluate("window.breaks") == 0


def test_the_page_changes_to_a_new_version_on_a_tap(serve, phone, tmp_path):
    web = tmp_path / "web"
    shutil.copytree(ROOT / "web", web, ignore=shutil.ignore_patterns("node_modules"))
    laptop = serve(web=web)
    phone.trust(phone.fetch(f"{OVER_HTTP}/ca.crt"))
    phone.learn(laptop.name)
    page = phone.open()
    page.goto(laptop.page)
    saved(page)
    sheet = web / "style.css"
    sheet.write_text(sheet.read_text(encoding="utf-8") + "\nbody { --second: yes; }\n")
    page.reload()
    expect(page.locator(".notice", has_text=says.NEWER)).to_be_visible(timeout=30_000)
    second = "getComputedStyle(document.body).getPropertyValue('--second').trim()"
    assert page.evaluate(second) == ""  # not before it is asked for
    waits = "navigator.serviceWorker.getRegistration().then((r) => r.waiting !== null)"
    assert page.evaluate(waits) is True  # nor has its worker taken over
    page.get_by_role("button", name=says.CHANGE).tap()
    expect(page.locator(".notice", has_text=says.NEWER)).to_have_count(0)
    saved(page)
    assert page.evaluate(second) == "yes"
    laptop.kill()
    page.reload()
    saved(page)
    assert page.evaluate(second) == "yes"


def test_a_thief_of_the_cas_key_can_pass_for_nobody_else(trusted, phone, lan, tmp_path):
    """The browser's own verifier keeps to the CA's name constraints."""
    laptop, page = trusted
    ca = keeping.open_or_make(tmp_path / "data" / "trust")
    assert certs.fingerprint(ca.cert) == laptop.fingerprint
    lan.also("8.8.8.8")
    lan.know({"other.example": LAPTOP, laptop.name: LAPTOP})
    names = {9441: LAPTOP, 9442: "8.8.8.8", 9443: "other.example"}
    strangers = []
    try:
        for port, name in names.items():
            key, cert, _ = leaf_for(ca, name)
            strangers.append(Stranger(lan, tmp_path, port, key, cert))
        _visit(page, f"https://{LAPTOP}:9441/")  # such a server is taken where the CA may vouch
        assert re.search("s_server", page.content())
        for port in (9442, 9443):
            with pytest.raises(Error, match="ERR_CERT_"):
                _visit(page, f"https://{names[port]}:{port}/")
    finally:
        for one in strangers:
            one.kill()


def _visit(page, address):
    """Go there once it is served."""
    for _ in range(40):
        try:
            return page.goto(address)
        except Error as error:
            if "ERR_CONNECTION_REFUSED" not in error.message:
                raise
            page.wait_for_timeout(250)
    raise AssertionError(f"nothing is served at {address}")
