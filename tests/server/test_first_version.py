"""A database of the first version, which kept whole documents, is taken over as it stands."""

import json
import sqlite3
import threading

import pytest

from calc.shared.job_copy import adopt
from server.app import create_app
from server.database import Database
from server.store import Store

from .conftest import WHOLE_JOB
from .phones import Phone, asking, bridge

SAVED = "2020-02-03T04:05:06Z"
KEYS = [letter * 22 for letter in "abc"]


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "jobs.sqlite3"
    c = sqlite3.connect(path)
    c.execute("PRAGMA journal_mode=WAL")
    c.execute(
        "CREATE TABLE jobs (key VARCHAR(22) NOT NULL, rev INTEGER NOT NULL, "
        "saved VARCHAR(20) NOT NULL, doc TEXT NOT NULL, PRIMARY KEY (key))"
    )
    for n, key in enumerate(KEYS):
        doc = json.dumps({**WHOLE_JOB, "title": f"Job {n}"})
        c.execute("INSERT INTO jobs VALUES (?, ?, ?, ?)", (key, n + 3, SAVED, doc))
    c.commit()
    c.close()
    return path


@pytest.fixture
def client(path):
    app = create_app({"DATABASE_URL": f"sqlite:///{path}", "ADDRESS": "192.168.7.20"})
    yield app.test_client()
    app.extensions["lapwright-store"].close()


def test_each_job_opens_by_its_key_as_before(client):
    ids = set()
    for n, key in enumerate(KEYS):
        found = client.get(f"/api/jobs/{key}").get_json()
        assert (found["kind"], found["rev"], found["saved"]) == ("edit", n + 3, SAVED)
        expected = bridge("adopt", job={**WHOLE_JOB, "title": f"Job {n}"}, writer="x", number=1)
        assert found["job"] == expected["job"]
        ids.add(found["id"])
    assert len(ids) == 3


def test_it_can_be_written_to_and_has_links(client):
    phone = Phone(asking(client), KEYS[0]).open()
    phone.set(width_floor="150")
    status, answer = phone.send()
    assert (status, answer["rev"]) == (200, 4)
    links = client.get(f"/api/jobs/{KEYS[0]}/links").get_json()
    assert links["edit"]["link"].endswith(f"#/edit/{KEYS[0]}")


def test_a_phone_that_had_the_job_brings_its_own_copy_and_only_what_differs_is_asked(client):
    """The page of the first version kept the document too; its edits there were not all sent."""
    doc = {**WHOLE_JOB, "title": "Job 0"}
    doc["walls"] = [{**doc["walls"][0], "width_floor": "151"}]
    phone = Phone(asking(client), KEYS[0]).begin(doc)
    assert phone.send()[0] == 200
    (field,) = phone.apart
    assert field["path"] == "/walls/1/width_floor"
    assert sorted(field["options"]) == ['140"', '151"']


def test_it_is_taken_over_once(path):
    for _ in range(2):
        store = Store(Database(f"sqlite:///{path}"))
        found = [store.get(key) for key in KEYS]
        store.close()
    c = sqlite3.connect(path)
    tables = {row[0] for row in c.execute("SELECT name FROM sqlite_master WHERE type='table'")}
    assert tables == {"copies", "keys", "codes", "tries", "plans"}
    assert c.execute("SELECT count(*) FROM copies").fetchone() == (3,)
    c.close()
    assert [s.rev for s in found] == [3, 4, 5]


def test_several_that_start_at_once_take_it_over_once(path):
    barrier = threading.Barrier(6)
    found, failed = [], []

    def start():
        barrier.wait()
        try:
            store = Store(Database(f"sqlite:///{path}"))
            found.append([store.get(key) for key in KEYS])
            store.close()
        except BaseException as e:
            failed.append(e)
            raise

    threads = [threading.Thread(target=start) for _ in range(6)]
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    assert failed == []
    assert len(found) == 6
    assert all(jobs == found[0] for jobs in found)


def test_one_that_another_process_took_over_a_moment_ago_is_left_alone(path, monkeypatch):
    Store(Database(f"sqlite:///{path}")).close()
    database = Database(f"sqlite:///{path}")
    monkeypatch.setattr(database, "tables", lambda: {"jobs"})  # what was seen before that
    store = Store(database)
    assert [store.get(key).rev for key in KEYS] == [3, 4, 5]
    store.close()


def test_a_database_that_can_not_be_taken_over_stays_as_it_is(path, monkeypatch):
    """The disk is full in the middle of it, say."""
    before = list(sqlite3.connect(path).execute("SELECT * FROM jobs"))
    done = []

    def adopted(*of):
        done.append(1)
        if len(done) == 2:
            raise OSError("no")
        return adopt(*of)

    monkeypatch.setattr("server.store.adopt", adopted)
    with pytest.raises(OSError, match="no"):
        Store(Database(f"sqlite:///{path}"))
    monkeypatch.undo()
    c = sqlite3.connect(path)
    assert list(c.execute("SELECT * FROM jobs")) == before
    assert c.execute("SELECT count(*) FROM copies").fetchone() == (0,)
    c.close()
    store = Store(Database(f"sqlite:///{path}"))
    assert store.get(KEYS[2]).rev == 5
    store.close()
