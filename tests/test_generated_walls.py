"""Walls as rooms have them, made by hypothesis: every plan is held against its readings.

tests/wall_checker.py builds what is clad of each wall anew, in shapely, from the
job alone, and compares; tests/plan_checker.py adds the boards and the bound up
again. Run with -s to see how many of what were checked.
"""

import copy
import json
from collections import Counter

import pytest
from hypothesis import HealthCheck, Phase, given, settings

from calc.lengths import read
from calc.plan import make
from calc.problems import InputError
from tests.generated import THEMES, jobs
from tests.plan_checker import check as check_all
from tests.wall_checker import check

JOBS = 210  # a theme; each has one to three walls
LEAST = 165  # walls a theme that are planned and checked: 2,069 in all
REFUSED = 0.02  # the share of jobs that may not be laid out
ON_A_POINT = 0.5  # of the jobs of a theme, at most


def through_json(plan):
    return json.loads(json.dumps(plan))


def tally(plan):
    """How many walls, pieces and cuts of each kind a plan holds."""
    out = Counter(walls=len(plan["walls"]), pieces=len(plan["pieces"]))
    for w in plan["walls"]:
        out["joints"] += sum(len(r["joints"]) for c in w["courses"] for r in c["runs"])
    for p in plan["pieces"]:
        out["rips"] += p["rip"] is not None
        out["scribes"] += len(p["scribe"])
        out.update(c["kind"] for c in p["cuts"])
    return out


def on_a_point(doc):
    """Whether what hangs together with what is a matter of a jot, or the survey can't be true.

    Where an opening or a box without a gap stands with a corner just on a floor out of
    level, rounding decides whether what lies on either side of that corner hangs
    together, and neither answer is wrong. Openings and boxes that overlap are misread
    tapes. Such jobs are left out, and counted.
    """
    rules = doc["rules"]
    for wall in doc["walls"]:
        uneven = (
            any("down" in s for s in wall.get("stations", [])) or wall.get("level") == "ceiling"
        )
        openings = [_place(o, doc) for o in wall.get("openings", [])]
        boxes = [_place(b, doc) for b in wall.get("boxes", [])]
        if (
            uneven
            and mm(rules.get("opening_gap", 1), doc) == 0
            and any(p[1] == 0 for p in openings)
        ):
            return True
        if uneven and mm(rules.get("box_gap", 1), doc) == 0 and any(p[1] == 0 for p in boxes):
            return True
        placed = openings + boxes
        for i, a in enumerate(placed):
            for b in placed[i + 1 :]:
                if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]:
                    return True
    return False


def mm(value, doc):
    return value if isinstance(value, int | float) else float(read(value, doc["unit"]) / 320)


def _place(of, doc):
    """(left, bottom, right, top) of an opening or a box, from the floor at its place; roughly."""
    if "centre" in of:
        wide, tall = (57.2, 95.3) if of.get("standard", "us") == "us" else (75, 75)
        wide += 60 * (of.get("gangs", 1) - 1)
        if "diameter" in of:
            wide = tall = mm(of["diameter"], doc)
        x, y = mm(of["centre"], doc), mm(of["middle"], doc)
        return x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2
    x, y = mm(of["left"], doc), mm(of.get("bottom", 0), doc)
    return x, y, x + mm(of["width"], doc), y + mm(of["height"], doc)


