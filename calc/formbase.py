"""What the forms are put together from: their parts, and each field as the page asks for it."""

from .bounds import MOST_READINGS
from .boxes import STANDARDS
from .fieldkinds import Field
from .formwords import ASKED, CHOICES
from .jobfields import JOB
from .lengths import UNIT_NAMES, as_read, exact, usual
from .measures import MEASURES, show, unit_of
from .measures import as_read as measure_as_read
from .moneys import money_of
from .studs import SPACINGS
from .trade.species import SPECIES
from .words import money

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

INCHES = ("in", "ft")


def choices_of(f: Field, unit: str) -> list[list[str]]:
    """[key, label] of what may be chosen in a field; of a stud spacing, the usual ones."""
    if f.key == "spacing":
        return [[s, s] for s in SPACINGS if usual(s, unit) == s]
    if f.key == "species":
        known = dict([(s.key, s.label) for s in SPECIES])
        return [[c, known.get(c) or CHOICES[(f.key, c)]] for c in f.choices]
    if f.key == "standard":
        return [[s.key, s.label] for s in STANDARDS]
    return [[c, CHOICES.get((f.key, c)) or UNIT_NAMES.get(c) or c] for c in f.choices]


class Form:
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
                    "suffix": unit_of(f.kind, self.unit).name if f.kind in MEASURES else None,
                    "default": defaults.get(key) or _default(f, self.unit),
                    "choices": choices_of(f, self.unit),
                    "now": _now(f, value, self.unit),
                }
            )

    def reads(self, doc: "dict[str, Any]", key: str) -> str | None:
        """A length of the document as the default of another field."""
        text = as_read(doc.get(key), self.unit)
        return text if isinstance(text, str) and text else None


class Labels(Form):
    """Gathers what they are called."""

    def ask(self, table: str, at: str, keys: "tuple[str, ...]", **defaults: object) -> None:
        for key in keys:
            label, _, needed = ASKED[table + "." + key]
            field = {"path": at + key, "part": len(self.parts) - 1, "label": label}
            field["needed"] = needed
            self.fields.append(field)

    def reads(self, doc: "dict[str, Any]", key: str) -> str | None:
        return None


def rows_in(doc: object, key: str) -> "list[dict[str, Any]]":
    """The list in that field; what is no object in it is asked for as an empty one."""
    held = doc.get(key) if isinstance(doc, dict) else None
    if not isinstance(held, list) or len(held) > MOST_READINGS:
        return []
    return [row if isinstance(row, dict) else {} for row in held]


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
    if f.kind in MEASURES:
        return show(value, f.kind, unit)
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
    if f.kind in MEASURES:
        return measure_as_read(value, f.kind, unit)
    if f.kind == "money" and not isinstance(value, str) and money_of(value) >= 0:
        return money(money_of(value) / 100)  # what was typed stands as it was typed
    return as_read(value, unit) if f.kind == "length" else value
