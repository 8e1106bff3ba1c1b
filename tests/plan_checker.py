"""Is a plan right? An independent check from the job and the plan alone.

It shares nothing with calc but the reading of a tape (calc.lengths.read). Walls,
runs and shapes are tests/wall_checker.py's, the bound tests/bound_checker.py's; here are
the boards and the bill, and what else is known of a wall that is a plain rectangle, all in
fractions of a millimetre. check(job, plan) gives the list of what is wrong, each
entry starting with a word for the kind of fault.
"""

import math
from fractions import Fraction

from tests import wall_checker
from tests.bound_checker import cents, check_bound, cost_of, exact, priced
from tests.marked import STATES, Marked, check_marks
from tests.marked import sawn as _sawn
from tests.wall_facts import JOT, Facts


def check(job, plan):
    """Everything wrong with the plan of this job, as texts; empty where it is right."""
    faults = wall_checker.check(job, plan)
    facts = Facts(job)
    marked = Marked(job, facts)
    pieces = {p["id"]: p for p in plan["pieces"]}
    if len(pieces) != len(plan["pieces"]):
        faults.append("id: one is used twice")
    if len(plan["walls"]) != len(facts.walls):
        return faults
    for number, (wall, made) in enumerate(zip(facts.walls, plan["walls"], strict=True), 1):
        if _plain(facts, wall, number):
            _check_rectangle(facts, wall, made, faults)
        _check_reach(facts, made, faults)
        for course in made["courses"]:
            for run in course["runs"]:
                _check_short(facts, course, run, pieces, faults)
    _check_boards(facts, marked, plan, pieces, faults)
    _check_bill(facts, plan, faults)
    check_marks(marked, plan, pieces, faults)
    check_bound(facts, marked, plan, pieces, faults)
    return faults


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
    if exact(made["height"]) != height or exact(made["width"]) != wall.width:
        faults.append("wall: its size is not the job's")
    order = made["courses"] if facts.start == "floor" else made["courses"][::-1]
    at = facts.floor_gap
    for course in order:
        if exact(course["bottom"]) != at:
            faults.append(f"height: course {course['number']} does not start at the last one")
        at = exact(course["top"])
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
    lasts = min(exact(c["top"]) - exact(c["bottom"]) for c in made["courses"][-1:])
    rips = 0
    for course in made["courses"]:
        n = course["number"]
        shows = exact(course["top"]) - exact(course["bottom"])
        if n == last:
            want = (shows, far) if shows < facts.overall else None
        elif shows < facts.face:
            want = (shows + hidden, near)
        elif n == last - 1 and 0 < lasts < hidden:
            want = (shows + lasts, far)  # its lap or tongue would stand past the last course
        else:
            want = None
        got = course["rip"] and (exact(course["rip"]["width"]), course["rip"]["cut"])
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
        sizes = [exact(c["top"]) - exact(c["bottom"]) for c in (first, final)]
        if abs(sizes[0] - sizes[1]) > JOT:
            faults.append("rip: the two rips are not alike")


def _check_reach(facts, made, faults):
    """No stud has a joint again within so many courses."""
    joined = [{j["stud"] for r in c["runs"] for j in r["joints"]} for c in made["courses"]]
    for k, studs in enumerate(joined):
        for apart in range(1, min(facts.reach, k) + 1):
            if studs & joined[k - apart]:
                faults.append(f"reach: {studs & joined[k - apart]} again after {apart} courses")


def _check_short(facts, course, run, pieces, faults):
    """Every piece beside a joint has the shortest length or more."""
    for k, key in enumerate(run["pieces"]):
        over = pieces[key]["over"] if key in pieces else {}
        if (k and over.get("left")) or (k < len(run["joints"]) and over.get("right")):
            faults.append(f"over: {key} is cut over at a joint")
        if any(x and exact(x) != facts.allowance for x in over.values()):
            faults.append(f"over: {key} is cut over by {over}")
    for key in run["pieces"] if run["joints"] else []:
        p = pieces.get(key)
        if p is not None and _sawn(p) < facts.shortest and p["called"] is None:
            faults.append(f"short: {key} is {p['length']} mm")
        if p is not None and exact(p["right"]) - exact(p["left"]) != exact(p["length"]):
            faults.append(f"length: {key} is {p['length']} mm")


