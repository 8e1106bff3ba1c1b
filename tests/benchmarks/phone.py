"""How soon the phone answers: `python -m tests.benchmarks.phone [--runs N] [--rate N]`.

With the server killed, from what the service worker holds:
  first  page start to the first quick answer on the screen, once by the browser's
         clock, once with the worker's own part multiplied by the rate: the
         browser's throttle slows the page's thread but does not reach a worker
  tap    finger on a key to the changed answer on the screen
Both at a CPU throttle of `rate` and, as the baseline of the same run, unthrottled.
Prints one JSON line for each. Nothing here passes or fails.
"""

import argparse
import json
import statistics
import tempfile
from pathlib import Path

from playwright.sync_api import expect, sync_playwright

from tests.browser.conftest import FLAGS, SCREEN, serving
from tests.browser.hands import field, key, open_page, saved_here
from tests.chromium import find

# Written into the page before its own scripts: when the first answer stands, and
# when the answer changed after a finger came down.
WATCH = """
window.seen = {first: 0, worker: 0, taps: []};
const RealWorker = Worker;
window.Worker = class extends RealWorker {
  constructor(...of) {
    super(...of);
    const start = performance.now();
    this.addEventListener('message', ({data}) => {
      if (data.ready) seen.worker = performance.now() - start;
    });
  }
};
let down = 0, before = '';
addEventListener('pointerdown', () => {
  down = performance.now();
  before = document.querySelector('.sheet .answer')?.textContent ?? '';
}, true);
new MutationObserver(() => {
  const answer = document.querySelector('.result .answer')?.textContent;
  if (!seen.first && answer) seen.first = performance.now();
  const now = document.querySelector('.sheet .answer')?.textContent ?? '';
  if (down && now && now !== before) {
    const since = down;
    down = 0;
    requestAnimationFrame(() => seen.taps.push(performance.now() - since));
  }
}).observe(document, {childList: true, subtree: true, characterData: true});
"""


def measure(runs: int, rate: int):
    """Yield (name, rate, list of ms)."""
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as data:
        browser = playwright.chromium.launch(executable_path=find(), args=FLAGS)
        phone = browser.new_context(viewport=SCREEN, has_touch=True, device_scale_factor=2)
        with serving(Path(data)) as server:
            page = open_page(phone.new_page(), server.address, "#/quick/remaining-run")
            field(page, "Run, corner to corner").tap()
            key(page, "1", "9", "2", "done")
            page.goto(page.url.split("#")[0] + "#/quick")
            saved_here(page)
            server.kill()
        address = server.address
        page.close()
        for throttle in (1, rate):
            first, worker, taps = [], [], []
            for _ in range(runs):
                page = phone.new_page()
                page.add_init_script(WATCH)
                session = phone.new_cdp_session(page)
                session.send("Emulation.setCPUThrottlingRate", {"rate": throttle})
                page.goto(f"{address}/p#/quick/remaining-run")
                expect(page.locator(".result .answer")).to_have_text('191-3/4"')
                seen = page.evaluate("seen")
                first.append(seen["first"])
                worker.append(seen["worker"])
                field(page, "Run, corner to corner").tap()
                for n in "918273":
                    key(page, n)
                    page.wait_for_timeout(150)
                taps += page.evaluate("seen.taps")
                page.evaluate("localStorage.removeItem('lapwright.pad')")  # the next starts anew
                page.close()
            yield "first", throttle, first
            yield "worker start", throttle, worker
            if throttle > 1:
                slowed = [f + w * (throttle - 1) for f, w in zip(first, worker, strict=True)]
                yield "first, worker times the rate too", throttle, slowed
            yield "tap", throttle, taps
        browser.close()


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--runs", type=int, default=5)
    options.add_argument("--rate", type=int, default=4)
    given = options.parse_args()
    for name, rate, found in measure(given.runs, given.rate):
        line = {
            "name": name,
            "rate": rate,
            "n": len(found),
            "median_ms": round(statistics.median(found)),
            "max_ms": round(max(found)),
        }
        print(json.dumps(line), flush=True)


if __name__ == "__main__":
    main()
