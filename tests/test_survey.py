"""What stands there, from the readings: arithmetic written out, and the definitions by fractions.

Source of every expected value: plane geometry, worked beside it; one inch is
8128 jots.
"""

import random
from fractions import Fraction as F
from itertools import pairwise
from math import floor as whole

import pytest

from calc.job import check_job, complete_walls, needs, read_job
from calc.problems import InputError
from calc.survey import ceiling_at, face, faces, floor_at, lift, stray_marks, stud_at
from tests.jobs import job

INCH = 8128


def wall(**parts):
    """A wall 160 by 96 in with studs at 16; None takes a field out."""
    doc = {"height_left": "96", "width_floor": "160", "studs": {"first": "16", "spacing": "16"}}
    doc.update(parts)
    return {k: v for k, v in doc.items() if v is not None}


def stand(*walls, **changes):
    doc = job(walls=list(walls), **changes)
    assert check_job(doc) == []
    return faces(read_job(doc))


def inches(points):
    return [(x / INCH, y / INCH) for x, y in points]


def test_a_plain_wall_is_its_rectangle():
    (f,) = stand(wall())
    assert inches(f.floor) == [(0, 0), (160, 0)]
    assert inches(f.ceiling) == [(0, 96), (160, 96)]
    assert inches(f.left) == [(0, 0), (0, 96)]
    assert inches(f.right) == [(160, 0), (160, 96)]
    assert f.level is None
    assert [(s.number, s.at / INCH, s.top / INCH, s.kind, s.doubled, s.lean) for s in f.studs] == [
        (n, 16 * n, 16 * n, "grid", False, 0) for n in range(1, 10)
    ]


def test_two_heights_slope_the_ceiling_or_the_floor():
    """96 at the left and 97 at the right: the one that is level says where the inch is."""
    (f,) = stand(wall(height_right="97"))
    assert inches(f.floor) == [(0, 0), (160, 0)]
    assert inches(f.ceiling) == [(0, 96), (160, 97)]
    (f,) = stand(wall(height_right="97", level="ceiling"))
    assert inches(f.floor) == [(0, 1), (160, 0)]
    assert inches(f.ceiling) == [(0, 97), (160, 97)]


def test_a_gable_at_4_in_12():
    """Run 84 in at 4:12 rises 28 in: 96 + 28 = 124; half-way, at 42, it is 110."""
    peak = {"at": "84", "up": "124"}
    (f,) = stand(wall(width_floor="168", stations=[peak]))
    assert inches(f.ceiling) == [(0, 96), (84, 124), (168, 96)]
    assert ceiling_at(f, 42 * INCH) == 110 * INCH
    assert ceiling_at(f, 126 * INCH) == 110 * INCH


def test_a_station_takes_the_place_of_a_height_at_an_end():
    ends = [{"at": "0", "up": "90"}, {"at": "80", "up": "93"}]
    (f,) = stand(wall(height_left=None, stations=ends))
    assert inches(f.ceiling) == [(0, 90), (80, 93), (160, 90)]
    ends = [{"at": "160", "up": "99"}]
    (f,) = stand(wall(stations=ends))
    assert inches(f.ceiling) == [(0, 96), (160, 99)]


STEP = [
    {"at": "0", "down": "40", "up": "56"},
    {"at": "60", "down": "40 1/2"},
    {"at": "60", "down": "33"},
    {"at": "160", "down": "33", "up": "57"},
]


def test_readings_from_a_level_line_with_a_step():
    """The lowest floor is 40-1/2 under the line, so the line is at y = 40-1/2.

    Floor: 40-1/2 - 40 = 1/2, 0, then 40-1/2 - 33 = 7-1/2. Ceiling: 40-1/2 + 56
    = 96-1/2 and 97-1/2; at 60 it is 96-1/2 + 60/160 = 96-7/8.
    """
    (f,) = stand(wall(height_left=None, stations=STEP))
    assert f.level == 40.5 * INCH
    assert inches(f.floor) == [(0, 0.5), (60, 0), (60, 7.5), (160, 7.5)]
    assert inches(f.ceiling) == [(0, 96.5), (160, 97.5)]
    at = 60 * INCH
    assert [floor_at(f, at, side) / INCH for side in (-1, 0, 1)] == [0, 0, 7.5]
    assert floor_at(f, at - INCH) == round(F(INCH, 2) / 60)  # 1/2 in over 60
    assert ceiling_at(f, at) == 96.875 * INCH
    # A step in the ceiling: the higher of both, where no side is named.
    drop = [{"at": "100", "up": "96"}, {"at": "100", "up": "88"}]
    (f,) = stand(wall(stations=drop, height_right="88"))
    assert [ceiling_at(f, 100 * INCH, side) / INCH for side in (-1, 0, 1)] == [96, 96, 88]


