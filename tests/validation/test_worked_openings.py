"""Worked walls: a window on course lines, a box across two courses, boxes inside one.

Source: plane geometry, worked by hand in the comments. Box sizes: gang pitch
1-13/16 in, NEMA WD 6 / OS 1 (published), box 2-1/4 x 3-3/4 in, UK 75 x 75 mm and
continental 68 mm at 71 mm (from memory). That the gap is left all round an
opening or a box is common practice, no source.
"""

import pytest

from tests.validation.worked import (
    course_of,
    cut,
    job,
    near,
    near_all,
    near_mm,
    only,
    outlined,
    pieces_of,
    planned,
    pole,
    q,
    rectangle,
    ripped,
)

# A wall 60 wide, 94 high; a window from 20 to 44, its sill at 38, its head at 79.
# The sill on a course line: 38 = 7 x 5-1/8 + 2-1/8, so the lines are at 2-1/8 + 5-1/8 k
# and the first course shows 2-1/8. The head: 79 - 38 = 41 = 8 x 5-1/8, a line as well.
# The ceiling: 94 - 79 = 15 = 2 x 5-1/8 + 4-3/4.
# Courses: 1 from 0 to 2-1/8; n from 2-1/8 + (n - 2) 5-1/8. 8 ends at the sill, 9 to 16 stand
# beside the window, 17 stands on the head; 19 is the last, from 89-1/4.
WINDOW = {
    "name": "Window on the lines",
    "height_left": "94",
    "width_floor": "60",
    "studs": {"first": "16", "spacing": "16"},
    "openings": [{"kind": "window", "left": "20", "width": "24", "bottom": "38", "height": "41"}],
}
RULES = {"end_gap": "1/8", "shortest": "31"}  # 2 x 31 = 62: no course has room for a joint


def _line(n):
    """The lower line of course n, from 2 on."""
    return q("2 1/8") + (n - 2) * q("5 1/8")


@pytest.mark.parametrize("courses", ["sill", "head"])
def test_lines_through_sill_and_head(courses):
    plan = planned(job([WINDOW], RULES | {"courses": courses, "opening_gap": "0"}))
    assert len(plan["walls"][0]["courses"]) == 19
    near(course_of(plan, 1)["bottom"], 0)
    near_all([course_of(plan, n)["bottom"] for n in range(2, 20)], [_line(n) for n in range(2, 20)])
    near(course_of(plan, 9)["bottom"], 38)
    near(course_of(plan, 17)["bottom"], 79)
    # 2-1/8 shows of course 1; its tongue of 1/4 stays
    ripped(course_of(plan, 1)["rip"], q("2 3/8"), "lower", True)
    ripped(course_of(plan, 19)["rip"], q("4 3/4"), "upper", False)
    outlined(
        only(plan, 1),
        [(q(x), q(y)) for x, y in (("1/8", "0"), ("59 7/8", "0"), ("59 7/8", "2 3/8"),
                                   ("1/8", "2 3/8"))],
    )  # fmt: skip
    pole(plan, "left", 38, 9, 38)
    pole(plan, "right", 79, 17, 79)


def test_without_a_gap_only_the_tongue_goes_under_the_sill():
    """Course 8, 32-7/8 to 38, tongue to 38-1/4: the tongue is in the way from 20 to 44.

    Along the board, which starts at 1/8: 19-7/8 to 43-7/8; up 5-1/8 to 5-3/8.
    """
    plan = planned(job([WINDOW], RULES | {"courses": "sill", "opening_gap": "0"}))
    piece = only(plan, 8)
    rectangle(piece, "lap", [q("19 7/8"), q("43 7/8"), q("5 1/8"), q("5 3/8")], ["upper"],
              "Window 1")  # fmt: skip
    assert len(piece["cuts"]) == 1
    outlined(
        piece,
        [(q(x), q(y)) for x, y in (("1/8", "32 7/8"), ("59 7/8", "32 7/8"), ("59 7/8", "38 1/4"),
                                   ("44", "38 1/4"), ("44", "38"), ("20", "38"),
                                   ("20", "38 1/4"), ("1/8", "38 1/4"))],
    )  # fmt: skip
    (ring,) = piece["shows"]
    near_all(ring, [(q(x), q(y)) for x, y in (("1/8", "32 7/8"), ("59 7/8", "32 7/8"),
                                              ("59 7/8", "38"), ("1/8", "38"))])  # fmt: skip
    # and the course on the head is a plain board
    assert only(plan, 17)["cuts"] == []


