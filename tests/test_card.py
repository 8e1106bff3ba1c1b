"""A piece's card: what it tells, against the hand-made plan and tape arithmetic written out."""

import json
import re

import pytest

from calc.bridge import call
from calc.card import card
from calc.cutwords import cut_text, scribe_text
from calc.problems import InputError
from tests.plans import DOOR, end, hole, piece, plan

PX = 8128 // 16  # jots a pixel of a sketch: 1/16 in


def rows(key, doc=None):
    return {
        label: f"{text} {lean}".rstrip() for label, text, lean in card(doc or plan(), key)["rows"]
    }


def with_piece(p, unit="in"):
    doc = plan(unit)
    doc["pieces"] = [p]
    return doc


def inches(n):
    return n * 25.4


def test_a_full_board():
    found = card(plan(), "4A")
    assert found["title"] == "Piece 4A"
    assert found["rows"] == [
        ["Length", "800 mm", ""],
        ["Width", "215 mm", ""],
        ["Left end", "square", ""],
        ["Left end goes to", "the wall's left end", ""],
        ["Right end", "square", ""],
        ["Right end goes to", "stud 2 at 800 mm", ""],
        ["Hangs", "Wall 1, course 4", ""],
        ["From board", "4", ""],
    ]
    assert found["cuts"] == found["scribe"] == []
    assert found["say"].startswith("Piece 4A, course 4: Length eight hundred millimetres.")


def test_the_lean_is_told_apart_with_its_value():
    # 215 mm is 8.4646 in: 271/32 is 8.46875, the nearest 1/32, a sixteenth less 1/32: 8-1/2 light.
    assert ["Width", '8-1/2"', 'light (-1/32")'] in card(plan("in"), "4A")["rows"]


def test_both_edges_where_they_differ():
    found = rows("5B")
    assert (found["Lower edge"], found["Upper edge"]) == ("1500 mm", "1000 mm")
    assert (found["Width at the left"], found["Width at the right"]) == ("100 mm", "215 mm")
    assert found["Right end goes to"] == "Door 1"
    assert "Length" not in found and "Length over all" not in found


def test_a_point_and_a_rip():
    found = rows("14A")
    assert found["Upper edge"] == "comes to a point"
    assert found["Width"] == "100 mm"  # the end is the saw line, so it has no width of its own
    assert found["Rip"] == "Rip to 100 mm, cut off the upper edge (the lap goes)"


def test_an_end_off_square():
    # A 4:12 gable: arctan(4/12) = 18.43 degrees (a carpenter's table of roof pitches).
    ends = (end("wall end", 1843, "lower"), DOOR)
    doc = with_piece(piece("1A", 0, inches(40), ends))
    assert rows("1A", doc)["Left end"] == "18.43° off square, lower edge longer"
    assert "18.43° off square" in card(doc, "1A")["say"]


def test_longer_over_all_than_either_edge():
    changes = {"lengths": {"lower": inches(30), "upper": inches(32)}}
    doc = with_piece(piece("1A", 0, inches(40), **changes))
    assert rows("1A", doc)["Length over all"] == '40"'


@pytest.mark.parametrize(
    ("key", "cuts"),
    [
        (
            "2A",
            [
                "Hole for Box 1: from 300 mm to 357 mm from the left end, "
                "70 mm to 165 mm up from the lower edge."
            ],
        ),
        (
            "5B",
            [
                "Cut the upper left corner out for Window 1: from the left end to 500 mm, "
                "115 mm deep from the upper edge.",
                "Notch from the upper edge for Box 2: from 800 mm to 930 mm from the left end, "
                "65 mm deep.",
            ],
        ),
        (
            "5A",
            [
                "Cut the upper right corner out for Window 1: from 800 mm from the left end to "
                "the right end (400 mm long), 115 mm deep from the upper edge."
            ],
        ),
        (
            "6B",
            [
                "Notch from the lower edge for Box 2: from 300 mm to 430 mm from the left end, "
                "45 mm deep."
            ],
        ),
        (
            "11B",
            [
                "Round hole for Light 1: centre 400 mm from the left end and 100 mm up, "
                "100 mm across."
            ],
        ),
        (
            "13A",
            [
                "Saw the upper edge off for the ceiling: mark the lower edge at the left end and "
                "the upper edge 2580 mm from the left end; saw from mark to mark."
            ],
        ),
        (
            "14A",
            [
                "Saw the upper edge off for the ceiling: mark the lower edge at the left end and "
                "100 mm up, at the right end; saw from mark to mark."
            ],
        ),
    ],
)
def test_cuts_as_sentences(key, cuts):
    found = card(plan(), key)
    assert found["cuts"] == cuts
    assert all(text in found["say"] for text in cuts)


