"""cheroot, set up for a room of phones over http and https, and its clean stop."""

import errno
import logging
import os
import signal
import socket
import ssl
import sys
import threading
import time
from collections.abc import Callable
from functools import partial
from typing import Any

from cheroot.server import HTTPConnection, HTTPRequest
from cheroot.wsgi import Gateway_10
from cheroot.wsgi import Server as WsgiServer
from flask import Flask

from calc.problems import Problem

from .app import HEADERS
from .errors import error_body
from .follow import Follower
from .https import Https
from .live import MOST_STREAMS
from .sockets import Handshake, LazyAdapter, has_left

# A phone's open stream takes a thread, as does a request at work; a connection that is
# only held open takes none.
THREADS = MOST_STREAMS + 40
# A browser opens up to six connections; 60 phones.
CONNECTIONS = 360
IDLE_SECONDS = 20
REQUEST_SECONDS = 30
GRACE_SECONDS = 0.3
STOP_SECONDS = 0.7
# While one phone's plan is worked out, the others' requests get in between this often.
SWITCH_SECONDS = 0.001
# How long the stop may wait for a watched connection: the loop that watches looks up this often.
_LOOK_SECONDS = 0.2
_PORTS_TRIED = 20


class CannotListen(Exception):
    """The address can't be listened on; says why, and the mend. taken: the port is in use."""

    def __init__(self, message: str, taken: bool = False) -> None:
        super().__init__(message)
        self.taken = taken


class _Request(HTTPRequest):
    """Requests that are too broken for the app get the app's error shape and headers too."""

    def read_request_headers(self) -> bool:
        """Every body must say its length: a stream without one has no end to check."""
        if not super().read_request_headers():  # type: ignore[no-untyped-call]  # its stub
            return False
        if self.chunked_read:
            self.simple_response("411 Length Required", "Send the body with a Content-Length.")
            return False
        return True

    def simple_response(self, status: str | int, msg: str = "") -> None:
        said = f"The request could not be read ({status})."
        problem = Problem("", "the request", said, msg or "Send a plain HTTP/1.1 request.")
        body = error_body("bad-request", said, [problem]).encode()
        self.close_connection = True
        lines = [
            f"{self.server.protocol} {status}",
            f"Content-Length: {len(body)}",
            "Content-Type: application/json",
            "Connection: close",
            *(f"{name}: {value}" for name, value in HEADERS),
        ]
        self.conn.wfile.write("\r\n".join([*lines, "", ""]).encode("latin-1") + body)


class _Connection(HTTPConnection):
    RequestHandlerClass = _Request

    def __init__(self, server: Any, sock: Any, makefile: Any) -> None:
        super().__init__(server, sock, makefile)
        self._until = 0.0
        raw = self.rfile.raw
        readinto = raw.readinto

        def in_time(buffer: Any) -> Any:
            if time.monotonic() > self._until:
                raise TimeoutError("timed out")
            return readinto(buffer)

        raw.readinto = in_time

    def communicate(self) -> bool:
        """A request has so long to come in all: one that drips in would keep its thread."""
        self._until = time.monotonic() + REQUEST_SECONDS
        keep: bool = super().communicate()  # type: ignore[no-untyped-call]  # its stub
        return keep


class _TlsConnection(_Connection):
    def __init__(self, server: Any, sock: Any, makefile: Any) -> None:
        super().__init__(server, sock, makefile)
        self._handshake = Handshake(sock)

    def communicate(self) -> bool:
        if not self._handshake.done:
            return self._handshake.step(IDLE_SECONDS)
        return super().communicate()


class _Gateway(Gateway_10):
    def get_environ(self) -> dict[str, Any]:  # type: ignore[override]  # its stub
        """With what a stream asks: whether the phone has left."""
        environ: Any = super().get_environ()  # type: ignore  # its stub
        return {**environ, "lapwright.gone": partial(has_left, self.req.conn.socket)}


class _Server(WsgiServer):
    ConnectionClass: type[_Connection] = _Connection
    keep_alive_conn_limit = CONNECTIONS
    expiration_interval = _LOOK_SECONDS

    def process_conn(self, conn: Any) -> None:
        """A connection gets a thread when it speaks, not when it opens: browsers open spares."""
        if conn.last_used is None:
            self.put_conn(conn)
        else:
            super().process_conn(conn)

    def error_log(self, msg: str = "", level: int = logging.INFO, traceback: bool = False) -> None:
        """Only what is wrong here; a phone that walked out of reach is no news."""
        gone = isinstance(sys.exception(), ssl.SSLError | TimeoutError | ConnectionError)
        if level >= logging.WARNING and not gone:
            super().error_log(msg, level, traceback)