@pytest.mark.parametrize(
    ("gap", "left", "right"),
    [
        # 20 - 1/8 = 19-7/8 on the left, 59-7/8 - 44 = 15-7/8 on the right
        ("0", "19 7/8", "15 7/8"),
        # an eighth more off each beside the window
        ("1/8", "19 3/4", "15 3/4"),
    ],
)
def test_pieces_beside_the_window(gap, left, right):
    rules = RULES | {"courses": "line", "line": "38", "opening_gap": gap}
    plan = planned(job([WINDOW], rules))
    for n in range(9, 17):
        one, other = pieces_of(plan, n)
        near(one["length"], q(left))
        near(other["length"], q(right))
        near(one["left"], q("1/8"))
        near(other["right"], q("59 7/8"))
        near(one["bottom"], _line(n))
        assert one["left_end"]["kind"] == other["right_end"]["kind"] == "wall end"
        for end in (one["right_end"], other["left_end"]):
            assert (end["kind"], end["name"], end["angle"]) == ("opening", "Window 1", 0)


def test_a_gap_of_an_eighth_is_notched_out_of_the_boards_under_and_over():
    """Line at 38, gap 1/8: free from 19-7/8 to 44-1/8 and from 37-7/8 to 79-1/8.

    Course 8 stands on 32-7/8: 37-7/8 is 5 up. Course 17 stands on 79: 1/8 up.
    Along, from 1/8: 19-3/4 to 44.
    """
    rules = RULES | {"courses": "line", "line": "38", "opening_gap": "1/8"}
    plan = planned(job([WINDOW], rules))
    rectangle(only(plan, 8), "notch", [q("19 3/4"), 44, 5, q("5 3/8")], ["upper"], "Window 1")
    rectangle(only(plan, 17), "notch", [q("19 3/4"), 44, 0, q("1/8")], ["lower"], "Window 1")


# A wall 60 wide and 41 high: 8 courses of 5-1/8, the last without its tongue.
# Courses: 4 from 15-3/8 to 20-1/2 (tongue to 20-3/4), 5 from 20-1/2, 2 from 5-1/8 (to 10-1/2),
# 3 from 10-1/4.
# A single box centred at 31-1/8, 20-7/8 up: 2-1/4 x 3-3/4, so 30 to 32-1/4 and 19 to 22-3/4;
# with a gap of 1/16: 29-15/16 to 32-5/16, 18-15/16 to 22-13/16.
# A double box centred at 12-1/32, 7-7/8 up: 2-1/4 + 1-13/16 = 4-1/16 wide, so 10 to 14-1/16 and
# 6 to 9-3/4; with its gap 9-15/16 to 14-1/8, 5-15/16 to 9-13/16.
# A round box of 4 centred at 45, 12-13/16 up.
BOXES = {
    "name": "Boxes",
    "height_left": "41",
    "width_floor": "60",
    "studs": {"first": "16", "spacing": "16"},
    "boxes": [
        {"by": "gangs", "standard": "us", "gangs": 1, "centre": "31 1/8", "middle": "20 7/8"},
        {"by": "gangs", "standard": "us", "gangs": 2, "centre": "12 1/32", "middle": "7 7/8"},
        {"name": "Lamp", "by": "diameter", "diameter": "4", "centre": "45", "middle": "12 13/16"},
    ],
}


@pytest.fixture(scope="module")
def boxes():
    return planned(job([BOXES], RULES | {"box_gap": "1/16"}))


def test_boxes_by_gangs(boxes):
    one, two, lamp = boxes["walls"][0]["boxes"]
    sides = ("left", "bottom", "right", "top")
    near_all([one[k] for k in sides], [30, 19, q("32 1/4"), q("22 3/4")])
    near_all([two[k] for k in sides], [10, 6, q("14 1/16"), q("9 3/4")])
    near_all([lamp[k] for k in sides], [43, q("10 13/16"), 47, q("14 13/16")])
    assert [(b["name"], b["kind"]) for b in (one, two, lamp)] == [
        ("Box 1", "box"),
        ("Box 2", "box"),
        ("Lamp", "round"),
    ]


