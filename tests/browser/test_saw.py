"""The saw: the next cut in large figures, and what is marked of it on this phone or another."""

import re
import time

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import SCREEN
from tests.browser.hands import key, open_page, opened, planned, tab
from tests.browser.measure import controls, too_small
from tests.jobs import job

ROWS = job(walls__0__height_left="40")
NEXT = ".board.next"
BOUNCE = 600  # ms; a touch sooner than half a second after the last is a bounce


def at_the_saw(page, live, doc=ROWS):
    """Open the job at the saw, its plan searched to the end; its key."""
    held = opened(page, live.address, doc, "saw")
    expect(page.locator("body")).to_have_attribute("data-plan", "whole")
    expect(page.locator(NEXT)).to_be_visible()
    return held


def tag(page):
    return page.locator(NEXT + " .tag").inner_text()


def mark(page, name):
    """Touch a button of the next cut, not sooner than a hand would."""
    page.wait_for_timeout(BOUNCE)
    page.get_by_role("button", name=name, exact=True).tap()


def stored(page, live, held, **count):
    """What the laptop holds as done, once it holds so many marks of each kind."""
    end = time.monotonic() + 30
    while True:
        held_there = page.request.get(f"{live.address}/api/jobs/{held}").json()["job"]
        done = held_there.get("done", {})
        if all(len(done.get(key, [])) == n for key, n in count.items()):
            return done
        assert time.monotonic() < end, done
        page.wait_for_timeout(100)


def test_a_cut_is_marked_at_once_and_the_next_one_stands_there(phone, live):
    page = phone.new_page()
    held = at_the_saw(page, live)
    first = tag(page)
    assert first == "1A"
    after = page.locator(".after .tag").first.inner_text()
    took = page.evaluate(
        """() => new Promise((done) => {
          const start = performance.now();
          const look = () => (document.querySelector('.board.next .tag').textContent === '1A'
            ? requestAnimationFrame(look) : done(performance.now() - start));
          document.querySelector('.cut-it').click();
          look();
        })"""
    )
    assert took < 400  # 100 on an idle machine; two busy cores
    assert tag(page) == after
    expect(page.locator(".made")).to_have_text(re.compile(r"^1 of \d+ cut$"))
    expect(page.locator("body")).to_have_attribute("data-plan", "whole")
    (done,) = stored(page, live, held, cut=1)["cut"]
    assert (done["name"], done["state"], done["board"]) == ("1A", "cut", 1)
    assert tag(page) == after


def test_a_second_touch_at_once_is_a_bounce(phone, live):
    page = phone.new_page()
    at_the_saw(page, live)
    button = page.get_by_role("button", name="Cut", exact=True)
    button.tap()
    button.tap()
    expect(page.locator(".made")).to_have_text(re.compile(r"^1 of "))
    page.wait_for_timeout(BOUNCE)
    expect(page.locator(".made")).to_have_text(re.compile(r"^1 of "))


def test_marks_outlive_a_reload_and_the_plan_stays(phone, live):
    page = phone.new_page()
    at_the_saw(page, live)
    whole = page.get_by_role("button", name="Whole list")
    whole.tap()
    before = page.locator(".board h2").all_inner_texts()
    whole.tap()
    for _ in range(3):
        mark(page, "Cut")
    here = tag(page)
    page.reload()
    expect(page.locator(NEXT + " .tag")).to_have_text(here)
    expect(page.locator(".made")).to_have_text(re.compile(r"^3 of "))
    whole.tap()
    expect(page.locator(".cut.made")).to_have_count(3)
    after = page.locator(".board h2").all_inner_texts()
    assert [h.split(",")[0] for h in after] == [h.split(",")[0] for h in before]


def test_undo_takes_the_last_mark_back(phone, live):
    page = phone.new_page()
    held = at_the_saw(page, live)
    mark(page, "Cut")
    expect(page.locator(NEXT + " .tag")).not_to_have_text("1A")
    page.get_by_role("button", name="Undo").tap()
    expect(page.locator(".undone")).to_have_text("Undone: piece 1A cut")
    expect(page.locator(NEXT + " .tag")).to_have_text("1A")
    stored(page, live, held, cut=0)


