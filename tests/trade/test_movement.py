"""A job's moisture and movement: which readings count, and what is told of which wall."""

import itertools
import json
import re
from functools import cache
from pathlib import Path

import pytest

from calc.bridge import call
from calc.draft import Draft, to_dict
from calc.job import read_job
from calc.trade.moisture import COLDEST, MOST_HUMID, WARMEST, emc
from calc.trade.movement import change
from calc.trade.section_movement import write
from calc.trade.species import KEYS
from tests.jobs import job


def section(doc, plan=None):
    read = read_job(doc)
    d = Draft(read.unit)
    write(d, read, plan)
    answer = to_dict(d.done())
    answer["cautions"] = [c["key"] for c in answer["cautions"]]
    answer["rows"] = dict(answer["rows"])
    answer["values"] = dict(answer["values"])
    return answer


def titled(answer, title):
    return next(t for t in answer["tables"] if t["title"] == title)


@cache
def planned(text):
    return json.loads(call(json.dumps({"do": "plan", "job": json.loads(text)})))["plan"]


def plan_of(doc):
    return planned(json.dumps(doc))


@pytest.mark.parametrize(
    ("celsius", "humidity"),
    [(COLDEST - 0.01, 50), (WARMEST + 0.01, 50), (20, -0.1), (20, MOST_HUMID + 0.1),
     (float("nan"), 50), (20, float("nan"))],
)  # fmt: skip
def test_emc_refuses_what_the_table_does_not_have(celsius, humidity):
    with pytest.raises(ValueError):
        emc(celsius, humidity)


@pytest.mark.parametrize("at", [COLDEST, WARMEST])
def test_emc_takes_the_ends_of_the_table(at):
    assert emc(at, 0) == 0
    assert emc(at, MOST_HUMID) > 20


def test_a_change_is_as_large_either_way():
    for width, points in itertools.product((8128, 41656, 3), (0.0, 0.5, 3.7, 24)):
        assert change(width, 274, -points) == -change(width, 274, points)


@pytest.mark.parametrize(
    ("site", "range_"),
    [
        ({}, "6 % to 10 %, in a room in most climates"),
        ({"climate": "dry"}, "4 % to 9 %, in a room in a dry climate"),
        ({"climate": "damp"}, "8 % to 13 %, in a room on a warm damp coast"),
        ({"driest": "7", "dampest": "12"}, "7 % to 12 %, in this room"),
        ({"dampest": "12"}, "6 % to 12 %, in this room"),
        # Table 4-2 of the Wood Handbook at 70 °F: 6.2 at 30 %, 11.0 at 60 %
        ({"temperature": "70", "humidity_low": "30", "humidity_high": "60"}, "6.2 % to 11 %, in"),
        ({"humidity_low": "30"}, "6.2 % to 10 %, in this room"),
        # what is read of the boards counts before the air
        ({"driest": "7", "humidity_low": "30", "humidity_high": "60"}, "7 % to 11 %, in this"),
    ],
)
def test_the_range_is_of_the_boards_then_the_air_then_the_climate(site, range_):
    assert section(job(site=site))["rows"]["Boards over the year"].startswith(range_)


@pytest.mark.parametrize(
    ("site", "says", "cautions"),
    [
        ({"moisture": "8"}, None, ["acclimatise"]),
        ({"moisture": "12"}, "too wet: they read 12 %", ["acclimatise"]),
        ({"moisture": "5"}, "too dry: they read 5 %", ["acclimatise"]),
        ({"moisture": "12", "climate": "damp"}, None, ["acclimatise"]),
        ({"moisture": "9.5", "climate": "dry"}, "too wet: they read 9.5 %", ["acclimatise"]),
        ({"moisture": "19"}, "too wet: they read 19 %", ["acclimatise", "damp-wall"]),
        ({"moisture": "12", "dampest": "15"}, None, ["acclimatise", "damp-wall"]),
    ],
)
@pytest.mark.parametrize("wood", ["unknown", "mdf", "ponderosa"])
def test_boards_out_of_the_range_wait(site, says, cautions, wood):
    answer = section(job(site=site, board__species=wood, rules__end_gap="1/2"))
    wait = [w for w in answer["warnings"] if "Wait:" in w]
    assert len(wait) == (says is not None)
    if says:
        assert wait[0] == answer["warnings"][0]
        assert says in wait[0] and "in the room until they read" in wait[0]
    assert answer["cautions"] == cautions
    assert answer["rows"]["Hang now"] == ("no, wait" if says else "yes")


