"""What a phone needs to trust this laptop: its certificate, and what to hold it against."""

import plistlib
from typing import Any

from flask import Blueprint, Response, current_app, request

from calc.problems import Problem

from .errors import ApiError
from .https import Https
from .links import addresses

trust = Blueprint("trust", __name__)


def https() -> Https | None:
    """What https is served with, or None."""
    held: Https | None = current_app.config["HTTPS"]
    return held


def where() -> dict[str, Any]:
    """Where https is served: name, https, addresses, fingerprint, ca_until, problem.

    Without https the first two and the fingerprint are null, and problem says why. Behind
    a proxy https is the proxy's own, which phones trust by themselves: no fingerprint.
    """
    held, port = https(), current_app.config["HTTPS_PORT"]
    out: dict[str, Any] = {
        "name": None, "https": None, "addresses": [], "fingerprint": None, "ca_until": None,
        "problem": current_app.config["HTTPS_PROBLEM"],
    }  # fmt: skip
    if current_app.config["BEHIND_PROXY"]:
        if request.is_secure:
            out |= {"name": request.host, "https": request.host_url.rstrip("/")}
    elif held is not None:
        named = held.present()
        out |= {
            "name": held.name,
            "https": f"https://{held.name}:{port}",
            "addresses": [f"https://{a}:{port}" for a in addresses() if a in named],
            "fingerprint": held.fingerprint,
            "ca_until": f"{held.until:%Y-%m-%dT%H:%M:%SZ}",
        }
    return out


@trust.get("/api/laptop")
def laptop() -> Response:
    """Where this laptop serves https, and how its certificate is told from another."""
    body = current_app.json.dumps(where()) + "\n"
    return Response(body, mimetype="application/json")


@trust.get("/ca.crt")
def certificate() -> Response:
    """The CA's certificate, in DER."""
    held = _held()
    file = held.name.removesuffix(".local") + ".crt"
    return _file(held.der(), "application/x-x509-ca-cert", f'attachment; filename="{file}"')


@trust.get("/ca.mobileconfig")
def profile() -> Response:
    """The CA's certificate as a configuration profile, the form in which iOS takes it.

    Source: Apple's Configuration Profile Reference, payload com.apple.security.root.
    """
    held = _held()
    host = held.name.removesuffix(".local")
    of_profile, of_ca = held.ids()
    root = {
        "PayloadType": "com.apple.security.root",
        "PayloadVersion": 1,
        "PayloadIdentifier": f"lapwright.{host}.ca",
        "PayloadUUID": str(of_ca).upper(),
        "PayloadDisplayName": f"Lapwright on {host}",
        "PayloadDescription": "Lets this phone trust that laptop, on private networks alone.",
        "PayloadCertificateFileName": f"{host}.crt",
        "PayloadContent": held.der(),
    }
    whole = {
        "PayloadType": "Configuration",
        "PayloadVersion": 1,
        "PayloadIdentifier": f"lapwright.{host}",
        "PayloadUUID": str(of_profile).upper(),
        "PayloadDisplayName": f"Lapwright on {host}",
        "PayloadDescription": f"The certificate of the laptop {host}: {held.fingerprint}",
        "PayloadRemovalDisallowed": False,
        "PayloadContent": [root],
    }
    return _file(plistlib.dumps(whole), "application/x-apple-aspen-config")


def _held() -> Https:
    held = https()
    if held is None:
        said = "This laptop has no certificate to trust."
        why = current_app.config["HTTPS_PROBLEM"] or "Open the page at its own address."
        raise ApiError(404, "not-found", said, [Problem("", request.path, said, why)])
    return held


def _file(body: bytes, kind: str, disposition: str = "") -> Response:
    response = Response(body, mimetype=kind, headers={"Cache-Control": "no-store"})
    if disposition:
        response.headers["Content-Disposition"] = disposition
    return response
