"""What Survey asks for: fields that apply and no others, each where the job file has it."""

import json

import pytest

from calc.bridge import call
from calc.form import form
from calc.job import check_job, needs
from calc.jobread import given
from tests.jobs import job, put


def made(doc, unit="in", wall=0):
    return form(unit, doc, wall)


def paths(doc, unit="in", wall=0):
    return [f["path"] for f in made(doc, unit, wall)["fields"]]


def field(doc, path, unit="in"):
    (one,) = [f for f in made(doc, unit)["fields"] if f["path"] == path]
    return one


def test_a_plain_wall_is_asked_for_in_few_fields():
    """Twenty or so that are open; stations, openings, boxes and blocking are buttons."""
    asked = made(job())
    shut = [i for i, p in enumerate(asked["parts"]) if p["folded"]]
    assert len([f for f in asked["fields"] if f["part"] not in shut]) <= 22
    alone = [p["title"] for i, p in enumerate(asked["parts"])
             if i not in [f["part"] for f in asked["fields"]]]  # fmt: skip
    assert alone == [
        "Ceiling and floor", "Corners out of plumb", "Doubled studs", "Studs all lean",
        "Leaning studs", "Openings", "Boxes", "Blocking", "More stock", "Offcuts on site",
    ]  # fmt: skip
    titles = [p["title"] for p in asked["parts"] if p["title"] not in alone]
    assert titles == [
        "Job",
        "Wall",
        "Studs",
        "Board",
        "Stock",
        "Rules",
        "Saw and joints",
        "House and moisture",
    ]
    assert asked["walls"] == ["Wall 1"]
    assert [p["item"] for p in asked["parts"] if p["item"]] == []


def test_each_field_stands_in_its_part_once_and_names_a_path_of_the_job():
    for doc in (None, {}, job(), BUSY):
        asked = made(doc)
        parts = [f["part"] for f in asked["fields"]]
        assert parts == sorted(parts) and parts[-1] < len(asked["parts"])
        assert all(f["group"] == asked["parts"][f["part"]]["title"] for f in asked["fields"])
        names = [f["path"] for f in asked["fields"]]
        assert len(set(names)) == len(names)
        for f in asked["fields"]:
            assert f["label"] and isinstance(f["hint"], str)


BUSY = job(
    rules={"courses": "sill"},
    walls=[
        {
            "height_left": "96",
            "height_right": "97",
            "width_floor": "164 1/2",
            "left_corner": "in",
            "left_lean": "1/2",
            "stations": [{"at": "40", "up": "95"}, {"at": "90", "up": "98"}],
            "studs": {"first": "16", "spacing": "16", "doubled": ["32"], "first_top": "16 1/2",
                      "leaning": [{"at": "48", "top": "49"}]},
            "openings": [
                {"left": "20", "width": "30", "bottom": "30", "height": "40"},
                {"kind": "door", "name": "Hall", "left": "100", "width": "32", "height": "80"},
            ],
            "boxes": [
                {"centre": "10", "middle": "12"},
                {"by": "edges", "left": "60", "bottom": "12", "width": "3", "height": "4"},
                {"by": "diameter", "centre": "80", "middle": "60", "diameter": "4"},
            ],
            "blocking": [{"left": "16", "width": "16", "bottom": "40", "height": "3 1/2"}],
        },
        {"name": "North", "corner": "inside", "studs": {}},
    ],
)  # fmt: skip


def test_fields_that_do_not_apply_are_not_asked_for():
    asked = paths(BUSY)
    for path in ("level", "left_lean", "width_middle", "width_top", "studs.doubled",
                 "studs.first_top", "studs.leaning[0].top", "stations[1].down", "name",
                 "openings[0].bottom", "openings[1].height", "boxes[0].gangs", "boxes[1].bottom",
                 "boxes[2].diameter", "blocking[0].left"):  # fmt: skip
        assert "walls[0]." + path in asked
    for path in ("corner", "openings[1].bottom", "boxes[0].left", "boxes[1].gangs",
                 "boxes[1].middle", "boxes[2].width"):  # fmt: skip
        assert "walls[0]." + path not in asked
    for path in ("rules.align", "rules.opening_gap", "rules.box_gap"):
        assert path in asked and path not in paths(job())
    assert "rules.line" not in asked and "rules.line" in paths(job(rules={"courses": "line"}))
    plumb = job(walls=[{"left_corner": "plumb", "left_lean": "1"}])
    assert "walls[0].left_corner" in paths(plumb) and "walls[0].left_lean" not in paths(plumb)
    assert "walls[1].corner" in paths(BUSY, wall=1)
    level = job(walls=[{"stations": [{"at": 0, "down": "40", "up": "56"}]}])
    assert "walls[0].height_left" not in paths(level)
    level["walls"][0]["height_left"] = "96"  # one of the two must go, so it is shown
    assert "walls[0].height_left" in paths(level)


