"""The laptop's certificates: a CA that can vouch for this laptop alone, and leaves under it.

The CA is name-constrained (RFC 5280, 4.2.1.10) by both kinds of names: with DNS names
alone it could still vouch for any address, and with addresses alone for any name. So a
phone that trusts it takes on no risk beyond this laptop's name and private networks.
"""

import ipaddress
import re
import secrets
from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import NamedTuple

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

# RFC 1918, link-local (RFC 3927), loopback; and their like in IPv6 (RFC 4193, RFC 4291).
PRIVATE = tuple(
    ipaddress.ip_network(n)
    for n in (
        "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "127.0.0.0/8",
        "fc00::/7", "fe80::/10", "::1/128",
    )
)  # fmt: skip
AUTHORITY_DAYS = 3650
# Phones refuse server certificates that last longer than 398 days, or warn.
LEAF_DAYS = 397
# A phone's clock may go behind the laptop's.
_BACKDATED = timedelta(days=1)
_RENEWED_BEFORE = timedelta(days=30)
_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"  # none is taken for another
_NAME = re.compile(rf"lapwright-[{_LETTERS}]{{6}}\.local")


class Authority(NamedTuple):
    """name: the one DNS name it vouches for; key, cert: the CA's own."""

    name: str
    key: ec.EllipticCurvePrivateKey
    cert: x509.Certificate


class Leaf(NamedTuple):
    """cert: the server's certificate; pem: its key and itself, as a server loads them."""

    cert: x509.Certificate
    pem: bytes


class Unfit(ValueError):
    """A key and a certificate that are no authority of a laptop; says why, and any simple mend."""

    def __init__(self, why: str, fix: str = "") -> None:
        super().__init__(why)
        self.fix = fix


def new_name() -> str:
    """A name for a laptop that nobody else on its network has, as "lapwright-k3x9q2.local"."""
    return f"lapwright-{''.join(secrets.choice(_LETTERS) for _ in range(6))}.local"


def new_authority(name: str, now: datetime) -> Authority:
    """A CA for that name, localhost and private addresses; now: aware, in UTC."""
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name(
        [x509.NameAttribute(NameOID.COMMON_NAME, f"Lapwright on {name.removesuffix('.local')}")]
    )
    cert = (
        _builder(subject, subject, key.public_key(), now, AUTHORITY_DAYS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(key_cert_sign=True), critical=True)
        .add_extension(_constraints(name), critical=True)
        .sign(key, hashes.SHA256())
    )
    return Authority(name, key, cert)


def authority(key_pem: bytes, cert_pem: bytes, now: datetime) -> Authority:
    """The authority that was kept as PEM. Raises Unfit where it is none, or not at this time."""
    try:
        key = serialization.load_pem_private_key(key_pem, None)
    except (ValueError, TypeError) as e:
        raise Unfit("the key can't be read") from e
    try:
        cert = x509.load_pem_x509_certificate(cert_pem)
        name = _name_of(cert)
    except (ValueError, x509.ExtensionNotFound) as e:
        raise Unfit("the certificate can't be read, or was not made by Lapwright") from e
    if not isinstance(key, ec.EllipticCurvePrivateKey) or key.public_key() != cert.public_key():
        raise Unfit("key and certificate do not belong together")
    if now < cert.not_valid_before_utc:
        made = f"{cert.not_valid_before_utc:%d %B %Y}"
        raise Unfit(f"by this laptop's clock it is valid from {made} only", "Set the clock.")
    if now >= cert.not_valid_after_utc:
        raise Unfit(f"the certificate ran out on {cert.not_valid_after_utc:%d %B %Y}")
    return Authority(name, key, cert)


def new_leaf(by: Authority, addresses: Iterable[str], now: datetime) -> Leaf:
    """A server's certificate for the laptop's name, localhost and the addresses that are private.

    addresses: IP addresses as text; those that are not private are left out.
    """
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, by.name)])
    names: list[x509.GeneralName] = [x509.DNSName(by.name), x509.DNSName("localhost")]
    names += [x509.IPAddress(ipaddress.ip_address(a)) for a in _named(addresses)]
    issuer = by.cert.extensions.get_extension_for_class(x509.SubjectKeyIdentifier).value
    cert = (
        _builder(
            subject, by.cert.subject, key.public_key(), now, LEAF_DAYS, by.cert.not_valid_after_utc
        )
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(digital_signature=True), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName(names), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_subject_key_identifier(issuer), critical=False
        )
        .sign(by.key, hashes.SHA256())
    )
    return Leaf(cert, pem(key) + pem(cert))


def is_due(leaf: Leaf, by: Authority, addresses: Iterable[str], now: datetime) -> bool:
    """Whether another leaf is needed: other addresses, soon run out, or not valid yet."""
    names = leaf.cert.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    held = {str(a) for a in names.get_values_for_type(x509.IPAddress)}
    ends = leaf.cert.not_valid_after_utc
    soon = now > ends - _RENEWED_BEFORE and ends < by.cert.not_valid_after_utc
    return held != set(_named(addresses)) or soon or now < leaf.cert.not_valid_before_utc


def is_named(address: str) -> bool:
    """Whether it is an IP address that the CA may vouch for."""
    try:
        ip = ipaddress.ip_address(address)
    except ValueError:
        return False  # a name chosen with --address
    return any(ip in network for network in PRIVATE if network.version == ip.version)


def fingerprint(cert: x509.Certificate) -> str:
    """SHA-256 of the certificate, as phones show it: "AA:BB:..."."""
    return cert.fingerprint(hashes.SHA256()).hex(":").upper()


def pem(what: ec.EllipticCurvePrivateKey | x509.Certificate) -> bytes:
    """A key or a certificate as PEM, the key without a password."""
    if isinstance(what, x509.Certificate):
        return what.public_bytes(serialization.Encoding.PEM)
    return what.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )


def _named(addresses: Iterable[str]) -> list[str]:
    """Those of them that the CA may vouch for, and this laptop's own, in one order."""
    return sorted({"127.0.0.1", *filter(is_named, addresses)})


def _builder(
    subject: x509.Name,
    issuer: x509.Name,
    key: ec.EllipticCurvePublicKey,
    now: datetime,
    days: int,
    latest: datetime | None = None,
) -> x509.CertificateBuilder:
    begin = now.replace(microsecond=0) - _BACKDATED
    # Both ends count (RFC 5280, 4.1.2.5).
    end = begin + timedelta(days=days, seconds=-1)
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key)
        .serial_number(x509.random_serial_number())
        .not_valid_before(begin)
        .not_valid_after(min(end, latest) if latest else end)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key), critical=False)
    )


def _usage(key_cert_sign: bool = False, digital_signature: bool = False) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=digital_signature,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=key_cert_sign,
        crl_sign=False,
        encipher_only=False,
        decipher_only=False,
    )


def _constraints(name: str) -> x509.NameConstraints:
    names = [x509.DNSName(name), x509.DNSName("localhost")]
    return x509.NameConstraints([*names, *map(x509.IPAddress, PRIVATE)], None)


def _name_of(cert: x509.Certificate) -> str:
    """The name an authority of ours vouches for. Raises ValueError, ExtensionNotFound."""
    held = cert.extensions.get_extension_for_class(x509.NameConstraints).value
    names = [n.value for n in held.permitted_subtrees or () if isinstance(n, x509.DNSName)]
    if len(names) != 2 or not _NAME.fullmatch(names[0]) or held != _constraints(names[0]):
        raise ValueError("other constraints than ours")
    return names[0]
