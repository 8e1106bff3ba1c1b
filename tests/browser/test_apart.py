"""What two phones wrote apart, what two tabs of one phone wrote, and taking steps back."""

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import serving
from tests.browser.hands import field, keyed, open_page, start_job, unfold
from tests.browser.measure import controls, too_near, too_small
from tests.browser.shared import (
    on_laptop,
    on_phone,
    out_of_reach,
    sent,
    shared,
    taken,
    to_send,
    typed,
    wait_until,
    worked_by_worker,
)

ASKED = "two phones say different things"


def undo(page):
    page.get_by_role("button", name="Undo").tap()


def test_different_fields_merge_without_a_word_in_the_way(phone, other, live):
    a, b, key = shared(phone, other, live.address)
    with out_of_reach(a, b):
        keyed(a, "Height", ["9", "6"])
        typed(a, "Title", "Hers")
        keyed(b, "Width", ["1", "2", "0"])
        to_send(a, 2)
        to_send(b, 1)
    for page in (a, b):
        expect(field(page, "Height")).to_contain_text('96"')
        expect(field(page, "Width")).to_contain_text('120"')
        expect(page.locator("h1")).to_have_text("Hers")
        sent(page)
        expect(page.locator(".notice")).to_have_count(0)
    assert on_phone(a, key)["copy"] == on_phone(b, key)["copy"]


@pytest.mark.parametrize("pick", ["there", "taken out"])
def test_an_opening_taken_out_here_and_changed_there_is_asked_about(phone, other, live, pick):
    a, b, _ = shared(phone, other, live.address)
    a.get_by_role("button", name="Add an opening").tap()
    keyed(a, "Left edge", ["2", "0"])
    sent(a)
    unfold(b, "Window 1")
    expect(field(b, "Left edge")).to_contain_text('20"')
    with out_of_reach(a, b):
        a.get_by_role("button", name="Take out Window 1").tap()
        expect(field(a, "Left edge")).to_have_count(0)
        keyed(b, "Left edge", ["3", "0"])
        to_send(a, 1)
        to_send(b, 1)
    for page in (a, b):
        told = page.locator(".notice", has_text=f"Window 1: {ASKED}")
        expect(told.get_by_role("button")).to_have_count(2)
        # Which comes first is by the phones' names, which chance makes.
        assert sorted(told.get_by_role("button").all_inner_texts()) == ["taken out", "there"]
        assert too_small(controls(page)) == [] and too_near(controls(page)) == []
        unfold(page, "Window 1")  # nothing is lost meanwhile
        expect(field(page, "Left edge")).to_contain_text('30"')
    a.locator(".notice").get_by_role("button", name=pick).tap()
    for page in (a, b):
        expect(page.locator(".notice")).to_have_count(0)
        expect(field(page, "Left edge")).to_have_count(1 if pick == "there" else 0)
        sent(page)
    if pick == "taken out":
        undo(a)  # the pick, and both are there again
        for page in (a, b):
            expect(page.locator(".notice", has_text=f"Window 1: {ASKED}")).to_be_visible()


def test_the_steps_of_a_day_are_taken_back_after_a_reload_without_the_laptop(phone, live):
    page = open_page(phone.new_page(), live.address)
    worked_by_worker(page)
    key = start_job(page)
    typed(page, "Title", *[f"Title {n}" for n in range(22)])
    expect(page.locator("h1")).to_have_text("Title 21")
    sent(page)
    live.kill()
    page.reload()
    expect(page.locator("h1")).to_have_text("Title 21")
    for n in range(20, 0, -1):
        undo(page)
        expect(page.locator("h1")).to_have_text(f"Title {n}")
        expect(page.locator(".undone")).to_have_text("Undone: Title")
    expect(page.get_by_role("button", name="Undo")).to_be_disabled()
    to_send(page, 20)
    assert len(on_phone(page, key)["outbox"]) == 20


def test_taking_back_what_another_phone_changed_since_leaves_it_and_says_so(phone, other, live):
    a, b, _ = shared(phone, other, live.address)
    keyed(a, "Height", ["9", "6"])
    expect(field(b, "Height")).to_contain_text('96"')
    keyed(b, "Height", ["9", "7"])
    expect(field(a, "Height")).to_contain_text('97"')
    undo(a)
    expect(a.locator(".undone")).to_have_text("Changed on another phone since, so it stays.")
    expect(field(a, "Height")).to_contain_text('97"')
    undo(b)  # one's own is taken back, to what it was
    for page in (a, b):
        expect(field(page, "Height")).to_contain_text('96"')
        sent(page)
    expect(b.locator(".undone")).to_have_text("Undone: Height")


def test_two_tabs_of_one_phone_are_one_phone(phone, tmp_path):
    with serving(tmp_path / "data", arguments=["--log"]) as laptop:
        a = open_page(phone.new_page(), laptop.address)
        worked_by_worker(a)
        key = start_job(a)
        sent(a)
        b = open_page(phone.new_page(), laptop.address, f"#/job/{key}/survey")
        expect(field(b, "Height")).to_be_visible()

        def both_change(what):
            """Both at once, the same field and others."""
            for n in range(5):
                typed(a, "Title", f"One {what} {n}")
                typed(b, "Title", f"Two {what} {n}")
                typed(a, "Start at the", "floor" if n % 2 else "ceiling")
                typed(b, "Edge", "square" if n % 2 else "lapped")

        def no_question():
            title = on_phone(a, key)["doc"]["title"]
            for page in (a, b):
                expect(page.locator("h1")).to_have_text(title)
                expect(page.locator(".notice")).to_have_count(0)

        both_change("with the laptop")
        wait_until(a, lambda: on_phone(a, key)["next"] == 21)
        for page in (a, b):
            sent(page)
        no_question()
        record = on_phone(a, key)
        there = on_laptop(a, laptop.address, key)
        laptop.kill()
        both_change("without it")
        for page in (a, b):
            to_send(page, 18)  # two choices were as they are
        no_question()
        counts = taken(laptop.said())
    assert there["copy"] == record["copy"]
    assert counts == {f"{record['writer']}.{n}": 1 for n in range(1, 22)}
