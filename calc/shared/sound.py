"""What the parts of a copy may be: writers, paths, places, values."""

from ..problems import shown, wrong
from .paths import field_at, joined, steps

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import NoReturn

LONGEST_WRITER = 24
MOST_PLACE = 999999999
_LONGEST_PATH = 400
_WRITER = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-"
# A browser's numbers are whole and exact up to here.
_LARGEST = 1 << 53


def refuse(field: str, value: object, what: str, fix: str) -> "NoReturn":
    """Raise the InputError that says: field: value what. fix"""
    raise wrong(field, shown(value), "%s: %s %s." % (field, shown(value), what), fix)


def refuse_at(field: str, path: str, value: object, what: str, fix: str) -> "NoReturn":
    """As refuse, of what stands in `field` under a path."""
    refuse("%s[%s]" % (field, shown(path)), value, what, fix)


def is_whole(value: object, low: int, high: int) -> bool:
    """Whether it is a whole number from low to high. Errors: none."""
    if not isinstance(value, int) or value is True or value is False:
        return False
    return low <= value <= high


def is_value(value: object, many: bool) -> bool:
    """Whether a field may hold it: a text, a number, nothing; many: or a list of these.

    A number that a browser can't hold, and half of a character, are none. Errors: none.
    """
    if isinstance(value, str):
        return _is_text(value)
    if isinstance(value, list):
        return many and [1 for v in value if isinstance(v, list) or not is_value(v, False)] == []
    if value is True or value is False:
        return False
    return value is None or (isinstance(value, (int, float)) and -_LARGEST <= value <= _LARGEST)


def _is_text(text: str) -> bool:
    """Whether it holds whole characters: a half one can't be sent as UTF-8."""
    try:
        sent = text.encode()
    except ValueError:
        return False  # only CPython refuses; the phone's engine lets halves through
    return b"\xed" not in sent or [1 for ch in text if 0xD800 <= ord(ch) <= 0xDFFF] == []


def check_writer(field: str, writer: object) -> None:
    """Refuse what names no writer."""
    known = isinstance(writer, str) and 0 < len(writer) <= LONGEST_WRITER
    if not isinstance(writer, str) or not known or [1 for ch in writer if ch not in _WRITER]:
        refuse(field, writer, "names no writer", "Use 1 to 24 of A-Z, a-z, 0-9, _ and -.")


def check_path(field: str, path: str) -> "tuple[bool, bool]":
    """(whether it is of an item, whether it is of a list of values); refuse what is no path."""
    found, item = field_at(path)
    if found is None or len(path) > _LONGEST_PATH or path[0] != "/" or not _is_text(path):
        fix = "Send one like /walls/1/height_left, or open it with a newer Lapwright."
        refuse_at(field, path, path, "is no path to a field of a job", fix)
    if "~" in path:
        again = ""
        for step in steps(path):
            again = joined(again, step)
        if again != path:
            refuse_at(field, path, path, "is written another way", "Write it %s." % again)
    return item, found.kind == "lengths"
