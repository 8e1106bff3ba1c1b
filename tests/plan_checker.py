"""Is a plan right? An independent check from the job and the plan alone.

It shares nothing with calc but the reading of a tape (calc.lengths.read). Walls,
runs and shapes are tests/wall_checker.py's; here are the boards, the bill and the
bound, and what else is known of a wall that is a plain rectangle, all in
fractions of a millimetre. check(job, plan) gives the list of what is wrong, each
entry starting with a word for the kind of fault.
"""

import heapq
import math
from fractions import Fraction

from shapely import LineString, box

from tests import wall_checker
from tests.wall_facts import JOT, Facts, nearest


def check(job, plan):
    """Everything wrong with the plan of this job, as texts; empty where it is right."""
    faults = wall_checker.check(job, plan)
    facts = Facts(job)
    pieces = {p["id"]: p for p in plan["pieces"]}
    if len(pieces) != len(plan["pieces"]):
        faults.append("id: one is used twice")
    if len(plan["walls"]) != len(facts.walls):
        return faults
    for number, (wall, made) in enumerate(zip(facts.walls, plan["walls"], strict=True), 1):
        if _plain(facts, wall, number):
            _check_rectangle(facts, wall, made, faults)
        for course in made["courses"]:
            for run in course["runs"]:
                _check_short(facts, course, run, pieces, faults)
    _check_boards(facts, plan, pieces, faults)
    _check_bill(facts, plan, faults)
    _check_bound(facts, plan, faults)
    return faults


def _exact(value):
    """A plan's number of millimetres, by its decimal digits: a jot is exactly 0.003125."""
    return Fraction(str(value))


def _plain(facts, wall, number):
    """Whether the wall is a rectangle of its own, with nothing in it but boxes."""
    after = facts.walls[number].corner if number < len(facts.walls) else "none"
    return (
        facts.courses in ("full", "balanced")
        and (wall.corner, after) == ("none", "none")
        and not wall.openings
        and all(y == 0 for _, y in wall.floor)
        and len({y for _, y in wall.ceiling}) == 1
        and {x for x, _ in wall.left + wall.right} == {0, wall.width}
    )


def _check_rectangle(facts, wall, made, faults):
    """Lines tile the height from one datum; rips are the widths the edges leave."""
    height = wall.ceiling[0][1]
    room = height - facts.floor_gap - facts.ceiling_gap
    if _exact(made["height"]) != height or _exact(made["width"]) != wall.width:
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
    right = 0 if room % facts.face == 0 else 2 if facts.courses == "balanced" and last > 1 else 1
    if rips != right:
        faults.append(f"rip: {rips} courses are ripped narrower, not {right}")
    if rips == 2:
        first, final = made["courses"][0], made["courses"][-1]
        sizes = [_exact(c["top"]) - _exact(c["bottom"]) for c in (first, final)]
        if abs(sizes[0] - sizes[1]) > JOT:
            faults.append("rip: the two rips are not alike")


def _check_short(facts, course, run, pieces, faults):
    """Every piece beside a joint has the shortest length or more."""
    for key in run["pieces"] if run["joints"] else []:
        p = pieces.get(key)
        if p is not None and _exact(p["length"]) < facts.shortest:
            faults.append(f"short: {key} is {p['length']} mm")
        if p is not None and _exact(p["right"]) - _exact(p["left"]) != _exact(p["length"]):
            faults.append(f"length: {key} is {p['length']} mm")


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
    """Add the certificate up again: cheapest layouts over best fillings, in whole jots."""
    proof, cost = plan["certificate"], plan["cost"]
    prices = {(_jots(p["length"]), p["kind"]): p["price"] for p in proof["prices"]}
    if any(not isinstance(p, int) or p < 0 for p in prices.values()):
        faults.append("bound: a price is not a whole number of 0 or more")
        return
    total, claimed, known = 0, set(), {}
    for unit in proof["units"]:
        runs = [_run_of(plan, of, claimed) for of in unit["runs"]]
        if None in runs:
            faults.append(f"bound: no such runs as {unit}")
            return
        nodes = [tuple(_nodes(facts, facts.walls[w], course, run)) for w, course, run in runs]
        wall, rows = runs[0][0], [course["number"] for _, course, _ in runs]
        apart = [n - rows[0] for n in rows]
        if any(w != wall for w, _, _ in runs):
            faults.append(f"bound: {unit} is of several walls")
            return
        key = (tuple(nodes), tuple(apart))
        if key not in known:
            arcs = [_arcs(facts, row, prices) for row in nodes]
            known[key] = math.inf if None in arcs else _cheapest(facts, nodes, arcs, apart)
        if known[key] == math.inf or unit["least"] > known[key]:
            faults.append(f"bound: {unit} costs {known[key]}")
            return
        total += unit["least"]
    if len(claimed) != sum(len(c["runs"]) for w in plan["walls"] for c in w["courses"]):
        faults.append("bound: not every run is in it")
    bound = _proved(facts, proof, prices, total, faults)
    if _exact(cost["bound"]) > bound:
        faults.append(f"bound: {cost['bound']} proves only {float(bound)}")
    if cost["proven"] != (cost["total"] == cost["bound"]):
        faults.append(f"proven: {cost['proven']}")
    if cost["total"] < cost["bound"]:
        faults.append("bound: it is above the cost")


