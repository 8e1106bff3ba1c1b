"""Can these tests fail? `python -m tests.lan.mutations [WORD]` breaks one thing after the other.

Each is broken in a copy of the sources, where the test that is named has to fail. WORD picks
those whose description holds it. Exit code 0 where every one was noticed.
"""

import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import NamedTuple

from . import net

ROOT = Path(__file__).parents[2]
_LAN = "tests/lan/test_lan.py::test_"
_SERVER = "tests/server/test_"
_STOLEN = _SERVER + "certs.py::test_with_its_key_stolen_the_ca_still_vouches_for_nothing_outside"


class Mutation(NamedTuple):
    """what is broken; in `file`, `old` (once there; "": before everything) becomes `new`."""

    what: str
    file: str
    old: str
    new: str
    test: str


def _flag(flag):
    return "args=[*FLAGS, *self._flags]", f'args=[*FLAGS, "{flag}"]'


_INSECURE = "--unsafely-treat-insecure-origin-as-secure=http://10.77.0.1:8128"
_CACHE_ALL = """
self.addEventListener('fetch', (event) => {
  if (!new URL(event.request.url).pathname.startsWith('/api/')) return;
  event.respondWith((async () => {
    const cache = await caches.open('all');
    const held = await cache.match(event.request);
    if (held) return held;
    const answer = await fetch(event.request);
    await cache.put(event.request, answer.clone());
    return answer;
  })());
});
"""
_UNASKED = "self.addEventListener('install', () => self.skipWaiting());\n"
_BOTH = "[*names, *map(x509.IPAddress, PRIVATE)]"

MUTATIONS = [
    # The test's own false passes.
    Mutation(
        "no CA in the phone's store", "tests/lan/phone.py",
        'self._certutil("-A",', 'return self._certutil("-L") or ("-A",',
        _LAN + "with_the_ca_it_opens_without_the_laptop",
    ),
    Mutation(
        "a browser that ignores certificate errors", "tests/lan/phone.py",
        *_flag("--ignore-certificate-errors"), _LAN + "with_the_ca_it_opens_without_the_laptop",
    ),
    Mutation(
        "a browser that ignores certificate errors, without the CA", "tests/lan/phone.py",
        *_flag("--ignore-certificate-errors"), _LAN + "without_the_ca_nothing_is_saved",
    ),
    Mutation(
        "plain http passed off as secure", "tests/lan/phone.py",
        *_flag(_INSECURE), _LAN + "the_first_scan_works_over_plain_http",
    ),
    Mutation(
        "localhost led to the laptop", "tests/lan/phone.py",
        *_flag("--host-resolver-rules=MAP localhost 10.77.0.1"),
        _LAN + "with_the_ca_it_opens_without_the_laptop",
    ),
    Mutation(
        "set_offline in place of a kill", "tests/lan/test_lan.py",
        "    laptop.kill()\n    assert not phone.knocks",
        "    page.context.set_offline(True)\n    assert not phone.knocks",
        _LAN + "with_the_ca_it_opens_without_the_laptop",
    ),
    # The page.
    Mutation(
        "a worker that answers for the laptop", "web/sw.js", "", _CACHE_ALL,
        _LAN + "the_worker_leaves_the_laptops_answers_alone",
    ),
    Mutation(
        "a worker that takes over unasked", "web/sw.js", "", _UNASKED,
        _LAN + "the_page_changes_to_a_new_version_on_a_tap",
    ),
    # The laptop.
    Mutation(
        "a CA constrained by names alone, met by the browser", "server/certs.py",
        _BOTH, "names", _LAN + "a_thief_of_the_cas_key_can_pass_for_nobody_else",
    ),
    Mutation(
        "a CA constrained by names alone, met by openssl", "server/certs.py",
        _BOTH, "names", _STOLEN,
    ),
    Mutation(
        "a CA constrained by addresses alone", "server/certs.py",
        _BOTH, "[*map(x509.IPAddress, PRIVATE)]", _STOLEN,
    ),
    Mutation(
        "a CA that may have others below it", "server/certs.py",
        "path_length=0", "path_length=1",
        _SERVER + "certs.py::test_it_vouches_for_no_authority_below_it",
    ),
    Mutation(
        "a leaf that does not follow the address", "server/certs.py",
        "return held != set(_named(addresses)) or soon", "return soon",
        _LAN + "laptop_and_phone_go_to_another_network",
    ),
    Mutation(
        "a leaf that is swapped by dropping connections", "server/https.py",
        "self.context = self._context_of(leaf)\n            self._leaf = leaf",
        "self._leaf = leaf", _LAN + "a_new_leaf_under_open_streams",
    ),
    Mutation(
        "a name that is not announced", "server/follow.py",
        "self._announcer.announce(now)", "pass", _LAN + "a_stop_takes_the_name_off_the_network",
    ),
    Mutation(
        "a page that may not ask the laptop elsewhere", "server/app.py",
        "https://*:{app.config['HTTPS_PORT']}", "", _LAN + "the_name_is_gone",
    ),
    Mutation(
        "a laptop that does not let its own page ask", "server/cors.py",
        "not held.is_ours(origin)", "True", _LAN + "the_name_is_gone",
    ),
    Mutation(
        "a laptop that lets everybody's page ask", "server/cors.py",
        "not held.is_ours(origin)", "not origin", _SERVER + "trust.py::test_nobody_elses_page_may",
    ),
    Mutation(
        "a handshake in the loop that accepts", "server/sockets.py",
        "do_handshake_on_connect=False", "do_handshake_on_connect=True",
        _SERVER + "https.py::test_silent_connections_keep_nobody_waiting",
    ),
    Mutation(
        "a thread for each handshake that is begun", "server/sockets.py",
        "self._sock.settimeout(0)", "self._sock.settimeout(HANDSHAKE_SECONDS)",
        _SERVER + "https.py::test_silent_connections_keep_nobody_waiting",
    ),
    Mutation(
        "a new CA in place of a damaged one", "server/keeping.py",
        "    if not folder.exists():\n",
        "    if not (folder / _KEY).exists():\n        shutil.rmtree(folder, True)\n",
        _SERVER + "keeping.py::test_damage_is_told_and_nothing_is_made_in_its_place",
    ),
]  # fmt: skip


