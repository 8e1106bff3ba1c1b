"""Who may open a job: links to edit and for the saw, taken back and made anew; short codes."""

import threading
import time

import pytest

from server import access
from server.access import DIGITS, MINUTES, MOST_TRIES
from server.store import Ended

from .conftest import check_error_shape
from .phones import Phone, asking, new_key


@pytest.fixture
def phone(client, job):
    """A phone with the link to edit a job that the laptop has."""
    one = Phone(asking(client), new_key()).begin(job)
    assert one.send()[0] == 201
    return one


@pytest.fixture
def saw(client, phone):
    """The phone at the saw."""
    return Phone(asking(client), key_of(client, phone, "saw")).open()


def key_of(client, phone, kind):
    links = client.get(f"/api/jobs/{phone.key}/links").get_json()
    return links[kind]["link"].rsplit("/", 1)[1]


def renew(client, phone, kind, **more):
    return client.post(f"/api/jobs/{phone.key}/links", json={"kind": kind, **more})


def code_of(client, phone, kind):
    return client.post(f"/api/jobs/{phone.key}/code", json={"kind": kind}).get_json()["code"]


def redeem(client, code):
    return client.post("/api/codes", json={"code": code})


class TestSaw:
    def test_it_reads_the_job_and_marks_cuts(self, client, phone, saw):
        assert saw.job == phone.job
        assert client.get(f"/api/jobs/{saw.key}").get_json()["kind"] == "saw"
        saw.mark(1)
        saw.mark(2)
        assert saw.send()[0] == 200
        phone.open()
        assert [cut["piece"] for cut in phone.job["done"]["cut"]] == [1, 2]

    def test_it_takes_a_mark_back_its_own_and_another_phones(self, client, phone, saw):
        phone.mark(1)
        phone.send()
        saw.mark(2)
        saw.open()
        saw.edit(lambda job: job["done"]["cut"].clear())
        assert saw.send()[0] == 200
        phone.open()
        assert "done" not in phone.job
        assert phone.apart == []

    def test_it_changes_nothing_else(self, client, phone, saw):
        before = client.get(f"/api/jobs/{phone.key}").get_json()
        saw.mark(1)
        saw.set(width_floor="150")
        for path in (f"/api/jobs/{saw.key}/writes", "/api/jobs"):
            body = {"writes": saw.outbox}
            body |= {"have": 1} if path.endswith("writes") else {"key": saw.key}
            error = check_error_shape(client.post(path, json=body), 403, "not-allowed")
            said = "The saw's link marks cuts; it does not change /walls/1."
            assert error["message"] == said  # its place, which stays there
            assert error["problems"][0]["value"] == "/walls/1"
        assert client.get(f"/api/jobs/{phone.key}").get_json() == before

    def test_a_mark_that_says_it_has_seen_the_rest_erases_nothing(self, client, phone, saw):
        """What a write has seen is replaced by it: so all of the job could go."""
        saw.mark(1)
        (write,) = saw.outbox
        write["seen"] = {**saw.copy["seen"]}
        error = check_error_shape(post(client, saw), 403, "not-allowed")
        assert error["message"] == "The saw's link marks cuts; it replaces nothing else."
        assert phone.open().job["walls"][0]["width_floor"] == '140"'

    def test_a_mark_that_has_seen_writes_to_come_keeps_none_from_coming(self, client, phone, saw):
        saw.mark(1)
        (write,) = saw.outbox
        write["seen"][phone.writer] = [[65536 * 2, 65536 * 9]]
        error = check_error_shape(post(client, saw), 403, "not-allowed")
        assert f"it has seen no other write of {phone.writer}." in error["message"]

    def test_it_writes_under_no_other_phones_name(self, client, phone, saw):
        other = Phone(saw.ask, saw.key, phone.writer).open()
        other.mark(1)
        error = check_error_shape(post(client, other), 403, "not-allowed")
        assert f"it does not write as {phone.writer}." in error["message"]

    def test_it_has_not_seen_its_own_writes_to_come(self, client, saw):
        saw.mark(1)
        (write,) = saw.outbox
        write["seen"][saw.writer][0][1] += 65536
        check_error_shape(post(client, saw), 403, "not-allowed")

    def test_it_gets_no_links_and_no_codes(self, client, saw):
        path = f"/api/jobs/{saw.key}"
        for answer in (
            client.get(f"{path}/links"),
            client.post(f"{path}/links", json={"kind": "saw"}),
            client.post(f"{path}/links", json={"kind": "edit", "key": new_key()}),
            client.post(f"{path}/code", json={"kind": "edit"}),
            client.post(f"{path}/code", json={"kind": "saw"}),
        ):
            error = check_error_shape(answer, 403, "not-allowed")
            assert error["message"] == "This is the saw's link: it gives out no links."
            assert error["problems"][0]["fix"].startswith("Do it on a phone that has the link")


