"""Phones that share a job: what is on a phone, what the laptop has and took, who is in reach."""

import contextlib
import re
import socket
import time
from collections import Counter

from playwright.sync_api import expect

from calc.shared.job_copy import write
from calc.shared.seen import top
from tests.browser.hands import open_page, start_job

# One step in the phone's own store of jobs, as it is on its disk.
STORE = """([version, how, value]) => new Promise((done, fail) => {
  const opening = indexedDB.open('lapwright', version ?? undefined);
  opening.onupgradeneeded = () => opening.result.createObjectStore('jobs', {keyPath: 'key'});
  opening.onerror = () => fail(opening.error);
  opening.onsuccess = () => {
    const step = opening.result.transaction('jobs', how === 'put' ? 'readwrite' : 'readonly');
    const asked = step.objectStore('jobs')[how](value);
    step.onabort = () => fail(step.error);
    step.oncomplete = () => { opening.result.close(); done(asked.result ?? null); };
  };
})"""

# What a person does in a text field or a choice, without the person's pace.
TYPE = """([label, texts]) => {
  const own = (e) => [...e.childNodes].filter((n) => n.nodeType === Node.TEXT_NODE);
  const named = (e) => own(e).map((n) => n.data).join('').trim() === label;
  const row = [...document.querySelectorAll('label.field .name')].find(named).closest('label');
  const input = row.querySelector('input, select');
  for (const text of texts) {
    input.value = text;
    input.dispatchEvent(new Event('change'));
  }
}"""

# The page is left, or looked at again, as a phone tells it.
LOOK = """(hidden) => {
  Object.defineProperty(document, 'hidden', {value: hidden, configurable: true});
  Object.defineProperty(document, 'visibilityState',
    {value: hidden ? 'hidden' : 'visible', configurable: true});
  document.dispatchEvent(new Event('visibilitychange'));
}"""


def free_port():
    """A port of our choice, as in use: one that the system picks can't be taken again at once."""
    with socket.create_server(("127.0.0.1", 0)) as s:
        return s.getsockname()[1]


def on_phone(page, key):
    """The record of a job on the phone."""
    return page.evaluate(STORE, [None, "get", key])


def keep(page, record, version=None):
    """Put a record among the jobs on the phone, of a database of that version."""
    page.evaluate(STORE, [version, "put", record])


def on_laptop(page, address, key):
    """The job that the key opens on the laptop, as its API answers."""
    answer = page.request.get(f"{address}/api/jobs/{key}")
    assert answer.status == 200, answer.text()
    return answer.json()


def taken(*lines):
    """writer.number -> how often the laptop's log says that it took that write."""
    found = re.findall(r"write (\S+) taken", "".join("".join(some) for some in lines))
    return Counter(found)


def shared(page, other, address):
    """A job on one phone that another opens by its link to measure: (page, its page, its key)."""
    a = open_page(page.new_page(), address)
    key = start_job(a)
    sent(a)
    worked_by_worker(a)
    return a, joins(other, address, key), key


def joins(other, address, key, kind="edit"):
    """The page of another phone that opens the job by a link."""
    page = open_page(other.new_page(), address, f"#/{kind}/{key}")
    expect(page.locator(".asof")).to_contain_text("As of")
    worked_by_worker(page)
    return page


def worked_by_worker(page):
    """Wait until the page's service worker is at work: from then on it is asked the same way."""
    wait_until(page, lambda: page.evaluate("navigator.serviceWorker.controller !== null"))


def other_phone_writes(page, address, job, change):
    """Another phone does `change` to the job document, over the API."""
    got = on_laptop(page, address, job)
    change(got["job"])
    written = write(got["copy"], got["job"], "another", top(got["copy"]["seen"]) + 1)
    answer = page.request.post(
        f"{address}/api/jobs/{job}/writes",
        data={"writes": [written["copy"]], "have": got["rev"]},
    )
    assert answer.status == 200


def typed(page, label, *texts):
    """Change a text field or a choice to each of the texts, one after the other, at once."""
    page.locator(".name", has_text=label).first.wait_for()
    page.evaluate(TYPE, [label, list(texts)])


def sent(page, within=30_000):
    """Wait until the laptop has all that was keyed in."""
    expect(page.locator(".sent")).to_contain_text("Sent ", timeout=within)


def to_send(page, count):
    expect(page.locator(".sent")).to_have_text(f"Saved on this phone, {count} to send")


@contextlib.contextmanager
def out_of_reach(*pages):
    """These pages reach no laptop meanwhile: what they ask is refused."""
    for page in pages:
        page.route("**/api/**", lambda route: route.abort())
    yield
    for page in pages:
        page.unroute("**/api/**")


def lose_answer(page, pattern, method="POST"):
    """The laptop takes the next such request, and its answer never arrives: [its status]."""
    lost = []

    def lose(route):
        if lost or route.request.method != method:
            route.continue_()
            return
        lost.append(0)
        lost[0] = route.fetch().status
        route.abort()

    page.route(pattern, lose)
    return lost


def look_away(page):
    page.evaluate(LOOK, True)


def look_back(page):
    page.evaluate(LOOK, False)


class Watch:
    """Seconds since it was made."""

    def __init__(self):
        self._start = time.monotonic()

    def __call__(self):
        return time.monotonic() - self._start


def wait_until(page, true, within=30.0):
    """Wait until true() is, and let the page go on meanwhile."""
    watch = Watch()
    while not true():
        assert watch() < within, "waited in vain"
        page.wait_for_timeout(10)