def test_a_piece_that_came_short_is_asked_for_its_length_and_cut_again(phone, live):
    page = phone.new_page()
    held = at_the_saw(page, live)
    first = tag(page)
    mark(page, "Too short")
    expect(page.locator(".sheet h2")).to_have_text(f"Piece {first} came short: its length")
    key(page, "4", "0")
    page.reload()  # in mid-entry: the digits are still there
    expect(page.locator(".sheet .entry")).to_have_text('40"')
    key(page, "1/2", "ok")
    expect(page.locator(".sheet")).to_have_count(0)
    expect(page.locator(NEXT + " .tag")).to_have_text(first)
    expect(page.locator("body")).to_have_attribute("data-plan", "whole")
    (done,) = stored(page, live, held, cut=1)["cut"]
    assert (done["state"], done["length"]) == ("short", '40-1/2"')
    page.get_by_role("button", name="Whole list").tap()
    expect(page.locator(".board h2").first).to_contain_text("of it lost")


def test_a_board_that_is_no_good_is_rejected_once_that_is_confirmed(phone, live):
    page = phone.new_page()
    held = at_the_saw(page, live)
    on = page.locator(NEXT + " .from")
    expect(on).to_have_text('Board 1, 144"')
    mark(page, "Board is no good")
    asked = page.get_by_role("alertdialog")
    expect(asked).to_contain_text("Board 1 is no good?")
    page.get_by_role("button", name="Keep the board").tap()
    expect(asked).to_have_count(0)
    mark(page, "Board is no good")
    page.get_by_role("button", name="Board 1 is no good").tap()
    expect(on).not_to_have_text('Board 1, 144"')
    expect(page.locator("body")).to_have_attribute("data-plan", "whole")
    assert [b["board"] for b in stored(page, live, held, rejected=1)["rejected"]] == [1]
    expect(page.locator("main")).to_contain_text("1 no good")
    # Undo brings back the plan there was.
    page.get_by_role("button", name="Undo").tap()
    expect(on).to_have_text('Board 1, 144"')


def test_while_the_plan_is_worked_out_no_old_cut_stands_as_the_next(phone, live):
    page = phone.new_page()
    at_the_saw(page, live)
    page.evaluate(
        """() => {
          window.shown = [];
          const look = () => {
            const tag = document.querySelector('.board.next .from')?.textContent ?? 'none';
            if (shown.at(-1) !== tag) shown.push(tag);
          };
          const all = { subtree: true, childList: true, characterData: true };
          new MutationObserver(look).observe(document.body, all);
        }"""
    )
    mark(page, "Board is no good")
    page.get_by_role("button", name="Board 1 is no good").tap()
    expect(page.locator(NEXT + " .from")).to_have_text(re.compile("Board [^1]"))
    seen = page.evaluate("shown")
    assert "none" in seen
    assert not any(s.startswith("Board 1,") for s in seen[seen.index("none") :])


def test_a_length_called_from_the_wall_comes_to_the_top_at_the_saw(chromium, phone, live):
    saw = phone.new_page()
    held = at_the_saw(saw, live)
    mark(saw, "Cut")
    expect(saw.locator(".sent")).to_contain_text("Sent ")
    other = chromium.new_context(viewport=SCREEN, has_touch=True)
    wall = open_page(other.new_page(), live.address, f"#/job/{held}/layout/1")
    planned(wall)
    wall.get_by_role("button", name="Call a cut").tap()
    sheet = wall.get_by_role("dialog", name="Call a cut")
    sheet.get_by_role("combobox", name="Course").select_option("Course 5")
    end = sheet.get_by_role("button", name=re.compile("^right"))
    end.tap()
    expect(end).to_have_attribute("aria-pressed", "true")
    words = sheet.locator("p", has_text="Planned:").inner_text()
    inches = int(re.search(r"(\d+)", words)[1])
    sheet.get_by_role("button", name="Key the length").tap()
    key(wall, *str(inches), "1/8", "heavy")
    expect(wall.locator(".seen")).to_contain_text("than planned")
    assert too_small(controls(wall)) == []
    key(wall, "ok")
    expect(sheet).to_contain_text("Sent to the saw:")
    expect(sheet).to_contain_text("course 5, right")
    expect(wall.locator(".sent")).to_contain_text("Sent ")
    saw.reload()  # or sooner, by itself
    expect(saw.locator(NEXT + " h2")).to_contain_text("Called from the wall:")
    expect(saw.locator(NEXT + " h2")).to_contain_text(f'{inches}-1/8" heavy')
    expect(saw.locator(NEXT + " h2")).to_contain_text("course 5, right")
    mark(saw, "Cut")
    expect(saw.locator(NEXT + " h2")).not_to_contain_text("Called")
    other.close()


