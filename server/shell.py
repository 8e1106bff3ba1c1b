"""The page's own files: what is served, under which address, of which version.

The page's modules travel bundled, and calc/ in two files of bytecode (see compiled.py).
The version is a hash of the content of every file, so that it changes with any of them;
the page carries it, and asks for its own files by it.
"""

import gzip
import hashlib
import json
import threading
import time
from pathlib import Path
from typing import NamedTuple

from .bundled import BUNDLER, bundled, minified
from .compiled import in_two

_TYPES = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".mjs": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".wasm": "application/wasm",
    ".bin": "application/octet-stream",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".webmanifest": "application/manifest+json",
    ".LICENSE": "text/plain; charset=utf-8",
}
# Files under web/ that are no part of the phone's page.
_LAPTOP_ONLY = ("/laptop.css",)
_NEVER = (
    "laptop.html",
    "sw.js",
    "package.json",
    "package-lock.json",
    "stamp.json",
    "esbuild.LICENSE",
)
# The one script that is no module, and so travels as it is.
_CLASSIC = "/start.js"
_SKIPPED_FOLDERS = ("node_modules", "apart")
# Where the page itself carries the version.
_VERSION = b"%VERSION%"
_ENGINE = "vendor/micropython.wasm"


class Content(NamedTuple):
    """body; packed: body in gzip, or None where that saves nothing; etag; type: Content-Type."""

    body: bytes
    packed: bytes | None
    etag: str
    type: str


class _Taken(NamedTuple):
    """All files as they were at one time, so that one version is served whole."""

    stamps: dict[str, object]
    contents: dict[str, Content]
    urls: list[str]
    version: str
    calc: str


class Shell:
    """The files under the folders `web` and `calc`, read again when they have changed."""

    def __init__(self, web: Path, calc: Path, rescan: float) -> None:
        """rescan: seconds for which nobody looks again whether a file has changed."""
        self._web = web
        self._calc = calc
        self._rescan = rescan
        self._lock = threading.Lock()
        self._taken = _Taken({}, {}, [], "", "")
        self._until = 0.0

    def missing(self) -> str:
        """What the page can't do without and is not there, or ""."""
        for name in ("index.html", "sw.js", _ENGINE, BUNDLER):
            if not (self._web / name).is_file():
                return name
        return ""

    def content(self, url: str, version: str | None = None) -> Content | None:
        """What stands at the address, "/app.js" for one, or None; in that version alone, if any."""
        now = self._now()
        return now.contents.get(url) if version in (None, now.version) else None

    def urls(self) -> list[str]:
        """The addresses of every file that the page needs, sorted."""
        return self._now().urls

    def version(self) -> str:
        """16 hex digits of a hash over every file of the page, the service worker's own too."""
        return self._now().version

    def calc(self) -> str:
        """The mark of calc, which both of its files name."""
        return self._now().calc

    def _now(self) -> _Taken:
        with self._lock:
            if time.monotonic() >= self._until:
                self._taken = self._take(self._taken)
                self._until = time.monotonic() + self._rescan
            return self._taken

    def _take(self, before: _Taken) -> _Taken:
        files = self._files()
        modules = {
            url.removeprefix("/"): files.pop(url)
            for url in sorted(files)
            if url.endswith(".js") and url != _CLASSIC
        }
        sources = {
            f"calc/{p.relative_to(self._calc).as_posix()}": p for p in self._calc.rglob("*.py")
        }
        worker = self._web / "sw.js"
        stamps: dict[str, object] = {url: _stamp(path) for url, path in files.items()}
        stamps["calc"] = [(name, _stamp(sources[name])) for name in sorted(sources)]
        stamps["/sw.js"] = _stamp(worker)
        stamps["modules"] = [(name, _stamp(path)) for name, path in modules.items()]
        if stamps == before.stamps:
            return before
        contents = {}
        for url, path in files.items():
            if before.stamps.get(url) == stamps[url] and url != "/p":
                contents[url] = before.contents[url]
            else:
                body = minified(path, self._web / BUNDLER) if path.suffix == ".mjs" else None
                contents[url] = _content(body or path.read_bytes(), path.suffix)
        for url, body in bundled(modules, self._web / BUNDLER).items():
            contents[url] = _content(body, ".js")
        quick, job, mark = in_two(sources)
        contents["/quick.bin"] = _content(quick, ".bin")
        contents["/job.bin"] = _content(job, ".bin")
        urls = sorted(url for url in contents if url not in _LAPTOP_ONLY)
        code = worker.read_bytes()
        whole = hashlib.sha256(code)
        for url in urls:
            whole.update(f"{url} {contents[url].etag}\n".encode())
        version = whole.hexdigest()[:16]
        page = contents["/p"].body.replace(_VERSION, version.encode())
        contents["/p"] = _content(page, ".html")
        head = f"const VERSION = {json.dumps(version)};\nconst SHELL = {json.dumps(urls)};\n"
        contents["/sw.js"] = _content(head.encode() + code, ".js")
        return _Taken(stamps, contents, urls, version, mark)

    def _files(self) -> dict[str, Path]:
        out = {}
        for path in self._web.rglob("*"):
            within = path.relative_to(self._web)
            hidden = any(p.startswith(".") or p in _SKIPPED_FOLDERS for p in within.parts)
            if hidden or path.suffix not in _TYPES or path.name in _NEVER:
                continue
            if path.name.endswith(".package.json") or not path.is_file():
                continue
            name = within.as_posix()
            out["/p" if name == "index.html" else "/" + name] = path
        return out


def _content(body: bytes, suffix: str) -> Content:
    packed = gzip.compress(body, 9, mtime=0)
    saves = len(packed) <= 0.9 * len(body)
    return Content(
        body, packed if saves else None, hashlib.sha256(body).hexdigest()[:32], _TYPES[suffix]
    )


def _stamp(path: Path) -> tuple[int, int]:
    at = path.stat()
    return at.st_mtime_ns, at.st_size
