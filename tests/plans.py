"""A plan written by hand, for tests of what is drawn and told from a plan.

One wall, 3600 mm wide, courses of 200 mm (215 mm overall, the lap upward), no gaps:

- the floor steps up by 200 at x = 2400; the ceiling is y = 2400 + x/12, so it
  rises from 2400 to 2700 (a rise of 1 in 12);
- Window 1 from 800 to 1700 and 900 to 1900; Door 1 from 2700 to 3400 and 200 to 2200;
- Box 1 from 300 to 357 and 270 to 365; Light 1, round, 100 across, centre (2000, 2100);
  Box 2 from 2000 to 2130 and 950 to 1045, over the line of courses 5 and 6;
- studs every 400; the fourth leans by 30, the sixth is doubled, the ninth found at 3220.
"""

STUDS = [400, 800, 1200, 1600, 2000, 2400, 2800, 3220]
# x from 800 to 1700 is the window's, in courses 6 to 9; 2700 to 3400 the door's, in 2 to 11.


def end(kind, angle=0, long=None, **more):
    return {"kind": kind, "angle": angle, "long": long, **more}


WALL_END = end("wall end")
WINDOW = end("opening", name="Window 1")
DOOR = end("opening", name="Door 1")


def joint(stud):
    return end("joint", stud=stud, at=STUDS[stud - 1])


def box(left, low, right, high):
    return [[left, low], [right, low], [right, high], [left, high]]


def at_corner(stands, side):
    """An end that stands at the wall's end, at the corner there."""
    return {**stands, "by": f"{side} corner"} if stands["kind"] == "wall end" else stands


def piece(key, left, right, ends=(WALL_END, WALL_END), **changes):
    """A full board, square at both ends, but for `changes`."""
    course = int(key[:-1])
    bottom = 200 * (course - 1)
    long = right - left
    return {
        "id": key,
        "wall": 1,
        "course": course,
        "board": course,
        "left": left,
        "right": right,
        "length": long,
        "over": {"left": 0, "right": 0},
        "state": "to cut",
        "called": None,
        "sawn": None,
        "bottom": bottom,
        "rip": None,
        "shape": [box(0, 0, long, 215)],
        "shows": [box(left, bottom, right, bottom + 200)],
        "lengths": {"lower": long, "upper": long},
        "widths": {"left": 215, "right": 215},
        "left_end": at_corner(ends[0], "left"),
        "right_end": at_corner(ends[1], "right"),
        "cuts": [],
        "scribe": [],
        **changes,
    }


def hole(low, high, start, stop, open_at, by, kind="notch", edge="inside"):
    return {
        "kind": kind,
        "by": by,
        "edge": edge,
        "from": start,
        "to": stop,
        "low": low,
        "high": high,
        "open": open_at,
    }


def sides(course, joints=()):
    """The pieces of a course beside window and door."""
    a, b, c = (f"{course}{letter}" for letter in "ABC")
    if 6 <= course <= 9:
        return [
            piece(a, 0, 800, (WALL_END, WINDOW)),
            piece(b, 1700, 2700, (WINDOW, DOOR)),
            piece(c, 3400, 3600, (DOOR, WALL_END)),
        ]
    at = STUDS[joints[0] - 1]
    return [
        piece(a, 0, at, (WALL_END, joint(joints[0]))),
        piece(b, at, 2700, (joint(joints[0]), DOOR)),
        piece(c, 3400, 3600, (DOOR, WALL_END)),
    ]


