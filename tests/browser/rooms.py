"""Rooms to be opened on the page, in a scenario of our own."""

import json
from pathlib import Path

from tests.jobs import job

HOUSE = Path(__file__).parent.parent.parent / "examples" / "house.json"


def wall(name, **more):
    """A wall 164-1/2 in wide and 96 in high, studs at 16 in."""
    studs = {"first": "16", "spacing": "16"}
    plain = {"name": name, "height_left": "96", "width_floor": "164 1/2", "studs": studs}
    return {**plain, **more}


def full_wall(name="North", **more):
    """A ceiling out of level, a window, a door, two boxes and blocking."""
    openings = [
        {"kind": "window", "left": "40", "width": "36", "bottom": "30", "height": "44"},
        {"kind": "door", "left": "120", "width": "32", "height": "80"},
    ]
    boxes = [
        {"by": "gangs", "gangs": 1, "centre": "24", "middle": "14"},
        {"by": "diameter", "centre": "100", "middle": "90", "diameter": "4"},
    ]
    blocking = [{"left": "16 3/4", "width": "14 1/2", "bottom": "34", "height": "5 1/2"}]
    return wall(
        name, height_right="97 3/8", openings=openings, boxes=boxes, blocking=blocking, **more
    )


def gable(name="Gable"):
    """A peak half-way, at 4 in 12."""
    up = [("0", "90"), ("82 1/4", "117 7/16"), ("164 1/2", "90")]
    stations = [{"at": at, "up": height} for at, height in up]
    out = wall(name, stations=stations)
    del out["height_left"]
    return out


def room(**more):
    """Three walls; the third lacks its height and width."""
    third = {"name": "East", "studs": {"first": "16", "spacing": "16"}}
    return job(title="Back room", walls=[full_wall(), gable(), third], **more)


def house(count=12):
    """A house of so many walls, no two alike."""
    walls = [full_wall(f"Room {n + 1}", width_floor=str(164 + 5 * n)) for n in range(count)]
    return job(title="House", walls=walls)


def of_house(*names, **more):
    """The house of the examples with these walls of it alone: nails, trim, coats, prices, tax."""
    doc = json.loads(HOUSE.read_text(encoding="utf-8"))
    walls = [w for w in doc["walls"] if w["name"] in names]
    assert len(walls) == len(names)
    walls[0].pop("corner", None)  # it has no wall before it here
    return {**doc, "walls": walls, **more}


def kitchen(**more):
    """One wall of the house: a window, three boxes with devices, a pipe; plans in a moment."""
    return of_house("Kitchen, sink side", **more)
