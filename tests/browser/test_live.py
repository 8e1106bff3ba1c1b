"""Phones that look at one job: what one writes the others see; a laptop that hangs or is away."""

import re
import statistics

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import FLAGS, SCREEN, serving
from tests.browser.hands import (
    field,
    key,
    keyed,
    open_page,
    opened,
    planned,
    saved_here,
    start_job,
    tab,
)
from tests.browser.rooms import house
from tests.browser.shared import (
    Watch,
    free_port,
    look_away,
    look_back,
    on_laptop,
    other_phone_writes,
    sent,
    shared,
    to_send,
    typed,
    wait_until,
)
from tests.chromium import find
from tests.jobs import job

DRAFT = {
    "format": "lapwright-job",
    "version": 1,
    "board": {"stock": [{}]},
    "walls": [{"studs": {}}],
}
SOON = 4.0  # seconds until another phone sees a change: 2 on an idle machine, two busy cores
CAUGHT_UP = 12.0  # seconds after what was the matter is over: 5 on an idle machine

# Everything that the page asks of the laptop, with how long it has waited, or waits. Of a stream
# it is until it has begun.
ASKED = """
const all = [];
window.asked = () => all.map(({path, began, ms}) => (
  {path, over: ms !== null, ms: ms ?? performance.now() - began}));
const ask = (url) => {
  const entry = {path: new URL(url, location).pathname, began: performance.now(), ms: null};
  if (entry.path.startsWith('/api/')) all.push(entry);
  return () => { entry.ms ??= performance.now() - entry.began; };
};
const before = window.fetch;
window.fetch = (url, options) => {
  const over = ask(url);
  const answer = before(url, options);
  answer.then(over, over);
  return answer;
};
const Stream = window.EventSource;
window.EventSource = class extends Stream {
  constructor(url) {
    super(url);
    this.over = ask(url);
    this.addEventListener('hello', this.over);
    this.addEventListener('error', this.over);
  }

  close() {
    this.over();
    super.close();
  }
};
"""


def seen(page, title):
    """Seconds until the page shows the job under that title."""
    watch = Watch()
    wait_until(page, lambda: page.locator("h1").inner_text() == title)
    return watch()


def streams(page):
    """The live streams that the page holds open, as they come and go."""
    open_now = []
    ours = lambda r: "/live?" in r.url  # noqa: E731
    page.on("request", lambda r: ours(r) and open_now.append(r))
    for over in ("requestfinished", "requestfailed"):
        page.on(over, lambda r: r in open_now and open_now.remove(r))
    return open_now


def test_a_change_is_seen_on_the_other_phone_within_two_seconds(phone, other, live):
    a, b, _ = shared(phone, other, live.address)
    delays = []
    for n in range(10):
        writes, reads = (a, b) if n % 2 else (b, a)
        typed(writes, "Title", f"Title {n}")
        delays.append(seen(reads, f"Title {n}"))
    print(f"median {statistics.median(delays):.3f} s, longest {max(delays):.3f} s")
    assert statistics.median(delays) < SOON
    # By the keypad as well, and what another phone changed is said.
    keyed(a, "Height", ["9", "6"])
    expect(field(b, "Height")).to_contain_text('96"')
    expect(b.locator(".asof")).to_contain_text("Another phone: Height")
    for page in (a, b):
        sent(page)
        expect(page.locator(".notice")).to_have_count(0)


def test_a_hidden_page_lets_its_stream_go_and_catches_up_when_it_is_looked_at(phone, other, live):
    a, b, _ = shared(phone, other, live.address)
    held = streams(b)
    b.reload()
    wait_until(b, lambda: len(held) == 1)
    look_away(b)
    wait_until(b, lambda: not held)
    typed(a, "Title", "Meanwhile")
    sent(a)
    assert b.locator("h1").inner_text() != "Meanwhile"
    look_back(b)
    assert seen(b, "Meanwhile") < CAUGHT_UP
    assert len(held) == 1
    # As a page that comes out of the browser's memory of pages left.
    b.evaluate("dispatchEvent(new PageTransitionEvent('pagehide', {persisted: true}))")
    wait_until(b, lambda: not held)
    typed(a, "Title", "Once more")
    sent(a)
    b.evaluate("dispatchEvent(new PageTransitionEvent('pageshow', {persisted: true}))")
    assert seen(b, "Once more") < CAUGHT_UP
    assert len(held) == 1


def test_a_page_from_the_browsers_memory_catches_up(live, chromium):
    """The browser's own memory of pages left, which the other tests run without."""
    browser = chromium.browser_type.launch(
        executable_path=find(), args=FLAGS, ignore_default_args=["--disable-back-forward-cache"]
    )
    try:
        context = browser.new_context(viewport=SCREEN, has_touch=True)
        a = open_page(context.new_page(), live.address)
        a.evaluate("addEventListener('pageshow', (e) => { window.persisted = e.persisted; })")
        held = start_job(a)
        sent(a)
        a.goto(live.address + "/version.json")
        other_phone_writes(a, live.address, held, lambda doc: doc.update(title="Meanwhile"))
        a.go_back(wait_until="commit")
        assert seen(a, "Meanwhile") < CAUGHT_UP
        assert a.evaluate("window.persisted") is True
    finally:
        browser.close()


def times(page):
    """Seconds for each of what a person does on a job's page, the loading first."""
    out = []

    def done(what):
        out.append(watch() - sum(out))
        return what

    watch = Watch()
    page.reload(wait_until="commit")
    expect(field(page, "Height")).to_be_visible()
    done("open")
    tab(page, "Layout")
    expect(page.locator("main")).to_contain_text("Still needed")
    done("tab")
    tab(page, "Survey")
    field(page, "Height").tap()
    done("pad")
    key(page, "9", "6")
    expect(page.locator(".sheet .entry")).to_have_text('96"')
    done("key")
    key(page, "done")
    expect(field(page, "Height")).to_contain_text('96"')
    done("result")
    return out


