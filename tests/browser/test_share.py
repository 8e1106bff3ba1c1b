"""Giving a job to another phone: links, their QR, a short code; and taking a link back."""

import io
import re
from urllib.parse import unquote

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import expect

from tests.browser.conftest import serving
from tests.browser.hands import field, key, keyed, open_page, start_job, tab
from tests.browser.shared import (
    lose_answer,
    on_laptop,
    on_phone,
    out_of_reach,
    sent,
    shared,
    taken,
    to_send,
    typed,
    worked_by_worker,
)
from tests.server.qrimage import decode


@pytest.fixture
def logged(tmp_path):
    """The laptop, which says what it takes."""
    with serving(tmp_path / "data", arguments=["--log"]) as server:
        yield server


def share(page):
    """Go to Share; wait until its links are there."""
    tab(page, "Survey")
    page.get_by_role("link", name="Share").tap()
    expect(page.locator("img.qr")).to_be_visible()


def link_of(page, kind):
    """The link of that kind that Share shows, as its QR says too."""
    page.get_by_role("button", name={"edit": "To measure", "saw": "For the saw"}[kind]).tap()
    link = page.locator("textarea")
    expect(link).to_have_value(re.compile(f"#/{kind}/"))
    return link.input_value()


def begun(phone, live):
    """A phone with a job of its own that the laptop has: (its page, the key)."""
    page = open_page(phone.new_page(), live.address)
    worked_by_worker(page)
    job = start_job(page)
    keyed(page, "Height", ["9", "6"])
    sent(page)
    return page, job


@pytest.mark.parametrize("kind", ["edit", "saw"])
def test_a_camera_reads_the_link_off_the_screen(phone, live, kind):
    page, job = begun(phone, live)
    share(page)
    link = link_of(page, kind)
    qr = page.locator("img.qr")
    qr.evaluate("e => e.scrollIntoView({block: 'center'})")
    [found] = zxingcpp.read_barcodes(Image.open(io.BytesIO(qr.screenshot())))
    assert (found.text, found.ec_level in "QH") == (link, True)
    svg = unquote(qr.get_attribute("src").split(",", 1)[1])
    (text, level), margin = decode(svg)
    assert (text, level in "QH", margin) == (link, True, 4)
    assert link.startswith(f"{live.address}/p#/{kind}/")
    assert (link.split("/")[-1] == job) == (kind == "edit")


def test_the_saws_link_opens_the_saw_and_changes_no_reading(phone, other, live):
    page, job = begun(phone, live)
    share(page)
    saw = open_page(other.new_page(), link_of(page, "saw"))
    expect(saw).to_have_url(re.compile("/saw$"))
    tab(saw, "Survey")
    notice = saw.locator(".notice")
    expect(notice).to_contain_text("the saw’s link: it shows the survey, and changes nothing")
    field(saw, "Height").tap()
    key(saw, "9", "7", "ok")
    told = saw.locator(".sheet .notice")
    expect(told).to_contain_text("marks cuts and changes nothing else. Nothing was changed.")
    expect(saw.locator(".sheet .entry")).to_have_text('97"')
    saw.reload()
    expect(saw.locator(".sheet .entry")).to_have_text('97"')
    key(saw, "done")
    expect(saw.locator(".sheet")).to_have_count(0)
    expect(field(saw, "Height")).to_contain_text('96"')
    expect(saw.locator(".sent")).to_contain_text("Sent ")
    saw.get_by_role("link", name="Share").tap()
    expect(saw.locator("main")).to_contain_text("Links are given out by the phone that measures.")
    assert on_laptop(page, live.address, job)["job"]["walls"][0]["height_left"] == '96"'
    # What is measured elsewhere is seen here.
    tab(page, "Survey")
    keyed(page, "Height", ["9", "8"])
    tab(saw, "Survey")
    expect(saw.locator(".sheet .entry")).to_have_text('97"')
    key(saw, "back", "back", "done")  # it is not wanted any more
    expect(field(saw, "Height")).to_contain_text('98"')


def test_a_short_code_opens_the_job_and_a_wrong_one_is_told(phone, other, live):
    page, _ = begun(phone, live)
    share(page)
    page.get_by_role("button", name="A short code to type").tap()
    code = page.locator(".code").inner_text()
    assert re.fullmatch(r"\d{4} \d{4}", code)
    expect(page.locator(".share")).to_contain_text("It lasts 10 minutes.")
    helper = open_page(other.new_page(), live.address, "#/jobs")

    def types(text):
        helper.get_by_label("Short code", exact=True).fill(text)
        helper.get_by_role("button", name="Open by the code").tap()

    wrong = str((int(code.replace(" ", "")) + 1) % 10**8).zfill(8)
    for text in (wrong, "1234", ""):
        types(text)
        told = helper.locator(".problem")
        expect(told).to_contain_text(f'"{text}" opens no job.')
        expect(told).to_contain_text("Look at the 8 digits again; a code lasts 10 minutes.")
    types(code)
    expect(field(helper, "Height")).to_contain_text('96"')


