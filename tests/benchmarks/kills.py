"""Kills while a phone is edited: `python -m tests.benchmarks.kills [--times N] [--seed S]`.

A real browser on a folder of its own edits one job all the time, as fast as the page keeps each
change; meanwhile the browser, all its processes at once, and the server are killed with SIGKILL
at random moments and started again. Then all is let run. A change that the page has kept (it is
in the phone's own store) must arrive once: none is lost, none is taken twice.

Prints one JSON line: kills of each; changes that were kept, and those made in all; those of them
the laptop lacks (lost); those its log says were taken twice; those that are there but not in the
log (unlogged: the server was killed between its disk and its log); whether phone and laptop
say the same at the end; and the middle and the longest time that a change took to be kept, ms.
Exits with 1 where one is lost or taken twice, or the two do not say the same.
"""

import argparse
import contextlib
import json
import os
import random
import signal
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from playwright.sync_api import Error, expect, sync_playwright

from calc.shared.seen import SIZE, has
from tests.browser.conftest import FLAGS, SCREEN, serving
from tests.browser.hands import open_page, opened, saved_here
from tests.browser.shared import STORE, TYPE, free_port, on_laptop, on_phone, sent, taken
from tests.chromium import find

MOST_WAIT = 1.2  # seconds between two kills, while both are up
MOST_AWAY = 1.0  # that the laptop is away
STARTS_WITHIN = 60

DRAFT = {
    "format": "lapwright-job",
    "version": 1,
    "board": {"stock": [{}]},
    "walls": [{"studs": {}}],
}

# Changes a field, waits until the change is in the phone's own store, says so, and goes on.
EDIT = """async ([key, from]) => {
  const read = STORE;
  const put = TYPE;
  for (let n = from; ; n += 1) {
    const began = performance.now();
    const before = (await read([null, 'get', key])).next;
    if (n % 4) put(['Title', [`Title ${n}`]]);
    else put(['Start at the', [n % 8 ? 'ceiling' : 'floor']]);
    let now;
    do { now = await read([null, 'get', key]); } while (now.next === before);
    const ms = performance.now() - began;
    console.log('kept ' + JSON.stringify({n, number: now.next, title: now.doc.title, ms}));
  }
}""".replace("STORE", STORE).replace("TYPE", TYPE)


