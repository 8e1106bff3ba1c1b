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

from .phones import Phone, new_key
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
    """Two phones write without a pause; the server is killed; each acknowledged write is there."""
    one = laptop()
    phones = [Phone(one.call, new_key()).begin(job)]
    assert phones[0].send()[0] == 201
    phones.append(Phone(one.call, phones[0].key).open())
    acknowledged = {phone.writer: 0 for phone in phones}

    def write(phone, field):
        while True:
            phone.set(**{field: f"{101 + acknowledged[phone.writer]}"})
            try:
                assert phone.send()[0] == 200
            except (OSError, http.client.HTTPException):
                return  # killed
            acknowledged[phone.writer] += 1

    fields = ("width_floor", "height_left")

    def kill():
        while min(acknowledged.values()) < 20:
            time.sleep(0.01)
        one.kill()

    killer = threading.Thread(target=kill)
    killer.start()
    run_all(write, list(zip(phones, fields, strict=True)))
    killer.join()
    two = laptop()
    found = Phone(two.call, phones[0].key).open()
    for phone, field in zip(phones, fields, strict=True):
        # The write that was cut off may or may not have been stored; nothing else may differ.
        count = acknowledged[phone.writer]
        assert found.job["walls"][0][field] in (f'{100 + count}"', f'{101 + count}"')
    assert found.apart == []
    # Sent again, all is there, once.
    for phone in phones:
        phone.ask = two.call
        assert phone.send()[0] == 200
    again = Phone(two.call, phones[0].key).open()
    for phone, field in zip(phones, fields, strict=True):
        assert again.job["walls"][0][field] == f'{101 + acknowledged[phone.writer]}"'


def test_two_processes_on_one_file_keep_the_writes_of_both(laptop, job):
    ones = [laptop(), laptop()]
    first = Phone(ones[0].call, new_key()).begin(job)
    assert first.send()[0] == 201
    phones = [Phone(one.call, first.key).open() for one in ones for _ in range(4)]
    each = 10

    def write(phone, n):
        for i in range(each):
            phone.edit(lambda j, i=i: j["walls"].append({"name": f"{n}.{i}"}))
            while phone.outbox:
                status, answer = phone.send()
                assert status in (200, 503), answer  # busy: it tries again

    run_all(write, [(phone, n) for n, phone in enumerate(phones)])
    names = {f"{n}.{i}" for n in range(len(phones)) for i in range(each)}
    found = first.open()
    assert {w.get("name") for w in found.job["walls"]} == {None, *names}
    assert found.rev == 1 + len(names)
    for one in ones:
        code, _, errors = one.end(signal.SIGTERM)
        assert (code, [e for e in errors.splitlines() if "SQLITE_BUSY" not in e]) == (0, [])


def run_all(work, arguments):
    """work(*a) in a thread for each; fails where one of them does."""
    failed = []

    def run(of):
        try:
            work(*of)
        except BaseException as e:
            failed.append(e)
            raise

    threads = [threading.Thread(target=run, args=(of,)) for of in arguments]
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    assert failed == []


def test_a_room_of_phones_writes_at_once_and_nobody_is_sent_away(laptop, job):
    """40 phones, one connection each, no pause: SQLite alone would call some of them busy."""
    one = laptop()
    made = Phone(None, new_key(), "W").begin(job)
    begun = list(made.outbox)
    changes = [made.set(width_floor=f"{150 + i}") and made.outbox[-1] for i in range(8)]
    answers = []

    def phone(n):
        connection = http.client.HTTPConnection("127.0.0.1", one.port)

        def ask(path, body):
            headers = {"Content-Type": "application/json"}
            connection.request("POST", path, json.dumps(body), headers)
            answer = connection.getresponse()
            answers.append((answer.status, json.load(answer)))

        key = new_key()
        ask("/api/jobs", {"key": key, "writes": begun})
        for i, write in enumerate(changes):
            ask(f"/api/jobs/{key}/writes", {"writes": [write], "have": i + 1})
        connection.close()

    run_all(phone, [(n,) for n in range(40)])
    assert [a for a in answers if a[0] not in (200, 201)] == []
    assert len(answers) == 40 * 9
    assert sorted(a[1]["rev"] for a in answers) == sorted([*range(1, 10)] * 40)
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
    assert one.ask("/api/ping")[0] == 200  # the page is bundled now
    with contextlib.ExitStack() as silent:
        for _ in range(100):
            silent.enter_context(socket.create_connection(("127.0.0.1", one.port)))
        began = time.monotonic()
        assert one.ask("/api/ping")[0] == 200
        assert time.monotonic() - began < 1


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
    for path, length in ((b"plan", 1_000_001), (b"plan", 5_000_000), (b"jobs", 4_000_001)):
        with socket.create_connection(("127.0.0.1", one.port), timeout=10) as s:
            s.sendall(
                b"POST /api/%s HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
                b"Content-Length: %d\r\n\r\n" % (path, length)
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