def main(word=""):
    """Try those whose description holds the word; the exit code."""
    lacks = net.why_not()
    if lacks:
        print(f"not run: {lacks}")
        return 1
    missed = []
    chosen = [m for m in MUTATIONS if word in m.what]
    for mutation in chosen:
        began = time.monotonic()
        why = _try(mutation)
        print(
            f"{'noticed' if why else 'MISSED '}  {time.monotonic() - began:5.1f} s  "
            f"{mutation.what}\n{' ' * 18}{why}",
            flush=True,
        )
        if not why:
            missed.append(mutation)
    print(f"{len(chosen) - len(missed)} of {len(chosen)} noticed")
    return 1 if missed or not chosen else 0


def _try(mutation):
    """How the test failed, in pytest's words; "" where it passed."""
    with tempfile.TemporaryDirectory() as name:
        copy = Path(name)
        for part in ("calc", "server", "tests", "web", "pyproject.toml"):
            skipped = shutil.ignore_patterns("node_modules", "__pycache__")
            if (ROOT / part).is_dir():
                shutil.copytree(ROOT / part, copy / part, ignore=skipped)
            else:
                shutil.copy(ROOT / part, copy / part)
        path = copy / mutation.file
        text = path.read_text(encoding="utf-8")
        if mutation.old:
            assert text.count(mutation.old) == 1, f"{mutation.file}: {mutation.old!r}"
            text = text.replace(mutation.old, mutation.new)
        else:
            text = mutation.new + text
        path.write_text(text, encoding="utf-8")
        done = subprocess.run(
            [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", mutation.test],
            cwd=copy,
            env={**os.environ, "PYTHONPATH": str(copy)},
            capture_output=True,
            text=True,
        )
        # 1: tests were run, and some failed. Anything else is a fault of this script.
        assert done.returncode in (0, 1), done.stdout + done.stderr
        if done.returncode == 0:
            return ""
        return next(line for line in done.stdout.splitlines() if line.startswith("E  "))[4:]


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