def test_the_left_corner_leans_and_the_ceiling_goes_on_or_ends_there():
    """2 in over its height; the ceiling falls 4 in over 160: 1/40, so 1/20 in over 2."""
    (f,) = stand(wall(height_right="92", left_corner="out", left_lean="2"))
    assert f.left == [(0, 0), (-2 * INCH, 96 * INCH + whole(F(INCH, 20) + F(1, 2)))]
    assert f.ceiling == [f.left[1], f.right[1]]
    (f,) = stand(wall(height_right="92", left_corner="in", left_lean="2"))
    assert f.left == [(0, 0), (2 * INCH, 96 * INCH - whole(F(INCH, 20) + F(1, 2)))]
    assert f.ceiling[0] == f.left[1] and len(f.ceiling) == 2


def test_the_right_corner_follows_from_the_widths():
    """Left corner out by 1 in over 96: at 48 it is at -1/2, at 96 at -1.

    Widths 160, 160-1/4, 160-1/2 so end at 160, 159-3/4 and 159-1/2.
    """
    leaning = wall(
        left_corner="out", left_lean="1", width_middle="160 1/4", width_top="160 1/2"
    )  # fmt: skip
    (f,) = stand(leaning)
    assert inches(f.left) == [(0, 0), (-1, 96)]
    assert inches(f.right) == [(160, 0), (159.75, 48), (159.5, 96)]
    assert inches(f.ceiling) == [(-1, 96), (159.5, 96)]
    # A plumb left corner, a right one that leans out: the level ceiling goes on.
    (f,) = stand(wall(width_top="161"))
    assert inches(f.right) == [(160, 0), (161, 96)]
    assert inches(f.ceiling) == [(0, 96), (161, 96)]


def test_openings_stand_on_the_floor_below_their_left_edge():
    """A floor that rises from 0 to 4 in over 160: at 40 it is 1, at 80 it is 2."""
    parts = [
        {"left": "40", "width": "40", "bottom": "36", "height": "48"},
        {"kind": "door", "left": "80", "width": "32", "height": "80"},
        {"kind": "other", "left": "120", "width": "8", "height": "10"},
        {"kind": "window", "name": "North", "left": "130", "width": "8", "height": "10"},
        {"kind": "window", "left": "140", "width": "8", "height": "10"},
    ]
    sloped = wall(height_left="96", height_right="92", level="ceiling", openings=parts)
    (f,) = stand(sloped)
    assert [r.name for r in f.openings] == ["Window 1", "Door 1", "Opening 1", "North", "Window 3"]
    assert [r.kind for r in f.openings[:3]] == ["window", "door", "other"]
    assert [v / INCH for v in f.openings[0][2:]] == [40, 37, 80, 85]
    # The door's top is 2 + 80; its foot the lowest floor under it, at its left edge.
    assert [v / INCH for v in f.openings[1][2:]] == [80, 2, 112, 82]


def test_a_door_across_a_step_reaches_the_lower_floor():
    door = {"kind": "door", "left": "50", "width": "20", "height": "60"}
    (f,) = stand(wall(height_left=None, stations=STEP, openings=[door]))
    (r,) = f.openings
    assert r.bottom == 0 and r.top == 60 * INCH + round(F(INCH, 2) * 10 / 60)


