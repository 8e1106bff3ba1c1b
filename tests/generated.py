"""Jobs with walls as rooms have them, made by hypothesis.

Each strategy makes jobs of one to three low walls, so that one takes a few
hundredths of a second to plan. They are made to be right: what can't be laid
out or measured like this is told by calc, and the tests count how often.
All lengths are drawn as whole steps: 1/16 in, or 1 mm, rarely a single jot.
"""

from hypothesis import strategies as st

INCH = 25.4
KINDS = ("window", "door", "pass-through", "radiator", "other")
# (face, overall) of a board in mm, by edge.
BOARDS = {
    "tongue-and-groove": [(130.175, 136.525), (120, 128), (88.9, 95.25), (171.45, 177.8)],
    "lapped": [(127, 146.05), (120, 145), (88.9, 114.3), (171.45, 184.15)],
    "square": [(120, 120), (139.7, 139.7)],
}
THEMES = ("roof", "floor", "corners", "openings", "boxes", "studs", "pairs", "everything")


class Draw:
    """Draws lengths in the job's unit; a job's numbers are millimetres, its texts readings."""

    def __init__(self, draw, metric):
        self.draw, self.metric = draw, metric

    def mm(self, low, high):
        """A length in mm between two, on the unit's steps."""
        step = 1 if self.metric else INCH / 16
        return self.draw(st.integers(round(low / step), round(high / step))) * step

    def odds(self, percent):
        return self.draw(st.integers(1, 100)) <= percent

    def one(self, *values):
        return self.draw(st.sampled_from(values))

    def say(self, mm):
        """A length as a job has it: a number of mm, or a tape reading with its unit."""
        if self.metric:
            return round(mm * 320) / 320
        sixteenths = round(mm / INCH * 16)
        if abs(mm - sixteenths * INCH / 16) > 1e-6:
            return round(mm * 320) / 320
        return f"{sixteenths // 16} {sixteenths % 16}/16 in"


@st.composite
def jobs(draw, theme="everything"):
    """A job whose walls have what the theme names; everything has it all, at lesser odds."""
    metric = draw(st.booleans())
    d = Draw(draw, metric)

    def has(name):
        """Whether to give a wall the thing: mostly where the theme is that, else seldom."""
        return d.odds(85 if theme == name else 35 if theme == "everything" else 8)

    edge = d.one(*BOARDS)
    face, overall = d.one(*BOARDS[edge])
    stock = [d.one(2400, 3000, 3600, 96 * INCH, 144 * INCH)]
    rules = _rules(d, face)
    walls = []
    count = d.one(2, 2, 3) if has("pairs") else d.one(1, 1, 1, 2)
    for i in range(count):
        corner = "none"
        if i and has("pairs"):
            corner = d.one("inside", "outside", "mitred")
        walls.append(_wall(d, has, face, corner))
    if rules.get("courses") in ("head", "sill") and d.odds(30):
        named = [o["name"] for w in walls for o in w.get("openings", []) if "name" in o]
        rules["align"] = d.one("Window 1", *named)
    return {
        "format": "lapwright-job",
        "version": 1,
        "unit": d.one("mm", "cm", "m") if metric else d.one("in", "ft"),
        "board": {
            "face": d.say(face),
            "overall": d.say(overall),
            "edge": edge,
            "thickness": d.say(d.one(12, 19.05)),
            "stock": [{"length": d.say(s)} for s in stock],
        },
        "rules": rules,
        "walls": walls,
    }


def _rules(d, face):
    rules = {"start": d.one("floor", "ceiling"), "shortest": d.say(d.one(0, 0, 100, 200))}
    rules["courses"] = d.one("full", "full", "balanced", "head", "sill", "line")
    if rules["courses"] == "line":
        rules["line"] = d.say(d.mm(0, 2 * face))
    for key, odds, high in (
        ("end_gap", 50, 10), ("joint_gap", 30, 3), ("floor_gap", 40, 30), ("ceiling_gap", 40, 30),
        ("opening_gap", 50, 8), ("box_gap", 50, 4),
    ):  # fmt: skip
        if d.odds(odds):
            rules[key] = d.say(d.one(0, d.mm(0, high)))
    if d.odds(20):
        rules["stagger"] = d.say(d.mm(0, 100))
    return rules


def _wall(d, has, face, corner):
    width = d.mm(700, 2100)
    rows = d.draw(st.integers(2, 4))
    high = d.one(rows * face, d.mm(rows * face, (rows + 1) * face))
    wall = {"width_floor": d.say(width)}
    low = _heights(d, has, wall, width, high)
    lean = _lean(d, has, wall, width, low)
    if corner != "none":
        wall["corner"] = corner
    wall["studs"] = _studs(d, has, width, lean)
    if has("openings"):
        wall["openings"] = [
            _opening(d, width - 2 * abs(lean), abs(lean), low, face)
            for _ in range(d.one(1, 1, 2, 3))
        ]
    if has("boxes"):
        wall["boxes"] = [
            _box(d, width - 2 * abs(lean), abs(lean), low, face) for _ in range(d.one(1, 1, 2, 3))
        ]
    if d.odds(10):
        wall["blocking"] = [
            {"left": d.say(width / 4), "width": d.say(100), "bottom": d.say(0),
             "height": d.say(100)}
        ]  # fmt: skip
    return wall


