"""Links and their QR codes: the laptop's own address, readable by a camera."""

import re

import pytest

from server import address, qr
from server.app import create_app

from .qrimage import decode, decode_terminal


def test_a_jobs_links_and_their_qrs(client, stored):
    answer = client.get(f"/api/jobs/{stored['key']}/links").get_json()
    assert set(answer) == {"edit", "saw"}
    assert answer["edit"]["link"] == f"http://192.168.7.20:8128/p#/edit/{stored['key']}"
    assert re.fullmatch(
        r"http://192\.168\.7\.20:8128/p#/saw/[A-Za-z0-9_-]{22}", answer["saw"]["link"]
    )
    assert stored["key"] not in answer["saw"]["link"]
    for one in answer.values():
        assert set(one) == {"link", "qr"}
        (text, level), margin = decode(one["qr"])
        assert text == one["link"]
        assert level in ("Q", "H")
        assert margin == 4
        assert 'xmlns="http://www.w3.org/2000/svg"' in one["qr"]  # the page shows it as an image
    assert client.get(f"/api/jobs/{stored['key']}/links").get_json() == answer


def test_the_laptops_screen_shows_the_link_and_its_qr(client):
    response = client.get("/")
    page = response.get_data(as_text=True).replace("<wbr>", "")
    assert response.mimetype == "text/html"
    assert '<p class="link">http://192.168.7.20:8128/p</p>' in page
    assert '<a class="open" href="/p">Open it on this laptop</a>' in page
    (text, level), margin = decode(re.search(r"<svg.*?</svg>", page)[0])
    assert (text, margin) == ("http://192.168.7.20:8128/p", 4)
    assert level in ("Q", "H")


def test_the_terminals_qr():
    text, level = decode_terminal(qr.terminal("http://192.168.7.20:8128/p"))
    assert text == "http://192.168.7.20:8128/p"
    assert level in ("Q", "H")


def test_a_forged_host_header_changes_no_link(client, stored):
    forged = {"Host": "elsewhere.example", "X-Forwarded-Host": "elsewhere.example"}
    for path in ("/", f"/api/jobs/{stored['key']}/links"):
        body = client.get(path, headers=forged).get_data(as_text=True).replace("<wbr>", "")
        assert "elsewhere" not in body
        assert "http://192.168.7.20:8128/p" in body


@pytest.mark.parametrize(
    ("host", "chosen", "links"),
    [
        ("127.0.0.1", None, ["127.0.0.1"]),
        ("192.168.1.9", None, ["192.168.1.9"]),
        ("0.0.0.0", "10.1.2.3", ["10.1.2.3"]),
        ("127.0.0.1", "10.1.2.3", ["10.1.2.3"]),
    ],
)
def test_what_is_listened_on_or_chosen_stands_in_the_link(host, chosen, links):
    assert address.reachable(host, chosen) == links


def test_addresses_are_our_own_and_none_is_loopback():
    import socket

    for a in address.addresses():
        assert not a.startswith("127.")
        with socket.socket() as s:
            s.bind((a, 0))  # only an address of this machine can be bound


def test_without_a_network_the_screen_says_so(tmp_path, monkeypatch):
    monkeypatch.setattr(address, "addresses", lambda: [])
    app = create_app({"DATABASE_URL": f"sqlite:///{tmp_path / 'jobs.sqlite3'}"})
    page = app.test_client().get("/").get_data(as_text=True).replace("<wbr>", "")
    app.extensions["lapwright-store"].close()
    assert "http://127.0.0.1:8128/p" in page
    assert "Only this laptop can open the page so far." in page


def test_other_addresses_are_offered(tmp_path, monkeypatch):
    monkeypatch.setattr(address, "addresses", lambda: ["192.168.1.9", "10.0.0.4"])
    app = create_app({"DATABASE_URL": f"sqlite:///{tmp_path / 'jobs.sqlite3'}"})
    page = app.test_client().get("/").get_data(as_text=True).replace("<wbr>", "")
    app.extensions["lapwright-store"].close()
    assert '<p class="link">http://192.168.1.9:8128/p</p>' in page
    assert "<b>http://10.0.0.4:8128/p</b>" in page
