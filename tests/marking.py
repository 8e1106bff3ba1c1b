"""Marks for tests: a job is cut board by board as its plan says, with what goes wrong on site."""

import copy
import json

from calc.bridge import call


def ask(**request):
    """The bridge's answer."""
    return json.loads(call(json.dumps(request)))


def add(job, key, mark):
    """A copy of the job with one mark more."""
    out = copy.deepcopy(job)
    rows = out.setdefault("done", {}).setdefault(key, [])
    rows.append({**mark, "id": f"m{len(rows)}"})
    return out


def cut(job, row, state="cut", **more):
    """The job with the piece of a row of the queue marked."""
    return add(job, "cut", {**row["mark"], "state": state, **more})


def mishap(job, answer, r):
    """The job with one thing gone wrong, as r (a random.Random) has it, and what it is."""
    plan, rows = answer["plan"], answer["view"]["queue"]
    row = rows[0]
    what = r.choice(["short", "rejected", "called"])
    if what == "short":
        length = row["mark"]["length"] - r.choice([1.5, 12.7, 300.1])
        return (what, cut(job, row, "short", length=length)) if length > 10 else ("", job)
    if what == "rejected":
        board = r.choice(plan["boards"])
        if board["state"] == "rejected" or board["short"]:
            return "", job
        mark = {"board": board["number"], "stock": board["stock"], "kind": board["kind"],
                "line": board["line_id"], "why": "split"}  # fmt: skip
        return what, add(job, "rejected", mark)
    wall = r.randrange(len(plan["walls"]))
    course = r.choice(plan["walls"][wall]["courses"])["number"]
    ends = ask(do="callable", plan=plan, wall=wall + 1, course=course)["ends"]
    end = r.choice(ends)
    (piece,) = [p for p in plan["pieces"] if p["id"] == end["id"]]
    if piece["state"] == "cut":
        return "", job
    length = piece["length"] + r.choice([-6.35, -1.6, 0, 0.8, 3.175])
    return what, add(job, "called", {**end["place"], "length": length})
