"""https of the real server: who is let in, who holds nobody up, and certificates that change."""

import contextlib
import datetime
import http.client
import json
import re
import signal
import socket
import ssl
import threading
import time
import urllib.request

import pytest

from server import certs, serve, sockets
from server.app import create_app
from server.https import Https
from server.serve import CannotListen

LOCAL = "127.0.0.1"


def trusting(one):
    """What a phone that trusts that laptop opens connections with."""
    with urllib.request.urlopen(f"http://{LOCAL}:{one.port}/ca.crt", timeout=10) as answer:
        return ssl.create_default_context(cadata=answer.read())


def secure(one):
    """(name, port) of https, as the terminal says."""
    name, port = re.search(r"Secure: https://(\S+):(\d+)/p", one.said).groups()
    return name, int(port)


def ask(one, context, path="/api/ping", timeout=10):
    """The status of one GET over https, by the laptop's name."""
    name, port = secure(one)
    with (
        socket.create_connection((LOCAL, port), timeout=timeout) as plain,
        context.wrap_socket(plain, server_hostname=name) as s,
    ):
        s.sendall(
            f"GET {path} HTTP/1.1\r\nHost: {name}:{port}\r\nConnection: close\r\n\r\n".encode()
        )
        return int(s.makefile("rb").readline().split()[1])


def test_it_serves_both_and_a_phone_that_trusts_it_gets_in(laptop):
    one = laptop()
    assert one.ask("/api/ping")[0] == 200
    assert ask(one, trusting(one)) == 200
    assert ask(one, trusting(one), "/p") == 200
    with pytest.raises(ssl.SSLCertVerificationError, match="unable to get local issuer"):
        ask(one, ssl.create_default_context())
    code, _, errors = one.end(signal.SIGTERM)
    assert (code, errors) == (0, "")  # a phone that turns away is no news either


def test_name_and_authority_last_from_start_to_start(laptop):
    one = laptop()
    context, name = trusting(one), secure(one)[0]
    one.kill()
    two = laptop()
    assert secure(two)[0] == name
    assert ask(two, context) == 200


# A whole hello comes from openssl; these are the first bytes of one, by RFC 8446, 5.1.
HALF_A_HELLO = bytes([22, 3, 1, 2, 0, 1, 0])


@pytest.mark.parametrize("sent", [b"", HALF_A_HELLO], ids=["silent", "half a hello"])
def test_silent_connections_keep_nobody_waiting(laptop, sent):
    """More of them than the server has threads. cheroot's own way is stuck after one."""
    one = laptop()
    context = trusting(one)
    assert ask(one, context) == 200
    port = secure(one)[1]
    silent = [socket.create_connection((LOCAL, port)) for _ in range(serve.THREADS + 5)]
    for s in silent:
        s.sendall(sent)
    alone = time.monotonic()
    assert ask(one, context) == 200
    assert time.monotonic() - alone < sockets.HANDSHAKE_SECONDS / 2
    for s in silent:
        s.close()


def test_a_handshake_that_is_never_ended_is_hung_up_on(monkeypatch):
    """Byte by byte, each in time, and yet too long in all."""
    monkeypatch.setattr(sockets, "HANDSHAKE_SECONDS", 0.2)
    ours, theirs = socket.socketpair()
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    with ours, theirs:
        wrapped = context.wrap_socket(ours, server_side=True, do_handshake_on_connect=False)
        shake = sockets.Handshake(wrapped)
        began, kept = time.monotonic(), []
        for byte in HALF_A_HELLO:
            theirs.sendall(bytes([byte]))
            kept.append(shake.step(20))
            time.sleep(0.05)
        assert kept[0] is True
        assert kept[-1] is False
        assert time.monotonic() - began > 0.2
        wrapped.close()


def test_whoever_leaves_out_the_https_is_sent_there(laptop):
    one = laptop()
    port = secure(one)[1]
    with contextlib.closing(http.client.HTTPConnection(LOCAL, port, timeout=10)) as asked:
        asked.request("GET", "/p")
        response = asked.getresponse()
        assert response.status == 302
        assert response.headers["Location"] == f"https://{LOCAL}:{port}/p"


