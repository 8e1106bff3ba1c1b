"""What nobody should send: it is refused with a message, in time, and harms no job."""

import json
import random
import socket
import threading
import time
from contextlib import ExitStack

import pytest

from calc.shared.seen import LAST_CHANGE, SIZE
from server.taking import FARTHEST, LARGEST_COPY, MOST_APART

from .conftest import check_error_shape
from .phones import Phone, asking, bridge, new_key
from .streams import until

NUMBER = 5 * SIZE


@pytest.fixture
def phone(client, job):
    one = Phone(asking(client), new_key()).begin(job)
    assert one.send()[0] == 201
    return one


def copy(fields, **seen):
    return {"format": "lapwright-copy", "version": 1, "seen": seen, "fields": fields}


def one(path, *value, number=NUMBER):
    """A copy with one write of that field."""
    return copy({path: [["Z", number, *value]]}, Z=[[number, number]])


def post(client, phone, *writes):
    body = json.dumps({"writes": writes, "have": phone.rev})
    path = f"/api/jobs/{phone.key}/writes"
    return client.post(path, data=body, content_type="application/json")


def check_unharmed(client, phone):
    """The job is read, merged and written to as ever."""
    other = Phone(asking(client), phone.key).open()
    assert other.job["walls"][0]["height_left"] == phone.job["walls"][0]["height_left"]
    other.set(height_left=f"{90 + other.rev % 9}.5")
    assert other.send()[0] == 200
    phone.open()
    assert phone.job["walls"][0]["height_left"] == other.job["walls"][0]["height_left"]


PATHS = [
    "", "/", "title", "/walls", "/walls/", "/walls//name", "/board", "/done", "/done/x",
    "/walls/1/../../title", "/../../etc/passwd", "/walls/1/id", "/format", "/version",
    "/__proto__/x", "/constructor", "/title/x", "/walls/1/studs", "/walls/1/studs/found/0",
    "/walls/1/studs/found/", "/walls/~", "/walls/~2/name", "/walls/\ud800/name",
    "/walls/" + "x" * 41, "/x" * 300, "/walls/1/colour",
]  # fmt: skip


@pytest.mark.parametrize("path", PATHS, ids=[ascii(p)[:30] for p in PATHS])
def test_a_path_that_leads_nowhere_is_named(client, phone, path):
    error = check_error_shape(post(client, phone, one(path, "1")), 422, "bad-input")
    assert error["problems"][0]["field"].startswith("copy.fields[")
    check_unharmed(client, phone)


@pytest.mark.parametrize("path", ["/walls/%2e%2e/name", "/walls/../name", "/walls/\x00/name"])
def test_an_item_may_bear_any_name(client, phone, path):
    assert post(client, phone, one(path, "x")).status_code == 200
    check_unharmed(client, phone)


VALUES = [
    True, {}, {"a": 1}, [[1]], [{}], [True], 1e308, -1e308, 10**39, 2**60, "\ud800", ["\udfff"],
]  # fmt: skip


@pytest.mark.parametrize("value", VALUES, ids=[ascii(v) for v in VALUES])
@pytest.mark.parametrize(
    "path", ["/title", "/walls/1/width_floor", "/walls/1/studs/found", "/walls/1"]
)
def test_what_no_field_holds_is_named(client, phone, path, value):
    check_error_shape(post(client, phone, one(path, value)), 422, "bad-input")
    check_unharmed(client, phone)


@pytest.mark.parametrize(
    "value", [None, "", [], "\x00", "8 foo", -5, 0.1 + 0.2, "x" * 500_000, [1] * 9999, [None]]
)
def test_what_a_field_may_hold_but_no_job_can_use_is_kept_and_harms_nothing(client, phone, value):
    """It is a reading of somebody; the form on the phone says what is wrong with it."""
    path = "/walls/1/studs/found" if isinstance(value, list) else "/title"
    assert post(client, phone, one(path, value)).status_code == 200
    check_unharmed(client, phone)


