"""What a phone is given to trust this laptop, and whose page may ask it from elsewhere."""

import plistlib
import re
import uuid

import pytest
from cryptography import x509

from server import address, certs
from server.app import create_app
from server.https import Https

from .conftest import check_error_shape

HAD = "192.168.7.20"
NOW_AT = "10.0.0.5"


@pytest.fixture
def at():
    """The laptop's addresses, which change."""
    return [HAD]


@pytest.fixture
def https(tmp_path, at):
    return Https(tmp_path / "trust", lambda: list(at))


@pytest.fixture
def trusted(tmp_path, https, at, monkeypatch):
    """A client of a laptop with https."""
    monkeypatch.setattr(address, "addresses", lambda: list(at))
    app = create_app({"DATABASE_URL": f"sqlite:///{tmp_path / 'jobs.sqlite3'}", "HTTPS": https})
    yield app.test_client()
    app.extensions["lapwright-store"].close()


def test_where_https_is(trusted, https, at):
    at[:] = [HAD, "8.8.8.8", NOW_AT]
    answer = trusted.get("/api/laptop").get_json()
    assert answer == {
        "name": https.name,
        "https": f"https://{https.name}:8129",
        # For a public address the CA may not vouch.
        "addresses": [f"https://{HAD}:8129", f"https://{NOW_AT}:8129"],
        "fingerprint": certs.fingerprint(https.authority.cert),
        "ca_until": https.authority.cert.not_valid_after_utc.strftime("%Y-%m-%dT%H:%M:%SZ"),
        "problem": "",
    }


def test_the_certificate_is_the_authoritys_in_der(trusted, https):
    answer = trusted.get("/ca.crt")
    assert answer.content_type == "application/x-x509-ca-cert"
    assert x509.load_der_x509_certificate(answer.data) == https.authority.cert
    file = https.name.replace(".local", ".crt")
    assert answer.headers["Content-Disposition"] == f'attachment; filename="{file}"'
    assert answer.headers["Cache-Control"] == "no-store"


def test_the_profile_holds_the_same_and_replaces_itself(trusted, https, tmp_path):
    """Keys and types as in Apple's Configuration Profile Reference, from memory."""
    answer = trusted.get("/ca.mobileconfig")
    assert answer.content_type == "application/x-apple-aspen-config"
    profile = plistlib.loads(answer.data)
    assert profile["PayloadType"] == "Configuration"
    [root] = profile["PayloadContent"]
    assert root["PayloadType"] == "com.apple.security.root"
    assert x509.load_der_x509_certificate(root["PayloadContent"]) == https.authority.cert
    assert https.fingerprint in profile["PayloadDescription"]
    ids = [profile["PayloadUUID"], root["PayloadUUID"]]
    assert all(str(uuid.UUID(i)).upper() == i for i in ids)
    assert len(set(ids)) == 2
    # A second start, the same profile; another laptop, another.
    assert [str(i).upper() for i in Https(tmp_path / "trust", lambda: []).ids()] == ids
    assert [str(i).upper() for i in Https(tmp_path / "other", lambda: []).ids()] != ids


def test_without_https_it_is_told(client):
    answer = client.get("/api/laptop").get_json()
    assert (answer["https"], answer["addresses"], answer["fingerprint"]) == (None, [], None)
    for path in ("/ca.crt", "/ca.mobileconfig"):
        check_error_shape(client.get(path), 404, "not-found")
    assert 'class="trust"' not in client.get("/").get_data(as_text=True)


def test_the_laptops_screen_shows_the_fingerprint(trusted, https):
    page = trusted.get("/").get_data(as_text=True)
    shown = re.search(r'<p class="print">(.*?)</p>', page)[1].split("<br>")
    assert [len(line) for line in shown] == [23, 23, 23, 23]
    assert ":".join(shown) == https.fingerprint
    assert f"<b>{HAD}:8128/setup</b>" in page
    assert f"<b>https://{https.name}:8129/p</b>" in page