def test_a_box_across_two_courses(boxes):
    """Along the board, from 1/8: 29-13/16 to 32-3/16.

    Course 4: 18-15/16 - 15-3/8 = 3-9/16 up to the tongue's edge, 5-3/8.
    Course 5: from its lower edge up to 22-13/16 - 20-1/2 = 2-5/16.
    """
    along = [q("29 13/16"), q("32 3/16")]
    rectangle(only(boxes, 4), "notch", [*along, q("3 9/16"), q("5 3/8")], ["upper"], "Box 1")
    rectangle(only(boxes, 5), "notch", [*along, 0, q("2 5/16")], ["lower"], "Box 1")
    outlined(
        only(boxes, 4),
        [(q(x), q(y)) for x, y in (("1/8", "15 3/8"), ("59 7/8", "15 3/8"), ("59 7/8", "20 3/4"),
                                   ("32 5/16", "20 3/4"), ("32 5/16", "18 15/16"),
                                   ("29 15/16", "18 15/16"), ("29 15/16", "20 3/4"),
                                   ("1/8", "20 3/4"))],
    )  # fmt: skip


def test_a_box_inside_a_course_is_a_hole(boxes):
    """Along 9-15/16 - 1/8 = 9-13/16 to 14; up 5-15/16 - 5-1/8 = 13/16 to 4-11/16."""
    piece = only(boxes, 2)
    rectangle(piece, "hole", [q("9 13/16"), 14, q("13/16"), q("4 11/16")], [], "Box 2")
    assert len(piece["shape"]) == 2
    hole = piece["shape"][1]
    corners = [(x, y) for x in (q("9 13/16"), 14) for y in (q("13/16"), q("4 11/16"))]
    near_all(sorted(hole), corners)
    twice = sum(
        x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(hole, hole[1:] + hole[:1], strict=True)
    )
    assert twice < 0  # a hole runs clockwise
    outlined(
        piece,
        [(q(x), q(y)) for x, y in (("1/8", "5 1/8"), ("59 7/8", "5 1/8"), ("59 7/8", "10 1/2"),
                                   ("1/8", "10 1/2"))],
    )  # fmt: skip


def test_a_round_box_inside_a_course(boxes):
    """Centre 45 - 1/8 along, 12-13/16 - 10-1/4 = 2-9/16 up; 4 and a gap of 1/16 all round."""
    one = cut(only(boxes, 3), kind="round")
    near_all(one["centre"], [q("44 7/8"), q("2 9/16")])
    near(one["diameter"], q("4 1/8"))
    assert one["by"] == "Lamp"


def test_the_other_courses_have_no_cut(boxes):
    for n in (1, 6, 7):
        assert only(boxes, n)["cuts"] == []
    # 41 = 8 x 5-1/8: the last course only loses its tongue
    assert len(boxes["walls"][0]["courses"]) == 8
    ripped(course_of(boxes, 8)["rip"], q("5 1/8"), "upper", False)


def test_metric_boxes_with_the_default_gaps():
    """Lapped, face 120 and overall 135 mm; end gap 3, box gap 1.5 mm by default.

    Continental double, 68 + 71 = 139 x 68, centred at 400, 180 up: 330.5 to 469.5, 146 to 214;
    with its gap 329 to 471, 144.5 to 215.5. Course 2 stands on 120: along 326 to 468, up 24.5
    to 95.5. UK single, 75 x 75, centred at 1000, 300 up: 962.5 to 1037.5, 262.5 to 337.5; with
    its gap 961 to 1039, 261 to 339. Course 3 stands on 240: along 958 to 1036, up 21 to 99.
    """
    wall = {
        "height_left": 960,
        "width_floor": 1500,
        "studs": {"first": 400, "spacing": 400},
        "boxes": [
            {"by": "gangs", "standard": "eu", "gangs": 2, "centre": 400, "middle": 180},
            {"by": "gangs", "standard": "uk", "gangs": 1, "centre": 1000, "middle": 300},
        ],
    }
    board = {"face": 120, "overall": 135, "edge": "lapped", "stock": [{"length": 3000}]}
    plan = planned(job([wall], {"shortest": 800}, board=board, unit="mm"))
    for course, want in ((2, (326, 468, 24.5, 95.5)), (3, (958, 1036, 21, 99))):
        hole = cut(only(plan, course), kind="hole")
        for key, value in zip(("from", "to", "low", "high"), want, strict=True):
            near_mm(hole[key], value, f"{key} of course {course}")
        near_mm(only(plan, course)["length"], 1494)  # 1500 less two end gaps of 3
