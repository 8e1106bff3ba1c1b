"""A real browser, a real server that can be killed, and a phone's screen.

chromium  the system's Chromium, one for the whole run
live      the real server in a process of its own, a new one for each test
phone     a browser context of a small phone's size and touch, new for each
          test; a test fails if a script in it broke unheard
other     a second phone, likewise
"""

import contextlib
import os
import queue
import re
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.chromium import find

ROOT = Path(__file__).parent.parent.parent
FLAGS = [
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
# A small phone's screen in CSS px.
SCREEN = {"width": 360, "height": 640}
STARTS_WITHIN = 30  # seconds; a cold machine with two busy cores
# What is waited for comes, but a plan may take its time there.
expect.set_options(timeout=30_000)


class Live:
    """The real server: address (no slash at its end), lines (what it printed), kill, hang, go."""

    def __init__(self, data, port=0, host="127.0.0.1", root=ROOT, arguments=()):
        command = [sys.executable, "-u", "-m", "server", "--host", host]
        command += ["--port", str(port), "--https-port", "0", "--data", str(data), *arguments]
        self.process = subprocess.Popen(
            command,
            cwd=root,
            env={**os.environ, "PYTHONIOENCODING": "utf-8"},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
        )
        self.lines = []
        self._new = queue.Queue()
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()
        try:
            self.address = self._wait_for_address(rf"http://{re.escape(host)}:\d+")
        except BaseException:
            self.kill()
            raise
        self.port = int(self.address.rsplit(":", 1)[1])

    def _read(self):
        for line in self.process.stdout:
            self._new.put(line)
        self._new.put(None)

    def _wait_for_address(self, pattern):
        end = time.monotonic() + STARTS_WITHIN
        while True:
            try:
                line = self._new.get(timeout=max(end - time.monotonic(), 0.01))
            except queue.Empty:
                raise AssertionError(f"no address after {STARTS_WITHIN} s: {self.lines}") from None
            if line is None:
                raise AssertionError("the server ended:\n" + "".join(self.lines))
            self.lines.append(line)
            found = re.search(pattern, line)
            if found:
                return found[0]

    def said(self):
        """All lines that it has printed so far."""
        with contextlib.suppress(queue.Empty):
            while (line := self._new.get_nowait()) is not None:
                self.lines.append(line)
        return self.lines

    def kill(self):
        """End it at once, as a pulled plug would."""
        self.process.kill()
        self.process.wait()
        self._reader.join()
        self.process.stdout.close()

    def hang(self):
        """Stop it in mid-air: it holds its connections and answers nothing."""
        self.process.send_signal(signal.SIGSTOP)

    def go(self):
        """Let a hung one go on."""
        self.process.send_signal(signal.SIGCONT)


@contextlib.contextmanager
def serving(data, port=0, **options):
    """A Live server with its jobs under the folder `data`, killed at the end.

    options: host, its address; root, a folder with server/, calc/ and web/ in place of ours;
    arguments, more of them for its command line.
    """
    server = Live(data, port, **options)
    try:
        yield server
    finally:
        server.kill()


@pytest.fixture(scope="session")
def chromium(playwright_driver):
    browser = playwright_driver.chromium.launch(executable_path=find(), args=FLAGS)
    yield browser
    browser.close()


@pytest.fixture
def live(tmp_path):
    with serving(tmp_path / "data") as server:
        yield server


@contextlib.contextmanager
def a_phone(chromium):
    """A browser context as `phone` has it."""
    context = chromium.new_context(viewport=SCREEN, has_touch=True, device_scale_factor=2)
    broken = []
    context.on("weberror", lambda error: broken.append(str(error.error)))
    yield context
    context.close()
    assert broken == []


@pytest.fixture
def phone(chromium):
    with a_phone(chromium) as context:
        yield context


@pytest.fixture
def other(chromium):
    with a_phone(chromium) as context:
        yield context