def _check_boards(facts, marked, plan, pieces, faults):
    """Every piece is cut once, and each board holds its pieces and the kerfs between."""
    seen = []
    numbers = [b["number"] for b in plan["boards"]]
    if numbers != sorted(set(numbers)):
        faults.append(f"board: numbers {numbers}")
    new = [n for n in numbers if n not in marked.boards]
    free = [n for n in range(1, len(new) + len(marked.boards) + 1) if n not in marked.boards]
    if new != free[: len(new)]:
        faults.append(f"board: new ones have the numbers {new}")
    for board in plan["boards"]:
        n = board["number"]
        if not board["cuts"] and n not in marked.boards:
            faults.append(f"board: {n} is for nothing")
        if board["state"] not in STATES or (board["state"] == "whole") == (n in marked.boards):
            faults.append(f"board: {n} is {board['state']}")
        length = exact(board["stock"])
        if board["short"]:
            came = marked.shorts.get(board["short"])
            if came is None or facts.mm(came["length"]) != length or board["of"] != came["board"]:
                faults.append(f"short: board {n} is of no short piece")
        elif length != facts.stock[board["line"] - 1][0]:
            faults.append(f"board: {n} is not of its stock")
        open_ = [k for k in board["cuts"] if k in pieces and pieces[k]["state"] != "cut"]
        if board["cuts"][len(board["cuts"]) - len(open_) :] != open_:
            faults.append(f"order: board {n} has what is cut after what is not")
        if [_place(pieces[k]) for k in open_] != sorted(_place(pieces[k]) for k in open_):
            faults.append(f"order: board {n} is not cut in hanging order")
        room = marked.left(n, board)
        cut = [_sawn(pieces[key]) for key in open_]
        if sum(cut) + facts.kerf * (len(cut) - 1) > room and cut:
            faults.append(f"fit: board {n} is too short for its cuts")
        if exact(board["offcut"]) != max(0, room - sum(cut) - facts.kerf * len(cut)):
            faults.append(f"offcut: board {n}")
        for key in board["cuts"]:
            seen.append(key)
            if key in pieces and pieces[key]["board"] != n:
                faults.append(f"board: {key} says another board")
    if sorted(seen) != sorted(pieces):
        faults.append("cut: not every piece is cut exactly once")
    first = [
        min((_place(pieces[k]) for k in b["cuts"] if k in pieces), default=(0, 0, 0))
        for b in plan["boards"] if b["number"] in new
    ]  # fmt: skip
    if first != sorted(first):
        faults.append("order: boards are not in hanging order")


def _place(piece):
    return piece["wall"], piece["course"], exact(piece["left"])


def _check_bill(facts, plan, faults):
    """What to buy is what is cut from, within the counts, and its cost adds up."""
    total = Fraction(0)
    bought = 0
    for line in plan["buy"]:
        length, price, count = facts.stock[line["line"] - 1]
        own = [b["state"] for b in plan["boards"] if b["line"] == line["line"]]
        used = len(own)
        bought += used
        if (line["begun"], line["rejected"]) != (own.count("begun"), own.count("rejected")):
            faults.append(f"buy: begun or no good of line {line['line']}")
        if used != line["count"] or used == 0 or exact(line["length"]) != length:
            faults.append(f"buy: {line['count']} of line {line['line']}")
        if count is not None and used > count:
            faults.append(f"count: {used} boards of line {line['line']}")
        if line["price"] != price:
            faults.append(f"price: line {line['line']}")
        elif price is not None and line["cost"] != float(cents(price) * used):
            faults.append(f"price: the cost of line {line['line']}")
        total += used * cost_of(facts, line["line"])
        if line["kind"] != ("offcut" if facts.offcuts[line["line"] - 1] else "new"):
            faults.append(f"buy: line {line['line']} is no {line['kind']}")
    if bought != sum(not b["short"] for b in plan["boards"]):
        faults.append("buy: not every board is bought")
    if float(total) != plan["cost"]["total"]:
        faults.append(f"cost: it is {float(total)}")
    if plan["cost"]["by"] != ("price" if priced(facts) else "length"):
        faults.append(f"cost: by {plan['cost']['by']}")
