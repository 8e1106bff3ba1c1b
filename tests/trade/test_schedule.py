"""The order of work: no two tasks at once by one pair of hands, and nothing before it is dry."""

import itertools
import json
from pathlib import Path

import pytest

from calc.cautions import caution
from calc.draft import Draft, to_dict
from calc.job import read_job
from calc.plan import make
from calc.trade import section_coats, section_schedule
from calc.trade.schedule import Task, days, decides, free_at, in_order, own_hours
from calc.trade.steps import ACCLIMATISE, steps
from tests.jobs import job
from tests.quick.gen import Gen

CLOSE = 1e-9  # hours: what doubles lose


def _tasks(seed):
    """Tasks of one, or of many pieces, each after some of those before it."""
    g = Gen(seed)
    n = g.whole(2, 30)
    out = []
    for i in range(g.whole(2, 9)):
        after = [t.key for t in out if g.whole(0, 2) == 0]
        hands = g.whole(0, 3) and g.whole(1, 600) / 60
        out.append(
            Task(f"t{i}", f"Task {i}", after, hands, g.whole(0, 48), (1, n)[g.whole(0, 1)], [])
        )
    return out


def _pieces(task, step):
    """When each piece is begun and dry."""
    each = task.hands / task.items
    for k in range(task.items):
        yield step.starts + k * each, step.starts + (k + 1) * each + task.waits


@pytest.mark.parametrize("seed", range(200))
def test_hands_do_one_thing_and_nothing_is_wet(seed):
    tasks = _tasks(seed)
    rows = in_order(tasks)
    known = {t.key: (t, s) for t, s in zip(tasks, rows, strict=True)}
    worked = [s for s in rows if s.hands]
    for one, two in itertools.pairwise(worked):
        assert one.worked <= two.starts
    for task, step in known.values():
        assert (step.worked, step.ends) == (step.starts + task.hands, step.worked + task.waits)
        slack = [step.starts]
        for key in task.after:
            before, b = known[key]
            if before.items == task.items:
                gaps = [begun - dry for (begun, _), (_, dry) in
                        zip(_pieces(task, step), _pieces(before, b), strict=True)]  # fmt: skip
            else:
                gaps = [step.starts - b.ends]
            assert min(gaps) >= -CLOSE
            slack.append(min(gaps))
        earlier = [s for s in worked if s is not step and rows.index(s) < rows.index(step)]
        if step.hands and earlier:
            slack.append(step.starts - earlier[-1].worked)
        assert min(slack) <= CLOSE  # as early as can be
    assert free_at(rows) == max(s.ends for s in rows)
    assert own_hours(rows) == pytest.approx(sum(t.hands for t in tasks))


@pytest.mark.parametrize("seed", range(60))
def test_the_chain_that_decides_hangs_together(seed):
    rows = in_order(_tasks(seed))
    chain = decides(rows)
    assert chain[0].starts == 0 and chain[0].binds == ""
    assert chain[-1].ends == free_at(rows)
    assert [s.binds for s in chain[1:]] == [s.key for s in chain[:-1]]


def test_nothing_to_do_and_an_unknown_task():
    assert (in_order([]), free_at([]), own_hours([]), decides([])) == ([], 0, 0, [])
    with pytest.raises(KeyError):
        in_order([Task("a", "A", ["b"], 1, 0, 1, [])])


def test_filler_dries_while_the_casing_is_fitted():
    """Fill 1 h and 3 h to dry, casing 2 h: sanded at 4 h, not at 6."""
    rows = in_order(
        [
            Task("fill", "Fill", [], 1.0, 3.0, 1, []),
            Task("case", "Case", [], 2.0, 0.0, 1, []),
            Task("sand", "Sand", ["fill", "case"], 1.0, 0.0, 1, []),
        ]
    )
    assert [(s.starts, s.ends) for s in rows] == [(0, 4), (1, 3), (4, 5)]
    assert [s.beside for s in rows] == [[], ["Fill"], []]
    assert [s.key for s in decides(rows)] == ["fill", "sand"]


@pytest.mark.parametrize(
    ("value", "text"),
    [(0, "0 h"), (23.4, "23.4 h"), (23.6, "23.6 h"), (24, "24 h (1 day 0 h)"),
     (31, "31 h (1 day 7 h)"),
     (154.4, "154.4 h (6 days 10 h)")],
)  # fmt: skip
def test_days(value, text):
    assert days(value) == text


SMALL = {"walls__0__width_floor": "60", "walls__0__height_left": "20"}


def _small(**changes):
    doc = job(**SMALL, **changes)
    return read_job(doc), make(doc)


def test_the_steps_of_a_job_in_their_order():
    j, plan = _small(walls__0__openings=[{"kind": "door", "left": "20", "width": "10",
                                          "bottom": "0", "height": "15"}])  # fmt: skip
    rows = steps(j, plan, 100)
    assert [s.key for s in rows] == [
        "acclimatise", "coat-1", "coat-2", "hang", "fill", "case", "sand", "caulk", "coat-3",
    ]  # fmt: skip
    at = {s.key: s for s in rows}
    assert at["coat-1"].starts == at["acclimatise"].ends == ACCLIMATISE
    assert at["coat-1"].waits == 4 and at["coat-2"].waits == 24 and at["coat-3"].waits == 4
    assert at["fill"].hands == pytest.approx(100 / 400)
    assert at["sand"].hands == pytest.approx(100 / 600)
    assert at["hang"].hands == pytest.approx(len(plan["boards"]) / 6)
    assert "Fill nail holes" in at["case"].beside
    for s in rows:
        assert [caution(key).key for key in s.cautions] == s.cautions


def test_steps_that_a_job_does_not_want_are_left_out():
    j, plan = _small(finish={"primer_coats": 0, "paint_before": 0, "paint_after": 0})
    assert [s.key for s in steps(j, plan, 0)] == ["acclimatise", "hang", "caulk"]
    assert steps(j, None) == []


def test_longer_drying_never_frees_the_room_sooner():
    before = 0.0
    for dry in (0, 1, 24, 72):
        j, plan = _small(finish={"dry": dry})
        end = free_at(steps(j, plan, 50))
        assert end > before or dry == 0
        before = end


@pytest.mark.parametrize("name", ["house", "gable", "landing"])
def test_the_section_of_an_example(name):
    doc = json.loads((Path("examples") / f"{name}.json").read_text(encoding="utf-8"))
    j = read_job(doc)
    plan = make(doc)
    d = Draft(j.unit)
    section_schedule.write(d, j, plan)
    a = to_dict(d.done())
    assert a["figures"][0]["label"] == "Room free after"
    assert a["values"][0][1] > a["values"][1][1] > 60 * ACCLIMATISE
    assert len(a["tables"][0]["rows"]) == len([w for w in a["working"] if "drying:" in w])
    d = Draft(j.unit)
    section_schedule.write(d, j, None)
    assert "waits for the plan" in dict(d.rows)["Room free"] and d.figures == []


def test_no_coat_before_or_after_warns_with_the_mend():
    """With the coats, once."""
    j, plan = _small(finish={"primer_coats": 0, "paint_before": 0, "paint_after": 0})
    d = Draft("in")
    section_coats.write(d, j, plan)
    assert len(d.warnings) == 2
    assert "edges and" in d.warnings[0] and "Touch them up" in d.warnings[1]
    d = Draft("in")
    section_schedule.write(d, j, plan)
    assert d.warnings == []