def test_items_can_be_taken_out_and_the_next_put_in():
    asked = made(BUSY)
    items = [p["item"] for p in asked["parts"] if p["item"]]
    assert items == [
        "walls[0]", "walls[0].stations[0]", "walls[0].stations[1]", "walls[0].studs.leaning[0]",
        "walls[0].openings[0]", "walls[0].openings[1]", "walls[0].boxes[0]", "walls[0].boxes[1]",
        "walls[0].boxes[2]", "walls[0].blocking[0]",
    ]  # fmt: skip
    adds = {p["add"]["path"]: p["add"]["value"] for p in asked["parts"] if p["add"]}
    assert adds["walls[0].openings[2]"] == {"kind": "window"}
    assert adds["walls[0].boxes[3]"] == {"by": "gangs", "standard": "us"}
    assert "walls[0].stations[2]" in adds and "walls[0].blocking[1]" in adds
    metric = {p["add"]["path"]: p["add"]["value"] for p in made(job(), "mm")["parts"] if p["add"]}
    assert metric["walls[0].boxes[0]"]["standard"] == "eu"
    assert asked["walls"] == ["Wall 1", "North"]
    assert asked["add_wall"] == {"path": "walls[2]", "value": {"studs": {}}}
    assert made(job(walls=[{}] * 40))["add_wall"] is None
    titles = [p["title"] for p in asked["parts"]]
    assert "Window 1" in titles and "Hall" in titles and "Box 3" in titles


def test_every_button_makes_fields_and_a_draft_without_problems():
    """What a button puts in is right, shows fields to fill, and the button moves on."""
    for unit in ("in", "mm"):
        doc = job()
        buttons = [p["add"] for p in made(doc, unit)["parts"] if p["add"]]
        assert len(buttons) == 10
        for add in buttons:
            doc = job()
            if add["path"].endswith("]"):
                put(doc, add["path"][: add["path"].rindex("[")], _rows(doc, add["path"]))
            put(doc, add["path"], add["value"])
            assert check_job(doc) == []
            before, after = paths(job(), unit), paths(doc, unit)
            assert [p for p in after if p.startswith(add["path"])]
            assert len(after) > len(before)
            again = [p["add"]["path"] for p in made(doc, unit)["parts"] if p["add"]]
            assert add["path"] not in again


def _rows(doc, path):
    """The list that the path is an item of, with room for that item."""
    at = doc
    for step in path[: path.rindex("[")].split("."):
        key, _, index = step.partition("[")
        at = (at or {}).get(key)
        if index:
            at = at[int(index[:-1])]
    return (at or []) + [None]


def test_stock_lengths_are_items_up_to_six():
    doc = job(board__stock=[{"length": str(n)} for n in (96, 120, 144)])
    asked = made(doc)
    assert [p["item"] for p in asked["parts"] if p["title"].startswith("Stock")] == [
        "board.stock[0]", "board.stock[1]", "board.stock[2]",
    ]  # fmt: skip
    assert [p["add"]["path"] for p in asked["parts"] if p["title"] == "More stock"] == [
        "board.stock[3]"
    ]
    doc["board"]["stock"] = [{"length": str(90 + n)} for n in range(6)]
    assert [p for p in made(doc)["parts"] if p["title"] == "More stock"] == []
    assert paths({})[paths({}).index("board.stock[0].length")]


def test_defaults_are_shown_in_the_unit_of_the_form():
    doc = job()
    assert field(doc, "walls[0].height_right")["default"] == '96"'
    assert field(doc, "board.overall")["default"] == '5-1/8"'
    assert field(doc, "rules.sliver")["default"] == '1/2"'
    assert field(doc, "rules.sliver", "mm")["default"] == "13 mm"
    assert field(BUSY, "rules.box_gap", "mm")["default"] == "1.5 mm"
    assert field(BUSY, "walls[0].width_top")["default"] == '164-1/2"'
    assert field(BUSY, "walls[0].openings[1].name")["default"] == "Door 1"
    assert field(BUSY, "walls[0].boxes[0].gangs")["default"] == "1"
    assert field(BUSY, "walls[0].left_corner")["now"] == "in"
    assert field(BUSY, "walls[0].left_corner")["choices"][1] == ["in", "leans in"]
    align = field(BUSY, "rules.align")
    assert (align["kind"], align["default"]) == ("choice", "")
    assert [key for key, _ in align["choices"]] == ["", "Window 1", "Hall"]


@pytest.mark.parametrize("doc", [BUSY, job(walls=[{}]), {"format": "lapwright-job", "version": 1}])
def test_what_is_needed_is_marked_so_where_it_is_missing(doc):
    asked = {f["path"]: f for wall in range(len(made(doc)["walls"]))
             for f in made(doc, wall=wall)["fields"]}  # fmt: skip
    for path, _ in needs(doc):
        if path in asked and not path.endswith("corner"):
            assert asked[path]["needed"], path
    for path, one in asked.items():
        if one["needed"] and path not in [p for p, _ in needs(doc)]:
            assert one["now"] is not None or not given(doc, "walls"), path


@pytest.mark.parametrize("doc", [
    3, [], {"walls": 3}, {"walls": [3]}, {"walls": [{"studs": [], "openings": {}, "boxes": [4]}]},
    {"walls": [{"stations": [None], "openings": [{"kind": ["x"], "name": 5}],
                "boxes": [{"by": {}}]}], "board": 4, "rules": [3]},
])  # fmt: skip
def test_a_broken_document_is_still_asked_for(doc):
    assert len(made(doc)["fields"]) > 15


def test_the_bridge_gives_one_wall_at_a_time():
    def ask(**more):
        return json.loads(call(json.dumps({"do": "fields", "unit": "in", "job": BUSY, **more})))

    first, second = ask(), ask(wall=1)
    assert first["ok"] and second["ok"] and first == ask(wall=0)
    assert "walls[1].width_floor" in [f["path"] for f in second["fields"]]
    for wall in (2, -1, "1", None, True, 0.5):
        (problem,) = ask(wall=wall)["problems"]
        assert problem["field"] == "wall" and problem["fix"] == "Use 0 to 1."
