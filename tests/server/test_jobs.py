"""Jobs over the API: stored, read, merged; what two phones wrote apart is kept side by side."""

import logging
import random
import re
import threading

import pytest

from .conftest import check_error_shape
from .phones import Phone, asking, bridge, new_key

KEY = "phone_key-phone_key-22"


@pytest.fixture
def phone(client, job):
    """A phone whose job the laptop has."""
    one = Phone(asking(client), new_key()).begin(job)
    assert one.send()[0] == 201
    return one


def another(phone, client):
    return Phone(asking(client), phone.key).open()


def test_a_job_comes_back_as_it_was_sent(client, job):
    response = client.post("/api/jobs", json={"job": job})
    assert response.status_code == 201
    stored = response.get_json()
    assert set(stored) == {"key", "kind", "id", "rev", "saved", "copy", "job"}
    assert re.fullmatch(r"[A-Za-z0-9_-]{22}", stored["key"])
    assert re.fullmatch(r"[A-Za-z0-9_-]{22}", stored["id"])
    assert stored["id"] != stored["key"]
    assert (stored["kind"], stored["rev"]) == ("edit", 1)
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", stored["saved"])
    # Items of lists have ids now, by their places, and lengths a unit; all else is as it was.
    (line,), (wall,) = job["board"]["stock"], job["walls"]
    line["id"] = wall["id"] = "1"
    job["board"]["face"] = '5-1/8"'
    for held in (wall, wall["studs"]):
        held.update({k: f'{held[k]}"' for k in held if k not in ("id", "studs")})
    assert stored["job"] == job
    assert client.get(f"/api/jobs/{stored['key']}").get_json() == stored


def test_keys_and_ids_differ(client, job):
    answers = [client.post("/api/jobs", json={"job": job}).get_json() for _ in range(20)]
    assert len({a["key"] for a in answers} | {a["id"] for a in answers}) == 40


def test_a_draft_is_stored_though_nothing_is_measured(client, draft):
    phone = Phone(asking(client), KEY).begin(draft)
    status, answer = phone.send()
    assert (status, answer["key"], answer["job"]) == (201, KEY, phone.job)
    assert answer["copy"] == phone.copy


def test_the_same_job_sent_again_is_the_same_job(client, job):
    """The answer to the first try may have been lost on its way to the phone."""
    phone = Phone(asking(client), KEY).begin(job)
    first, again = (client.post("/api/jobs", json={"key": KEY, "writes": phone.outbox})
                    for _ in range(2))  # fmt: skip
    assert (first.status_code, again.status_code) == (201, 200)
    assert again.get_json() == first.get_json()


def test_another_job_under_the_same_key_is_merged_into_it(client, phone, job):
    """The laptop lost the job, two phones give it back: the second one finds the first's."""
    phone.set(width_floor="140 in")
    other = Phone(asking(client), phone.key).begin({**job, "title": "South"})
    status, answer = other.send()
    assert status == 200
    assert answer["rev"] == 2
    assert [f["label"] for f in other.apart] == ["Title"]
    phone.send()
    assert phone.job == another(phone, client).job


def test_a_change_makes_the_next_revision(client, phone):
    phone.set(width_floor="150")
    status, answer = phone.send()
    assert status == 200
    assert set(answer) == {"id", "rev", "saved", "copy"}
    assert (answer["rev"], answer["copy"]) == (2, None)
    stored = client.get(f"/api/jobs/{phone.key}").get_json()
    assert stored["copy"] == phone.copy
    assert stored["job"]["walls"][0]["width_floor"] == '150"'


def test_a_phone_that_stood_elsewhere_gets_the_whole_copy(client, phone):
    other = another(phone, client)
    other.set(width_floor="150")
    other.send()
    phone.set(height_left="97")
    status, answer = phone.send()
    assert (status, answer["rev"]) == (200, 3)
    assert answer["copy"] == phone.copy
    wall = phone.job["walls"][0]
    assert (wall["width_floor"], wall["height_left"]) == ('150"', '97"')
    assert phone.apart == []


