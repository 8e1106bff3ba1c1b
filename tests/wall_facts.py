"""A job's readings as points in a plane, in arithmetic of the tests' own.

Nothing here shares code with calc but the reading of a tape (calc.lengths.read).
Millimetres, exact as fractions; shapely takes over where a region is wanted.
x runs right from a wall's left corner at the floor, y up from its lowest floor.
"""

import itertools
import math
from fractions import Fraction

from shapely import Polygon, box

from calc.lengths import read

JOT = Fraction(1, 320)
INCH = Fraction(254, 10)
_FAR = 3000  # mm that a bound is led on past the wall's points
_AWAY = 1000000  # mm, beyond everything
# One gang's outside in mm, and how much each further one adds. US, UK and continental sizes
# from memory; the pitches are those of NEMA WD 6, BS 4662 and common practice.
_GANGS = {
    "us": (INCH * 9 / 4, INCH * 15 / 4, INCH * 29 / 16),
    "uk": (Fraction(75), Fraction(75), Fraction(603, 10)),
    "eu": (Fraction(68), Fraction(68), Fraction(71)),
}


class Facts:
    """The job in fractions of a millimetre, defaults of DEVELOPERS.md filled in."""

    def __init__(self, job):
        self.unit = job.get("unit", "in")
        metric = self.unit not in ("in", "ft")
        rules = job.get("rules", {})

        def rule(key, inches, mm):
            return self.mm(rules[key]) if key in rules else Fraction(mm) if metric else inches

        self.kerf = rule("kerf", INCH / 8, 3)
        self.end_gap = rule("end_gap", INCH / 8, 3)
        self.joint_gap = rule("joint_gap", 0 * INCH, 0)
        self.floor_gap = rule("floor_gap", 0 * INCH, 0)
        self.ceiling_gap = rule("ceiling_gap", 0 * INCH, 0)
        self.opening_gap = rule("opening_gap", INCH / 8, 3)
        self.box_gap = rule("box_gap", INCH / 16, Fraction(3, 2))
        self.shortest = rule("shortest", 16 * INCH, 400)
        self.stagger = rule("stagger", 0 * INCH, 0)
        self.least_rip = rule("least_rip", 2 * INCH, 50)
        self.sliver = rule("sliver", INCH / 2, 13)
        self.line = rule("line", None, 0)
        self.start = rules.get("start", "floor")
        self.up = self.start == "floor"  # which way a tongue or lap points
        self.courses = rules.get("courses", "full")
        self.align = rules.get("align", "")
        board = job["board"]
        self.face = self.mm(board["face"])
        self.overall = self.mm(board.get("overall", board["face"]))
        self.hidden = self.overall - self.face
        self.thickness = self.mm(board["thickness"]) if "thickness" in board else INCH * 3 / 4
        if "thickness" not in board and metric:
            self.thickness = Fraction(19)
        self.trim = rule("trim", 0 * INCH, 0)
        self.allowance = rule("allowance", 0 * INCH, 0)
        self.reach = int(rules.get("reach", 1))
        self.matched = board.get("ends", "plain") == "matched"
        self.stock = [
            (self.mm(s["length"]), s.get("price"), s.get("count"))
            if s.get("kind", "new") == "new"
            else (self.mm(s["length"]), 0, s.get("count", 1))
            for s in board["stock"]
        ]
        self.offcuts = [s.get("kind") == "offcut" for s in board["stock"]]
        after = [w.get("corner", "none") for w in job["walls"][1:]] + ["none"]
        self.walls = [
            WallFacts(self, w, next_) for w, next_ in zip(job["walls"], after, strict=True)
        ]

    def mm(self, value):
        if isinstance(value, str):
            return read(value, self.unit) * JOT
        return nearest(Fraction(str(value)))


def nearest(mm):
    """To the nearest jot, a half upwards."""
    return Fraction(math.floor(mm / JOT + Fraction(1, 2))) * JOT


def on(p, q, x):
    """y on the straight line through two points, at x."""
    return p[1] + (q[1] - p[1]) * (x - p[0]) / (q[0] - p[0])


def at(line, x, side):
    """y of a line of points at x; at a step on its left (-1) or right (1) side.

    Beyond its ends its end stretches go on.
    """
    runs = [(p, q) for p, q in itertools.pairwise(line) if p[0] != q[0]]
    for p, q in runs:
        if x < q[0] or (side < 0 and x == q[0]):
            return on(p, q, x)
    return on(*runs[-1], x)