def _proved(facts, proof, prices, total, faults):
    """The least cost of boards that hold `total` of price: by the rate, less what counts allow.

    A board without a count that held more than the rate for its cost would prove nothing.
    """
    priced = all(price is not None for _, price, _ in facts.stock)
    rate = Fraction(proof["rate"]["most"]) / (_exact(proof["rate"]["cost"]) or 1)
    fills = {f["line"]: f["most"] for f in proof["fills"]}
    over, costs = Fraction(0), []
    for line, (length, price, count) in enumerate(facts.stock, 1):
        if count == 0:
            continue
        cost = _cents(price) if priced else length
        costs.append(cost)
        if fills.get(line, -1) < _most(facts, prices, length):
            faults.append(f"bound: a board of line {line} holds more than {fills.get(line)}")
        beyond = max(Fraction(0), fills.get(line, 0) - rate * cost)
        if count is None and beyond:
            return Fraction(0)
        over += beyond * (count or 0)
    bound = (total - over) / rate if rate else Fraction(0)
    grain = Fraction(math.gcd(*[int(c * 6400) for c in costs]), 6400)
    return math.ceil(bound / grain) * grain if grain and bound > 0 else Fraction(0)


def _jots(mm):
    return round(_exact(mm) / JOT)


def _run_of(plan, of, claimed):
    """(wall, course, run) of the plan that a certificate names, once; claimed: those named."""
    n, number, place = of["wall"] - 1, of["course"], of["run"] - 1
    rows = [c for c in plan["walls"][n]["courses"] if c["number"] == number]
    if (n, number, place) in claimed or not rows or not 0 <= place < len(rows[0]["runs"]):
        return None
    claimed.add((n, number, place))
    return n, rows[0], rows[0]["runs"][place]


def _nodes(facts, wall, course, run):
    """(x in jots, stud) of a run's ends and, between them, of the studs that keep clear.

    Of all studs where they must. A joint keeps `sliver` clear of a box, and is not where
    less than the least rip of board stands over or under an opening, or some at both.
    """
    start, end = _exact(run["left"]), _exact(run["right"])
    low, high = _exact(course["bottom"]), _exact(course["top"])
    clear, every = [], []
    for number in range(1, len(wall.studs) + 1):
        at = nearest(wall.stud_at(number, (low + high) / 2))
        if start < at < end and _shows(wall, at, low, high):
            every.append((_jots(at), number))
            if _keeps_clear(facts, wall, at, low, high):
                clear.append((_jots(at), number))
    ends = (_jots(start), 0), (_jots(end), 0)
    nodes = [ends[0], *sorted(clear), ends[1]]
    if len(clear) < len(every):
        free = _cheapest(facts, [nodes], [_arcs(facts, nodes, None)], [0])
        return nodes if free < math.inf else [ends[0], *sorted(every), ends[1]]
    return nodes


def _shows(wall, at, low, high):
    """Whether the course shows on both sides of the place."""
    x = float(at)
    return all(
        wall.clad.intersection(box(x + a, float(low), x + b, float(high))).area > 0
        for a, b in ((-0.01, 0), (0, 0.01))
    )


