"""From one phone's write to all others: `python -m tests.benchmarks.live [--phones N] ...`.

The real server in a process of its own, N phones that each hold the job's stream open, and
writes posted by one phone more, one after the other. Prints one JSON line for each round:
  plain  nothing else is connected: the baseline of the same run
  held   beside silent connections (opened, nothing sent) and half-open phones (a stream that
         was asked for and is never read)
with the delay from the start of the POST until each phone has its event (median, p95, largest,
in ms), the events that arrived of those expected, the server's memory (VmRSS in MB) before the
phones came, with them and after they left, and how long it took to stop with all streams open.

--https measures the same over TLS. --at HOST:PORT measures a server that runs already, without
memory and stop; over TLS with --ca FILE. HOST may be NAME@ADDRESS, where the name is not known
here; --key names a job that it has.
Exits with 1 where an event did not arrive, p95 is 2 s or more, or the stop takes 1 s or more.
"""

import argparse
import http.client
import json
import selectors
import signal
import socket
import ssl
import statistics
import sys
import tempfile
import threading
import time
from contextlib import ExitStack
from pathlib import Path

from tests.server.conftest import WHOLE_JOB, Laptop
from tests.server.phones import Phone, new_key
from tests.server.test_https import LOCAL, secure, trusting

PATIENCE = 10.0  # after the last write
MOST_P95_MS = 2000
MOST_STOP_SECONDS = 1.0


class Server:
    """Where the server is, and how a phone connects to it."""

    def __init__(self, address, port, name=None, context=None):
        self.address, self.port, self.name, self.context = address, port, name or address, context

    def connect(self):
        plain = socket.create_connection((self.address, self.port), timeout=20)
        plain.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        if self.context is None:
            return plain
        return self.context.wrap_socket(plain, server_hostname=self.name)

    def head(self, path):
        return f"GET {path} HTTP/1.1\r\nHost: {self.name}:{self.port}\r\n\r\n".encode()

    def asking(self):
        """A phone's way to it, over one connection that stays."""
        connection = http.client.HTTPConnection(self.name, self.port)
        connection.sock = self.connect()

        def ask(path, method, body):
            headers = {"Content-Type": "application/json"}
            text = None if body is None else json.dumps(body)
            connection.request(method, path, text, headers)
            answer = connection.getresponse()
            return answer.status, json.load(answer)

        return ask


class Room:
    """Phones that listen, all in one thread. heard: (phone, revision) -> when it was there."""

    def __init__(self, server, key, phones):
        self.heard = {}
        self._selector = selectors.DefaultSelector()
        self._over = threading.Event()
        self._greeted = set()
        self.sockets = []
        for n in range(phones):
            s = server.connect()
            s.sendall(server.head(f"/api/jobs/{key}/live?phone=room{n}"))
            s.setblocking(False)
            self._selector.register(s, selectors.EVENT_READ, [n, b""])
            self.sockets.append(s)
        self._thread = threading.Thread(target=self._run, daemon=True)
        self._thread.start()
        self.wait(lambda: len(self._greeted) == phones)

    def _run(self):
        while not self._over.is_set():
            for item, _ in self._selector.select(0.1):
                self._read(item.fileobj, item.data)

    def _read(self, s, held):
        try:
            while more := s.recv(65536):
                held[1] += more
        except (BlockingIOError, ssl.SSLWantReadError):
            more = b"later"
        at = time.perf_counter()
        *whole, held[1] = held[1].split(b"\n\n")
        for event in whole:
            if b"event: hello\n" in event:
                self._greeted.add(held[0])
            elif b"event: job\n" in event:
                data = json.loads(event.split(b"data: ", 1)[1])
                self.heard[held[0], data["rev"]] = at
        if not more:
            self._selector.unregister(s)

    def wait(self, true, patience=PATIENCE):
        end = time.monotonic() + patience
        while not true() and time.monotonic() < end:
            time.sleep(0.02)

    def close(self):
        self._over.set()
        self._thread.join()
        for s in self.sockets:
            s.close()


