"""The page's own files: what is served, under which address, of which version.

calc/ travels as one JSON object of sources, /calc.json. The version is a hash
of the content of every file, so that it changes with any of them.
"""

import gzip
import hashlib
import json
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

_TYPES = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".mjs": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".wasm": "application/wasm",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".webmanifest": "application/manifest+json",
}
# Files under web/ that are no part of the phone's page.
_LAPTOP_ONLY = ("laptop.css",)
_NEVER = ("laptop.html", "sw.js", "package.json", "package-lock.json", "stamp.json")
_SKIPPED_FOLDERS = ("node_modules",)
_ENGINE = "vendor/micropython.wasm"


class Content(NamedTuple):
    """body; packed: body in gzip, or None where that saves nothing; etag; type: Content-Type."""

    body: bytes
    packed: bytes | None
    etag: str
    type: str


class Shell:
    """The files under the folders `web` and `calc`, read again whenever they change."""

    def __init__(self, web: Path, calc: Path) -> None:
        self._web = web
        self._calc = calc
        self._held: dict[str, tuple[object, Content]] = {}

    def missing(self) -> str:
        """What the page can't do without and is not there, or ""."""
        for name in ("index.html", "sw.js", _ENGINE):
            if not (self._web / name).is_file():
                return name
        return ""

    def content(self, url: str) -> Content | None:
        """What stands at the address, "/app.js" for one, or None."""
        if url == "/calc.json":
            sources = self._sources()
            stamp = [(name, _stamp(path)) for name, path in sources]
            return self._hold(url, stamp, ".json", lambda: _bundle(sources))
        if url == "/sw.js":
            version, urls = self.version(), self.urls()
            head = f"const VERSION = {json.dumps(version)};\nconst SHELL = {json.dumps(urls)};\n"
            path = self._web / "sw.js"
            stamp = [(head, _stamp(path))]
            return self._hold(url, stamp, ".js", lambda: head.encode() + path.read_bytes())
        found = self._files().get(url)
        if found is None and url.lstrip("/") in _LAPTOP_ONLY:
            found = self._web / url.lstrip("/")
        if found is None:
            return None
        return self._hold(url, [(url, _stamp(found))], found.suffix, found.read_bytes)

    def urls(self) -> list[str]:
        """The addresses of every file that the page needs, sorted."""
        return sorted([*self._files(), "/calc.json"])

    def version(self) -> str:
        """16 hex digits of a hash over every file of the page, the service worker's own too."""
        whole = hashlib.sha256((self._web / "sw.js").read_bytes())
        for url in self.urls():
            content = self.content(url)
            whole.update(f"{url} {content.etag if content else ''}\n".encode())
        return whole.hexdigest()[:16]

    def _files(self) -> dict[str, Path]:
        out = {}
        for path in self._web.rglob("*"):
            within = path.relative_to(self._web)
            hidden = any(p.startswith(".") or p in _SKIPPED_FOLDERS for p in within.parts)
            if hidden or path.suffix not in _TYPES or path.name in (*_NEVER, *_LAPTOP_ONLY):
                continue
            if path.name.endswith(".package.json") or not path.is_file():
                continue
            name = within.as_posix()
            out["/p" if name == "index.html" else "/" + name] = path
        return out

    def _sources(self) -> list[tuple[str, Path]]:
        paths = sorted(self._calc.rglob("*.py"))
        return [(f"calc/{p.relative_to(self._calc).as_posix()}", p) for p in paths]

    def _hold(self, url: str, stamp: object, suffix: str, read: Callable[[], bytes]) -> Content:
        held = self._held.get(url)
        if held and held[0] == stamp:
            return held[1]
        body = read()
        packed = gzip.compress(body, 9, mtime=0)
        if len(packed) > 0.9 * len(body):
            packed = b""
        etag = hashlib.sha256(body).hexdigest()[:32]
        content = Content(body, packed or None, etag, _TYPES[suffix])
        self._held[url] = (stamp, content)
        return content


def _stamp(path: Path) -> tuple[int, int]:
    at = path.stat()
    return at.st_mtime_ns, at.st_size


def _bundle(sources: list[tuple[str, Path]]) -> bytes:
    texts = {name: path.read_text(encoding="utf-8") for name, path in sources}
    return json.dumps(texts, sort_keys=True, separators=(",", ":")).encode()