def post(client, phone):
    body = {"writes": phone.outbox, "have": phone.rev}
    return client.post(f"/api/jobs/{phone.key}/writes", json=body)


class TestRenewed:
    @pytest.mark.parametrize("kind", ["edit", "saw"])
    def test_a_key_that_was_taken_back_opens_nothing_and_says_so(self, client, phone, kind):
        old = key_of(client, phone, kind)
        fresh = renew(client, phone, kind).get_json()
        assert set(fresh) == {"key", "link", "qr"}
        assert fresh["link"].endswith(f"#/{kind}/{fresh['key']}")
        late = Phone(asking(client), old)
        late.copy, late.job, late.top, late.rev = phone.copy, phone.job, phone.top, 1
        late.mark(1)
        for answer in (
            client.get(f"/api/jobs/{old}"),
            client.get(f"/api/jobs/{old}/live?phone=a"),
            client.get(f"/api/jobs/{old}/links"),
            client.post(f"/api/jobs/{old}/links", json={"kind": kind}),
            client.post(f"/api/jobs/{old}/code", json={"kind": kind}),
            client.get(f"/api/jobs/{old}/plan"),
            post(client, late),
            client.post("/api/jobs", json={"key": old, "writes": late.outbox}),
        ):
            error = check_error_shape(answer, 410, "ended")
            assert error["message"] == "This link was taken back."
            (problem,) = error["problems"]
            assert (problem["field"], problem["value"]) == ("key", old)
            assert "what you keyed in is kept here" in problem["fix"]
        assert client.get(f"/api/jobs/{fresh['key']}").get_json()["kind"] == kind
        assert late.writer not in client.get(f"/api/jobs/{fresh['key']}").get_data(as_text=True)

    def test_the_other_kind_stays(self, client, phone, saw):
        phone.key = renew(client, phone, "edit").get_json()["key"]
        assert key_of(client, phone, "saw") == saw.key
        saw.mark(1)
        assert saw.send()[0] == 200
        assert phone.open().job["done"]["cut"]

    def test_a_key_that_the_phone_brings_is_there_though_the_answer_is_lost(self, client, phone):
        fresh = new_key()
        first = renew(client, phone, "edit", key=fresh)
        assert (first.status_code, first.get_json()["key"]) == (200, fresh)
        old, phone.key = phone.key, fresh
        again = renew(client, phone, "edit", key=fresh)
        assert again.get_json() == first.get_json()
        assert client.get(f"/api/jobs/{fresh}").status_code == 200
        assert client.get(f"/api/jobs/{old}").status_code == 410

    def test_a_key_that_was_in_use_is_no_new_one(self, client, phone, saw, stored):
        first = renew(client, phone, "saw", key=new_key()).get_json()["key"]
        renew(client, phone, "saw")
        for used in (phone.key, saw.key, first, stored["key"]):
            error = check_error_shape(renew(client, phone, "saw", key=used), 422, "bad-input")
            assert error["problems"][0]["field"] == "key"
            assert error["message"] == f'key: "{used}" was used before.'
        assert client.get(f"/api/jobs/{stored['key']}").status_code == 200

    def test_of_many_who_take_it_back_at_once_each_is_told_how_it_stands(self, app, client, phone):
        """Whoever comes second asks by a key that is none any more, and gets no new one."""
        barrier = threading.Barrier(8)
        answers = []

        def ask():
            one = app.test_client()
            barrier.wait()
            answers.append(renew(one, phone, "edit"))

        threads = [threading.Thread(target=ask) for _ in range(8)]
        for t in threads:
            t.start()
        for t in threads:
            t.join()
        assert sorted(a.status_code for a in answers) == [200] + [410] * 7
        (good,) = [a for a in answers if a.status_code == 200]
        assert client.get(f"/api/jobs/{good.get_json()['key']}").status_code == 200


