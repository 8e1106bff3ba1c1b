"""The disk full, the file locked, damaged or not ours: one error, nothing lost, nothing hidden."""

import sqlite3
import threading
import time

import pytest
from sqlalchemy import event

from server.app import create_app
from server.store import Store, Unavailable

from .conftest import check_error_shape


def big(job, n):
    """The job with a few kilobytes of stud marks, so that it needs pages of its own."""
    marks = [i + 0.5 for i in range(1, 400)]
    wall = {**job["walls"][0], "width_floor": "100 m", "studs": {"found": marks}}
    return {**job, "title": f"{n}", "walls": [{**wall, "name": f"{i}"} for i in range(5)]}


def test_a_full_disk_is_told_and_what_was_stored_stays(app, client, stored, job):
    """SQLite's own limit of pages answers SQLITE_FULL, as a full disk does."""
    store = app.extensions["lapwright-store"]
    store.engine.dispose()

    def limit(connection, _record):
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
        connection.execute(f"PRAGMA max_page_count={pages}")

    event.listen(store.engine, "connect", limit)
    response = client.post("/api/jobs", json={"job": big(job, 1), "key": "N" * 22})
    error = check_error_shape(response, 507, "disk-full")
    assert error["message"] == "The laptop's disk is full; the job was not stored."
    assert error["problems"][0]["fix"].startswith("Free some space")
    path = f"/api/jobs/{stored['key']}"
    change = client.put(path, json={"job": big(job, 2), "base": 1})
    check_error_shape(change, 507, "disk-full")
    assert client.get(path).get_json() == stored
    check_error_shape(client.get("/api/jobs/" + "N" * 22), 404, "not-found")
    event.remove(store.engine, "connect", limit)
    store.engine.dispose()
    assert client.put(path, json={"job": big(job, 2), "base": 1}).status_code == 200


def test_a_disk_that_takes_no_more_is_told_by_the_real_server(laptop, job):
    """The system itself refuses to let files grow (ulimit -f, in blocks of 512 bytes)."""
    first = laptop()
    status, kept = first.ask("/api/jobs", "POST", {"job": job})
    assert status == 201
    first.kill()
    second = laptop(shell_prefix="ulimit -f 128")
    codes = set()
    for n in range(6):
        status, body = second.ask("/api/jobs", "POST", {"job": big(job, n)})
        if status != 201:
            codes.add((status, body["error"]["code"]))
    assert codes
    assert codes <= {(503, "disk"), (507, "disk-full")}
    assert second.ask(f"/api/jobs/{kept['key']}") == (200, kept)
    second.kill()
    assert laptop().ask(f"/api/jobs/{kept['key']}") == (200, kept)


def test_a_locked_file_is_told_in_time_and_reading_goes_on(app, client, stored, job, tmp_path):
    path = f"/api/jobs/{stored['key']}"
    change = {"job": {**job, "title": "South"}, "base": 1}
    other = sqlite3.connect(tmp_path / "jobs.sqlite3", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    began = time.monotonic()
    response = client.put(path, json=change)
    assert time.monotonic() - began < 2.5  # then the phone gives up by itself
    error = check_error_shape(response, 503, "busy")
    assert error["message"] == "The laptop's job file is in use; the job was not stored."
    assert client.get(path).get_json() == stored
    other.execute("ROLLBACK")
    other.close()
    assert client.put(path, json=change).get_json()["rev"] == 2


def test_a_write_waits_two_seconds_in_all_for_its_turn_and_for_the_file(app, job, tmp_path):
    """A phone is ahead for most of it and another program has the file: one wait, not two."""
    store = app.extensions["lapwright-store"]
    other = sqlite3.connect(tmp_path / "jobs.sqlite3", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    store._turn.acquire()
    ahead = threading.Timer(1.2, store._turn.release)
    ahead.start()
    began = time.monotonic()
    with pytest.raises(Unavailable) as e:
        store.add("w" * 22, job)
    waited = time.monotonic() - began
    ahead.join()
    other.execute("ROLLBACK")
    other.close()
    assert e.value.code == "busy"
    assert 1.7 < waited < 2.4
    # The next one has its whole wait again, on the same connection.
    other = sqlite3.connect(tmp_path / "jobs.sqlite3", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    began = time.monotonic()
    with pytest.raises(Unavailable):
        store.add("w" * 22, job)
    assert 1.7 < time.monotonic() - began < 2.4
    other.execute("ROLLBACK")
    other.close()
    assert store.add("w" * 22, job)[1]


def test_a_file_damaged_while_serving_is_told(app, client, stored, tmp_path):
    store = app.extensions["lapwright-store"]
    store.engine.dispose()
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


def test_writes_wait_for_the_disk(app):
    """WAL with synchronous=FULL (2): https://www.sqlite.org/pragma.html#pragma_synchronous"""
    with app.extensions["lapwright-store"].engine.connect() as c:
        assert c.exec_driver_sql("PRAGMA journal_mode").scalar() == "wal"
        assert c.exec_driver_sql("PRAGMA synchronous").scalar() == 2
        assert c.exec_driver_sql("PRAGMA fullfsync").scalar() == 1


def test_an_error_of_another_kind_is_told_too(tmp_path, client, app, stored):
    """The table is gone: no SQLite name of the list fits."""
    other = sqlite3.connect(tmp_path / "jobs.sqlite3")
    other.execute("DROP TABLE jobs")
    other.close()
    error = check_error_shape(client.get(f"/api/jobs/{stored['key']}"), 503, "unreachable")
    assert error["message"] == "The laptop's job store did not answer."


def test_a_store_survives_being_opened_again(tmp_path, job):
    url = f"sqlite:///{tmp_path / 'jobs.sqlite3'}"
    one = Store(url)
    stored, new = one.add("k" * 22, job)
    one.close()
    two = Store(url)
    assert (two.get("k" * 22), new) == (stored, True)
    two.close()
