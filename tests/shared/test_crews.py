"""Five phones and a laptop at one job: after 5,000 runs, all copies are the same, nothing lost."""

from collections import Counter

import pytest

from tests.shared.crews import make
from tests.shared.held import faults
from tests.shared.model import is_item
from tests.shared.programs import run

RUNS = 5000


def test_five_thousand_crews_meet_and_nothing_is_lost():
    had = Counter()
    for seed in range(RUNS):
        one = make(seed)
        assert faults(one, run(one.program)) == [], f"seed {seed}"
        had += Counter(_had(one))
    # That the runs try what they are for: each of these at least so often.
    least = {
        "settle": 250, "undo": 2500, "kept": 100, "apart": 2500, "item apart": 600,
        "inner item apart": 100, "alike": 80, "hidden": 3, "put back apart": 20, "unheard": 300,
        "stale": 200,
    }  # fmt: skip
    assert {k: had[k] for k in least if had[k] < least[k]} == {}


def _had(one):
    """What there is to see in a run."""
    model, known = one.model, one.known
    yield from (step["do"] for step in one.program)
    yield from ("kept" for _, many in one.kept if many)
    for path in model.apart(known):
        yield "apart"
        if is_item(path):
            yield "item apart" if path.count("/") < 4 else "inner item apart"
    for path in model.paths(known):
        tails = [x.tail for x in model.live(known, path)]
        many = len(model.different(known, path))
        if many == 1 and any(t != tails[0] for t in tails) and not is_item(path):
            yield "alike"  # other words for the same reading
        if many > 1 and not model.visible(known, path):
            yield "hidden"
    for change in model.changes:
        if any(len(tails) > 1 for tails in change.says.values()):
            yield "put back apart"
        past = change.known.union(*(model.changes[c].known for c in change.known))
        if past != change.known:
            yield "unheard"  # it builds on a change whose forerunners its maker never got
    for step in one.program:
        if step["do"] == "write" and _later(one.program, step):
            yield "stale"


def _later(program, step):
    """Whether the writer's phone held a newer copy than the one that the person saw."""
    return any(
        s["do"] == "join" and s["into"] == step["into"] + 1 and ["write", step["into"]] in s["of"]
        for s in program
    )


@pytest.mark.parametrize("broken", ["a lost reading", "a copy of its own", "a wrong option"])
def test_a_fault_is_found(broken):
    """The comparison itself can fail."""
    one = make(next(s for s in range(1000) if make(s).model.apart(make(s).known)))
    kept = run(one.program)
    answer = kept[one.meet[0]]
    if broken == "a lost reading":
        for register in one.meet:
            writes = kept[register]["copy"]["fields"][answer["apart"][0]["path"]]
            writes[:] = writes[-1:]
    elif broken == "a copy of its own":
        kept[one.meet[-1]]["copy"]["fields"]["/title"] = [["laptop", 65536, "Attic"]]
    else:
        answer["apart"][0]["options"].pop()
    assert faults(one, kept) != []
