"""Does a plan fit its walls? An independent check of every shape, from the job and the plan.

tests/wall_facts.py makes of the readings what of each wall is clad; here every
course, run, piece and cut of the plan is held against that. check(job, plan)
gives the list of what is wrong, each entry starting with a word for the kind of fault.
"""

import itertools
import math
from fractions import Fraction

from shapely import LineString, Point, box
from shapely.ops import unary_union

from tests.marked import Marked
from tests.piece_checker import check_piece
from tests.regions import FAR, JOTS, NEAR, WIDE, differ, polygons, region
from tests.wall_facts import Facts, at, nearest

SPECK = 1.0  # mm: what is nowhere thicker can't be cut, and may stay bare; ours, no source
BLUNT = 0.1  # mm that a tip of 11 degrees loses when a film of WIDE is taken off it


def check(job, plan):
    """Everything wrong with the plan's walls and pieces, as texts; empty where they are right."""
    faults = []
    facts = Facts(job)
    facts.named = Marked(job, facts).names
    if len(plan["walls"]) != len(facts.walls):
        return [f"walls: {len(plan['walls'])} in the plan"]
    pieces = {p["id"]: p for p in plan["pieces"]}
    datum = None
    first = 0
    for n, (wall, made) in enumerate(zip(facts.walls, plan["walls"], strict=True)):
        if wall.corner == "none":
            first, lift = n, 0
            room = _room(facts, n)
            datum = _datum(facts, room, plan["walls"][n : n + len(room)], faults, n + 1)
        else:
            lift += facts.walls[n - 1].floor[-1][1] - wall.floor[0][1]
        _Wall(facts, n + 1, wall, made, pieces, len(facts.walls) > 1, faults).check(
            datum - float(lift), plan["walls"][first]
        )
    placed = [
        i for w in plan["walls"] for c in w["courses"] for r in c["runs"] for i in r["pieces"]
    ]
    if sorted(placed) != sorted(p["id"] for p in plan["pieces"]):
        faults.append("placed: pieces of runs and pieces cut differ")
    return faults


def _edge(facts, room, lifts, other):
    """y of the head or sill that the courses are aligned with; `other` where there is none.

    It is of the opening named, else of the first window, else of the first opening;
    what stands on the floor has no sill.
    """
    sill = facts.courses == "sill"
    rows = [(o, up, w) for w, up in zip(room, lifts, strict=True) for o in w.openings]
    if sill:
        rows = [
            r for r in rows if r[0][1] != "door" and r[0][3] > nearest(at(r[2].floor, r[0][2], 1))
        ]
    if facts.align:
        rows = [r for r in rows if r[0][0] == facts.align]
    rows = [r for r in rows if r[0][1] == "window"] or rows
    if not rows:
        return other
    gap = float(facts.opening_gap)
    opening, up, _ = rows[0]
    return up + (float(opening[3]) - gap if sill else float(opening[5]) + gap)


def _room(facts, n):
    """The walls from n on that share their course lines."""
    end = n + 1
    while end < len(facts.walls) and facts.walls[end].corner != "none":
        end += 1
    return facts.walls[n:end]


def _datum(facts, room, made, faults, number):
    """y of a course line in the frame of the room's first wall, as the rules have it."""
    lifts = [0.0]
    for before, wall in itertools.pairwise(room):
        lifts.append(lifts[-1] + float(before.floor[-1][1] - wall.floor[0][1]))
    spans = [
        (w.clad.bounds[1] + up, w.clad.bounds[3] + up) for w, up in zip(room, lifts, strict=True)
    ]
    low, high = min(a for a, _ in spans), max(b for _, b in spans)
    face = float(facts.face)
    want = low if facts.up else high
    if facts.courses == "balanced":
        full, rest = divmod(high - low + JOTS, face)
        if full and rest > 2 * JOTS:
            want += (face + rest) / 2 * (1 if facts.up else -1)
    elif facts.courses == "line":
        want = float(at(room[0].floor, 0, 1) + facts.line)
    elif facts.courses != "full":
        want = _edge(facts, room, lifts, want)
    # The plan's own line is exact; ours may miss it by the rounding of the outline.
    lines = [c["bottom"] for c in made[0]["courses"]] + [c["top"] for c in made[0]["courses"]]
    inner = sorted(lines)[1:-1] or lines
    off = [(y - want + face / 2) % face - face / 2 for y in inner]
    best = min(off, key=abs) if off else 0.0
    if abs(best) > NEAR:
        faults.append(f"line: wall {number} has its lines {best} mm off")
    return want + best


