"""Jobs for tests: a plain one to vary, and random ones from a seed."""

import random

from calc.lengths import jots_of


def job(**changes):
    """A job that plans: 164-1/2 by 96 in, 5-1/8 in tongue-and-groove, 12 ft boards.

    Keys of changes are paths with __ for dots: rules__kerf="1/8".
    """
    doc = {
        "format": "lapwright-job",
        "version": 1,
        "unit": "in",
        "board": {
            "face": "5 1/8",
            "overall": "5 3/8",
            "edge": "tongue-and-groove",
            "stock": [{"length": "144"}],
        },
        "rules": {},
        "walls": [
            {
                "height_left": "96",
                "width_floor": "164 1/2",
                "studs": {"first": "16", "spacing": "16"},
            }
        ],
    }
    for path, value in changes.items():
        put(doc, path.replace("__", "."), value)
    return doc


def put(doc, path, value):
    """Set the value at a path such as "walls[0].studs.first"."""
    keys = path.replace("[", ".").replace("]", "").split(".")
    for key in keys[:-1]:
        doc = doc[int(key) if key.isdigit() else key]
    doc[int(keys[-1]) if keys[-1].isdigit() else keys[-1]] = value


def _grid_mark(studs, unit, width):
    """The grid mark nearest to the middle of the wall of so many inches, as JSON millimetres."""
    first, spacing = jots_of(studs["first"], unit), jots_of(studs["spacing"], unit)
    return (first + round((width * 4064 - first) / spacing) * spacing) / 320


def random_job(seed):
    """A job of one or two walls in any unit, edge and rules; a few cannot be laid out."""
    r = random.Random(seed)
    metric = r.random() < 0.4
    unit = r.choice(["mm", "cm", "m"] if metric else ["in", "ft"])

    def length(inches, mm):
        """A JSON number of mm, or a reading with its unit."""
        if metric:
            return r.choice([mm, f"{mm} mm"])
        return f"{inches} in"

    edge = r.choice(["lapped", "tongue-and-groove", "square"])
    face_in, face_mm = r.choice([("5 1/8", 120), ("6 3/4", 170), ("3 1/8", 90), ("9.25", 233.5)])
    board = {"face": length(face_in, face_mm), "edge": edge}
    if edge != "square" and r.random() < 0.8:
        board["overall"] = length("9 1/2" if face_in == "9.25" else "7 1/4", 240)
        if face_in in ("5 1/8", "3 1/8"):
            board["overall"] = length("5 3/8" if face_in == "5 1/8" else "3 3/8", face_mm + 8)
        elif face_mm == 170:
            board["overall"] = length("7 1/4", 182)
    sizes = r.sample([(96, 2400), (120, 3000), (144, 3600), (192, 4800)], r.randint(1, 3))
    board["stock"] = []
    priced = r.random() < 0.4
    for inches, mm in sizes:
        line = {"length": length(inches, mm)}
        if priced or r.random() < 0.1:
            line["price"] = round(inches * r.uniform(0.09, 0.13), 2)
        if r.random() < 0.15:
            line["count"] = r.randint(0, 60)
        board["stock"].append(line)
    if all(line.get("count") is not None for line in board["stock"]):
        board["stock"][0].pop("count", None)
    rules = {
        "start": r.choice(["floor", "ceiling"]),
        "courses": r.choice(["full", "balanced"]),
    }
    choices = {
        "kerf": [("0", 0), ("1/8", 3), ("3/32", 2.5), ("0.091", 2.2)],
        "end_gap": [("0", 0), ("1/4", 5), ("0.3", 7.3)],
        "joint_gap": [("0", 0), ("1/16", 1), ("0.0123", 0.303125)],
        "floor_gap": [("1/2", 10), ("3", 75)],
        "ceiling_gap": [("1/4", 6.4)],
        "shortest": [("12", 300), ("24", 600), ("0", 0)],
        "stagger": [("16", 400), ("10.3", 261), ("32", 800)],
        "least_rip": [("3", 80)],
    }
    for key, values in choices.items():
        if r.random() < 0.4:
            rules[key] = length(*r.choice(values))
    walls = []
    for _ in range(r.choice([1, 1, 1, 1, 2])):
        width = r.randint(40, 260)
        studs = {
            "first": length(
                r.choice(["16", "15 3/4", "3 7/16", "0.7"]), r.choice([400, 397, 61.5])
            ),
            "spacing": length(*r.choice([("16", 400), ("19.2", 450), ("24", 600)])),
        }
        if r.random() < 0.3:
            studs["found"] = [length(width - 7.125, round(width * 25.4) - 200)]
        if r.random() < 0.3:
            studs["missing"] = [_grid_mark(studs, unit, width)]
        walls.append(
            {
                "height_left": length(r.randint(12, 60), r.randint(300, 1500)),
                "width_floor": length(
                    f"{width} {r.choice([1, 3, 5])}/16", round(width * 25.4) + 0.4
                ),
                "studs": studs,
            }
        )
    rarer = {
        "trim": [("1/4", 6), ("1 3/16", 25)],
        "allowance": [("1/2", 12), ("0.3", 7.1)],
        "spread": [("0", 0), ("32", 800)],
    }
    for key, values in rarer.items():
        if r.random() < 0.2:
            rules[key] = length(*r.choice(values))
    if r.random() < 0.2:
        rules["reach"] = 2
    if r.random() < 0.2:
        offcut = {"length": length(*r.choice([("31", 800), ("50.1", 1270)])), "kind": "offcut"}
        board["stock"].append({**offcut, "count": r.choice([1, 4])})
    return {
        "format": "lapwright-job",
        "version": 1,
        "unit": unit,
        "board": board,
        "rules": rules,
        "walls": walls,
    }
