"""A job becomes a copy and comes back: the job with ids, nothing else changed or lost."""

import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from calc.job import check_job, read_job, ready
from calc.jobfields import JOB, id_of
from calc.lengths import LengthError, jots_of
from calc.shared.job_copy import adopt, job_of, undo, write
from calc.shared.merge import check, merge
from tests.generated import jobs
from tests.jobs import job, random_job

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.json"))
FEW = settings(
    max_examples=100,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)


def with_ids(doc, fields, unit):
    """What comes back of a job, told independently of calc.shared: an id for each item, lengths
    as jots, and nothing that is empty."""
    out = {}
    for f in fields:
        if f.key not in doc:
            continue
        held = doc[f.key]
        if f.kind == "object":
            held = with_ids(held, f.fields, unit)
        elif f.kind == "objects":
            held = [
                {**with_ids(row, f.fields, unit), "id": id_of(row, i)} for i, row in enumerate(held)
            ]
        elif f.kind == "length":
            held = jots(held, unit)
        elif f.kind == "lengths":
            held = [jots(v, unit) for v in held]
        if held not in ({}, []) or f.kind == "lengths":
            out[f.key] = held
    return out


def jots(value, unit):
    try:
        return value if value is None else jots_of(value, unit)
    except LengthError:
        return value


def goes_round(doc):
    copy = check(adopt(doc, "a", 1))
    back = job_of(copy)
    unit = doc.get("unit", "in")
    assert with_ids(back, JOB, unit) == with_ids(doc, JOB, unit)
    # The same lengths whatever unit the job is given.
    assert with_ids(back, JOB, "mm") == with_ids(back, JOB, "in") == with_ids(back, JOB, unit)
    assert check_job(back) == check_job(doc) == []
    if ready(doc):
        assert read_job(back) == read_job(doc)
    # Nothing is left to write.
    again = write(copy, back, "b", 2)
    assert again["copy"]["fields"] == {} and again["copy"]["seen"] == {} and again["before"] == {}
    # And what is written and taken back leaves it as it was.
    less = {"format": "lapwright-job", "version": 1, "title": "Emptied", "unit": "cm"}
    done = write(copy, less, "b", 2)
    emptied = merge(copy, check(done["copy"]))
    assert job_of(emptied) == less
    step = {"writer": "b", "number": 2, "before": done["before"]}
    undone = merge(emptied, check(undo(emptied, step, "b", 3)["copy"]))
    assert job_of(undone) == back


@pytest.mark.parametrize("path", EXAMPLES, ids=[p.stem for p in EXAMPLES])
def test_examples(path):
    goes_round(json.loads(path.read_text(encoding="utf-8")))


@pytest.mark.parametrize("seed", range(60))
def test_random_jobs(seed):
    goes_round(random_job(seed))


@FEW
@given(jobs())
def test_generated_walls(doc):
    assume(check_job(doc) == [])
    goes_round(doc)


KINDS = [
    {"rules__kept": 3, "rules__line": "12", "rules__courses": "line"},
    {"title": "", "unit": "ft", "board__thickness": None, "walls__0__name": "Å ~1/~0 \U0001f600"},
    {"walls__0__openings": [], "walls__0__studs__found": [], "walls__0__stations": []},
    {"walls__0__studs__found": ["7", 406.4, "33 in"], "walls__0__studs__first": "1' 4"},
    {"board__stock": [{"length": "144", "price": "12,50", "count": " 7"},
                      {"length": "120", "id": "x/~ y", "kind": "offcut"}]},
    {"walls__0__boxes": [{"by": "gangs", "gangs": 2, "centre": "20", "middle": "40"},
                         {"id": "1.5", "by": "diameter", "diameter": "3", "centre": "60",
                          "middle": "40"}]},
    {"walls__0__studs__leaning": [{"at": "32", "top": "33"}, {"at": "48", "top": "49"}],
     "walls__0__blocking": [{"left": "10", "width": "4", "bottom": "30", "height": "4"}]},
]  # fmt: skip


@pytest.mark.parametrize("changes", KINDS)
def test_jobs_of_every_kind(changes):
    goes_round(job(**changes))


@pytest.mark.parametrize(
    ("typed", "unit", "kept"),
    [
        # A bare number gets the job's unit; what has one stays as it was keyed.
        ("96", "in", '96"'), ("96 1/2", "ft", "8' 1/2\""), ("2438", "mm", "2438 mm"),
        ("243.8", "cm", "243.8 cm"), ("2.4", "m", "2.4 m"), ("6' 3-1/2", "m", "6' 3-1/2"),
        ("96 in", "mm", "96 in"), ("8'", "in", "8'"), (2438.4, "in", 2438.4), ("0", "m", "0"),
    ],
)  # fmt: skip
def test_lengths_carry_their_unit(typed, unit, kept):
    start = job(unit=unit, board__face="130 mm", board__overall="5 3/8 in")
    start["board"]["stock"] = [{"length": 3600}]
    start["walls"] = [{"height_left": 2400, "studs": {"first": typed}}]
    assert job_of(adopt(start, "a", 1))["walls"][0]["studs"]["first"] == kept


@FEW
@given(st.lists(st.text(min_size=1, max_size=40), min_size=1, max_size=6, unique=True))
def test_ids_of_any_letters(ids):
    start = job(walls=[{"id": key, "name": f"Wall {i}"} for i, key in enumerate(ids)])
    goes_round(start)
    goes_round({**start, "walls": start["walls"][::-1]})