def test_what_two_phones_measured_apart_is_kept_side_by_side_until_somebody_picks(client, phone):
    other = another(phone, client)
    phone.set(width_floor="150")
    other.set(width_floor="151")
    phone.send()
    other.send()
    phone.open()
    for one in (phone, other):
        (field,) = one.apart
        assert field["path"] == "/walls/1/width_floor"
        assert sorted(field["options"]) == ['150"', '151"']
    (field,) = other.apart
    place = field["options"].index('150"')
    picked = bridge(
        "settle", copy=other.copy, path=field["path"], place=place, writer=other.writer,
        number=other.top + 1,
    )  # fmt: skip
    other.outbox.append(picked["write"])
    other.send()
    phone.open()
    assert phone.apart == []
    assert phone.job["walls"][0]["width_floor"] == '150"'


def test_what_one_took_out_and_another_changed_is_kept(client, phone, job):
    phone.edit(lambda j: j["walls"].append({"name": "East", "height_left": "96"}))
    phone.send()
    other = another(phone, client)
    phone.edit(lambda j: j["walls"].pop())
    other.edit(lambda j: j["walls"][1].update(height_left="99"))
    phone.send()
    other.send()
    phone.open()
    for one in (phone, other):
        assert one.job["walls"][1]["height_left"] == '99"'
        assert [sorted(f["options"]) for f in one.apart] == [["taken out", "there"]]


@pytest.mark.parametrize("times", [2, 3])
def test_the_same_writes_sent_again_are_taken_once(client, phone, times, caplog):
    caplog.set_level(logging.INFO, "lapwright.jobs")
    phone.set(width_floor="150")
    sent = list(phone.outbox)
    answers = [phone.send(sent)[1] for _ in range(times)]
    assert [a["rev"] for a in answers] == [2] * times
    assert {a["saved"] for a in answers} == {answers[0]["saved"]}
    assert taken(caplog) == [f"{phone.writer}.2"]


def taken(caplog):
    """The names of the writes that the log says were taken."""
    said = [r.getMessage() for r in caplog.records if r.name == "lapwright.jobs"]
    assert all(re.fullmatch(r"job \S{22}: write \S+ taken", line) for line in said)
    return [line.split()[3] for line in said]


@pytest.mark.parametrize("seed", range(6))
def test_writes_out_of_order_and_again_end_in_the_same_job(client, phone, seed, caplog):
    """Each write by itself, some twice, in an order of chance, from two phones."""
    caplog.set_level(logging.INFO, "lapwright.jobs")
    other = another(phone, client)
    for n in range(5):
        phone.set(width_floor=f"{150 + n}", height_left=f"{90 + n}")
        other.set(height_right=f"{100 + n}", width_floor=f"{160 + n}")
    expected = bridge("join", copies=[phone.copy, other.copy])
    r = random.Random(seed)
    writes = phone.outbox + other.outbox
    writes += r.sample(writes, 6)
    r.shuffle(writes)
    while writes:
        count = r.randint(1, 3)
        part, writes = writes[:count], writes[count:]
        path = f"/api/jobs/{phone.key}/writes"
        assert client.post(path, json={"writes": part, "have": 1}).status_code == 200
    stored = client.get(f"/api/jobs/{phone.key}").get_json()
    assert stored["copy"] == expected["copy"]
    assert stored["job"] == expected["job"]
    names = taken(caplog)
    assert len(names) == len(set(names))
    # The last one of each phone replaces what it wrote before; nothing replaces that one.
    assert {f"{phone.writer}.6", f"{other.writer}.6"} <= set(names)


def test_the_log_says_each_write_once(client, phone, caplog):
    """In the order that phones send in, every one; with the job's id, which opens nothing."""
    caplog.set_level(logging.INFO, "lapwright.jobs")
    for n in range(4):
        phone.set(width_floor=f"{150 + n}")
    sent = list(phone.outbox)
    phone.send(sent[:2])
    phone.send(sent[:3])
    phone.send(sent)
    assert taken(caplog) == [f"{phone.writer}.{n}" for n in (2, 3, 4, 5)]
    assert phone.key not in caplog.text


