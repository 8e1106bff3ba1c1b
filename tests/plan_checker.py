"""Is a plan right? An independent check from the job and the plan alone.

It shares nothing with calc but the reading of a tape (calc.lengths.read); all
arithmetic is its own, in fractions of a millimetre. check(job, plan) gives the
list of what is wrong, each entry starting with a word for the kind of fault.
"""

import math
from fractions import Fraction

from calc.lengths import read

JOT = Fraction(1, 320)
INCH = Fraction(254, 10)


def check(job, plan):
    """Everything wrong with the plan of this job, as texts; empty where it is right."""
    faults = []
    facts = _Facts(job)
    pieces = {p["id"]: p for p in plan["pieces"]}
    if len(pieces) != len(plan["pieces"]):
        faults.append("id: one is used twice")
    if len(plan["walls"]) != len(facts.walls):
        return [f"walls: {len(plan['walls'])} in the plan"]
    placed = []
    for number, (wall, made) in enumerate(zip(facts.walls, plan["walls"], strict=True), 1):
        _check_courses(facts, wall, made, faults)
        before = []
        for course in made["courses"]:
            before = _check_course(facts, wall, number, course, pieces, before, placed, faults)
    if sorted(placed) != sorted(pieces):
        faults.append("placed: pieces in courses and pieces cut differ")
    _check_boards(facts, plan, pieces, faults)
    _check_bill(facts, plan, faults)
    _check_bound(facts, plan, faults)
    return faults


class _Facts:
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
        self.shortest = rule("shortest", 16 * INCH, 400)
        self.stagger = rule("stagger", 0 * INCH, 0)
        self.start = rules.get("start", "floor")
        self.balanced = rules.get("courses", "full") == "balanced"
        board = job["board"]
        self.face = self.mm(board["face"])
        self.overall = self.mm(board.get("overall", board["face"]))
        self.stock = [
            (self.mm(s["length"]), s.get("price"), s.get("count")) for s in board["stock"]
        ]
        self.walls = [self.wall(w) for w in job["walls"]]

    def mm(self, value):
        if isinstance(value, str):
            return read(value, self.unit) * JOT
        return Fraction(math.floor(Fraction(value) / JOT + Fraction(1, 2))) * JOT

    def wall(self, w):
        width = self.mm(w["width_floor"])
        first = self.mm(w["studs"]["first"])
        spacing = self.mm(w["studs"]["spacing"])
        if abs(spacing - INCH * 96 / 5) < JOT:
            spacing = INCH * 96 / 5
        grid = {k: first + k * spacing for k in range(-400, 800)}
        grid = {k: x for k, x in grid.items() if 0 < x < width}
        for gone in w["studs"].get("missing", []):
            grid.pop(_nearest(grid, self.mm(gone), spacing), None)
        extra = []
        free = dict(grid)
        for at in sorted(self.mm(f) for f in w["studs"].get("found", [])):
            k = _nearest(free, at, spacing)
            if k is not None:
                del grid[k], free[k]
            extra.append(at)
        return {
            "width": width,
            "height": self.mm(w["height_left"]),
            "studs": sorted(list(grid.values()) + extra),
        }


def _nearest(grid, at, spacing):
    """The grid mark that a reading is of: within an eighth of the spacing (common practice)."""
    near = [(abs(x - at), k) for k, x in grid.items() if 8 * abs(x - at) <= spacing]
    return min(near)[1] if near else None


def _exact(value):
    """A plan's number of millimetres, by its decimal digits: a jot is exactly 0.003125."""
    return Fraction(str(value))


