"""The page's modules, bundled: the same bytes each time, the bundler's own words when not."""

import shutil

import pytest

from server.app import ROOT
from server.bundled import BUNDLER, ENTRIES, bundled
from server.cli import main
from server.shell import Shell

WEB = ROOT / "web"


@pytest.fixture
def sources(tmp_path):
    """A page of three modules of its own, and one that is loaded late."""
    texts = {
        "app.js": "import { shared } from './parts/shared.js';\n"
        "export const late = () => import('./late.js');\nconsole.log('app', shared);\n",
        "engine.js": "export { shared } from './parts/shared.js';\n",
        "worker.js": "const m = await import('./vendor/micropython.mjs');\nconsole.log(m);\n",
        "late.js": "import { shared } from './parts/shared.js';\nexport const l = [shared, 'x'];\n",
        "parts/shared.js": "export const shared = 'told once';\n",
    }
    out = {}
    for name, text in texts.items():
        out[name] = tmp_path / "sources" / name
        out[name].parent.mkdir(parents=True, exist_ok=True)
        out[name].write_text(text, encoding="utf-8")
    return out


def test_each_module_travels_once_and_late_ones_apart(sources):
    made = bundled(sources, WEB / BUNDLER)
    assert {f"/{name}" for name in ENTRIES} <= set(made)
    (chunk,) = (url for url in made if url.startswith("/chunk-"))
    assert [url for url in made if b"told once" in made[url]] == [chunk]
    (late,) = (url for url in made if url.startswith("/late-"))
    assert f'import(".{late}")'.encode() in made["/app.js"]
    assert b'import("./vendor/micropython.mjs")' in made["/worker.js"]


def test_the_same_sources_give_the_same_bytes_wherever_they_lie(sources, tmp_path):
    one = bundled(sources, WEB / BUNDLER)
    shutil.copytree(tmp_path / "sources", tmp_path / "elsewhere")
    moved = {name: tmp_path / "elsewhere" / name for name in reversed(sources)}
    assert bundled(moved, WEB / BUNDLER) == one
    assert not [url for url in one if str(tmp_path).encode() in one[url]]


def test_a_part_of_another_content_has_another_address(sources):
    one = bundled(sources, WEB / BUNDLER)
    sources["late.js"].write_text("export const l = 'later';\n", encoding="utf-8")
    two = bundled(sources, WEB / BUNDLER)
    for url in set(one) & set(two):
        assert one[url] == two[url] or url.removeprefix("/") in ENTRIES
    assert len(set(one) - set(two)) == 1


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("parts/shared.js", "export const shared = ;\n", r"parts/shared\.js:1:22"),
        ("late.js", "import './nowhere.js';\n", r'Could not resolve "\./nowhere\.js"'),
        ("app.js", "import { other } from './parts/shared.js';\nother();\n", r"No matching export"),
    ],
)
def test_what_does_not_parse_or_join_is_told_in_the_bundlers_words(sources, name, text, said):
    sources[name].write_text(text, encoding="utf-8")
    with pytest.raises(SyntaxError, match=said) as caught:
        bundled(sources, WEB / BUNDLER)
    assert str(caught.value).startswith("The page's modules could not be bundled: ")
    assert "\x1b" not in str(caught.value)


def test_a_bundler_that_cant_be_run_is_named_with_what_to_do(sources, tmp_path):
    program = tmp_path / "bundler"
    program.write_bytes(b"\0")
    program.chmod(0o755)
    with pytest.raises(OSError, match=r"bundler .*bundler can't be run.*Install Lapwright again"):
        bundled(sources, program)


@pytest.fixture
def web(tmp_path):
    """A copy of the page that may be broken."""
    out = tmp_path / "web"
    shutil.copytree(WEB, out, ignore=shutil.ignore_patterns("node_modules", "__pycache__"))
    return out


def test_a_page_without_its_bundler_is_told_at_the_start(web, tmp_path, monkeypatch, capsys):
    assert Shell(web, ROOT / "calc", 0).missing() == ""
    (web / BUNDLER).unlink()
    assert Shell(web, ROOT / "calc", 0).missing() == BUNDLER
    monkeypatch.setattr("server.app.ROOT", tmp_path)
    assert main(["--data", str(tmp_path / "data"), "--port", "0"]) == 1
    said = capsys.readouterr().err
    assert BUNDLER in said and "Install Lapwright again with pip" in said
