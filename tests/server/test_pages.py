"""The page's files: types, versions, caching, and the policy on every response."""

import gzip
import io
import json
import re
import shutil

import pytest
from PIL import Image

from server.app import ROOT, create_app

from .conftest import check_error_shape

# What the page may load: own scripts and WebAssembly, nothing from elsewhere.
POLICY = {
    "default-src": "'none'",
    "script-src": "'self' 'wasm-unsafe-eval'",
    "style-src": "'self'",
    "img-src": "'self' data: blob:",
    "connect-src": "'self'",
    "worker-src": "'self'",
    "manifest-src": "'self'",
    "form-action": "'none'",
    "base-uri": "'none'",
    "frame-ancestors": "'none'",
}
TYPES = [
    ("/p", "text/html; charset=utf-8"),
    ("/app.js", "text/javascript; charset=utf-8"),
    ("/worker.js", "text/javascript; charset=utf-8"),
    ("/engine.js", "text/javascript; charset=utf-8"),
    ("/start.js", "text/javascript; charset=utf-8"),
    ("/style.css", "text/css; charset=utf-8"),
    ("/laptop.css", "text/css; charset=utf-8"),
    ("/vendor/micropython.mjs", "text/javascript; charset=utf-8"),
    ("/vendor/micropython.wasm", "application/wasm"),
    ("/icons/mark.svg", "image/svg+xml"),
    ("/icons/mark-192.png", "image/png"),
    ("/manifest.webmanifest", "application/manifest+json"),
    ("/quick.bin", "application/octet-stream"),
    ("/job.bin", "application/octet-stream"),
    ("/vendor/lit-html.LICENSE", "text/plain; charset=utf-8"),
    ("/vendor/idb.LICENSE", "text/plain; charset=utf-8"),
]


@pytest.mark.parametrize(("path", "content_type"), TYPES)
def test_types(client, path, content_type):
    response = client.get(path)
    assert response.status_code == 200
    assert response.headers["Content-Type"] == content_type


@pytest.mark.parametrize(
    "path",
    [p for p, _ in TYPES] + ["/", "/sw.js", "/version.json", "/api/ping", "/api/quick", "/nothing"],
)
@pytest.mark.parametrize("headers", [{}, {"Accept-Encoding": "gzip"}, {"If-None-Match": "*"}])
def test_the_policy_is_on_every_response(client, path, headers):
    response = client.get(path, headers=headers)
    given = dict(
        part.strip().split(" ", 1)
        for part in response.headers["Content-Security-Policy"].split(";")
    )
    assert given == POLICY
    assert response.headers["X-Content-Type-Options"] == "nosniff"
    assert response.headers["Referrer-Policy"] == "no-referrer"
    assert "Set-Cookie" not in response.headers
    assert "Access-Control-Allow-Origin" not in response.headers


@pytest.mark.parametrize(
    "headers", [{}, {"Accept": "text/html"}, {"If-None-Match": "*"}, {"Accept-Encoding": "gzip"}]
)
def test_the_service_worker_is_always_javascript_and_never_cached(client, headers):
    response = client.get("/sw.js", headers=headers)
    assert response.status_code == 200
    assert response.headers["Content-Type"] == "text/javascript; charset=utf-8"
    assert response.headers["Cache-Control"] == "no-store"
    assert "ETag" not in response.headers


def no_worker(response, status):
    """An error in the service worker's place: JavaScript that does nothing, never kept."""
    assert response.status_code == status
    assert response.headers["Content-Type"] == "text/javascript; charset=utf-8"
    assert response.headers["Cache-Control"] == "no-store"
    assert re.fullmatch(r"// .+\n", response.get_data(as_text=True))


def test_a_file_of_a_version_is_that_of_no_other(client):
    version, urls = shell_of(client)
    for url in urls:
        response = client.get(f"{url}?v={version}")
        assert response.data == client.get(url).data
        assert response.headers["Cache-Control"] == "max-age=31536000, immutable"
        error = check_error_shape(client.get(url + "?v=0123456789abcdef"), 404, "not-found")
        assert error["problems"][0]["fix"] == "Reload the page."
    assert f'data-version="{version}"' in client.get("/p").get_data(as_text=True)
    check_error_shape(client.get(f"/nothing?v={version}"), 404, "not-found")


def shell_of(client):
    """(version, addresses) as the service worker has them."""
    text = client.get("/sw.js").get_data(as_text=True)
    version, urls = re.match(r"const VERSION = (.+);\nconst SHELL = (.+);\n", text).groups()
    return json.loads(version), json.loads(urls)