BROKEN = {
    "no copy": {},
    "a list": [],
    "another version": {**copy({}), "version": 2},
    "a field more": {**copy({}), "more": 1},
    "no seen": {"format": "lapwright-copy", "version": 1, "fields": {}},
    "seen a list": {**copy({}), "seen": []},
    "runs that touch": copy({}, Z=[[NUMBER, NUMBER], [NUMBER + 1, NUMBER + 2]]),
    "runs backwards": copy({}, Z=[[NUMBER + 5, NUMBER]]),
    "a run of texts": copy({}, Z=[["a", "b"]]),
    "a run of one": copy({}, Z=[[NUMBER]]),
    "no runs": copy({}, Z=[]),
    "a writer of odd letters": copy({}, **{"Z z": [[NUMBER, NUMBER]]}),
    "a writer of no letter": copy({}, **{"": [[NUMBER, NUMBER]]}),
    "a writer too long": copy({}, **{"Z" * 25: [[NUMBER, NUMBER]]}),
    "a number below all": one("/title", "x", number=0),
    "a number above all": one("/title", "x", number=(LAST_CHANGE + 1) * SIZE),
    "a number with a fraction": one("/title", "x", number=NUMBER + 0.5),
    "a number that is true": one("/title", "x", number=True),
    "a write not seen": copy({"/title": [["Z", NUMBER, "x"]]}),
    "a write of one": copy({"/title": [["Z"]]}, Z=[[NUMBER, NUMBER]]),
    "a write of four": one("/title", "x", "y"),
    "writes out of order": copy(
        {"/title": [["Z", NUMBER + 1, "x"], ["Z", NUMBER, "y"]]}, Z=[[NUMBER, NUMBER + 1]]
    ),
    "no writes of a field": copy({"/title": []}),
}


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_copy_is_named(client, phone, name):
    check_error_shape(post(client, phone, BROKEN[name]), 422, "bad-input")
    check_unharmed(client, phone)


def test_one_name_with_two_values_keeps_both(client, phone):
    for value in ("a", "b", "a"):
        assert post(client, phone, one("/title", value)).status_code == 200
    phone.open()
    assert [sorted(f["options"]) for f in phone.apart] == [["North wall", "a", "b"]]
    check_unharmed(client, phone)


def test_numbers_far_ahead_would_leave_nobody_any(client, phone):
    for far in (LAST_CHANGE, FARTHEST + 2):
        answer = post(client, phone, one("/title", "x", number=far * SIZE))
        error = check_error_shape(answer, 422, "bad-input")
        assert f"The number {far} of a change is far above 1" in error["message"]
    check_unharmed(client, phone)


def test_to_have_seen_everything_erases_nothing(client, phone):
    """A write that holds no field, and has seen each that stands there."""
    for seen in (phone.copy["seen"], {phone.writer: [[SIZE, FARTHEST * SIZE]]}):
        error = check_error_shape(post(client, phone, copy({}, **seen)), 422, "bad-input")
        assert error["message"].endswith("would be gone, and nothing in its place.")
    check_unharmed(client, phone)


def test_a_thousand_writes_at_once(client, phone):
    writes = [one(f"/walls/W{n}", n, number=NUMBER + n) for n in range(1000)]
    for rev in (2, 2):
        answer = post(client, phone, *writes)
        assert (answer.status_code, answer.get_json()["rev"]) == (200, rev)
    assert len(phone.open().job["walls"]) == 1001
    check_unharmed(client, phone)


def test_a_megabyte_of_writes_is_merged_in_time(client, phone):
    """20 000 fields, and 50 000 runs that were seen; measured 0.2 s each."""
    fields = {f"/walls/1/blocking/{n}/left": [["Z", NUMBER + n, n]] for n in range(20_000)}
    large = copy(fields, Z=[[NUMBER, NUMBER + SIZE - 1]])
    runs = copy({}, Y=[[SIZE + 3 * n, SIZE + 3 * n + 1] for n in range(50_000)])
    for write in (large, runs, large, runs):
        began = time.monotonic()
        assert post(client, phone, write).status_code == 200
        assert time.monotonic() - began < 15
    check_unharmed(client, phone)


