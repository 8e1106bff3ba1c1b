"""The job file: what is wrong names field, value and fix; a draft only has needs."""

import pytest

from calc.job import check_job, needs, read_job
from calc.lengths import JOTS_PER_INCH, JOTS_PER_MM
from calc.problems import InputError
from tests.jobs import job

INCH, MM = JOTS_PER_INCH, JOTS_PER_MM

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
    assert tuple(read_job(doc).board.stock[1])[1:] == read


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
    """30 m by 8 m on a 160 mm grid took 12 s to plan, a hall of narrow boards even longer."""
    (problem,) = check_job(_house(1, 30000, 8000, 160, [2400, 3600, 4800]))
    assert (problem.field, problem.value) == ("walls", "62 courses over 187 studs")
    assert "more than can be planned at once" in problem.message
    assert "fewer walls" in problem.fix and "part of the wall" in problem.fix
    for hard in (
        _house(1, 20000, 2500, 160, [2400, 20000]),
        _house(1, 20000, 20000, 400, [4800], 35),
        _house(40, 5000, 1900, 400, [4800]),
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
    assert (r.shortest, r.least_rip) == (400 * MM, 50 * MM)
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
    assert read.board.stock == [(144 * INCH, 1440, 3)]
    (wall,) = read.walls
    assert (wall.height_left, wall.height_right) == (96 * INCH, 97 * INCH)
    assert (wall.width_floor, wall.width_top) == (100 * INCH, 100 * INCH)
    assert wall.studs.found == [20 * INCH + INCH // 32]
    assert wall.name == "North" and read_job(job()).walls[0].name == "Wall 1"