def test_a_write_that_could_not_be_stored_is_not_said_to_be(app, client, phone, caplog):
    caplog.set_level(logging.INFO, "lapwright.jobs")
    phone.set(width_floor="150")
    with app.extensions["lapwright-store"].database.engine.connect() as c:
        c.exec_driver_sql(
            "CREATE TRIGGER no BEFORE UPDATE ON copies BEGIN SELECT RAISE(ABORT, 'no'); END"
        )
        c.commit()
    assert phone.send()[0] == 503
    assert taken(caplog) == []


def test_undo_on_one_phone_leaves_what_the_other_wrote(client, phone):
    step = phone.set(width_floor="150", height_left="97")
    phone.send()
    other = another(phone, client)
    other.set(height_left="98")
    other.send()
    phone.open()
    undone = bridge("undo", copy=phone.copy, step=step, writer=phone.writer, number=phone.top + 1)
    phone.outbox.append(undone["write"])
    phone.send()
    wall = another(phone, client).job["walls"][0]
    assert (wall["width_floor"], wall["height_left"]) == ('140"', '98"')


def test_odd_text_comes_back_whole(client, phone):
    phone.edit(lambda job: job.update(title='é "¾" \U0001fa9a \t end'))
    phone.send()
    assert another(phone, client).job["title"] == 'é "¾" \U0001fa9a \t end'


def test_many_phones_write_at_once_and_nothing_is_lost(app, phone):
    """50 threads, each with a wall of its own and all with the same field."""
    barrier = threading.Barrier(50)
    phones = [Phone(asking(app.test_client()), phone.key).open() for _ in range(50)]
    for n, one in enumerate(phones):
        one.edit(lambda job, n=n: job["walls"].append({"name": f"W{n}"}))
        one.set(width_floor=f"{200 + n}")

    def write(n):
        barrier.wait()
        while phones[n].outbox:
            status, answer = phones[n].send()
            assert status in (200, 503), answer  # busy: it tries again

    in_threads(write, 50)
    final = Phone(asking(app.test_client()), phone.key).open()
    assert {w.get("name") for w in final.job["walls"]} == {None, *(f"W{n}" for n in range(50))}
    (field,) = final.apart
    assert sorted(field["options"]) == sorted(f'{200 + n}"' for n in range(50))
    assert final.rev == 51


def test_the_same_new_job_from_many_threads_is_one_job(app, job):
    phone = Phone(None, new_key()).begin(job)
    barrier = threading.Barrier(12)
    answers = []

    def add(n):
        client = app.test_client()
        barrier.wait()
        sent = {"key": phone.key, "writes": phone.outbox}
        answers.append(client.post("/api/jobs", json=sent))

    in_threads(add, 12)
    assert sorted(a.status_code for a in answers) == [200] * 11 + [201]
    assert all(a.get_json() == answers[0].get_json() for a in answers)


def test_no_route_lists_jobs(app, client, phone):
    """Whoever has no key finds neither a key nor an id, whatever is asked."""
    known = (phone.key, client.get(f"/api/jobs/{phone.key}").get_json()["id"], phone.writer)
    tried = 0
    for rule in app.url_map.iter_rules():
        if "key" in rule.arguments or "GET" not in rule.methods:
            continue
        path = rule.rule.replace("<name>", "x").replace("<file:name>", "p")
        for more in ("", "?unit=in", "?limit=9"):
            said = client.get(path + more).get_data(as_text=True)
            assert not [k for k in known if k in said], path
            tried += 1
    assert tried > 15
    check_error_shape(client.get("/api/jobs"), 405, "method")
    for guess in ("", "*", "%25", "_" * 22, known[1]):
        assert client.get(f"/api/jobs/{guess}").status_code == 404


def in_threads(work, count):
    """work(n) in a thread for each n; fails where one of them does."""
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