def test_boxes_by_gangs_by_edges_and_round():
    """US: one gang 2-1/4 by 3-3/4, three 2-1/4 + 2 x 1-13/16 = 5-7/8 (from memory; pitch NEMA).

    UK: two gangs 75 + 60.3 = 135.3 by 75 mm; continental: two 68 + 71 = 139 by 68 mm (from memory).
    """
    made = [
        {"centre": "40", "middle": "12"},
        {"centre": "40", "middle": "44", "gangs": 3, "name": "Switches"},
        {"centre": "2000 mm", "middle": "300 mm", "standard": "uk", "gangs": 2},
        {"centre": "2000 mm", "middle": "700 mm", "standard": "eu", "gangs": "2"},
        {"by": "diameter", "diameter": "3 1/2", "centre": "100", "middle": "60"},
        {"by": "edges", "left": "120", "bottom": "10", "width": "3", "height": "4"},
    ]
    (f,) = stand(wall(boxes=made))
    assert [(r.name, r.kind) for r in f.boxes] == [
        ("Box 1", "box"), ("Switches", "box"), ("Box 3", "box"), ("Box 4", "box"),
        ("Box 5", "round"), ("Box 6", "box"),
    ]  # fmt: skip
    sides = [[v / INCH for v in r[2:]] for r in f.boxes]
    assert sides[0] == [38.875, 10.125, 41.125, 13.875]
    assert sides[1] == [37.0625, 42.125, 42.9375, 45.875]
    assert [v / 320 for v in f.boxes[2][2:]] == [1932.35, 262.5, 2067.65, 337.5]
    assert [v / 320 for v in f.boxes[3][2:]] == [1930.5, 666, 2069.5, 734]
    assert sides[4] == [98.25, 58.25, 101.75, 61.75]
    assert sides[5] == [120, 10, 123, 14]


def test_studs_lean_by_the_first_mark_or_by_their_own():
    """First 16 at the floor and 16-1/2 at the ceiling: every grid stud leans 1/2 in.

    Read from the left corner there, which leans 1 in outwards: 16-1/2 - 1 is 15-1/2, 1/2 back.
    """
    own = {"first": "16", "spacing": "16", "first_top": "16 1/2", "found": ["47 3/4"],
           "leaning": [{"at": "63", "top": "66"}], "doubled": ["80 1/2"]}  # fmt: skip
    (f,) = stand(wall(studs=own))
    assert [s.lean / INCH for s in f.studs] == [0.5, 0.5, 0, 2, 0.5, 0.5, 0.5, 0.5, 0.5]
    assert [s.kind for s in f.studs].index("found") == 2
    assert [s.number for s in f.studs if s.doubled] == [5]
    assert f.studs[3].top == 66 * INCH
    assert stud_at(f.studs[0], f, 24 * INCH) == 16.125 * INCH  # a quarter of the way up
    assert stud_at(f.studs[2], f, 24 * INCH) == 47.75 * INCH
    (f,) = stand(wall(studs=own, left_corner="out", left_lean="1"))
    assert [s.lean / INCH for s in f.studs[:4]] == [-0.5, -0.5, 0, 1]


def test_marks_that_are_no_stud_and_leans_beyond_a_spacing():
    """An eighth of the spacing, 2 in at 16, is the limit: common practice, no source."""
    own = {"first": "16", "spacing": "16", "doubled": ["16", "56"],
           "leaning": [{"at": "50", "top": "48"}, {"at": "87", "top": "80"}]}  # fmt: skip
    read = read_job(job(walls=[wall(studs=own)]))
    told = stray_marks(read)
    assert [p.field for p in told] == ["walls[0].studs.leaning[1].at", "walls[0].studs.doubled[1]"]
    assert 'nearest marks are 80" and 96"' in told[0].message
    with pytest.raises(ValueError, match="no stud"):
        face(read, 0)
    own = {"first": "16", "spacing": "16", "leaning": [{"at": "48", "top": "65"}]}
    (problem,) = stray_marks(read_job(job(walls=[wall(studs=own)])))
    assert (problem.field, problem.value) == ("walls[0].studs.leaning[0].top", '65"')
    assert "more than a spacing" in problem.message and problem.fix
    own["leaning"] = [{"at": "48", "top": "64"}]
    assert stray_marks(read_job(job(walls=[wall(studs=own)]))) == []


def test_walls_that_continue_share_the_corner_of_their_floors():
    """First: floor 4 in up at its right end. Second: its own zero lies 1 in under its left end.

    So its zero is 4 - 1 = 3 over the first's; the third's, level, 3 + 0 + its floor.
    """
    first = wall(height_right="92", level="ceiling")
    second = wall(height_right="97", level="ceiling", corner="inside")
    third = wall(corner="outside")
    read = read_job(job(walls=[first, second, third, wall()]))
    assert [lift(read, i) / INCH for i in range(4)] == [0, 3, 3, 0]
    assert [w.corner_right for w in read.walls] == ["inside", "outside", "none", "none"]


