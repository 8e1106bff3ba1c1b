"""A phone: a browser in the phone's namespace, with a home and a store of certificates."""

import os
import shlex
import subprocess
import sys
from pathlib import Path

from tests.browser.conftest import FLAGS, SCREEN
from tests.chromium import find

# With any of these a page gets in, or counts as secure, that on a phone would not.
FORBIDDEN = (
    "--ignore-certificate-errors",
    "--ignore-certificate-errors-spki-list",
    "--ignore-urlfetcher-cert-requests",
    "--allow-insecure-localhost",
    "--allow-running-insecure-content",
    "--unsafely-treat-insecure-origin-as-secure",
    "--disable-web-security",
    "--test-type",
    "--host-resolver-rules",
    "--host-rules",
    "--proxy-server",
)


class Phone:
    """open() starts the browser; what it stored and whom it trusts lasts until the test ends."""

    def __init__(self, lan, folder, playwright, flags=()):
        self._lan = lan
        self._playwright = playwright
        self._flags = list(flags)
        self._home = folder / "phone"
        (self._home / ".pki" / "nssdb").mkdir(parents=True)
        self._certutil("-N", "--empty-password")
        self._program = self._home / "browser"
        command = shlex.join([*lan.phone, find()])
        self._program.write_text(f'#!/bin/sh\nexec {command} "$@"\n')
        self._program.chmod(0o755)
        self._context = None
        self.broken = []

    def _certutil(self, *arguments):
        store = f"sql:{self._home / '.pki' / 'nssdb'}"
        subprocess.run(
            ["certutil", *arguments, "-d", store], check=True, capture_output=True, timeout=20
        )

    def fetch(self, address):
        """The bytes at that address, as asked for from the phone's side."""
        done = subprocess.run(
            [*self._lan.phone, sys.executable, "-c", _FETCH, address],
            capture_output=True,
            check=True,
            timeout=30,
        )
        return done.stdout

    def knocks(self, address, port):
        """Whether anybody answers there, as the phone's system finds without the browser."""
        done = subprocess.run(
            [*self._lan.phone, sys.executable, "-c", _KNOCK, address, str(port)], timeout=30
        )
        return done.returncode == 0

    def trust(self, der):
        """Have the person install a CA. The browser must not be open."""
        assert self._context is None
        path = self._home / "ca.crt"
        path.write_bytes(der)
        self._certutil("-A", "-n", "laptop", "-t", "C,,", "-i", str(path))

    def distrust(self):
        """Take the CA away again. The browser must not be open."""
        assert self._context is None
        self._certutil("-D", "-n", "laptop")

    def open(self):
        """Start the browser, or start it again; an empty page in it."""
        self.close()
        self._context = self._playwright.chromium.launch_persistent_context(
            self._home / "profile",
            executable_path=self._program,
            env={**os.environ, "HOME": str(self._home), "XDG_DATA_HOME": "", "XDG_CONFIG_HOME": ""},
            viewport=SCREEN,
            has_touch=True,
            args=[*FLAGS, *self._flags],
        )
        self._context.on("weberror", lambda error: self.broken.append(str(error.error)))
        return self._context.new_page()

    def flags(self):
        """What the running browser was really started with, wherever each flag came from."""
        profile = f"--user-data-dir={self._home / 'profile'}"
        for folder in Path("/proc").iterdir():
            if folder.name.isdigit():
                try:
                    said = (folder / "cmdline").read_text(errors="replace").split("\0")
                except OSError:
                    continue  # that process has ended
                if profile in said and not any(a.startswith("--type=") for a in said):
                    return said
        raise AssertionError("no such browser runs")

    def tab(self):
        """Another tab."""
        return self._context.new_page()

    def close(self):
        """End the browser, as when the phone is switched off."""
        context, self._context = self._context, None
        if context is not None:
            context.close()

    def learn(self, name, seconds=5):
        """Have the phone's system ask the network for a .local name; what it found, or ""."""
        command = [*self._lan.phone, sys.executable, "-m", "tests.lan.resolve", name, str(seconds)]
        command.append(self._lan.phone_address)
        done = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60)
        found = done.stdout.strip()
        self._lan.know({name: found} if found else {})
        return found


_FETCH = """
import sys, urllib.request
with urllib.request.urlopen(sys.argv[1], timeout=20) as answer:
    sys.stdout.buffer.write(answer.read())
"""

_KNOCK = """
import socket, sys
try:
    socket.create_connection((sys.argv[1], int(sys.argv[2])), timeout=5).close()
except OSError:
    sys.exit(1)
"""