def _check_courses(facts, wall, made, faults):
    """Lines tile the height from one datum; rips are the widths the edges leave."""
    room = wall["height"] - facts.floor_gap - facts.ceiling_gap
    if _exact(made["height"]) != wall["height"] or _exact(made["width"]) != wall["width"]:
        faults.append("wall: its size is not the job's")
    order = made["courses"] if facts.start == "floor" else made["courses"][::-1]
    at = facts.floor_gap
    for course in order:
        if _exact(course["bottom"]) != at:
            faults.append(f"height: course {course['number']} does not start at the last one")
        at = _exact(course["top"])
    if at != facts.floor_gap + room:
        faults.append("height: the courses do not add up to the wall")
    if [c["number"] for c in made["courses"]] != list(range(1, len(order) + 1)):
        faults.append("number: courses are not numbered in hanging order")
    if len(order) != math.ceil(room / facts.face):
        faults.append(f"height: {len(order)} courses")
    hidden = facts.overall - facts.face
    far = "upper" if facts.start == "floor" else "lower"
    near = "lower" if facts.start == "floor" else "upper"
    last = len(order)
    lasts = min(_exact(c["top"]) - _exact(c["bottom"]) for c in made["courses"][-1:])
    rips = 0
    for course in made["courses"]:
        n = course["number"]
        shows = _exact(course["top"]) - _exact(course["bottom"])
        if n == last:
            want = (shows, far) if shows < facts.overall else None
        elif shows < facts.face:
            want = (shows + hidden, near)
        elif n == last - 1 and 0 < lasts < hidden:
            want = (shows + lasts, far)  # its lap or tongue would stand past the last course
        else:
            want = None
        got = course["rip"] and (_exact(course["rip"]["width"]), course["rip"]["cut"])
        if got != want:
            faults.append(f"rip: course {n} is ripped to {got}, not {want}")
        if shows > facts.face or (shows < facts.face and 1 < n < last):
            faults.append(f"height: course {n} shows {float(shows)} mm")
        rips += shows < facts.face
    right = 0 if room % facts.face == 0 else 2 if facts.balanced and last > 1 else 1
    if rips != right:
        faults.append(f"rip: {rips} courses are ripped narrower, not {right}")
    if rips == 2:
        first, final = made["courses"][0], made["courses"][-1]
        sizes = [_exact(c["top"]) - _exact(c["bottom"]) for c in (first, final)]
        if abs(sizes[0] - sizes[1]) > JOT:
            faults.append("rip: the two rips are not alike")


def _check_course(facts, wall, number, course, pieces, before, placed, faults):
    """Pieces tile the course; joints on studs, apart from those before. Its joints."""
    here = f"wall {number} course {course['number']}"
    (run,) = course["runs"]
    joints = [(j["stud"], _exact(j["at"])) for j in run["joints"]]
    for stud, at in joints:
        if not 1 <= stud <= len(wall["studs"]) or abs(wall["studs"][stud - 1] - at) > JOT / 2:
            faults.append(f"stud: {here} joins off stud {stud}")
        for other, there in before:
            if other == stud or at == there or abs(at - there) < facts.stagger:
                faults.append(f"stagger: {here} joins at {float(at)} mm")
    ends = [facts.end_gap] + [at for _, at in joints] + [wall["width"] - facts.end_gap]
    if ends != sorted(set(ends)):
        faults.append(f"joint: {here} has joints out of order or outside")
    if len(run["pieces"]) != len(joints) + 1:
        faults.append(f"tile: {here} has {len(run['pieces'])} pieces")
        return joints
    right_before = None
    for k, key in enumerate(run["pieces"]):
        placed.append(key)
        p = pieces.get(key)
        if p is None:
            faults.append(f"placed: {key} is not among the pieces")
            continue
        left, right, length = _exact(p["left"]), _exact(p["right"]), _exact(p["length"])
        if right - left != length or length <= 0:
            faults.append(f"length: {key} is {p['length']} mm")
        if k == 0 and left != ends[0]:
            faults.append(f"tile: {key} does not start at the end gap")
        if k == len(joints) and right != ends[-1]:
            faults.append(f"tile: {key} does not end at the end gap")
        if right_before is not None:
            if left - right_before != facts.joint_gap:
                faults.append(f"tile: {key} leaves no joint gap before it")
            middle = (left + right_before) / 2
            if abs(middle - joints[k - 1][1]) > JOT / 2:
                faults.append(f"stud: the joint before {key} is not at its stud")
        right_before = right
        if joints and length < facts.shortest:
            faults.append(f"short: {key} is {float(length)} mm")
        if (p["wall"], p["course"]) != (number, course["number"]):
            faults.append(f"placed: {key} says another course")
        if p["rip"] != course["rip"]:
            faults.append(f"rip: {key} is not ripped as its course")
        for end, k_end in (("left_end", k - 1), ("right_end", k)):
            inner = 0 <= k_end < len(joints)
            want = (
                {"kind": "joint", "stud": joints[k_end][0], "at": float(joints[k_end][1])}
                if inner
                else {"kind": "wall end"}
            )
            want |= {"angle": 0, "long": None}
            if p[end] != want:
                faults.append(f"end: {key} says its {end} is {p[end]}")
    return joints