def _pieces():
    out = [
        piece("1A", 0, 1600, (WALL_END, joint(4))),
        piece("1B", 1600, 2400, (joint(4), WALL_END)),
    ]
    for course in range(2, 12):
        out += sides(course, [{3: 4, 5: 3, 10: 3, 11: 4, 2: 5, 4: 2}.get(course, 1)])
    at = {p["id"]: p for p in out}
    # 2A, 0 to 2000: the box lies wholly in it.
    p = at["2A"]
    p["cuts"] = [hole(70, 165, 300, 357, [], "Box 1", "hole")]
    p["shape"].append([[300, 70], [300, 165], [357, 165], [357, 70]])
    p["shows"].append([[300, 270], [300, 365], [357, 365], [357, 270]])
    # 5A, 0 to 1200, and 5B, 1200 to 2700: under the window's sill; Box 2 in 5B's upper edge.
    p = at["5A"]
    p["cuts"] = [hole(100, 215, 800, 1200, ["upper", "right"], "Window 1", edge="upper")]
    p["shape"] = [[[0, 0], [1200, 0], [1200, 100], [800, 100], [800, 215], [0, 215]]]
    p["shows"] = [[[0, 800], [1200, 800], [1200, 900], [800, 900], [800, 1000], [0, 1000]]]
    p["lengths"] = {"lower": 1200, "upper": 800}
    p["widths"] = {"left": 215, "right": 100}
    p = at["5B"]
    p["cuts"] = [
        hole(100, 215, 0, 500, ["left", "upper"], "Window 1", edge="upper"),
        hole(150, 215, 800, 930, ["upper"], "Box 2", edge="upper"),
    ]
    ring = [(0, 0), (1500, 0), (1500, 215), (930, 215), (930, 150), (800, 150), (800, 215)]
    ring += [(500, 215), (500, 100), (0, 100)]
    p["shape"] = [[list(point) for point in ring]]
    p["shows"] = [[[1200 + x, 800 + min(y, 200)] for x, y in ring]]
    p["lengths"] = {"lower": 1500, "upper": 1000}
    p["widths"] = {"left": 100, "right": 215}
    # 6B, 1700 to 2700: Box 2 in its lower edge.
    p = at["6B"]
    p["cuts"] = [hole(0, 45, 300, 430, ["lower"], "Box 2", edge="lower")]
    ring = [(0, 0), (300, 0), (300, 45), (430, 45), (430, 0), (1000, 0), (1000, 215), (0, 215)]
    p["shape"] = [[list(point) for point in ring]]
    p["shows"] = [[[1700 + x, 1000 + min(y, 200)] for x, y in ring]]
    # 10A, 0 to 1200, and 10B, 1200 to 2700: over the window's head, at 100 up in them.
    p = at["10A"]
    p["cuts"] = [hole(0, 100, 800, 1200, ["lower", "right"], "Window 1", edge="lower")]
    ring = [(0, 0), (800, 0), (800, 100), (1200, 100), (1200, 215), (0, 215)]
    p["shape"] = [[list(point) for point in ring]]
    p["shows"] = [[[x, 1800 + min(y, 200)] for x, y in ring]]
    p["lengths"] = {"lower": 800, "upper": 1200}
    p["widths"] = {"left": 215, "right": 115}
    p = at["10B"]
    p["cuts"] = [hole(0, 100, 0, 500, ["left", "lower"], "Window 1", edge="lower")]
    ring = [(500, 0), (1500, 0), (1500, 215), (0, 215), (0, 100), (500, 100)]
    p["shape"] = [[list(point) for point in ring]]
    p["shows"] = [[[1200 + x, 1800 + min(y, 200)] for x, y in ring]]
    p["lengths"] = {"lower": 1000, "upper": 1500}
    p["widths"] = {"left": 115, "right": 215}
    # 11B, 1600 to 2700: the light's round hole.
    p = at["11B"]
    p["cuts"] = [
        {"kind": "round", "by": "Light 1", "edge": "inside", "centre": [400, 100], "diameter": 100}
    ]
    # 12A: over the door, from wall end to wall end, its upper edge level at 2400.
    out.append(piece("12A", 0, 1200, (WALL_END, joint(3))))
    out.append(piece("12B", 1200, 3600, (joint(3), WALL_END)))
    out += _under_the_rake()
    return out


