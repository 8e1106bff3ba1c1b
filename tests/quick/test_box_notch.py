"""Box notch: the cuts over all courses are the box and its clearance, no more, no less."""

from itertools import pairwise

import pytest

from calc.boxes import cuts, us_plate
from calc.quick.box_notch import FIELDS
from tests.quick.gen import Gen, ask

SEEDS = range(40)


def _case(seed):
    g = Gen(seed)
    face = g.sixteenths(40, 160)
    lap = g.sixteenths(1, 12)
    line = g.sixteenths(0, 2000)
    bottom = line + g.sixteenths(0, 800) - 100 * 508
    top = bottom + g.sixteenths(16, 100)
    return bottom, top, line, face, lap, bool(g.whole(0, 1))


@pytest.mark.parametrize("seed", SEEDS)
def test_each_cut_lies_within_its_board(seed):
    bottom, top, line, face, lap, up = _case(seed)
    found = cuts(bottom, top, line, face, lap, up)
    assert found
    for c in found:
        assert c.low <= c.start < c.end <= c.high
        assert c.high - c.low == face + lap
        # The course's own visible band starts on the line, whole faces away.
        visible = c.low if up else c.low + lap
        assert visible - line == (c.course - 1) * face
        kind = {
            (True, True): "split",
            (True, False): "lower",
            (False, True): "upper",
            (False, False): "hole",
        }
        assert c.kind == kind[(c.start == c.low, c.end == c.high)]


@pytest.mark.parametrize("seed", SEEDS)
def test_the_cuts_together_are_the_opening(seed):
    bottom, top, line, face, lap, up = _case(seed)
    found = cuts(bottom, top, line, face, lap, up)
    assert found[0].start == bottom
    assert found[-1].end == top
    for one, other in pairwise(found):
        assert other.course == one.course + 1
        # Boards overlap by the lap, so neighbouring cuts meet or overlap by at most it.
        assert other.start <= one.end <= other.start + lap
    # No board is left whole that the opening reaches into: the next ones only touch it.
    first, last = found[0], found[-1]
    assert first.high - face <= bottom
    assert last.low + face >= top


def test_a_box_that_only_touches_a_board_takes_nothing():
    assert [c.course for c in cuts(700, 1400, 0, 700, 0, True)] == [2]
    assert [c.kind for c in cuts(700, 1400, 0, 700, 0, True)] == ["split"]


