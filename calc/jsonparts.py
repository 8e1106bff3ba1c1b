"""JSON text of an answer."""

import json

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object


def text(value: Any, depth: int = 3) -> str:
    """The JSON text of what json.dumps takes.

    depth: how far down objects and lists are written one by one and put together at the end.
    The phone's engine takes the square of the time for a long text: a second and more for a
    house's plan in one piece, a tenth of that in parts. Errors: none.
    """
    if depth and isinstance(value, list):
        return "[" + ", ".join([text(v, depth - 1) for v in value]) + "]"
    if depth > 1 and isinstance(value, dict):
        parts = [json.dumps(key) + ": " + text(value[key], depth - 1) for key in value]
        return "{" + ", ".join(parts) + "}"
    if depth and isinstance(value, dict) and len(value) > 24:
        return "{" + ", ".join([json.dumps({key: value[key]})[1:-1] for key in value]) + "}"
    return json.dumps(value)
