"""The disk full, the file locked, damaged or not ours: one error, nothing lost, nothing hidden."""

import sqlite3
import threading
import time

import pytest
from sqlalchemy import event

from server.app import create_app
from server.database import Database, Unavailable
from server.store import Store

from .conftest import check_error_shape
from .phones import Phone, asking, new_key


def big(job, n):
    """The job with a few kilobytes of stud marks, so that it needs pages of its own."""
    marks = [i + 0.5 for i in range(1, 400)]
    wall = {**job["walls"][0], "width_floor": "100 m", "studs": {"found": marks}}
    walls = [{**wall, "name": f"{i}", "id": f"{n}.{i}"} for i in range(5)]
    return {**job, "title": f"{n}", "walls": walls}


@pytest.fixture
def database(app):
    return app.extensions["lapwright-store"].database


@pytest.fixture
def phone(client, stored):
    """A phone that has opened the stored job, with a change to send."""
    one = Phone(asking(client), stored["key"]).open()
    one.set(width_floor="150")
    return one


def new_job(job, n):
    """The body of a POST by a phone that began a big job, and its key."""
    phone = Phone(None, new_key()).begin(big(job, n))
    return {"key": phone.key, "writes": phone.outbox}, phone.key


def test_a_full_disk_is_told_and_what_was_stored_stays(client, database, stored, phone, job):
    """SQLite's own limit of pages answers SQLITE_FULL, as a full disk does."""
    database.engine.dispose()

    def limit(connection, _record):
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
        connection.execute(f"PRAGMA max_page_count={pages}")

    event.listen(database.engine, "connect", limit)
    body, key = new_job(job, 1)
    response = client.post("/api/jobs", json=body)
    error = check_error_shape(response, 507, "disk-full")
    assert error["message"] == "The laptop's disk is full; the job was not stored."
    assert error["problems"][0]["fix"].startswith("Free some space")
    phone.edit(lambda j: j.update(big(phone.job, 2)))
    status, answer = phone.send()
    assert (status, answer["error"]["code"]) == (507, "disk-full")
    path = f"/api/jobs/{stored['key']}"
    assert client.get(path).get_json() == stored
    check_error_shape(client.get(f"/api/jobs/{key}"), 404, "not-found")
    event.remove(database.engine, "connect", limit)
    database.engine.dispose()
    assert phone.send()[0] == 200
    assert phone.outbox == []


def test_a_disk_that_takes_no_more_is_told_by_the_real_server(laptop, job):
    """The system itself refuses to let files grow (ulimit -f, in blocks of 512 bytes)."""
    first = laptop()
    status, kept = first.ask("/api/jobs", "POST", {"job": job})
    assert status == 201
    first.kill()
    second = laptop(shell_prefix="ulimit -f 256")
    codes = set()
    for n in range(12):
        status, body = second.ask("/api/jobs", "POST", {"job": big(job, n)})
        if status != 201:
            codes.add((status, body["error"]["code"]))
    assert codes
    assert codes <= {(503, "disk"), (507, "disk-full")}
    assert second.ask(f"/api/jobs/{kept['key']}") == (200, kept)
    second.kill()
    assert laptop().ask(f"/api/jobs/{kept['key']}") == (200, kept)


