"""TLS on cheroot's sockets, without a thread that waits for a phone's handshake.

cheroot itself shakes hands in the loop that accepts, where one silent connection keeps
everybody out. Here a connection gets a thread only while it has something to read, for
the handshake as for requests, and goes back to be watched in between.
"""

import contextlib
import io
import select
import socket
import ssl
import time
from typing import Any, Protocol

from cheroot import errors
from cheroot.makefile import StreamReader, StreamWriter
from cheroot.ssl import Adapter

# From the first byte to the end of the handshake.
HANDSHAKE_SECONDS = 10


class Secured(Protocol):
    """What holds the present context."""

    context: ssl.SSLContext


class UnmixedSocket(ssl.SSLSocket):
    """Once shut down, it sends nothing more; the ssl module's would go on in the clear."""

    def shutdown(self, how: int) -> None:
        socket.socket.shutdown(self, socket.SHUT_RDWR)


class _Reader(StreamReader):
    def __init__(self, sock: ssl.SSLSocket, mode: str, bufsize: int) -> None:
        super().__init__(sock, mode, bufsize)
        self._sock = sock

    def has_data(self) -> bool:
        """Whether something is read already: what is decrypted no longer shows on the socket."""
        held: bool = super().has_data()  # type: ignore[no-untyped-call]  # its stub
        return held or self._sock.pending() > 0


class LazyAdapter(Adapter):
    """Wraps sockets with the context of the moment; the handshake is left to shake()."""

    def __init__(self, secured: Secured) -> None:
        self._secured = secured

    def bind(self, sock: socket.socket) -> socket.socket:
        return sock

    def wrap(self, sock: socket.socket) -> tuple[ssl.SSLSocket, dict[str, str]]:
        try:
            wrapped = self._secured.context.wrap_socket(
                sock, server_side=True, do_handshake_on_connect=False
            )
        except OSError as e:  # gone again already
            raise errors.FatalSSLAlert(*e.args) from e
        return wrapped, self.get_environ()

    def get_environ(self) -> dict[str, str]:
        return {"wsgi.url_scheme": "https", "HTTPS": "on"}

    def makefile(self, sock: Any, mode: str = "r", bufsize: int = io.DEFAULT_BUFFER_SIZE) -> Any:
        return (_Reader if "r" in mode else StreamWriter)(sock, mode, bufsize)


class Handshake:
    """One connection's handshake, taken a step further whenever something has come."""

    def __init__(self, sock: ssl.SSLSocket) -> None:
        self._sock = sock
        self._until: float | None = None
        self.done = False

    def step(self, seconds: float) -> bool:
        """Go as far as it goes without waiting; whether to keep the connection.

        seconds: the time limit to leave on the socket for what comes after it.
        """
        now = time.monotonic()
        self._until = self._until or now + HANDSHAKE_SECONDS
        if now > self._until:
            return False
        self._sock.settimeout(0)
        try:
            self._sock.do_handshake()
        except ssl.SSLWantReadError:
            return True
        except ssl.SSLError as e:
            if e.reason == "HTTP_REQUEST":
                self._point_to_https()
            return False  # a phone that does not trust this laptop yet, for one
        except OSError:
            return False  # gone
        self._sock.settimeout(seconds)
        self.done = True
        return True

    def _point_to_https(self) -> None:
        """Somebody left out the "https": send the browser there."""
        host, port = self._sock.getsockname()[:2]
        head = (
            f"HTTP/1.1 302 Found\r\nLocation: https://{host}:{port}/p\r\n"
            "Content-Length: 0\r\nConnection: close\r\n\r\n"
        )
        with contextlib.suppress(OSError):  # gone
            # What the request still holds is read away, or its answer is lost with it.
            socket.socket.recv(self._sock, 65536)
            socket.socket.send(self._sock, head.encode())


def has_left(sock: socket.socket) -> bool:
    """Whether the other end was closed. A phone that listens to a stream says nothing more: over
    TLS, where what it sends can't be seen through, whatever comes is its farewell.
    """
    try:
        if not _is_readable(sock):
            return False
        return isinstance(sock, ssl.SSLSocket) or not sock.recv(1, socket.MSG_PEEK)
    except (OSError, ValueError):
        return True  # reset, or closed on this side


def _is_readable(sock: socket.socket) -> bool:
    if not hasattr(select, "poll"):  # Windows
        return bool(select.select([sock], [], [], 0)[0])
    poll = select.poll()
    poll.register(sock, select.POLLIN)
    return bool(poll.poll(0))
