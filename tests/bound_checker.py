"""Does a plan's certificate prove its bound? Added up again from the job and the plan alone.

Each run's layouts are made anew from its studs; the cheapest layouts of each unit of
neighbouring runs, by the certificate's prices, are held against the most price that a
board of each length holds: see calc/solver/bounds.py for why that proves it. It shares
nothing with calc. In whole jots.
"""

import heapq
import itertools
import math
from fractions import Fraction

from shapely import LineString, box

from tests.marked import sawn
from tests.wall_facts import JOT, nearest

KINDS = ("any", "left", "right", "whole")
ENDS = ((0, "left"), (-1, "right"))  # of a run: its first piece, its last one


def exact(value):
    """A plan's number of millimetres, by its decimal digits: a jot is exactly 0.003125."""
    return Fraction(str(value))


def cost_of(facts, line):
    """What one board of the line costs, counted from 1: 0 for an offcut on site."""
    length, price, _ = facts.stock[line - 1]
    if facts.offcuts[line - 1]:
        return Fraction(0)
    return cents(price) if priced(facts) else length


def priced(facts):
    return all(price is not None for _, price, _ in facts.stock)


def cents(price):
    return Fraction(round(exact(price) * 100), 100)


def check_bound(facts, marked, plan, pieces, faults):
    """Add the certificate up again: cheapest layouts over best fillings, in whole jots.

    A run that is partly up has one layout, of which what is cut costs nothing more.
    """
    proof, cost = plan["certificate"], plan["cost"]
    facts.marked = marked
    boards = {b["number"]: b for b in plan["boards"]}
    facts.rooms = [_jots(marked.left(n, boards[n])) for n in marked.boards if n in boards]
    facts.rooms += [_jots(facts.mm(m["length"])) for key, m in marked.shorts.items()
                    if any(f["short"] == key for f in proof["begun"])]  # fmt: skip
    prices = {(_jots(p["length"]), p["kind"]): p["price"] for p in proof["prices"]}
    if any(not isinstance(p, int) or p < 0 for p in prices.values()):
        faults.append("bound: a price is not a whole number of 0 or more")
        return
    total, claimed, known = 0, set(), {}
    if not all(k in pieces for w in plan["walls"] for c in w["courses"]
               for r in c["runs"] for k in r["pieces"]):  # fmt: skip
        faults.append("bound: a run has a piece that is not there")
        return
    for unit in proof["units"]:
        runs = [_run_of(plan, of, claimed) for of in unit["runs"]]
        if None in runs:
            faults.append(f"bound: no such runs as {unit}")
            return
        over = [tuple(_jots(pieces[r["pieces"][k]]["over"][side]) for k, side in ENDS)
                for _, _, r in runs]  # fmt: skip
        places = [(w + 1, c["number"], c["runs"].index(r) + 1) for w, c, r in runs]
        fixed = [_fixed(facts, prices, r, pieces) if at in marked.runs else None
                 for at, (_, _, r) in zip(places, runs, strict=True)]  # fmt: skip
        nodes = [
            tuple(_nodes(facts, facts.walls[w], course, run, more)) if own is None else own[0]
            for (w, course, run), more, own in zip(runs, over, fixed, strict=True)
        ]
        wall, rows = runs[0][0], [course["number"] for _, course, _ in runs]
        apart = [n - rows[0] for n in rows]
        if any(w != wall for w, _, _ in runs):
            faults.append(f"bound: {unit} is of several walls")
            return
        key = (tuple(nodes), tuple(apart), tuple(over), str(fixed))
        if key not in known:
            arcs = [_arcs(facts, row, prices, more) if own is None else own[1]
                    for row, more, own in zip(nodes, over, fixed, strict=True)]  # fmt: skip
            known[key] = math.inf if None in arcs else _cheapest(facts, nodes, arcs, apart)
        if known[key] == math.inf or unit["least"] > known[key]:
            faults.append(f"bound: {unit} costs {known[key]}")
            return
        total += unit["least"]
    if len(claimed) != sum(len(c["runs"]) for w in plan["walls"] for c in w["courses"]):
        faults.append("bound: not every run is in it")
    sunk = marked.sunk(lambda line: cost_of(facts, line))
    if exact(proof["sunk"]) != sunk:
        faults.append(f"bound: {proof['sunk']} is spent already, {float(sunk)} is")
    bound = sunk + _proved(facts, plan, prices, total, faults)
    if exact(cost["bound"]) > bound:
        faults.append(f"bound: {cost['bound']} proves only {float(bound)}")
    if cost["proven"] != (cost["total"] == cost["bound"]):
        faults.append(f"proven: {cost['proven']}")
    if cost["total"] < cost["bound"]:
        faults.append("bound: it is above the cost")


