"""A job's nails: counted at each crossing and end of the plan, and at no other place."""

import functools
import json
from pathlib import Path

import pytest

from calc import plan as plans
from calc.job import read_job
from calc.trade import section_nails
from calc.trade.glue import bead_volume, cartridges
from calc.trade.nails import count, crossings
from tests.jobs import job, random_job
from tests.plans import WALL_END, joint, piece, plan
from tests.trade.sections import SOURCE, drafted, texts

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.json"))


@functools.cache
def _planned(path):
    doc = json.loads(path.read_text(encoding="utf-8"))
    return doc, plans.make(doc, steps=0)


def _only(*pieces):
    """The hand-made plan with those pieces alone."""
    made = plan()
    made["pieces"] = list(pieces)
    return made


def test_a_plain_wall_counted_by_hand():
    """164-1/2 by 96, face 5-1/8: 19 courses over 10 studs at 16 to 160, boards of 144.

    Each course has one joint or more; all studs are inside a piece or have a joint.
    """
    doc = job()
    made = plans.make(doc)
    c = count(read_job(doc), made)
    met = crossings(made)
    pieces = len(made["pieces"])
    assert met.inside + met.joints == 19 * 10
    assert met.joints == pieces - 19
    assert c.ends == 2 * pieces
    assert c.nails == 2 * met.inside + 2 * c.ends
    # 5 % over, up to a whole nail; boxes of 1000 by default.
    assert c.spare == -(-c.nails * 5 // 100)
    assert (c.total, c.boxes) == (c.nails + c.spare, 1)


def test_a_joints_stud_takes_the_ends_nails_even_where_it_leans_into_a_piece():
    """The fourth stud stands at 1600 and leans by 30: in course 1 its centre is past 1600."""
    whole = _only(piece("1A", 0, 2400, (WALL_END, WALL_END)))
    # 400, 800, 1200, 1600 and 2000; 2400 is the piece's own end.
    assert crossings(whole) == (5, 2, 0)
    halves = _only(
        piece("1A", 0, 1600, (WALL_END, joint(4))),
        piece("1B", 1600, 2400, (joint(4), WALL_END)),
    )
    assert crossings(halves) == (4, 4, 1)


def test_a_leaning_stud_counts_where_it_is_at_the_courses_height():
    """At the floor 1600, at the ceiling, about 2536, 1630: 1612 at 1000 up, in course 6 (1100)."""
    short = _only(piece("6A", 0, 1610, (WALL_END, WALL_END)))
    assert crossings(short).inside == 3
    long = _only(piece("6A", 0, 1615, (WALL_END, WALL_END)))
    assert crossings(long).inside == 4
    low = _only(piece("1A", 0, 1610, (WALL_END, WALL_END)))
    assert crossings(low).inside == 4


@pytest.mark.parametrize("path", EXAMPLES, ids=[p.stem for p in EXAMPLES])
def test_examples_counted_again_stud_by_stud(path):
    """A second count, of the plumb studs, from the plan file's millimetres."""
    doc, made = _planned(path)
    walls = [{**w, "studs": [s for s in w["studs"] if s["at"] == s["top"]]} for w in made["walls"]]
    inside = sum(
        p["left"] < s["at"] < p["right"]
        and [p["wall"], s["number"]] not in [[p["wall"], e.get("stud")] for e in _ends(p)]
        for p in made["pieces"]
        for s in walls[p["wall"] - 1]["studs"]
    )
    c = count(read_job(doc), {**made, "walls": walls})
    assert (c.crossings, c.ends) == (inside, 2 * len(made["pieces"]))
    assert inside > 0


def _ends(p):
    return p["left_end"], p["right_end"]


@pytest.mark.parametrize(
    ("given", "nails", "spare", "boxes"),
    # 4 crossings, 4 ends
    [
        ({}, 16, 1, 1),
        ({"per_stud": 3, "per_end": 1}, 16, 1, 1),
        ({"per_stud": 0, "per_end": 2}, 8, 1, 1),
        ({"per_stud": 0, "per_end": 0}, 0, 0, 0),
        ({"spare": 0, "box": 8}, 16, 0, 2),
        ({"spare": 12.5, "box": 9}, 16, 2, 2),
        ({"spare": 100, "box": 31}, 16, 16, 2),
    ],
)
def test_counts_follow_the_job(given, nails, spare, boxes):
    made = _only(
        piece("1A", 0, 1600, (WALL_END, joint(4))),
        piece("1B", 1600, 2400, (joint(4), WALL_END)),
    )
    c = count(read_job(job(nails=given)), made)
    assert c == (4, 4, nails, spare, nails + spare, boxes)


def test_without_a_plan_nothing_is_guessed():
    read = read_job(job(glue={"used": "studs"}))
    assert count(read, None) is None
    assert cartridges(read, None) is None
    rows = drafted(section_nails, job(glue={"used": "studs"})).rows
    assert ("Nails to buy", "waits for the plan") in rows
    assert ("Adhesive", "waits for the plan") in rows


def test_adhesive_by_hand():
    """4 studs in pieces and 1 at a joint, face 130: 5 x 130 = 650 mm; pi/4 x 36 = 28.274 mm2."""
    made = _only(
        piece("1A", 0, 1600, (WALL_END, joint(4))),
        piece("1B", 1600, 2400, (joint(4), WALL_END)),
    )
    doc = job(glue={"used": "studs", "bead": 6, "cartridge": 50}, board__face=130)
    doc["board"]["overall"] = 136
    b = cartridges(read_job(doc), made)
    assert (b.crossings, b.length, b.cartridges) == (5, 650 * 320, 1)
    assert abs(b.volume - 18.378) < 0.001  # ml, to the last figure of the hand's arithmetic
    doc["glue"]["bead"] = 10  # 78.540 mm2 x 650 = 51.05 ml: a second one
    assert cartridges(read_job(doc), made).cartridges == 2
    assert cartridges(read_job(job()), made) == (0, 0, 0.0, 0)


def test_a_whole_cartridge_is_one():
    assert bead_volume(10 * 320, 1000 * 320) == pytest.approx(78.5398, abs=0.0001)


def test_the_section_says_what_a_given_length_does():
    short = drafted(section_nails, job(nails={"length": "2"})).warnings
    assert any("The nail at hand" in w and 'take one of 2-1/4"' in w for w in short)
    long = drafted(section_nails, job(nails={"length": "3"})).warnings
    assert any("cable or a pipe" in w and 'take one of 2-1/4" to 2-1/2"' in w for w in long)
    assert drafted(section_nails, job(nails={"length": "2 1/4"})).warnings == []


def test_a_nail_that_holds_nothing_has_no_hold():
    answer = drafted(section_nails, job(nails={"length": "1"}))
    assert "average" not in dict(answer.values)
    assert any("holds nothing" in w for w in answer.warnings)


def test_first_comes_the_length_and_cautions_come_with_it():
    answer = drafted(section_nails, job())
    assert answer.figures[0].label == "Nail length"
    assert answer.cautions == ["hidden-lines", "nailer", "ladder", "flame-spread"]


@pytest.mark.parametrize("seed", range(40))
def test_no_job_that_reads_makes_it_raise_and_every_step_has_a_source(seed):
    doc = random_job(seed)
    answer = drafted(section_nails, doc)
    assert all(SOURCE.search(line) for line in answer.working)
    if doc.get("unit") in ("mm", "cm", "m"):
        assert not [t for t in texts(answer) if '"' in t or " inch" in t]


@pytest.mark.parametrize("path", EXAMPLES, ids=[p.stem for p in EXAMPLES])
def test_examples_with_their_plan(path):
    doc, made = _planned(path)
    doc = {**doc, "glue": {"used": "studs"}}
    answer = drafted(section_nails, doc, made)
    values = dict(answer.values)
    c = count(read_job(doc), made)
    assert (values["nails"], values["boxes"]) == (c.total, c.boxes)
    assert values["cartridges"] == cartridges(read_job(doc), made).cartridges > 0
    assert all(SOURCE.search(line) for line in answer.working)