class Browser:
    """Chromium in a process group of its own, with its page of the job."""

    def __init__(self, browser_type, folder):
        flags = ["--headless", "--no-sandbox", "--disable-breakpad", "--remote-debugging-port=0"]
        door = folder / "DevToolsActivePort"
        door.unlink(missing_ok=True)
        self.process = subprocess.Popen(
            [find(), *FLAGS, *flags, f"--user-data-dir={folder}", "about:blank"],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
        try:
            address = f"http://127.0.0.1:{self._port(door)}"
            self.browser = browser_type.connect_over_cdp(address)
            self.page = self.browser.contexts[0].new_page()
            self.page.set_viewport_size(SCREEN)
        except BaseException:
            self.kill()
            raise

    def _port(self, door):
        """Where it listens, once it has written that down."""
        until = time.monotonic() + STARTS_WITHIN
        while self.process.poll() is None and time.monotonic() < until:
            if door.exists() and "\n" in (text := door.read_text(encoding="ascii")):
                return text.split("\n")[0]
            time.sleep(0.02)
        raise AssertionError("the browser did not start")

    def kill(self):
        """SIGKILL to all of its processes at once."""
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()


class Room:
    """A phone that edits, and its laptop; both can be killed. kept: what the page said it kept."""

    def __init__(self, browser_type, folder):
        self.browser_type = browser_type
        self.folder = folder
        (folder / "phone").mkdir()
        self.port = free_port()
        self.lines = []
        self.kept = {}
        self.times = []
        self.start_laptop()
        try:
            self.browser = Browser(browser_type, folder / "phone")
        except BaseException:
            self.kill_laptop()
            raise

    def begin(self):
        """Open a job, once the page needs no laptop any more, and edit it."""
        page = self.browser.page
        saved_here(open_page(page, self.laptop.address))
        self.key = opened(page, self.laptop.address, DRAFT)
        sent(page)
        self.edit()

    def start_laptop(self):
        self._serving = serving(self.folder / "data", self.port, arguments=["--log"])
        self.laptop = self._serving.__enter__()

    def kill_laptop(self):
        self._serving.__exit__(None, None, None)
        self.lines.extend(self.laptop.said())

    def edit(self):
        """Have the page edit, from the change after the last that it kept."""
        page = self.browser.page
        page.on("console", self._hear)
        last = on_phone(page, self.key)["next"]
        begun = f"({EDIT})({json.dumps([self.key, last])}); 0"
        page.evaluate(begun)  # which goes on for ever: it is not waited for

    def _hear(self, message):
        if message.text.startswith("kept "):
            said = json.loads(message.text[5:])
            self.kept[said["number"]] = said
            self.times.append(said["ms"])

    def start_browser(self):
        self.browser = Browser(self.browser_type, self.folder / "phone")
        route = f"#/job/{self.key}/survey"
        page = open_page(self.browser.page, f"http://127.0.0.1:{self.port}", route)
        expect(page.locator("label.field").first).to_be_visible()
        self.edit()

    def kill_browser(self):
        self.browser.kill()
        with contextlib.suppress(Error):  # it knows that it is gone
            self.browser.browser.close()

    def wait(self, seconds):
        """Let them run, and hear what the page says."""
        self.browser.page.wait_for_timeout(1000 * seconds)

    def end(self):
        """Stop editing and let all be sent: what there is to be said of it."""
        page = self.browser.page
        page.reload()
        sent(page, 60_000)
        here = on_phone(page, self.key)
        there = on_laptop(page, self.laptop.address, self.key)
        self.kill_browser()
        self.kill_laptop()
        return here, there

    def clear(self):
        """Kill whatever still runs."""
        if self.browser.process.poll() is None:
            self.kill_browser()
        if self.laptop.process.poll() is None:
            self.kill_laptop()


def run(browser_type, folder, times, seed):
    """So many kills, every choice by the seed: the figures."""
    chance = random.Random(seed)
    room = Room(browser_type, folder)
    kills = {"browser": 0, "server": 0}
    try:
        room.begin()
        for _ in range(times):
            room.wait(chance.uniform(0, MOST_WAIT))
            who = chance.choice(sorted(kills))
            kills[who] += 1
            if who == "browser":
                room.kill_browser()
                room.start_browser()
            else:
                room.kill_laptop()
                room.wait(chance.uniform(0, MOST_AWAY))
                room.start_laptop()
        room.wait(1)
        here, there = room.end()
    finally:
        room.clear()
    return {"kills": kills, **told(room, here, there)}


def told(room, here, there):
    logged = taken(room.lines)
    seen, writer = there["copy"]["seen"], here["writer"]
    made = range(1, here["next"] + 1)
    arrived = [n for n in made if has(seen, writer, n * SIZE)]
    wrong = [n for n, said in room.kept.items() if n not in arrived]
    # The last title that was kept stands, or one that was keyed after it.
    last = max(n for n, said in room.kept.items() if said["n"] % 4)
    stands = int(there["job"]["title"].split()[1]) >= room.kept[last]["n"]
    return {
        "kept": len(room.kept),
        "made": len(made),
        "lost": wrong,
        "twice": [name for name, times in logged.items() if times > 1],
        "unlogged": [n for n in arrived if not logged[f"{writer}.{n}"]],
        "same": stands and here["outbox"] == [] and here["copy"] == there["copy"],
        "kept_ms": round(statistics.median(room.times), 1),
        "longest_ms": round(max(room.times)),
    }


def good(found):
    """Whether nothing was lost or taken twice."""
    return found["same"] and not found["lost"] and not found["twice"]


def main():
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--times", type=int, default=100)
    options.add_argument("--seed", type=int, default=1)
    given = options.parse_args()
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        began = time.monotonic()
        found = run(playwright.chromium, Path(folder), given.times, given.seed)
    print(json.dumps({**found, "seconds": round(time.monotonic() - began)}), flush=True)
    sys.exit(0 if good(found) else 1)


if __name__ == "__main__":
    main()