def _fixed(facts, prices, run, pieces):
    """(nodes, arcs) of a run that keeps its joints."""
    ends = (_jots(run["left"]), 0), (_jots(run["right"]), 0)
    nodes = (ends[0], *((_jots(j["at"]), j["stud"]) for j in run["joints"]), ends[1])
    arcs = []
    for k, key in enumerate(run["pieces"]):
        p = pieces[key]
        last = k == len(run["pieces"]) - 1
        kind = "any" if not facts.matched or (k == 0 and last) else _kind(k, last)
        price = 0 if p["state"] == "cut" else _price(prices, _jots(sawn(p)), kind)
        if price is None:
            return nodes, None
        arcs.append([(k + 1, price)])
    return nodes, [*arcs, []]


def _proved(facts, plan, prices, total, faults):
    """The least cost of boards that hold `total` of price: by the rate, less what counts allow.

    A board without a count that held more than the rate for its cost would prove nothing.
    """
    proof, marked = plan["certificate"], facts.marked
    rate = Fraction(proof["rate"]["most"]) / (exact(proof["rate"]["cost"]) or 1)
    fills = {f["line"]: f["most"] for f in proof["fills"]}
    over, costs = Fraction(0), []
    for line, (length, _, count) in enumerate(facts.stock, 1):
        count = None if count is None else count - marked.used(line)
        if count == 0:
            continue
        cost = cost_of(facts, line)
        costs.append(cost)
        if fills.get(line, -1) < _most(facts, prices, length, facts.offcuts[line - 1]):
            faults.append(f"bound: a board of line {line} holds more than {fills.get(line)}")
        beyond = max(Fraction(0), fills.get(line, 0) - rate * cost)
        if count is None and beyond:
            return Fraction(0)
        over += beyond * (count or 0)
    over += _begun(facts, plan, prices, faults)
    bound = (total - over) / rate if rate else Fraction(0)
    grain = Fraction(math.gcd(*[int(c * 6400) for c in costs]), 6400)
    return math.ceil(bound / grain) * grain if grain and bound > 0 else Fraction(0)


def _begun(facts, plan, prices, faults):
    """The price that what is left of boards begun, and pieces that came short, may hold."""
    marked, over = facts.marked, 0
    most = {(f["board"], f["short"]): f["most"] for f in plan["certificate"]["begun"]}
    boards = {b["number"]: b for b in plan["boards"]}
    rooms = {(n, b.short): marked.left(n, boards[n]) for n, b in marked.boards.items()}
    begun = {b.short for b in marked.boards.values()}
    for key, mark in marked.shorts.items():
        # One that is ripped or notched may not serve; a certificate with it proves less.
        if key not in begun and (None, key) in most:
            rooms[None, key] = facts.mm(mark["length"])
    for b in plan["boards"]:  # what is used must be in it
        if b["state"] == "whole" and b["short"] and (None, b["short"]) not in most:
            faults.append(f"bound: board {b['number']} is not in it")
    for key, room in rooms.items():
        if room > 0:
            need = _most(facts, prices, room + 2 * facts.trim, True)
            if most.get(key, -1) < need:
                faults.append(f"bound: board {key} holds more than {most.get(key)}")
            over += most.get(key, 0)
    return over


def _jots(mm):
    return round(exact(mm) / JOT)


def _run_of(plan, of, claimed):
    """(wall, course, run) of the plan that a certificate names, once; claimed: those named."""
    n, number, place = of["wall"] - 1, of["course"], of["run"] - 1
    rows = [c for c in plan["walls"][n]["courses"] if c["number"] == number]
    if (n, number, place) in claimed or not rows or not 0 <= place < len(rows[0]["runs"]):
        return None
    claimed.add((n, number, place))
    return n, rows[0], rows[0]["runs"][place]


