"""The job's fields as the page's Survey asks for them, in the order of the tape.

What a field holds and its default stand in jobfields.py, words and order in
formwords.py; here is which of them are asked for: only those that apply.
"""

from . import tradeform
from .bounds import MOST_BOXES, MOST_OPENINGS, MOST_READINGS, MOST_STATIONS
from .formbase import INCHES, Form, Labels, rows_in
from .jobfields import MOST_WALLS
from .jobneeds import box_name, opening_name, wall_name
from .jobread import given
from .lengths import as_read
from .problems import shown

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

# The screens that ask for something.
SCREENS = ("survey", "take-off", "finish")
_MOST_STOCK = 6  # that the form asks for; a job may have more


def form(unit: str, doc: object, wall: int, of: str = "survey") -> dict[str, object]:
    """What a screen asks for, of the job and of one of its walls, as a JSON object.

    unit: one of UNITS; defaults and given lengths are written in it. doc: the
    job document, or None; wall: an index into its walls, or 0; of: one of SCREENS, or "all".
    Errors: none.
    "fields": objects with path, part (index into parts), group (its title), label,
    hint, needed, kind ("text", "choice", "length", "lengths", "count", "money", or a
    key of measures.MEASURES), suffix (what a bare number of a measure is in, else None),
    default (text, or None), choices ([key, label]; of a length: the usual
    readings, others may be keyed), now (what doc holds: text, a number, a list
    of texts, or None; a length that cannot be read is given back as it stands).
    "parts": title; item, the path of what can be taken out of its list, or None;
    add, None or {path, label, value}: what a button puts where; folded, whether
    the page may keep it shut. A part without fields is its button alone.
    "walls": their names. "add_wall": {path, value}, or None where there is no room.
    """
    f = Form(unit, doc)
    walls = _asked(f, doc, wall, of)
    names = [wall_name(w, i) for i, w in enumerate(walls)]
    add: dict[str, object] = {"path": "walls[%d]" % len(walls), "value": {"studs": {}}}
    return {
        "fields": f.fields,
        "parts": f.parts,
        "walls": [shown(n) for n in names] or ["Wall 1"],
        "add_wall": add if len(walls) < MOST_WALLS else None,
    }


def labels(unit: str, doc: object, wall: int) -> dict[str, object]:
    """As form, but of its fields path, part and label alone: that is had a good deal sooner."""
    f = Labels(unit, doc)
    walls = _asked(f, doc, wall, "all")
    names = [wall_name(w, i) for i, w in enumerate(walls)]
    return {"fields": f.fields, "parts": f.parts, "walls": [shown(n) for n in names]}


def _asked(f: Form, doc: object, wall: int, of: str) -> "list[dict[str, Any]]":
    """Ask for the job and that wall; its walls."""
    walls = rows_in(doc, "walls")
    if of in ("survey", "all"):
        f.part("Job")
        f.ask("job", "", ("title", "unit"))
        _wall(f, walls, wall)
        _board(f)
        _rules(f, walls)
        tradeform.site(f)
    if of in ("take-off", "all"):
        tradeform.take_off(f, doc)
    if of in ("finish", "all"):
        tradeform.finish(f)
    return walls


