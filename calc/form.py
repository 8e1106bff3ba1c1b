"""The job's fields as the page's Survey asks for them, in the order of the tape.

What a field holds and its default stand in jobfields.py; here are only the
order, the groups, and the words.
"""

from collections import namedtuple

from .jobfields import JOB, Field
from .lengths import UNIT_NAMES, as_read, exact, usual
from .studs import SPACINGS

# path: as in a Problem's field; needed: no plan without it.
_Ask = namedtuple("_Ask", "path group label hint needed")

_ASKED = (
    _Ask("title", "Job", "Title", "", False),
    _Ask("unit", "Job", "A bare number means", "", False),
    _Ask("walls[0].height_left", "Wall", "Height", "floor to ceiling", True),
    _Ask("walls[0].width_floor", "Wall", "Width", "corner to corner", True),
    _Ask("walls[0].studs.first", "Wall", "First stud mark", "left corner to its centre", True),
    _Ask("walls[0].studs.spacing", "Wall", "Stud spacing", "centre to centre", True),
    _Ask(
        "walls[0].studs.found", "Wall", "Studs found off the grid", "left corner to centre", False
    ),
    _Ask("walls[0].studs.missing", "Wall", "Grid marks with no stud", "left corner to mark", False),
    _Ask("board.edge", "Board", "Edge", "", False),
    _Ask("board.face", "Board", "Face", "what one course covers", True),
    _Ask("board.overall", "Board", "Overall width", "with the tongue or lap", False),
    _Ask("board.thickness", "Board", "Thickness", "", False),
    _Ask("board.stock[0].length", "Board", "Stock length", "as the boards come", True),
    _Ask("board.stock[0].price", "Board", "Price of one", "in your money", False),
    _Ask("board.stock[0].count", "Board", "Boards to be had", "none: as many as wanted", False),
    _Ask("board.stock[1].length", "Board", "Second stock length", "if there are two", False),
    _Ask("board.stock[1].price", "Board", "Price of one, second", "in your money", False),
    _Ask("board.stock[1].count", "Board", "To be had, second", "none: as many as wanted", False),
    _Ask("rules.start", "Rules", "Start at the", "", False),
    _Ask("rules.courses", "Rules", "Courses", "how the height is shared out", False),
    _Ask("rules.kerf", "Rules", "Saw kerf", "", False),
    _Ask("rules.end_gap", "Rules", "Gap at each end", "", False),
    _Ask("rules.joint_gap", "Rules", "Gap at each joint", "", False),
    _Ask("rules.floor_gap", "Rules", "Gap at the floor", "", False),
    _Ask("rules.ceiling_gap", "Rules", "Gap at the ceiling", "", False),
    _Ask("rules.shortest", "Rules", "Shortest piece", "beside a joint", False),
    _Ask("rules.stagger", "Rules", "Joints apart, at least", "from course to course", False),
    _Ask("rules.least_rip", "Rules", "Narrowest rip", "narrower ones warn", False),
)

_WORDS = {
    "tongue-and-groove": "tongue and groove",
    "full": "full first",
    "balanced": "equal rips",
}


def fields(unit: str, doc: object) -> list[dict[str, object]]:
    """Every field that Survey asks for, as JSON objects.

    unit: one of UNITS; defaults and given lengths are written in it. doc: the
    job document, or None. Each object has path, group, label, hint, needed,
    kind ("text", "choice", "length", "lengths", "count", "money"), default
    (text, or None), choices ([key, label]; of a length: the usual readings,
    others may be keyed), now (what doc holds: text, a number, a list of texts,
    or None; a length that cannot be read is given back as it stands).
    Errors: none.
    """
    out = []
    for ask in _ASKED:
        f = _find(ask.path)
        if f.key == "spacing":
            choices = [[s, s] for s in SPACINGS if usual(s, unit) == s]
        else:
            choices = [[c, UNIT_NAMES.get(c) or _WORDS.get(c, c)] for c in f.choices]
        out.append(
            {
                "path": ask.path,
                "group": ask.group,
                "label": ask.label,
                "hint": ask.hint,
                "needed": ask.needed,
                "kind": f.kind,
                "default": _default(f, unit),
                "choices": choices,
                "now": _now(f, _at(doc, ask.path), unit),
            }
        )
    return out


def _find(path: str) -> Field:
    at = JOB
    for step in path.split("."):
        key = step.split("[")[0]
        found = next(f for f in at if f.key == key)
        at = found.fields
    return found


def _default(f: Field, unit: str) -> str | None:
    value = f.default if unit in ("in", "ft") else f.metric
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
