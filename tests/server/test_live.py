"""The live stream: what one phone writes, the others hear at once; what ends leaves nothing."""

import contextlib
import json
import queue
import threading
import time

import pytest

from server import live, serve
from server.live import Full, Hub

from .conftest import check_error_shape
from .phones import Phone, asking, new_key


@pytest.fixture
def phone(client, job):
    one = Phone(asking(client), new_key()).begin(job)
    assert one.send()[0] == 201
    return one


@pytest.fixture
def hub(app):
    return app.extensions["lapwright-live"]


def listen(client, phone, name="a"):
    """Open a stream: (its response, an iterator over its events)."""
    response = client.get(f"/api/jobs/{phone.key}/live?phone={name}", buffered=False)
    assert response.status_code == 200
    return response, parsed(response.response)


def parsed(texts):
    for text in texts:
        text = text.decode() if isinstance(text, bytes) else text
        for part in text.split("\n\n"):
            lines = dict(line.split(": ", 1) for line in part.split("\n") if line)
            if "event" in lines:
                yield lines["event"], json.loads(lines["data"])


def test_it_is_an_event_stream_that_no_proxy_holds_back(client, phone):
    response, _ = listen(client, phone)
    assert response.mimetype == "text/event-stream"
    assert response.headers["Cache-Control"] == "no-store"
    assert response.headers["X-Accel-Buffering"] == "no"
    assert "Content-Length" not in response.headers
    assert next(iter(response.response)).startswith(b"retry: 2000\n\nevent: hello\n")
    response.close()


def test_hello_says_where_the_job_and_its_plan_stand(client, phone):
    phone.set(width_floor="150")
    phone.send()
    plan = {"job": phone.job, "plan": {"format": "lapwright-plan"}}
    client.put(f"/api/jobs/{phone.key}/plan", json=plan)
    response, events = listen(client, phone)
    name, data = next(events)
    assert (name, data["rev"], data["plan"]) == ("hello", 2, 1)
    assert abs(data["at"] - time.time()) < 30
    response.close()


def test_what_one_phone_writes_the_others_hear_and_can_merge(client, phone):
    other = Phone(phone.ask, phone.key).open()
    response, events = listen(client, other)
    next(events)
    sent = []
    for n in range(3):
        phone.set(width_floor=f"{150 + n}")
        sent.append(phone.outbox)
        phone.send()
    for n in range(3):
        name, data = next(events)
        assert name == "job"
        assert set(data) == {"before", "rev", "saved", "writes", "at"}
        assert (data["before"], data["rev"], data["writes"]) == (n + 1, n + 2, sent[n])
        other.hear(data["writes"])
    assert other.copy == phone.copy
    response.close()


def test_writes_of_many_at_once_are_told_in_the_order_they_were_taken_in(
    app, client, phone, hub, monkeypatch
):
    """Each stands on the one before: a phone that hears them never has to ask for the whole."""
    wrote = hub.wrote

    def late(*of):
        time.sleep(0.002 * (of[2] % 5))  # as where a thread is held up on its way
        wrote(*of)

    monkeypatch.setattr(hub, "wrote", late)
    response, events = listen(client, phone)
    next(events)
    phones = [Phone(asking(app.test_client()), phone.key).open() for _ in range(12)]
    for n, one in enumerate(phones):
        for i in range(5):
            one.edit(lambda job, name=f"{n}.{i}": job["walls"].append({"name": name}))

    def write(one):
        for sent in list(one.outbox):
            assert one.send([sent])[0] == 200

    threads = [threading.Thread(target=write, args=(one,)) for one in phones]
    for t in threads:
        t.start()
    for t in threads:
        t.join()
    told = [next(events)[1] for _ in range(60)]
    assert [(data["before"], data["rev"]) for data in told] == [(n, n + 1) for n in range(1, 61)]
    response.close()


def test_what_changes_nothing_is_not_told(client, phone):
    phone.set(width_floor="150")
    sent = phone.outbox
    phone.send()
    response, events = listen(client, phone)
    next(events)
    phone.send(sent)
    phone.set(width_floor="151")
    phone.send()
    assert next(events)[1]["rev"] == 3
    response.close()


