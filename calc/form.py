"""The job's fields as the page's Survey asks for them, in the order of the tape.

What a field holds and its default stand in jobfields.py, words and order in
formwords.py; here is which of them are asked for: only those that apply.
"""

from .bounds import MOST_BOXES, MOST_OPENINGS, MOST_READINGS, MOST_STATIONS
from .boxes import STANDARDS
from .formwords import ASKED, CHOICES
from .jobfields import JOB, MOST_WALLS, Field
from .jobneeds import box_name, opening_name, wall_name
from .jobread import given
from .lengths import UNIT_NAMES, as_read, exact, usual
from .problems import shown
from .studs import SPACINGS

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

INCHES = ("in", "ft")
_MOST_STOCK = 6  # that the form asks for; a job may have more


def form(unit: str, doc: object, wall: int) -> dict[str, object]:
    """What Survey asks for, of the job and of one of its walls, as a JSON object.

    unit: one of UNITS; defaults and given lengths are written in it. doc: the
    job document, or None; wall: an index into its walls, or 0. Errors: none.
    "fields": objects with path, part (index into parts), group (its title), label,
    hint, needed, kind ("text", "choice", "length", "lengths", "count", "money"),
    default (text, or None), choices ([key, label]; of a length: the usual
    readings, others may be keyed), now (what doc holds: text, a number, a list
    of texts, or None; a length that cannot be read is given back as it stands).
    "parts": title; item, the path of what can be taken out of its list, or None;
    add, None or {path, label, value}: what a button puts where; folded, whether
    the page may keep it shut. A part without fields is its button alone.
    "walls": their names. "add_wall": {path, value}, or None where there is no room.
    """
    f = _Form(unit, doc)
    walls = _asked(f, doc, wall)
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
    f = _Labels(unit, doc)
    walls = _asked(f, doc, wall)
    names = [wall_name(w, i) for i, w in enumerate(walls)]
    return {"fields": f.fields, "parts": f.parts, "walls": [shown(n) for n in names]}


def choices_of(f: Field, unit: str) -> list[list[str]]:
    """[key, label] of what may be chosen in a field; of a stud spacing, the usual ones."""
    if f.key == "spacing":
        return [[s, s] for s in SPACINGS if usual(s, unit) == s]
    if f.key == "standard":
        return [[s.key, s.label] for s in STANDARDS]
    return [[c, CHOICES.get((f.key, c)) or UNIT_NAMES.get(c) or c] for c in f.choices]


def _asked(f: "_Form", doc: object, wall: int) -> "list[dict[str, Any]]":
    """Ask for the job and that wall; its walls."""
    walls = _rows(doc, "walls")
    f.part("Job")
    f.ask("job", "", ("title", "unit"))
    _wall(f, walls, wall)
    _board(f)
    _rules(f, walls)
    return walls


class _Form:
    """Gathers parts and their fields."""

    def __init__(self, unit: str, doc: object) -> None:
        self.unit = unit
        self.doc = doc
        self.fields: list[dict[str, object]] = []
        self.parts: list[dict[str, object]] = []

    def part(self, title: str, item: str | None = None, folded: bool = False) -> None:
        self.parts.append({"title": title, "item": item, "add": None, "folded": folded})

    def button(self, title: str, path: str, label: str, value: object) -> None:
        """A part that is a button alone."""
        self.part(title)
        self.parts[-1]["add"] = {"path": path, "label": label, "value": value}

    def ask(self, table: str, at: str, keys: "tuple[str, ...]", **defaults: object) -> None:
        """Ask for these fields of the table, at the path `at`, in the last part."""
        for key in keys:
            label, hint, needed = ASKED[table + "." + key]
            f = _find(at + key)
            value = _at(self.doc, at + key)
            self.fields.append(
                {
                    "path": at + key,
                    "part": len(self.parts) - 1,
                    "group": self.parts[-1]["title"],
                    "label": label,
                    "hint": hint,
                    "needed": needed,
                    "kind": f.kind,
                    "default": defaults.get(key) or _default(f, self.unit),
                    "choices": choices_of(f, self.unit),
                    "now": _now(f, value, self.unit),
                }
            )

    def reads(self, doc: "dict[str, Any]", key: str) -> str | None:
        """A length of the document as the default of another field."""
        text = as_read(doc.get(key), self.unit)
        return text if isinstance(text, str) and text else None