@pytest.mark.parametrize("seed", range(40))
def test_marks_and_plate_follow_from_the_box(seed):
    g = Gen(seed)
    left, wide = g.sixteenths(100, 900), g.sixteenths(28, 150)
    gangs = g.whole(1, 6)
    c = g.sixteenths(0, 4)
    v = ask(
        "box-notch",
        bottom="3",
        top="6 3/4",
        left=left,
        right=left + wide,
        edge="square",
        face="5 1/8",
        clearance=c,
        gangs=str(gangs),
    )["answer"]["values"]
    assert (v["left"], v["right"]) == (left - c, left + wide + c)
    plate_width, plate_height = us_plate(gangs)
    assert v["plate sides"] == (plate_width - wide - 2 * c) // 2
    assert v["plate ends"] == (plate_height - 15 * 8128 // 4 - 2 * c) // 2


NINE = {"edge": "square", "face": "9"}


def test_sideways_turns_plate_and_ears():
    upright = {"bottom": "3", "top": "6 3/4", "left": "20", "right": "22 1/4", **NINE}
    lying = {"bottom": "3", "top": "5 1/4", "left": "20", "right": "23 3/4", **NINE}
    one = ask("box-notch", **upright)["answer"]["values"]
    other = ask("box-notch", sideways="yes", **lying)["answer"]["values"]
    assert one["ears"] == other["ears"]
    assert one["plate ends"] == other["plate sides"]
    assert one["plate sides"] == other["plate ends"]


BOX = {"left": "20", "right": "22 1/4", "face": "5 1/8", "overall": "5 3/8"}

NOTCHED = {"left": "20", "right": "22 1/4", "face": "5 1/8", "bottom": "1 3/4", "top": "5 1/2"}


@pytest.mark.parametrize(
    ("edge", "says"), [("lapped", "with its lap"), ("tongue-and-groove", "with its tongue")]
)
def test_a_board_with_a_hidden_edge_must_have_its_height_overall(edge, says):
    """Read from the upper edge of a board of 5-3/8, a notch to 1-11/16 up is 3-11/16 deep."""
    (problem,) = ask("box-notch", edge=edge, **NOTCHED)["problems"]
    assert (problem["field"], problem["value"]) == ("overall", "nothing")
    assert says in problem["fix"] and "square" in problem["fix"]
    v = ask("box-notch", edge=edge, overall="5 3/8", **NOTCHED)["answer"]["values"]
    assert v["course 1 depth"] == 59 * 8128 // 16
    for wrong in ("5 1/8", "5", "10 1/4"):
        (problem,) = ask("box-notch", edge=edge, overall=wrong, **NOTCHED)["problems"]
        assert problem["field"] == "overall" and "does not go with" in problem["message"]


def test_a_square_board_needs_no_height_overall():
    v = ask("box-notch", edge="square", **NOTCHED)["answer"]["values"]
    assert v["course 1 depth"] == 55 * 8128 // 16  # 5-1/8 - 1-11/16 = 3-7/16
    same = ask("box-notch", edge="square", overall="5 1/8", **NOTCHED)["answer"]["values"]
    assert same == v
    (problem,) = ask("box-notch", edge="square", overall="5 3/8", **NOTCHED)["problems"]
    assert problem["field"] == "overall" and "square" in problem["message"]


def test_the_edge_is_asked_before_the_two_heights():
    keys = [f.key for f in FIELDS]
    at = keys.index("edge")
    assert keys[at : at + 4] == ["edge", "face", "overall", "lap"]


def test_a_plate_that_leaves_the_cut_open_says_by_how_much():
    """A cut 4-1/8 wide under a plate of 2-3/4: 11/16 is open on either side."""
    rows = ask("box-notch", edge="square", **{**NOTCHED, "right": "24"})["answer"]["rows"]
    assert ["Plate laps left and right", 'open by 11/16"'] in rows


@pytest.mark.parametrize("lap", ["upper", "lower"])
@pytest.mark.parametrize("bottom", ["0", "0.01 in", "1/32", "1/4"])
def test_nothing_is_cut_below_the_line_where_it_is_the_floor(bottom, lap):
    """The clearance and a course's lap would reach into a course under the floor."""
    answer = ask("box-notch", bottom=bottom, top="3 3/4", lap=lap, **BOX)["answer"]
    assert answer["values"]["courses"] == 1
    assert [r[0] for r in answer["tables"][0]["rows"]] == ["Course 1"]
    assert not any("1 below" in t for t in answer["working"])
    assert answer["working"][0].startswith('cut: 0" to') or bottom == "1/4"
    assert all(cut >= 0 for key, cut in answer["values"].items() if key.startswith("course"))


def test_a_course_under_a_line_that_is_not_the_floor_is_told_besides():
    """The cut begins 1/16 - 1/32 below the line and the lap reaches 1/4 above it: 9/32."""
    answer = ask("box-notch", bottom="1/32", top="3 3/4", **BOX)["answer"]
    told = 'nothing cut; a course there would lose 1/4" heavy (+1/32") off its upper edge'
    assert ["Below the line", told] in answer["rows"]
    high = ask("box-notch", bottom="1", top="4 3/4", **BOX)["answer"]
    assert "Below the line" not in [r[0] for r in high["rows"]]


def test_no_cut_and_no_course_is_under_the_floor():
    """The line is 2 up: the course below it shows 2, and the next would be under the floor."""
    answer = ask("box-notch", bottom="0", top="3 3/4", line="2", **BOX)["answer"]
    assert [r[0] for r in answer["tables"][0]["rows"]] == ["1 below", "Course 1"]
    v = answer["values"]
    # Its board is read as a whole one, lower edge 5-1/8 below the line: 3-1/8 under the floor.
    assert v["course 0 from"] == 25 * 8128 // 8
    assert answer["working"][0].startswith('cut: 0" to 3-13/16" up')
