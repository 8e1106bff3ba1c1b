"""How soon a wall is drawn: `python -m tests.benchmarks.house [JOB.json] [--rate N]`.

The job is stored by the API and opened on a phone; once it is planned, every wall is
chosen in turn by the picker, at a CPU throttle of `rate` and, as the baseline of the
same run, unthrottled. From the tap to the drawing of that wall on the screen, in ms, one
JSON line for each rate and round. The first round comes right after the plan, while the
walls are still being drawn ahead. Nothing here passes or fails.
"""

import argparse
import json
import statistics
import tempfile
import time
from pathlib import Path

from playwright.sync_api import expect, sync_playwright

from tests.browser.conftest import FLAGS, SCREEN, serving
from tests.browser.hands import opened
from tests.chromium import find

HOUSE = Path(__file__).parents[2] / "examples" / "house.json"

# When the drawing of another wall stands on the screen after the picker was used.
WATCH = """
window.seen = [];
let from = 0, before = '';
const drawn = () => document.querySelector('.drawing svg')?.getAttribute('aria-label') ?? '';
addEventListener('click', (event) => {
  if (event.target.closest?.('.walls button')) { from = performance.now(); before = drawn(); }
}, true);
new MutationObserver(() => {
  const now = drawn();
  if (from && now && now !== before) {
    const since = from;
    from = 0;
    requestAnimationFrame(() => seen.push(performance.now() - since));
  }
}).observe(document, {childList: true, subtree: true, attributes: true});
"""


def measure(job: dict, rate: int, rounds: int):
    """Yield (what, rate, list of ms)."""
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as data:
        browser = playwright.chromium.launch(executable_path=find(), args=FLAGS)
        phone = browser.new_context(viewport=SCREEN, has_touch=True, device_scale_factor=2)
        with serving(Path(data)) as server:
            for throttle in (1, rate):
                page = phone.new_page()
                page.add_init_script(WATCH)
                session = phone.new_cdp_session(page)
                session.send("Emulation.setCPUThrottlingRate", {"rate": throttle})
                start = time.monotonic()
                opened(page, server.address, job, "layout")
                expect(page.locator(".drawing [data-piece]").first).to_be_visible(timeout=300000)
                yield "opened to first drawing", throttle, [1000 * (time.monotonic() - start)]
                after = page.locator(".walls button").last
                before = page.locator(".walls button").first
                for n in range(rounds):
                    page.evaluate("seen.length = 0")
                    for _ in job["walls"][1:]:
                        (after if n % 2 == 0 else before).tap()
                        page.wait_for_timeout(900)
                    yield f"wall drawn, round {n + 1}", throttle, page.evaluate("seen")
                page.close()
        browser.close()


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("job", nargs="?", type=Path, default=HOUSE)
    options.add_argument("--rate", type=int, default=4)
    options.add_argument("--rounds", type=int, default=2)
    given = options.parse_args()
    job = json.loads(given.job.read_text(encoding="utf-8"))
    for name, rate, found in measure(job, given.rate, given.rounds):
        line = {
            "name": name,
            "rate": rate,
            "n": len(found),
            "median_ms": round(statistics.median(found)) if found else None,
            "max_ms": round(max(found)) if found else None,
            "all_ms": [round(ms) for ms in found],
        }
        print(json.dumps(line), flush=True)


if __name__ == "__main__":
    main()
