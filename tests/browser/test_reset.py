"""A page that is stuck on a phone is reset; its jobs stay, unless a person wants them gone."""

import pytest
from playwright.sync_api import Error, expect

from tests.browser.changing import Laptop
from tests.browser.conftest import SCREEN
from tests.browser.hands import field, keyed, open_page, saved_here, start_job

DID = [
    "What opened the page without the laptop is switched off.",
    "The page’s files are off this phone.",
]
HERE = (
    "async () => [(await navigator.serviceWorker.getRegistrations()).length, await caches.keys()]"
)


@pytest.fixture
def laptop(tmp_path):
    one = Laptop(tmp_path)
    yield one
    if one.up:
        one.kill()


@pytest.fixture
def stuck(chromium):
    """A phone on which scripts may break unheard, as they do where a page is stuck."""
    context = chromium.new_context(viewport=SCREEN, has_touch=True)
    yield context
    context.close()


def told(page):
    return page.locator("#did li")


def test_a_page_whose_own_script_is_broken_comes_anew_with_its_jobs(stuck, live):
    page = open_page(stuck.new_page(), live.address)
    saved_here(page)
    job = start_job(page)
    keyed(page, "Height", ["9", "6"])
    expect(page.locator(".sent")).to_contain_text("Sent ")
    page.evaluate(
        """async () => {
          const cache = await caches.open((await caches.keys())[0]);
          const [held] = (await cache.keys()).filter((r) => new URL(r.url).pathname === '/app.js');
          const headers = {'Content-Type': 'text/javascript'};
          await cache.put(held, new Response('throw', {headers}));
        }"""
    )
    page.close()
    page = stuck.new_page()
    page.goto(live.address + "/p")
    expect(page.locator("#app")).to_have_text("Lapwright is opening.")

    page.goto(live.address + "/reset")
    expect(page.locator("#here")).to_have_text(
        "On this phone: 1 job (Untitled job), all of them on the laptop as well."
    )
    page.get_by_role("button", name="Reset the page, keep the jobs").tap()
    expect(told(page)).to_have_text(
        [*DID, "Kept: 1 job (Untitled job), all of them on the laptop as well."]
    )
    assert page.evaluate(HERE) == [0, []]
    page.get_by_role("link", name="Open the page again").tap()
    saved_here(page)
    page.goto(f"{live.address}/p#/job/{job}/survey")
    expect(field(page, "Height")).to_contain_text('96"')


def test_the_second_button_names_what_is_lost_and_deletes_it(phone, live):
    page = open_page(phone.new_page(), live.address, "#/quick/remaining-run")
    keyed(page, "Run, corner to corner", ["7", "5"])
    start_job(page)
    expect(page.locator(".sent")).to_contain_text("Sent ")
    page.locator("label.field input").first.fill("Hall")
    page.locator("label.field input").first.blur()
    expect(page.locator("h1")).to_have_text("Hall")
    expect(page.locator(".sent")).to_contain_text("Sent ")
    page.route("**/api/jobs**", lambda route: route.abort())
    start_job(page)
    expect(page.locator(".sent")).to_have_text("Saved on this phone, 1 to send")

    reset = phone.new_page()
    reset.goto(live.address + "/reset")
    reset.get_by_text("Delete the jobs on this phone too").tap()
    lost = reset.locator("#lost")
    expect(lost).to_contain_text("Gone from this phone: 2 jobs (")
    expect(lost).to_contain_text("Hall")
    expect(lost).to_contain_text("1 of them not on the laptop yet.")
    reset.get_by_role("button", name="Delete all of this on this phone").tap()
    page.close()
    expect(told(reset)).to_have_text(
        [*DID, "The jobs, readings and settings on this phone are deleted."]
    )
    expect(reset.locator("#here")).to_have_text("No job is on this phone.")
    assert reset.evaluate("Object.keys(localStorage)") == []
    reset.get_by_role("link", name="Open the page again").tap()
    expect(reset.locator("nav.tabs")).to_be_visible()
    reset.goto(live.address + "/p#/jobs")
    expect(reset.locator("main")).to_contain_text("No job is on this phone yet.")


def test_it_is_reached_past_a_worker_that_breaks_everything(stuck, laptop):
    script = laptop.root / "web" / "sw.js"
    good = script.read_text()
    script.write_text(good.replace("return held ?? fetch(request);", "return nonsense;"))
    page = stuck.new_page()
    page.goto(laptop.address + "/p")
    page.evaluate("() => navigator.serviceWorker.ready")
    page.wait_for_function("() => navigator.serviceWorker.controller !== null")
    script.write_text(good)
    with pytest.raises(Error, match="ERR_FAILED"):
        page.reload()
    page.close()
    page = stuck.new_page()
    page.goto(laptop.address + "/reset")
    page.get_by_role("button", name="Reset the page, keep the jobs").tap()
    expect(told(page)).to_have_text([*DID, "There was no job on this phone to keep."])
    page.get_by_role("link", name="Open the page again").tap()
    saved_here(page)