class _Wall:
    def __init__(self, facts, number, wall, made, pieces, several, faults):
        self.facts, self.number, self.wall, self.made = facts, number, wall, made
        self.pieces, self.faults = pieces, faults
        self.prefix = f"{number}-" if several else ""
        self.up = facts.up
        self.face, self.hidden = float(facts.face), float(facts.hidden)
        self.bottom, self.top = wall.clad.bounds[1::2]

    def fault(self, kind, text):
        self.faults.append(f"{kind}: wall {self.number} {text}")

    def check(self, datum, first):
        self._survey()
        self._lines(datum, first)
        self._pole()
        before = []
        for row in sorted(self.made["courses"], key=lambda c: c["number"]):
            before = self._course(row, datum, before)

    def _survey(self):
        """What stands there, as the readings say."""
        made, wall = self.made, self.wall
        for key in ("floor", "ceiling", "left", "right"):
            line = getattr(wall, key)
            line = [p for i, p in enumerate(line) if i == 0 or p != line[i - 1]]
            if not _alike(made[key], line):
                self.fault("survey", f"has its {key} at {made[key]}")
        if not _alike([[made["width"]]], [[wall.right[0][0]]]):
            self.fault("survey", f"is {made['width']} mm wide")
        if not _alike([[made["height"]]], [[max(y for _, y in wall.ceiling)]]):
            self.fault("survey", f"is {made['height']} mm high")
        if (made["level"] is None) != (wall.level is None) or (
            wall.level is not None and abs(made["level"] - wall.level) > JOTS / 2
        ):
            self.fault("survey", f"has its level line at {made['level']}")
        for key in ("openings", "boxes", "blocking"):
            want = getattr(wall, key)
            got = [[m[k] for k in ("left", "bottom", "right", "top")] for m in made[key]]
            names = [(m["name"], m["kind"]) for m in made[key]]
            if not _alike(got, [w[2:] for w in want]) or (
                key != "blocking" and names != [w[:2] for w in want]
            ):
                self.fault("survey", f"has {key} {made[key]}")
        studs = [(s["kind"], s["doubled"], s["number"]) for s in made["studs"]]
        if studs != [(k, d, i) for i, (_, _, k, d) in enumerate(wall.studs, 1)] or not _alike(
            [[s["at"], s["top"]] for s in made["studs"]], [s[:2] for s in wall.studs]
        ):
            self.fault("survey", f"has studs {made['studs']}")

    def _lines(self, datum, first):
        """Course lines one face apart from floor to ceiling, numbered as they hang."""
        courses = sorted(self.made["courses"], key=lambda c: c["bottom"])
        if not courses:
            self.fault("height", "has no courses")
            return
        ends = [(courses[0]["bottom"], self.bottom), (courses[-1]["top"], self.top)]
        if any(abs(got - want) > NEAR for got, want in ends):
            self.fault("height", f"is clad from {ends[0]} to {ends[1]}")
        for a, b in itertools.pairwise(courses):
            off = (b["bottom"] - datum + self.face / 2) % self.face - self.face / 2
            if abs(off) > 1e-6 or a["top"] != b["bottom"]:
                self.fault("height", f"has the line of course {b['number']} at {b['bottom']}")
        order = courses if self.up else courses[::-1]
        if self.made["corner"] != self.wall.corner:
            self.fault("survey", "starts on the wall before in another way")
        numbers = [c["number"] for c in order]
        if numbers != list(range(numbers[0], numbers[0] + len(order))):
            self.fault("number", "has its courses out of hanging order")
        # One line for all walls of a room: the same number everywhere, the least of them 1.
        shared = min(first["courses"], key=lambda c: c["number"])
        step = self._base(order[0], datum) - numbers[0]
        self.step = step
        if self.wall.corner == "none":
            first["_step"] = step
        elif step != first["_step"]:
            self.fault("number", "does not carry on the numbers of the wall before")
        if shared["number"] < 1:
            self.fault("number", f"has a course {shared['number']}")

    def _base(self, course, datum):
        """How many faces the course's start edge stands from the datum, in hanging order."""
        middle = (course["bottom"] + course["top"]) / 2
        n = math.floor((middle - datum) / self.face)
        return n if self.up else -n

    def _whole(self, course, datum):
        """(bottom, top) of a full board of the course, its tongue or lap included."""
        middle = (course["bottom"] + course["top"]) / 2
        line = datum + math.floor((middle - datum) / self.face) * self.face
        if self.up:
            return line, line + self.face + self.hidden
        return line - self.hidden, line + self.face

    def _pole(self):
        """A mark for every line, as the tape reads it up from the floor at that end."""
        courses = sorted(self.made["courses"], key=lambda c: c["bottom"])
        if not courses:
            return
        if self.up:  # a line's course is the one that starts at it
            want = [(c["bottom"], c["number"]) for c in courses] + [(courses[-1]["top"], None)]
        else:
            want = [(courses[0]["bottom"], None)] + [(c["top"], c["number"]) for c in courses]
        for end, floor in (("left", self.wall.floor[0][1]), ("right", self.wall.floor[-1][1])):
            marks = self.made["pole"][end]
            if [(m["line"], m["course"]) for m in marks] != want:
                self.fault("pole", f"has other lines at its {end}")
            for m in marks:
                up = m["line"] - float(floor)
                if (m["up"] is None) != (up < -1e-9) or (
                    m["up"] is not None and abs(m["up"] - up) > 1e-6
                ):
                    self.fault("pole", f"reads {m['up']} at its {end} for {m['line']}")

    def _course(self, course, datum, before):
        """Its runs are what is clad between its lines, its pieces tile them. Its joints."""
        n = course["number"]
        whole = self._whole(course, datum)
        rip = (max(whole[0], self.bottom), min(whole[1], self.top))
        self._rip(course["rip"], rip, whole, f"course {n}")
        bottom, top = course["bottom"], course["top"]
        strip = self.wall.clad.intersection(box(-FAR, bottom, FAR, top))
        parts = sorted(polygons(strip, WIDE), key=lambda p: (p.bounds[0], p.bounds[1]))
        runs = course["runs"]
        if len(parts) != len(runs):  # a film between an opening and the line holds some together
            opened = polygons(strip.buffer(-WIDE / 2, join_style="mitre"), 0)
            parts = [p.buffer(WIDE / 2, join_style="mitre") for p in opened]
        names = [key for run in runs for key in run["pieces"]]
        # A piece that is cut keeps the name that is pencilled on it.
        named = self.facts.named
        free = [self.prefix + f"{n}{_letters(i)}" for i in range(len(names) + len(named))]
        free = iter(key for key in free if key not in named)
        if names != [key if key in named else next(free) for key in names]:
            self.fault("id", f"course {n} has {names}")
        out = []
        for run in runs:
            self._on_studs(run, course, before, out)
            here = [self.pieces[key] for key in run["pieces"] if key in self.pieces]
            if len(here) != len(run["joints"]) + 1:
                self.fault("tile", f"course {n} has a run of {len(here)} pieces")
                continue
            own = unary_union([region(p["shows"]) for p in here if p["shows"]])
            mine = [part for part in parts if part.intersection(own).area > part.area / 2]
            if len(mine) != 1:
                self.fault("run", f"course {n} from {run['left']} is {len(mine)} stretches")
            else:
                parts.remove(mine[0])
                self._ends(run, mine[0], course, whole)
            self._joints(run, course, here)
            half = float(self.facts.joint_gap) / 2
            open_ = [box(j["at"] - half, bottom, j["at"] + half, top) for j in run["joints"]]
            want = unary_union(mine).difference(unary_union(open_)) if half else unary_union(mine)
            if differ(own, want):
                self.fault("tile", f"course {n} from {run['left']} does not show what is clad")
            total = sum(region(p["shows"]).area for p in here if p["shows"])
            if total - own.area > WIDE * (top - bottom) * len(here):
                self.fault("tile", f"course {n} from {run['left']} has pieces that overlap")
            for k, p in enumerate(here):
                self._piece(p, course, whole, run, k)
        for part in parts:
            if not part.buffer(-SPECK / 2).is_empty:
                self.fault("tile", f"course {n} leaves {part.bounds} bare")
        return out

    def _rip(self, rip, left, whole, where, wide=NEAR):
        """What is sawn off of a board over `whole` where `left` stays."""
        lower, upper = left[0] > whole[0] + wide, left[1] < whole[1] - wide
        sure = abs(left[0] - whole[0]) < 1e-6 or lower
        sure = sure and (abs(left[1] - whole[1]) < 1e-6 or upper)
        if rip is None:
            if lower or upper:
                self.fault("rip", f"{where} is not ripped")
            return
        cut = "both" if lower and upper else "lower" if lower else "upper" if upper else None
        keeps = self.hidden == 0 or not (upper if self.up else lower)
        if abs(rip["width"] - (left[1] - left[0])) > wide or (
            sure and (rip["cut"], rip["keeps"]) != (cut, keeps)
        ):
            self.fault("rip", f"{where} is ripped to {rip}, not {left[1] - left[0]} {cut}")

    def _ends(self, run, part, course, whole):
        """A run ends where what shows of it ends, or its lap on a sloping edge beyond it."""
        line = course["top"] if self.up else course["bottom"]
        stop = whole[1] if self.up else whole[0]
        opened = None
        for side, index in ((-1, 0), (1, 2)):
            key = "left" if side < 0 else "right"
            end = part.bounds[index]
            far = self._along(end, line, stop, side)
            if self._same(run[key], far, part, line, stop):
                continue
            # Where a course line runs along an opening, rounding leaves a film of the part.
            opened = opened or part.buffer(-WIDE / 2, join_style="mitre").buffer(
                WIDE / 2, join_style="mitre"
            )
            far = self._along(opened.bounds[index], line, stop, side)
            blunt = abs(run[key] - opened.bounds[index]) <= BLUNT
            if not blunt and not self._same(run[key], far, part, line, stop):
                where = f"course {course['number']}"
                self.fault("run", f"{where} ends at {run[key]} at the {key}, not {far}")

    def _same(self, got, want, part, line, stop):
        """Whether it is so thin between that a jot up moves its tip as far along."""
        low, high = sorted((got, want))
        if high - low <= NEAR:
            return True
        shown = part.intersection(box(low, -FAR, high, FAR))
        lap = self.wall.clad.intersection(box(low, min(line, stop), high, max(line, stop)))
        ends = part.bounds[0], part.bounds[2]
        beyond = low < ends[0] - NEAR or high > ends[1] + NEAR
        return shown.buffer(-WIDE / 2).is_empty and (not beyond or lap.buffer(-WIDE / 2).is_empty)

    def _along(self, x, y, stop, side):
        """x that floor, ceiling or corner reach from (x, y) outwards by the height `stop`."""
        way = 1 if self.up else -1
        rings = [r for p in polygons(self.wall.clad) for r in (p.exterior, *p.interiors)]
        bare = self.wall.bare.boundary
        while True:
            best = None
            for ring in rings:
                points = list(ring.coords)
                for a, b in itertools.pairwise(points):
                    for p, q in ((a, b), (b, a)):
                        if (q[0] - x) * side <= 1e-9 or (q[1] - y) * way <= NEAR:
                            continue
                        line = LineString([p, q])
                        on = line.distance(Point(x, y)) < NEAR
                        if on and line.centroid.distance(bare) < NEAR:
                            best = p, q
            if best is None:
                return x
            (x0, y0), (x1, y1) = best
            if (y1 - stop) * way >= 0:
                return x0 + (x1 - x0) * (stop - y0) / (y1 - y0)
            x, y = x1, y1

    def _on_studs(self, run, course, before, out):
        """Joints on studs, apart from those of the course before; `out` gains them."""
        n = course["number"]
        middle = (course["bottom"] + course["top"]) / 2
        for j in run["joints"]:
            if not 1 <= j["stud"] <= len(self.wall.studs):
                self.fault("stud", f"course {n} joins on stud {j['stud']}")
                continue
            if abs(j["at"] - float(self.wall.stud_at(j["stud"], Fraction(middle)))) > NEAR:
                self.fault("stud", f"course {n} joins off stud {j['stud']} at {j['at']}")
            for _, joint in before:
                near = abs(j["at"] - joint["at"]) < float(self.facts.stagger) - 1e-9
                if near or j["stud"] == joint["stud"]:
                    self.fault("stagger", f"course {n} joins at {j['at']}")
            out.append((run, j))

    def _joints(self, run, course, here):
        """The pieces fill the run with a gap at each joint, and say what they end at."""
        n = course["number"]
        gap = float(self.facts.joint_gap)
        if (
            abs(here[0]["left"] - run["left"]) > 1e-6
            or abs(here[-1]["right"] - run["right"]) > 1e-6
        ):
            self.fault("tile", f"course {n} from {run['left']} is not filled to its ends")
        for k, j in enumerate(run["joints"]):
            a, b = here[k], here[k + 1]
            if abs(b["left"] - a["right"] - gap) > 1e-6:
                self.fault("tile", f"{b['id']} leaves no joint gap before it")
            if abs((a["right"] + b["left"]) / 2 - j["at"]) > JOTS / 2 + 1e-6:
                self.fault("stud", f"the joint before {b['id']} is not at its stud")
            for p, end in ((a, "right_end"), (b, "left_end")):
                said = p[end]
                if (said["kind"], said.get("stud"), said.get("at")) != (
                    "joint",
                    j["stud"],
                    j["at"],
                ):
                    self.fault("end", f"{p['id']} says its {end} is {said}")

    def _piece(self, p, course, whole, run, k):
        ends = k == 0, k == len(run["joints"])
        check_piece(self, p, course, whole, ends)


def _alike(got, want, wide=2 * NEAR):
    """Whether two lists of points are the same but for rounding.

    A corner's x is a whole jot, and where a steep ceiling is read there, that moves y more.
    """
    return len(got) == len(want) and all(
        len(a) == len(b) and all(abs(x - float(y)) <= wide for x, y in zip(a, b, strict=True))
        for a, b in zip(got, want, strict=True)
    )


def _letters(i):
    return chr(65 + i) if i < 26 else chr(64 + i // 26) + chr(65 + i % 26)