OURS = ["https://{name}:8129", "https://{name}", f"https://{HAD}:8129", f"https://{HAD}:9000"]
FOREIGN = [
    "http://{name}:8129",
    f"http://{HAD}:8128",
    "https://10.0.0.77:8129",
    "https://other.example",
    "https://{name}.other.example",
    "https://x{name}",
    "https://{name}@other.example",
    "https://other.example#{name}",
    "https://{name}:8129/",
    "https://{name}:99999",
    "https://{name}:",
    "https://",
    "null",
    "",
    "https://127.0.0.1:8129",
]


@pytest.mark.parametrize("origin", OURS)
@pytest.mark.parametrize("path", ["/api/ping", "/api/jobs/nothing", "/api/nothing"])
def test_our_own_page_may_ask_from_another_address(trusted, https, origin, path):
    origin = origin.format(name=https.name)
    answer = trusted.get(path, headers={"Origin": origin})
    assert answer.headers["Access-Control-Allow-Origin"] == origin
    assert "Origin" in answer.headers["Vary"]
    assert "Access-Control-Allow-Credentials" not in answer.headers


@pytest.mark.parametrize("origin", OURS)
def test_it_may_write_after_asking_first(trusted, https, origin):
    origin = origin.format(name=https.name)
    answer = trusted.options(
        "/api/jobs",
        headers={
            "Origin": origin,
            "Access-Control-Request-Method": "POST",
            "Access-Control-Request-Headers": "content-type",
            "Access-Control-Request-Private-Network": "true",
        },
    )
    assert answer.status_code == 200
    assert answer.headers["Access-Control-Allow-Origin"] == origin
    assert "PUT" in answer.headers["Access-Control-Allow-Methods"]
    assert answer.headers["Access-Control-Allow-Headers"] == "Content-Type"
    assert answer.headers["Access-Control-Allow-Private-Network"] == "true"
    assert "Access-Control-Allow-Credentials" not in answer.headers


@pytest.mark.parametrize("origin", FOREIGN)
@pytest.mark.parametrize("method", ["GET", "OPTIONS"])
def test_nobody_elses_page_may(trusted, https, origin, method):
    headers = {"Origin": origin.format(name=https.name), "Access-Control-Request-Method": "PUT"}
    answer = trusted.open("/api/ping", method=method, headers=headers)
    assert not [h for h, _ in answer.headers if h.startswith("Access-Control-")]
    assert "Origin" in answer.headers["Vary"]


@pytest.mark.parametrize("path", ["/p", "/", "/ca.crt", "/version.json", "/quick.bin"])
def test_the_api_alone_is_asked_from_elsewhere(trusted, https, path):
    answer = trusted.get(path, headers={"Origin": f"https://{https.name}:8129"})
    assert answer.status_code == 200
    assert "Access-Control-Allow-Origin" not in answer.headers


def test_a_page_of_an_address_that_was_left_may_ask(trusted, https, at, tmp_path):
    """Where a phone can't resolve the name, the first address is where its page stands."""
    at[:] = [NOW_AT]
    https.refresh()
    for held in (https, Https(tmp_path / "trust", lambda: [NOW_AT])):
        assert held.is_ours(f"https://{HAD}:8129")
        assert held.is_ours(f"https://{NOW_AT}:8129")
        assert not held.is_ours("https://10.0.0.77:8129")


def policy(answer):
    lines = answer.headers["Content-Security-Policy"].split("; ")
    return dict(line.split(" ", 1) for line in lines)


def test_the_page_may_connect_to_this_laptop_elsewhere_and_to_nothing_else(trusted, client):
    with_https, without = policy(trusted.get("/p")), policy(client.get("/p"))
    assert with_https["connect-src"] == "'self' https://*:8129"
    assert without["connect-src"] == "'self'"
    assert {k: v for k, v in with_https.items() if k != "connect-src"} == {
        k: v for k, v in without.items() if k != "connect-src"
    }
