"""The merge keeps its laws, for any copies and for what crews of phones really write."""

import json
from itertools import pairwise

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calc.shared.job_copy import news
from calc.shared.merge import check, empty, merge
from calc.shared.seen import SIZE, has, of, top, union
from tests.shared.copies import copies
from tests.shared.crews import make
from tests.shared.programs import run

FEW = settings(
    max_examples=200, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)


@FEW
@given(copies(), copies(), copies())
def test_merge_is_commutative_associative_and_idempotent(a, b, c):
    ab = merge(a, b)
    assert merge(b, a) == ab
    assert merge(merge(a, b), c) == merge(a, merge(b, c))
    assert merge(a, a) == a
    assert merge(ab, a) == merge(ab, b) == ab
    assert merge(empty(), a) == a


@FEW
@given(copies(), copies())
def test_what_passes_check_passes_it_merged(a, b):
    before = json.dumps([a, b])
    assert check(merge(check(a), check(b))) == merge(a, b)
    assert json.dumps([a, b]) == before  # and neither was changed


def test_two_values_under_one_name_both_stay():
    """No phone writes them; where one does all the same, no reading is dropped."""
    ours, theirs = [
        {**empty(), "seen": of([("a", SIZE, SIZE)]), "fields": {"/title": [["a", SIZE, text]]}}
        for text in ("Hall", "Attic")
    ]
    both = merge(ours, theirs)
    assert both["fields"]["/title"] == [["a", SIZE, "Attic"], ["a", SIZE, "Hall"]]
    assert check(both) == both == merge(theirs, ours)


@st.composite
def heard(draw):
    """(a crew's run, the places of its changes in the order in which a phone hears of them):
    some never, some twice."""
    one = make(draw(st.integers(10**6, 2 * 10**6)), 12)
    many = len(one.model.changes)
    return one, draw(st.lists(st.integers(0, many - 1), min_size=1, max_size=2 * many))


@FEW
@given(heard(), st.randoms(use_true_random=False))
def test_changes_in_any_order_any_number_of_times(found, shuffled):
    """Lost, repeated, grouped and late: what lives is what no change that was heard replaced."""
    one, order = found
    kept = run(one.program)
    writes = [_write(kept, one, c) for c in order]
    straight = empty()
    for w in writes:
        straight = merge(straight, w)
    # The same as a tree of merges in another order.
    pile = list(writes)
    while len(pile) > 1:
        shuffled.shuffle(pile)
        pile.append(merge(pile.pop(), pile.pop()))
    assert pile[0] == straight == check(straight)
    for path in one.model.paths(set(order)):
        live = [[x.writer, x.number, *x.tail] for x in one.model.live(set(order), path)]
        held = [[w[0], w[1] // SIZE, *w[2:]] for w in straight["fields"].get(path, [])]
        assert held == live


def _write(kept, one, change):
    """The small copy that the bridge answered for a change of the model."""
    of = one.model.changes[change]
    by = {"writer": of.writer, "number": of.number}
    (answer,) = [a for a in kept.values() if a["by"] == by]
    return answer.get("write", answer["copy"])


RUNS = st.lists(st.tuples(st.sampled_from("ab"), st.integers(1, 40), st.integers(0, 9)))


def _set(runs):
    return {(w, n) for w, first, more in runs for n in range(first, first + more + 1)}


@FEW
@given(RUNS, RUNS)
def test_runs_of_numbers_are_sets(one, other):
    """What seen.py does with runs is what sets do with single numbers."""
    a, b = [of([(w, first, first + more) for w, first, more in runs]) for runs in (one, other)]
    both = union(a, b)
    want = _set(one) | _set(other)
    assert {(w, n) for w in "ab" for n in range(60) if has(both, w, n)} == want
    assert {(w, n) for w in both for first, last in both[w] for n in range(first, last + 1)} == want
    for runs in both.values():
        assert all(x[1] + 1 < y[0] for x, y in pairwise(runs))


def test_news_are_the_changes_that_a_copy_has_not_seen():
    one = make(7, 12)
    kept = run(one.program)
    whole = kept[one.meet[0]]["copy"]
    for change, c in enumerate(one.model.changes):
        write = _write(kept, one, change)
        assert news(whole, write) == []
        assert news(empty(), write) == ([f"{c.writer}.{c.number}"] if c.says else [])


def test_the_top_is_of_whole_changes():
    assert top({}) == 0
    assert top({"a": [[SIZE, 5 * SIZE + 3]], "b": [[SIZE, 2 * SIZE], [4 * SIZE, 4 * SIZE]]}) == 5
