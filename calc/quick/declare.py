"""What a quick calculator is: its fields, its answer, and how it is run.

A field's value arrives as the text a person typed; it is read here, once, by
kind, and the calculator's own function only sees ints of jots, counts, choice
keys, flags and lists.
"""

from collections import namedtuple

from ..bounds import MOST_READINGS
from ..draft import to_dict as answer_dict
from ..lengths import UNITS, LengthError, as_read, jots_of, show, usual
from ..measures import MEASURES, MeasureError, unit_of
from ..measures import as_read as measure_as_read
from ..measures import read as read_measure
from ..measures import show as measured
from ..moneys import MONEY_FIX, money_of
from ..problems import InputError, Problem, shown
from ..problems import to_dict as problem_dict

# kind: "length"  one tape reading -> jots
#       "lengths" several, separated by ";" or given as a list -> list of jots
#       "count"   a whole number -> int
#       "choice"  one of choices -> its key
#       "flag"    yes or no -> bool
#       "money"   an amount -> hundredths
#       a key of measures.MEASURES: a number with its unit -> float in the base unit
# default: text as a person would type it, with its unit; "" for none
# metric: the default where the job's unit is metric
# lo, hi: the range, in jots (of each reading), as a count, in whole money or in the measure's
#       base unit; None for other kinds
# most: how many readings "lengths" may hold
# choices: list of (key, label)
# needed: False where it may be left empty (the function then sees None)
# hint: a short line under the label
Field = namedtuple("Field", "key kind label hint default metric lo hi most choices needed")

# name: the word in links and the API; title: on the button; question: what it
# answers, in a line; fields: list of Field; answer: function (values: dict,
# unit: str) -> Answer, may raise InputError; sources: list of str.
Calculator = namedtuple("Calculator", "name title question fields answer sources")


def length(
    key: str,
    label: str,
    hint: str = "",
    default: str = "",
    metric: str = "",
    lo: int = 0,
    *,
    hi: int,
    needed: bool = True,
) -> Field:
    """A field that holds one tape reading. lo, hi in jots, both allowed."""
    return Field(key, "length", label, hint, default, metric or default, lo, hi, 1, [], needed)


def lengths(key: str, label: str, hint: str = "", *, hi: int, most: int = MOST_READINGS) -> Field:
    """A field that holds up to `most` tape readings, each 0 to `hi` jots; it may be empty."""
    return Field(key, "lengths", label, hint, "", "", 0, hi, most, [], False)


def count(
    key: str, label: str, hint: str = "", default: str = "", lo: int = 0, *, hi: int
) -> Field:
    """A field that holds a whole number from lo to hi."""
    return Field(key, "count", label, hint, default, default, lo, hi, 1, [], True)


def measure(
    kind: str,
    key: str,
    label: str,
    hint: str = "",
    default: str = "",
    metric: str = "",
    *,
    lo: float,
    hi: float,
    needed: bool = True,
) -> Field:
    """A field that holds a measure, kind: a key of MEASURES; lo, hi in its base unit."""
    return Field(key, kind, label, hint, default, metric or default, lo, hi, 1, [], needed)


def money(key: str, label: str, hint: str = "", *, hi: int = 100000) -> Field:
    """A field that holds an amount of money, 0 to `hi`, read as hundredths; it may be empty."""
    return Field(key, "money", label, hint, "", "", 0, hi, 1, [], False)


def choice(
    key: str,
    label: str,
    choices: list[tuple[str, str]],
    hint: str = "",
    default: str = "",
    metric: str = "",
) -> Field:
    """A field that holds one of some keys."""
    return Field(
        key, "choice", label, hint, default, metric or default, None, None, 1, choices, True
    )


def flag(key: str, label: str, hint: str = "", default: str = "no") -> Field:
    """A field that holds yes or no."""
    return Field(key, "flag", label, hint, default, default, None, None, 1, [], True)


def run(calculator: Calculator, given: dict[str, object], unit: str) -> dict[str, object]:
    """Read the given texts and answer.

    given: field key -> what was typed (str; a list of str for "lengths"; a
    number is millimetres). A key left out takes the field's default; an empty
    text is no value. unit: one of UNITS.
    Returns a JSON object: "needs" (keys still to be given, in field order),
    "problems" (as problems.to_dict), "seen" ([key, what stands in the field],
    lengths as they read in `unit`) and "answer" (None while needs or problems
    is not empty). Raises nothing for bad input: it is named in "problems".
    """
    if unit not in UNITS:
        return _stop(
            [
                Problem(
                    "unit",
                    shown(unit),
                    'unit "%s" is not known.' % shown(unit),
                    "Use one of %s." % ", ".join(UNITS),
                )
            ]
        )
    problems = []
    seen = []
    keys = [f.key for f in calculator.fields]
    for key in sorted(given):
        if key not in keys:
            problems.append(
                Problem(
                    key,
                    shown(given[key]),
                    '%s has no field "%s".' % (calculator.title, shown(key)),
                    "Its fields are %s." % ", ".join(keys),
                )
            )
    needs = []
    values: dict[str, object] = {}
    for field in calculator.fields:
        raw = given.get(field.key, default_text(field, unit))
        seen.append([field.key, _seen(field, raw, unit)])
        if raw is None or raw == "" or raw == []:
            values[field.key] = [] if field.kind == "lengths" else None
            if field.needed:
                needs.append(field.key)
            continue
        value, problem = read_field(field, raw, unit)
        values[field.key] = value
        if problem:
            problems.append(problem)
    if problems or needs:
        return _stop(problems, needs, seen)
    try:
        answer = calculator.answer(values, unit)
    except InputError as e:
        return _stop(e.problems, [], seen)
    return {"needs": [], "problems": [], "seen": seen, "answer": answer_dict(answer)}


