"""The plan that a job is cut by: one for every phone, until a person takes another."""

import threading

import pytest

from .conftest import check_error_shape
from .phones import Phone, asking, new_key


@pytest.fixture
def phone(client, job):
    one = Phone(asking(client), new_key()).begin(job)
    assert one.send()[0] == 201
    return one


def plan(n):
    return {"format": "lapwright-plan", "version": 1, "title": f"{n}"}


def put(client, phone, n, **more):
    body = {"job": phone.job, "plan": plan(n), **more}
    return client.put(f"/api/jobs/{phone.key}/plan", json=body)


def in_use(client, phone):
    return client.get(f"/api/jobs/{phone.key}/plan").get_json()


def test_there_is_none_at_first(client, phone):
    assert in_use(client, phone) == {"rev": 0, "job": None, "plan": None}


def test_the_first_one_is_used_by_all(client, phone):
    assert put(client, phone, 1).get_json() == {"rev": 1}
    assert in_use(client, phone) == {"rev": 1, "job": phone.job, "plan": plan(1)}


def test_a_real_plan_comes_back_as_it_was_sent(client, phone):
    made = client.post("/api/plan", json={"job": phone.job}).get_json()["plan"]
    body = {"job": phone.job, "plan": made}
    assert client.put(f"/api/jobs/{phone.key}/plan", json=body).status_code == 200
    assert in_use(client, phone)["plan"] == made


def test_another_of_the_same_job_takes_its_place_only_where_a_person_chose_it(client, phone):
    put(client, phone, 1)
    error = check_error_shape(put(client, phone, 2), 409, "conflict")
    assert error["message"] == "Another plan of this job is in use."
    assert (
        error["problems"][0]["fix"] == "Look at it, then send this one with instead, or leave it."
    )
    assert in_use(client, phone)["plan"] == plan(1)
    assert put(client, phone, 2, instead=True).get_json() == {"rev": 2}
    assert in_use(client, phone) == {"rev": 2, "job": phone.job, "plan": plan(2)}


def test_the_same_sent_again_is_the_same(client, phone):
    for more in ({}, {}, {"instead": True}):
        assert put(client, phone, 1, **more).get_json() == {"rev": 1}


def test_a_plan_of_the_changed_job_takes_its_place(client, phone):
    put(client, phone, 1)
    phone.set(width_floor="150")
    phone.send()
    assert put(client, phone, 2).get_json() == {"rev": 2}


@pytest.mark.parametrize("instead", [False, True])
def test_a_late_phone_does_not_bring_back_the_plan_of_the_job_before(client, phone, instead):
    late = Phone(phone.ask, phone.key).open()
    phone.set(width_floor="150")
    phone.send()
    assert put(client, late, 1).status_code == 200  # better than none
    assert put(client, phone, 2).get_json() == {"rev": 2}
    check_error_shape(put(client, late, 1, instead=instead), 409, "conflict")
    assert in_use(client, phone)["plan"] == plan(2)


def test_the_saws_phone_may_have_its_plan_used_too(client, phone):
    """It may be the first that planned, and all saws must cut by one plan."""
    link = client.get(f"/api/jobs/{phone.key}/links").get_json()["saw"]["link"]
    saw = Phone(phone.ask, link.rsplit("/", 1)[1]).open()
    assert put(client, saw, 1).get_json() == {"rev": 1}
    assert in_use(client, phone)["plan"] == plan(1)


def test_of_many_at_once_one_is_used(app, client, phone):
    barrier = threading.Barrier(12)
    answers = []

    def send(n):
        one = app.test_client()
        barrier.wait()
        answers.append((put(one, phone, n).status_code, n))

    threads = [threading.Thread(target=send, args=(n,)) for n in range(12)]
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    assert sorted(status for status, _ in answers) == [200] + [409] * 11
    (n,) = [n for status, n in answers if status == 200]
    assert in_use(client, phone)["plan"] == plan(n)


def test_of_many_that_people_chose_each_has_a_revision_of_its_own(app, client, phone):
    put(client, phone, "first")
    revisions = []

    def send(n):
        answer = put(app.test_client(), phone, n, instead=True)
        revisions.append(answer.get_json()["rev"])

    threads = [threading.Thread(target=send, args=(n,)) for n in range(12)]
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    assert sorted(revisions) == list(range(2, 14))
    assert in_use(client, phone)["rev"] == 13