def _check_boards(facts, plan, pieces, faults):
    """Every piece is cut once, and each board holds its pieces and the kerfs between."""
    seen = []
    for n, board in enumerate(plan["boards"], 1):
        if board["number"] != n or not board["cuts"]:
            faults.append(f"board: number {board['number']}")
        length = _exact(board["stock"])
        if length != facts.stock[board["line"] - 1][0]:
            faults.append(f"board: {n} is not of its stock")
        cut = [_exact(pieces[key]["length"]) for key in board["cuts"] if key in pieces]
        if sum(cut) + facts.kerf * (len(cut) - 1) > length:
            faults.append(f"fit: board {n} is too short for its cuts")
        if _exact(board["offcut"]) != max(0, length - sum(cut) - facts.kerf * len(cut)):
            faults.append(f"offcut: board {n}")
        for key in board["cuts"]:
            seen.append(key)
            if key in pieces and pieces[key]["board"] != n:
                faults.append(f"board: {key} says another board")
    if sorted(seen) != sorted(pieces):
        faults.append("cut: not every piece is cut exactly once")
    first = [
        min((_place(pieces[k]) for k in b["cuts"] if k in pieces), default=(0, 0, 0))
        for b in plan["boards"]
    ]
    if first != sorted(first):
        faults.append("order: boards are not in hanging order")


def _place(piece):
    return piece["wall"], piece["course"], _exact(piece["left"])


def _check_bill(facts, plan, faults):
    """What to buy is what is cut from, within the counts, and its cost adds up."""
    priced = all(price is not None for _, price, _ in facts.stock)
    total = Fraction(0)
    bought = 0
    for line in plan["buy"]:
        length, price, count = facts.stock[line["line"] - 1]
        used = sum(b["line"] == line["line"] for b in plan["boards"])
        bought += used
        if used != line["count"] or used == 0 or _exact(line["length"]) != length:
            faults.append(f"buy: {line['count']} of line {line['line']}")
        if count is not None and used > count:
            faults.append(f"count: {used} boards of line {line['line']}")
        if line["price"] != price:
            faults.append(f"price: line {line['line']}")
        elif price is not None and line["cost"] != float(_cents(price) * used):
            faults.append(f"price: the cost of line {line['line']}")
        total += used * (_cents(price) if priced else length)
    if bought != len(plan["boards"]):
        faults.append("buy: not every board is bought")
    if float(total) != plan["cost"]["total"]:
        faults.append(f"cost: it is {float(total)}")
    if plan["cost"]["by"] != ("price" if priced else "length"):
        faults.append(f"cost: by {plan['cost']['by']}")


def _cents(price):
    return Fraction(round(_exact(price) * 100), 100)


