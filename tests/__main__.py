"""Every check in turn: `python -m tests [pytest arguments]`.

Finds Chromium, or installs Debian's where it may; then ruff, mypy and pytest,
and stops at the first that fails, with its exit code. pytest's closing line is
the last that is printed.
"""

import json
import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from tests import chromium

ROOT = Path(__file__).parent.parent
PACKAGES = ("chromium", "fonts-liberation")
PYTEST = (sys.executable, "-m", "pytest")
BROWSER = ("tests/browser", "tests/lan")
FAILED = 1  # pytest's exit code where tests failed
MOST_AGAIN = 3
LAN_PACKAGES = {"ip": "iproute2", "certutil": "libnss3-tools", "openssl": "openssl"}


def main(arguments):
    """Run everything; the exit code of the first check that fails, else 0."""
    try:
        os.environ[chromium.VARIABLE] = _chromium()
        _lan_tools()
    except chromium.NoChromium as error:
        print(error, file=sys.stderr)
        return 2
    for module, *rest in (
        ("ruff", "check", "."),
        ("ruff", "format", "--check", "."),
        ("mypy",),
    ):
        print("==", module, *rest, flush=True)
        code = subprocess.run([sys.executable, "-m", module, *rest], cwd=ROOT).returncode
        if code:
            return code
    return _chosen(arguments) if arguments else _all()


def _chosen(arguments):
    print("== pytest", *arguments, flush=True)
    code = subprocess.run([*PYTEST, *arguments], cwd=ROOT).returncode
    return _once_more() if code == FAILED else code


def _all():
    """The browser's tests, which mostly wait, and beside them all others, which give way."""
    print("== pytest; what needs no browser runs beside it, and is printed after it", flush=True)
    gentle = ["nice", "-n", "5"] if shutil.which("nice") else []
    others = [argument for folder in BROWSER for argument in ("--ignore", folder)]
    with tempfile.TemporaryFile() as said:
        beside = subprocess.Popen(
            [*gentle, *PYTEST, "-p", "no:cacheprovider", *others],
            cwd=ROOT,
            stdout=said,
            stderr=said,
        )
        try:
            code = _chosen(BROWSER)
            other = beside.wait()
        finally:
            beside.kill()
            beside.wait()
        said.seek(0)
        print(said.read().decode(errors="replace"), flush=True)
    return code or other


def _once_more():
    """Run what failed again, by itself, where it is little: a browser's test may lose to a busy
    machine, a fault fails twice. What passed only now is named.
    """
    kept = ROOT / ".pytest_cache" / "v" / "cache" / "lastfailed"
    failed = sorted(json.loads(kept.read_text(encoding="utf-8"))) if kept.exists() else []
    if not 0 < len(failed) <= MOST_AGAIN or not all("/browser/" in name for name in failed):
        return FAILED
    print("== failed once; again, by themselves:", *failed, sep="\n   ", flush=True)
    return subprocess.run([sys.executable, "-m", "pytest", "-v", *failed], cwd=ROOT).returncode


def _chromium():
    """The path of Chromium, installed first where there is none and apt-get may be used."""
    try:
        return chromium.find()
    except chromium.NoChromium:
        root = _as_root()
        if chromium.VARIABLE in os.environ or root is None:
            raise
    failed = _install(root, PACKAGES)
    if failed:
        raise chromium.NoChromium(
            f"{failed} Install Chromium by hand, or set {chromium.VARIABLE} to the path of one."
        )
    return chromium.find()


def _lan_tools():
    """What tests/lan needs; where it can't be had, those tests are skipped and say why."""
    root = _as_root()
    if root is not None and not all(shutil.which(tool) for tool in LAN_PACKAGES):
        failed = _install(root, LAN_PACKAGES.values())
        if failed:
            print(f"{failed} The tests of laptop and phone as two machines are left out.")


def _install(root, packages):
    """Install Debian's packages; "", or what went wrong."""
    print("== installing Debian's", *packages, flush=True)
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for command in (["update"], ["install", "-y", "--no-install-recommends", *packages]):
        code = subprocess.run(
            [*root, "apt-get", *command], env=environment, stdin=subprocess.DEVNULL
        ).returncode
        if code:
            return f"apt-get {command[0]} ended with {code}."
    return ""


def _as_root():
    """What to put before apt-get: [] for root, sudo where it asks nothing, None if neither."""
    if not shutil.which("apt-get"):
        return None
    if os.geteuid() == 0:
        return []
    asks = not shutil.which("sudo") or subprocess.run(["sudo", "-n", "true"]).returncode
    return None if asks else ["sudo", "-n"]


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
