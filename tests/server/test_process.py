"""The real server: starts, is killed, is stopped, meets silent and broken connections."""

import contextlib
import http.client
import json
import signal
import socket
import threading
import time

import pytest

from server.cli import main

from .qrimage import decode_terminal


def test_it_says_where_it_is_and_the_qr_says_the_same(laptop):
    one = laptop()
    code = one.said.split("Phone:")[0]
    assert decode_terminal(code)[0] == f"http://127.0.0.1:{one.port}/p"
    assert f"Laptop: http://127.0.0.1:{one.port}/\n" in one.said
    assert "jobs.sqlite3\n" in one.said
    assert "Phones can't reach this address" in one.said
    status, ping = one.ask("/api/ping")
    assert (status, ping["ok"]) == (200, True)


def test_what_was_acknowledged_survives_kill_9(laptop, job):
    """A phone writes without a pause; the server is killed; each acknowledged write is there."""
    one = laptop()
    _, stored = one.ask("/api/jobs", "POST", {"job": job})
    path = f"/api/jobs/{stored['key']}"
    acknowledged = [stored]

    def write():
        while True:
            base = acknowledged[-1]["rev"]
            try:
                body = {"job": {**job, "title": f"{base}"}, "base": base}
                acknowledged.append(one.ask(path, "PUT", body)[1])
            except (OSError, http.client.HTTPException):
                return  # killed, perhaps in the middle of an answer

    writer = threading.Thread(target=write)
    writer.start()
    while len(acknowledged) < 20:
        time.sleep(0.01)
    one.kill()
    writer.join()
    last = acknowledged[-1]
    _, now = laptop().ask(path)
    # The write that was cut off may or may not have been stored; nothing else may differ.
    assert now["rev"] in (last["rev"], last["rev"] + 1)
    if now["rev"] == last["rev"]:
        assert now == last


def test_a_room_of_phones_writes_at_once_and_nobody_is_sent_away(laptop, job):
    """40 phones, one connection each, no pause: SQLite alone would call some of them busy."""
    one = laptop()
    answers = []

    def phone(n):
        connection = http.client.HTTPConnection("127.0.0.1", one.port)

        def ask(method, path, body):
            headers = {"Content-Type": "application/json"}
            connection.request(method, path, json.dumps(body), headers)
            answer = connection.getresponse()
            answers.append((answer.status, json.load(answer)))
            return answers[-1][1]

        now = ask("POST", "/api/jobs", {"job": {**job, "title": f"{n}"}})
        for i in range(8):
            sent = {"job": {**job, "title": f"{n}.{i}"}, "base": now.get("rev", 0)}
            now = ask("PUT", f"/api/jobs/{now.get('key')}", sent)
        connection.close()

    threads = [threading.Thread(target=phone, args=(n,)) for n in range(40)]
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    assert [a for a in answers if a[0] not in (200, 201)] == []
    assert len(answers) == 40 * 9
    _, _, errors = one.end(signal.SIGTERM)
    assert errors == ""


def test_ctrl_c_and_sigterm_stop_it_at_once_in_silence(laptop):
    for stop in (signal.SIGINT, signal.SIGTERM):
        one = laptop()
        held = socket.create_connection(("127.0.0.1", one.port))
        held.sendall(b"POST /api/jobs HTTP/1.1\r\nHost: x\r\nContent-Length: 50\r\n\r\n")
        code, seconds, errors = one.end(stop)
        held.close()
        assert (code, errors) == (0, "")
        assert seconds < 1.5  # measured 0.4 to 0.8 on two busy cores


def test_it_stops_in_the_middle_of_a_long_plan(laptop, job):
    job["walls"] = [
        {**job["walls"][0], "name": f"{n}", "width_floor": f"{600 + n}"} for n in range(16)
    ]
    one = laptop()
    asked = threading.Thread(target=_ask_and_drop, args=(one, job))
    asked.start()
    time.sleep(0.5)
    code, seconds, errors = one.end(signal.SIGTERM)
    asked.join()
    assert (code, errors) == (0, "")
    assert seconds < 2


