"""The whole path: scan the laptop's QR, survey a wall by the keypad, lose the laptop, cut."""

import io
import socket

import zxingcpp
from PIL import Image
from playwright.sync_api import expect

from tests.browser.conftest import SCREEN, serving
from tests.browser.hands import (
    cut_list,
    field,
    key,
    keyed,
    open_page,
    planned,
    saved_here,
    start_job,
    survey_wall,
    tab,
)
from tests.browser.measure import controls, too_small


def scan(page, selector):
    """What a camera reads off the QR on the screen (a general library decodes it)."""
    page.locator(selector).evaluate("e => e.scrollIntoView({block: 'center'})")
    picture = Image.open(io.BytesIO(page.locator(selector).screenshot()))
    found = zxingcpp.read_barcodes(picture)
    assert [f.format for f in found] == [zxingcpp.BarcodeFormat.QRCode]
    return found[0].text


def test_scan_survey_lose_the_laptop_reload_and_cut(chromium, phone, live):
    laptop = chromium.new_page(viewport={"width": 1280, "height": 800})
    laptop.goto(live.address)
    link = scan(laptop, "img, svg")
    laptop.close()
    assert link == live.address + "/p"

    page = phone.new_page()
    assert page.viewport_size == SCREEN
    page.goto(link)
    saved_here(page)
    start_job(page)
    survey_wall(page)
    before = cut_list(page)
    assert "Board 1" in before and '159-3/4"' in before
    expect(page.locator(".sent")).to_contain_text("Sent ")

    live.kill()
    page.reload()
    assert cut_list(page) == before
    # A new tab on the job's own link, and a change, work as well.
    link = page.url
    again = phone.new_page()
    again.goto(link)
    assert cut_list(again) == before
    tab(again, "Survey")
    keyed(again, "Height", ["4", "8"])
    expect(again.locator(".sent")).to_have_text("Saved on this phone, 1 to send")
    assert cut_list(again) != before


def test_a_hung_laptop_holds_nothing_up(phone, live):
    page = open_page(phone.new_page(), live.address)
    saved_here(page)
    live.hang()
    try:
        page.reload()
        page.locator("a", has_text="Remaining run").tap()
        keyed(page, "Run, corner to corner", ["7", "5", "3/4", "heavy"])
        expect(page.locator(".result .answer")).to_have_text('75-1/2"')
        expect(page.locator(".sent")).to_have_text("Laptop not reachable", timeout=5000)
    finally:
        live.go()


def test_a_second_phone_opens_the_job_by_the_qr_under_share(chromium, phone, live):
    page = open_page(phone.new_page(), live.address)
    start_job(page)
    survey_wall(page)
    expect(page.locator(".sent")).to_contain_text("Sent ")
    page.get_by_role("link", name="Share").tap()
    expect(page.locator("img.qr")).to_be_visible()
    link = scan(page, "img.qr")

    helper = chromium.new_context(viewport=SCREEN, has_touch=True)
    saw = helper.new_page()
    saw.goto(link)
    expect(field(saw, "Height")).to_contain_text('96"')
    assert cut_list(saw) == cut_list(page)
    helper.close()


# Where the width's field stood, from one picture to the next.
PLACES = """() => {
  window.places = [];
  const look = () => {
    const at = document.querySelector('[data-path$=".width_floor"]');
    const here = at && Math.round(at.getBoundingClientRect().top + scrollY);
    if (at && places.at(-1) !== here) places.push(here);
    requestAnimationFrame(look);
  };
  look();
}"""

# Only what comes after the picture that is on the screen now.
FROM_HERE = """() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => {
  places = places.slice(-1);
  done();
})))"""


def test_the_form_stands_still_while_the_plan_is_worked_out(phone, live):
    page = open_page(phone.new_page(), live.address)
    page.evaluate(PLACES)
    start_job(page)
    expect(page.locator(".needs")).to_contain_text("Still needed: face")
    page.wait_for_timeout(1500)  # the engine that plans starts meanwhile
    assert len(page.evaluate("places")) == 1
    survey_wall(page)
    page.evaluate(FROM_HERE)
    keyed(page, "Height", ["9", "0"])
    planned(page)
    assert len(page.evaluate("places")) == 1
    # Nor where another wall still lacks something.
    page.get_by_role("button", name="Add a wall").tap()
    expect(page.locator(".needs")).to_contain_text("Wall 2 still needs: height, width")
    keyed(page, "Height", ["8", "8"])
    expect(page.locator(".needs")).to_contain_text("Wall 2 still needs: width")
    page.evaluate(FROM_HERE)
    planned(page)
    keyed(page, "Height", ["9", "0"])
    planned(page)
    assert len(page.evaluate("places")) == 1


