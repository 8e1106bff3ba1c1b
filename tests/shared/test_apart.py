"""What was written apart is told in words, and only where it differs in what it means."""

import json
from pathlib import Path

import pytest

from calc.jobfields import JOB
from calc.measures import MEASURES
from calc.shared.differ import different
from calc.shared.told import told
from tests.jobs import job
from tests.shared.phones import OUT, Phone, ask, meet

H = "walls__0__height_left"
WINDOW = {"kind": "window", "left": '20"', "width": '30"', "height": '40"'}


def apart(start, ours, theirs):
    """What is asked after two phones made one edit each."""
    a = Phone("a", start)
    b = Phone("b", a)
    a.edit(**ours)
    b.edit(**theirs)
    meet(a, b)
    return a, a.apart


def test_two_readings_of_one_height():
    """The one with the larger change, then writer, is the plan's meanwhile; it stands last."""
    a, asked = apart(job(), {H: '97"'}, {H: '98 1/2"'})
    assert asked == [
        {"path": "/walls/1/height_left", "field": "walls[0].height_left", "label": "Height",
         "options": ['97"', '98-1/2"']}
    ]  # fmt: skip
    assert a.job["walls"][0]["height_left"] == '98 1/2"'


def test_different_fields_are_not_asked_about():
    a, asked = apart(job(), {H: '97"'}, {"walls__0__width_floor": '160"', "title": "Hall"})
    assert asked == []
    wall = a.job["walls"][0]
    assert (wall["height_left"], wall["width_floor"], a.job["title"]) == ('97"', '160"', "Hall")


# (where, what one wrote, what the other wrote): the same in other words.
SAME = [
    (H, '97"', '97"'),
    (H, '97"', "97 in"),
    (H, '97"', "8' 1\""),
    (H, '97"', 2463.8),
    (H, '97"', "2463.8 mm"),
    (H, '97"', "246.38 cm"),
    (H, "97", '97"'),
    (H, None, OUT),
    (H, "", None),
    ("walls__0__studs__found", ["7 in", 254], ['7"', '10"']),
    ("walls__0__studs__found", [], None),
    ("board__stock__0__price", 7, "7"),
    ("board__stock__0__price", "12.50", "12,50"),
    ("board__stock__0__price", 12.5, "12.50"),
    ("board__stock__0__count", " 3", 3),
    ("title", "", OUT),
    ("board__edge", "lapped", "lapped"),
    (H, "9x", "9x"),
]
OTHER = [
    (H, '97"', 2463.803125),  # one jot more
    (H, '97"', "97 mm"),
    (H, '97"', None),
    (H, "9x", "9y"),
    ("walls__0__studs__found", ['7"'], ['7"', '10"']),
    ("board__stock__0__price", "12.50", "1,250"),
    ("board__stock__0__count", 3, 4),
    ("title", "Hall", "hall"),
    ("title", "7", "7.0"),
    ("board__edge", "lapped", "square"),
    ("rules__reach", 1, 2),
]


@pytest.mark.parametrize(("where", "ours", "theirs"), SAME)
def test_the_same_in_other_words_is_not_asked_about(where, ours, theirs):
    start = job(title="Attic", board__edge="tongue-and-groove")
    assert apart(start, {where: ours}, {where: theirs})[1] == []
    assert apart(start, {where: theirs}, {where: ours})[1] == []


@pytest.mark.parametrize(("where", "ours", "theirs"), OTHER)
def test_what_differs_is_asked_about(where, ours, theirs):
    start = job(title="Attic", board__edge="tongue-and-groove")
    (asked,) = apart(start, {where: ours}, {where: theirs})[1]
    assert len(set(asked["options"])) == 2


