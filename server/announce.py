"""The laptop's lasting name, told to its networks over multicast DNS (RFC 6762)."""

import contextlib
import socket

from zeroconf import Error, ServiceInfo, Zeroconf

from .address import is_own

_KIND = "_https._tcp.local."


class NotAnnounced(Exception):
    """The name can't be told; the text says why."""


class Announcer:
    """Answers for one name. For one thread at a time, but for close()."""

    def __init__(self, name: str, port: int) -> None:
        """name: as "lapwright-k3x9q2.local"; port: of https."""
        self._name = name
        self._port = port
        self._running: Zeroconf | None = None

    def announce(self, addresses: list[str]) -> None:
        """Answer with these addresses from now on, and no others; with none, fall silent.

        addresses: IPv4 addresses; the networks of those that are this laptop's own are told.
        Takes half a second. Raises NotAnnounced.
        """
        self.close()
        if not addresses:
            return
        networks = [a for a in addresses if is_own(a)]
        if not networks:
            raise NotAnnounced(f"{addresses[0]} is no address of this laptop")
        host = self._name.removesuffix(".local")
        info = ServiceInfo(
            _KIND,
            f"{host}.{_KIND}",
            port=self._port,
            properties={"path": "/p"},
            server=f"{self._name}.",
            addresses=[socket.inet_aton(a) for a in addresses],
        )
        try:
            # One for each set of addresses: its sockets belong to the networks it was made for.
            self._running = Zeroconf(interfaces=networks)
            # The name is random: whoever else answers for it has the same data, so is this laptop.
            self._running.register_service(info, cooperating_responders=True)
        except (OSError, Error, RuntimeError) as e:
            self.close()
            raise NotAnnounced(str(e) or type(e).__name__) from e

    def close(self) -> None:
        """Say goodbye, so that nobody asks for this laptop here any longer."""
        running, self._running = self._running, None
        if running is not None:
            # A goodbye that can't be sent is not missed: the name lasts two minutes by itself.
            with contextlib.suppress(Error):
                running.close()