def test_a_partial_survey_gives_the_walls_that_lack_nothing():
    doc = job(walls=[wall(), {}, wall(corner="inside"), wall(corner="mitred"), wall(name="Last")])
    assert complete_walls(doc) == [0, 4]
    read = read_job(doc)
    assert [(w.name, w.index) for w in read.walls] == [("Wall 1", 0), ("Last", 4)]
    assert [p for p, _ in needs(doc)] == [
        "walls[1].height_left", "walls[1].width_floor", "walls[1].studs.first",
        "walls[1].studs.spacing", "walls[2].corner", "walls[3].corner",
    ]  # fmt: skip
    assert needs(doc)[-1][1] == "Wall 4 continues Wall 3: measure Wall 3 first."
    doc["walls"] = [{}, {}]
    assert complete_walls(doc) == []
    with pytest.raises(InputError):
        read_job(doc)
    doc = job(walls=[wall()], rules={"courses": "line"})
    assert needs(doc)[0][0] == "rules.line"
    with pytest.raises(InputError):
        read_job(doc)


def _line(points, x):
    """y of the line at x by fractions, its ends gone on with; x is at no step."""
    pairs = [(p, q) for p, q in pairwise(points) if p[0] != q[0]]
    p, q = next(((p, q) for p, q in pairs if x <= q[0]), pairs[-1])
    return p[1] + F(q[1] - p[1], q[0] - p[0]) * (x - p[0])


def _near(value):
    return whole(value + F(1, 2))


@pytest.mark.parametrize("seed", range(60))
def test_random_walls_by_the_definitions_in_fractions(seed):
    """The same definitions by exact fractions, rounded once at the end of each."""
    r = random.Random(seed)
    width = r.randint(80, 300) * INCH + r.randint(0, INCH)
    ats = sorted(r.sample(range(INCH * 20, width - INCH * 20), r.randint(0, 5)))
    level = r.random() < 0.5
    rows = []
    for at in [0, *ats, width] if level else ats:
        s = {"at": at / 320}
        end = at in (0, width)
        if level and (end or r.random() < 0.7):
            s["down"] = r.randint(30 * INCH, 40 * INCH) / 320
        if end or "down" not in s or r.random() < 0.7:
            s["up"] = (50 + (0 if level else 44)) * 25.4 + r.randint(0, 20000) / 320
        rows.append(s)
    lean = r.choice([0, r.randint(1, 3 * INCH)])
    side = r.choice(["in", "out"]) if lean else "plumb"
    middle, top = width + r.randint(-INCH, INCH), width + r.randint(-INCH, INCH)
    parts = {"stations": rows, "width_floor": width / 320, "width_middle": middle / 320,
             "width_top": top / 320, "left_corner": side, "left_lean": lean / 320}  # fmt: skip
    heights = {"height_left": None} if level else {"height_right": 2500}
    (f,) = stand(wall(**parts, **heights))
    at = {k: [(round(s["at"] * 320), round(s[k] * 320)) for s in rows if k in s]
          for k in ("down", "up")}  # fmt: skip
    if level:
        line = max(y for _, y in at["down"])
        floor = [(x, line - y) for x, y in at["down"]]
        ceiling = [(x, line + y) for x, y in at["up"]]
        assert f.level == line
    else:
        floor = [(0, 0), (width, 0)]
        ceiling = [(0, 96 * INCH), *at["up"], (width, 800000)]
    assert f.floor == floor and min(y for _, y in f.floor) == 0
    x = {"plumb": 0, "in": lean, "out": -lean}[side]
    head = (x, _near(_line(ceiling, x)))
    assert f.left == [floor[0], head]

    def corner(y):
        return _near(F(x * (y - floor[0][1]), head[1] - floor[0][1]))

    half = _near(F(floor[-1][1] + ceiling[-1][1], 2))
    end = corner(ceiling[-1][1]) + top
    assert f.right == [
        floor[-1], (corner(half) + middle, half), (end, _near(_line(ceiling, end))),
    ]  # fmt: skip
    assert f.ceiling == [
        head,
        *[p for p in ceiling if max(x, 0) < p[0] < min(end, width)],
        f.right[-1],
    ]
    for _ in range(20):
        at_x = r.randint(0, width)
        assert floor_at(f, at_x) == _near(_line(floor, at_x))
        # The points at its ends are whole jots, so within one of the readings' own line.
        assert abs(ceiling_at(f, at_x) - _line(ceiling, at_x)) <= 1
    for s in f.studs:
        y = r.randint(0, 100 * INCH)
        assert stud_at(s, f, y) == s.at == s.top