def test_a_plan_that_is_taken_into_use_is_told(client, phone):
    response, events = listen(client, phone)
    next(events)
    for instead in (False, True, True):
        body = {"job": phone.job, "plan": {"format": "lapwright-plan"}, "instead": instead}
        body["plan"]["title"] = f"{instead}"
        client.put(f"/api/jobs/{phone.key}/plan", json=body)
    assert [(name, data["plan"]) for name, data in (next(events), next(events))] == [
        ("plan", 1), ("plan", 2),
    ]  # fmt: skip
    response.close()


def test_other_jobs_are_not_heard_of(client, phone, job):
    other = Phone(phone.ask, new_key()).begin(job)
    other.send()
    response, events = listen(client, phone)
    next(events)
    other.set(width_floor="150")
    other.send()
    phone.set(width_floor="151")
    phone.send()
    assert next(events)[1]["writes"][0]["fields"]["/walls/1/width_floor"][0][2] == '151"'
    response.close()


def test_large_writes_are_told_of_and_not_sent_to_everyone(client, phone):
    response, events = listen(client, phone)
    next(events)
    phone.edit(lambda job: job.update(walls=[{"name": f"{n}", "studs": {"found": [*range(1, 300)]}}
                                             for n in range(39)]))  # fmt: skip
    phone.send()
    name, data = next(events)
    assert (name, data["rev"], set(data)) == ("job", 2, {"rev", "at"})
    response.close()


@pytest.mark.parametrize("kind", ["edit", "saw"])
def test_a_key_that_is_taken_back_ends_its_streams_with_a_word(client, phone, kind, hub):
    links = client.get(f"/api/jobs/{phone.key}/links").get_json()
    keys = {k: links[k]["link"].rsplit("/", 1)[1] for k in links}
    streams = {}
    for k, key in keys.items():
        streams[k] = listen(client, Phone(phone.ask, key), k)
        assert next(streams[k][1])[0] == "hello"
    client.post(f"/api/jobs/{phone.key}/links", json={"kind": kind})
    assert [name for name, _ in streams[kind][1]] == ["ended"]
    assert hub.phones() == 1
    (other,) = set(streams) - {kind}
    streams[other][0].close()


def test_a_key_that_is_taken_back_while_its_stream_opens_leaves_none(
    client, phone, hub, monkeypatch
):
    opened = hub.open

    def late(*of):
        client.post(f"/api/jobs/{phone.key}/links", json={"kind": "edit"})
        return opened(*of)

    monkeypatch.setattr(hub, "open", late)
    response = client.get(f"/api/jobs/{phone.key}/live?phone=a")
    check_error_shape(response, 410, "ended")
    assert hub.phones() == 0


def test_one_stream_a_phone(client, phone, hub):
    first, events = listen(client, phone, "a")
    next(events)
    other, _ = listen(client, phone, "b")
    second, again = listen(client, phone, "a")
    assert list(events) == []  # the first one has ended
    assert next(again)[0] == "hello"
    assert hub.phones() == 2
    for response in (first, other, second):
        response.close()
    assert hub.phones() == 0


@pytest.mark.parametrize("name", ["", "a b", "é", "a" * 65, "a/b"])
def test_a_stream_names_its_phone(client, phone, name):
    response = client.get(f"/api/jobs/{phone.key}/live", query_string={"phone": name})
    error = check_error_shape(response, 422, "bad-input")
    assert error["problems"][0]["field"] == "phone"
    assert client.get(f"/api/jobs/{phone.key}/live").status_code == 422


def test_a_head_leaves_no_stream(client, phone, hub):
    for _ in range(3):
        answer = client.head(f"/api/jobs/{phone.key}/live?phone=a")
        assert answer.status_code == 200
        answer.close()  # as a server does; nothing was asked of its events
    assert hub.phones() == 0