def _keeps_clear(facts, wall, at, low, high):
    board = (low, high + facts.hidden) if facts.up else (low - facts.hidden, high)
    boxes = {name for name, *_ in wall.boxes}
    for name, polygon in wall.blocked.items():
        x0, y0, x1, y1 = polygon.bounds
        if y0 >= board[1] or y1 <= board[0]:
            continue
        keep = float(facts.sliver) if name in boxes else 0
        if not x0 - keep + 1e-6 < at < x1 + keep - 1e-6:
            continue
        line = LineString([(float(at), float(low)), (float(at), float(high))])
        strips = wall.clad.intersection(line)
        strips = [q for q in getattr(strips, "geoms", [strips]) if q.length > JOT]
        if name in boxes or len(strips) != 1 or strips[0].length < facts.least_rip:
            return False
    return True


def _arcs(facts, nodes, prices):
    """From each node the pieces that may follow: (next node, price); prices None: all are free.

    None where a length has no price.
    """
    end = len(nodes) - 1
    longest = max(_jots(x) for x, _, count in facts.stock if count != 0)
    gap = _jots(facts.joint_gap)
    arcs = []
    for i, (x, _) in enumerate(nodes[:-1]):
        out = []
        for k in range(i + 1, end + 1):
            length = nodes[k][0] - x - (gap // 2 if k < end else 0) - (gap - gap // 2 if i else 0)
            whole = i == 0 and k == end
            if 0 < length <= longest and (whole or length >= _jots(facts.shortest)):
                price = 0 if prices is None else _price(prices, length, "any")
                if price is None:
                    return None
                out.append((k, price))
        arcs.append(out)
    return [*arcs, []]


def _price(prices, length, kind):
    """A length's price. A leaning stud's place is rounded, by a jot at either end."""
    for off in (0, 1, -1, 2, -2):
        if (length + off, kind) in prices:
            return prices[length + off, kind]
    return None


def _cheapest(facts, nodes, arcs, apart):
    """The cheapest layouts of these runs together, by Dijkstra's order; infinite for none.

    apart: the course of each, from the first. The run that is behind goes on, and its new
    joint is held against where the others stand.
    """
    ends = tuple(len(row) - 1 for row in nodes)
    places = [[x for x, _ in row] for row in nodes]
    start = (0,) * len(nodes)
    best, queue, done = {start: 0}, [(0, start)], set()
    while queue:
        cost, state = heapq.heappop(queue)
        if state == ends:
            return cost
        if state in done:
            continue
        done.add(state)
        i = min((k for k in range(len(nodes)) if state[k] < ends[k]),
                key=lambda k: (places[k][state[k]], k))  # fmt: skip
        others = [(k, nodes[k][state[k]]) for k in range(len(nodes)) if k != i]
        for v, price in arcs[i][state[i]]:
            joint = nodes[i][v]
            if v < ends[i] and any(_clash(facts, abs(apart[i] - apart[k]), joint, o)
                                   for k, o in others):  # fmt: skip
                continue
            to = (*state[:i], v, *state[i + 1 :])
            if cost + price < best.get(to, math.inf):
                best[to] = cost + price
                heapq.heappush(queue, (cost + price, to))
    return math.inf


def _clash(facts, apart, a, b):
    """Whether two joints, (x, stud), this many courses apart, may not both be."""
    if not b[1] or not 0 < apart <= 1:
        return False
    return a[1] == b[1] or abs(a[0] - b[0]) < _jots(facts.stagger)


def _most(facts, prices, length):
    """The most price in one board: by weight ascending, keeping only what is worth more."""
    kerf = _jots(facts.kerf)
    cap = _jots(length) + kerf
    weights = sorted((x + kerf, p) for (x, _), p in prices.items() if p > 0 and x + kerf <= cap)
    if all(p == w for w, p in weights):
        return cap
    weights = [(w, p) for i, (w, p) in enumerate(weights) if all(q < p for _, q in weights[:i])]
    lightest = [0]
    while True:
        top = len(lightest)
        least = min((w + lightest[max(top - p, 0)] for w, p in weights), default=cap + 1)
        if least > cap:
            return top - 1
        lightest.append(least)
