"""The job file: what is wrong names field, value and fix; a draft only has needs."""

import pytest

from calc.job import check_job, needs, read_job
from calc.lengths import JOTS_PER_INCH, JOTS_PER_MM
from calc.problems import InputError
from calc.switch import in_unit
from tests.jobs import job

INCH, MM = JOTS_PER_INCH, JOTS_PER_MM


def _w(**fields):
    return {"walls[0]__" + key: value for key, value in fields.items()}


def _at(at, n=None, **readings):
    """A station, and another like it at n."""
    return _w(stations=[{"at": at, **readings}] + ([{"at": n, **readings}] if n else []))


def _opening(boxes=None, **fields):
    whole = {"left": "40", "width": "30", "bottom": "36", "height": "40", **fields}
    return _w(openings=[whole], **({"boxes": boxes} if boxes else {}))


def _box(**fields):
    return _w(boxes=[{"centre": "40", "middle": "44", **fields}])


# change, then the field, the value shown, and words of message and of fix
BAD = [
    ({"walls[0]__studs__frist": "16"}, "walls[0].studs.frist", "16", "not a field", '"first"'),
    ({"titel": "x"}, "titel", "x", "not a field", '"title"'),
    ({"rules__zzz": 1}, "rules.zzz", "1", "not a field", "Use start"),
    ({"format": "lapwright-plan"}, "format", "lapwright-plan", "not a lapwright-job", "Give"),
    ({"version": 2}, "version", "2", "not known", "newer"),
    ({"version": True}, "version", "true", "not known", "1"),
    ({"unit": "inch"}, "unit", "inch", "not one of the choices", "in, ft, mm"),
    ({"title": "x" * 81}, "title", "x" * 37 + "...", "81 characters", "80"),
    ({"title": 5}, "title", "5", "not text", "text"),
    ({"board": []}, "board", "a list", "not an object", "object"),
    ({"board__face": "5 1/7"}, "board.face", "5 1/7", "no 1/7", "nearest"),
    ({"board__face": True}, "board.face", "true", "not a length", "tape reading"),
    ({"board__face": 5}, "board.face", "5 mm", "out of range", "Give"),
    ({"board__face": -5}, "board.face", "-5 mm", "out of range", "Give"),
    ({"board__face": float("nan")}, "board.face", "nan mm", "out of range", "Give"),
    ({"board__face": 1e300}, "board.face", "1e+300 mm", "out of range", "Give"),
    ({"board__overall": "5"}, "board.overall", '5"', "less than the face", '5-1/8"'),
    ({"board__overall": "11"}, "board.overall", '11"', "twice the face", '10-1/4"'),
    ({"board__edge": "square"}, "board.overall", '5-3/8"', "square", '5-1/8"'),
    ({"board__edge": "laped"}, "board.edge", "laped", "choices", '"lapped"'),
    ({"board__stock": "144"}, "board.stock", "144", "not a list", "list"),
    ({"board__stock[0]__length": "8 yd"}, "board.stock[0].length", "8 yd", "not a unit", "Use in"),
    ({"board__stock[0]__price": "1,234"}, "board.stock[0].price", "1,234", "not money", "12.50"),
    ({"board__stock[0]__price": "12.345"}, "board.stock[0].price", "12.345", "not money", "12.50"),
    ({"board__stock[0]__price": "1.234,50"}, "board.stock[0].price", "1.234,50", "money", "12.50"),
    ({"board__stock[0]__price": "12."}, "board.stock[0].price", "12.", "not money", "12.50"),
    ({"board__stock[0]__price": ".5"}, "board.stock[0].price", ".5", "not money", "12.50"),
    ({"board__stock[0]__price": "-3"}, "board.stock[0].price", "-3", "not money", "12.50"),
    ({"board__stock[0]__price": "1e3"}, "board.stock[0].price", "1e3", "not money", "12.50"),
    ({"board__stock[0]__price": "free"}, "board.stock[0].price", "free", "not money", "12.50"),
    ({"board__stock[0]__price": " "}, "board.stock[0].price", " ", "not money", "12.50"),
    ({"board__stock[0]__price": "\u0662"}, "board.stock[0].price", "\u0662", "money", "12.50"),
    ({"board__stock[0]__price": "9" * 12}, "board.stock[0].price", "9" * 12, "range", "0 to 1"),
    ({"board__stock[0]__price": True}, "board.stock[0].price", "true", "not money", "12.50"),
    ({"board__stock[0]__price": []}, "board.stock[0].price", "a list", "not money", "12.50"),
    ({"board__stock[0]__count": "7.5"}, "board.stock[0].count", "7.5", "not a whole", "like 12"),
    ({"board__stock[0]__count": "seven"}, "board.stock[0].count", "seven", "a whole", "like 12"),
    ({"board__stock[0]__count": "100001"}, "board.stock[0].count", "100001", "range", "0 to"),
    ({"board": None}, "board", "nothing", "not an object", "leave"),
    ({"board": ""}, "board", "", "not an object", "leave"),
    ({"rules": None}, "rules", "nothing", "not an object", "leave"),
    ({"walls": None}, "walls", "nothing", "not a list", "leave"),
    ({"walls": ""}, "walls", "", "not a list", "leave"),
    ({"board__stock": None}, "board.stock", "nothing", "not a list", "leave"),
    ({"walls[0]__studs": None}, "walls[0].studs", "nothing", "not an object", "leave"),
    ({"walls[0]__studs__found": None}, "walls[0].studs.found", "nothing", "not a list", "leave"),
    ({"walls": [None]}, "walls[0]", "nothing", "not an object", "Give"),
    ({"board__stock[0]__price": 1.234}, "board.stock[0].price", "1.234", "decimals", "two"),
    ({"board__stock[0]__count": 1.5}, "board.stock[0].count", "1.5", "decimals", "whole"),
    ({"board__stock[0]__count": -1}, "board.stock[0].count", "-1", "out of range", "0 to"),
    ({"board__stock[0]__count": 0}, "board.stock", "0", "no board", "1 or more"),
    ({"rules__kerf": "1"}, "rules.kerf", "1", "out of range", '0" to'),
    ({"rules__start": "left"}, "rules.start", "left", "choices", "floor, ceiling"),
    ({"walls[0]__height_left": "1"}, "walls[0].height_left", "1", "out of range", "Give"),
    ({"walls[0]__width_floor": "101 m"}, "walls[0].width_floor", "101 m", "range", "Give"),
    ({"walls[0]__studs__first": "165"}, "walls[0].studs.first", '165"', "inside", '164-1/2"'),
    ({"walls[0]__studs__spacing": "0"}, "walls[0].studs.spacing", "0", "range", '6" to 60"'),
    ({"walls[0]__studs__found": ["8", "8"]}, "walls[0].studs.found[1]", '8"', "twice", "once"),
    ({"walls[0]__studs__found": "8"}, "walls[0].studs.found", "8", "not a list", "list"),
    ({"walls[0]__studs__missing": ["170"]}, "walls[0].studs.missing[0]", '170"', "inside", "less"),
    ({"walls": [{"name": "A"}, {"name": "A"}]}, "walls[1].name", "A", "taken", "own"),
    ({"walls": [{}] * 41}, "walls", "a list", "41", "40"),
    ({"walls[0]__width_floor": "99 m", "walls[0]__studs__spacing": "6"},
     "walls[0].studs.spacing", '6"', "too many", "split"),
    ({"rules__floor_gap": "30", "walls[0]__height_left": "30"},
     "walls[0].height_left", '30"', "all gap", "smaller"),
    ({"rules__end_gap": "4", "walls[0]__width_floor": "8", "walls[0]__studs__first": "4"},
     "walls[0].width_floor", '8"', "all gap", "smaller"),
    ({"board__face": 10, "board__overall": 12, "walls[0]__height_left": "20 m"},
     "walls", "2001", "courses", "600"),
    ({"rules__courses": "sil"}, "rules.courses", "sil", "choices", '"sill"'),
    ({"rules__line": "x"}, "rules.line", "x", "not a unit", "Use in"),
    ({"rules__align": 5}, "rules.align", "5", "not text", "text"),
    ({"rules__opening_gap": "5"}, "rules.opening_gap", "5", "out of range", '4"'),
    ({"rules__box_gap": "1 1/2"}, "rules.box_gap", "1 1/2", "out of range", '1"'),
    ({"rules__sliver": "5"}, "rules.sliver", "5", "out of range", '4"'),
    (_w(level="wall"), "walls[0].level", "wall", "choices", "floor, ceiling"),
    (_w(left_corner="inn"), "walls[0].left_corner", "inn", "choices", '"in"'),
    (_w(left_corner="in", left_lean="50"), "walls[0].left_lean", "50", "range", "Give"),
    (_w(width_middle="2"), "walls[0].width_middle", "2", "range", "Give"),
    (_w(corner="inside"), "walls[0].corner", "inside", "first wall has none", "none"),
    (_w(corner="mitered"), "walls[0].corner", "mitered", "choices", '"mitred"'),
    (_w(stations={}), "walls[0].stations", "an object", "not a list", "list"),
    (_w(stations=[{"att": 1}]), "walls[0].stations[0].att", "1", "not a field", '"at"'),
    (_at("60", up="95", n="50"), "walls[0].stations[1].at", '50"', "left of", '60"'),
    (_at("60", up="95", n="165"), "walls[0].stations[1].at", '165"', "beyond", '164-1/2"'),
    (_at("0", up="96", n="0"), "walls[0].stations[1].at", '0"', "already", "step"),
    (_w(stations=[{"at": "9", "up": "9"}, {"at": "9", "up": "8"}, {"at": "9", "up": "7"}]),
     "walls[0].stations[2].at", '9"', "already", "right of it"),
    (_at("0", up="97"), "walls[0].height_left", '96"', "otherwise", '97"'),
    (_at("60", up="0"), "walls[0].stations[0].up", '0"', "not above the floor", "left side first"),
    (_w(height_left=None, stations=[
        {"at": 0, "down": "40", "up": "56"}, {"at": "60", "down": "40"},
        {"at": "60", "down": "0", "up": "0"}, {"at": "164 1/2", "down": "0", "up": "56"}]),
     "walls[0].stations[2].up", '0"', "not above the floor", "left side first"),
    (_at("60", up="95", down="40"), "walls[0].height_left", '96"', "beside readings down", "Take"),
    (_w(openings=[{"kind": "dor"}]), "walls[0].openings[0].kind", "dor", "choices", '"door"'),
    (_opening(left="150"), "walls[0].openings[0].width", '180"', "right corner", '164-1/2"'),
    (_opening(left="170"), "walls[0].openings[0].left", '200"', "right corner", '164-1/2"'),
    (_opening(bottom="60"), "walls[0].openings[0].height", '4"', "above the ceiling", "Check"),
    (_opening(height="0"), "walls[0].openings[0].height", "0", "out of range", "Give"),
    (_opening(name="Box 1", boxes=[{}]), "walls[0].boxes[0].name", "Box 1", "taken", "own"),
    (_w(openings=[{}, {"kind": "door"}, {"name": "Window 1"}]),
     "walls[0].openings[2].name", "Window 1", "taken", "own"),
    (_box(standard="au"), "walls[0].boxes[0].standard", "au", "no usual size", "edges"),
    (_box(gangs="0"), "walls[0].boxes[0].gangs", "0", "out of range", "1 to 10"),
    (_box(gangs=0), "walls[0].boxes[0].gangs", "0", "out of range", "1 to 10"),
    (_box(gangs=11), "walls[0].boxes[0].gangs", "11", "out of range", "1 to 10"),
    (_box(gangs=1.5), "walls[0].boxes[0].gangs", "1.5", "decimals", "whole"),
    (_box(centre="1"), "walls[0].boxes[0].centre", '1/8"', "beyond the left corner", "Check"),
    (_box(middle="1"), "walls[0].boxes[0].middle", '7/8"', "under the floor", "Check"),
    (_box(middle="95"), "walls[0].boxes[0].middle", '7/8"', "above the ceiling", "Check"),
    (_box(by="radius"), "walls[0].boxes[0].by", "radius", "choices", "gangs, edges, diameter"),
    (_w(boxes=[{"by": "diameter", "diameter": "50"}]),
     "walls[0].boxes[0].diameter", "50", "out of range", "Give"),
    (_w(blocking=[{"left": "160", "width": "8", "bottom": "1", "height": "3"}]),
     "walls[0].blocking[0].width", '168"', "right corner", '164-1/2"'),
    ({"walls[0]__studs__doubled": ["32", "32"]},
     "walls[0].studs.doubled[1]", '32"', "twice", "once"),
    ({"walls[0]__studs__doubled": ["165"]},
     "walls[0].studs.doubled[0]", '165"', "inside", '164-1/2"'),
    ({"walls[0]__studs__leaning": [{"at": "32", "top": "x"}]},
     "walls[0].studs.leaning[0].top", "x", "not a unit", "Use in"),
    ({"walls[0]__studs__leaning": [{"at": "32", "top": "33"}, {"at": "32", "top": "33"}]},
     "walls[0].studs.leaning[1].at", '32"', "twice", "once"),
    ({"walls[0]__studs__first_top": -1}, "walls[0].studs.first_top", "-1 mm", "range", "Give"),
    ({"walls[0]__stations": [{"at": "8", "up": "96"}, {"at": "8", "up": "2"}],
      "walls[0]__left_corner": "out", "walls[0]__left_lean": "30", "walls[0]__height_left": "4"},
     "walls[0].left_lean", '30"', "meets the ceiling", "Check the lean"),
    (_w(stations=[{"at": "1", "up": "90"}, {"at": "1", "up": "8"}], height_right="8",
        level="ceiling", left_corner="in", left_lean="30"),
     "walls[0].left_lean", '30"', "meets the floor", "Check the lean"),
]  # fmt: skip