class TestCodes:
    @pytest.mark.parametrize("kind", ["edit", "saw"])
    def test_a_code_opens_what_its_link_opens(self, client, phone, kind):
        made = client.post(f"/api/jobs/{phone.key}/code", json={"kind": kind}).get_json()
        assert set(made) == {"code", "minutes", "until"}
        assert len(made["code"]) == DIGITS == 8
        assert made["code"].isdigit()
        assert made["minutes"] == MINUTES
        assert abs(made["until"] - time.time() - 60 * MINUTES) < 30
        found = redeem(client, made["code"])
        assert found.get_json() == {"key": key_of(client, phone, kind), "kind": kind}
        assert redeem(client, made["code"]).get_json() == found.get_json()  # on a second phone

    def test_it_may_be_typed_with_spaces_and_dashes(self, client, phone):
        code = code_of(client, phone, "edit")
        for typed in (f"{code[:4]} {code[4:]}", f" {code[:4]}-{code[4:]}\t", "-".join(code)):
            assert redeem(client, typed).get_json()["key"] == phone.key

    def test_a_new_code_takes_the_place_of_the_one_before(self, client, phone):
        codes = [code_of(client, phone, "edit") for _ in range(3)]
        assert len(set(codes)) == 3
        assert [redeem(client, code).status_code for code in codes] == [404, 404, 200]
        code_of(client, phone, "saw")
        assert redeem(client, codes[2]).status_code == 200

    def test_it_ends_after_ten_minutes(self, client, phone, clock):
        code = code_of(client, phone, "edit")
        clock.now += 60 * MINUTES - 1
        assert redeem(client, code).status_code == 200
        clock.now += 2
        error = check_error_shape(redeem(client, code), 404, "not-found")
        assert error["message"] == f'code: "{code}" opens no job.'
        assert error["problems"][0]["fix"].endswith("a code lasts 10 minutes.")

    @pytest.mark.parametrize("by", ["the other", "it"])
    def test_it_ends_with_its_key(self, client, phone, by):
        code = code_of(client, phone, "saw")
        kind = "saw" if by == "it" else "edit"
        renew(client, phone, kind)
        assert redeem(client, code).status_code == (404 if by == "it" else 200)

    def test_there_is_none_for_a_key_that_is_taken_back_meanwhile(self, app, client, phone):
        renew(client, phone, "edit")
        with pytest.raises(Ended):
            app.extensions["lapwright-access"].code(phone.key)

    @pytest.mark.parametrize("typed", ["", "1", "1234567", "123456789", "abcdefgh", "١٢٣٤٥٦٧٨"])
    def test_what_can_be_no_code_is_told_and_is_no_try(self, client, typed):
        for _ in range(MOST_TRIES + 5):
            error = check_error_shape(redeem(client, typed), 404, "not-found")
        assert error["problems"][0]["fix"].startswith("Look at the 8 digits again")

    def test_after_many_wrong_codes_nobody_may_try_for_a_while(self, client, phone, clock):
        """So many guesses hit one of 10 codes with less than one in 300 000."""
        right = code_of(client, phone, "edit")
        wrong = f"{(int(right) + 1) % 10**DIGITS:0{DIGITS}d}"
        for _ in range(MOST_TRIES):
            assert redeem(client, wrong).status_code == 404
            clock.now += 1
        for code in (wrong, right):
            error = check_error_shape(redeem(client, code), 429, "too-many")
            assert error["message"] == "Too many wrong codes were tried in the last 10 minutes."
            assert error["problems"][0]["fix"].startswith("Wait 10 minutes")
        clock.now += 60 * MINUTES
        fresh = code_of(client, phone, "edit")
        assert redeem(client, fresh).status_code == 200

    def test_a_clock_that_is_set_back_locks_nobody_out(self, client, phone, clock):
        for n in range(MOST_TRIES):
            redeem(client, f"{n:08d}")
        clock.now -= 86400
        assert redeem(client, code_of(client, phone, "edit")).status_code == 200

    def test_tries_are_counted_together_from_many_threads(self, app, client, phone):
        right = code_of(client, phone, "edit")
        answers = []

        def guess(n):
            one = app.test_client()
            for i in range(10):
                code = f"{(int(right) + 1 + 10 * n + i) % 10**DIGITS:0{DIGITS}d}"
                answers.append(redeem(one, code).status_code)

        threads = [threading.Thread(target=guess, args=(n,)) for n in range(8)]
        for t in threads:
            t.start()
        for t in threads:
            t.join()
        assert answers.count(404) == MOST_TRIES
        assert answers.count(429) == 80 - MOST_TRIES
        assert redeem(client, right).status_code == 429

    def test_codes_from_many_threads_are_one_at_a_time(self, app, client, phone):
        codes = []

        def make():
            codes.append(code_of(app.test_client(), phone, "edit"))

        threads = [threading.Thread(target=make) for _ in range(10)]
        for t in threads:
            t.start()
        for t in threads:
            t.join()
        assert len(set(codes)) == 10
        assert sorted(redeem(client, code).status_code for code in codes) == [200] + [404] * 9


@pytest.fixture
def clock(monkeypatch):
    """The laptop's clock, in the tests' hands."""

    class Clock:
        now = time.time()

        def time(self):
            return self.now

    held = Clock()
    monkeypatch.setattr(access, "time", held)
    return held