@pytest.mark.parametrize(
    ("cut", "text"),
    [
        (
            hole(0, inches(3), inches(12.25), inches(40), ["lower"], "Window 1", edge="lower"),
            'Notch from the lower edge for Window 1: from 12-1/4" to 40" from the left end, '
            '3" deep.',
        ),
        (
            hole(inches(2), inches(5), 0, inches(4), ["left"], "Box 1", edge="left"),
            'Slot in the left end for Box 1: from the left end to 4", '
            '2" to 5" up from the lower edge.',
        ),
        (
            hole(inches(5), inches(6), 0, inches(9), ["left", "upper"], "Door 1", "lap", "upper"),
            'Take the lap off the upper edge for Door 1: from the left end to 9", 1" deep.',
        ),
        (
            hole(0, inches(6), inches(3), inches(9), ["lower", "upper"], "Box 1"),
            'Cut out for Box 1: from 3" to 9" from the left end, 0" to 6" up from the lower edge; '
            "it runs out at the lower edge and upper edge.",
        ),
        (
            {
                "kind": "bevel",
                "by": "left corner",
                "edge": "left",
                "points": [[0, 0], [inches(0.25), 215]],
            },
            "Saw the left end off for the left corner: mark the lower edge at the left end and "
            'the upper edge 1/4" from the left end; saw from mark to mark.',
        ),
    ],
)
def test_each_kind_of_cut(cut, text):
    p = piece("1A", 0, inches(60))
    assert cut_text(with_piece(p), p, cut) == text


def test_scribe_marks():
    # The ceiling rises 1 in 12: 400/12 = 33.33 mm at stud 1, to 0.5 mm 33.5; 100 at stud 3.
    assert card(plan(), "13A")["scribe"] == [
        "Scribe the upper edge: mark up from the lower edge 0 mm at the left end; 33.5 mm at "
        "stud 1, 400 mm from the left end; 100 mm at stud 3, 1200 mm from the left end; "
        "join the marks."
    ]


def test_scribe_marks_where_the_line_bends_between_the_ends():
    """A peak at 10 in, between the ends and off every stud, is told by where it is."""
    marks = [(0, 0, 3), (0, 10, 4), (1, 16, 3.5), (0, 30, 2)]
    s = {
        "edge": "upper",
        "marks": [{"stud": n, "along": inches(x), "up": inches(y)} for n, x, y in marks],
    }
    assert scribe_text(s, piece("1A", 0, inches(30)), "in") == (
        'Scribe the upper edge: mark up from the lower edge 3" at the left end; 4" at 10" from '
        'the left end; 3-1/2" at stud 1, 16" from the left end; 2" at the right end; '
        "join the marks."
    )


def test_a_long_bevel_is_told_by_the_angle_to_the_edge_too():
    # A 4:12 slope along a board: 90 - 18.43 = 71.57 degrees off a square cut.
    ends = (end("wall end", 7157, "lower"), DOOR)
    doc = with_piece(piece("1A", 0, inches(40), ends))
    told = rows("1A", doc)["Left end"]
    assert told == "71.57° off square (18.43° to the edge), lower edge longer"


def test_a_saw_line_of_many_marks_and_one_for_a_corner():
    p = piece("1A", 0, inches(60))
    points = [[0, 0], [inches(9), inches(1)], [inches(9), inches(2)], [inches(60), inches(2)]]
    step = {"kind": "taper", "by": "floor", "edge": "lower", "points": points}
    assert cut_text(with_piece(p), p, step) == (
        "Saw the lower edge off for the floor: mark the lower edge at the left end; "
        '1" up, 9" from the left end; 2" up, 9" from the left end; 2" up, at the right end; '
        "saw from mark to mark."
    )
    # Short of the full height, yet it is the end that goes.
    points = [[0, 0], [inches(0.25), inches(4)]]
    lean = {"kind": "taper", "by": "left corner", "edge": "upper", "points": points}
    assert cut_text(with_piece(p), p, lean).startswith("Saw the left end off for the left corner:")


@pytest.mark.parametrize(
    ("centre", "text"),
    [
        # On a board of 215 mm (8.465 in) and 60 in; 10 in across. By Pythagoras 3, 4, 5.
        (
            (20, 3),
            '20" from the left end and 3" up, 10" across; it meets the lower edge 16" and 24" '
            "from the left end.",
        ),
        (
            (20, -3),
            '20" from the left end and 3" under the lower edge, 10" across; it meets the lower '
            'edge 16" and 24" from the left end.',
        ),
        (
            (-3, -4),
            '3" left of the left end and 4" under the lower edge, 10" across.',
        ),
        (
            (62, -3),
            '2" past the right end and 3" under the lower edge, 10" across; it meets the lower '
            'edge 58" from the left end.',
        ),
        (
            (20, 215 / 25.4 + 3),
            '20" from the left end and 3" over the upper edge, 10" across; it meets the upper '
            'edge 16" and 24" from the left end.',
        ),
    ],
)
def test_a_round_hole_that_runs_out(centre, text):
    p = piece("1A", 0, inches(60))
    cut = {
        "kind": "round",
        "by": "Lamp",
        "edge": "inside",
        "centre": [inches(n) for n in centre],
        "diameter": inches(10),
    }
    assert cut_text(with_piece(p), p, cut) == "Round hole for Lamp: centre " + text