def test_a_locked_file_is_told_in_time_and_reading_goes_on(client, stored, phone, tmp_path):
    path = f"/api/jobs/{stored['key']}"
    client.get(f"{path}/links")  # makes the saw's key
    other = sqlite3.connect(tmp_path / "jobs.sqlite3", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    for send in (phone.send, lambda: asking(client)(f"{path}/links", "POST", {"kind": "saw"})):
        began = time.monotonic()
        status, answer = send()
        assert time.monotonic() - began < 2.5  # then the phone gives up by itself
        assert (status, answer["error"]["code"]) == (503, "busy")
        said = "The laptop's job file is in use; the job was not stored."
        assert answer["error"]["message"] == said
    assert client.get(path).get_json() == stored
    assert client.get(f"{path}/links").status_code == 200
    assert client.get(f"{path}/plan").get_json()["rev"] == 0
    other.execute("ROLLBACK")
    other.close()
    assert phone.send()[1]["rev"] == 2


def test_a_write_waits_two_seconds_in_all_for_its_turn_and_for_the_file(
    app, database, stored, phone, tmp_path
):
    """A phone is ahead for most of it and another program has the file: one wait, not two."""
    store = app.extensions["lapwright-store"]
    other = sqlite3.connect(tmp_path / "jobs.sqlite3", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    inside = threading.Event()

    def ahead():
        with database.turn():
            inside.set()
            time.sleep(1.2)

    thread = threading.Thread(target=ahead)
    thread.start()
    inside.wait()

    def waited(work):
        began = time.monotonic()
        with pytest.raises(Unavailable) as e:
            work()
        assert e.value.code == "busy"
        return time.monotonic() - began

    def write():
        store.merge(stored["key"], phone.outbox)

    def write_within_a_turn():
        with database.turn():
            write()

    assert 1.7 < waited(write_within_a_turn) < 2.4
    thread.join()
    # The next one has its whole wait again, on the same connection.
    assert 1.7 < waited(write) < 2.4
    other.execute("ROLLBACK")
    other.close()
    assert store.merge(stored["key"], phone.outbox).stored.rev == 2


def test_a_turn_that_does_not_come_is_told(database):
    inside, over = threading.Event(), threading.Event()

    def ahead():
        with database.turn():
            inside.set()
            over.wait()

    thread = threading.Thread(target=ahead)
    thread.start()
    inside.wait()
    with pytest.raises(Unavailable, match="no turn to write"), database.turn():
        raise AssertionError("two at once")
    over.set()
    thread.join()
    with database.turn(), database.writing(), database.turn():
        pass  # within one's own turn there is no wait


def test_a_file_that_may_not_be_written_is_told_and_read(tmp_path, laptop, job):
    """SQLite refuses itself (query_only): root, who runs tests too, may write any file."""
    first = laptop()
    _, kept = first.ask("/api/jobs", "POST", {"job": job})
    first.kill()
    app = create_app({"DATABASE_URL": f"sqlite:///{tmp_path / 'data' / 'jobs.sqlite3'}"})
    database = app.extensions["lapwright-store"].database
    database.engine.dispose()
    event.listen(database.engine, "connect", lambda c, _: c.execute("PRAGMA query_only=ON"))
    client = app.test_client()
    error = check_error_shape(client.post("/api/jobs", json={"job": job}), 503, "read-only")
    assert error["problems"][0]["fix"] == "Give the user who runs Lapwright the right to write it."
    assert client.get(f"/api/jobs/{kept['key']}").get_json() == kept
    app.extensions["lapwright-store"].close()


def test_a_file_damaged_while_serving_is_told(database, client, stored, tmp_path):
    database.engine.dispose()
    (tmp_path / "jobs.sqlite3").write_bytes(b"not a database " * 1000)
    error = check_error_shape(client.get(f"/api/jobs/{stored['key']}"), 503, "damaged")
    assert error["message"] == "The laptop's job file is not a Lapwright database."


def test_a_file_cut_short_is_told(app, client, job, tmp_path):
    """Half the file is gone, its first page still there: SQLite finds it malformed."""
    keys = [client.post("/api/jobs", json={"job": big(job, n)}).get_json()["key"] for n in range(9)]
    app.extensions["lapwright-store"].close()
    path = tmp_path / "jobs.sqlite3"
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 8192 * 4096])
    answers = [client.get(f"/api/jobs/{key}") for key in keys]
    bad = [a for a in answers if a.status_code != 200]
    assert bad
    for answer in bad:
        error = check_error_shape(answer, 503, "damaged")
        assert error["message"] == "The laptop's job file is damaged."


def test_what_is_no_database_is_left_alone(tmp_path):
    path = tmp_path / "jobs.sqlite3"
    path.write_text("a shopping list, and then some more of it\n" * 50)
    before = path.read_bytes()
    with pytest.raises(Unavailable) as e:
        create_app({"DATABASE_URL": f"sqlite:///{path}"})
    assert (e.value.status, e.value.code) == (503, "damaged")
    assert path.read_bytes() == before


def test_writes_wait_for_the_disk(database):
    """WAL with synchronous=FULL (2): https://www.sqlite.org/pragma.html#pragma_synchronous"""
    with database.engine.connect() as c:
        assert c.exec_driver_sql("PRAGMA journal_mode").scalar() == "wal"
        assert c.exec_driver_sql("PRAGMA synchronous").scalar() == 2
        assert c.exec_driver_sql("PRAGMA fullfsync").scalar() == 1


def test_an_error_of_another_kind_is_told_too(tmp_path, client, app, stored):
    """The table is gone: no SQLite name of the list fits."""
    other = sqlite3.connect(tmp_path / "jobs.sqlite3")
    other.execute("DROP TABLE copies")
    other.close()
    error = check_error_shape(client.get(f"/api/jobs/{stored['key']}"), 503, "unreachable")
    assert error["message"] == "The laptop's job store did not answer."


def test_a_store_survives_being_opened_again(tmp_path, job):
    url = f"sqlite:///{tmp_path / 'jobs.sqlite3'}"
    body, key = new_job(job, 1)
    one = Store(Database(url))
    stored = one.add(key, body["writes"]).stored
    one.close()
    two = Store(Database(url))
    assert two.get(key) == stored
    two.close()


def test_two_processes_that_start_at_once_on_no_file_both_serve(tmp_path, laptop, job):
    """Each finds no tables, and makes them unless the other one has."""
    failed = []

    def start():
        try:
            laptop()
        except BaseException as e:
            failed.append(e)
            raise

    threads = [threading.Thread(target=start) for _ in range(4)]
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    assert failed == []
