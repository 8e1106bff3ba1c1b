"""Steps taken back, one's own alone, and what others wrote since stays."""

import json

import pytest

from tests.jobs import job
from tests.shared.phones import OUT, Phone, meet

WINDOW = {"kind": "window", "left": '20"', "width": '30"', "height": '40"'}
H = "walls__0__height_left"
PATH = "/walls/1/height_left"


def two():
    a = Phone("a", job())
    return a, Phone("b", a)


STEPS = [
    {H: '97"'},
    {H: '98"', "title": "Hall"},
    {"walls__0__openings__0": WINDOW},
    {"walls__0__openings__0__left": '21"'},
    {"walls__0__openings__0__left": '22"'},
    {"walls__0__openings__0__bottom": '30"'},
    {"walls__1": {"height_left": '90"', "openings": [WINDOW]}},
    {"walls__1__openings__0": OUT},
    {"walls__0": OUT},
    {"rules__kerf": '1/16"', "unit": "mm"},
    {"board__stock__0__price": None, "board__stock__1": {"length": '96"'}},
]


def test_steps_are_taken_back_in_turn_and_done_again():
    """Whatever was done, the last first; then each undo is taken back in its turn."""
    a = Phone("a", job())
    jobs, steps = [a.job], []
    for step in STEPS:
        steps.append(a.edit(**step))
        assert a.job not in jobs
        jobs.append(a.job)
    last = range(len(STEPS))
    for many in range(1, len(STEPS) + 1):
        again = {}
        for i in last[: -many - 1 : -1]:
            again[i] = a.undo(steps[i])
            assert a.job == jobs[i] and a.kept == 0
        for i in last[-many:]:
            steps[i] = a.undo(again[i])
            assert a.job == jobs[i + 1] and a.kept == 0


def test_a_step_goes_back_from_under_what_others_wrote_elsewhere():
    a, b = two()
    step = a.edit(**{H: '97"', "title": "Hall"})
    b.hear(a)
    b.edit(walls__0__width_floor='160"')
    meet(a, b)
    a.undo(step)
    wall = a.job["walls"][0]
    assert (wall["height_left"], wall["width_floor"]) == ('96"', '160"')
    assert "title" not in a.job and a.kept == 0


def test_what_somebody_wrote_since_stays():
    a, b = two()
    step = a.edit(**{H: '97"', "title": "Hall"})
    b.hear(a)
    b.edit(**{H: '98"'})
    meet(a, b)
    a.undo(step)
    assert a.job["walls"][0]["height_left"] == '98"' and "title" not in a.job
    assert a.kept == 1


def test_what_somebody_wrote_apart_stays_beside_what_comes_back():
    a, b = two()
    step = a.edit(**{H: '97"'})
    b.edit(**{H: '98"'})
    meet(a, b)
    a.undo(step)
    (asked,) = a.apart
    assert sorted(asked["options"]) == ['96"', '98"']


def test_an_added_item_goes_as_a_whole():
    """Also what its adder keyed into it later, and comes back with it."""
    a = Phone("a", job())
    start = a.job
    step = a.edit(walls__0__openings__0=WINDOW)
    a.edit(walls__0__openings__0__left='21"')
    full = a.job
    back = a.undo(step)
    assert a.job == start
    a.undo(back)
    assert a.job == full


def test_an_added_item_stays_as_a_whole_where_somebody_wrote_in_it():
    a, b = two()
    step = a.edit(walls__0__openings__0=WINDOW)
    b.hear(a)
    b.edit(walls__0__openings__0__left='21"')
    a.hear(b)
    a.edit(walls__0__openings__0__width='31"')  # the item is a's again, but not all in it
    a.undo(step)
    (opening,) = a.job["walls"][0]["openings"]
    assert opening == {**WINDOW, "left": '21"', "width": '31"', "id": "a.2"} and a.kept == 1


def test_an_added_item_that_somebody_wrote_in_apart_is_asked_about():
    a, b = two()
    step = a.edit(walls__0__openings__0=WINDOW)
    b.hear(a)
    b.edit(walls__0__openings__0__left='21"')
    a.undo(step)
    meet(a, b)
    (opening,) = a.job["walls"][0]["openings"]
    assert opening == {**WINDOW, "left": '21"', "id": "a.2"}
    (asked,) = a.apart
    assert (asked["path"], asked["label"]) == ("/walls/1/openings/a.2", "Window 1")
    assert sorted(asked["options"]) == ["taken out", "there"]


@pytest.mark.parametrize("pick", ['97"', '98"'])
def test_a_pick_that_is_taken_back_asks_again(pick):
    """Whichever was picked by a slip, both readings are there again, and the plan's is the same."""
    a, b = two()
    a.edit(**{H: '97"'})
    b.edit(**{H: '98"'})
    meet(a, b)
    asked, was = a.apart, a.job
    step = a.settle(PATH, pick)
    assert a.apart == [] and a.job["walls"][0]["height_left"] == pick
    again = a.undo(step)
    assert (a.apart, a.job) == (asked, was)
    a.undo(again)
    assert a.apart == [] and a.job["walls"][0]["height_left"] == pick


def test_a_reading_keyed_over_two_that_is_taken_back_asks_again():
    a, b = two()
    a.edit(**{H: '97"'})
    b.edit(**{H: '98"'})
    meet(a, b)
    asked, was = a.apart, a.job
    a.undo(a.edit(**{H: '99"'}))
    assert (a.apart, a.job) == (asked, was)


def test_an_item_settled_as_gone_and_taken_back_is_asked_about_again():
    a, b = two()
    a.edit(walls__1={"height_left": '90"'})
    b.hear(a)
    a.edit(walls__1=OUT)
    b.edit(walls__1__height_left='91"')
    meet(a, b)
    asked, was = a.apart, a.job
    assert [sorted(f["options"]) for f in asked] == [["taken out", "there"]]
    step = a.settle(asked[0]["path"], "taken out")
    assert len(a.job["walls"]) == 1 and a.apart == []
    a.undo(step)
    assert (a.apart, a.job) == (asked, was)


def test_a_step_of_another_is_taken_back_too():
    """Whoever holds the step may; the number is the taker's own."""
    a, b = two()
    step = a.edit(**{H: '97"'})
    b.hear(a)
    b.undo(step)
    assert b.job["walls"][0]["height_left"] == '96"'


def test_an_undo_of_nothing_changes_nothing():
    a, b = two()
    step = a.edit(**{H: '97"'})
    b.hear(a)
    b.edit(**{H: '98"'})
    a.hear(b)
    before = json.dumps(a.job)
    back = a.undo(step)
    assert json.dumps(a.job) == before and a.kept == 1
    assert back["write"]["fields"] == {} and back["write"]["seen"] == {}


def test_a_step_that_the_copy_has_not_heard_of_takes_nothing_back():
    """Not even an older write of the same reading."""
    a = Phone("a", job())
    a.edit(**{H: '97"'})
    before = Phone("a", a)
    a.edit(**{H: '98"'})
    step = a.edit(**{H: '97"'})
    before.undo(step)
    assert before.job["walls"][0]["height_left"] == '97"' and before.kept == 1
