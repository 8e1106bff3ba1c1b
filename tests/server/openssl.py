"""The system's openssl, a verifier that is not ours, and certificates made by hand for it."""

import datetime
import ipaddress
import shutil
import subprocess

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from server import certs

NOW = datetime.datetime.now(datetime.UTC).replace(microsecond=0)

needed = pytest.mark.skipif(
    not shutil.which("openssl"), reason="the system has no openssl to verify certificates by"
)


def verified(folder, root, leaf, *options):
    """(whether `openssl verify` takes the leaf under that root alone, what it says)"""
    (folder / "root.pem").write_bytes(root)
    (folder / "leaf.pem").write_bytes(leaf)
    command = ["openssl", "verify", "-no-CAfile", "-no-CApath", "-no-CAstore", "-x509_strict"]
    command += ["-purpose", "sslserver", "-CAfile", folder / "root.pem", *options]
    done = subprocess.run(
        [*command, folder / "leaf.pem"], capture_output=True, text=True, timeout=30
    )
    return done.returncode == 0, done.stdout + done.stderr


def told(pem, *options):
    """What `openssl x509` says of a certificate."""
    command = ["openssl", "x509", "-noout", *options]
    return subprocess.run(command, input=pem, capture_output=True, timeout=30, check=True).stdout


def san(text):
    """A general name: an IP address or a DNS name."""
    try:
        return x509.IPAddress(ipaddress.ip_address(text))
    except ValueError:
        return x509.DNSName(text)


def leaf_for(authority, *names, ca=False):
    """A leaf as a thief of the CA's key would make it: for any name. (key and cert as PEM)"""
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "thief")])
    issuer = authority.cert.extensions.get_extension_for_class(x509.SubjectKeyIdentifier).value
    cert = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(authority.cert.subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(NOW - datetime.timedelta(days=1))
        .not_valid_after(NOW + datetime.timedelta(days=100))
        .add_extension(x509.BasicConstraints(ca=ca, path_length=None), critical=True)
        .add_extension(certs._usage(digital_signature=True, key_cert_sign=ca), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName([san(n) for n in names]), critical=False)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_subject_key_identifier(issuer), critical=False
        )
        .sign(authority.key, hashes.SHA256())
    )
    return certs.pem(key), certs.pem(cert), certs.Authority("", key, cert)


def constrained(name, constraints):
    """An authority as ours but for its name constraints."""
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "other")])
    cert = (
        certs._builder(subject, subject, key.public_key(), NOW, 3650)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(certs._usage(key_cert_sign=True), critical=True)
        .add_extension(x509.NameConstraints(constraints, None), critical=True)
        .sign(key, hashes.SHA256())
    )
    return certs.Authority(name, key, cert)
