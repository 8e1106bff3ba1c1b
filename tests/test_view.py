"""What page and print show of a plan: a wall's tables, runs and notes, a board's cuts."""

import json

import pytest

from calc.plan import make
from calc.view import view
from tests.real_walls import everything_planned, gable, level

TABLES = ("outline", "pole", "studs", "openings", "boxes", "blocking")


def texts(value):
    """Every text of a JSON value."""
    if isinstance(value, str):
        return [value]
    inside = value.values() if isinstance(value, dict) else value
    return [t for v in inside for t in texts(v)] if isinstance(value, (dict, list)) else []


def test_it_is_json_of_texts_and_whole_numbers():
    shown = view(everything_planned("in"))
    assert json.loads(json.dumps(shown)) == shown
    assert set(shown) == {
        "summary", "compare", "hang", "buy", "boards", "queue", "progress", "walls", "warnings",
        "cautions", "working",
    }  # fmt: skip
    assert not [t for t in texts(shown) if "%" in t.replace("10 % over", "") or "None" in t]


def test_a_view_of_the_plan_s_json_is_the_same():
    plan = everything_planned("mm")
    assert view(json.loads(json.dumps(plan))) == view(plan)


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_each_table_has_a_cell_for_each_column(unit):
    for wall in view(everything_planned(unit))["walls"]:
        for key in TABLES:
            if wall[key] is not None:
                assert set(wall[key]) == {"caption", "columns", "rows"}
                assert {len(row) for row in wall[key]["rows"]} == {len(wall[key]["columns"])}
                assert len({row[0] for row in wall[key]["rows"]}) == len(wall[key]["rows"])


def test_the_walls_are_told_apart_and_what_they_lack_is_none():
    first, second = view(everything_planned("in"))["walls"]
    assert (first["number"], first["name"], second["number"]) == (1, "Gable", 2)
    assert first["title"].startswith('Gable: 140" wide, ')
    assert second["boxes"] is None and second["blocking"] is None
    assert first["datum"] == "up from the floor"
    assert second["datum"] == "up from the lowest point of the floor"


def test_notes_say_how_the_wall_differs_from_a_rectangle():
    first, second = view(everything_planned("in"))["walls"]
    assert first["notes"][:2] == [
        "Distances along it are from its left corner at the floor.",
        'Its left corner leans in by 1/2" from floor to ceiling.',
    ]
    # The corner's line leans 1/2 in over 60; at the ceiling's right end, 100 up, that is 5/6, so
    # 139 wide from there is 139-5/6 (to 1/32 in 139-27/32, 139-7/8 light); the slope of 40 in 140
    # has come down by 5/100 there, which moves that by nothing to be read. Less 1/2: 139-1/3,
    # to 1/32 in 139-11/32 (139-3/8 light).
    assert first["notes"][2] == (
        'Its ceiling is 139-3/8" light (-1/32") wide from corner to corner.'
    )
    assert first["notes"][3] == (
        'Its right corner stands at 140" at the floor, 139-7/8" light (-1/32") at the ceiling.'
    )
    assert second["notes"][-1] == "It starts at an outside corner, mitred with the boards of Gable."
    assert view(make(gable()))["walls"][0]["notes"] == [
        "Distances along it are from its left corner.",
        'It is 24" high at its left end, 40" at its right.',
    ]


def test_courses_name_their_runs_and_joints():
    course = {c["number"]: c for c in view(everything_planned("in"))["walls"][0]["courses"]}
    beside = course[9]["runs"]  # the window stands from 32 to 58 in
    assert [(r["from"], r["to"]) for r in beside] == [
        ("left end", "Window 1"),
        ("Window 1", "right end"),
    ]
    for c in course.values():
        assert c["pieces"] == [key for r in c["runs"] for key in r["pieces"]]
        assert c["joints"] == [j for r in c["runs"] for j in r["joints"]]
        for r in c["runs"]:
            assert len(r["joints"]) == len(r["pieces"]) - 1
            assert r["text"].endswith(r["pieces"][-1])
            assert all(f"joint on {j}, " in r["text"] for j in r["joints"])
            assert all(j.startswith("stud ") for j in r["joints"])


