"""A job's boxes: each is told by wall and name what brings it to the boards' face."""

import pytest

from calc.trade import section_boxes
from tests.jobs import job, random_job
from tests.trade.sections import SOURCE, drafted, texts


def _doc(*boxes, **changes):
    """Boxes on the wall North, side by side from 20 in on, 20 in up."""
    doc = job(**changes)
    rows = []
    for i, box in enumerate(boxes):
        place = {"centre": f"{20 + 12 * i}", "middle": "20"}
        rows.append({**({} if box.get("by") == "edges" else place), **box})
    doc["walls"][0].update(name="North", boxes=rows)
    return doc


def test_none_is_said():
    answer = drafted(section_boxes, job())
    assert answer.rows == [("Boxes", "none with a device")]
    assert not (answer.figures or answer.warnings or answer.working or answer.cautions)


@pytest.mark.parametrize(
    ("stands", "row", "warning"),
    # 3/4 boards: extension = 3/4 + set back - proud - fitted
    [
        ({}, '3/4"', 'North, Box 1: set an extension of 3/4",'),
        ({"set_back": "1/4"}, '1"', 'North, Box 1: set an extension of 1",'),
        ({"proud": "1/2"}, '1/4"', 'North, Box 1: set an extension of 1/4",'),
        ({"proud": "3/4"}, "flush", None),
        ({"extension": "3/4"}, "flush", None),
        ({"set_back": "1/4", "extension": "1"}, "flush", None),
        ({"proud": "1"}, '1/4" past', "North, Box 1 stands 1/4\" past the boards' face"),
        ({"extension": "1"}, '1/4" past', "take a shorter extension"),
        ({"extension": "1/2"}, '1/4"', 'of 1/4" more, or one of 3/4" in place of the one fitted'),
    ],
)
def test_each_box_comes_to_the_face(stands, row, warning):
    answer = drafted(section_boxes, _doc(stands))
    ((wall, name, extension, _, _),) = answer.tables[0].rows
    assert (wall, name, extension) == ("North", "Box 1", row)
    if warning is None:
        assert answer.warnings == []
    else:
        (told,) = answer.warnings
        assert warning in told
    short = row.endswith('"')
    assert answer.figures[0].text == ("1" if short else "0")


def test_walls_and_names_and_how_many_of_each_size():
    doc = _doc({}, {"name": "Switch", "set_back": "1/4"}, {})
    doc["walls"].append({**doc["walls"][0], "name": "South"})
    answer = drafted(section_boxes, doc)
    assert answer.figures[0].text == "6"
    assert answer.rows == [('Extension of 3/4"', "for 4 boxes"), ('Extension of 1"', "for 2 boxes")]
    assert [r[:2] for r in answer.tables[0].rows] == [
        [wall, box] for wall in ("North", "South") for box in ("Box 1", "Switch", "Box 3")
    ]
    assert any(w.startswith('South, Switch: set an extension of 1",') for w in answer.warnings)
    # Alike boxes are worked out once.
    assert sum("extension, " in line for line in answer.working) == 2
    assert answer.cautions == ["electricity", "box-extension", "box-gap"]


@pytest.mark.parametrize("gangs", range(1, 7))
def test_us_plates_cover_and_ears_bear_with_the_usual_gap(gangs):
    """Plate less box is 1/2 and 3/4 for any gangs: 3/16 and 5/16 with a gap of 1/16; ears 1/8."""
    (row,) = drafted(section_boxes, _doc({"gangs": gangs, "proud": "3/4"})).tables[0].rows
    assert row[3:] == ['3/16"', '1/8"']


@pytest.mark.parametrize(
    ("gap", "told"),
    [
        ("1/16", []),
        # sides (1/2 - 1/4) / 2 = 1/8 laps yet; ears (3/8 - 1/4) / 2 = 1/16
        ("1/8", ['ears bear on 1/16"']),
        # sides 1/16; ears 0
        ("3/16", ['laps the cut only 1/16"', 'ears bear on 0"', 'gap of 3/16"']),
    ],
)
def test_a_wider_gap_opens_plate_and_ears(gap, told):
    warnings = drafted(section_boxes, _doc({"proud": "3/4"}, rules__box_gap=gap)).warnings
    assert len(warnings) == len(told)
    for text in told:
        assert any(text in w for w in warnings)
    # What each names as its mend does: the gap it says leaves no warning of its kind.
    for w in warnings:
        for mended in ("1/8", "1/16"):
            if f'set the gap around boxes to {mended}"' in w:
                kind = "laps" if "laps" in w else "ears"
                again = drafted(section_boxes, _doc({"proud": "3/4"}, rules__box_gap=mended))
                assert not [x for x in again.warnings if kind in x]


def test_what_is_not_known_is_not_checked():
    edges = {"by": "edges", "left": "100", "bottom": "10", "width": "4", "height": "4"}
    answer = drafted(section_boxes, _doc({"standard": "eu"}, {"standard": "uk"}, edges))
    assert [r[3:] for r in answer.tables[0].rows] == [
        ["not checked", "none"],
        ["not checked", "none"],
        ["not checked", "not checked"],
    ]


@pytest.mark.parametrize("seed", range(60))
def test_no_job_that_reads_makes_it_raise_and_every_step_has_a_source(seed):
    doc = random_job(seed)
    answer = drafted(section_boxes, doc)
    boxes = sum(len(w.get("boxes", [])) for w in doc["walls"])
    assert sum(len(t.rows) for t in answer.tables) <= boxes
    assert all(SOURCE.search(line) for line in answer.working)
    if doc.get("unit") in ("mm", "cm", "m"):
        assert not [t for t in texts(answer) if '"' in t or " inch" in t]
