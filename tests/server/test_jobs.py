"""Jobs over the API: stored, read, replaced; never lost between two phones."""

import json
import re
import threading

import pytest

from .conftest import check_error_shape

KEY = "phone_key-phone_key-22"


def test_a_job_comes_back_as_it_was_sent(client, job):
    response = client.post("/api/jobs", json={"job": job})
    assert response.status_code == 201
    stored = response.get_json()
    assert set(stored) == {"key", "rev", "saved", "job"}
    assert re.fullmatch(r"[A-Za-z0-9_-]{22}", stored["key"])
    assert stored["rev"] == 1
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", stored["saved"])
    assert stored["job"] == job
    assert client.get(f"/api/jobs/{stored['key']}").get_json() == stored


def test_keys_differ(client, job):
    keys = {client.post("/api/jobs", json={"job": job}).get_json()["key"] for _ in range(20)}
    assert len(keys) == 20


def test_a_draft_is_stored_though_nothing_is_measured(client, draft):
    response = client.post("/api/jobs", json={"job": draft, "key": KEY})
    assert response.status_code == 201
    assert response.get_json()["key"] == KEY
    assert client.get(f"/api/jobs/{KEY}").get_json()["job"] == draft


def test_the_same_job_sent_again_is_the_same_job(client, job):
    """The answer to the first try may have been lost on its way to the phone."""
    first = client.post("/api/jobs", json={"job": job, "key": KEY})
    again = client.post("/api/jobs", json={"job": dict(reversed(job.items())), "key": KEY})
    assert (first.status_code, again.status_code) == (201, 200)
    assert again.get_json() == first.get_json()


def test_another_job_under_the_same_key_is_refused(client, job):
    first = client.post("/api/jobs", json={"job": job, "key": KEY}).get_json()
    response = client.post("/api/jobs", json={"job": {**job, "title": "South"}, "key": KEY})
    check_error_shape(response, 409, "conflict")
    assert response.get_json()["current"] == first
    assert client.get(f"/api/jobs/{KEY}").get_json() == first


def test_a_change_makes_the_next_revision(client, stored, job):
    path = f"/api/jobs/{stored['key']}"
    changed = client.put(path, json={"job": {**job, "title": "South"}, "base": 1})
    assert changed.status_code == 200
    assert changed.get_json()["rev"] == 2
    assert client.get(path).get_json() == changed.get_json()


@pytest.mark.parametrize("base", [1, 2, 7])
def test_the_same_change_sent_again_makes_no_new_revision(client, stored, job, base):
    path = f"/api/jobs/{stored['key']}"
    changed = client.put(path, json={"job": {**job, "title": "South"}, "base": 1}).get_json()
    again = client.put(path, json={"job": {**job, "title": "South"}, "base": base})
    assert again.status_code == 200
    assert again.get_json() == changed


def test_a_change_on_an_old_revision_is_refused_with_the_current_one(client, stored, job):
    path = f"/api/jobs/{stored['key']}"
    current = client.put(path, json={"job": {**job, "title": "South"}, "base": 1}).get_json()
    response = client.put(path, json={"job": {**job, "title": "East"}, "base": 1})
    error = check_error_shape(response, 409, "conflict")
    assert error["message"] == "Revision 2 is stored, not 1."
    assert response.get_json()["current"] == current
    assert client.get(path).get_json() == current


def test_odd_text_comes_back_whole(client, job):
    job["title"] = 'é "¾" \U0001fa9a \u0000 \ud800 end'
    body = json.dumps({"job": job})
    stored = client.post("/api/jobs", data=body, content_type="application/json").get_json()
    assert client.get(f"/api/jobs/{stored['key']}").get_json()["job"]["title"] == job["title"]


def test_of_many_changes_at_once_exactly_one_is_taken(app, stored, job):
    path = f"/api/jobs/{stored['key']}"
    barrier = threading.Barrier(12)
    answers = []

    def write(n):
        client = app.test_client()
        barrier.wait()
        answers.append(client.put(path, json={"job": {**job, "title": f"{n}"}, "base": 1}))

    _in_threads(write, 12)
    assert sorted(a.status_code for a in answers) == [200] + [409] * 11
    taken = next(a for a in answers if a.status_code == 200).get_json()
    assert {json.dumps(a.get_json()["current"]) for a in answers if a.status_code == 409} == {
        json.dumps(taken)
    }


def test_no_change_is_lost_when_each_retries(app, stored, job):
    """Every thread adds its mark to what it read; all marks must be there in the end."""
    path = f"/api/jobs/{stored['key']}"
    each = 5

    def add(n):
        client = app.test_client()
        for i in range(each):
            current = client.get(path).get_json()
            while True:
                title = current["job"]["title"] + f" {n}.{i}"
                sent = {"job": {**job, "title": title}, "base": current["rev"]}
                answer = client.put(path, json=sent)
                if answer.status_code == 200:
                    break
                assert answer.status_code == 409
                current = answer.get_json()["current"]

    job["title"] = "North wall"
    _in_threads(add, 3)
    final = app.test_client().get(path).get_json()
    marks = final["job"]["title"].removeprefix("North wall").split()
    assert sorted(marks) == sorted(f"{n}.{i}" for n in range(3) for i in range(each))
    assert final["rev"] == 1 + 3 * each


def _in_threads(work, count):
    failed = []

    def run(n):
        try:
            work(n)
        except BaseException as e:
            failed.append(e)
            raise

    threads = [threading.Thread(target=run, args=(n,)) for n in range(count)]
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    assert failed == []