def test_boards_that_nobody_read_are_reckoned_at_the_climates_usual_moisture():
    assert "hung at 8 %" in section(job())["rows"]["Boards' moisture"]
    dry = section(job(site={"climate": "dry"}))
    assert "hung at 6 %" in dry["rows"]["Boards' moisture"]
    own = section(job(site={"driest": "10", "dampest": "13"}))
    assert "hung at 11.5 %" in own["rows"]["Boards' moisture"]
    assert own["cautions"] == ["acclimatise"] and "Hang now" not in own["rows"]


def test_a_range_the_wrong_way_round_is_told_and_turned():
    answer = section(job(site={"driest": "12", "dampest": "7", "moisture": "9"}))
    assert "read both again" in answer["warnings"][0]
    assert answer["rows"]["Boards over the year"].startswith("7 % to 12 %")


@pytest.mark.parametrize(("given", "said"), [("-10 °C", "30 °F"), ("20 °F", "30 °F"), (None, "70")])
def test_a_temperature_beyond_the_equation_or_unread_is_said(given, said):
    answer = section(job(site={"temperature": given, "humidity_low": "30"}))
    assert said in answer["rows"]["Temperature"]


def test_hung_tight_a_wall_is_told_by_name_what_it_pushes():
    """19 courses of 5-1/8 in: 5.125 x 0.00274 x (10 - 8) x 19 = 0.5336 in, by whole jots 0.533."""
    doc = job(walls__0__name="North", site={"moisture": "8"})
    for plan in (None, plan_of(doc)):
        answer = section(doc, plan)
        (warning,) = [w for w in answer["warnings"] if w.startswith("North: hung tight")]
        assert "19 courses push by 0.533 in" in warning and "Leave 1/32" in warning
        assert ("Waits for the plan" in answer["rows"]) == (plan is None)
    wide = job(walls__0__name="North", site={"moisture": "8"}, rules__ceiling_gap="1/2")
    assert section(wide)["warnings"] == []


def test_courses_are_the_plans_where_there_is_one():
    """The plan leaves 6 in at the floor: 90 in are 17.6 courses; 96 in, without it, 18.7."""
    doc = job(rules__floor_gap="6", site={"moisture": "8"})
    without, within = section(doc), section(doc, plan_of(doc))
    table = titled(within, "Over the wall")
    assert table["rows"][0][:2] == ["Wall 1", "18"]  # 90 in
    assert titled(without, "Over the wall")["rows"][0][1] == "19"


def test_square_boards_open_on_the_wall_behind():
    doc = job(board__edge="square", board__overall="5 1/8", site={"moisture": "10"})
    answer = section(doc)
    assert any("paint it" in w for w in answer["warnings"])
    assert "cover_driest" not in answer["values"]


def test_runs_of_mdf_are_the_plans_with_their_joints():
    """164-1/4 in between the end gaps: 0.0033 x 164.25 = 0.542 in; 2 x 1/8 + 1 joint x 1/4."""
    doc = job(board__species="mdf", rules__joint_gap="1/4")
    answer = section(doc, plan_of(doc))
    table = titled(answer, "Runs, MDF")
    assert table["rows"] == [["Wall 1", '164-1/4"', "0.542 in", '1/2"']]
    assert any("Wall 1: its longest run of MDF" in w for w in answer["warnings"])


@pytest.mark.parametrize("wood", ["unknown", "mdf", *KEYS])
def test_it_answers_any_wood_and_shows_its_working(wood):
    for grain, edge in itertools.product(("flat", "vertical"), ("lapped", "tongue-and-groove")):
        for site in (
            {},
            {"moisture": 60, "driest": 1, "dampest": 1},
            {"moisture": 1, "driest": 30},
        ):
            answer = section(job(board__species=wood, board__grain=grain, board__edge=edge,
                                 site=site))  # fmt: skip
            assert answer["figures"] and answer["values"]["spacer"] >= 0
            assert all(line.endswith(")") and " = " in line for line in answer["working"])


def test_metric_jobs_read_in_metric():
    """The garden room of the examples; its second wall is raked."""
    doc = json.loads((Path(__file__).parents[2] / "examples" / "gable.json").read_text("utf-8"))
    doc["site"] = {"moisture": 15, "temperature": 21, "humidity_low": 30}
    for wood in ("mdf", "spruce"):
        doc["board"]["species"] = wood
        for plan in (None, plan_of(doc)):
            text = json.dumps(section(doc, plan), ensure_ascii=False)
            assert "°F" not in text and '\\"' not in text
            assert not re.search(r"[0-9] in\b", text)
