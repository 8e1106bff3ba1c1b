"""Reads a document by its table of fields (jobfields.py), gathering every problem."""

from .fieldkinds import Field
from .jobfields import id_of, nearest_name
from .lengths import LengthError, jots_of, show
from .measures import MEASURES, MeasureError, read
from .measures import show as measured
from .moneys import MONEY_FIX, count_of, money_of
from .problems import Problem, shown

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object


# An empty one of these is no "not given": the page and the server go into them.
_NESTED = ("object", "objects", "lengths")


def given(doc: dict[str, Any], key: str) -> bool:
    """Whether the object holds something in that field; null and "" are nothing."""
    raw = doc.get(key)
    return not (raw is None or (isinstance(raw, str) and raw == ""))


class Reader:
    """Reads a document by its table of fields, gathering problems."""

    def __init__(self, unit: str) -> None:
        self.unit = unit
        self.problems: list[Problem] = []
        self._known: dict[str, int] = {}  # readings that were read already

    def add(self, path: str, value: object, message: str, fix: str) -> None:
        self.problems.append(Problem(path, shown(value), message, fix))

    def add_length(self, path: str, jots: int, message: str, fix: str, other: int | None) -> None:
        """As add, with lengths put into the texts' %s."""
        text = show(jots, self.unit)
        if other is not None:
            fix = fix % show(other, self.unit)
        self.problems.append(Problem(path, text, message % text, fix))

    def record(self, path: str, label: str, doc: object, fields: list[Field]) -> dict[str, Any]:
        out: dict[str, Any] = {}
        if not isinstance(doc, dict):
            name = path[:-1]
            self.add(
                name, doc, "%s is %s, not an object." % (name, shown(doc) or "an empty text"),
                "Give an object, or leave it out.",
            )  # fmt: skip
            return out
        known = [f.key for f in fields]
        for key in sorted(doc):
            if key not in known:
                near = nearest_name(key, known)
                self.add(
                    path + key, doc[key], '"%s" is not a field.' % (path + key),
                    'Did you mean "%s"?' % near if near else "Use %s." % ", ".join(known),
                )  # fmt: skip
        for f in fields:
            if not given(doc, f.key) and (f.key not in doc or f.kind not in _NESTED):
                continue
            raw = doc[f.key]
            value = self.value(path + f.key, label + f.label, raw, f)
            if value is not None:
                out[f.key] = value
        return out

    def value(self, path: str, label: str, raw: object, f: Field) -> object:
        """The value read, or None with a problem added."""
        if f.kind == "object":
            return self.record(path + ".", label, raw, f.fields)
        if f.kind in ("objects", "lengths"):
            return self.several(path, label, raw, f)
        if f.kind == "length":
            return self.length(path, label, raw, f)
        if f.kind == "any":
            return raw
        if f.kind in ("count", "money"):
            return self.number(path, label, raw, f)
        if f.kind in MEASURES:
            return self.measure(path, label, raw, f)
        if not isinstance(raw, str):
            self.add(path, raw, "%s: %s is not text." % (label, shown(raw)), "Give text.")
        elif f.kind == "choice":
            if raw in f.choices:
                return raw
            near = nearest_name(raw, f.choices)
            self.add(
                path, raw, '%s: "%s" is not one of the choices.' % (label, shown(raw)),
                'Did you mean "%s"?' % near if near else "Choose %s." % ", ".join(f.choices),
            )  # fmt: skip
        elif len(raw) > f.hi:
            self.add(
                path, raw, "%s: %d characters are too many." % (label, len(raw)),
                "Give at most %d." % f.hi,
            )  # fmt: skip
        else:
            return raw
        return None

    def several(self, path: str, label: str, raw: object, f: Field) -> object:
        if not isinstance(raw, list):
            self.add(
                path, raw, "%s: %s is not a list." % (label, shown(raw) or "an empty text"),
                "Give a list, or leave it out.",
            )  # fmt: skip
            return None
        if len(raw) > f.hi:
            self.add(
                path, raw, "%s: %d are too many." % (label, len(raw)), "Give at most %d." % f.hi
            )
            return None
        out: list[Any] = []
        ids: set[str] = set()
        for i in range(len(raw)):
            at = "%s[%d]" % (path, i)
            if f.kind == "objects":
                out.append(self.record(at + ".", "%s %d, " % (label, i + 1), raw[i], f.fields))
                own = id_of(raw[i], i)
                if own in ids:
                    self.add(
                        at + ".id", own, '%s %d, id: "%s" is taken.' % (label, i + 1, own),
                        "Give each of a list an id of its own, or none.",
                    )  # fmt: skip
                ids.add(own)
            else:
                # None where it is wrong, so that those after it keep their place.
                out.append(self.length(at, label, raw[i], f.fields[0]))
        return out

    def length(self, path: str, label: str, raw: object, f: Field) -> int | None:
        jots = self._known.get(raw, -1) if isinstance(raw, str) else -1
        if jots < 0:
            try:
                jots = jots_of(raw, self.unit)
            except LengthError as e:
                self.add(path, raw, "%s: %s" % (label, e.message), e.fix)
                return None
            if isinstance(raw, str):
                self._known[raw] = jots
        if jots < f.lo or jots > f.hi:
            text = raw if isinstance(raw, str) else "%s mm" % shown(raw)
            self.add(
                path, text, '%s: "%s" is out of range.' % (label, shown(text)),
                "Give %s to %s." % (show(f.lo, self.unit), show(f.hi, self.unit)),
            )  # fmt: skip
            return None
        return jots

    def measure(self, path: str, label: str, raw: object, f: Field) -> float | None:
        try:
            value = read(raw, f.kind, self.unit)
        except MeasureError as e:
            self.add(path, raw, "%s: %s" % (label, e.message), e.fix)
            return None
        if not f.lo <= value <= f.hi:
            self.add(
                path, raw, '%s: "%s" is out of range.' % (label, shown(raw)),
                "Give %s to %s." % (
                    measured(f.lo, f.kind, self.unit), measured(f.hi, f.kind, self.unit)
                ),
            )  # fmt: skip
            return None
        return value

    def number(self, path: str, label: str, raw: object, f: Field) -> int | None:
        """A whole count, or money in whole hundredths: a number, or what a person typed."""
        money = f.kind == "money"
        what = "Give a whole number like 12."
        if money:
            what = MONEY_FIX
        if isinstance(raw, str):
            n = money_of(raw) if money else count_of(raw)
        elif raw is True or raw is False or not isinstance(raw, (int, float)):
            n = -1
        else:
            return self.amount(path, label, raw, f)
        if n < 0:
            self.add(
                path, raw,
                '%s: "%s" is not %s.' % (label, shown(raw), "money" if money else "a whole number"),
                what,
            )  # fmt: skip
            return None
        if n < f.lo or n > f.hi * (100 if money else 1):
            self.out_of_range(path, label, raw, f)
            return None
        return n

    def out_of_range(self, path: str, label: str, raw: object, f: Field) -> None:
        self.add(
            path, raw, "%s: %s is out of range." % (label, shown(raw)),
            "Give %d to %d." % (f.lo, f.hi),
        )  # fmt: skip

    def amount(self, path: str, label: str, raw: "int | float", f: Field) -> int | None:
        """A JSON number of a count, or of money with two decimals."""
        money = f.kind == "money"
        if not f.lo <= raw <= f.hi:
            self.out_of_range(path, label, raw, f)
            return None
        scaled = raw * 100 if money else raw
        n = int(scaled + 0.5)
        if not -1e-4 < scaled - n < 1e-4:
            self.add(
                path, raw, "%s: %s has too many decimals." % (label, shown(raw)),
                "Give at most two decimals." if money else "Give a whole number like 12.",
            )  # fmt: skip
            return None
        return n