def _nodes(facts, wall, course, run, more):
    """(x in jots, stud) of a run's ends and, between them, of the studs that keep clear.

    Of all studs where they must. A joint keeps `sliver` clear of a box, and is not where
    less than the least rip of board stands over or under an opening, or some at both.
    """
    start, end = exact(run["left"]), exact(run["right"])
    low, high = exact(course["bottom"]), exact(course["top"])
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
        free = _cheapest(facts, [nodes], [_arcs(facts, nodes, None, more)], [0])
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


def _arcs(facts, nodes, prices, more):
    """From each node the pieces that may follow: (next node, price); prices None: all are free.

    more: what the first and the last piece are cut over. None where a length has no price.
    """
    end = len(nodes) - 1
    marked = facts.marked
    lines = [(x, n is None or n > marked.used(line), off) for line, ((x, _, n), off)
             in enumerate(zip(facts.stock, facts.offcuts, strict=True), 1)]  # fmt: skip
    longest = max((_jots(x - 2 * facts.trim) for x, had, _ in lines if had), default=0)
    longest = max([longest, *facts.rooms])
    new = [_jots(x) for x, had, off in lines if had and not off]
    gap = _jots(facts.joint_gap)
    arcs = []
    for i, (x, _) in enumerate(nodes[:-1]):
        out = []
        for k in range(i + 1, end + 1):
            left = x + (gap - gap // 2 if i else -more[0])
            length = nodes[k][0] + (-(gap // 2) if k < end else more[1]) - left
            whole = i == 0 and k == end
            kind = "any" if whole or not facts.matched else _kind(i, k == end)
            if kind == "whole" and length not in new:
                continue
            if 0 < length <= longest and (whole or length >= _jots(facts.shortest)):
                price = 0 if prices is None else _price(prices, length, kind)
                if price is None:
                    return None
                out.append((k, price))
        arcs.append(out)
    return [*arcs, []]


def _kind(start, last):
    """The board's end that a piece needs: one that starts a run has its matched end right."""
    return "left" if last else "whole" if start else "right"


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
    if not b[1] or not 0 < apart <= facts.reach:
        return False
    return a[1] == b[1] or (apart == 1 and abs(a[0] - b[0]) < _jots(facts.stagger))


def _most(facts, prices, length, offcut):
    """The most price in one board: by weight ascending, keeping only what is worth more.

    Where ends match, a board gives one piece with its left and one with its right end.
    """
    kerf = _jots(facts.kerf)
    cap = _jots(length - 2 * facts.trim) + kerf
    weights = sorted((x + kerf, p) for (x, _), p in prices.items() if p > 0 and x + kerf <= cap)
    if weights and all(p == w for w, p in weights):
        return cap
    if facts.matched:
        return _most_matched(facts, prices, _jots(length), offcut)
    weights = [(w, p) for i, (w, p) in enumerate(weights) if all(q < p for _, q in weights[:i])]
    lightest = [0]
    while True:
        top = len(lightest)
        least = min((w + lightest[max(top - p, 0)] for w, p in weights), default=cap + 1)
        if least > cap:
            return top - 1
        lightest.append(least)


def _most_matched(facts, prices, length, offcut):
    """The same where ends match, by every choice of what takes the board's two ends.

    An offcut has neither end.
    """
    kerf = _jots(facts.kerf)
    by_kind = {k: [(n + kerf, p) for (n, kind), p in prices.items() if kind == k] for k in KINDS}
    whole = [p for (n, kind), p in prices.items() if kind == "whole" and n == length]
    top = 0 if offcut else max(whole, default=0)
    none = [(0, 0)]
    ends = [none, none] if offcut else [[*none, *by_kind["left"]], [*none, *by_kind["right"]]]
    best = {0: 0}  # weight: the most price of pieces that need no end
    for weight in sorted(_sums([w for w, _ in by_kind["any"]], length + kerf)):
        best[weight] = max([best.get(weight, 0)] + [best[weight - w] + p
                           for w, p in by_kind["any"] if weight - w in best])  # fmt: skip
    for (w, p), (v, q) in itertools.product(*ends):
        room = length + kerf - w - v
        if room >= 0:
            top = max(top, p + q + max(x for y, x in best.items() if y <= room))
    return top


def _sums(weights, cap):
    """Every sum of these weights, each any number of times, up to the cap."""
    seen, queue = {0}, [0]
    while queue:
        at = queue.pop()
        for w in weights:
            if at + w <= cap and at + w not in seen:
                seen.add(at + w)
                queue.append(at + w)
    return seen