def test_more_phones_than_threads_are_told_to_come_back(client, phone, hub, monkeypatch):
    monkeypatch.setattr(live, "MOST_STREAMS", 3)
    streams = [listen(client, phone, f"{n}")[0] for n in range(3)]
    answer = client.get(f"/api/jobs/{phone.key}/live?phone=more")
    error = check_error_shape(answer, 503, "busy")
    assert "phones listen to this laptop already." in error["message"]
    streams.append(listen(client, phone, "1")[0])  # one of the three, anew
    for response in streams:
        response.close()
    assert client.head(f"/api/jobs/{phone.key}/live?phone=more").status_code == 200


def test_the_server_has_threads_for_all_streams_and_the_requests_beside_them():
    assert serve.THREADS >= live.MOST_STREAMS + 40
    assert live.MOST_STREAMS >= 50


# From here on the hub alone, without an app.


@pytest.fixture
def bare():
    """A hub over revisions of the test's own: (hub, them)."""
    revisions = {"job": (1, 0)}
    one = Hub(lambda ids: {i: revisions[i] for i in ids if i in revisions})
    yield one, revisions
    one.close()


def opened(hub, name="a", job="job", gone=lambda: False):
    stream = hub.open(job, "key", name, gone)
    return stream, parsed(hub.events(stream))


def test_it_beats_while_nothing_happens(bare, monkeypatch):
    monkeypatch.setattr(live, "BEAT_SECONDS", 0.05)
    _, events = opened(bare[0])
    assert [next(events)[0] for _ in range(4)] == ["hello", "beat", "beat", "beat"]


def test_a_stream_ends_after_a_while_and_the_phone_opens_another(bare, monkeypatch):
    monkeypatch.setattr(live, "LONGEST_SECONDS", 0.2)
    _, events = opened(bare[0])
    assert [name for name, _ in events] == ["hello"]
    assert bare[0].phones() == 0


def test_another_processs_write_is_told_within_two_seconds(bare):
    hub, revisions = bare
    _, events = opened(hub)
    next(events)
    for kind, now in (("job", (2, 0)), ("plan", (2, 1)), ("job", (3, 1))):
        began = time.monotonic()
        revisions["job"] = now
        name, data = next(events)
        assert time.monotonic() - began < 2
        assert name == kind
        assert {**data, "at": 0} == {
            "at": 0,
            **({"rev": now[0]} if kind == "job" else {"plan": now[1]}),
        }


def test_what_this_process_tells_is_not_told_again_by_the_look(bare, monkeypatch):
    monkeypatch.setattr(live, "LOOK_SECONDS", 0.02)
    hub, revisions = bare
    _, events = opened(hub)
    next(events)
    for rev in range(2, 12):
        revisions["job"] = (rev, 0)
        hub.wrote("job", rev - 1, rev, "", [rev])
        time.sleep(0.01)
    told = [next(events)[1] for _ in range(10)]
    assert [data["writes"] for data in told] == [[rev] for rev in range(2, 12)]
    revisions["job"] = (12, 0)
    assert set(next(events)[1]) == {"rev", "at"}


def test_a_database_that_can_not_be_reached_is_said_once_and_looked_at_again(
    bare, monkeypatch, caplog
):
    monkeypatch.setattr(live, "LOOK_SECONDS", 0.02)
    hub, revisions = bare
    _, events = opened(hub)
    next(events)
    broken = threading.Event()
    broken.set()
    asked = []

    def revisions_of(ids):
        asked.append(1)
        if broken.is_set():
            raise live.Unavailable(503, "disk", "No.", "Mend it.", "the disk is gone")
        return {i: revisions[i] for i in ids}

    monkeypatch.setattr(hub, "_revisions", revisions_of)
    while len(asked) < 10:
        time.sleep(0.01)
    with pytest.raises(live.Unavailable):
        hub.open("job", "key", "b", lambda: False)
    assert hub.phones() == 1
    broken.clear()
    revisions["job"] = (2, 0)
    assert next(events)[1]["rev"] == 2
    said = [r.getMessage() for r in caplog.records if "can't look" in r.getMessage()]
    assert said == ["The live stream can't look into the database: the disk is gone"]


