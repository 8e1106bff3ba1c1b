"""The live stream of the real server: phones that leave, hang, are many; its stop; its sleep."""

import contextlib
import http.client
import json
import signal
import socket
import threading
import time

import pytest

from server import live
from server.database import BUSY_SECONDS

from .phones import Phone, new_key
from .streams import Listener, until


@pytest.fixture
def one(laptop):
    return laptop()


@pytest.fixture
def phone(one, job):
    made = Phone(one.call, new_key()).begin(job)
    assert made.send()[0] == 201
    return made


@pytest.fixture
def listening():
    """Opens streams; those that still listen at the end leave."""
    listeners = []

    def listen(*of):
        listeners.append(Listener(*of))
        return listeners[-1]

    yield listen
    for listener in listeners:
        listener.leave()


def connections_of(laptop):
    """How many connections the laptop has open."""
    with open(f"/proc/{laptop.process.pid}/net/tcp", encoding="ascii") as f:
        rows = [line.split() for line in f][1:]
    local = f":{laptop.port:04X}"
    return sum(row[1].endswith(local) and row[3] == "01" for row in rows)


def test_what_one_phone_writes_another_hears(one, phone, listening):
    listener = listening(one, phone.key, "b")
    assert listener.wait("hello")[0]["rev"] == 1
    other = Phone(one.call, phone.key).open()
    for n in range(5):
        phone.set(width_floor=f"{150 + n}")
        phone.send()
    for data in listener.wait("job", 5):
        other.hear(data["writes"])
    assert other.copy == phone.copy


def test_what_another_process_writes_is_heard_within_two_seconds(laptop, one, phone, listening):
    two = laptop()
    listener = listening(one, phone.key, "b")
    listener.wait("hello")
    other = Phone(two.call, phone.key).open()
    delays = []
    for n in range(3):
        other.set(width_floor=f"{150 + n}")
        other.send()
        began = time.monotonic()
        data = listener.wait("job", n + 1)[n]
        delays.append(time.monotonic() - began)
        assert (data["rev"], set(data)) == (n + 2, {"rev", "at"})
    assert min(delays) < 2  # each is, but where the machine itself stood still


def test_a_phone_that_leaves_in_mid_stream_is_gone_at_once(one, phone, listening):
    """Without a beat or a write to it: its thread is free for the next."""
    for _ in range(2):
        listeners = [listening(one, phone.key, f"{n}") for n in range(20)]
        for listener in listeners:
            listener.wait("hello")
        assert connections_of(one) >= 20
        for listener in listeners:
            listener.leave()
        began = time.monotonic()
        until(lambda: connections_of(one) == 0)
        assert time.monotonic() - began < live.BEAT_SECONDS
    _, _, errors = one.end(signal.SIGTERM)
    assert errors == ""


def test_a_phone_that_comes_again_without_having_left_has_one_stream(one, phone, listening):
    """It was out of reach and knows nothing of the connection it had."""
    half = [listening(one, phone.key, "same")]
    for _ in range(2 * live.MOST_STREAMS):
        half.append(listening(one, phone.key, "same"))
        half[-2].wait_end()
    half[-1].wait("hello")
    for n in range(live.MOST_STREAMS - 1):
        listening(one, phone.key, f"{n}").wait("hello")


def test_phones_that_open_the_stream_and_never_read_hold_nobody_up(one, phone, listening):
    """Their queues and the system's buffers fill; the others hear everything."""
    deaf = contextlib.ExitStack()
    for n in range(10):
        s = deaf.enter_context(socket.create_connection(("127.0.0.1", one.port)))
        s.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
        s.sendall(f"GET /api/jobs/{phone.key}/live?phone=d{n} HTTP/1.1\r\nHost: x\r\n\r\n".encode())
    listener = listening(one, phone.key, "b")
    listener.wait("hello")
    phone.edit(lambda job: job.update(walls=[{"name": f"{i}"} for i in range(10)]))
    phone.send()

    def stray(job, n):
        for wall in job["walls"]:
            wall["studs"] = {"found": [f"{i}.{n:03d} mm" for i in range(1, 250)]}

    for n in range(130):
        phone.edit(lambda job, n=n: stray(job, n))
        assert 30_000 < len(json.dumps(phone.outbox)) < 45_000  # small enough to be sent to all
        assert phone.send()[0] == 200
    assert [d["rev"] for d in listener.wait("job", 131)] == [*range(2, 133)]
    assert all("writes" in d for d in listener.of("job"))
    code, seconds, errors = one.end(signal.SIGTERM)
    assert (code, errors) == (0, "")
    assert seconds < 3
    deaf.close()