class _Labels(_Form):
    """Gathers what they are called."""

    def ask(self, table: str, at: str, keys: "tuple[str, ...]", **defaults: object) -> None:
        for key in keys:
            label, _, needed = ASKED[table + "." + key]
            field = {"path": at + key, "part": len(self.parts) - 1, "label": label}
            field["needed"] = needed
            self.fields.append(field)

    def reads(self, doc: "dict[str, Any]", key: str) -> str | None:
        return None


def _wall(f: _Form, walls: "list[dict[str, Any]]", i: int) -> None:
    w: dict[str, Any] = walls[i] if i < len(walls) else {}
    at = "walls[%d]." % i
    several = len(walls) > 1
    stations = _rows(w, "stations")
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


def _corners(f: _Form, w: "dict[str, Any]", at: str, i: int) -> None:
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


def _studs(f: _Form, w: "dict[str, Any]", at: str) -> None:
    at += "studs."
    held = w.get("studs")
    s: dict[str, Any] = held if isinstance(held, dict) else {}
    f.part("Studs")
    f.ask("studs", at, ("first", "spacing", "found", "missing"))
    f.ask("studs", at, tuple([key for key in ("doubled", "first_top") if key in s]))
    rows = _rows(s, "leaning")
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


def _parts(f: _Form, w: "dict[str, Any]", at: str) -> None:
    """Openings, boxes and blocking."""
    rows = _rows(w, "openings")
    for j in range(len(rows)):
        path, name = at + "openings[%d]" % j, opening_name(rows[j], rows[:j])
        f.part(shown(name), path)
        keys: tuple[str, ...] = ("name", "kind", "left", "width", "bottom", "height")
        if rows[j].get("kind") == "door":
            keys = ("name", "kind", "left", "width", "height")
        f.ask(
            "opening", path + ".", keys, name=opening_name({"kind": rows[j].get("kind")}, rows[:j])
        )
    if len(rows) < MOST_OPENINGS:
        add = {"kind": "window"}
        f.button("Openings", at + "openings[%d]" % len(rows), "Add an opening", add)
    rows = _rows(w, "boxes")
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
    if len(rows) < MOST_BOXES:
        add = {"by": "gangs", "standard": "us" if f.unit in INCHES else "eu"}
        f.button("Boxes", at + "boxes[%d]" % len(rows), "Add a box", add)
    rows = _rows(w, "blocking")
    for j in range(len(rows)):
        f.part("Blocking %d" % (j + 1), at + "blocking[%d]" % j)
        f.ask("block", at + "blocking[%d]." % j, ("left", "width", "bottom", "height"))
    if len(rows) < MOST_READINGS:
        path = at + "blocking[%d]" % len(rows)
        f.button("Blocking", path, "Add blocking", {"left": None})


def _board(f: _Form) -> None:
    held = f.doc.get("board") if isinstance(f.doc, dict) else None
    board: dict[str, Any] = held if isinstance(held, dict) else {}
    f.part("Board")
    f.ask("board", "board.", ("edge", "face"))
    f.ask("board", "board.", ("overall", "thickness"), overall=f.reads(board, "face"))
    rows = _rows(board, "stock")
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


def _rules(f: _Form, walls: "list[dict[str, Any]]") -> None:
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
            rows = _rows(w, "openings")
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


def _rows(doc: object, key: str) -> "list[dict[str, Any]]":
    """The list in that field; what is no object in it is asked for as an empty one."""
    held = doc.get(key) if isinstance(doc, dict) else None
    if not isinstance(held, list) or len(held) > MOST_READINGS:
        return []
    return [row if isinstance(row, dict) else {} for row in held]


def _zero(value: object, unit: str) -> bool:
    return as_read(value, unit) == as_read(0, unit)


def _find(path: str) -> Field:
    at = JOB
    for step in path.split("."):
        key = step.split("[")[0]
        found = next(f for f in at if f.key == key)
        at = found.fields
    return found


def _default(f: Field, unit: str) -> str | None:
    value = f.default if unit in INCHES else f.metric
    if value is None:
        return None
    return exact(value, unit) if f.kind == "length" else str(value)


def _at(doc: object, path: str) -> object:
    """What stands at the path in the document, or None."""
    for step in path.split("."):
        key, _, index = step.partition("[")
        doc = doc.get(key) if isinstance(doc, dict) else None
        if index:
            i = int(index[:-1])
            doc = doc[i] if isinstance(doc, list) and i < len(doc) else None
    return doc


def _now(f: Field, value: object, unit: str) -> object:
    if f.kind == "lengths" and isinstance(value, list):
        return [as_read(v, unit) for v in value]
    return as_read(value, unit) if f.kind == "length" else value