def test_a_link_that_was_taken_back_is_told_and_a_new_scan_lets_what_is_unsent_through(
    phone, other, logged
):
    a, b, job = shared(phone, other, logged.address)
    with out_of_reach(b):
        typed(b, "Title", "Hers")
        keyed(b, "Height", ["9", "7"])
        to_send(b, 2)
        share(a)
        old = link_of(a, "edit")
        a.get_by_role("button", name="Take this link back").tap()
        expect(a.locator(".share")).to_contain_text("is shut out, but for this one")
        a.get_by_role("button", name="Yes, take it back").tap()
        expect(a.locator(".share")).to_contain_text("The old link opens nothing any more.")
        new = link_of(a, "edit")
        assert new != old
    # Its readings stay, and nothing of them is sent.
    told = b.locator(".notice")
    expect(told).to_contain_text("was taken back")
    to_send(b, 2)
    expect(field(b, "Height")).to_contain_text('97"')
    keyed(b, "Width", ["1", "2", "0"])
    to_send(b, 3)
    tab(a, "Survey")
    keyed(a, "Face", ["5"])  # this phone goes on
    sent(a)
    b.goto(old)
    expect(told).to_contain_text("was taken back")
    assert on_laptop(a, logged.address, new.split("/")[-1])["job"].get("title") == ""
    b.goto(new)
    sent(b)
    expect(told).to_have_count(0)
    expect(field(b, "Face")).to_contain_text('5"')
    expect(field(a, "Width")).to_contain_text('120"')
    assert a.locator("h1").inner_text() == "Hers"
    # One record, under the name it had; each of its changes was taken once.
    tab(b, "Survey")
    b.get_by_role("link", name="All jobs").tap()
    expect(b.locator(".card.go")).to_have_count(1)
    writer = on_phone(b, b.url and job)["writer"]
    counts = taken(logged.said())
    assert sorted(n for name, n in counts.items() if name.startswith(writer)) == [1, 1, 1]
    assert set(counts.values()) == {1}


def test_a_phone_that_looks_on_hears_at_once_that_its_link_was_taken_back(phone, other, live):
    a, b, _ = shared(phone, other, live.address)
    share(a)
    a.get_by_role("button", name="Take this link back").tap()
    a.get_by_role("button", name="Yes, take it back").tap()
    expect(b.locator(".notice")).to_contain_text("was taken back")
    tab(a, "Survey")
    expect(a.locator(".notice")).to_have_count(0)
    typed(a, "Title", "Goes on")
    sent(a)
    assert b.locator("h1").inner_text() == "Untitled job"


@pytest.mark.parametrize("then", ["goes on", "takes it back again", "comes back later"])
def test_who_takes_a_link_back_and_loses_the_answer_is_not_shut_out(phone, live, then):
    page, job = begun(phone, live)
    share(page)
    old = link_of(page, "edit")
    lost = lose_answer(page, "**/api/jobs/*/links")
    page.get_by_role("button", name="Take this link back").tap()
    page.get_by_role("button", name="Yes, take it back").tap()
    expect(page.locator(".share")).to_contain_text("The laptop did not answer")
    assert lost == [200]
    gone = page.request.get(f"{live.address}/api/jobs/{old.split('/')[-1]}")
    assert gone.status == 410
    if then == "takes it back again":
        page.get_by_role("button", name="Take this link back").tap()
        page.get_by_role("button", name="Yes, take it back").tap()
        expect(page.locator(".share")).to_contain_text("The old link opens nothing any more.")
        assert link_of(page, "edit") != old
    if then == "comes back later":
        page.goto(live.address + "/version.json")
        page.goto(f"{live.address}/p#/job/{job}/share")
        expect(page.locator("img.qr")).to_be_visible()
        assert link_of(page, "edit") != old
    tab(page, "Survey")
    keyed(page, "Width", ["1", "2", "0"])
    sent(page)
    expect(page.locator(".notice")).to_have_count(0)
    record = on_phone(page, job)
    assert record["access"] != job and not record["ended"]
    assert not (record["pending"] or {}).get("edit")
    there = on_laptop(page, live.address, record["access"])["job"]
    assert there["walls"][0]["width_floor"] == '120"'
