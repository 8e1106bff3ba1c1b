"""Is a plan right? An independent check from the job and the plan alone.

It shares nothing with calc but the reading of a tape (calc.lengths.read). Walls,
runs and shapes are tests/wall_checker.py's; here are the boards, the bill and the
bound, and what else is known of a wall that is a plain rectangle, all in
fractions of a millimetre. check(job, plan) gives the list of what is wrong, each
entry starting with a word for the kind of fault.
"""

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
    """Add the certificate up again: cheapest layouts over best fillings, in fractions."""
    prices = {_exact(p["length"]): p["price"] for p in plan["certificate"]["prices"]}
    if any(not isinstance(p, int) or p < 0 for p in prices.values()):
        faults.append("bound: a price is not a whole number of 0 or more")
        return
    priced = all(price is not None for _, price, _ in facts.stock)
    usable = [(x, price) for x, price, count in facts.stock if count != 0]
    total = 0
    longest = max(x for x, _ in usable)
    claimed = set()
    for chain in plan["certificate"]["runs"]:
        graphs = [_arcs(facts, nodes, longest) for nodes in _chain(facts, plan, chain, claimed)]
        if len(graphs) != chain["courses"] or any(g != graphs[0] for g in graphs):
            faults.append(f"bound: no such runs as {chain}")
            return
        arcs = graphs[0]
        arcs = {x: [(y, _near(prices, z)) for y, z in out] for x, out in arcs.items()}
        if any(length is None for out in arcs.values() for _, length in out):
            faults.append("bound: a length has no price")
            return
        n = chain["courses"]
        alone = _cheapest(facts, arcs, prices, False)
        pair = _cheapest(facts, arcs, prices, True) if n > 1 else 0
        if chain["one"] != alone or (n > 1 and chain["two"] != pair):
            faults.append(f"bound: {chain} costs {alone} alone and {pair} two by two")
        total += n // 2 * pair + n % 2 * alone
    if len(claimed) != sum(len(c["runs"]) for w in plan["walls"] for c in w["courses"]):
        faults.append("bound: not every run is in it")
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


def _near(prices, length):
    """The length that has a price. A leaning stud's place is rounded, by a jot at either end."""
    if length in prices:
        return length
    return next((x for x in prices if abs(x - length) <= 2 * JOT), None)


def _chain(facts, plan, chain, claimed):
    """The nodes of each run of a chain: its ends, and the studs where it may join.

    claimed: the runs that other chains have, (wall, course, place); it gains these.
    """
    out = []
    n = chain["wall"] - 1
    rows = {c["number"]: c for c in plan["walls"][n]["courses"]}
    for number in range(chain["course"], chain["course"] + chain["courses"]):
        course = rows.get(number, {"runs": []})
        for place, run in enumerate(course["runs"]):
            ends = run["left"], run["right"]
            if ends == (chain["left"], chain["right"]) and (n, number, place) not in claimed:
                claimed.add((n, number, place))
                out.append(_nodes(facts, facts.walls[n], course, run))
                break
    return out


def _nodes(facts, wall, course, run):
    """A run's ends and, between them, the studs that keep clear, or all where they must.

    A joint keeps `sliver` clear of a box, and is not where less than the least rip
    of board stands over or under an opening, or some at both.
    """
    start, end = _exact(run["left"]), _exact(run["right"])
    low, high = _exact(course["bottom"]), _exact(course["top"])
    clear, every = [], []
    for number in range(1, len(wall.studs) + 1):
        at = nearest(wall.stud_at(number, (low + high) / 2))
        if start < at < end and _shows(wall, at, low, high):
            every.append(at)
            if _keeps_clear(facts, wall, at, low, high):
                clear.append(at)
    longest = max(x for x, _, count in facts.stock if count != 0)
    nodes = [start, *clear, end]
    if len(clear) < len(every) and _cheapest(facts, _arcs(facts, nodes, longest), None, False) == (
        math.inf
    ):
        return [start, *every, end]
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


def _arcs(facts, nodes, longest):
    """From each node the pieces that may follow: (next node, length)."""
    end = nodes[-1]
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
    arcs[end] = []
    return arcs


def _cheapest(facts, arcs, prices, pair):
    """The cheapest layout of one run, or of two neighbours, by Dijkstra's order.

    prices: None for a layout at all.
    """
    start, end = min(arcs), max(arcs)
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
                more = cost + (prices[length] if prices else 0)
                best[to] = min(best.get(to, more), more)
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