class WallFacts:
    """One wall: its outline, what is in it, its studs, and what of it is clad.

    floor, ceiling, left, right: points; openings, boxes, blocking: lists of
    (name, kind, left, bottom, right, top); studs: (at, top, kind, doubled);
    blocked: name -> polygon of an opening or box with its gap; bare: polygon of
    the wall within its gaps and corners; clad: that less the blocked.
    """

    def __init__(self, facts, w, after):
        self.facts = facts
        self.corner = w.get("corner", "none")
        self.width = facts.mm(w["width_floor"])
        self._lines(w)
        self._corners(w)
        self.openings = [self._opening(o, w["openings"][:i]) for i, o in rows(w, "openings")]
        self.boxes = [self._box(b, i) for i, b in rows(w, "boxes")]
        self.blocking = [self._block(b) for _, b in rows(w, "blocking")]
        self.studs = self._studs(w["studs"])
        self._clad(after)

    def _lines(self, w):
        mm = self.facts.mm
        stations = [{k: mm(v) for k, v in s.items()} for s in w.get("stations", [])]
        downs = [(s["at"], s["down"]) for s in stations if "down" in s]
        ups = [(s["at"], s["up"]) for s in stations if "up" in s]
        self.level = None
        if downs:
            self.level = max(down for _, down in downs)
            self.floor = [(x, self.level - down) for x, down in downs]
            self.ceiling = [(x, self.level + up) for x, up in ups]
            return
        if not ups or ups[0][0] > 0:
            ups.insert(0, (Fraction(0), mm(w["height_left"])))
        if ups[-1][0] < self.width:
            ups.append((self.width, mm(w["height_right"]) if "height_right" in w else ups[0][1]))
        high = max(up for _, up in ups)
        flat = [(Fraction(0), Fraction(0)), (self.width, Fraction(0))]
        if w.get("level") == "ceiling":
            self.floor = [(x, high - up) for x, up in ups]
            self.ceiling = [(x, high) for x, _ in flat]
        else:
            self.floor, self.ceiling = flat, ups

    def _corners(self, w):
        mm = self.facts.mm
        lean = {"plumb": 0, "in": 1, "out": -1}[w.get("left_corner", "plumb")]
        lean = lean * mm(w["left_lean"]) if lean else Fraction(0)
        self.left = [self.floor[0], (lean, at(self.ceiling, lean, 1))]
        low, high = self.floor[-1][1], self.ceiling[-1][1]
        self.right = [self.floor[-1]]
        if "width_middle" in w:
            y = (low + high) / 2
            self.right.append((self._left_at(y) + mm(w["width_middle"]), y))
        x = self._left_at(high) + mm(w.get("width_top", w["width_floor"]))
        self.right.append((x, at(self.ceiling, x, -1)))
        inner = [p for p in self.ceiling[1:-1] if lean < p[0] < x]
        self.ceiling = [self.left[-1], *inner, self.right[-1]]

    def _left_at(self, y):
        (x0, y0), (x1, y1) = self.left
        return x0 + (x1 - x0) * (y - y0) / (y1 - y0)

    def _floor(self, x, side):
        """y of the floor as a height is read up from it: whole jots, as every point is."""
        return nearest(at(self.floor, x, side))

    def _opening(self, o, before):
        mm = self.facts.mm
        kind = o.get("kind", "window")
        number = 1 + sum(p.get("kind", "window") == kind for p in before)
        word = "Opening" if kind == "other" else kind.capitalize()
        left = mm(o["left"])
        right = left + mm(o["width"])
        base = self._floor(left, 1)
        bottom = base + mm(o.get("bottom", 0))
        top = bottom + mm(o["height"])
        if kind == "door":
            top = base + mm(o["height"])
            under = [y for x, y in self.floor if left < x < right]
            bottom = min([base, self._floor(right, -1), *under])
        return o.get("name") or f"{word} {number}", kind, left, bottom, right, top

    def _box(self, b, i):
        mm = self.facts.mm
        name = b.get("name") or f"Box {i + 1}"
        by = b.get("by", "gangs")
        if by == "edges":
            left, wide, high = mm(b["left"]), mm(b["width"]), mm(b["height"])
            bottom = self._floor(left, 1) + mm(b["bottom"])
        else:
            if by == "diameter":
                wide = high = mm(b["diameter"])
            else:
                wide, high, pitch = _GANGS[b.get("standard", "us")]
                wide += (b.get("gangs", 1) - 1) * pitch
            centre = mm(b["centre"])
            left = nearest(centre - wide / 2)
            bottom = nearest(self._floor(centre, 1) + mm(b["middle"]) - high / 2)
        kind = "round" if by == "diameter" else "box"
        return name, kind, left, bottom, left + wide, bottom + high

    def _block(self, b):
        mm = self.facts.mm
        left = mm(b["left"])
        bottom = self._floor(left, 1) + mm(b["bottom"])
        return "", "blocking", left, bottom, left + mm(b["width"]), bottom + mm(b["height"])

    def _studs(self, s):
        mm = self.facts.mm
        first, spacing = mm(s["first"]), mm(s["spacing"])
        own = spacing / 8  # how far a reading may be from its mark (common practice)
        if abs(spacing - INCH * 96 / 5) < JOT:
            spacing = INCH * 96 / 5
        low, high = math.floor(-first / spacing), math.ceil((self.width - first) / spacing)
        grid = {k: first + k * spacing for k in range(low, high + 1)}
        grid = {k: x for k, x in grid.items() if 0 < x < self.width}
        for gone in s.get("missing", []):
            grid.pop(_mark(grid, mm(gone), own), None)
        extra = []
        for x in sorted(mm(f) for f in s.get("found", [])):
            grid.pop(_mark(grid, x, own), None)
            extra.append(x)
        marks = sorted([(x, "grid") for x in grid.values()] + [(x, "found") for x in extra])
        places = {i: x for i, (x, _) in enumerate(marks)}
        corner = self.left[-1][0]
        tops = {}
        if "first_top" in s:
            lean = corner + mm(s["first_top"]) - first
            tops = {i: x + lean for i, (x, kind) in enumerate(marks) if kind == "grid"}
        for row in s.get("leaning", []):
            tops[_mark(places, mm(row["at"]), own)] = corner + mm(row["top"])
        doubled = {_mark(places, mm(x), own) for x in s.get("doubled", [])}
        return [(x, tops.get(i, x), kind, i in doubled) for i, (x, kind) in enumerate(marks)]

    def stud_at(self, number, y):
        """x of the stud of that number, counted from 1, at the height y."""
        x, top = self.studs[number - 1][:2]
        if x == top:
            return x
        foot = min(at(self.floor, x, -1), at(self.floor, x, 1))
        head = max(at(self.ceiling, top, -1), at(self.ceiling, top, 1))
        return x + (top - x) * (y - foot) / (head - foot)

    def _clad(self, after):
        f = self.facts
        begin = {"none": f.end_gap, "inside": f.thickness + f.end_gap}
        start = begin.get(self.corner, -f.thickness)
        end = {"outside": 0, "mitred": -f.thickness}.get(after, f.end_gap)
        floor = _led([(x, y + f.floor_gap) for x, y in self.floor])
        ceiling = _led([(x, y - f.ceiling_gap) for x, y in self.ceiling])
        left = _led([(y, x + start) for x, y in self.left])
        right = _led([(y, x - end) for x, y in self.right])
        sides = [
            [*floor, (floor[-1][0], _AWAY), (floor[0][0], _AWAY)],
            [*ceiling, (ceiling[-1][0], -_AWAY), (ceiling[0][0], -_AWAY)],
            [(x, y) for y, x in [*left, (left[-1][0], _AWAY), (left[0][0], _AWAY)]],
            [(x, y) for y, x in [*right, (right[-1][0], -_AWAY), (right[0][0], -_AWAY)]],
        ]
        self.bare = Polygon(_floats(sides[0]))
        for side in sides[1:]:
            self.bare = self.bare.intersection(Polygon(_floats(side)))
        self.blocked = {}
        for name, kind, x0, y0, x1, y1 in self.openings:
            g = f.opening_gap
            foot = -_AWAY if kind == "door" else y0 - g
            self.blocked[name] = box(*map(float, (x0 - g, foot, x1 + g, y1 + g)))
        for name, kind, x0, y0, x1, y1 in self.boxes:
            g = f.box_gap
            if kind == "round":
                middle = float((x0 + x1) / 2), float((y0 + y1) / 2)
                self.blocked[name] = around(middle, float(x1 - x0 + 2 * g))
            else:
                self.blocked[name] = box(*map(float, (x0 - g, y0 - g, x1 + g, y1 + g)))
        self.clad = self.bare
        for polygon in self.blocked.values():
            self.clad = self.clad.difference(polygon)


def rows(w, key):
    return list(enumerate(w.get(key, [])))


def around(centre, diameter):
    """The regular polygon of 32 sides around a circle, a side at the very right."""
    reach = diameter / 2 / math.cos(math.pi / 32)
    turns = [(2 * k + 1) * math.pi / 32 for k in range(32)]
    return Polygon(
        [(centre[0] + reach * math.cos(a), centre[1] + reach * math.sin(a)) for a in turns]
    )


def _mark(marks, x, own):
    """The mark that a reading is of, or None."""
    near = [(abs(place - x), k) for k, place in marks.items() if abs(place - x) <= own]
    return min(near)[1] if near else None


def _led(line):
    """The line led on past both of its ends."""
    first, last = line[0][0] - _FAR, line[-1][0] + _FAR
    return [(first, at(line, first, 1)), *line, (last, at(line, last, -1))]


def _floats(points):
    return [(float(x), float(y)) for x, y in points]
