"""One piece of a plan: is its shape what hangs there, and what the saw is told the shape?

Called by tests/wall_checker.py with the wall it stands on.
"""

import itertools
import math
from fractions import Fraction

from shapely import Point, Polygon, box
from shapely.affinity import translate
from shapely.ops import unary_union

from tests.regions import FAR, JOTS, NEAR, WIDE, differ, polygons, region
from tests.wall_facts import around

# mm of an end that may stand upright beside a saw line: rounding, nothing that could be sawn.
SQUARE = 0.05
BOUNDS = ("floor", "ceiling", "left corner", "right corner")


def check_piece(wall, p, course, whole, ends):
    """Add what is wrong with the piece to the wall's faults.

    wall: wall_checker's; whole: a full board's (bottom, top); ends: whether the
    run ends at its left and at its right.
    """
    _Piece(wall, p, course, whole, ends).check()


class _Piece:
    def __init__(self, wall, p, course, whole, ends):
        self.wall, self.p, self.course, self.whole, self.ends = wall, p, course, whole, ends
        self.length = p["length"]
        self.tall = max(up for ring in p["shape"] for _, up in ring)
        self.shape = region(p["shape"])

    def fault(self, kind, text):
        self.wall.fault(kind, f"piece {self.p['id']}: {text}")

    def check(self):
        p = self.p
        if (p["wall"], p["course"]) != (self.wall.number, self.course["number"]):
            self.fault("placed", "says another course")
        if abs(p["right"] - p["left"] - p["length"]) > 1e-6 or p["length"] <= 0:
            self.fault("length", f"is {p['length']} mm from {p['left']} to {p['right']}")
        if not p["shows"]:
            self.fault("shows", "nothing of it is seen")
            return
        self._rings()
        self._hangs()
        self._rip()
        self._told()
        self._sizes()
        self._ends()
        self._cuts()
        self._scribe()

    def _rings(self):
        """Outer rings anticlockwise and first, without a needless point; extents as said."""
        for rings in (self.p["shape"], self.p["shows"]):
            turns = [Polygon(r).exterior.is_ccw for r in rings]
            if turns != sorted(turns, reverse=True) or not turns[0]:
                self.fault("rings", f"turn {turns}")
            for ring in rings:
                if not Polygon(ring).is_valid:
                    self.fault("rings", f"one crosses itself: {ring}")
                for i, (x, y) in enumerate(ring):
                    (x0, y0), (x1, y1) = ring[i - 1], ring[(i + 1) % len(ring)]
                    if abs((x - x0) * (y1 - y) - (x1 - x) * (y - y0)) < 1e-9:
                        self.fault("rings", f"a needless point {x}, {y}")
        size = self.shape.bounds
        if max(map(abs, (size[0], size[1], size[2] - self.length))) > 1e-6:
            self.fault("shape", f"it spans {size}, its length is {self.length}")

    def _hangs(self):
        """The shape is what is clad over its board's height, as far as it hangs together."""
        p, clad = self.p, self.wall.wall.clad
        shows = region(p["shows"])
        strip = clad.intersection(box(p["left"], self.whole[0], p["right"], self.whole[1]))
        parts = [q for q in polygons(strip) if q.intersection(shows).area > NEAR * NEAR]
        want = unary_union(parts)
        hung = translate(self.shape, p["left"], p["bottom"])
        if differ(hung, want):
            self.fault("shape", "it is not what is clad behind it")

    def _rip(self):
        low = self.p["bottom"]
        if low < self.whole[0] - 1e-6 or low + self.tall > self.whole[1] + 1e-6:
            self.fault("rip", "it is wider than its board")
        exact = (low, low + self.tall)
        self.wall._rip(self.p["rip"], exact, self.whole, f"piece {self.p['id']}", 1e-6)

    def _told(self):
        """Cut the piece again from what a person is told, and compare."""
        p = self.p
        wide = p["rip"]["width"] if p["rip"] else float(self.wall.facts.overall)
        made = box(0, 0, self.length, wide)
        for c in p["cuts"]:
            if c["kind"] in ("bevel", "taper"):
                ends = ("left", "right") if c["kind"] == "bevel" else ("lower", "upper")
                if c["edge"] not in ends:
                    self.fault("cut", f"a {c['kind']} at the {c['edge']} edge")
                made = made.difference(_beyond(c["points"], c["edge"]))
                inner = [up for _, up in c["points"]][1:-1]
                if c["kind"] == "bevel" and {0.0, self.tall} & set(inner):
                    self.fault("cut", f"a bevel comes back to the edge: {c['points']}")
            elif c["kind"] == "round":
                made = made.difference(around(c["centre"], c["diameter"]))
            else:
                made = made.difference(box(c["from"], c["low"], c["to"], c["high"]))
        # What the cuts part from the piece falls off.
        made = [q for q in polygons(made) if q.intersection(self.shape).area > NEAR * NEAR]
        if differ(unary_union(made), self.shape) and differ(self._kept(made), _opened(self.shape)):
            self.fault("told", "cut as told it is another shape")

    def _kept(self, made):
        """What is cut, without what hangs on by less than rounding."""
        thick = unary_union(made).buffer(-WIDE / 2, join_style="mitre")
        parts = [q for q in polygons(thick) if q.intersection(self.shape).area > q.area / 2]
        return unary_union(parts).buffer(WIDE / 2, join_style="mitre")

    def _corner(self, side, upper):
        """Along of the lower or upper corner of an end, where its own saw lines have it."""
        y = self.tall if upper else 0.0
        lines = [c for c in self.p["cuts"] if c["kind"] == "bevel" and c["edge"] == side]
        # A corner's own line counts also where floor or ceiling cut it short.
        points = [q for c in lines for q in c["points"] if c["by"].endswith("corner") or q[1] == y]
        if not points:
            return 0.0 if side == "left" else self.length
        return min(points, key=lambda q: abs(q[1] - y))[0]

    def _sizes(self):
        """Lengths of the lower and upper edge, without tapers and notches; heights at the ends."""
        p = self.p
        for key in ("lower", "upper"):
            upper = key == "upper"
            want = max(0.0, self._corner("right", upper) - self._corner("left", upper))
            if abs(p["lengths"][key] - want) > NEAR:
                self.fault("lengths", f"its {key} edge is {want}")
            # Where nothing else is cut off that edge, it is the shape's own.
            y = self.tall if upper else 0.0
            edge = [x for ring in p["shape"] for x, up in ring if abs(up - y) < 1e-6]
            taken = [c for c in p["cuts"] if c["kind"] != "bevel" or "corner" in c["by"]]
            if not taken and abs(max(edge) - min(edge) - want) > NEAR:
                self.fault("lengths", f"its {key} edge goes along {edge}")
        for side in ("left", "right"):
            want = self._upright(side)
            line = self._line(side)
            if line and _off_square(*line) < 44.995:
                want = line[1][1] - line[0][1]
            # From 45 degrees off square on it is the height of the point.
            if abs(p["widths"][side] - want) > NEAR:
                self.fault("widths", f"at its {side} it is {want} high")

    def _upright(self, side):
        """How much of the end stands upright at its outermost."""
        x = 0.0 if side == "left" else self.length
        ups = []
        for ring in self.p["shape"]:
            for (x0, y0), (x1, y1) in itertools.pairwise([*ring, ring[0]]):
                if max(abs(x0 - x), abs(x1 - x)) < 1e-6 and abs(y1 - y0) > SQUARE:
                    ups += [y0, y1]
        return max(ups) - min(ups) if ups else 0.0

    def _line(self, side):
        """(low, high) of an end that one straight saw line makes; else no one setting does."""
        cuts = [c for c in self.p["cuts"] if c["kind"] == "bevel" and c["edge"] == side]
        if len(cuts) != 1 or len(cuts[0]["points"]) != 2 or self._upright(side):
            return None
        return sorted(cuts[0]["points"], key=lambda q: q[1])

    def _ends(self):
        for side, last in (("left", self.ends[0]), ("right", self.ends[1])):
            end = self.p[side + "_end"]
            angle, longer = 0.0, None
            line = self._line(side)
            if line:
                angle = _off_square(*line)
                longer = "lower" if (line[0][0] < line[1][0]) == (side == "left") else "upper"
                longer = None if angle < 0.005 else longer
            if abs(end["angle"] / 100 - angle) > 0.0051 or (end["long"] != longer):
                self.fault("angle", f"its {side} end is {end}, not {angle} {longer}")
            if (end["kind"] == "joint") == last:
                self.fault("end", f"its {side} end is {end}")
            elif last and end["kind"] == "wall end" and end.get("by", BOUNDS[0]) not in BOUNDS:
                self.fault("end", f"its {side} end is by {end['by']}")
            elif last and not self._beyond(side, end):
                self.fault("end", f"there is no {end} beyond its {side}")

    def _beyond(self, side, end):
        """Whether what is said to end the piece lies just beyond it somewhere."""
        p, step = self.p, 8 * JOTS
        x = p["left"] if side == "left" else p["right"]
        out = box(x - step, self.whole[0], x, self.whole[1])
        if side == "right":
            out = box(x, self.whole[0], x + step, self.whole[1])
        if end["kind"] == "opening":
            polygon = self.wall.wall.blocked.get(end.get("name"))
            return polygon is not None and polygon.intersection(out).area > 0
        ends = {q[0] for c in self.p["cuts"] if c["by"] in BOUNDS for q in c.get("points", [])}
        tip = 0.0 if side == "left" else p["length"]
        return (
            out.difference(self.wall.wall.bare).area > 0
            or min((abs(x - tip) for x in ends), default=1) < NEAR
        )

    def _cuts(self):
        """Each rectangle and circle is its opening's or box's, gap included."""
        p = self.p
        wide = p["rip"]["width"] if p["rip"] else float(self.wall.facts.overall)
        for c in p["cuts"]:
            kind = c["kind"]
            if kind in ("bevel", "taper"):
                if c["by"] not in BOUNDS:
                    self.fault("cut", f"a {kind} by {c['by']}")
                ups = [q[1] for q in c["points"]]
                if min(ups) < 0 or max(ups) > wide + 1e-6:
                    self.fault("cut", f"a {kind} off the board: {c['points']}")
                xs = [q[0] for q in c["points"]]
                if xs != sorted(xs) and xs[0] > xs[-1]:
                    self.fault("cut", f"a {kind} from right to left")
                continue
            if kind == "round":
                rect = self._rect(c["by"])
                (x, y), r = c["centre"], c["diameter"] / 2
                want = [
                    rect[0] - p["left"],
                    rect[1] - p["bottom"],
                    rect[2] - p["left"],
                    rect[3] - p["bottom"],
                ]
                got = [x - r, y - r, x + r, y + r]
                # The polygon's outermost points are told, not the circle's: 32 sides.
                wide_by = r * (1 / math.cos(math.pi / 32) - 1) + NEAR
                if max(abs(a - b) for a, b in zip(got, want, strict=True)) > wide_by:
                    self.fault("cut", f"round {got}, the box is {want}")
                continue
            place = [c["from"], c["low"], c["to"], c["high"]]
            edges = {"left": c["from"] <= 1e-6, "right": c["to"] >= self.length - 1e-6,
                     "lower": c["low"] <= 1e-6, "upper": c["high"] >= wide - 1e-6}  # fmt: skip
            out = {k for k, is_open in edges.items() if is_open}
            # It may break out where floor, ceiling or corner have ended the board before.
            on_wall = translate(box(*place), p["left"], p["bottom"])
            whole = self.wall.wall.bare.contains(on_wall.buffer(-NEAR, join_style="mitre"))
            inside = whole and not out
            if not out <= set(c["open"]) or (whole and out != set(c["open"])):
                self.fault("open", f"{c} runs out at {edges}")
            if (
                (kind == "hole") != inside
                or (kind == "hole") != (not c["open"])
                or (kind == "hole") != (c["edge"] == "inside")
            ):
                self.fault("hole", f"{c}")
            if c["open"] and c["edge"] not in c["open"]:
                self.fault("open", f"{c} from an edge it does not run out at")
            if place[0] >= place[2] or place[1] >= place[3]:
                self.fault("cut", f"{c} takes nothing")
            low, high = p["bottom"] + c["low"], p["bottom"] + c["high"]
            unseen = low >= self.course["top"] - 1e-6 or high <= self.course["bottom"] + 1e-6
            if (kind == "lap") != (unseen and bool(c["open"])):
                self.fault("lap", f"{c}")
            if c["by"] in BOUNDS:
                continue
            rect = self._rect(c["by"])
            want = [
                max(rect[0] - p["left"], 0), max(rect[1] - p["bottom"], 0),
                min(rect[2] - p["left"], self.length), min(rect[3] - p["bottom"], wide),
            ]  # fmt: skip
            if max(abs(a - b) for a, b in zip(place, want, strict=True)) > NEAR:
                self.fault("cut", f"{c}, it is {want}")

    def _rect(self, name):
        polygon = self.wall.wall.blocked.get(name)
        if polygon is None:
            self.fault("cut", f"by {name}")
            return 0, 0, 0, 0
        return polygon.bounds

    def _scribe(self):
        """Marks at both ends and every stud, at the height that the edge has there."""
        p = self.p
        tapers = {c["edge"] for c in p["cuts"] if c["kind"] == "taper"}
        said = [s["edge"] for s in p["scribe"]]
        if sorted(said) != sorted(tapers):
            self.fault("scribe", f"along {said}, the tapers along {tapers}")
        middle = (self.course["bottom"] + self.course["top"]) / 2
        studs = {}
        for i in range(1, len(self.wall.wall.studs) + 1):
            x = float(self.wall.wall.stud_at(i, Fraction(middle))) - p["left"]
            studs[i] = x
        for s in p["scribe"]:
            marks = s["marks"]
            first = self._corner("left", s["edge"] == "upper")
            last = self._corner("right", s["edge"] == "upper")
            passed = {i for i, x in studs.items() if first + NEAR < x < last - NEAR}
            numbers = [m["stud"] for m in marks if m["stud"]]
            near = [
                m for m in marks if m["stud"] in studs and abs(m["along"] - studs[m["stud"]]) > NEAR
            ]
            if not passed <= set(numbers) or near:
                self.fault("scribe", f"marks at {numbers}, studs {studs}")
            alongs = [m["along"] for m in marks]
            if (
                alongs != sorted(alongs)
                or abs(alongs[0] - first) > 1e-6
                or abs(alongs[-1] - last) > 1e-6
            ):
                self.fault("scribe", f"marks at {alongs}")
            for m in marks:
                ups = self._edge(s["edge"], m["along"])
                off = Point(m["along"], m["up"]).distance(self.shape.boundary)
                if not ups or off > NEAR or min(abs(m["up"] - u) for u in ups) > 40 * NEAR:
                    self.fault("scribe", f"{s['edge']} {m}, the edge is at {ups}")

    def _edge(self, edge, along):
        """The height of the edge just left of, at and just right of a place along the piece."""
        out = []
        for x in (along - 1e-4, along, along + 1e-4):
            ups = []
            for ring in self.p["shape"]:
                for i, (x1, y1) in enumerate(ring):
                    x0, y0 = ring[i - 1]
                    if min(x0, x1) <= x <= max(x0, x1):
                        if x0 == x1:
                            ups += [y0, y1]
                        else:
                            ups.append(y0 + (y1 - y0) * (x - x0) / (x1 - x0))
            if ups:
                out.append(min(ups) if edge == "lower" else max(ups))
        return out


def _opened(shape):
    return shape.buffer(-WIDE / 2, join_style="mitre").buffer(WIDE / 2, join_style="mitre")


def _off_square(low, high):
    """Degrees that a saw line from low to high is off square."""
    return math.degrees(math.atan2(abs(high[0] - low[0]), high[1] - low[1]))


def _beyond(points, edge):
    """What a saw line takes off: all that lies beyond it on its edge's side."""
    if edge in ("left", "right"):
        line = points if points[0][1] <= points[-1][1] else points[::-1]
        away = -FAR if edge == "left" else FAR
        return Polygon([*line, (away, line[-1][1]), (away, line[0][1])]).buffer(0)
    away = FAR if edge == "upper" else -FAR
    return Polygon([*points, (points[-1][0], away), (points[0][0], away)]).buffer(0)