@pytest.mark.parametrize(
    ("unit", "ours", "theirs", "options"),
    [
        # 1924.05 mm and 1924 mm both read 1924 mm, to the nearest half: told to the jot.
        ("mm", '75 3/4"', "1924 mm", ["1924.05 mm", "1924 mm"]),
        ("in", "1925 mm", "1925.1 mm", ["1925 mm", "1925.1 mm"]),
        ("in", "9x", '97"', ["9x", '97"']),
        ("in", None, '97"', ["nothing", '97"']),
        ("ft", '97"', '98"', ["8' 1\"", "8' 2\""]),
    ],
)
def test_options_read_as_on_a_tape(unit, ours, theirs, options):
    start = job(unit=unit, board__face="130 mm", board__overall="136 mm")
    start["board"]["stock"], start["walls"] = [{"length": 3600}], [{"height_left": 2400}]
    assert apart(start, {H: ours}, {H: theirs})[1][0]["options"] == options


@pytest.mark.parametrize(
    ("edits", "label", "options"),
    [
        (({"unit": "mm"}, {"unit": "cm"}), "A bare number means", ["millimetres", "centimetres"]),
        (({"rules__kerf": '1/16"'}, {"rules__kerf": '1/4"'}), "Saw kerf", ['1/16"', '1/4"']),
        (({"board__stock__0__price": 7}, {"board__stock__0__price": 8}), "Stock 1, Price of one",
         ["7", "8"]),
        (({"walls__1__name": "North"}, {"walls__1__name": "South"}), "South: Name",
         ["South", "North"]),
        (({"walls__1__openings__0__kind": "door"}, {"walls__1__openings__0__kind": "other"}),
         "Wall 2: Opening 1, What it is", ["door", "other"]),
        (({"walls__1__stations__1__up": '40"'}, {"walls__1__stations__1__up": '41"'}),
         "Wall 2: Station 2, Up to the ceiling", ['40"', '41"']),
        # What Survey does not ask for now goes by the field's own name.
        (({"rules__line": '40"'}, {"rules__line": '41"'}), "Course line", ['40"', '41"']),
        (({"done__rejected__0__why": "split"}, {"done__rejected__0__why": "knot"}),
         "Rejected board 1, why", ["split", "knot"]),
        (({"walls__0__openings": OUT, "walls__0__name": "A"},
          {"walls__0__openings__0__left": '21"', "walls__0__name": "A"}), "A: Window 1",
         ["taken out", "there"]),
    ],
)  # fmt: skip
def test_a_field_is_called_as_survey_calls_it(edits, label, options):
    window = {**WINDOW, "bottom": '30"'}
    walls = [
        {"height_left": '96"', "openings": [window]},
        {"height_left": '96"', "openings": [window], "stations": [{"at": 0}, {"at": '30"'}]},
    ]
    start = job(walls=walls, done={"rejected": [{"board": 1, "stock": '144"', "line": "1"}]})
    start["board"]["stock"] = [{"length": 2400 + 10 * i} for i in range(2)]
    _, asked = apart(start, *edits)
    assert [(f["label"], sorted(f["options"])) for f in asked] == [(label, sorted(options))]


def test_an_item_written_in_apart_from_its_removal():
    """It stays until somebody decides, with all that is in it."""
    start = job(walls__0__openings=[WINDOW])
    a, asked = apart(start, {"walls__0__openings__0": OUT}, {"walls__0__openings__0__left": '21"'})
    assert [(f["path"], f["label"], f["field"]) for f in asked] == [
        ("/walls/1/openings/1", "Window 1", "walls[0].openings[0]")
    ]
    assert a.job["walls"][0]["openings"] == [{**WINDOW, "left": '21"', "id": "1"}]
    b = Phone("b", a)
    a.settle("/walls/1/openings/1", "there")
    assert a.apart == [] and len(a.job["walls"][0]["openings"]) == 1
    b.settle("/walls/1/openings/1", "taken out")
    assert b.apart == [] and "openings" not in b.job["walls"][0]
    # Two who decide apart, the one by keeping it, are asked once more.
    meet(a, b)
    assert [f["path"] for f in a.apart] == ["/walls/1/openings/1"]


