"""Certificates, held against RFC 5280 and judged by the system's openssl.

What Apple's systems take is from memory of its published requirements for TLS server
certificates: names in the subject alternative name, the serverAuth purpose, SHA-2, an
elliptic key of 256 bits or more, and at most 398 days.
"""

import datetime
import re

import pytest
from cryptography import x509

from server import certs

from . import openssl
from .openssl import NOW, constrained, leaf_for, verified

DAY = datetime.timedelta(days=1)
pytestmark = openssl.needed


@pytest.fixture(scope="module")
def ca():
    return certs.new_authority("lapwright-k3x9q2.local", NOW)


@pytest.fixture(scope="module")
def leaf(ca):
    return certs.new_leaf(ca, ["10.77.0.1", "192.168.7.20"], NOW)


@pytest.mark.parametrize(
    "by",
    [
        ["-verify_hostname", "lapwright-k3x9q2.local"],
        ["-verify_hostname", "localhost"],
        ["-verify_ip", "10.77.0.1"],
        ["-verify_ip", "192.168.7.20"],
        ["-verify_ip", "127.0.0.1"],
    ],
)
def test_openssl_takes_the_leaf_for_the_laptops_name_and_addresses(tmp_path, ca, leaf, by):
    taken, said = verified(tmp_path, certs.pem(ca.cert), certs.pem(leaf.cert), *by)
    assert taken, said


@pytest.mark.parametrize(
    "by",
    [
        ["-verify_hostname", "lapwright-other2.local"],
        ["-verify_ip", "10.77.0.2"],
        ["-attime", str(int((NOW - 2 * DAY).timestamp()))],
        ["-attime", str(int((NOW + 397 * DAY).timestamp()))],
    ],
)
def test_openssl_takes_it_for_nothing_else_and_at_no_other_time(tmp_path, ca, leaf, by):
    assert not verified(tmp_path, certs.pem(ca.cert), certs.pem(leaf.cert), *by)[0]


OUTSIDE = ["8.8.8.8", "172.32.0.1", "192.169.0.1", "100.64.0.1", "2001:db8::1"]
OUTSIDE += ["other.example", "lapwright-other2.local", "local", "xlapwright-k3x9q2.local"]


@pytest.mark.parametrize("name", OUTSIDE)
def test_with_its_key_stolen_the_ca_still_vouches_for_nothing_outside(tmp_path, ca, name):
    """RFC 5280, 4.2.1.10: a name of a constrained kind must lie in a permitted subtree."""
    _, stolen, _ = leaf_for(ca, name)
    taken, said = verified(tmp_path, certs.pem(ca.cert), stolen)
    assert not taken
    assert "permitted subtree violation" in said


@pytest.mark.parametrize("name", ["10.1.2.3", "172.31.0.1", "169.254.9.9", "127.0.0.1", "fd00::1"])
def test_what_lies_within_is_taken(tmp_path, ca, name):
    """Without this the test before might fail for another reason than the name."""
    _, within, _ = leaf_for(ca, name)
    taken, said = verified(tmp_path, certs.pem(ca.cert), within)
    assert taken, said


def test_one_kind_of_constraint_alone_would_not_do(tmp_path):
    """Why there are both: names alone let every address through, and the other way round."""
    names = constrained("a.local", [x509.DNSName("a.local")])
    networks = constrained("a.local", [x509.IPAddress(n) for n in certs.PRIVATE])
    _, address, _ = leaf_for(names, "8.8.8.8")
    _, name, _ = leaf_for(networks, "other.example")
    assert verified(tmp_path, certs.pem(names.cert), address)[0]
    assert verified(tmp_path, certs.pem(networks.cert), name)[0]


def test_it_vouches_for_no_authority_below_it(tmp_path, ca):
    """pathlen 0: RFC 5280, 4.2.1.9."""
    _, below, authority = leaf_for(ca, ca.name, ca=True)
    _, leaf, _ = leaf_for(authority, ca.name)
    (tmp_path / "below.pem").write_bytes(below)
    options = ["-untrusted", tmp_path / "below.pem"]
    taken, said = verified(tmp_path, certs.pem(ca.cert), leaf, *options)
    assert not taken
    assert "path length constraint exceeded" in said


def test_the_authority_says_what_it_is(ca):
    said = openssl.told(certs.pem(ca.cert), "-text").decode()
    assert "Subject: CN = Lapwright on lapwright-k3x9q2" in said
    assert re.search(r"Basic Constraints: critical\s+CA:TRUE, pathlen:0\n", said)
    assert re.search(r"Key Usage: critical\s+Certificate Sign\n", said)
    assert "Name Constraints: critical" in said
    print_ = openssl.told(certs.pem(ca.cert), "-fingerprint", "-sha256").decode()
    assert print_.strip().split("=")[1] == certs.fingerprint(ca.cert)


def test_the_leaf_is_what_phones_take(leaf):
    said = openssl.told(certs.pem(leaf.cert), "-text").decode()
    assert re.search(r"Basic Constraints: critical\s+CA:FALSE\n", said)
    assert re.search(r"Key Usage: critical\s+Digital Signature\n", said)
    assert re.search(r"Extended Key Usage: \s+TLS Web Server Authentication\n", said)
    assert "ecdsa-with-SHA256" in said and "prime256v1" in said
    dates = openssl.told(certs.pem(leaf.cert), "-dates", "-dateopt", "iso_8601").decode()
    first, last = (datetime.datetime.fromisoformat(d) for d in re.findall(r"=(\S+ \S+Z)", dates))
    # Both ends count: 397 days to the second.
    assert last - first + datetime.timedelta(seconds=1) == 397 * DAY
    assert first == NOW - DAY


def test_a_leaf_never_outlives_its_authority(ca):
    late = ca.cert.not_valid_after_utc - 5 * DAY
    leaf = certs.new_leaf(ca, [], late)
    assert leaf.cert.not_valid_after_utc == ca.cert.not_valid_after_utc
    assert not certs.is_due(leaf, ca, [], late)  # another would last no longer


def test_when_another_leaf_is_due(ca, leaf):
    had = ["192.168.7.20", "10.77.0.1"]
    ends = leaf.cert.not_valid_after_utc
    assert not certs.is_due(leaf, ca, had, NOW)
    assert not certs.is_due(leaf, ca, had, ends - 31 * DAY)
    assert certs.is_due(leaf, ca, had, ends - 29 * DAY)
    assert certs.is_due(leaf, ca, had, NOW - 3 * DAY)  # a clock that was wrong, and set right
    assert certs.is_due(leaf, ca, had[:1], NOW)
    assert certs.is_due(leaf, ca, [*had, "10.0.0.9"], NOW)
    # No phone can be told of these by a certificate, so they change nothing.
    assert not certs.is_due(leaf, ca, [*had, "8.8.8.8", "laptop.example"], NOW)


def test_names_are_random_and_plain():
    names = {certs.new_name() for _ in range(200)}
    assert len(names) == 200
    assert all(re.fullmatch(r"lapwright-[a-z0-9]{6}\.local", n) for n in names)
    assert not any(set("01ilo") & set(n[10:16]) for n in names)