def test_the_service_workers_list_is_all_that_the_page_needs(client):
    version, urls = shell_of(client)
    assert version == client.get("/version.json").get_json()["version"]
    assert re.fullmatch("[0-9a-f]{16}", version)
    assert len(urls) == len(set(urls))
    assert all(client.get(url).status_code == 200 for url in urls)
    for path, _ in TYPES:
        assert (path in urls) == (path != "/laptop.css")
    unwanted = (
        "package",
        "esbuild",
        ".py",
        "stamp",
        "laptop",
        "sw.js",
        "index.html",
        "node_modules",
        "screens",
        "lit-html.js",
        "idb.js",
    )
    assert not [u for u in urls if any(part in u for part in unwanted)]


def test_every_file_that_a_file_of_the_page_names_is_in_the_list(client):
    """Else the page would break once the laptop is gone."""
    _, urls = shell_of(client)
    named = 0
    for url in urls:
        if not url.endswith((".js", "/p", ".webmanifest")) or url.startswith("/vendor/"):
            continue
        text = client.get(url).get_data(as_text=True)
        here = url.rsplit("/", 1)[0]
        found = re.findall(r"""(?:from|import)\s*\(?\s*['"](\.[^'"]+)['"]""", text)
        found += re.findall(r"""new URL\(['"](\.[^'"]+)['"]""", text)
        targets = [f"{here}/{f}" for f in found]
        targets += re.findall(r"""(?:href|src)"?\s*[=:]\s*"(/[^"]+)\"""", text)
        for target in targets:
            while re.search(r"/[^/]+/\.\./", target):
                target = re.sub(r"/[^/]+/\.\./", "/", target, count=1)
            assert target.replace("/./", "/") in urls, f"{url} names {target}"
            named += 1
    assert named > 10


def test_files_that_are_none_of_the_page_are_not_served(client):
    for path in (
        "/index.html",
        "/laptop.html",
        "/package.json",
        "/build.py",
        "/vendor/stamp.json",
        "/vendor/esbuild",
        "/vendor/lit-html.js",
        "/screens/saw.js",
        "/state.js",
        "/vendor/../../pyproject.toml",
        "/%2e%2e/pyproject.toml",
        "/calc/lengths.py",
    ):
        check_error_shape(client.get(path), 404, "not-found")


def test_what_compresses_is_compressed_and_still_the_same(client):
    plain = client.get("/app.js")
    packed = client.get("/app.js", headers={"Accept-Encoding": "gzip"})
    assert "Content-Encoding" not in plain.headers
    assert packed.headers["Content-Encoding"] == "gzip"
    assert plain.headers["Vary"] == packed.headers["Vary"] == "Accept-Encoding"
    assert gzip.decompress(packed.data) == plain.data
    assert packed.headers["ETag"] != plain.headers["ETag"]
    refused = client.get("/app.js", headers={"Accept-Encoding": "gzip;q=0"})
    assert "Content-Encoding" not in refused.headers


def test_the_first_load_is_small(client):
    """Up to the first quick answer 400 KB packed at most, and 650 KB with what a job needs.

    Of both, what is no engine 100 KB at most; 30 requests at most, the service worker's own
    and the laptop's version among them.
    """
    _, urls = shell_of(client)
    assert len(urls) + len(("/sw.js", "/version.json")) <= 30
    sizes = {u: len(client.get(u, headers={"Accept-Encoding": "gzip"}).data) for u in urls}
    later = {u: n for u, n in sizes.items() if re.match(r"/job(part-\w+\.js|\.bin)$", u)}
    engine = {u: n for u, n in sizes.items() if "micropython" in u or u.endswith(".bin")}
    whole = sum(sizes.values())
    first = whole - sum(later.values())
    print(f"first load {first} bytes, with what a job needs {whole}")
    assert len(later) == 2
    assert first <= 400_000
    assert whole <= 650_000
    assert whole - sum(engine.values()) <= 100_000


def test_the_manifest_makes_an_app_of_the_page(client):
    """What a phone wants before it puts a page among its apps."""
    manifest = client.get("/manifest.webmanifest").get_json(force=True)
    assert (manifest["name"], manifest["short_name"]) == ("Lapwright", "Lapwright")
    assert manifest["id"] == manifest["start_url"] == "/p"
    assert (manifest["scope"], manifest["display"]) == ("/", "standalone")
    sizes = {}
    for icon in manifest["icons"]:
        served = client.get(icon["src"])
        assert served.mimetype == icon["type"]
        if icon["type"] == "image/png":
            width, height = Image.open(io.BytesIO(served.data)).size
            assert icon["sizes"] == f"{width}x{height}"
            sizes.setdefault(icon.get("purpose", "any"), []).append(width)
    assert sizes == {"any": [192, 512], "maskable": [512]}
    assert '<link rel="manifest" href="/manifest.webmanifest">' in client.get("/p").text