@pytest.mark.parametrize(
    "changes, field, value, message, fix", BAD, ids=[f"{b[1]} {b[3]}" for b in BAD]
)
def test_what_is_wrong_is_named(changes, field, value, message, fix):
    (problem,) = check_job(job(**changes))
    assert (problem.field, problem.value) == (field, value)
    assert message in problem.message
    assert fix in problem.fix
    assert problem.message.endswith(".") and problem.fix[-1] in ".?"


def test_every_problem_is_told_not_the_first_alone():
    doc = job(board__face="x", rules__kerf="y", walls=[3])
    assert [p.field for p in check_job(doc)] == ["board.face", "rules.kerf", "walls[0]"]


@pytest.mark.parametrize(
    ("price", "count", "read"),
    [
        ("12.50", " 7", (1250, 7)),
        ("12,50", "7 ", (1250, 7)),
        (" 12,5", "007", (1250, 7)),
        ("12", "0", (1200, 0)),
        ("0.05", 7.0, (5, 7)),
        (12.5, 7, (1250, 7)),
        ("1000000", "100000", (100000000, 100000)),
        ("", "", (None, None)),
    ],
)
def test_money_and_counts_are_read_as_they_are_typed(price, count, read):
    line = {"length": "144", "price": price, "count": count}
    doc = job(board__stock=[{"length": "120"}, line])
    assert check_job(doc) == []
    assert tuple(read_job(doc).board.stock[1])[1:3] == read