def test_a_field_holds_no_crowd_of_values(client, phone):
    """Who merges it compares each with each."""
    crowd = [["Z", NUMBER + 2 * n, f"{n}"] for n in range(30_000)]
    began = time.monotonic()
    answer = post(client, phone, copy({"/title": crowd}, Z=[[NUMBER, NUMBER + 60_000]]))
    error = check_error_shape(answer, 422, "bad-input")
    assert error["message"] == "/title would have 30001 values side by side."
    assert time.monotonic() - began < 15
    for n in range(MOST_APART // 50):
        few = [["Z", NUMBER + 100 * n + i, f"{i}"] for i in range(49)]
        seen = [[NUMBER + 100 * n, NUMBER + 100 * n + 48]]
        assert post(client, phone, copy({"/title": few}, Z=seen)).status_code == 200
    check_unharmed(client, phone)


def test_a_copy_grows_so_far_and_no_farther(client, phone):
    """In writes that are each small enough; none of the last one is stored."""
    for k in range(20):
        first = (k + 2) * SIZE
        fields = {f"/walls/{k}.{n}/name": [["Z", first + n, "x" * 60]] for n in range(3000)}
        answer = post(client, phone, copy(fields, Z=[[first, first + SIZE - 1]]))
        if answer.status_code != 200:
            break
    error = check_error_shape(answer, 413, "too-large")
    assert error["message"].endswith(f" bytes; {LARGEST_COPY} can be kept.")
    assert error["problems"][0]["fix"].startswith("Take out what is not needed any more")
    text = client.get(f"/api/jobs/{phone.key}").get_data(as_text=True)
    assert f"/walls/{k - 1}.0/name" in text
    assert f"/walls/{k}.0/name" not in text
    check_unharmed(client, phone)
    # A phone can give back all that is stored, should the laptop lose it.
    whole = client.get(f"/api/jobs/{phone.key}").get_json()["copy"]
    key = new_key()
    again = client.post("/api/jobs", json={"key": key, "writes": [whole]})
    assert again.status_code == 201
    assert client.get(f"/api/jobs/{key}").get_json()["copy"] == whole


def test_a_document_too_large_for_a_copy_is_not_stored(client, job):
    block = {"left": "10 mm", "width": "10 mm", "bottom": "10 mm", "height": "10 mm"}
    job["walls"] = [{"name": f"{n}", "blocking": [block] * 400} for n in range(30)]
    error = check_error_shape(client.post("/api/jobs", json={"job": job}), 413, "too-large")
    assert "can be kept." in error["message"]


@pytest.mark.parametrize("seed", range(4))
def test_nothing_sent_anywhere_is_a_fault(app, client, phone, seed):
    """Bodies of chance at every route: none answers 500, each error has the shape."""
    r = random.Random(seed)
    rules = [rule for rule in app.url_map.iter_rules() if rule.rule.startswith("/api/")]
    words = ["job", "key", "writes", "have", "kind", "code", "plan", "instead", "values", "wall"]
    words += ["format", "version", "fields", "seen", "unit", "paper", "walls", "board", "x", ""]
    leaves = [
        None,
        True,
        False,
        0,
        -1,
        1,
        2**31,
        1e300,
        "",
        "x",
        "edit",
        "saw",
        "12345678",
        phone.key,
    ]
    leaves += ["lapwright-job", "lapwright-plan", "lapwright-copy", "\ud800", "9" * 39]

    def value(depth):
        kind = r.random()
        if depth == 0 or kind < 0.4:
            return r.choice(leaves)
        if kind < 0.6:
            return [value(depth - 1) for _ in range(r.randint(0, 3))]
        return {r.choice(words): value(depth - 1) for _ in range(r.randint(0, 5))}

    for _ in range(300):
        rule = r.choice(rules)
        method = r.choice(sorted(rule.methods - {"OPTIONS", "HEAD"}))
        path = rule.rule.replace("<key>", r.choice([phone.key, "A" * 22, "%00", "x"]))
        path = path.replace("<name>", r.choice(["stud-marks", "x", "%2e%2e"]))
        sent = json.dumps(value(4)).encode()
        if r.random() < 0.2:
            sent = bytes(r.randrange(256) for _ in range(r.randint(0, 50)))
        query = r.choice(["", "?unit=mm", "?phone=a", "?unit=%ff&phone=%00"])
        answer = client.open(
            path + query, method=method, data=sent, content_type="application/json"
        )
        assert answer.status_code < 500, (method, path, sent)
        if answer.status_code >= 400:
            check_error_shape(answer, answer.status_code, answer.get_json()["error"]["code"])
        answer.close()
        phone.key = key_now(client, phone)
    check_unharmed(client, phone)


def key_now(client, phone):
    """The key to edit the job by; the fuzz may have renewed it (then the store tells it)."""
    if client.get(f"/api/jobs/{phone.key}").status_code == 200:
        return phone.key
    store = client.application.extensions["lapwright-store"]
    with store.database.reading() as c:
        return c.exec_driver_sql(
            "SELECT key FROM keys WHERE kind='edit' AND ended IS NULL"
        ).scalar()


def test_everything_at_once_from_many_threads(app, client, phone):
    """Writes, new jobs, links, codes and plans; then each write that was acknowledged is there."""
    kept, failed = [], []
    begun = bridge("adopt", job=phone.job, writer="begun", number=1)["copy"]

    def ask(one, method, path, body, *allowed):
        answer = one.open(path, method=method, json=body)
        assert answer.status_code in (*allowed, 503), answer.get_data(as_text=True)
        return answer

    def work(n):
        r = random.Random(n)
        mine = app.test_client()
        path = f"/api/jobs/{phone.key}"
        for i in range(12):
            name = f"{n}.{i}"
            write = copy({f"/walls/W{name}": [[f"T{n}", (i + 2) * SIZE, i]]},
                         **{f"T{n}": [[(i + 2) * SIZE, (i + 2) * SIZE]]})  # fmt: skip
            if (
                ask(mine, "POST", f"{path}/writes", {"writes": [write], "have": 0}, 200).status_code
                == 200
            ):
                kept.append(f"W{name}")
            key = f"{r.randrange(3)}" * 22
            ask(mine, "POST", "/api/jobs", {"key": key, "writes": [begun]}, 200, 201)
            ask(mine, "POST", f"{path}/links", {"kind": "saw"}, 200)
            code = ask(mine, "POST", f"{path}/code", {"kind": "saw"}, 200, 410)
            if code.status_code == 200:
                ask(mine, "POST", "/api/codes", {"code": code.get_json()["code"]}, 200, 404, 429)
            plan = {"format": "lapwright-plan", "name": name}
            body = {"job": phone.job, "plan": plan, "instead": r.random() < 0.5}
            ask(mine, "PUT", f"{path}/plan", body, 200, 409)
            ask(mine, "GET", f"{path}/links", None, 200)

    def run(n):
        try:
            work(n)
        except BaseException as e:
            failed.append(e)
            raise

    threads = [threading.Thread(target=run, args=(n,)) for n in range(8)]
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    assert failed == []
    phone.open()
    assert {w["id"] for w in phone.job["walls"]} == {"1", *kept}
    assert phone.rev == 1 + len(kept)
    store = app.extensions["lapwright-store"]
    with store.database.reading() as c:
        many = c.exec_driver_sql("SELECT count(*) FROM copies").scalar()
        open_saws = c.exec_driver_sql(
            "SELECT count(*) FROM keys WHERE kind='saw' AND ended IS NULL"
        ).scalar()
    assert many <= 1 + 3
    assert open_saws == 1
    check_unharmed(client, phone)


def test_requests_that_drip_in_hold_nobody_up(laptop):
    """More of them than threads for requests, in the head and in the body; each is ended."""
    one = laptop(but="server.serve.REQUEST_SECONDS = 2")
    assert one.ask("/api/ping")[0] == 200
    head = b"POST /api/jobs HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
    body = head + b"Content-Length: 999\r\n\r\n"
    with ExitStack() as stack:
        slow = []
        for n in range(120):
            s = stack.enter_context(socket.create_connection(("127.0.0.1", one.port)))
            s.sendall(body if n % 2 else b"GET /api/pi")
            s.setblocking(False)
            slow.append(s)
        ended = set()

        def drip():
            for s in set(slow) - ended:
                try:
                    s.send(b"x")
                    if s.recv(4096) == b"":
                        ended.add(s)
                except BlockingIOError:
                    pass
                except OSError:
                    ended.add(s)
            return len(ended) >= 100

        until(drip, 60)
        assert one.ask("/api/ping", timeout=30)[0] == 200