def test_keep_alive_and_large_answers_and_bodies(laptop, job):
    """More than one TLS record each way, and again on the same connection."""
    one = laptop()
    connection = http.client.HTTPSConnection(
        LOCAL, secure(one)[1], context=trusting(one), timeout=20
    )
    wall = job["walls"][0]
    for n in range(3):
        boxes = [{"by": "edges", "left": f"{i}", "name": f"{n}.{i}"} for i in range(60)]
        job["walls"] = [{**wall, "name": f"{i}", "boxes": boxes} for i in range(20)]
        body = json.dumps({"job": job})
        assert len(body) > 40_000
        connection.request("POST", "/api/jobs", body, {"Content-Type": "application/json"})
        answer = connection.getresponse()
        got = json.loads(answer.read())
        assert answer.status == 201, got
        names = [[box["name"] for box in w["boxes"]] for w in got["job"]["walls"]]
        assert names == [[f"{n}.{i}" for i in range(60)]] * 20
    connection.close()


def test_two_requests_in_one_record_are_both_answered(laptop):
    """What is decrypted already shows no more on the socket, so nobody would look again.

    Each as long as cheroot reads at a time, so that nothing of the second is in its buffer.
    """
    one = laptop()
    name, port = secure(one)
    head = f"GET /api/ping HTTP/1.1\r\nHost: {name}\r\nX-Fill: "
    whole = (head + "x" * (8192 - len(head) - 4) + "\r\n\r\n").encode()
    with (
        socket.create_connection((LOCAL, port), timeout=10) as plain,
        trusting(one).wrap_socket(plain, server_hostname=name) as s,
    ):
        s.settimeout(8)
        s.sendall(whole * 2)  # a record holds 16384 bytes
        got = b""
        while got.count(b'"ok": true') < 2:
            more = s.recv(65536)
            assert more, got
            got += more


class Long:
    """A long answer at /api/long, a line whenever it is told to go on, and an end."""

    def __init__(self, app):
        self._go = threading.Semaphore(0)
        self._over = False

        @app.get("/api/long")
        def long():
            return app.response_class(self._lines(), mimetype="text/event-stream")

    def _lines(self):
        while self._go.acquire(timeout=30) and not self._over:
            yield b"line\n"

    def go(self, times=1):
        self._go.release(times)

    def close(self):
        self._over = True
        self.go(100)


@contextlib.contextmanager
def serving(tmp_path, addresses=lambda: [LOCAL]):
    """https in this process: (Https, app, the server, its long answer)."""
    https = Https(tmp_path / "trust", addresses)
    app = create_app({"DATABASE_URL": f"sqlite:///{tmp_path / 'jobs.sqlite3'}", "HTTPS": https})
    long = Long(app)
    server = serve._listening(app, LOCAL, 0, 0, "--https-port", https)
    thread = threading.Thread(target=server.serve)
    thread.start()
    try:
        yield https, app, server, long
    finally:
        long.close()
        server.stop()
        thread.join()
        app.extensions["lapwright-store"].close()


class Stream:
    """An open answer of /api/long; head: its headers."""

    def __init__(self, https, server, long):
        self._go = long.go
        port = server.bind_addr[1]
        self.socket = ssl.create_default_context(cadata=https.der()).wrap_socket(
            socket.create_connection((LOCAL, port), timeout=10), server_hostname=https.name
        )
        self.socket.sendall(f"GET /api/long HTTP/1.1\r\nHost: {https.name}\r\n\r\n".encode())
        self._lines = self.socket.makefile("rb")
        self.head = self.next()

    def next(self):
        """Have a line sent; what came before it."""
        self._go()
        before = b""
        while (line := self._lines.readline()) != b"line\n":
            assert line, before
            before += line
        return before

    def close(self):
        self._lines.close()
        self.socket.close()


def der_at(port, context, name):
    with (
        socket.create_connection((LOCAL, port), timeout=10) as plain,
        context.wrap_socket(plain, server_hostname=name) as s,
    ):
        return s.getpeercert(binary_form=True)


def test_a_new_leaf_under_an_open_stream(tmp_path):
    """The address changes: new connections see the new leaf, the stream goes on with the old."""
    held = [LOCAL, "10.77.0.1"]
    with serving(tmp_path, lambda: list(held)) as (https, _, server, long):
        context = ssl.create_default_context(cadata=https.der())
        port = server.bind_addr[1]
        stream = Stream(https, server, long)
        before = der_at(port, context, https.name)
        held[1] = "10.77.0.9"
        assert https.refresh() is True
        assert https.refresh() is False
        after = der_at(port, context, https.name)
        assert before == stream.socket.getpeercert(binary_form=True) != after
        for _ in range(3):
            stream.next()
        with pytest.raises(ssl.SSLCertVerificationError, match="mismatch"):
            der_at(port, context, "10.77.0.1")
        assert der_at(port, context, "10.77.0.9") == after
        stream.close()