def _check_bound(facts, plan, faults):
    """Add the certificate up again: cheapest layouts over best fillings, in fractions."""
    prices = {_exact(p["length"]): p["price"] for p in plan["certificate"]["prices"]}
    if any(not isinstance(p, int) or p < 0 for p in prices.values()):
        faults.append("bound: a price is not a whole number of 0 or more")
        return
    priced = all(price is not None for _, price, _ in facts.stock)
    usable = [(x, price) for x, price, count in facts.stock if count != 0]
    total = 0
    for wall, made in zip(facts.walls, plan["walls"], strict=True):
        n = len(made["courses"])
        arcs = _arcs(facts, wall, max(x for x, _ in usable))
        if any(length not in prices for out in arcs.values() for _, length in out):
            faults.append("bound: a length has no price")
            return
        alone = _cheapest(facts, arcs, prices, wall, False)
        pair = _cheapest(facts, arcs, prices, wall, True) if n > 1 else 0
        total += n // 2 * pair + n % 2 * alone
    ratios = []
    costs = []
    for length, price in usable:
        cost = _cents(price) if priced else length
        costs.append(cost)
        most = _most(prices, facts.kerf, length)
        if most:
            ratios.append(cost / most)
    bound = total * min(ratios) if ratios else Fraction(0)
    grain = Fraction(math.gcd(*[int(c * 6400) for c in costs]), 6400)
    bound = math.ceil(bound / grain) * grain if grain else Fraction(0)
    if _exact(plan["cost"]["bound"]) > bound:
        faults.append(f"bound: {plan['cost']['bound']} proves only {float(bound)}")
    if plan["cost"]["proven"] != (plan["cost"]["total"] == plan["cost"]["bound"]):
        faults.append(f"proven: {plan['cost']['proven']}")
    if plan["cost"]["total"] < plan["cost"]["bound"]:
        faults.append("bound: it is above the cost")


def _arcs(facts, wall, longest):
    """From each node (jots rounding as the plan's pieces) the pieces that may follow."""
    start, end = facts.end_gap, wall["width"] - facts.end_gap
    studs = [JOT * round(x / JOT) for x in wall["studs"] if start < x < end]
    nodes = [start, *studs, end]
    half = JOT * math.floor(facts.joint_gap / JOT / 2)
    arcs = {}
    for i, x in enumerate(nodes[:-1]):
        arcs[x] = []
        for y in nodes[i + 1 :]:
            length = y - x - (half if y != end else 0)
            length -= (facts.joint_gap - half) if i else 0
            whole = i == 0 and y == end
            if 0 < length <= longest and (whole or length >= facts.shortest):
                arcs[x].append((y, length))
    return arcs


def _cheapest(facts, arcs, prices, wall, pair):
    """The cheapest layout of one course, or of two neighbours, by Dijkstra's order."""
    start, end = facts.end_gap, wall["width"] - facts.end_gap
    best = {(start, start if pair else end): 0}
    while best:
        state = min(best, key=lambda s: (min(s), max(s)))
        cost = best.pop(state)
        low, high = min(state), max(state)
        if low == end:
            return cost
        for y, length in arcs.get(low, []):
            clash = start < high < end and y != end and (y == high or abs(y - high) < facts.stagger)
            if not clash:
                to = (min(y, high), max(y, high))
                best[to] = min(best.get(to, cost + prices[length]), cost + prices[length])
    return math.inf


def _most(prices, kerf, length):
    """The most price in one board: by weight ascending, keeping only what is worth more."""
    weights = sorted((x + kerf, p) for x, p in prices.items() if p > 0)
    cap = length + kerf
    if any(p > 5000 for _, p in weights):
        return math.floor(cap * max(p / w for w, p in weights))  # never too little
    weights = [(w, p) for i, (w, p) in enumerate(weights) if all(q < p for _, q in weights[:i])]
    lightest = {0: Fraction(0)}
    top = 0
    while True:
        top += 1
        ways = [w + lightest[max(top - p, 0)] for w, p in weights]
        if not ways or min(ways) > cap:
            return top - 1
        lightest[top] = min(ways)
