"""A plan searched for a little at a time: valid at once, better later, the same in the end."""

import json

import pytest

from calc.bridge import call
from tests.jobs import job
from tests.plan_checker import check

HALF = job(walls__0__width_floor="190", walls__0__height_left="60", rules__stagger="16")


def ask(**request):
    return json.loads(call(json.dumps(request)))


def to_the_end(doc, turns=5):
    """(first answer, every progress, the last plan) of a search."""
    first = ask(do="begin", job=doc)
    seen = [first["progress"]]
    while not seen[-1]["ended"]:
        answer = ask(do="more", id=first["id"], turns=turns)
        assert answer["ok"]
        seen.append(answer["progress"])
    return first, seen, ask(do="take", id=first["id"])


def test_it_ends_with_the_plan_that_is_made_at_once():
    first, seen, last = to_the_end(HALF)
    assert len(seen) > 2
    assert check(HALF, first["plan"]) == [] and first["needs"] == []
    assert first["plan"]["cost"]["total"] >= last["plan"]["cost"]["total"]
    whole = ask(do="plan", job=HALF)
    assert (last["plan"], last["view"]) == (whole["plan"], whole["view"])
    assert last["progress"]["better"] is False


def test_what_is_taken_on_the_way_is_a_whole_plan():
    first = ask(do="begin", job=HALF)
    better = False
    for _ in range(60):
        better = better or ask(do="more", id=first["id"])["progress"]["better"]
        if better:
            break
    assert better
    taken = ask(do="take", id=first["id"])
    assert check(HALF, taken["plan"]) == []
    assert taken["plan"] != first["plan"]
    assert taken["progress"]["better"] is False


def test_progress_says_what_may_still_be_saved_and_what_is_proven():
    _, seen, last = to_the_end(job())
    said = [p["say"] for p in seen]
    assert said[0].startswith("At most ")
    assert said[-1].startswith("Proven: no plan needs fewer boards.")
    assert last["view"]["summary"]["proven"] == "Proven: no plan needs fewer boards."
    priced = job(board__stock=[{"length": "144", "price": 14.4}, {"length": "192", "price": 20}])
    assert "At most" in ask(do="begin", job=priced)["progress"]["say"]


def test_a_draft_and_a_wrong_job_begin_no_search():
    draft = job()
    del draft["board"]["face"]
    answer = ask(do="begin", job=draft)
    assert (answer["id"], answer["plan"], answer["progress"]) == (None, None, None)
    assert [n["field"] for n in answer["needs"]] == ["board.face"]
    assert ask(do="begin", job=job(rules__shortest="80")) == ask(
        do="plan", job=job(rules__shortest="80")
    )


@pytest.mark.parametrize(
    ("changes", "field"),
    [({"id": -1}, "id"), ({"id": None}, "id"), ({"turns": 0}, "turns"), ({"turns": "x"}, "turns")],
)
def test_only_the_search_begun_last_goes_on(changes, field):
    begun = ask(do="begin", job=job())
    answer = ask(do="more", id=begun["id"], turns=1)
    assert answer["ok"]
    (problem,) = ask(**{"do": "more", "id": begun["id"], "turns": 1, **changes})["problems"]
    assert problem["field"] == field
    ask(do="begin", job=job())
    assert ask(do="take", id=begun["id"])["problems"][0]["field"] == "id"
