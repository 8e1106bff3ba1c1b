"""What the page says it can do without the laptop, word for word, at each rung of the ladder.

No flag of the browser makes anything easier: the plain page is served on this machine's own
address, which is no secure origin, and a certificate that nobody trusts is one.
"""

import contextlib
import json
import shutil
import socket
import ssl
import subprocess
import threading

import pytest
from playwright.sync_api import expect

from server.address import addresses
from tests.browser.conftest import ROOT, SCREEN, serving
from tests.browser.hands import keyed, open_page, opened, saved_here, start_job

NONE = "Works while this tab is open. Don’t reload away from the laptop."
REFUSED = "This phone doesn’t trust the laptop’s certificate yet. Works while this tab is open."
FAILED = "This page could not be saved on this phone. Works while this tab is open."
SAVED = "Saved on this phone. Opens without the laptop."
HOUSE = json.loads((ROOT / "examples" / "house.json").read_text(encoding="utf-8"))


@pytest.fixture
def plain(tmp_path):
    """The server on this machine's address in its network, over plain http."""
    found = addresses()
    if not found:
        pytest.skip("this machine is in no network, so it has no address but 127.0.0.1")
    with serving(tmp_path / "data", host=found[0]) as server:
        yield server


def test_over_plain_http(phone, plain):
    page = open_page(phone.new_page(), plain.address)
    assert page.evaluate("[isSecureContext, 'serviceWorker' in navigator]") == [False, False]
    expect(page.locator(".rung")).to_have_text(NONE)
    link = page.get_by_role("link", name="Keep this page on the phone")
    with phone.expect_page() as setup:
        link.tap()
    expect(setup.value.locator("h1")).to_have_text("Keep this page on the phone")


def test_a_tab_over_plain_http_goes_on_with_the_laptop_gone(phone, plain):
    """Engines that are stopped in mid-plan start again, from what the browser has kept."""
    page = phone.new_page()
    opened(page, plain.address, HOUSE)
    title = page.locator("label.field input").first
    expect(page.locator("main")).to_contain_text("Working out the plan.")
    plain.kill()
    for text in ("One", "Two"):
        title.fill(text)
        title.blur()
    expect(page.locator(".figure .answer").first).to_contain_text("boards", timeout=120000)
    expect(page.locator(".problem")).to_have_count(0)


class Tls:
    """https on 127.0.0.1 before a plain server, with a certificate that nobody trusts."""

    def __init__(self, folder, port):
        cert = folder / "cert.pem"
        command = ["openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2"]
        command += ["-subj", "/CN=x", "-addext", "subjectAltName=IP:127.0.0.1"]
        command += ["-keyout", folder / "key.pem", "-out", cert]
        subprocess.run(command, check=True, capture_output=True, timeout=60)
        self.context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        self.context.load_cert_chain(cert, folder / "key.pem")
        self.behind = ("127.0.0.1", port)
        self.door = socket.create_server(("127.0.0.1", 0))
        self.address = f"https://127.0.0.1:{self.door.getsockname()[1]}"
        threading.Thread(target=self._serve, daemon=True).start()

    def _serve(self):
        with contextlib.suppress(OSError):  # the door is closed
            while True:
                one, _ = self.door.accept()
                threading.Thread(target=self._pass, args=(one,), daemon=True).start()

    def _pass(self, one):
        # A browser that does not like the certificate breaks off.
        with (
            contextlib.suppress(OSError),
            self.context.wrap_socket(one, server_side=True) as phone,
            socket.create_connection(self.behind) as laptop,
        ):
            there = threading.Thread(target=_pump, args=(phone, laptop), daemon=True)
            there.start()
            _pump(laptop, phone)
            there.join()


def _pump(source, target):
    with contextlib.suppress(OSError):
        while data := source.recv(65536):
            target.sendall(data)
        target.shutdown(socket.SHUT_WR)


@pytest.mark.skipif(not shutil.which("openssl"), reason="the system has no openssl")
def test_with_a_certificate_that_is_not_trusted(chromium, live, tmp_path):
    tls = Tls(tmp_path, live.port)
    # As a person who goes past the browser's warning.
    context = chromium.new_context(viewport=SCREEN, has_touch=True, ignore_https_errors=True)
    page = open_page(context.new_page(), tls.address)
    assert page.evaluate("isSecureContext") is True
    expect(page.locator(".rung")).to_have_text(REFUSED)
    expect(page.get_by_role("link", name="Keep this page on the phone")).to_be_visible()
    context.close()
    tls.door.close()


def test_a_page_that_could_not_be_saved(phone, live):
    phone.route("**/style.css?v=*", lambda route: route.abort())  # one of the files
    page = open_page(phone.new_page(), live.address)
    expect(page.locator(".rung")).to_have_text(FAILED)
    with phone.expect_page() as reset:
        page.get_by_role("link", name="Reset this page").tap()
    expect(reset.value.locator("h1")).to_have_text("Reset this page")


def test_saved_is_said_once_every_file_is_here(phone, live):
    page = open_page(phone.new_page(), live.address)
    saved_here(page)
    assert page.locator(".rung").inner_text() == SAVED
    urls = page.evaluate(
        """async () => {
          const names = await caches.keys();
          const held = await (await caches.open(names[0])).keys();
          return [names.length, held.map((r) => new URL(r.url).pathname).sort()];
        }"""
    )
    text = page.request.get(live.address + "/sw.js").text()
    assert urls == [1, json.loads(text.split("const SHELL = ")[1].split(";\n")[0])]
    page.evaluate(
        "caches.keys().then(([name]) => caches.open(name))"
        ".then((cache) => cache.delete('/p', {ignoreSearch: true}))"
    )
    page.reload()
    expect(page.locator(".rung")).to_have_text("Saving this page on this phone.")


def test_a_silent_laptop_is_told_with_what_it_has(phone, live):
    page = open_page(phone.new_page(), live.address)
    saved_here(page)  # all of the page is there before the laptop goes silent
    away = page.locator(".away")
    live.hang()
    try:
        page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
        expect(away).to_have_text("Laptop not reachable.")
        job = start_job(page)
        keyed(page, "Height", ["9", "6"])
        page.goto(live.address + "/p#/jobs")
        expect(away).to_have_text("Laptop not reachable. Nothing sent yet, 2 not sent.")
    finally:
        live.go()
    expect(away).to_have_count(0, timeout=30000)
    expect(page.locator("main")).to_contain_text("Sent to the laptop")
    saved = page.request.get(f"{live.address}/api/jobs/{job}").json()["saved"]
    sent = page.evaluate("(saved) => new Date(saved).toTimeString().slice(0, 5)", saved)
    live.kill()
    expect(away).to_have_text(f"Laptop not reachable. Last sent {sent}, 0 not sent.", timeout=30000)
    start_job(page)
    page.goto(live.address + "/p#/jobs")
    expect(away).to_have_text(f"Laptop not reachable. Last sent {sent}, 1 not sent.")