def _wall(f: Form, walls: "list[dict[str, Any]]", i: int) -> None:
    w: dict[str, Any] = walls[i] if i < len(walls) else {}
    at = "walls[%d]." % i
    several = len(walls) > 1
    stations = rows_in(w, "stations")
    level = [1 for s in stations if given(s, "down")] != []
    f.part("Wall", at[:-1] if several else None)
    if several or given(w, "name"):
        f.ask("wall", at, ("name",), name="Wall %d" % (i + 1))
    for key in ("height_left", "height_right"):
        if not level or given(w, key):
            f.ask("wall", at, (key,), height_right=f.reads(w, "height_left"))
    if level or [1 for s in stations if given(s, "up") and _zero(s.get("at"), f.unit)]:
        for one in f.fields:
            one["needed"] = one["needed"] and one["path"] != at + "height_left"
    if not level and (stations or given(w, "height_right")):
        f.ask("wall", at, ("level",))
    f.ask("wall", at, ("width_floor",))
    for j in range(len(stations)):
        f.part("Station %d" % (j + 1), at + "stations[%d]" % j)
        f.ask("station", at + "stations[%d]." % j, ("at", "down", "up"))
    if len(stations) < MOST_STATIONS:
        value: dict[str, object] = (
            {"at": None} if stations or given(w, "height_left") else {"at": 0}
        )
        f.button("Ceiling and floor", at + "stations[%d]" % len(stations), "Add a station", value)
    _corners(f, w, at, i)
    _studs(f, w, at)
    _parts(f, w, at)


def _corners(f: Form, w: "dict[str, Any]", at: str, i: int) -> None:
    leaning = [1 for key in ("left_corner", "width_middle", "width_top") if key in w] != []
    if i:
        f.part("Corners")
        f.ask("wall", at, ("corner",))
        f.ask("wall", at, ("right_end",))
    elif leaning:
        f.part("Corners")
    if leaning:
        f.ask("wall", at, ("left_corner",))
        if w.get("left_corner") in ("in", "out"):
            f.ask("wall", at, ("left_lean",))
        f.ask("wall", at, ("width_middle", "width_top"), width_top=f.reads(w, "width_floor"))
    else:
        f.button("Corners out of plumb", at + "left_corner", "A corner leans", "plumb")


def _studs(f: Form, w: "dict[str, Any]", at: str) -> None:
    at += "studs."
    held = w.get("studs")
    s: dict[str, Any] = held if isinstance(held, dict) else {}
    f.part("Studs")
    f.ask("studs", at, ("first", "spacing", "found", "missing"))
    f.ask("studs", at, tuple([key for key in ("doubled", "first_top") if key in s]))
    rows = rows_in(s, "leaning")
    for j in range(len(rows)):
        f.part("Leaning stud %d" % (j + 1), at + "leaning[%d]" % j)
        f.ask("leaning", at + "leaning[%d]." % j, ("at", "top"))
    if "doubled" not in s:
        f.button("Doubled studs", at + "doubled", "Studs are doubled", [])
    if "first_top" not in s:
        f.button("Studs all lean", at + "first_top", "All studs lean alike", None)
    if len(rows) < MOST_READINGS:
        add = {"at": None}
        f.button("Leaning studs", at + "leaning[%d]" % len(rows), "Add a leaning stud", add)


_DEPTHS = ("depth_top_left", "depth_top_right", "depth_bottom_left", "depth_bottom_right", "proud")


def _parts(f: Form, w: "dict[str, Any]", at: str) -> None:
    """Openings, boxes and blocking."""
    rows = rows_in(w, "openings")
    for j in range(len(rows)):
        path, name = at + "openings[%d]" % j, opening_name(rows[j], rows[:j])
        f.part(shown(name), path)
        keys: tuple[str, ...] = ("name", "kind", "left", "width", "bottom", "height")
        if rows[j].get("kind") == "door":
            keys = ("name", "kind", "left", "width", "height")
        f.ask(
            "opening", path + ".", keys, name=opening_name({"kind": rows[j].get("kind")}, rows[:j])
        )
        f.ask("opening", path + ".", ("trim",))
        if rows[j].get("trim") == "cased" or (
            rows[j].get("trim") != "none" and rows[j].get("kind", "window") in ("window", "door")
        ):
            f.ask("opening", path + ".", _DEPTHS)
    if len(rows) < MOST_OPENINGS:
        add = {"kind": "window"}
        f.button("Openings", at + "openings[%d]" % len(rows), "Add an opening", add)
    rows = rows_in(w, "boxes")
    for j in range(len(rows)):
        path, by = at + "boxes[%d]" % j, rows[j].get("by")
        keys = ("standard", "gangs", "centre", "middle")
        if by == "edges":
            keys = ("left", "bottom", "width", "height")
        elif by == "diameter":
            keys = ("diameter", "centre", "middle")
        f.part(shown(box_name(rows[j], j)), path)
        f.ask("box", path + ".", ("name", "by"), name="Box %d" % (j + 1))
        f.ask("box", path + ".", keys)
        f.ask("box", path + ".", ("holds",))
        if rows[j].get("holds") != "pipe":
            f.ask("box", path + ".", ("proud", "set_back", "extension"))
    if len(rows) < MOST_BOXES:
        add = {"by": "gangs", "standard": "us" if f.unit in INCHES else "eu"}
        f.button("Boxes", at + "boxes[%d]" % len(rows), "Add a box", add)
    rows = rows_in(w, "blocking")
    for j in range(len(rows)):
        f.part("Blocking %d" % (j + 1), at + "blocking[%d]" % j)
        f.ask("block", at + "blocking[%d]." % j, ("left", "width", "bottom", "height"))
    if len(rows) < MOST_READINGS:
        path = at + "blocking[%d]" % len(rows)
        f.button("Blocking", path, "Add blocking", {"left": None})


