"""Behind a reverse proxy with a name of its own: one hop is believed, and only when told to."""

import re
import signal

import pytest

from server.app import create_app

FROM_PROXY = {"X-Forwarded-Proto": "https", "X-Forwarded-Host": "boards.example"}


@pytest.fixture
def behind(tmp_path):
    app = create_app(
        {
            "DATABASE_URL": f"sqlite:///{tmp_path / 'jobs.sqlite3'}",
            "HOST": "127.0.0.1",
            "BEHIND_PROXY": True,
        }
    )
    yield app.test_client()
    app.extensions["lapwright-store"].close()


def test_links_are_the_proxys(behind, job):
    key = behind.post("/api/jobs", json={"job": job}).get_json()["key"]
    answer = behind.get(f"/api/jobs/{key}/links", headers=FROM_PROXY).get_json()
    assert answer["edit"]["link"] == f"https://boards.example/p#/edit/{key}"
    assert answer["saw"]["link"].startswith("https://boards.example/p#/saw/")
    page = behind.get("/", headers=FROM_PROXY).get_data(as_text=True).replace("<wbr>", "")
    assert '<p class="link">https://boards.example/p</p>' in page
    assert "Only this laptop" not in page
    assert 'class="trust"' not in page  # phones trust the proxy's certificate by themselves


def test_the_nearest_hop_alone_is_believed(behind, job):
    """What came with the request stands first in the list; the proxy's own word is the last."""
    forged = {
        "X-Forwarded-Proto": "http, https",
        "X-Forwarded-Host": "elsewhere.example, b.example",
    }
    answer = behind.get("/api/laptop", headers=forged).get_json()
    assert answer["https"] == "https://b.example"


def test_where_https_is(behind):
    answer = behind.get("/api/laptop", headers=FROM_PROXY).get_json()
    assert (answer["name"], answer["https"]) == ("boards.example", "https://boards.example")
    assert (answer["addresses"], answer["fingerprint"], answer["problem"]) == ([], None, "")
    plain = behind.get("/api/laptop", headers={"X-Forwarded-Host": "boards.example"}).get_json()
    assert plain["https"] is None
    assert behind.get("/ca.crt", headers=FROM_PROXY).status_code == 404


def test_without_the_option_no_header_is_believed(client):
    assert client.get("/api/laptop", headers=FROM_PROXY).get_json()["https"] is None
    assert "boards.example" not in client.get("/", headers=FROM_PROXY).get_data(as_text=True)


def test_the_command_makes_no_certificate_there(laptop, tmp_path):
    one = laptop("--behind-proxy")
    said = one.said
    assert re.search(r"Proxy: +send it all to http://127\.0\.0\.1:\d+/\n", said)
    assert "Secure:" not in said and "Trust:" not in said
    assert one.end(signal.SIGTERM)[0] == 0
    assert not (tmp_path / "data" / "trust").exists()
