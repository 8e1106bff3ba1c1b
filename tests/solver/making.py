"""Small layout problems made from a seed, for the tests; whole sixteenths of an inch."""

import random

from calc.solver.given import Problem, Rules, Run, Stock


def tiny(seed):
    """A wall of two to five short courses; rules, stock and openings vary with the seed."""
    r = random.Random(seed)
    width = r.choice([1000, 1400, 1777, 2100, 2600])
    first = r.choice([100, 256, 301])
    studs = [(k, first + 256 * k) for k in range((width - first - 20) // 256 + 1)]
    matched = r.random() < 0.2
    runs = []
    for course in range(r.randint(2, 5)):
        ends = [(0, width)]
        if course % 3 == 1 and r.random() < 0.5:
            ends = [(0, width // 2 - 150), (width // 2 + 150, width)]
        runs += [Run(0, course, a, b, studs, (0, 0), None) for a, b in ends]
    rules = Rules(
        kerf=r.choice([0, 2]),
        trim=0 if matched else r.choice([0, 0, 5]),
        joint_gap=0 if matched else r.choice([0, 1, 2]),
        shortest=r.choice([380, 420]),
        offsets=[0],
        stagger=r.choice([1, 257]),
        reach=r.choice([1, 2]),
        matched=matched,
        soft=512,
        soft_reach=2,
        kept=None,
    )
    stock = [Stock(r.choice([1152, 1536]), r.choice([1, 7]), None, 0)]
    if r.random() < 0.4:
        stock.append(Stock(1700, r.choice([2, 9]), r.choice([None, 1, 2]), 0))
    if r.random() < 0.3:
        stock.append(Stock(r.choice([500, 700]), 0, r.randint(1, 2), 3))
    return Problem(runs, stock, rules, [])


def wall(seed, courses=12):
    """One wall of like courses, 120 to 200 in, from one stock length."""
    r = random.Random(seed)
    width = r.randint(1920, 3200)
    studs = [(k, 256 * k + r.randint(20, 200)) for k in range(width // 256)]
    rules = Rules(2, 0, 0, 256, [0], 1, 1, False, 512, 2, None)
    runs = [Run(0, c, 2, width - 2, studs, (0, 0), None) for c in range(courses)]
    return Problem(runs, [Stock(r.choice([1536, 1920, 2304]), 1, None, 0)], rules, [])


def house(seed, walls=6, courses=30, stock=None, matched=False):
    """Walls of a house, 50 to 270 in, with a door or window in most; 150 runs and more."""
    r = random.Random(seed)
    runs = []
    for w in range(walls):
        width = r.randint(800, 4300)
        first = r.randint(20, 250)
        studs = [(k, first + 256 * k) for k in range((width - first) // 256 + 1)]
        left = r.randint(260, width // 2)
        right = min(left + r.randint(400, 1200), width - 260)
        low = r.choice([courses // 3, courses])  # from here down nothing is in the way
        for c in range(courses):
            ends = [(2, width - 2)]
            if 3 <= c < low and right - left > 300:
                ends = [(2, left), (right, width - 2)]
            runs += [Run(w, c, a, b, studs, (0, 0), None) for a, b in ends]
    rules = Rules(2, 0, 0, 256, [0], 1, 1, matched, 512, 2, None)
    return Problem(runs, stock or [Stock(1536, 1, None, 0)], rules, [])
