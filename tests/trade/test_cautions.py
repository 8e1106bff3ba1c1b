"""The cautions: each is there with what it asks, and is shown where its step comes up."""

import json
import re

import pytest

from calc import quick
from calc.bridge import call
from calc.cautions import _ALL, caution
from calc.plan import CAUTIONS, make
from calc.view import view
from tests.jobs import job
from tests.quick.gen import ask

# A wall with a device box, a window to case and an old house, so that every step comes up.
WINDOW = {"kind": "window", "left": "20", "width": "10", "bottom": "5", "height": "9"}
DOC = job(
    walls__0__width_floor="60",
    walls__0__height_left="20",
    walls__0__boxes=[{"centre": "45", "middle": "10"}],
    walls__0__openings=[WINDOW],
    site={"built": "unknown"},
)
# What a quick calculator is asked, the least that it answers.
ASKED = {
    "box-notch": {"bottom": "3", "top": "6 3/4", "left": "20", "right": "22 1/4", "face": "5 1/8",
                  "edge": "square", "thickness": "3/4"},
    "box-extension": {"thickness": "3/4"},
    "stud-marks": {"width": "100", "first": "16"},
    "nails": {"thickness": "3/4"},
    "jamb-extension": {"top_left": "0", "top_right": "0", "bottom_left": "0", "bottom_right": "0",
                       "thickness": "3/4"},
    "casing": {"width": "30", "height": "40"},
    "paint": {"widths": ["100"], "height": "96"},
    "finish-hours": {"boards": "20"},
    "mitre": {"corner": "90"},
    "wood-movement": {"width": "5", "moisture": "8"},
    "room-moisture": {"temperature": "70", "humidity": "40"},
}  # fmt: skip
# key: (words that it must hold, sections that show it, quick calculators that do)
WHERE = {
    # Electricity
    "electricity": (("off at the breaker", "dead with a tester", "before a plate comes off",
                     "cut near a box", "Licensed electrician where required"),
                    ("boxes", "schedule"), ("box-notch", "box-extension")),
    "box-extension": (("wood and MDF", "must come to the finished surface", "Never bury a box"),
                      ("boxes", "schedule"), ("box-notch", "box-extension")),
    # Hidden cables and pipes
    "hidden-lines": (("Scan", "cables and pipes", "run up and down from boxes", "1-1/4 in",
                      "no guarantee"),
                     ("nails", "schedule"), ("nails", "stud-marks", "box-notch")),
    # Lead and asbestos
    "lead-asbestos": (("before 1978", "unknown age", "lead", "asbestos",
                       "before cutting, sanding or pulling trim"),
                      ("coats", "jambs", "casing", "schedule"),
                      ("jamb-extension", "casing", "paint")),
    # Dust, nailers, saws, ladders
    "saw-dust": (("eyes", "ears", "guards", "dust extraction", "fitted respirator"),
                 ("jambs", "casing", "schedule"), ("box-notch", "jamb-extension", "casing",
                                                   "mitre")),
    "sanding-dust": (("extraction", "fitted respirator", "eyes"), ("coats", "schedule"),
                     ("finish-hours",)),
    "nailer": (("eyes and ears",), ("nails", "schedule"), ("nails", "finish-hours")),
    "ladder": (("one foot out for four up",), ("nails", "schedule"), ()),
    # Heaters and the like
    "clearances": (("Never cover heaters, flues, vents, alarms or access panels",
                    "keep their clearances"), ("level", "schedule"), ()),
    # Damp walls
    "damp-wall": (("find and mend the cause before",), ("level", "schedule"), ()),
    "acclimatise": (("come to the room's moisture", "before", "hung"), ("movement", "schedule"),
                    ("wood-movement", "room-moisture", "finish-hours")),
}  # fmt: skip


@pytest.fixture(scope="module")
def sections():
    """key -> the cautions that the section shows, of the job with its plan."""
    answer = json.loads(call(json.dumps({"do": "trade", "job": DOC, "plan": make(DOC)})))
    return {s["key"]: shown_in(s) for s in answer["sections"]}


def shown_in(section):
    """In full, or, in the schedule, by what is asked before a step."""
    cells = " ".join(cell for t in section["tables"] for row in t["rows"] for cell in row)
    return {c["key"] for c in section["cautions"]} | {c.key for c in _ALL if c.asks in cells}


@pytest.mark.parametrize("key", sorted(WHERE))
def test_it_says_what_it_must(key):
    text = caution(key).text
    assert [w for w in WHERE[key][0] if w not in text] == []


@pytest.mark.parametrize("key", [c.key for c in _ALL])
def test_it_asks_a_question_and_says_where_it_stands(key):
    c = caution(key)
    assert re.fullmatch(r"[A-Z].*\?", c.asks)
    assert re.search(r"common practice|NFPA|CFR|IRC|Wood Handbook", c.source)


def test_one_foot_out_for_four_up_is_from_memory():
    assert caution("ladder").source == "common practice, from memory"


@pytest.mark.parametrize("key", sorted(WHERE))
def test_it_is_shown_at_its_step(sections, key):
    assert [s for s in WHERE[key][1] if key not in sections[s]] == []
    for name in WHERE[key][2]:
        answer = ask(name, **ASKED[name])["answer"]
        assert key in [c["key"] for c in answer["cautions"]], name


def test_the_plan_and_its_view_show_what_comes_before_any_cut():
    """Saw, hidden lines, lead and what must never be covered."""
    assert set(CAUTIONS) == {"saw-dust", "hidden-lines", "lead-asbestos", "clearances"}
    plain = dict(DOC, walls=[dict(DOC["walls"][0], boxes=[])])
    assert {c["key"] for c in make(plain)["cautions"]} == set(CAUTIONS)
    plan = make(DOC)
    for shown in (plan, view(plan)):
        assert {c["key"] for c in shown["cautions"]} == {*CAUTIONS, "electricity"}
        assert all(c["text"] and c["asks"] for c in shown["cautions"])


def test_a_damp_wall_is_told_where_air_or_boards_are_damp():
    damp = ask("room-moisture", temperature="70", humidity="90")["answer"]
    wet = ask("wood-movement", width="5", moisture="19")["answer"]
    for answer in (damp, wet):
        assert "damp-wall" in [c["key"] for c in answer["cautions"]]


def test_electricity_is_not_asked_where_no_device_is(sections):
    plain = json.loads(json.dumps(DOC))
    plain["walls"][0]["boxes"] = []
    answer = json.loads(call(json.dumps({"do": "trade", "job": plain, "plan": make(plain)})))
    shown = set().union(*[shown_in(s) for s in answer["sections"]])
    assert "electricity" not in shown
    assert "electricity" in sections["schedule"]


def test_every_caution_is_shown_somewhere(sections):
    """None is written that nobody sees."""
    shown = set(CAUTIONS).union(*sections.values())
    assert {c.key for c in _ALL} - shown == set()


def test_the_calculators_asked_are_all_known():
    assert set(ASKED) <= set(quick.NAMES)