def test_openings_and_boxes_name_the_pieces_that_are_cut_for_them():
    """By hand: the lamp's centre is 44 in up, course 9 from 41-1/4 to 46-3/8 in."""
    plan = everything_planned("in")
    wall = view(plan)["walls"][0]
    lamp = dict(zip(wall["boxes"]["columns"], wall["boxes"]["rows"][1], strict=True))
    assert lamp["Box"] == "Lamp"
    assert (lamp["Kind"], lamp["Width"], lamp["Height"]) == ("round", '4"', '4"')
    assert (lamp["Left edge"], lamp["Right edge"]) == ('98"', '102"')
    assert (lamp["Bottom, up from the floor"], lamp["Top, up from the floor"]) == ('42"', '46"')
    over = [p["id"] for p in plan["pieces"] if (p["wall"], p["course"]) == (1, 9)
            and p["left"] < 102 * 25.4 and p["right"] > 98 * 25.4]  # fmt: skip
    assert over and lamp["Pieces cut for it"].split(" ") == over
    window = dict(zip(wall["openings"]["columns"], wall["openings"]["rows"][0], strict=True))
    assert (window["Left edge"], window["Top, up from the floor"]) == ('40"', '58"')
    # Its gap begins 1/8 in under it, at 31-7/8, in course 7 (31 to 36-1/8); it ends at 58-1/8
    # in course 12, from 56-5/8.
    courses = {int(key.split("-")[1][:-1]) for key in window["Pieces cut for it"].split(" ")}
    assert courses == set(range(7, 13))


def test_floor_and_ceiling_are_told_where_they_bend_or_step():
    """As read on the second wall: a step of 7 in at 30, the ceiling bends at 70.

    Between the corners the ceiling's reading runs straight: at 30 it is 60 + 30/70 = 60.43,
    to 1/32 in 60-7/16; at 120 the floor has come up by 1/2 in again.
    """
    first, second = view(everything_planned("in"))["walls"]
    assert first["outline"] is None
    assert second["outline"] == {
        "caption": "Floor and ceiling",
        "columns": [
            "From the left corner",
            "Floor, down from the level line",
            "Ceiling, up from the level line",
            "Floor to ceiling",
        ],
        "rows": [
            ['0"', '40"', '60"', '100"'],
            ['30", left of the step', '40"', '60-7/16"', '100-7/16"'],
            ['30", right of the step', '33"', '60-7/16"', '93-7/16"'],
            ['70"', '33"', '61"', '94"'],
            ['120"', '32-1/2"', '60-1/2"', '93"'],
        ],
    }


def test_a_peak_is_told_from_the_floor():
    wall = {
        "width_floor": "48",
        "stations": [{"at": "0", "up": "24"}, {"at": "24", "up": "32"}, {"at": "48", "up": "24"}],
        "studs": {"first": "16", "spacing": "16"},
    }
    (shown,) = view(make(gable(walls=[wall])))["walls"]
    assert shown["outline"]["columns"][1:] == [
        "Floor, over its lowest point",
        "Ceiling, up from the floor there",
    ]
    assert shown["outline"]["rows"] == [
        ['0"', '0"', '24"'],
        ['24"', '0"', '32"'],
        ['48"', '0"', '24"'],
    ]


def test_one_column_where_both_ends_read_the_same():
    wall = make(gable(walls__0__height_left="40"))
    pole = view(wall)["walls"][0]["pole"]
    assert pole["columns"] == ["Lower edge", "Up from the floor, either end"]
    assert pole["rows"] == [
        ["Its top", '40"'],
        ["Course 5", '32"'],
        ["Course 4", '24"'],
        ["Course 3", '16"'],
        ["Course 2", '8"'],
        ["Course 1", '0"'],
    ]
    assert view(make(level()))["walls"][0]["pole"]["columns"][-1] == "From the level line"


def test_cuts_of_a_board_say_only_what_is_not_plain():
    cuts = {c["id"]: c for b in view(make(gable()))["boards"] for c in b["cuts"]}
    plain = cuts["1A"]
    assert plain["lengths"] == plain["ends"] == plain["cuts"] == plain["scribe"] == []
    assert cuts["5A"]["lengths"] == [["Lower edge", '24"'], ["Upper edge", "comes to a point"]]
    assert cuts["5A"]["ends"] == [
        "Left end 71.57° off square (18.43° to the edge), lower edge longer."
    ]
    assert len(cuts["4A"]["cuts"]) == 1