def test_an_opening_in_a_wall_that_another_took_out_keeps_the_wall():
    start = job(walls=[{"height_left": '96"'}, {"height_left": '90"', "openings": [WINDOW]}])
    a, asked = apart(start, {"walls__1": OUT}, {"walls__1__openings__0__left": '21"'})
    assert [(f["path"], f["label"]) for f in asked] == [("/walls/2", "Wall 2")]
    assert a.job["walls"][1]["openings"][0] == {**WINDOW, "left": '21"', "id": "1"}


def test_what_is_apart_in_an_item_that_is_gone_waits():
    a = Phone("a", job(walls__0__openings=[WINDOW]))
    b, c = Phone("b", a), Phone("c", a)
    a.edit(walls__0__openings__0__left='21"')
    b.edit(walls__0__openings__0__left='22"')
    meet(a, b)
    step = a.edit(walls__0__openings__0=OUT)
    assert a.apart == [] and "openings" not in a.job["walls"][0]
    a.undo(step)
    assert [f["options"] for f in a.apart] == [['21"', '22"']]
    c.hear(a)
    assert c.apart == a.apart


def test_what_was_in_an_item_is_there_when_it_comes_back():
    """The next changes of anybody leave what a removed item held alone."""
    a = Phone("a", job(walls__0__openings=[WINDOW], title="Hall"))
    b = Phone("b", a)
    gone = a.edit(walls__0__openings__0=OUT)
    later = a.edit(title="Attic")
    assert list(later["write"]["fields"]) == ["/title"]
    b.edit(walls__0__openings__0__left='21"')
    meet(a, b)
    assert a.job["walls"][0]["openings"] == [{**WINDOW, "left": '21"', "id": "1"}]
    a.undo(gone)
    assert a.apart == [] and a.job["walls"][0]["openings"][0]["width"] == '30"'


def test_items_added_apart_are_all_there():
    """Also where both stand at the same place: then by their ids."""
    start = job(walls__0__openings=[WINDOW])
    new = {"walls__0__openings__1": {**WINDOW, "left": '60"'}}
    a, asked = apart(start, new, {"walls__0__openings__1": {**WINDOW, "left": '90"'}})
    assert asked == []
    rows = a.job["walls"][0]["openings"]
    assert [(r["id"], r["left"]) for r in rows] == [("1", '20"'), ("a.2", '60"'), ("b.2", '90"')]
    # Nothing is rewritten by the next who adds one, and it stands behind them.
    step = a.edit(walls__0__openings__3={**WINDOW, "left": '120"'})
    assert a.job["walls"][0]["openings"][-1]["id"] == "a.3"
    assert not [p for p in step["write"]["fields"] if "openings/" in p and "a.3" not in p]


def test_a_list_in_another_order_is_one_change_without_a_question():
    walls = [{"name": n, "height_left": '96"'} for n in ("East", "North", "West")]
    a = Phone("a", job(walls=walls))
    b = Phone("b", a)
    a.write({**a.job, "walls": a.job["walls"][::-1]})
    b.edit(walls__1__height_left='90"')
    meet(a, b)
    assert a.apart == [] and [w["name"] for w in a.job["walls"]] == ["West", "North", "East"]
    assert a.job["walls"][1]["height_left"] == '90"'


def test_a_new_item_never_takes_the_name_of_another():
    """Items of a job that was saved, and is opened as a new one, may bear a phone's names."""
    saved = job(walls=[{"id": "a.2", "name": "East"}, {"name": "North", "id": "a.2.3"}])
    a = Phone("a", saved)
    a.edit(walls__2={"name": "West"})
    assert [w["id"] for w in a.job["walls"]] == ["a.2", "a.2.3", "a.2.2"]
    step = a.edit(walls__0=OUT)
    a.edit(walls__2={"name": "South"})
    a.undo(step)
    assert [w["name"] for w in a.job["walls"]] == ["East", "North", "West", "South"]


