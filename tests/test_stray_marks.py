"""Stud marks of a job that stand off the grid: one stud more, or no mark to take out."""

import pytest

from calc.job import read_job
from calc.plan import make, trouble
from calc.problems import InputError
from calc.studs import marks
from tests.jobs import job
from tests.plan_checker import check

INCH = 8128


def test_a_stud_found_between_two_marks_stands_beside_them():
    """An eighth of the spacing, 2 in at 16, is the limit: common practice, no source."""
    doc = job(walls__0__studs__found=["56", "66"])
    plan = make(doc)
    at = [s["at"] / 25.4 for s in plan["walls"][0]["studs"]]
    assert [round(x, 6) for x in at][:6] == [16, 32, 48, 56, 66, 80]
    assert check(doc, plan) == []


def test_a_missing_mark_that_is_no_mark_is_named_with_the_nearest():
    doc = job(walls__0__studs__missing=["48", "56"])
    (problem,) = trouble(read_job(doc))
    assert (problem.field, problem.value) == ("walls[0].studs.missing[1]", '56"')
    assert 'nearest marks are 48" and 64"' in problem.message and problem.fix
    with pytest.raises(InputError) as e:
        make(doc)
    assert e.value.problems == [problem]
    doc["walls"][0]["studs"]["missing"] = ["48", "49"]
    assert trouble(read_job(doc)) == []


def test_marks_take_no_stray():
    with pytest.raises(ValueError, match="no grid mark"):
        marks(100 * INCH, 16 * INCH, 16 * INCH, [], [56 * INCH])