def test_a_job_that_is_not_here_says_what_to_do(phone, live):
    page = open_page(phone.new_page(), live.address, "#/job/" + "A" * 22 + "/saw")
    expect(page.locator("main")).to_contain_text("This job is not here yet")
    expect(page.get_by_role("button", name="Try again")).to_be_visible()


def test_two_phones_apart_keep_both_until_a_person_picks(chromium, phone, live):
    page = open_page(phone.new_page(), live.address)
    job = start_job(page)
    keyed(page, "Height", ["9", "6"])
    expect(page.locator(".sent")).to_contain_text("Sent ")
    other = chromium.new_context(viewport=SCREEN, has_touch=True)
    theirs = open_page(other.new_page(), live.address, f"#/job/{job}/survey")
    expect(field(theirs, "Height")).to_contain_text('96"')
    for each in (page, theirs):
        each.route("**/api/**", lambda route: route.abort())  # both walk out of reach
    keyed(theirs, "Height", ["9", "7"])
    keyed(theirs, "Width", ["1", "2", "0"])
    keyed(page, "Height", ["9", "8"])
    for each in (page, theirs):
        each.unroute("**/api/**")
    for each in (page, theirs):
        told = each.locator(".notice", has_text="Height: two phones say different things.")
        expect(told.get_by_role("button")).to_have_count(2)
        assert sorted(told.get_by_role("button").all_inner_texts()) == ['97"', '98"']
        # What only one of them wrote is merged without a question.
        expect(field(each, "Width")).to_contain_text('120"')
        assert too_small(controls(each)) == []
    page.locator(".notice").get_by_role("button", name='97"').tap()
    for each in (page, theirs):
        expect(field(each, "Height")).to_contain_text('97"')
        expect(each.locator(".notice", has_text="Both are kept")).to_have_count(0)
        expect(each.locator(".sent")).to_contain_text("Sent ")
    other.close()


def test_undo_goes_back_and_survives_a_reload(phone, live):
    times = 3
    page = open_page(phone.new_page(), live.address)
    start_job(page)
    for n in range(times):
        keyed(page, "Height", ["9", str(n)])
    page.reload()
    expect(field(page, "Height")).to_contain_text(f'{90 + times - 1}"')
    for n in range(times - 2, -1, -1):
        page.get_by_role("button", name="Undo").tap()
        expect(field(page, "Height")).to_contain_text(f'{90 + n}"')
    page.get_by_role("button", name="Undo").tap()
    expect(field(page, "Height")).to_contain_text("needed")


def test_unsent_work_goes_to_the_laptop_when_it_comes_back(phone, tmp_path):
    # A port of our choice, as in use: one that the system picks can't be taken again at once.
    with socket.create_server(("127.0.0.1", 0)) as s:
        port = s.getsockname()[1]
    with serving(tmp_path / "data", port=port) as first:
        page = open_page(phone.new_page(), first.address)
        saved_here(page)
        job = start_job(page)
        expect(page.locator(".sent")).to_contain_text("Sent ")
        first.kill()
        keyed(page, "Height", ["9", "6"])
        expect(page.locator(".sent")).to_have_text("Saved on this phone, 1 to send")
    with serving(tmp_path / "data", port=port) as second:
        expect(page.locator(".sent")).to_contain_text("Sent ", timeout=20000)
        stored = page.request.get(f"{second.address}/api/jobs/{job}").json()
        assert stored["job"]["walls"][0]["height_left"] == '96"'


def test_a_reload_in_mid_entry_keeps_the_digits(phone, live):
    page = open_page(phone.new_page(), live.address)
    start_job(page)
    field(page, "Height").tap()
    key(page, "9", "6", "3/8")
    page.reload()
    expect(page.locator(".sheet .entry")).to_have_text('96-3/8"')
    key(page, "done")
    expect(field(page, "Height")).to_contain_text('96-3/8"')
