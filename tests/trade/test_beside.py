"""What lies beside the layout changes no plan: the page plans nothing anew for it."""

import json
import re
from pathlib import Path

import pytest

from calc.jobfields import BOX, DONE, JOB, OPENING
from calc.jobread import Reader
from calc.plan import make

ROOT = Path(__file__).parents[2]
HALL = json.loads((ROOT / "examples" / "hall.json").read_text(encoding="utf-8"))
WALL = dict(
    HALL["walls"][0],
    openings=[{"kind": "window", "left": "40", "width": "20", "bottom": "30", "height": "30"}],
    boxes=[{"centre": "20", "middle": "16"}],
)


def beside():
    """The page's own list of what a plan does not depend on: {part: [keys]}."""
    text = (ROOT / "web" / "doc.js").read_text(encoding="utf-8")
    table = re.search(r"const BESIDE = \{(.*?)\};", text, re.S).group(1)
    return {
        part: re.findall(r"'(\w+)'", keys) for part, keys in re.findall(r"(\w+): \[(.*?)\]", table)
    }


def a_value(field):
    """A value other than the default, that the field takes."""
    if field.kind == "choice":
        return field.choices[-1]
    if field.kind == "length":
        return field.hi / 320 / 2
    if field.kind == "objects":
        return [{f.key: a_value(f) for f in field.fields if f.key != "id"}]
    if field.kind == "object":
        return {f.key: a_value(f) for f in field.fields}
    if field.kind == "text":
        return "x"
    return max(field.lo, min(field.hi, 3))


def test_the_page_knows_every_field_that_is_there():
    known = beside()
    assert sorted(known) == ["board", "boxes", "done", "job", "openings"]
    tables = {"job": JOB, "openings": OPENING, "boxes": BOX, "done": DONE}
    tables["board"] = next(f for f in JOB if f.key == "board").fields
    for part, keys in known.items():
        assert keys and not set(keys) - {f.key for f in tables[part]}


@pytest.mark.parametrize("part", sorted(beside()))
def test_what_lies_beside_the_layout_changes_no_plan(part):
    job = dict(HALL, walls=[WALL])
    plain = make(job)
    tables = {"job": JOB, "openings": OPENING, "boxes": BOX, "done": DONE}
    tables["board"] = next(f for f in JOB if f.key == "board").fields
    given = {f.key: a_value(f) for f in tables[part] if f.key in beside()[part]}
    reader = Reader("in")
    reader.record("", "", given, tables[part])
    assert reader.problems == []
    if part == "job":
        job = dict(job, **given)
    elif part in ("board", "done"):
        job = dict(job, **{part: dict(job.get(part) or {}, **given)})
    else:
        job["walls"] = [dict(WALL, **{part: [dict(WALL[part][0], **given)]})]
    assert make(job) == plain
