"""What a field of a job is, and how the tables of them (jobfields, tradefields) are written."""

from collections import namedtuple

# kind: "length" jots from lo to hi; "lengths" a list of at most hi, each as fields[0];
#       "choice" one of choices; "text" at most hi characters; "count" a whole number
#       lo to hi; "money" 0 to hi, read as hundredths; "object" with fields; "objects" a
#       list of at most hi of them; a key of measures.MEASURES: a number in its base
#       unit, lo to hi; "any" checked elsewhere.
# default, metric: the value where none is given, in jots for a length; metric
#       where the job's unit is mm, cm or m. None: no default.
Field = namedtuple("Field", "key label kind lo hi choices fields default metric")

MOST_ID = 40  # characters


def length(
    key: str, label: str, lo: int, hi: int, default: int | None = None, metric: int | None = None
) -> Field:
    """A field that holds a tape reading; all in jots."""
    return Field(key, label, "length", lo, hi, (), [], default, metric)


def choice(key: str, label: str, choices: tuple[str, ...]) -> Field:
    """A field that holds one of some keys, the first of them by default."""
    return Field(key, label, "choice", 0, 0, choices, [], choices[0], choices[0])


def of(key: str, label: str, kind: str, hi: int, fields: list[Field]) -> Field:
    """A field of another kind, without a default; hi as the kind has it."""
    return Field(key, label, kind, 0, hi, (), fields, None, None)


def measure(
    kind: str, key: str, label: str, lo: float, hi: float,
    default: float | None = None, metric: float | None = None,
) -> Field:  # fmt: skip
    """A field that holds a measure, kind: a key of MEASURES; all in its base unit."""
    return Field(key, label, kind, lo, hi, (), [], default, default if metric is None else metric)


def count(key: str, label: str, lo: int, hi: int, default: int | None = None) -> Field:
    """A field that holds a whole number."""
    return Field(key, label, "count", lo, hi, (), [], default, default)


# What tells one of a list from the others where two copies of a job are merged; where none is
# given, its place in the list, from 1.
ID = of("id", "id", "text", MOST_ID, [])