def test_nor_of_one_that_was_taken_out():
    a = Phone("a", job(walls=[{"id": "a.3", "name": "East"}, {"name": "North"}]))
    b = Phone("b", a)
    gone = b.edit(walls__0=OUT)
    a.hear(b)
    a.edit(walls__1={"height_left": '96"'})  # a's change 3
    assert [w["id"] for w in a.job["walls"]] == ["2", "a.3.2"] and "name" not in a.job["walls"][1]
    a.undo(gone)
    assert [w["id"] for w in a.job["walls"]] == ["a.3", "2", "a.3.2"]


def test_there_is_a_place_behind_the_last_one():
    """Places that have come to their end are given anew."""
    a = Phone("a", job())
    a.copy["fields"]["/walls/1"][0][2] = 999999999
    longer = {**a.job, "walls": [*a.job["walls"], {"name": "North"}]}
    answer = ask("write", copy=a.copy, job=longer, writer="b", number=2)
    assert [w["id"] for w in answer["job"]["walls"]] == ["1", "b.2"]
    assert ask("join", copies=[answer["copy"]])["job"] == answer["job"]


def test_a_copy_with_more_than_a_form_shows_is_told_all_the_same():
    """401 walls are too many for a job, not for a copy: two phones may have added them."""
    copy = Phone("a", job()).copy
    rows = [{"id": str(i), "name": f"Wall {i}"} for i in range(401)]
    many = ask("write", copy=copy, job={**job(), "walls": rows}, writer="b", number=2)
    other = {**many["job"], "walls": [{**w, "name": "x"} for w in many["job"]["walls"]]}
    more = [
        ask("write", copy=many["copy"], job=other, writer="c", number=3)["write"],
        ask("write", copy=many["copy"], job={**other, "walls": [
            {**w, "name": "y"} for w in other["walls"]]}, writer="d", number=3)["write"],
    ]  # fmt: skip
    answer = ask("join", copies=[many["copy"], *more])
    assert len(answer["apart"]) == 401 and answer["apart"][0]["options"] == ["x", "y"]


def test_every_field_can_be_asked_about():
    """Whatever may be written apart has a label and options that differ."""
    house = Path(__file__).parents[2] / "examples" / "house.json"
    a = Phone("a", json.loads(house.read_text(encoding="utf-8")))
    ours, theirs = _all(a.job, JOB, 0), _all(a.job, JOB, 1)
    b = Phone("b", a)
    a.write(ours)
    b.write(theirs)
    meet(a, b)
    assert len(a.apart) > 230
    for asked in a.apart:
        assert asked["label"] and len(set(asked["options"])) == len(asked["options"]) == 2
    assert told(a.copy, a.job) == a.apart


def _all(doc, fields, which):
    """The document with another value in every field."""
    values = {
        "length": [1111, 1222], "lengths": [[333], [444]], "count": [2, 3], "money": [11, 12],
        "text": ["one", "other"],
    }  # fmt: skip
    for measure in MEASURES:
        values[measure] = [4, 5]
    out = dict(doc)
    for f in fields:
        if f.key not in doc or f.key in ("format", "version", "id"):
            continue
        if f.kind == "object":
            out[f.key] = _all(doc[f.key], f.fields, which)
        elif f.kind == "objects":
            out[f.key] = [_all(row, f.fields, which) for row in doc[f.key]]
        else:
            out[f.key] = (f.choices if f.kind == "choice" else values[f.kind])[which]
    return out


def test_different_gives_the_last_of_each_meaning():
    writes = [["a", 65536, '97"'], ["b", 65536, 2463.8], ["c", 65536, '98"'], ["d", 65536, "97"]]
    assert different("/walls/1/height_left", writes, "in") == [writes[2], writes[3]]
    assert different("/walls/1/height_left", writes, "mm") == [writes[1], writes[2], writes[3]]
