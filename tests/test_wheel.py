"""What pip builds: the right files, the engine whole, and it runs from elsewhere."""

import hashlib
import importlib.util
import json
import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from server.shell import Shell

ROOT = Path(__file__).parent.parent
WEB = ROOT / "web"
LOCK = json.loads((WEB / "package-lock.json").read_text(encoding="utf-8"))


def load_hook():
    spec = importlib.util.spec_from_file_location("lapwright_build", WEB / "build.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


HOOK = load_hook()


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    """The wheel, built with this environment's hatchling and the vendored files there are."""
    out = tmp_path_factory.mktemp("wheel")
    _pip("wheel", "--no-deps", "--no-build-isolation", "--wheel-dir", str(out), str(ROOT))
    (built,) = out.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def installed(wheel, tmp_path_factory):
    """The wheel installed alone into a folder of its own."""
    target = tmp_path_factory.mktemp("site")
    _pip("install", "--no-deps", "--no-index", "--target", str(target), str(wheel))
    return target


def test_holds_the_code_the_page_and_the_engine(wheel):
    names = zipfile.ZipFile(wheel).namelist()
    for folder in ("calc", "server"):
        wanted = {str(p.relative_to(ROOT).as_posix()) for p in (ROOT / folder).rglob("*.py")}
        assert wanted
        assert wanted <= set(names)
    page = {"web/index.html", "web/engine.js", "web/worker.js", "web/sw.js"}
    vendored = {f"web/vendor/{name}" for _, name in HOOK.FILES}
    assert page | vendored <= set(names)


def test_holds_nothing_else(wheel):
    names = zipfile.ZipFile(wheel).namelist()
    tops = {name.split("/")[0] for name in names}
    (info,) = {t for t in tops if t.endswith(".dist-info")}
    assert tops == {"calc", "server", "web", info}
    assert [n for n in names if "node_modules" in n or "__pycache__" in n] == []
    assert not {"web/build.py", "web/package.json", "web/package-lock.json"} & set(names)


def test_the_engine_in_it_is_what_the_stamp_says(wheel):
    archive = zipfile.ZipFile(wheel)
    stamp = json.loads(archive.read("web/vendor/stamp.json"))
    assert stamp["lock"] == hashlib.sha256((WEB / "package-lock.json").read_bytes()).hexdigest()
    for _, name in HOOK.FILES:
        digest = hashlib.sha256(archive.read(f"web/vendor/{name}")).hexdigest()
        assert stamp["files"][name] == digest
    assert archive.read("web/vendor/micropython.wasm")[:4] == b"\0asm"


def test_the_bundler_is_still_a_program_where_it_is_installed(installed, tmp_path):
    """And bundles what the wheel brought to the same files as here."""
    ask = (
        "from server.app import create_app; import json;"
        "app = create_app({'DATABASE_URL': 'sqlite:///jobs.sqlite3'});"
        "print(json.dumps(app.extensions['lapwright-shell'].version()));"
        "app.extensions['lapwright-store'].close()"
    )
    there = json.loads(_run(installed, tmp_path, "-c", ask))
    assert there == Shell(WEB, ROOT / "calc", 0).version()


def test_the_wheel_says_what_machine_it_is_for(wheel):
    tag = wheel.stem.split("-")[-1]
    assert tag != "any"
    text = zipfile.ZipFile(wheel).read("lapwright-0.1.0.dist-info/WHEEL").decode()
    assert "Root-Is-Purelib: false" in text
    assert f"-{tag}\n" in text


def test_it_answers_from_where_it_is_installed(installed, tmp_path):
    ask = (
        "import calc.bridge, json; print(calc.bridge.__file__);"
        "print(calc.bridge.call(json.dumps({'do': 'read', 'text': '1 in', 'unit': 'mm'})))"
    )
    where, answer = _run(installed, tmp_path, "-c", ask).splitlines()
    assert Path(where).is_relative_to(installed)
    # NBS Circular 572 addendum: 25.4 mm exactly.
    assert json.loads(answer)["exact"] == "25.4 mm"


def test_it_plans_a_job_from_where_it_is_installed(installed, tmp_path):
    job = sorted((ROOT / "examples").glob("*.json"))[0]
    printed = _run(installed, tmp_path, "-m", "server", "plan", str(job))
    assert "Board" in printed


def test_the_lock_is_exact_and_names_no_host():
    text = (WEB / "package-lock.json").read_text(encoding="utf-8")
    assert "resolved" not in text
    assert "://" not in text
    machines = {name for name in LOCK["packages"] if name.startswith("node_modules/@esbuild/")}
    for machine in ("linux-x64", "linux-arm64", "darwin-arm64", "darwin-x64", "win32-x64"):
        assert f"node_modules/@esbuild/{machine}" in machines
    wanted = json.loads((WEB / "package.json").read_text(encoding="utf-8"))["dependencies"]
    for name, version in wanted.items():
        entry = LOCK["packages"][f"node_modules/{name}"]
        assert version == entry["version"]
        assert entry["integrity"].startswith("sha512-")


def test_ci_runs_readmes_test_command():
    commands = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    assert f"    {commands[-1]}" in (ROOT / "README.md").read_text(encoding="utf-8").splitlines()
    assert "-m tests" in commands[-1]


class TestHook:
    """web/build.py on a copy of web's own files, with a npm of the test's own."""

    @pytest.fixture
    def web(self, tmp_path):
        web = tmp_path / "web"
        web.mkdir()
        for name in ("package.json", "package-lock.json"):
            shutil.copy(WEB / name, web)
        return web

    @pytest.fixture
    def no_npm(self, tmp_path, monkeypatch):
        empty = tmp_path / "empty"
        empty.mkdir()
        monkeypatch.setenv("PATH", str(empty))

    def hook(self, web):
        return HOOK.Vendor(str(web.parent), {}, None, None, "", "wheel")

    def copy_vendor(self, web):
        shutil.copytree(WEB / "vendor", web / "vendor")

    def test_without_npm_the_build_asks_for_one(self, web, no_npm):
        assert self.hook(web).dependencies() == [HOOK.NPM_FROM_PYPI]
        assert "==" in HOOK.NPM_FROM_PYPI

    def test_nothing_is_asked_or_fetched_when_all_is_there(self, web, no_npm):
        self.copy_vendor(web)
        assert HOOK.is_current(web)
        assert self.hook(web).dependencies() == []
        self.hook(web).initialize("standard", {})

    @pytest.mark.parametrize("change", ["lock", "file", "missing", "extra", "stamp"])
    def test_any_change_is_noticed(self, web, change):
        self.copy_vendor(web)
        vendor = web / "vendor"
        if change == "lock":
            (web / "package-lock.json").write_text("{}", encoding="utf-8")
        elif change == "file":
            (vendor / "idb.js").write_text("//", encoding="utf-8")
        elif change == "missing":
            (vendor / "lit-html.js").unlink()
        elif change == "extra":
            (vendor / "other.js").write_text("//", encoding="utf-8")
        else:
            (vendor / HOOK.STAMP).unlink()
        assert not HOOK.is_current(web)

    def test_without_npm_the_message_says_what_to_do(self, web, no_npm):
        with pytest.raises(HOOK.VendorError, match=r"npm is not on PATH.*Install Node\.js"):
            HOOK.bring(web)

    def test_when_npm_fails_its_own_words_are_shown(self, web):
        (web / "package-lock.json").write_text("{}", encoding="utf-8")
        with pytest.raises(HOOK.VendorError, match=r"(?s)exit 1.*npm said:.*npm"):
            HOOK.bring(web)
        assert sorted(p.name for p in web.iterdir()) == ["package-lock.json", "package.json"]


def _pip(*arguments):
    command = [sys.executable, "-m", "pip", *arguments, "--quiet", "--no-input"]
    done = subprocess.run(command, capture_output=True, encoding="utf-8", cwd=ROOT)
    assert done.returncode == 0, done.stdout + done.stderr


def _run(installed, elsewhere, *arguments):
    """Run python on what is installed there, and not on this tree."""
    done = subprocess.run(
        [sys.executable, "-P", *arguments],
        cwd=elsewhere,
        env={**os.environ, "PYTHONPATH": str(installed), "PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        encoding="utf-8",
    )
    assert done.returncode == 0, done.stderr
    return done.stdout