def _any_wall(r, i):
    """A wall of random parts: most of them right, some missing, a few wrong."""

    def some(*values):
        value = r.choice(values)
        return r.choice([None, "", "x", -3, [], True]) if r.random() < 0.01 else value

    def parts(most, make):
        return [make() for _ in range(r.randint(0, most))]

    def length(lo, hi):
        return some(str(r.randint(lo, hi)), f"{r.randint(lo, hi)} {r.randint(1, 15)}/16")

    w = {"width_floor": "160", "height_left": length(80, 99),
         "studs": {"first": "16", "spacing": some("16", "19.2", "24")}}  # fmt: skip
    if r.random() < 0.4:
        w["height_right"] = length(80, 99)
    if r.random() < 0.4:
        w["level"] = some("floor", "ceiling")
    for key in ("width_top", "width_middle"):
        if r.random() < 0.4:
            w[key] = length(155, 165)
    if r.random() < 0.5:
        w["left_corner"] = some("in", "out", "plumb")
        w["left_lean"] = some("1/2", "3", "30", None)
    if r.random() < 0.5:
        w["corner"] = some("inside", "outside", "mitred", "none")
    if r.random() < 0.6:
        down = r.random() < 0.5
        ats = sorted(r.choices(range(0, 161, 20), k=r.randint(0, 4)))
        w["stations"] = [{"at": str(at), "up": length(50, 99)} for at in ats]
        if down:
            w.pop("height_left")
            w.pop("height_right", None)
            inner = [s for s in w["stations"] if s["at"] not in ("0", "160")]
            w["stations"] = [{"at": "0"}, *inner, {"at": "160"}]
            for s in w["stations"]:
                s.update(down=length(1, 40), up=length(40, 60))
                if r.random() < 0.1:
                    s.pop(r.choice(["up", "down", "at"]))
    w["openings"] = parts(2, lambda: {"kind": some("window", "door", "other"), "width": "20",
                                      "left": length(0, 120), "bottom": length(0, 30),
                                      "height": length(10, 60)})  # fmt: skip
    w["boxes"] = parts(2, lambda: {"by": some("gangs", "diameter"), "centre": length(5, 150),
                                   "middle": length(5, 70), "diameter": "4"})  # fmt: skip
    if r.random() < 0.4:
        w["studs"]["first_top"] = length(10, 20)
        w["studs"]["doubled"] = [length(14, 18)]
        w["studs"]["leaning"] = [{"at": length(30, 34), "top": length(20, 40)}]
    return w


def test_any_survey_is_told_what_is_wrong_or_stands():
    """No document ends in an error of ours; a wall that stands has its floor under its ceiling."""
    stood = wrong = lacking = 0
    for seed in range(400):
        r = random.Random(seed)
        doc = job(walls=[_any_wall(r, i) for i in range(r.randint(1, 3))])
        problems = check_job(doc)
        whole = complete_walls(doc)
        if problems:
            wrong += 1
            assert all(p.message.endswith(".") and p.fix.endswith(".") for p in problems)
            continue
        lacking += bool(needs(doc))
        if not whole:
            continue
        read = read_job(doc)
        assert [w.index for w in read.walls] == whole
        if stray_marks(read):
            continue
        for i, f in enumerate(faces(read)):
            stood += 1
            assert min(y for _, y in f.floor) == 0
            if read.walls[i].corner == "none":
                assert lift(read, i) == 0
            assert (f.left[0], f.right[0]) == (f.floor[0], f.floor[-1])
            assert (f.left[-1], f.right[-1]) == (f.ceiling[0], f.ceiling[-1])
            for x in range(max(0, f.left[-1][0]), min(f.floor[-1][0], f.right[-1][0]), 50000):
                assert floor_at(f, x) < ceiling_at(f, x)
            for line in (f.floor, f.ceiling):
                assert [p[0] for p in line] == sorted(p[0] for p in line)
            assert all(o.bottom < o.top and o.left < o.right for o in f.openings + f.boxes)
            assert [s.at for s in f.studs] == sorted(s.at for s in f.studs)
    assert stood > 100 and wrong > 50 and lacking > 20