def _under_the_rake():
    """Courses 13 and 14: the ceiling reaches 2400 at 0, 2600 at 2400 and 2700 at 3600."""
    taper = {"kind": "taper", "by": "ceiling", "edge": "upper"}
    # arctan(12) = 85.24 degrees: how far the end that the ceiling cuts is off square.
    return [
        piece(
            "13A",
            0,
            3600,
            (end("wall end", 8524, "lower"), WALL_END),
            shape=[[[0, 0], [3600, 0], [3600, 215], [2580, 215]]],
            shows=[[[0, 2400], [3600, 2400], [3600, 2600], [2400, 2600]]],
            lengths={"lower": 3600, "upper": 1020},
            widths={"left": 0, "right": 215},
            cuts=[{**taper, "points": [[0, 0], [2580, 215]]}],
            scribe=[
                {
                    "edge": "upper",
                    "marks": [
                        {"stud": 0, "along": 0, "up": 0},
                        {"stud": 1, "along": 400, "up": 33.334375},
                        {"stud": 3, "along": 1200, "up": 100},
                    ],
                }
            ],
        ),
        piece(
            "14A",
            2400,
            3600,
            (end("wall end", 8524, "lower"), WALL_END),
            rip={"width": 100, "cut": "upper", "keeps": False},
            shape=[[[0, 0], [1200, 0], [1200, 100]]],
            shows=[[[2400, 2600], [3600, 2600], [3600, 2700]]],
            lengths={"lower": 1200, "upper": 0},
            widths={"left": 0, "right": 100},
            cuts=[{**taper, "points": [[0, 0], [1200, 100]]}],
        ),
    ]


def plan(unit="mm"):
    """The plan, in a fresh copy. unit: in which it is to be told."""
    pieces = _pieces()
    courses = []
    for number in range(1, 15):
        mine = [p for p in pieces if p["course"] == number]
        runs = []
        for p in mine:
            if p["left_end"]["kind"] == "joint":
                runs[-1]["right"] = p["right"]
                runs[-1]["pieces"].append(p["id"])
                runs[-1]["joints"].append(
                    {"kind": "joint", "stud": p["left_end"]["stud"], "at": p["left"]}
                )
            else:
                run = {"left": p["left"], "right": p["right"], "joints": [], "pieces": [p["id"]]}
                runs.append(run)
        bottom = 200 * (number - 1)
        top = min(bottom + 200, 2700)
        courses.append({"number": number, "bottom": bottom, "top": top, "rip": None, "runs": runs})
    studs = [
        {"number": i + 1, "at": x, "top": x, "kind": "grid", "doubled": False}
        for i, x in enumerate(STUDS)
    ]
    studs[3]["top"] = 1630
    studs[5]["doubled"] = True
    studs[7]["kind"] = "found"
    opening = dict.fromkeys(("name", "kind", "left", "bottom", "right", "top"))
    window = ("Window 1", "window", 800, 900, 1700, 1900)
    door = ("Door 1", "door", 2700, 200, 3400, 2200)
    devices = [
        ("Box 1", "box", 300, 270, 357, 365),
        ("Box 2", "box", 2000, 950, 2130, 1045),
        ("Light 1", "round", 1950, 2050, 2050, 2150),
    ]
    wall = {
        "name": "Wall 1",
        "width": 3600,
        "height": 2700,
        "floor": [[0, 0], [2400, 0], [2400, 200], [3600, 200]],
        "ceiling": [[0, 2400], [3600, 2700]],
        "left": [[0, 0], [0, 2400]],
        "right": [[3600, 200], [3600, 2700]],
        "level": 1300,
        "corner": "none",
        "corner_right": "none",
        "studs": studs,
        "openings": [dict(zip(opening, one, strict=True)) for one in (window, door)],
        "boxes": [dict(zip(opening, one, strict=True)) for one in devices],
        "blocking": [{"left": 2000, "bottom": 1200, "right": 2400, "top": 1400}],
        "courses": courses,
        "pole": {"left": [], "right": []},
        "heights": {"left": 2400, "right": 2500},
    }
    return {
        "format": "lapwright-plan",
        "version": 1,
        "title": "Hall",
        "unit": unit,
        "board": {"face": 200, "overall": 215, "thickness": 19, "edge": "lapped"},
        "rules": {"start": "floor"},
        "walls": [wall],
        "pieces": pieces,
        "boards": [],
        "warnings": [],
    }