@pytest.mark.parametrize(
    "path",
    ["board.face", "board.stock", "board.stock[0].length", "board", "walls", "walls[0]",
     "walls[0].height_left", "walls[0].width_floor", "walls[0].studs", "walls[0].studs.first",
     "walls[0].studs.spacing"],
)  # fmt: skip
def test_what_is_wrong_is_not_missing_too(path):
    doc = job(**{path.replace(".", "__"): "abc"})
    assert path in [p.field for p in check_job(doc)]
    assert needs(doc) == []


def test_marks_keep_their_place_after_a_bad_one():
    doc = job()
    doc["walls"][0]["studs"]["found"] = ["x", "8", "200", None, "8"]
    doc["walls"][0]["studs"]["missing"] = ["y", "8"]
    assert [p.field for p in check_job(doc)] == [
        "walls[0].studs.found[0]",
        "walls[0].studs.found[3]",
        "walls[0].studs.missing[0]",
        "walls[0].studs.found[2]",
        "walls[0].studs.found[4]",
        "walls[0].studs.missing[1]",
    ]


def _house(walls, width, height, spacing, stock, face=130):
    studs = {"first": 100, "spacing": spacing}
    wall = {"height_left": height, "width_floor": width, "studs": studs}
    board = {"face": face, "stock": [{"length": n} for n in stock]}
    return job(unit="mm", board=board, walls=[dict(wall) for _ in range(walls)])