def given_up(page, path):
    """Wait until a request with that in its path was given up; no other waits for longer."""

    def asked():
        return page.evaluate("asked()")

    wait_until(
        page,
        lambda: any(path in a["path"] and a["over"] and a["ms"] > 2000 for a in asked()),
    )
    assert [a for a in asked() if a["ms"] > 5000] == []


def test_a_laptop_that_hangs_over_a_plan_is_not_waited_for(phone, live):
    phone.add_init_script(ASKED)
    page = phone.new_page()
    with page.expect_request("**/api/plan"):
        opened(page, live.address, house())
    live.hang()
    try:
        given_up(page, "/api/plan")
    finally:
        live.go()


def test_a_laptop_that_hangs_holds_nothing_up_and_all_goes_on_with_it(phone, other, live):
    for each in (phone, other):
        each.add_init_script(ASKED)
    a, b, _ = shared(phone, other, live.address)
    saved_here(open_page(a, live.address, "#/quick"))
    a.go_back(wait_until="commit")
    with_it = times(a)
    sent(a)
    for page in (a, b):
        page.evaluate("window.stays = true")
    live.hang()
    try:
        without = times(a)
        assert [s - w for s, w in zip(without, with_it, strict=True) if s - w > 1] == []
        a.evaluate("window.stays = true")
        typed(b, "Title", "Hers")
        typed(a, "Start at the", "ceiling")
        for page in (a, b):
            to_send(page, 1)
        # Each sends, and gives up, and tries again; one of them began with the laptop hung.
        for page, path in ((a, "/live"), (a, "/writes"), (b, "/writes")):
            given_up(page, path)
    finally:
        live.go()
    assert seen(a, "Hers") < CAUGHT_UP
    for page in (a, b):
        sent(page, 1000 * CAUGHT_UP)
        assert page.evaluate("window.stays")
    expect(b.locator("label.field", has_text="Start at the").locator("select")).to_have_value(
        "ceiling"
    )


def clock(page, back=0):
    """HH:MM as the page has it, so many ms ago."""
    return page.evaluate("(ms) => new Date(Date.now() - ms).toTimeString().slice(0, 5)", back)


def test_more_than_thirty_seconds_without_a_word_are_told_until_there_is_one(phone, live):
    page = phone.new_page()
    page.clock.install()
    opened(page, live.address, DRAFT)
    asof = page.locator(".asof")
    expect(asof).to_have_text(re.compile(r"^As of \d\d:\d\d$"))
    heard = asof.inner_text()
    live.hang()
    try:
        page.clock.fast_forward(20_000)
        expect(asof).to_have_text(heard)
        page.clock.fast_forward(15_000)
        expect(asof).to_have_text(f"▲ Old: {heard.lower()}")
    finally:
        live.go()
    expect(asof).to_have_text(re.compile(r"^As of \d\d:\d\d$"), timeout=1000 * CAUGHT_UP)


@pytest.mark.parametrize("minutes", [0, 10])
def test_a_laptop_that_was_away_is_caught_up_with_and_nothing_reloads(
    phone, other, tmp_path, minutes
):
    port = free_port()
    with serving(tmp_path / "data", port) as laptop:
        for each in (phone, other):
            each.clock.install()
        a, b, held = shared(phone, other, laptop.address)
        for page in (a, b):
            page.evaluate("window.stays = true")
        as_of = b.locator(".asof").inner_text()
    typed(a, "Title", "Meanwhile")
    to_send(a, 1)
    if minutes:
        for page in (a, b):
            page.clock.fast_forward(f"{minutes}:00")
        expect(b.locator(".asof")).to_have_text(f"▲ Old: {as_of.lower()}")
    with serving(tmp_path / "data", port) as laptop:
        watch = Watch()
        seen(b, "Meanwhile")
        assert watch() < CAUGHT_UP
        sent(a, 1000 * CAUGHT_UP)
        expect(b.locator(".asof")).to_contain_text(f"As of {clock(b)}")
        assert on_laptop(a, laptop.address, held)["job"]["title"] == "Meanwhile"
        assert a.evaluate("window.stays") and b.evaluate("window.stays")


def test_opening_a_job_writes_nothing(phone, other, live):
    page = phone.new_page()
    job_key = opened(page, live.address, job())
    planned(page)

    def there():
        return [
            page.request.get(f"{live.address}/api/jobs/{job_key}{of}").json()
            for of in ("", "/plan")
        ]

    wait_until(page, lambda: there()[1]["rev"])
    before = there()
    page.close()
    for context, route in ((phone, f"#/job/{job_key}/survey"), (other, f"#/edit/{job_key}")):
        page = context.new_page()
        asked = []
        page.on(
            "request", lambda r, asked=asked: asked.append((r.method, r.url.split("/api/")[-1]))
        )
        open_page(page, live.address, route)
        planned(page)
        for name in ("Layout", "Saw", "Survey"):
            tab(page, name)
        page.get_by_role("link", name="Share").tap()
        expect(page.locator("img.qr")).to_be_visible()
        expect(page.locator(".asof")).to_contain_text("As of")
        # A question to the laptop, and the plan, where this phone worked it out, store no job.
        wrote = {a for a in asked if a[0] != "GET"}
        assert wrote <= {("POST", "plan"), ("PUT", f"jobs/{job_key}/plan")}
        assert there() == before