def test_it_stops_at_once_with_streams_open_and_ends_them_cleanly(one, phone, listening):
    listeners = [listening(one, phone.key, f"{n}") for n in range(50)]
    for listener in listeners:
        listener.wait("hello")
    with socket.create_connection(("127.0.0.1", one.port), timeout=20) as s:
        s.sendall(f"GET /api/jobs/{phone.key}/live?phone=a HTTP/1.1\r\nHost: x\r\n\r\n".encode())
        said = b""
        while b"event: hello" not in said:
            said += s.recv(4096)
        code, seconds, errors = one.end(signal.SIGTERM)
        while more := s.recv(4096):
            said += more
    assert (code, errors) == (0, "")
    assert seconds < 3  # measured 0.2 to 0.8; 1 s is what the benchmark holds it to
    assert said.endswith(b"\r\n0\r\n\r\n")  # the last chunk: no accident
    for listener in listeners:
        listener.wait_end()


def test_a_server_that_stood_still_for_a_while_serves_and_beats_at_once(laptop, job, listening):
    """The laptop's lid was closed: each stream says that it is alive, and what came meanwhile."""
    one = laptop(but="server.live.BEAT_SECONDS = 1")
    two = laptop()
    phone = Phone(one.call, new_key()).begin(job)
    phone.send()
    listener = listening(one, phone.key, "b")
    listener.wait("beat")
    kept = http.client.HTTPConnection("127.0.0.1", one.port, timeout=60)
    one.process.send_signal(signal.SIGSTOP)
    time.sleep(3)  # longer than between two beats
    answers = []
    asked = threading.Thread(
        target=lambda: answers.append(one.ask(f"/api/jobs/{phone.key}", timeout=60))
    )
    asked.start()
    kept.request("GET", "/api/ping")
    phone.ask = two.call
    phone.set(width_floor="150")
    assert phone.send()[0] == 200
    beats = len(listener.of("beat"))
    one.process.send_signal(signal.SIGCONT)
    began = time.monotonic()
    listener.wait("beat", beats + 1)
    assert listener.wait("job")[0]["rev"] == 2
    assert kept.getresponse().status == 200
    asked.join()
    assert (answers[0][0], answers[0][1]["rev"]) == (200, 2)
    phone.ask = one.call
    phone.set(width_floor="151")
    assert phone.send()[1]["rev"] == 3
    listener.wait("job", 2)
    assert time.monotonic() - began < BUSY_SECONDS + 3
    kept.close()
    listener.leave()
    _, _, errors = one.end(signal.SIGTERM)
    assert errors == ""


def test_a_stream_over_http_1_0_ends_with_its_connection(one, phone):
    with socket.create_connection(("127.0.0.1", one.port), timeout=20) as s:
        s.sendall(f"GET /api/jobs/{phone.key}/live?phone=a HTTP/1.0\r\n\r\n".encode())
        said = b""
        while b"event: hello" not in said:
            said += s.recv(4096)
        phone.key = one.ask(f"/api/jobs/{phone.key}/links", "POST", {"kind": "edit"})[1]["key"]
        while more := s.recv(4096):
            said += more
    assert b"event: ended" in said
    assert b"Transfer-Encoding" not in said


def test_a_head_of_a_stream_leaves_none(one, phone, listening):
    connection = http.client.HTTPConnection("127.0.0.1", one.port, timeout=20)
    for _ in range(3):
        connection.request("HEAD", f"/api/jobs/{phone.key}/live?phone=a")
        assert connection.getresponse().read() == b""
    connection.close()
    listeners = [listening(one, phone.key, f"{n}") for n in range(live.MOST_STREAMS)]
    for listener in listeners:
        listener.wait("hello")
        listener.leave()
