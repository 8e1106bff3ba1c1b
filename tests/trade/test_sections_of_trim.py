"""Jambs, casing and level in a job, whatever the job: they read in its unit, and never raise."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.draft import to_dict
from calc.job import read_job
from calc.problems import InputError
from calc.trade import section_casing, section_jambs, section_level
from calc.trade.trimmed import trimmed
from tests.generated import jobs
from tests.trade.trimjob import metric, section

SECTIONS = [section_jambs, section_casing, section_level]
STOCK = [{"length": 2400, "price": "9.50"}, {"length": 900, "price": "4"}]


@pytest.mark.parametrize("trim", [{}, {"casing_stock": STOCK, "jamb_stock": STOCK}])
@pytest.mark.parametrize("made", SECTIONS, ids=lambda m: m.__name__)
def test_no_inches_are_left_in_a_metric_job(made, trim):
    answer = to_dict(section(made.write, metric(trim)))
    answer.pop("cautions")  # a code's own figures, given in both
    text = json.dumps(answer, ensure_ascii=False)
    assert '\\"' not in text
    assert " in per " not in text and " in 8 ft" not in text and " inch" not in text
    assert len(answer["figures"]) >= 2 and answer["working"] and answer["warnings"]
    for t in answer["tables"]:
        assert all(len(row) == len(t["columns"]) for row in t["rows"])
        assert all(isinstance(cell, str) and cell for row in t["rows"] for cell in row)


def test_the_working_of_a_section_names_formula_numbers_result_and_source():
    for made in SECTIONS:
        for line in section(made.write, metric()).working:
            assert " = " in line and ": " in line and line.endswith(")"), line


@settings(max_examples=150, deadline=None, derandomize=True)
@given(jobs(), st.data())
def test_they_answer_for_every_job_that_reads(doc, data):
    def one(*values):
        return data.draw(st.sampled_from(values))

    for w in doc["walls"]:
        for part in w.get("openings", []):
            part["trim"] = one("cased", "by-kind", "none")
    doc["trim"] = {
        "joint": one("mitred", "butted"),
        "foot": one("stool", "casing"),
        "through": one("head", "legs"),
        "width": one(20, 57, 160),
        "reveal": one(0, 5, 20),
        "casing_stock": STOCK[: one(0, 1, 2)],
    }
    try:
        record = read_job(doc)
    except InputError:
        return
    for made in SECTIONS:
        answer = section(made.write, record)
        assert answer.rows or answer.figures
    for p in section_casing.pieces(record) + section_jambs.pieces(record):
        assert p.length > 0 and all(p.text)
    for w in record.walls:
        _apart([t for t in trimmed(record) if t.wall == w.name])


def _apart(many):
    """No two openings' casings lie over each other; none reaches over a corner or the ceiling."""
    boxes = []
    for t in many:
        c, r = t.casing, t.rect
        out = {
            "left": r.left - c.left.reveal - c.left.wide - c.horn_left * (t.foot == "stool"),
            "right": r.right + c.right.reveal + c.right.wide + c.horn_right * (t.foot == "stool"),
            "top": r.top + c.top.reveal + c.top.wide,
            "bottom": r.bottom - (c.bottom.reveal + c.bottom.wide) * (t.foot == "casing"),
        }
        for n, side in enumerate(("left", "right", "head")):
            band = (c.left, c.right, c.top)[n]
            room = t.spaces[n].room
            assert band.reveal + band.wide <= max(room, 0), side
        boxes.append((t, out))
    for i, (t, a) in enumerate(boxes):
        for u, b in boxes[:i]:
            # Openings beside or above one another; those that cut into each other are not asked.
            beside = t.rect.right <= u.rect.left or u.rect.right <= t.rect.left
            level = t.rect.bottom < u.rect.top and u.rect.bottom < t.rect.top
            if beside and level:
                assert a["right"] <= b["left"] or b["right"] <= a["left"]
            if not beside and not level and t.rect.top != u.rect.top:
                assert a["top"] <= b["bottom"] or b["top"] <= a["bottom"]
