"""What https is served with: the laptop's CA, and a leaf that follows its addresses."""

import os
import ssl
import tempfile
import threading
import uuid
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from urllib.parse import urlsplit

from cryptography.hazmat.primitives import serialization

from . import certs, keeping
from .address import is_loopback
from .sockets import UnmixedSocket


class Https:
    """Safe from many threads; `context` is for the next connection, so ask for it each time."""

    def __init__(
        self,
        folder: Path,
        addresses: Callable[[], list[str]],
        clock: Callable[[], datetime] = lambda: datetime.now(UTC),
    ) -> None:
        """folder: of the CA, made where it is not there; addresses: asks for the present ones.

        Raises keeping.Damaged, OSError.
        """
        self._folder = folder
        self._addresses = addresses
        self._clock = clock
        self._lock = threading.Lock()
        self.authority = keeping.open_or_make(folder, clock())
        self._known = keeping.known_addresses(folder)
        self._remember(self.present())
        self._leaf = certs.new_leaf(self.authority, self.present(), clock())
        self.context = self._context_of(self._leaf)

    @property
    def name(self) -> str:
        """The lasting name, as "lapwright-k3x9q2.local"."""
        return self.authority.name

    @property
    def fingerprint(self) -> str:
        """SHA-256 of the CA, as "AA:BB:..."."""
        return certs.fingerprint(self.authority.cert)

    @property
    def until(self) -> datetime:
        """When the CA runs out, in UTC."""
        return self.authority.cert.not_valid_after_utc

    def served(self) -> list[str]:
        """The present addresses, the likeliest first."""
        return self._addresses()

    def present(self) -> list[str]:
        """Those of them that a leaf can be made for; on the others the name alone leads here."""
        return [a for a in self.served() if certs.is_named(a)]

    def der(self) -> bytes:
        """The CA's certificate, to be installed on a phone."""
        return self.authority.cert.public_bytes(serialization.Encoding.DER)

    def ids(self) -> tuple[uuid.UUID, uuid.UUID]:
        """Two identifiers that last as long as the CA: installing it again replaces it."""
        profile = uuid.uuid5(uuid.NAMESPACE_URL, f"lapwright:{self.fingerprint}")
        return profile, uuid.uuid5(profile, "ca")

    def refresh(self) -> bool:
        """Take another leaf where one is due; whether one was. Open connections keep theirs.

        Raises OSError where it can't be written; the leaf before then stays.
        """
        with self._lock:
            now, present = self._clock(), self.present()
            if not certs.is_due(self._leaf, self.authority, present, now):
                return False
            self._remember(present)
            leaf = certs.new_leaf(self.authority, present, now)
            self.context = self._context_of(leaf)
            self._leaf = leaf
            return True

    def is_ours(self, origin: str) -> bool:
        """Whether a page's origin is this laptop's: https, on its name or an address it has had."""
        try:
            parts = urlsplit(origin)
            host, port = parts.hostname or "", parts.port
        except ValueError:
            return False  # no origin that a browser sends
        plain = f"https://{host}" + (f":{port}" if port is not None else "")
        return origin == plain and (host == self.name or host in self._known)

    def _remember(self, present: list[str]) -> None:
        """A phone's page may stand under an address that the laptop has left."""
        own = [a for a in present if not is_loopback(a)]
        known = list(dict.fromkeys([*own, *self._known]))
        if known != self._known:
            keeping.keep_addresses(self._folder, known)
            self._known = known

    def _context_of(self, leaf: certs.Leaf) -> ssl.SSLContext:
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.sslsocket_class = UnmixedSocket
        context.set_alpn_protocols(["http/1.1"])
        # The ssl module reads certificates from files alone. mkstemp's are the owner's own.
        handle, path = tempfile.mkstemp(prefix="leaf-", suffix=".pem", dir=self._folder)
        try:
            with os.fdopen(handle, "wb") as f:
                f.write(leaf.pem)
            context.load_cert_chain(path)
        finally:
            os.unlink(path)
        return context