def test_a_plan_that_would_take_too_long_is_refused_with_what_to_do():
    """A long wall on a narrow grid, boards as long as it, a hall of narrow ones, forty walls."""
    (problem,) = check_job(_house(1, 30000, 8000, 160, [2400, 3600, 4800]))
    assert (problem.field, problem.value) == ("walls", "62 courses over 187 studs")
    assert "more than can be planned at once" in problem.message
    assert "fewer walls" in problem.fix and "part of the wall" in problem.fix
    for hard in (
        _house(1, 20000, 2500, 160, [2400, 20000]),
        _house(1, 20000, 20000, 400, [4800], 35),
        _house(40, 5000, 2500, 400, [4800]),
    ):
        assert [p.field for p in check_job(hard)] == ["walls"]


@pytest.mark.parametrize(
    "doc",
    [
        _house(12, 8000, 2700, 400, [2400, 3600, 4800]),
        _house(12, 10000, 2600, 400, [3600, 4800]),
        _house(12, 5000, 2500, 600, [2400, 3000, 3600], 120),
        _house(1, 50000, 2500, 400, [2400, 4800]),
        _house(1, 14000, 2700, 160, [2400, 4800]),
    ],
)
def test_a_house_of_an_honest_size_can_be_planned(doc):
    assert check_job(doc) == []