def _heights(d, has, wall, width, high):
    """Give the wall its stations or heights. Openings may stand this high all along it."""
    sloped, uneven = has("roof"), has("floor")
    if not uneven:
        wall["height_left"] = d.say(high)
        least = high
        if sloped and d.odds(40):
            other = d.mm(high * 0.4, high * 1.5)
            wall["height_right"] = d.say(other)
            least = min(least, other)
            if d.odds(20):
                wall["level"] = "ceiling"
                return least
        if sloped and d.odds(70):
            wall.setdefault("height_right", d.say(high))
            wall["stations"] = []
            for x in _places(d, width):
                up = d.one(high, d.mm(high * 0.5, high * 1.6))
                wall["stations"].append({"at": d.say(x), "up": d.say(up)})
                least = min(least, up)
        return least
    # Down and up from a level line, roughly half-way up.
    line = high / 2
    stations = []
    least = high
    for x in [0, *_places(d, width), width]:
        down = d.one(line, line + d.mm(-12, 12), d.mm(line * 0.5, line * 1.4))
        up = d.mm(line * 0.5, line * 1.5) if sloped else line + d.one(0, d.mm(-10, 10))
        station = {"at": d.say(x), "down": d.say(down), "up": d.say(up)}
        if x not in (0, width) and d.odds(40):
            del station[d.one("down", "up")]
        stations.append(station)
        least = min(least, down + up)
    wall["stations"] = stations
    return line * 0.5


def _places(d, width):
    """Places for stations between the corners; some twice, for a step."""
    out = []
    for _ in range(d.one(1, 1, 2, 3)):
        x = d.one(d.mm(50, width - 50), width / 2 // 1)
        x = round(x / (1 if d.metric else INCH / 16)) * (1 if d.metric else INCH / 16)
        if x not in out:
            out.append(x)
    out.sort()
    twice = [x for x in out if d.odds(30)]
    return sorted(out + twice)


def _lean(d, has, wall, width, low):
    """Corners out of plumb. The left one's lean, positive into the wall."""
    lean = 0.0
    if has("corners"):
        way = d.one("in", "out", "plumb")
        wall["left_corner"] = way
        if way != "plumb":
            reading = d.one(d.mm(0, 30), d.mm(0, 150))
            lean = reading if way == "in" else -reading
            wall["left_lean"] = d.say(reading)
        if way != "plumb" or d.odds(70):
            wall["width_top"] = d.say(width + d.one(d.mm(-30, 30), d.mm(-200, 150)) - max(lean, 0))
        if d.odds(40):
            wall["width_middle"] = d.say(width + d.mm(-40, 30) - max(lean, 0) / 2)
    return lean


def _studs(d, has, width, lean):
    spacing = d.one(400, 450, 600, 16 * INCH, 24 * INCH, 19.2 * INCH)
    first = d.mm(40, 400)
    studs = {"first": d.say(first), "spacing": d.say(spacing)}
    if abs(spacing - 19.2 * INCH) < 1e-6:
        studs["spacing"] = "19.2 in"
    if not has("studs"):
        return studs
    grid = [first + k * spacing for k in range(10) if 0 < first + k * spacing < width]
    if abs(spacing - 19.2 * INCH) < 1e-6 or not grid:
        return studs
    if d.odds(40):
        studs["first_top"] = d.say(max(0, first - lean + d.mm(-40, 40)))
    if d.odds(50):
        x = d.one(*grid)
        studs["leaning"] = [{"at": d.say(x), "top": d.say(max(0, x - lean + d.mm(-60, 60)))}]
    if d.odds(30):
        studs["doubled"] = [d.say(d.one(*grid))]
    if d.odds(30):
        studs["found"] = [d.say(d.mm(30, width - 30))]
    if d.odds(20) and "leaning" not in studs and "doubled" not in studs and len(grid) > 1:
        studs["missing"] = [d.say(grid[0])]
    return studs


def _opening(d, room, left, low, face):
    """An opening in the sure part of the wall: wide `room` from `left`, `low` high."""
    kind = d.one(*KINDS)
    wide = d.mm(60, room * 0.6)
    x = left + d.one(0, d.mm(0, room - wide), room - wide)
    out = {"kind": kind, "left": d.say(x), "width": d.say(wide)}
    if d.odds(30):
        out["name"] = f"Gap {d.draw(st.integers(1, 10**9))}"
    high = min(d.one(d.mm(30, low), face, 2 * face, low), low * 0.95)
    out["height"] = d.say(high)
    if kind != "door":
        out["bottom"] = d.say(
            d.one(0, d.mm(0, max(0, low - high) * 0.9), face if high + face < low else 0)
        )
    return out


def _box(d, room, left, low, face):
    by = d.one("gangs", "edges", "diameter")
    out = {"by": by}
    if by == "gangs":
        standard = d.one("us", "uk", "eu")
        gangs = d.one(1, 1, 2)
        out["standard"], out["gangs"] = standard, gangs
        half = 75.0 if gangs == 2 else 48.0
    elif by == "diameter":
        half = d.mm(15, 60)
        out["diameter"] = d.say(2 * half)
    else:
        wide, high = d.mm(20, 120), d.mm(20, 120)
        x, y = left + d.mm(0, max(1, room - wide)), d.one(0, face, d.mm(0, max(1, low - high)))
        out.update(left=d.say(x), bottom=d.say(min(y, max(0, low - high))), width=d.say(wide),
                   height=d.say(high))  # fmt: skip
        return out
    out["centre"] = d.say(left + d.mm(half, max(half, room - half)))
    out["middle"] = d.say(d.one(face, d.mm(half, max(half, low - half))))
    return out