def serve(
    app: Flask,
    host: str,
    port: int | None,
    started: Callable[[int, int], None],
    https: Https | None = None,
    https_port: int | None = None,
) -> None:
    """Serve until Ctrl-C or SIGTERM, then return within about a second.

    port: 0 for any free one; None for the app's usual one, or the next free one
    after it. https: what to serve https with, or None; https_port: as port, but
    None where a port is given stands for the next one. started is called with both
    ports (the second 0 without https) once phones can connect.
    Raises CannotListen.
    """
    sys.setswitchinterval(SWITCH_SECONDS)
    before = {n: signal.signal(n, _interrupt) for n in (signal.SIGTERM, signal.SIGINT)}
    servers: list[_Server] = []
    follower = None
    try:
        if port is not None:
            _check_free(host, port, "--port")
        # https first: its port is part of where phones keep the page and its data.
        if https is not None:
            if https_port is None and port is not None:
                https_port = port + 1 if port else 0
            usual = app.config["HTTPS_PORT"]
            servers.append(_listening(app, host, https_port, usual, "--https-port", https))
        servers.insert(0, _listening(app, host, port, app.config["PORT"], "--port"))
        ports = [server.bind_addr[1] for server in servers]
        started(ports[0], ports[1] if https else 0)
        for server in servers[1:]:
            threading.Thread(target=server.serve, daemon=True).start()
        if https is not None:
            follower = Follower(https, ports[1])
            follower.start()
        servers[0].serve()
    except KeyboardInterrupt:
        pass  # how _interrupt ends the loop
    finally:
        for n in before:
            signal.signal(n, signal.SIG_IGN)  # a second Ctrl-C changes nothing
        _stop(app, servers, follower)
        for n, handler in before.items():
            signal.signal(n, handler)


def _listening(
    app: Flask, host: str, port: int | None, usual: int, option: str, https: Https | None = None
) -> _Server:
    for tried in [port] if port is not None else range(usual, usual + _PORTS_TRIED):
        try:
            _check_free(host, tried, option)
        except CannotListen as e:
            if e.taken and port is None:
                continue
            raise
        server = _Server(
            (host, tried), app, numthreads=THREADS, server_name="Lapwright",
            request_queue_size=128, timeout=IDLE_SECONDS,
        )  # fmt: skip
        server.gateway = _Gateway
        if https is not None:
            server.ssl_adapter = LazyAdapter(https)
            server.ConnectionClass = _TlsConnection
        server.shutdown_timeout = GRACE_SECONDS
        server.max_request_header_size = 32768
        server.prepare()
        return server
    raise CannotListen(f"Ports {usual} to {tried} are all in use. Choose another with {option}.")


def _check_free(host: str, port: int, option: str) -> None:
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as s:
        if os.name == "posix":
            s.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            s.bind((host, port))
            s.listen(1)
        except OverflowError:
            raise CannotListen(f"Port {port} does not exist. Choose 1 to 65535.") from None
        except OSError as e:
            raise _cannot(host, port, option, e) from e


def _cannot(host: str, port: int, option: str, e: OSError) -> CannotListen:
    if e.errno == errno.EADDRINUSE:
        return CannotListen(
            f"Port {port} is in use, perhaps by another Lapwright. "
            f"Stop that one, or choose another port with {option}.",
            taken=True,
        )
    if e.errno == errno.EACCES:
        return CannotListen(
            f"Port {port} is not allowed here. Choose one above 1023 with {option}."
        )
    return CannotListen(
        f"{host} is no address of this laptop. Leave --host out, or give one that is."
    )


def _interrupt(_signal: int, _frame: object) -> None:
    raise KeyboardInterrupt


def _stop(app: Flask, servers: list[_Server], follower: Follower | None) -> None:
    """End everything. What is still being worked out is dropped: nothing of it was acknowledged."""
    until = time.monotonic() + STOP_SECONDS
    live = app.extensions.get("lapwright-live")
    # Open streams first, and by themselves: a phone then knows that it was no accident.
    ends = [live.close] if live else []
    _join(ends, until)
    ends = [server.stop for server in servers]
    if follower is not None:
        ends.append(follower.close)
    if not _join(ends, until):
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(0)


def _join(ends: list[Callable[[], None]], until: float) -> bool:
    """Call them all at once; whether they have returned by that time."""
    threads = [threading.Thread(target=end, daemon=True) for end in ends]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(max(until - time.monotonic(), 0))
    return not any(thread.is_alive() for thread in threads)
