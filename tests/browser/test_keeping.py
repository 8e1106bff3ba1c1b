"""What a phone is asked for while a job is open: to keep it, and to keep its screen lit."""

import pytest
from playwright.sync_api import expect

from tests.browser.hands import field, keyed, open_page, start_job

COPY = "Save a job file now and then, under Share."
STORAGE = """Object.defineProperty(navigator, 'storage', {value: {persist() {
  localStorage.asked = Number(localStorage.asked ?? 0) + 1;
  return ANSWER;
}}});"""
ANSWERS = {
    "granted": (
        STORAGE.replace("ANSWER", "Promise.resolve(true)"),
        "This phone keeps its jobs until you delete them.",
    ),
    "refused": (
        STORAGE.replace("ANSWER", "Promise.resolve(false)"),
        f"This phone may clear its jobs when its space runs short. {COPY}",
    ),
    "broken": (
        STORAGE.replace("ANSWER", "Promise.reject(new TypeError('no'))"),
        f"This phone doesn’t say whether it keeps its jobs. {COPY}",
    ),
    "absent": (
        "Object.defineProperty(navigator, 'storage', {value: undefined});",
        f"This phone doesn’t say whether it keeps its jobs. {COPY}",
    ),
}


@pytest.mark.parametrize("answer", ANSWERS)
def test_after_the_first_job_is_saved_the_phone_is_asked_to_keep_it_and_that_is_told_once(
    phone, live, answer
):
    script, words = ANSWERS[answer]
    page = phone.new_page()
    page.add_init_script(script)
    open_page(page, live.address)
    assert page.evaluate("localStorage.asked") is None
    start_job(page)
    told = page.locator(".low")
    expect(told.locator("p")).to_have_text(words)
    if answer == "granted":
        assert told.get_by_role("link").count() == 0
        told.get_by_role("button", name="Understood").tap()
    else:
        told.get_by_role("link", name="Save one now").tap()
        expect(page.get_by_role("button", name="Job file")).to_be_visible()
    expect(told).to_have_count(0)
    start_job(page)
    page.reload()
    start_job(page)
    expect(told).to_have_count(0)
    assert page.evaluate("localStorage.asked") == (None if answer == "absent" else "1")


# A phone's wake lock, which lets go by itself where the page is left.
WAKE = """
window.lit = [];
let held = null;
Object.defineProperty(navigator, 'wakeLock', {value: {async request(kind) {
  if (window.flat) throw new DOMException('battery low', 'NotAllowedError');
  const lock = new EventTarget();
  lock.release = async () => {
    if (held !== lock) return;
    held = null;
    lit.push('dark');
    lock.dispatchEvent(new Event('release'));
  };
  held = lock;
  lit.push(kind);
  return lock;
}}});
window.leave = (away) => {
  const value = away ? 'hidden' : 'visible';
  Object.defineProperty(document, 'visibilityState', {value, configurable: true});
  if (away && held) held.release();
  document.dispatchEvent(new Event('visibilitychange'));
};
"""


def lit(page, *seen):
    page.wait_for_function("(seen) => JSON.stringify(lit) === JSON.stringify(seen)", arg=list(seen))


def test_the_screen_stays_lit_while_a_job_is_open(phone, live):
    page = phone.new_page()
    page.add_init_script(WAKE)
    open_page(page, live.address)
    assert page.evaluate("lit") == []
    job = start_job(page)
    lit(page, "screen")
    page.evaluate(f"location.hash = '#/job/{job}/saw'")
    page.evaluate("leave(true)")
    lit(page, "screen", "dark")
    page.evaluate("leave(false)")
    lit(page, "screen", "dark", "screen")
    page.evaluate("location.hash = '#/quick'")
    lit(page, "screen", "dark", "screen", "dark")
    page.evaluate("leave(true)")
    page.evaluate("leave(false)")
    assert page.evaluate("lit.length") == 4


@pytest.mark.parametrize(
    "script",
    [
        "Object.defineProperty(navigator, 'wakeLock', {value: undefined});",
        WAKE + "window.flat = true;",
    ],
    ids=["absent", "refused"],
)
def test_without_it_everything_else_is_the_same(phone, live, script):
    page = phone.new_page()
    page.add_init_script(script)
    open_page(page, live.address)
    start_job(page)
    keyed(page, "Height", ["9", "6"])
    expect(field(page, "Height")).to_contain_text('96"')
    expect(page.locator(".notice")).to_have_count(0)
    assert page.evaluate("window.lit ?? []") == []