def _ask_and_drop(one, job):
    with contextlib.suppress(OSError):  # the server goes away meanwhile, as the test wants
        one.ask("/api/plan", "POST", {"job": job}, timeout=30)


def test_silent_connections_take_nothing_from_others(laptop):
    """Browsers open spare connections; 100 of them, and a ping still answers at once."""
    one = laptop()
    silent = [socket.create_connection(("127.0.0.1", one.port)) for _ in range(100)]
    began = time.monotonic()
    assert one.ask("/api/ping")[0] == 200
    assert time.monotonic() - began < 1
    for s in silent:
        s.close()


def test_a_broken_request_gets_the_same_shape(laptop):
    one = laptop()
    for raw in (
        b"NONSENSE\r\n\r\n",
        b"GET /api/ping HTTP/1.1\r\nHost: x\r\nContent-Length: many\r\n\r\n",
        b"GET /" + b"x" * 70000 + b" HTTP/1.1\r\nHost: x\r\n\r\n",
    ):
        with socket.create_connection(("127.0.0.1", one.port), timeout=5) as s:
            s.sendall(raw)
            answer = b""
            while chunk := s.recv(65536):
                answer += chunk
        head, _, body = answer.partition(b"\r\n\r\n")
        assert head.startswith(b"HTTP/1.1 4"), raw[:40]
        assert b"Content-Security-Policy: default-src 'none'" in head
        error = json.loads(body)["error"]
        assert error["code"] == "bad-request"
        assert error["problems"][0]["fix"]


def test_a_large_body_is_refused_and_the_answer_arrives(laptop):
    one = laptop()
    for length in (1_000_001, 5_000_000):
        with socket.create_connection(("127.0.0.1", one.port), timeout=10) as s:
            s.sendall(
                b"POST /api/jobs HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
                b"Content-Length: %d\r\n\r\n" % length
            )
            s.sendall(b"x" * length)
            answer = b""
            while chunk := s.recv(65536):
                answer += chunk
        assert answer.startswith(b"HTTP/1.1 413 ")
        assert b'"code": "too-large"' in answer


def test_a_body_without_a_length_is_refused(laptop):
    one = laptop()
    with socket.create_connection(("127.0.0.1", one.port), timeout=10) as s:
        s.sendall(
            b"POST /api/jobs HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
            b"Transfer-Encoding: chunked\r\n\r\n"
        )
        answer = b""
        while chunk := s.recv(65536):
            answer += chunk
    assert answer.startswith(b"HTTP/1.1 411 ")
    assert b'"fix": "Send the body with a Content-Length."' in answer


def test_a_chosen_port_that_is_taken_is_named(tmp_path, capsys):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        arguments = ["--host", "127.0.0.1", "--port", str(port), "--data", str(tmp_path)]
        assert main(arguments) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith(f"lapwright: Port {port} is in use")
    assert "--port" in said.err


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--host", "203.0.113.7", "--data", "a"], "203.0.113.7 is no address of this laptop."),
        (["--port", "70000", "--data", "a"], "Port 70000 does not exist. Choose 1 to 65535."),
        (["--data", "file"], "can't be made. Choose another with --data."),
        (["--data", "."], "is not a Lapwright database. Move that file away"),
        (["--database", "jobs"], "jobs is no database URL. Give one like"),
        (["--database", "sqlite://"], "keeps nothing when Lapwright stops. Give one like"),
        (["--database", "nosuch://x/y"], "can't be used"),
    ],
)
def test_what_can_not_be_served_is_named(tmp_path, monkeypatch, capsys, arguments, says):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "file").write_text("x" * 2000)
    (tmp_path / "jobs.sqlite3").write_text("x" * 2000)
    before = signal.getsignal(signal.SIGINT)  # ignored, where a shell started this behind itself
    assert main(arguments) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("lapwright: ")
    assert says in said.err
    assert signal.getsignal(signal.SIGINT) is before