def measure(server, writer, phones, posts):
    """(the room, still open; the figures) of that many writes."""
    room = Room(server, writer.key, phones)
    began = {}
    for _ in range(posts):
        writer.set(width_floor=f"{100 + writer.rev % 50}")  # another each time
        start = time.perf_counter()
        status, answer = writer.send()
        assert status == 200, answer
        began[answer["rev"]] = start
    expected = {(phone, rev) for phone in range(phones) for rev in began}
    room.wait(lambda: len(expected - set(room.heard)) == 0)
    delays = sorted(1000 * (room.heard[key] - began[key[1]]) for key in expected & set(room.heard))
    return room, {
        "phones": phones,
        "arrived": len(delays),
        "expected": len(expected),
        "median_ms": round(statistics.median(delays), 1),
        "p95_ms": round(delays[len(delays) * 95 // 100], 1),
        "max_ms": round(delays[-1], 1),
    }


def held_open(server, key, silent, half, stack):
    """Connections that do nothing, and phones whose streams nobody reads."""
    for _ in range(silent):
        raw = socket.create_connection((server.address, server.port), timeout=20)
        stack.enter_context(raw)
    for n in range(half):
        s = stack.enter_context(server.connect())
        s.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
        s.sendall(server.head(f"/api/jobs/{key}/live?phone=half{n}"))


def memory(laptop):
    """VmRSS in MB."""
    status = Path(f"/proc/{laptop.process.pid}/status").read_text(encoding="ascii")
    return round(int(status.split("VmRSS:")[1].split()[0]) / 1024, 1)


def begun(server, key):
    """A phone with a job that the server has."""
    phone = Phone(server.asking(), key or new_key())
    if key:
        return phone.open()
    status, answer = phone.begin(WHOLE_JOB).send()
    assert status == 201, answer
    return phone


def own(given):
    """Both rounds on a server of our own; the stop is measured in the second."""
    with tempfile.TemporaryDirectory() as data:
        laptop = Laptop(data)
        try:
            server = Server(LOCAL, laptop.port)
            if given.https:
                name, port = secure(laptop)
                server = Server(LOCAL, port, name, trusting(laptop))
            writer = begun(server, None)
            before = memory(laptop)
            room, found = measure(server, writer, given.phones, given.posts)
            with_all = memory(laptop)
            room.close()
            time.sleep(1.5)  # by then they are known to have left
            sizes = {"before_mb": before, "with_mb": with_all, "after_mb": memory(laptop)}
            yield {"round": "plain", **found, **sizes}
            with ExitStack() as stack:
                held_open(server, writer.key, given.silent, given.half, stack)
                room, found = measure(server, writer, given.phones, given.posts)
                more = {"silent": given.silent, "half": given.half, "with_mb": memory(laptop)}
                _, seconds, errors = laptop.end(signal.SIGTERM)
                assert errors == "", errors
                yield {"round": "held", **found, **more, "stop_s": round(seconds, 2)}
                room.close()
        finally:
            if laptop.process.returncode is None:
                laptop.kill()


def there(given):
    """Both rounds on a server that runs already."""
    host, port = given.at.rsplit(":", 1)
    name, _, address = host.partition("@")
    context = ssl.create_default_context(cafile=given.ca) if given.ca else None
    server = Server(address or name, int(port), name, context)
    writer = begun(server, given.key)
    room, found = measure(server, writer, given.phones, given.posts)
    room.close()
    yield {"round": "plain", **found}
    with ExitStack() as stack:
        held_open(server, writer.key, given.silent, given.half, stack)
        room, found = measure(server, writer, given.phones, given.posts)
        room.close()
        yield {"round": "held", **found, "silent": given.silent, "half": given.half}


def main():
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--phones", type=int, default=50)
    options.add_argument("--posts", type=int, default=100)
    options.add_argument("--silent", type=int, default=5)
    options.add_argument("--half", type=int, default=5)
    options.add_argument("--https", action="store_true")
    options.add_argument("--at", metavar="HOST:PORT")
    options.add_argument("--ca", metavar="FILE")
    options.add_argument("--key", metavar="KEY")
    given = options.parse_args()
    good = True
    for line in there(given) if given.at else own(given):
        print(json.dumps(line), flush=True)
        good &= line["arrived"] == line["expected"] and line["p95_ms"] < MOST_P95_MS
        good &= line.get("stop_s", 0) < MOST_STOP_SECONDS
    sys.exit(0 if good else 1)


if __name__ == "__main__":
    main()