def test_a_stock_length_twice():
    doc = job(board__stock=[{"length": "12'"}, {"length": 3657.6}])
    assert [p.field for p in check_job(doc)] == ["board.stock[1].length"]
    doc = job(board__stock=[{"length": "12'", "price": 0, "count": 3}, {"length": "12'"}])
    assert check_job(doc) == []  # leftovers beside bought ones


@pytest.mark.parametrize("doc", [None, [], "job", 3, True])
def test_what_is_no_object(doc):
    (problem,) = check_job(doc)
    assert "not an object" in problem.message


def test_a_draft_has_needs_and_no_problems():
    draft = {"format": "lapwright-job", "version": 1, "board": {"face": None}, "walls": [{}]}
    assert check_job(draft) == []
    assert [path for path, _ in needs(draft)] == [
        "board.face",
        "board.stock",
        "walls[0].height_left",
        "walls[0].width_floor",
        "walls[0].studs.first",
        "walls[0].studs.spacing",
    ]
    bare = {"format": "lapwright-job", "version": 1}
    assert [path for path, _ in needs(bare)] == ["board.face", "board.stock", "walls"]
    assert needs(job(board__stock=[{"price": 3}])) == [
        ("board.stock[0].length", "Give the length of stock 1.")
    ]
    with pytest.raises(InputError) as e:
        read_job(bare)
    assert [p.field for p in e.value.problems] == ["board.face", "board.stock", "walls"]


def test_a_starred_field_given_empty_is_still_needed():
    assert needs(job(board__face="")) == needs(job(board__face=None)) != []


def test_defaults_of_the_table_in_developers_md():
    inch = read_job(job())
    assert inch.board.thickness == 3 * INCH // 4
    r = inch.rules
    assert (r.start, r.courses) == ("floor", "full")
    assert (r.kerf, r.end_gap, r.shortest, r.least_rip) == (
        INCH // 8, INCH // 8, 16 * INCH, 2 * INCH,
    )  # fmt: skip
    assert (r.joint_gap, r.floor_gap, r.ceiling_gap, r.stagger) == (0, 0, 0, 0)
    assert (r.trim, r.reach, r.spread, r.allowance) == (0, 1, 24 * INCH, 0)
    assert inch.board.ends == "plain"
    metric = read_job(
        job(
            unit="mm",
            board__face=130,
            board__overall=136.5,
            board__stock=[{"length": "3600"}],
            walls=[
                {
                    "height_left": "2400",
                    "width_floor": "4178.3",
                    "studs": {"first": 400, "spacing": 400},
                }
            ],
        )
    )
    r = metric.rules
    assert (metric.board.thickness, r.kerf, r.end_gap) == (19 * MM, 3 * MM, 3 * MM)
    assert (r.shortest, r.least_rip, r.spread) == (400 * MM, 50 * MM, 600 * MM)
    assert metric.walls[0].width_floor == 4178.3 * MM
    assert metric.board.stock[0].length == 3600 * MM  # a bare number is in the unit


