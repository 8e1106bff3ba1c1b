"""Checks an answer of the solver and its proof from the problem alone; shares no code with it."""

from fractions import Fraction
from itertools import pairwise, product
from math import ceil, gcd


def layouts(problem, run):
    """Every layout of a run: [(joints as (stud, offset), pieces as (length, kind))]."""
    rules, out = problem.rules, []
    places = sorted((at + o, s, o) for s, at in run.studs for o in rules.offsets)
    longest = max(s.length - 2 * rules.trim for s in problem.stock)
    wholes = {s.length for s in problem.stock if s.gone == 0 and rules.trim == 0}

    def go(chosen, start):
        pieces = pieces_of(problem, run, [(s, o) for _, s, o in chosen])
        bad = [n for n, k in pieces if n > longest or (k == 3 and n not in wholes)]
        short = len(pieces) > 1 and min(n for n, _ in pieces) < rules.shortest
        if not bad and not short:
            out.append(([(s, o) for _, s, o in chosen], pieces))
        for k in range(start, len(places)):
            x, s, _ = places[k]
            if run.left < x < run.right and (not chosen or chosen[-1][1] != s):
                go([*chosen, places[k]], k + 1)

    go([], 0)
    return out


def pieces_of(problem, run, joints):
    """(length, kind) of each piece: 1 needs a left-hand end, 2 a right-hand one, 3 is whole."""
    gap, at = problem.rules.joint_gap, dict(run.studs)
    x = [run.left - run.more[0], *(at[s] + o for s, o in joints), run.right + run.more[1]]
    out = []
    for k, (a, b) in enumerate(pairwise(x)):
        last = k == len(x) - 2
        length = b - a - (0 if last else gap // 2) - (gap - gap // 2 if k else 0)
        kind = 0 if not problem.rules.matched or len(x) == 2 else 2 if k == 0 else 1 if last else 3
        out.append((length, kind))
    return out


def agree(problem, a, b, joints_a, joints_b):
    """Whether two runs with these joints may stand as they are."""
    apart = abs(a.course - b.course)
    if a.wall != b.wall or not 0 < apart <= problem.rules.reach:
        return True
    least = problem.rules.stagger if apart == 1 else 0
    at, to = dict(a.studs), dict(b.studs)
    return all(s != t and abs(at[s] - to[t]) >= least for s, _ in joints_a for t, _ in joints_b)


def faults(problem, answer):
    """Everything wrong with the plan."""
    out, rules, runs = [], problem.rules, problem.runs
    for i, a in enumerate(runs):
        pieces = pieces_of(problem, a, answer.joints[i])
        if len(pieces) > 1 and min(n for n, _ in pieces) < rules.shortest and a.joints is None:
            out.append(f"run {i}: short piece")
        if a.joints is not None and a.joints != answer.joints[i]:
            out.append(f"run {i}: it hangs")
        for j, b in enumerate(runs[:i]):
            fixed = a.joints is not None and b.joints is not None
            if not fixed and not agree(problem, a, b, answer.joints[i], answer.joints[j]):
                out.append(f"runs {j}, {i}: stagger")
    left = {(i, k) for i in range(len(runs)) for k in range(len(answer.joints[i]) + 1)}
    cost = 0
    for n, (t, held) in enumerate(answer.boards):
        stock = problem.stock[t]
        cost += stock.cost
        pieces = [pieces_of(problem, runs[i], answer.joints[i])[k] for i, k in held]
        if not set(held) <= left:
            out.append(f"board {n}: a piece twice")
        left -= set(held)
        cuts = rules.kerf * (len(held) - 1)
        if sum(x for x, _ in pieces) + cuts > stock.length - 2 * rules.trim:
            out.append(f"board {n}: too short")
        kinds = [k for _, k in pieces]
        if kinds.count(1) > 1 or kinds.count(2) > 1 or (3 in kinds and len(kinds) > 1):
            out.append(f"board {n}: ends")
    for t, stock in enumerate(problem.stock):
        if stock.count is not None and sum(b[0] == t for b in answer.boards) > stock.count:
            out.append(f"stock {t}: count")
    if rules.kept is not None:
        rows = sorted({(r.wall, r.course) for r in runs})
        for row in rows:
            when = [[(runs[i].wall, runs[i].course) for i, _ in held] for _, held in answer.boards]
            waiting = [w for w in when if min(w) <= row < max(w)]
            if len(waiting) > rules.kept:
                out.append(f"after {row} {len(waiting)} offcuts wait")
    if left or cost != answer.cost:
        out.append(f"pieces {sorted(left)} not cut, cost {cost}")
    return out


def look(problem, joints):
    """What of the look there is to count, and its score: 10, 3, 2 and 1 for each."""
    rules, rows, marks = problem.rules, {}, {}
    for run, row in zip(problem.runs, joints, strict=True):
        rows.setdefault((run.wall, run.course), []).extend(s for s, _ in row)
        marks.setdefault(run.wall, {}).update(run.studs)
    out = {"same": 0, "near": 0, "stairs": 0, "joints": 0}
    for (wall, course), row in rows.items():
        at = marks[wall]
        order = sorted(at, key=lambda s: (at[s], s))
        one, two = rows.get((wall, course + 1), []), rows.get((wall, course + 2), [])
        out["joints"] += len(row)
        for k in range(2, rules.soft_reach + 1):
            out["same"] += len(set(row) & set(rows.get((wall, course + k), [])))
        out["near"] += sum(0 < abs(at[a] - at[b]) < rules.soft for a in row for b in one)
        places = [{order.index(s) for s in r} for r in (row, one, two)]
        out["stairs"] += sum(
            p + d in places[1] and p + 2 * d in places[2] for p in places[0] for d in (-1, 1)
        )
    score = 10 * out["same"] + 3 * out["near"] + 2 * out["stairs"] + out["joints"]
    return {**out, "score": score}


def proves(problem, certificate):
    """The least cost that the certificate proves, added up again."""
    prices = {(n, k): p for n, k, p in certificate.prices}
    assert all(isinstance(p, int) and p >= 0 for p in prices.values())
    total, claimed = 0, []
    for runs, _ in certificate.units:
        claimed += runs
        total += _least(problem, [problem.runs[i] for i in runs], prices)
    assert sorted(claimed) == list(range(len(problem.runs)))
    rates = []
    stores = [(s.cost, s.count, _most(problem, s, prices)) for s in problem.stock]
    for cost, _, most in stores:
        if cost and most and all(n is not None or k * cost <= most * c for c, n, k in stores):
            over = [n * max(0, k - Fraction(most, cost) * c) for c, n, k in stores if n is not None]
            rates.append((total - sum(over)) * Fraction(cost, most))
    common = gcd(*(s.cost for s in problem.stock))
    return ceil(max([Fraction(0), *rates]) / common) * common if common else 0


def refutes(problem, refuted, cost):
    """Whether the branches show that no plan costs less than `cost`."""
    ranges = []
    for s in problem.stock:
        top = s.count if s.cost == 0 else (cost - 1) // s.cost
        ranges.append(range((top if s.count is None else min(top, s.count)) + 1))
    for counts in product(*ranges):
        if sum(n * s.cost for n, s in zip(counts, problem.stock, strict=True)) < cost:
            assert any(all(a <= b for a, b in zip(counts, r.counts, strict=True)) for r in refuted)
    ways = [layouts(problem, run) for run in problem.runs]
    return all(_too_few(problem, r.counts, r.tree, ways) for r in refuted)


def _too_few(problem, counts, tree, ways):
    """Whether the tree shows that boards in these counts don't do for the layouts left."""
    runs = problem.runs
    if tree[0] == "joint":
        _, run, mark, there, gone = tree
        have = [ws if i != run else [w for w in ws if mark in w[0]] for i, ws in enumerate(ways)]
        have = [
            [w for w in ws if i == run or agree(problem, runs[i], runs[run], w[0], [mark])]
            for i, ws in enumerate(have)
        ]
        lack = [
            ws if i != run else [w for w in ws if mark not in w[0]] for i, ws in enumerate(ways)
        ]
        return _too_few(problem, counts, there, have) and _too_few(problem, counts, gone, lack)
    if tree[0] == "prices":
        prices = {(n, k): p for n, k, p in tree[1]}
        assert all(isinstance(p, int) and p >= 0 for p in prices.values())
        assert sorted(i for group in tree[2] for i in group) == list(range(len(runs)))
        holds = sum(
            n * _most(problem, s, prices) for n, s in zip(counts, problem.stock, strict=True)
        )
        asked = [
            _least(problem, [runs[i] for i in group], prices, [ways[i] for i in group])
            for group in tree[2]
        ]
        return None in asked or sum(asked) > holds
    if tree[0] == "none":
        free = dict.fromkeys((p for ws in ways for _, ps in ws for p in ps), 0)
        group = tree[1]
        return _least(problem, [runs[i] for i in group], free, [ways[i] for i in group]) is None
    if tree[0] == "clash":
        a, b = tree[1:]
        pairs = product(ways[a], ways[b])
        return not any(agree(problem, runs[a], runs[b], v[0], w[0]) for v, w in pairs)
    assert tree[0] == "packed" and all(len(ws) == 1 for ws in ways)
    pieces = sorted((p for ws in ways for p in ws[0][1]), reverse=True)
    boards = [
        (s.length - 2 * problem.rules.trim + problem.rules.kerf, s.gone, s.length)
        for n, s in zip(counts, problem.stock, strict=True)
        for _ in range(n)
    ]
    return not _fit(problem, pieces, boards)


def _fit(problem, pieces, boards):
    """Whether the pieces, longest first, go on the boards (room, ends in use, length)."""
    if not pieces:
        return True
    n, kind = pieces[0]
    for board in set(boards):
        room, ends, length = board
        fresh = room == length - 2 * problem.rules.trim + problem.rules.kerf
        whole = kind == 3 and fresh and n == length and not ends
        if whole or (kind != 3 and n + problem.rules.kerf <= room and not ends & kind):
            rest = list(boards)
            rest.remove(board)
            rest.append((room - n - problem.rules.kerf, ends | kind, length))
            if _fit(problem, pieces[1:], rest):
                return True
    return False


def _least(problem, runs, prices, of=None):
    """The cheapest layouts of these runs together; None where none agree."""
    of = of or [layouts(problem, r) for r in runs]
    ways = [sorted((sum(prices[p] for p in ps), js) for js, ps in own) for own in of]
    if not all(ways):
        return None
    best = [None]

    def go(k, so_far, chosen):
        if k == len(runs):
            best[0] = so_far
            return
        rest = sum(w[0][0] for w in ways[k + 1 :])
        for price, js in ways[k]:
            if best[0] is not None and so_far + price + rest >= best[0]:
                return
            if all(agree(problem, runs[i], runs[k], chosen[i], js) for i in range(k)):
                go(k + 1, so_far + price, [*chosen, js])

    go(0, 0, [])
    return best[0]


def _most(problem, stock, prices):
    """The most price one board holds: over (weight, left-hand end, right-hand end) in use."""
    cap = stock.length - 2 * problem.rules.trim + problem.rules.kerf
    best, queue = {(0, stock.gone): 0}, [(0, stock.gone)]
    top = 0
    for (n, kind), p in prices.items():
        if kind == 3 and n == stock.length and stock.gone == 0 and problem.rules.trim == 0:
            top = max(top, p)
    while queue:
        weight, ends = queue.pop()
        top = max(top, best[weight, ends])
        for (n, kind), p in prices.items():
            to = (weight + n + problem.rules.kerf, ends | kind)
            more = best[weight, ends] + p
            fits = p and kind != 3 and to[0] <= cap and not ends & kind
            if fits and best.get(to, -1) < more:
                best[to] = more
                queue.append(to)
    return top