def read_field(field: Field, raw: object, unit: str) -> tuple[object, Problem | None]:
    """(value, None), or (None, the Problem) where `raw` does not fit the field."""
    if field.kind == "length":
        return _read_length(field, raw, unit)
    if field.kind == "lengths":
        out = []
        parts = _parts(raw)
        if len(parts) > field.most:
            return None, Problem(
                field.key,
                "%d readings" % len(parts),
                "%s: %d are too many." % (field.label, len(parts)),
                "Give at most %d." % field.most,
            )
        for part in parts:
            value, problem = _read_length(field, part, unit)
            if problem:
                return None, problem
            out.append(value)
        return out, None
    if field.kind in MEASURES:
        return _read_measure(field, raw, unit)
    text = _plain(raw)
    if field.kind == "money":
        n = money_of(raw)
        if n < 0 or n > 100 * field.hi:
            return None, _bad(field, raw, "is no amount up to %d" % field.hi, MONEY_FIX)
        return n, None
    if field.kind == "count":
        # Not str.isdigit: CPython's also takes a superscript two, which int() refuses.
        if text == "" or len(text) > 6 or any([ch not in "0123456789" for ch in text]):
            return None, _bad(field, raw, "is not a whole number", "Give one like 2.")
        n = int(text)
        if not field.lo <= n <= field.hi:
            fix = "Give %d to %d." % (field.lo, field.hi)
            return None, _bad(field, raw, "is out of range", fix)
        return n, None
    if field.kind == "choice":
        if text not in [c[0] for c in field.choices]:
            return None, _bad(
                field,
                raw,
                "is not one of the choices",
                "Choose %s." % " or ".join([c[0] for c in field.choices]),
            )
        return text, None
    if text not in ("yes", "no"):
        return None, _bad(field, raw, "is neither yes nor no", "Answer yes or no.")
    return text == "yes", None


def _plain(raw: object) -> str:
    if raw is True:
        return "yes"
    if raw is False:
        return "no"
    return str(raw).strip(" ") if isinstance(raw, (str, int)) else shown(raw)


def _read_length(field: Field, raw: object, unit: str) -> tuple[int | None, Problem | None]:
    try:
        jots = jots_of(raw, unit)
    except LengthError as e:
        return None, Problem(field.key, shown(raw), "%s: %s" % (field.label, e.message), e.fix)
    if not field.lo <= jots <= field.hi:
        given = raw if isinstance(raw, str) else "%s mm" % shown(raw)
        least = "more than %s, up" % show(0, unit) if field.lo == 1 else show(field.lo, unit)
        fix = "Give %s to %s." % (least, show(field.hi, unit))
        return None, _bad(field, given, "is out of range", fix)
    return jots, None


def _read_measure(field: Field, raw: object, unit: str) -> tuple[float | None, Problem | None]:
    try:
        value = read_measure(raw, field.kind, unit)
    except MeasureError as e:
        return None, Problem(field.key, shown(raw), "%s: %s" % (field.label, e.message), e.fix)
    if not field.lo <= value <= field.hi:
        given = raw if isinstance(raw, str) else measured(value, field.kind, unit)
        fix = "Give %s to %s." % (
            measured(field.lo, field.kind, unit),
            measured(field.hi, field.kind, unit),
        )
        return None, _bad(field, given, "is out of range", fix)
    return value, None


def _bad(field: Field, raw: object, what: str, fix: str) -> Problem:
    return Problem(field.key, shown(raw), '%s: "%s" %s.' % (field.label, shown(raw), what), fix)


def _stop(
    problems: list[Problem], needs: list[str] | None = None, seen: list[list[object]] | None = None
) -> dict[str, object]:
    return {
        "needs": needs or [],
        "problems": [problem_dict(p) for p in problems],
        "seen": seen or [],
        "answer": None,
    }


def _seen(field: Field, raw: object, unit: str) -> object:
    if field.kind == "lengths":
        return [as_read(part, unit) for part in _parts(raw)]
    if field.kind in MEASURES:
        return measure_as_read(raw, field.kind, unit)
    return as_read(raw, unit) if field.kind == "length" and raw != "" else raw


def _parts(raw: object) -> list[object]:
    """The readings of a "lengths" field, empty ones left out."""
    if raw is None:
        return []
    parts = raw if isinstance(raw, list) else str(raw).split(";")
    return [p for p in parts if not (isinstance(p, str) and p.strip(" ") == "")]


def declaration(c: Calculator, unit: str) -> dict[str, object]:
    """A calculator as a JSON object, for the page, the API and the docs."""
    return {
        "name": c.name,
        "title": c.title,
        "question": c.question,
        "sources": list(c.sources),
        "fields": [
            {
                "key": f.key,
                "kind": f.kind,
                "suffix": unit_of(f.kind, unit).name if f.kind in MEASURES else None,
                "label": f.label,
                "hint": f.hint,
                "default": default_text(f, unit),
                "choices": [[key, usual(label, unit)] for key, label in f.choices],
                "needed": f.needed,
            }
            for f in c.fields
        ],
    }


def default_text(field: Field, unit: str) -> str:
    """The field's default as a person who works in `unit` would type it."""
    return str(field.default if unit in ("in", "ft") else field.metric)