def test_events_are_not_gathered_by_a_proxy(tmp_path):
    with serving(tmp_path) as (https, _, server, long):
        stream = Stream(https, server, long)
        assert b"X-Accel-Buffering: no\r\n" in stream.head
        stream.close()


def test_nothing_is_sent_in_the_clear_when_a_stream_is_cut(tmp_path):
    """An ssl socket that was shut down goes on in plain text; ours does not go on."""
    with serving(tmp_path) as (https, _, server, long):
        stream = Stream(https, server, long)
        raw = socket.socket(fileno=stream.socket.detach())
        raw.settimeout(5)
        cut = [t for t in server.requests._threads if t.conn is not None]
        assert len(cut) == 1
        server.requests._force_close(cut[0].conn)  # as cheroot's stop does
        long.go(50)
        rest = b""
        with contextlib.suppress(OSError):
            while chunk := raw.recv(65536):
                rest += chunk
        raw.close()
        stream.close()
    assert b"line" not in rest


def test_open_streams_end_by_themselves_and_the_stop_is_soon(tmp_path, monkeypatch):
    """The hub is closed before any server is stopped, so that no stream has to be cut."""
    order = []
    stop = serve._Server.stop
    monkeypatch.setattr(serve._Server, "stop", lambda s: order.append("server") or stop(s))
    monkeypatch.setattr(serve.os, "_exit", lambda code: order.append("cut"))
    with serving(tmp_path) as (https, app, server, long):
        stream = Stream(https, server, long)

        class Hub:
            def close(self):
                order.append("hub")
                long.close()

        app.extensions["lapwright-live"] = Hub()
        began = time.monotonic()
        serve._stop(app, [server], None)
        assert time.monotonic() - began < 1
        assert order == ["hub", "server"]
        assert stream.socket.recv(100) in (b"", b"0\r\n\r\n")  # the end of its chunks
        stream.close()


def test_a_leaf_is_renewed_before_it_runs_out(tmp_path):
    now = [datetime.datetime.now(datetime.UTC)]
    https = Https(tmp_path / "trust", lambda: ["10.0.0.5"], lambda: now[0])
    first = https.context
    assert https.refresh() is False
    now[0] += datetime.timedelta(days=certs.LEAF_DAYS - 10)
    assert https.refresh() is True
    assert https.context is not first


TAKEN = "port taken"


@pytest.mark.parametrize(
    ("taken", "port", "https_port", "ports"),
    [
        ([], None, None, (8128, 8129)),
        ([8128], None, None, (8130, 8129)),
        ([8129], None, None, (8128, 8130)),
        ([], 9000, None, (9000, 9001)),
        ([], None, 9443, (8128, 9443)),
        ([9001], 9000, None, TAKEN),
        ([9443], None, 9443, TAKEN),
        ([9000], 9000, 9443, TAKEN),
    ],
)
def test_https_keeps_its_port_and_http_gives_way(
    tmp_path, monkeypatch, taken, port, https_port, ports
):
    """Its port is part of where phones keep what is theirs."""
    held = set(taken)

    def check(_host, port, _option):
        if port in held:
            raise CannotListen(TAKEN, taken=True)

    class Fake:
        def __init__(self, address, *_, **__):
            self.bind_addr = address

        def prepare(self):
            held.add(self.bind_addr[1])

        def serve(self):
            if threading.current_thread() is threading.main_thread():
                raise KeyboardInterrupt

        def stop(self):
            held.remove(self.bind_addr[1])

    monkeypatch.setattr(serve, "_check_free", check)
    monkeypatch.setattr(serve, "_Server", Fake)
    https = Https(tmp_path / "trust", lambda: [])
    app = create_app({"DATABASE_URL": f"sqlite:///{tmp_path / 'jobs.sqlite3'}", "HTTPS": https})
    app.extensions["lapwright-store"].close()
    said = []
    try:
        serve.serve(app, LOCAL, port, lambda *both: said.append(both), https, https_port)
    except CannotListen as e:
        said.append(str(e))
    assert said == [ports]
    assert held == set(taken)  # whatever was opened is let go