def test_a_mitred_corner_is_told_at_the_course_ends_only():
    doc = plan()
    doc["walls"][0]["corner"] = "mitred"
    assert rows("4A", doc)["Left end"] == "square; mitred 45°, the long point on the face"
    assert rows("4A", doc)["Right end"] == "square"
    assert rows("4B", doc)["Left end"] == "square"
    doc = plan()
    doc["walls"].append({**doc["walls"][0], "name": "Wall 2", "corner": "mitred"})
    doc["walls"][0]["corner_right"] = "mitred"
    assert "mitred" in rows("4C", doc)["Right end"]
    assert "mitred" not in rows("4A", doc)["Left end"]


@pytest.mark.parametrize("unit", ["in", "ft", "mm", "cm", "m"])
def test_every_number_carries_its_unit(unit):
    length = {
        "in": r'\d+(-\d+/\d+)?"|[+-]?\d+/\d+"',
        "ft": r"(\d+' )?(\d+(-\d+/\d+)?|\d+/\d+)\"|[+-]?1/32\"",
    }.get(unit, rf"\d+(\.\d+)? {unit}")
    named = r"\b(Window|Door|Box|Light|Wall|course|stud) \d+\b|\b\d+[A-Z]\b|\d+\.\d\d°"
    doc = plan(unit)
    for p in doc["pieces"]:
        found = card(doc, p["id"])
        told = [f"{t} {lean}" for label, t, lean in found["rows"] if label != "From board"]
        told += found["cuts"] + found["scribe"]
        told += [item[4] for item in found["sketch"]["items"] if item[0] == "text"]
        assert len(told) > 8
        for text in told:
            assert not re.search(r"\d", re.sub(length, "", re.sub(named, "", text))), text


def sketch_words(key, doc=None):
    return [i[4] for i in card(doc or plan(), key)["sketch"]["items"] if i[0] == "text"]


def test_the_sketch_bears_the_dimensions():
    assert set(sketch_words("4A")) == {"800 mm", "215 mm"}
    # 5B from its left end: the sill's cut to 500, the box 800 to 930, the end 1500;
    # 100 high at the left, 215 at the right, the box's notch 65 deep.
    words = {"500 mm", "800 mm", "930 mm", "1500 mm", "100 mm", "215 mm", "65 mm"}
    assert words <= set(sketch_words("5B"))
    assert {"300 mm", "357 mm", "70 mm", "165 mm"} <= set(sketch_words("2A"))
    assert "2580 mm" in sketch_words("13A")
    assert sketch_words("11B").count("100 mm") == 2  # its height and its width
    assert {"up", "wide"} <= set(sketch_words("11B"))


def test_the_sketch_is_in_the_page_s_format():
    for p in plan()["pieces"]:
        sketch = card(plan(), p["id"])["sketch"]
        assert sorted(sketch) == ["height", "items", "say", "width"]
        rings = [item for item in sketch["items"] if item[0] == "path"]
        outer = rings[0][1][0]
        assert len(rings[0][1]) == len(p["shape"])
        assert len(outer) == 2 * len(p["shape"][0])
        for kind, *of in sketch["items"]:
            assert kind in ("path", "line", "text")
            numbers = (
                [n for ring in of[0] for n in ring]
                if kind == "path"
                else of[: 4 if kind == "line" else 2]
            )
            assert all(isinstance(n, int) for n in numbers)
        xs, ys = outer[::2], outer[1::2]
        assert min(xs) >= 0 and max(xs) <= sketch["width"]
        assert min(ys) >= 0 and max(ys) <= sketch["height"]
        # Left to right as on the wall, upright as on the wall.
        at = p["shape"][0].index(max(p["shape"][0]))
        assert xs[at] == max(xs)


def test_no_such_piece():
    with pytest.raises(InputError) as error:
        card(plan(), "99Z")
    problem = error.value.problems[0]
    assert (problem.field, problem.value) == ("piece", "99Z")
    assert "99Z" in problem.message and "1A" in problem.fix


@pytest.mark.parametrize("key", [None, 3, "", "99Z", ["1A"]])
def test_bad_requests_are_named(key):
    answer = json.loads(call(json.dumps({"do": "card", "plan": plan(), "piece": key})))
    assert answer["ok"] is False
    assert answer["problems"][0]["field"] == "piece"


def test_by_the_bridge():
    answer = json.loads(call(json.dumps({"do": "card", "plan": plan("in"), "piece": "5B"})))
    assert answer["ok"] is True
    assert {"title", "say", "rows", "cuts", "scribe", "sketch"} < set(answer)