def test_records():
    read = read_job(
        job(
            board__stock=[{"length": "12'", "price": 14.4, "count": 3}],
            walls=[
                {
                    "name": "North",
                    "height_left": "96",
                    "height_right": "97",
                    "width_floor": 2540,
                    "studs": {"first": "16", "spacing": "19.2 in", "found": ["20 heavy"]},
                }
            ],
        )
    )
    assert read.board.stock == [(144 * INCH, 1440, 3, "new", "1")]
    (wall,) = read.walls
    assert (wall.height_left, wall.height_right) == (96 * INCH, 97 * INCH)
    assert (wall.width_floor, wall.width_top) == (100 * INCH, 100 * INCH)
    assert wall.studs.found == [20 * INCH + INCH // 32]
    assert wall.name == "North" and read_job(job()).walls[0].name == "Wall 1"


def _needs(**fields):
    doc = job(**_w(**fields))
    assert check_job(doc) == []
    return [path.replace("walls[0].", "") for path, _ in needs(doc)]


def test_what_a_real_wall_lacks_is_named():
    assert _needs(left_corner="in") == ["left_lean"]
    assert _needs(left_corner="plumb", left_lean="1") == []
    assert _needs(openings=[{}]) == ["openings[0].left", "openings[0].width", "openings[0].height"]
    assert _needs(boxes=[{}, {"by": "edges"}, {"by": "diameter"}]) == [
        "boxes[0].centre", "boxes[0].middle",
        "boxes[1].left", "boxes[1].bottom", "boxes[1].width", "boxes[1].height",
        "boxes[2].centre", "boxes[2].middle", "boxes[2].diameter",
    ]  # fmt: skip
    assert _needs(blocking=[{"left": 0}]) == [
        "blocking[0].width", "blocking[0].bottom", "blocking[0].height",
    ]  # fmt: skip
    assert _needs(**{"studs__leaning": [{}]}) == ["studs.leaning[0].at", "studs.leaning[0].top"]
    assert _needs(stations=[{}]) == ["stations[0].at", "stations[0].up"]
    assert _needs(stations=[{"at": "40"}]) == ["stations[0].up"]
    assert _needs(stations=[{"at": "0"}], height_left="96") == []
    assert _needs(stations=[{"at": "0", "up": "95"}], height_left="") == []
    assert _needs(stations=[{"at": "40", "up": "95"}], height_left=None) == ["height_left"]


def test_readings_from_a_level_line_need_both_ends():
    down = {"down": "40", "up": "56"}
    middle = {"at": "60", **down}
    assert _needs(height_left=None, stations=[middle]) == ["stations", "stations"]
    ends = [{"at": "0", "down": "40"}, middle, {"at": "164 1/2", "up": "56"}]
    assert _needs(height_left=None, stations=ends) == ["stations[0].up", "stations[2].down"]
    whole = [{"at": "0", **down}, {"at": "60", "up": "55"}, {"at": 4178.3, **down}]
    assert _needs(height_left=None, stations=whole) == []
    (said,) = [m for _, m in needs(job(**_w(height_left=None, stations=whole[:2])))]
    assert said == ("Give a station at the right corner of Wall 1, with its readings down and up.")


def test_what_another_way_of_measuring_a_box_uses_is_left_alone():
    """A box by its edges that had gangs and a standard without a size before."""
    doc = job(**_w(boxes=[{"by": "edges", "standard": "au", "gangs": 2, "left": "9", "bottom": "9",
                           "width": "4", "height": "4", "centre": "1"}]))  # fmt: skip
    assert check_job(doc) == [] and needs(doc) == []
    (box,) = read_job(doc).walls[0].boxes
    assert (box.standard, box.gangs, box.centre) == (None, None, None)


def test_a_change_of_unit_keeps_every_length_of_a_real_wall():
    """Bare numbers, sixteenths, millimetres and defaults; only the unit differs after."""
    doc = job(
        rules={"courses": "line", "line": "30 1/16"},
        **_w(
            height_left=None,
            stations=[{"at": "0", "down": "40", "up": "56 heavy"},
                      {"at": 4178.3, "down": "40 3/64", "up": 1422.5}],
            width_middle="164", width_top="165", left_corner="in", left_lean="3/8",
            studs={"first": "16", "spacing": "19.2", "first_top": "16 1/4", "doubled": ["16"],
                   "leaning": [{"at": "35.2", "top": "36"}], "found": ["52"], "missing": []},
            openings=[{"left": "60", "width": "30", "bottom": "30", "height": "40"}],
            boxes=[{"centre": "20", "middle": "12"},
                   {"by": "edges", "left": "30", "bottom": "9", "width": "3", "height": "4"},
                   {"by": "diameter", "centre": "40", "middle": "60", "diameter": "4"}],
            blocking=[{"left": "16", "width": "16", "bottom": "30", "height": "3 1/2"}],
        ),
    )  # fmt: skip
    before = read_job(doc)
    for unit in ("mm", "ft", "m", "cm", "in"):
        doc = in_unit(doc, unit)
        after = read_job(doc)
        assert after.unit == unit
        assert (after.board, after.rules, after.walls) == (
            before.board, before.rules, before.walls,
        )  # fmt: skip


def test_items_of_a_list_have_ids_of_their_own():
    doc = job(walls__0__openings=[{"id": "a"}, {"id": "a"}])
    assert [(p.field, p.value) for p in check_job(doc)] == [("walls[0].openings[1].id", "a")]
    # One without an id goes by its place, from 1.
    doc = job(walls__0__openings=[{"id": "2"}, {}])
    assert [p.field for p in check_job(doc)] == ["walls[0].openings[1].id"]
    assert check_job(job(walls__0__openings=[{"id": "b"}, {}])) == []