@pytest.mark.parametrize("encoding", ["identity", "gzip"])
def test_an_unchanged_file_is_not_sent_twice(client, encoding):
    first = client.get("/style.css", headers={"Accept-Encoding": encoding})
    assert first.headers["Cache-Control"] == "no-cache"
    headers = {"Accept-Encoding": encoding, "If-None-Match": first.headers["ETag"]}
    again = client.get("/style.css", headers=headers)
    assert (again.status_code, again.data) == (304, b"")


@pytest.fixture
def editable(tmp_path):
    """An app on a copy of the page that may be changed, and the copy."""
    web = tmp_path / "web"
    shutil.copytree(ROOT / "web", web, ignore=shutil.ignore_patterns("node_modules"))
    url = f"sqlite:///{tmp_path / 'jobs.sqlite3'}"
    app = create_app({"DATABASE_URL": url, "WEB": web, "RESCAN": 0})
    yield app.test_client(), web
    app.extensions["lapwright-store"].close()


@pytest.mark.parametrize(
    ("name", "more"),
    [
        ("style.css", "\n"),
        ("sw.js", "\n"),
        ("start.js", "\n"),
        ("app.js", "console.log(1);"),
        ("worker.js", "console.log(1);"),
        ("screens/saw.js", "console.log(1);"),
        ("vendor/idb.js", "console.log(1);"),
    ],
)
def test_a_change_of_any_file_is_a_new_version(editable, name, more):
    client, web = editable
    before = shell_of(client)
    tag = client.get("/style.css").headers["ETag"]
    with (web / name).open("a") as f:
        f.write(more)
    after = shell_of(client)
    assert after[0] != before[0]
    assert len(after[1]) == len(before[1])
    if name == "style.css":
        assert client.get("/style.css", headers={"If-None-Match": tag}).status_code == 200


def test_a_new_file_joins_the_list(editable):
    client, web = editable
    (web / "icons" / "more.svg").write_text("<svg/>\n")
    assert "/icons/more.svg" in shell_of(client)[1]


def test_a_module_that_does_not_parse_is_told_in_the_laptops_window(editable, caplog):
    client, web = editable
    version = shell_of(client)[0]
    whole = (web / "screens" / "saw.js").read_text()
    (web / "screens" / "saw.js").write_text(whole + "const x = ;\n")
    check_error_shape(client.get("/p"), 500, "fault")
    no_worker(client.get("/sw.js"), 500)
    assert "could not be bundled" in caplog.text
    assert "screens/saw.js:" in caplog.text
    (web / "screens" / "saw.js").write_text(whole)
    assert shell_of(client)[0] == version


def test_a_service_worker_that_is_lost_is_still_no_html(editable, caplog):
    client, web = editable
    (web / "sw.js").unlink()
    no_worker(client.get("/sw.js", headers={"Accept": "text/html"}), 500)
    assert "sw.js" in caplog.text
    for path in ("/sw.js/", "/sw.js/p"):
        check_error_shape(client.get(path, headers={"Accept": "text/html"}), 500, "fault")


def test_the_laptops_screen_is_readable_from_afar():
    """Contrast at least 7:1 by the formula of WCAG 2.2, 1.4.6; QR ink on its light as well."""
    from server import qr

    css = (ROOT / "web" / "laptop.css").read_text()
    colours = dict(re.findall(r"--(\w+): (#[0-9a-f]{6})", css))
    assert set(re.findall(r"#[0-9a-f]{3,6}\b", css)) == set(colours.values())
    assert contrast(colours["ink"], colours["paper"]) >= 7
    svg = qr.svg("x")
    ink, light = re.search(r'stroke="(#\w+)"', svg)[1], re.search(r'fill="(#\w+)"', svg)[1]
    assert contrast(ink, light) >= 7


def contrast(one, other):
    def luminance(colour):
        parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        r, g, b = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
        return 0.2126 * r + 0.7152 * g + 0.0722 * b

    high, low = sorted([luminance(one), luminance(other)], reverse=True)
    return (high + 0.05) / (low + 0.05)
