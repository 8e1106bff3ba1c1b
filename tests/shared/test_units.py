"""A change of the job's unit on one phone, and readings on another: no length changes."""

import json
from pathlib import Path

import pytest

from calc.job import read_job
from calc.jobfields import JOB
from calc.lengths import UNITS
from tests.jobs import job
from tests.shared.phones import OUT, Phone, ask, meet
from tests.shared.test_round_trip import with_ids

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.json"))
H = "walls__0__height_left"
OPENING = {"left": "20", "width": "30 1/2", "height": "40"}


def switched(phone, unit):
    """The step in which a phone gave the job another unit, as the page does it."""
    return phone.write(ask("unit", job=phone.job, to=unit)["job"])


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("path", EXAMPLES, ids=[p.stem for p in EXAMPLES])
def test_a_switch_writes_the_unit_and_no_reading(path, unit):
    """Of every reading that was keyed none is written anew, so none can be apart for it."""
    a = Phone("a", json.loads(path.read_text(encoding="utf-8")))
    read = read_job(a.job)
    step = switched(a, unit)
    defaults = {p for p in step["write"]["fields"] if p.startswith(("/rules/", "/board/th"))}
    assert set(step["write"]["fields"]) - defaults <= {"/unit"}
    # Defaults that differ between inches and metric are written out: they were not keyed.
    assert all(step["before"][p][0] == [[]] for p in defaults)
    now = read_job(a.job)
    # Beside the layout what was not keyed is what is usual in the new unit.
    assert now._replace(unit=read.unit, trade=read.trade) == read


@pytest.mark.parametrize(("unit", "typed", "jots"), [("mm", "97", 788416), ("m", 2463.8, 788416)])
def test_a_reading_keyed_meanwhile_keeps_its_length(unit, typed, jots):
    """97 in is 97 * 8128 = 788416 jots, whatever unit the other phone chose."""
    a = Phone("a", job())
    b = Phone("b", a)
    switched(a, unit)
    b.edit(**{H: typed, "walls__0__openings__0": OPENING})
    meet(a, b)
    assert a.apart == [] and a.job["unit"] == unit
    wall = with_ids(a.job, JOB, unit)["walls"][0]
    assert wall["height_left"] == jots
    assert wall["openings"][0]["left"] == 20 * 8128 and wall["openings"][0]["width"] == 247904
    assert read_job(a.job).walls[0].height_left == jots


def test_a_switch_that_is_taken_back_leaves_what_was_keyed_since():
    a = Phone("a", job())
    b = Phone("b", a)
    step = switched(a, "mm")
    b.hear(a)
    b.edit(**{H: "2464"})
    meet(a, b)
    a.undo(step)
    assert a.job["unit"] == "in" and a.kept == 0 and "rules" not in a.job
    assert with_ids(a.job, JOB, "in")["walls"][0]["height_left"] == 2464 * 320


def test_two_who_choose_units_apart_are_asked_about_that_alone():
    """Both wrote out the same defaults."""
    a = Phone("a", job())
    b = Phone("b", a)
    switched(a, "mm")
    switched(b, "cm")
    meet(a, b)
    assert [(f["path"], f["options"]) for f in a.apart] == [
        ("/unit", ["millimetres", "centimetres"])
    ]
    a.settle("/unit", "millimetres")
    assert a.job["unit"] == "mm" and a.apart == []


def test_a_length_written_anew_in_another_unit_is_not_apart():
    """One phone keys what it measured in millimetres, the other the same in inches."""
    a = Phone("a", job())
    b = Phone("b", a)
    switched(a, "mm")
    a.edit(**{H: "2463.8"})
    b.edit(**{H: "97"})
    meet(a, b)
    assert a.apart == []
    b.edit(**{H: '97 1/64"'})
    a.edit(**{H: "2463.9"})
    meet(a, b)
    # To the nearest half both read 2464 mm; 97-1/64 in is 2464.196875 mm.
    assert [f["options"] for f in a.apart] == [["2463.9 mm", "2464.196875 mm"]]


def test_a_default_kept_by_a_switch_is_asked_about_where_it_was_keyed_meanwhile():
    """The switch wrote out 1/8 in; the other phone, apart, keyed 3/32 in: somebody decides."""
    a = Phone("a", job())
    b = Phone("b", a)
    switched(a, "mm")
    b.edit(rules__kerf="3/32", rules__end_gap="1/8")
    meet(a, b)
    assert [f["path"] for f in a.apart] == ["/rules/kerf"]
    b.edit(rules__kerf=OUT)
    assert b.apart == []