def test_a_phone_that_takes_nothing_is_ended_and_the_others_hear_all(bare):
    hub, _ = bare
    deaf, _ = opened(hub, "deaf")
    _, events = opened(hub, "b")
    next(events)
    for rev in range(2, 2 + live._MOST_WAITING + 5):
        hub.wrote("job", rev - 1, rev, "", [])
        assert next(events)[1]["rev"] == rev
    assert deaf.over
    assert list(hub.events(deaf)) != []  # it says hello, and ends
    assert hub.phones() == 1


def test_what_is_told_late_keeps_one_copy_for_all(bare):
    """A room of phones that take nothing holds each event once."""
    hub, _ = bare
    streams = [opened(hub, f"{n}")[0] for n in range(5)]
    hub.wrote("job", 1, 2, "", ["x" * 1000])
    assert len({id(stream.waiting.get_nowait()) for stream in streams}) == 1


def test_close_ends_all_at_once_and_for_good(bare):
    hub, _ = bare
    ended = []

    def phone(n):
        _, events = opened(hub, f"{n}")
        ended.append([name for name, _ in events])

    threads = [threading.Thread(target=phone, args=(n,)) for n in range(50)]
    for t in threads:
        t.start()
    while hub.phones() < 50:
        time.sleep(0.01)
    began = time.monotonic()
    hub.close()
    for t in threads:
        t.join()
    assert time.monotonic() - began < 1
    assert ended == [["hello"]] * 50
    assert hub.phones() == 0
    _, events = opened(hub, "late")
    assert [name for name, _ in events] == ["hello"]


def test_a_phone_that_has_left_is_let_go_at_once(bare):
    left = threading.Event()
    _, events = opened(bare[0], gone=left.is_set)
    next(events)
    left.set()
    began = time.monotonic()
    assert list(events) == []
    assert time.monotonic() - began < 2
    assert bare[0].phones() == 0


def test_streams_leave_nothing_behind(bare):
    """500 phones, each in a job of its own, come and go in any way; the lists are empty again."""
    hub, revisions = bare
    before = threading.active_count()
    for n in range(500):
        revisions[f"{n}"] = (1, 0)
        stream, events = opened(hub, f"{n}", f"{n}")
        if n % 5:
            next(events)
            hub.wrote(f"{n}", 1, 2, "", [])
        if n % 3 == 0:
            hub.ended(["key"])
        if n % 5:
            events.close()
        else:
            hub.leave(stream)  # nothing of it was asked
    assert hub.phones() == 0
    held = {k: v for k, v in vars(hub).items() if isinstance(v, (dict, list, set))}
    assert held == {"_streams": {}}
    assert threading.active_count() <= before + 1  # the one that looks


def test_opening_and_ending_from_many_threads(bare, monkeypatch):
    """Ten phones open streams over and over while keys end and writes come; none is left."""
    monkeypatch.setattr(live, "MOST_STREAMS", 8)
    hub, _ = bare
    stop = threading.Event()
    failed = []

    def phone(n):
        try:
            for _ in range(40):
                with contextlib.suppress(Full):
                    _, events = opened(hub, f"{n % 6}")
                    for _ in range(3):
                        next(events, None)
        except BaseException as e:
            failed.append(e)
            raise

    def write():
        rev = 1
        while not stop.is_set():
            rev += 1
            hub.wrote("job", rev - 1, rev, "", [])
            if rev % 7 == 0:
                hub.ended(["key"])
            time.sleep(0.001)

    writer = threading.Thread(target=write)
    writer.start()
    phones = [threading.Thread(target=phone, args=(n,)) for n in range(10)]
    for t in phones:
        t.start()
    for t in phones:
        t.join()
    stop.set()
    writer.join()
    assert failed == []
    assert hub.phones() == 0


def test_a_full_queue_still_wakes(bare):
    """The end finds no room in the queue: then what waits there wakes the stream."""
    hub, _ = bare
    stream, events = opened(hub)
    next(events)
    with contextlib.suppress(queue.Full):
        while True:
            stream.waiting.put_nowait("x")
    stream.end()
    assert list(events) == []
