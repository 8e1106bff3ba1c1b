"""JSON text in, read strictly: what two readers could take differently is refused.

Repeated fields, NaN and Infinity, numbers out of range, deep nesting and
anything that is not UTF-8 are errors. 12.0 is read as 12: JSON has one number.
"""

import json
from typing import Any, NoReturn

from calc.problems import InputError, Problem, shown

DEEPEST = 32
_LONGEST_NUMBER = 40
_EXACT = 2**53  # whole floats below this are the same number as an int


def parse(data: bytes) -> Any:
    """The value that `data` holds as JSON text in UTF-8 (a byte order mark is passed over).

    Raises InputError with one Problem that names the place or the field.
    Source of the syntax: RFC 8259; of the narrowing: RFC 7493 (I-JSON).
    """
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as e:
        _refuse("", f"byte {e.start + 1}", "The text is not UTF-8.", "Save it as UTF-8.")
    if not text.strip():
        _refuse("", None, "There is no JSON here.", "Give a JSON object.")
    try:
        value = json.loads(
            text,
            object_pairs_hook=_fields,
            parse_constant=_constant,
            parse_int=_whole,
            parse_float=_number,
        )
    except json.JSONDecodeError as e:
        near = text[e.pos : e.pos + 12].split("\n")[0] or "the end of the text"
        _refuse(
            "", near, f"The text is not JSON: line {e.lineno}, column {e.colno}, at {near}.",
            "Mend it there; check commas, quotes and brackets.",
        )  # fmt: skip
    except RecursionError:
        _too_deep()
    _check_depth(value)
    return value


def _fields(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    out: dict[str, Any] = {}
    for name, value in pairs:
        if name in out:
            _refuse(name, value, f'The field "{shown(name)}" is given twice.', "Give it once.")
        out[name] = value
    return out


def _constant(text: str) -> NoReturn:
    _refuse("", text, f"{text} is not a JSON number.", "Give a number, or null for none.")


def _whole(text: str) -> int:
    if len(text) > _LONGEST_NUMBER:
        _refuse("", text, f"The number {shown(text)} is too long.", "Give fewer digits.")
    return int(text)


def _number(text: str) -> float:
    value = float(text)
    if value in (float("inf"), float("-inf")):
        _refuse("", text, f"The number {shown(text)} is too large.", "Give a smaller number.")
    return int(value) if value.is_integer() and abs(value) < _EXACT else value


def _check_depth(value: Any) -> None:
    level = [value]
    for _ in range(DEEPEST):
        below: list[Any] = []
        for v in level:
            if isinstance(v, dict):
                below.extend(v.values())
            elif isinstance(v, list):
                below.extend(v)
        if not below:
            return
        level = below
    _too_deep()


def _too_deep() -> NoReturn:
    _refuse(
        "", None, f"The JSON is nested more than {DEEPEST} deep.", "Send a flatter object."
    )  # fmt: skip


def _refuse(field: str, value: object, message: str, fix: str) -> NoReturn:
    raise InputError([Problem(field, shown(value), message, fix)])