@pytest.mark.parametrize("theme", THEMES)
def test_pieces_tile_what_is_clad(theme, record_property):
    seen = Counter()

    # What is drawn is the same at every run; a failure is told as it was drawn, not shrunk,
    # since each try takes a plan.
    @settings(
        max_examples=JOBS, derandomize=True, database=None, deadline=None,
        phases=[Phase.generate], suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(jobs(theme))
    def every(doc):
        seen["jobs"] += 1
        if on_a_point(doc):
            seen["on a point"] += 1
            return
        try:
            plan = through_json(make(doc, 0))
        except InputError as e:
            assert all(p.field and p.message and p.fix for p in e.problems)
            seen["refused"] += 1
            return
        seen.update(tally(plan))
        assert check_all(doc, plan) == [], json.dumps(doc)

    every()
    record_property("checked", dict(seen))
    print(theme, dict(sorted(seen.items())))
    assert seen["walls"] >= LEAST
    assert seen["refused"] <= REFUSED * seen["jobs"]
    assert seen["on a point"] <= ON_A_POINT * seen["jobs"]


def room():
    """Two walls round a corner, with something of everything on them."""
    return {
        "format": "lapwright-job",
        "version": 1,
        "unit": "mm",
        "board": {
            "face": 120, "overall": 128, "edge": "tongue-and-groove", "thickness": 19,
            "stock": [{"length": 2400}],
        },
        "rules": {"shortest": 200, "joint_gap": 1, "stagger": 100, "floor_gap": 5},
        "walls": [
            {
                "width_floor": 3000, "width_top": 2950, "left_corner": "in", "left_lean": 20,
                "stations": [
                    {"at": 0, "down": 300, "up": 400}, {"at": 1200, "down": 310, "up": 600},
                    {"at": 1200, "down": 250}, {"at": 3000, "down": 255, "up": 350},
                ],
                "studs": {"first": 300, "spacing": 400, "leaning": [{"at": 1100, "top": 1110}]},
                "openings": [
                    {"kind": "window", "left": 1500, "bottom": 200, "width": 500, "height": 250},
                ],
                "boxes": [
                    {"by": "edges", "left": 700, "bottom": 150, "width": 70, "height": 60},
                    {"by": "edges", "left": 900, "bottom": 90, "width": 70, "height": 95},
                    {"by": "diameter", "centre": 2500, "middle": 290, "diameter": 70},
                ],
            },
            {
                "corner": "outside", "width_floor": 1500, "height_left": 600,
                "studs": {"first": 300, "spacing": 400},
            },
        ],
    }  # fmt: skip


def cut(plan, kind):
    return next(c for p in plan["pieces"] for c in p["cuts"] if c["kind"] == kind)


def with_cut(plan, kind):
    return next(p for p in plan["pieces"] if any(c["kind"] == kind for c in p["cuts"]))


def jointed(plan):
    return next(r for w in plan["walls"] for c in w["courses"] for r in c["runs"] if r["joints"])


def corner_moved(plan):
    plan["walls"][0]["left"][1][0] += 1


def window_lower(plan):
    plan["walls"][0]["openings"][0]["bottom"] -= 1


def stud_elsewhere(plan):
    plan["walls"][0]["studs"][2]["top"] += 1


def line_higher(plan):
    plan["walls"][0]["courses"][1]["bottom"] += 0.1


def every_line_higher(plan):
    for w in plan["walls"]:
        for c in w["courses"]:
            c["bottom"] += 1
            c["top"] += 1


def other_number(plan):
    for c in plan["walls"][1]["courses"]:
        c["number"] += 1


def pole_misread(plan):
    plan["walls"][0]["pole"]["left"][2]["up"] += 1


def shows_less(plan):
    ring = plan["pieces"][0]["shows"][0]
    x = min(x for x, _ in ring)
    for point in ring:
        point[0] += 0.1 * (point[0] == x)


def shown_twice(plan):
    piece = plan["pieces"][1]
    piece["shows"] = copy.deepcopy(plan["pieces"][0]["shows"])


def piece_gone(plan):
    run = plan["walls"][0]["courses"][0]["runs"][0]
    run["pieces"].pop()


def run_gone(plan):
    plan["walls"][0]["courses"][2]["runs"].pop()


def shape_wider(plan):
    ring = plan["pieces"][0]["shape"][0]
    top = max(up for _, up in ring)
    for point in ring:
        point[1] += 0.05 * (point[1] == top)


def tongue_gone(plan):
    """The shape of what shows alone."""
    p = next(p for p in plan["pieces"] if p["rip"] is None and not p["cuts"])
    top = max(up for _, up in p["shape"][0])
    for point in p["shape"][0]:
        point[1] -= 8 * (point[1] == top)


def hole_filled(plan):
    with_cut(plan, "hole")["shape"].pop()


def notch_untold(plan):
    p = with_cut(plan, "notch")
    p["cuts"] = [c for c in p["cuts"] if c["kind"] != "notch"]


def notch_wider(plan):
    cut(plan, "notch")["to"] += 0.1


def notch_of_another(plan):
    cut(plan, "notch")["by"] = "Box 3"


def hole_called_notch(plan):
    cut(plan, "hole")["kind"] = "notch"


def other_circle(plan):
    cut(plan, "round")["diameter"] += 1


def bevel_untold(plan):
    p = with_cut(plan, "bevel")
    p["cuts"] = [c for c in p["cuts"] if c["kind"] != "bevel"]


def bevel_the_other_way(plan):
    p = with_cut(plan, "bevel")
    for end in (p["left_end"], p["right_end"]):
        if end["long"]:
            end["long"] = "upper" if end["long"] == "lower" else "lower"


def other_angle(plan):
    p = with_cut(plan, "bevel")
    for end in (p["left_end"], p["right_end"]):
        end["angle"] += 2 if end["angle"] else 0


def taper_flatter(plan):
    cut(plan, "taper")["points"][0][1] += 0.1


def mark_higher(plan):
    with_cut(plan, "taper")["scribe"][0]["marks"][1]["up"] += 0.1


def mark_gone(plan):
    marks = with_cut(plan, "taper")["scribe"][0]["marks"]
    marks.remove(next(m for m in marks if m["stud"]))


def lower_edge_longer(plan):
    plan["pieces"][0]["lengths"]["lower"] += 0.1


def end_higher(plan):
    plan["pieces"][0]["widths"]["right"] += 0.1


def rip_wider(plan):
    next(p for p in plan["pieces"] if p["rip"])["rip"]["width"] += 0.1


def rip_at_the_other_edge(plan):
    rip = next(p for p in plan["pieces"] if p["rip"] and p["rip"]["cut"] != "both")["rip"]
    rip["cut"] = "upper" if rip["cut"] == "lower" else "lower"


def joint_off_stud(plan):
    jointed(plan)["joints"][0]["at"] += 1


def joint_gap_closed(plan):
    key = jointed(plan)["pieces"][0]
    next(p for p in plan["pieces"] if p["id"] == key)["right"] += 1


def end_at_no_window(plan):
    p = next(p for p in plan["pieces"] if p["right_end"]["kind"] == "opening")
    p["right_end"]["name"] = "Box 1"


def window_is_the_wall(plan):
    p = next(p for p in plan["pieces"] if p["right_end"]["kind"] == "opening")
    p["right_end"]["kind"] = "wall end"


BREAKS = [
    (corner_moved, "survey"), (window_lower, "survey"), (stud_elsewhere, "survey"),
    (line_higher, "height"), (every_line_higher, "line"), (other_number, "number"),
    (pole_misread, "pole"), (shows_less, "tile"), (shown_twice, "tile"), (piece_gone, "tile"),
    (run_gone, "tile"), (shape_wider, "shape"), (tongue_gone, "shape"), (hole_filled, "shape"),
    (notch_untold, "told"), (notch_wider, "cut"), (notch_of_another, "cut"),
    (hole_called_notch, "hole"), (other_circle, "told"), (bevel_untold, "told"),
    (bevel_the_other_way, "angle"), (other_angle, "angle"), (taper_flatter, "told"),
    (mark_higher, "scribe"), (mark_gone, "scribe"), (lower_edge_longer, "lengths"),
    (end_higher, "widths"), (rip_wider, "rip"), (rip_at_the_other_edge, "rip"),
    (joint_off_stud, "stud"), (joint_gap_closed, "tile"), (end_at_no_window, "end"),
    (window_is_the_wall, "end"),
]  # fmt: skip


@pytest.mark.parametrize("damage, kind", BREAKS, ids=[b[0].__name__ for b in BREAKS])
def test_the_checker_sees_a_damaged_wall(damage, kind):
    plan = through_json(make(room(), 0))
    assert check(room(), plan) == []
    damage(plan)
    assert kind in {fault.split(":")[0] for fault in check(room(), plan)}


@pytest.mark.parametrize(
    "change",
    [
        {"floor_gap": 6}, {"ceiling_gap": 1}, {"end_gap": 4}, {"opening_gap": 4}, {"box_gap": 2},
        {"joint_gap": 2}, {"start": "ceiling"}, {"courses": "sill"},
        {"courses": "line", "line": 50}, {"stagger": 450},
    ],
    ids=lambda c: next(iter(c)),
)  # fmt: skip
def test_the_checker_holds_a_plan_against_its_rules(change):
    plan = through_json(make(room(), 0))
    doc = room()
    doc["rules"].update(change)
    assert check(doc, plan) != []
