"""The pages that stand apart: plain, there whatever is broken, and never kept."""

import re
import shutil
from pathlib import Path

import pytest

from server.apart import FILES
from server.app import ROOT, create_app

from .conftest import check_error_shape


@pytest.fixture
def broken(tmp_path):
    """An app whose page has a module that does not parse."""
    web = tmp_path / "web"
    shutil.copytree(ROOT / "web", web, ignore=shutil.ignore_patterns("node_modules"))
    (web / "app.js").write_text("const x = ;\n")
    url = f"sqlite:///{tmp_path / 'jobs.sqlite3'}"
    app = create_app({"DATABASE_URL": url, "WEB": web})
    yield app.test_client()
    app.extensions["lapwright-store"].close()


@pytest.mark.parametrize("path", FILES)
def test_they_are_there_where_the_page_is_broken(broken, path):
    check_error_shape(broken.get("/p"), 500, "fault")
    response = broken.get(path)
    assert response.status_code == 200
    kind = {"": "html", ".js": "javascript", ".css": "css"}[Path(path).suffix]
    assert response.headers["Content-Type"] == f"text/{kind}; charset=utf-8"
    assert response.headers["Cache-Control"] == "no-store"
    assert "script-src 'self'" in response.headers["Content-Security-Policy"]


def test_the_service_worker_does_not_serve_them(client):
    urls = client.get("/sw.js").get_data(as_text=True).split("const SHELL = ")[1]
    urls = urls.split(";\n")[0]
    assert '"/p"' in urls
    assert not [path for path in FILES if f'"{path}"' in urls]
    for path in ("/apart/reset.html", "/apart/setup.js", "/reset.html"):
        check_error_shape(client.get(path), 404, "not-found")


@pytest.mark.parametrize("path", ["/reset", "/setup"])
def test_they_use_nothing_of_the_pages_own(client, path):
    """But its icon, which may be missing, and its address."""
    text = client.get(path).get_data(as_text=True)
    named = set(re.findall(r'(?:href|src)="(/[^"]*)"', text))
    assert f"{path}.js" in named
    assert named <= {*FILES, "/p", "/icons/mark.svg"}
    script = client.get(f"{path}.js").get_data(as_text=True)
    assert "import" not in script
    assert "style=" not in text and "<script>" not in text  # the policy lets neither pass