def test_a_call_that_leaves_no_plan_is_taken_back_where_that_is_told(phone, live):
    page = phone.new_page()
    at_the_saw(page, live)
    first = tag(page)
    tab(page, "Layout")
    page.get_by_role("button", name="Call a cut").tap()
    page.get_by_role("button", name="Key the length").tap()
    key(page, "1", "6", "7")
    expect(page.locator(".seen")).to_contain_text("Measure again")
    key(page, "ok")
    expect(page.locator(".problem")).to_contain_text('167" was called, and no board')
    page.get_by_role("button", name="Take it back").tap()
    tab(page, "Saw")
    expect(page.locator(NEXT + " .tag")).to_have_text(first)


def test_a_piece_s_card_calls_its_length(phone, live):
    page = phone.new_page()
    opened(page, live.address, ROWS, "layout/1")
    planned(page)
    page.locator("select.pieces").select_option("4A")
    page.get_by_role("button", name="Call its length").tap()
    sheet = page.get_by_role("dialog", name="Call a cut")
    expect(sheet.get_by_role("combobox", name="Course")).to_have_value("Course 4")
    expect(sheet.locator("[aria-pressed=true]")).to_contain_text("4A")
    page.keyboard.press("Escape")
    expect(sheet).to_have_count(0)


def test_the_plan_is_kept_where_a_better_one_was_looked_for(phone, live):
    """What is cut binds: no other plan comes after the first cut."""
    page = phone.new_page()
    page.route("**/api/plan", lambda route: route.abort())
    doc = job(
        walls__0__width_floor="231 3/8",
        walls__0__height_left="150",
        rules__stagger="16",
        board__stock=[{"length": "144", "price": 13.2}, {"length": "192", "price": 19.9}],
    )
    opened(page, live.address, doc, "saw")
    expect(page.locator(NEXT)).to_be_visible()
    expect(page.locator("body")).to_have_attribute("data-plan", "searched")
    after = page.locator(".after li").all_inner_texts()
    mark(page, "Cut")
    expect(page.locator("body")).to_have_attribute("data-plan", "whole")
    expect(page.locator(NEXT + " .tag")).to_have_text(after[0].split()[0])
    assert page.locator(".after li").all_inner_texts()[:2] == after[1:]
    expect(page.get_by_role("button", name="Use the better plan")).to_have_count(0)


@pytest.mark.parametrize("voice", [True, False])
def test_a_cut_is_read_aloud_on_request_where_the_phone_can(phone, live, voice):
    page = phone.new_page()
    spoken = "{ said: [], cancel() {}, speak(u) { this.said.push(u.text); } }"
    page.add_init_script(
        "Object.defineProperty(window, 'speechSynthesis', "
        f"{{ value: {spoken if voice else 'undefined'} }});"
    )
    at_the_saw(page, live)
    button = page.get_by_role("button", name="Read aloud")
    if not voice:
        expect(button).to_have_count(0)
        return
    button.tap()
    (said,) = page.evaluate("speechSynthesis.said")
    assert said.startswith("Board one, piece one A: ") and "/" not in said


def test_every_button_of_the_saw_is_large_enough(phone, live):
    page = phone.new_page()
    at_the_saw(page, live)
    assert too_small(controls(page)) == []
    mark(page, "Board is no good")
    assert too_small(controls(page)) == []
    for name in ("Cut", "Too short", "Board is no good", "Read aloud"):
        button = page.get_by_role("button", name=name, exact=True)
        if button.count():
            assert button.bounding_box()["height"] >= 56
    tab(page, "Layout")
    page.get_by_role("button", name="Call a cut").tap()
    expect(page.get_by_role("button", name="Key the length")).to_be_enabled()
    assert too_small(controls(page)) == []