def _board(f: Form) -> None:
    held = f.doc.get("board") if isinstance(f.doc, dict) else None
    board: dict[str, Any] = held if isinstance(held, dict) else {}
    f.part("Board")
    f.ask("board", "board.", ("edge", "face"))
    f.ask("board", "board.", ("overall", "thickness"), overall=f.reads(board, "face"))
    rows = rows_in(board, "stock")
    count = max(1, len(rows))
    for j in range(count):
        path = "board.stock[%d]" % j
        offcut = count > 1 and rows[j].get("kind") == "offcut"
        title = "Offcut" if offcut else "Stock %d" % (j + 1) if count > 1 else "Stock"
        f.part(title, path if count > 1 else None)
        keys = ("length", "count") if offcut else ("length", "price", "count")
        f.ask("stock", path + ".", keys, count="1" if offcut else None)
    if count < _MOST_STOCK:
        path = "board.stock[%d]" % count
        f.button("More stock", path, "Add a stock length", {"length": None})
        offcut = {"length": None, "kind": "offcut"}
        f.button("Offcuts on site", path, "Add an offcut", offcut)


def _rules(f: Form, walls: "list[dict[str, Any]]") -> None:
    held = f.doc.get("rules") if isinstance(f.doc, dict) else None
    rules: dict[str, Any] = held if isinstance(held, dict) else {}
    f.part("Rules")
    f.ask("rules", "rules.", ("start", "courses"))
    if rules.get("courses") == "line":
        f.ask("rules", "rules.", ("line",))
    elif rules.get("courses") in ("head", "sill"):
        f.ask("rules", "rules.", ("align",))
        names: list[str] = []
        for w in walls:
            rows = rows_in(w, "openings")
            for j in range(len(rows)):
                name = opening_name(rows[j], rows[:j])
                if name not in names:
                    names.append(name)
        align = f.fields[-1]
        align["kind"], align["default"] = "choice", ""
        align["choices"] = [["", "the first window"]] + [[n, n] for n in names]
    f.ask("rules", "rules.", ("end_gap", "floor_gap", "ceiling_gap"))
    if [1 for w in walls if w.get("openings")]:
        f.ask("rules", "rules.", ("opening_gap",))
    if [1 for w in walls if w.get("boxes")]:
        f.ask("rules", "rules.", ("box_gap",))
    f.part("Saw and joints", None, True)
    keys = ("kerf", "joint_gap", "shortest", "stagger", "least_rip", "sliver")
    f.ask("rules", "rules.", keys)
    f.ask("rules", "rules.", ("reach", "spread", "trim", "allowance", "kept"))
    f.ask("board", "board.", ("ends",))


def _zero(value: object, unit: str) -> bool:
    return as_read(value, unit) == as_read(0, unit)
