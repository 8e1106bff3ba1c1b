"""What requests bring and find, and how they are answered; shared by the API's routes."""

import json
from typing import Any

from flask import Response, current_app, request

from calc.problems import InputError, Problem, shown

from .errors import bad_input
from .jsontext import parse
from .live import Hub
from .schemas import Envelope
from .store import Opened, Store


def store() -> Store:
    """The app's jobs."""
    held: Store = current_app.extensions["lapwright-store"]
    return held


def hub() -> Hub:
    """The app's live streams."""
    held: Hub = current_app.extensions["lapwright-live"]
    return held


def body() -> Any:
    """The request's body. JSON only, so that no form on a foreign page can write."""
    if request.mimetype != "application/json":
        given = request.mimetype or "nothing"
        said = f"Content-Type: {shown(given)} is not taken here."
        problem = Problem("Content-Type", shown(given), said, "Send application/json.")
        raise bad_input([problem], "content-type", 415)
    try:
        return parse(request.get_data())
    except InputError as e:
        raise bad_input(e.problems, "bad-json", 400) from e


def envelope(schema: Envelope) -> dict[str, Any]:
    """What the schema reads in the body. Raises InputError naming every field that is wrong."""
    return schema.read(body())


def edited(key: str) -> Opened:
    """What the key opens, by a key to edit it with; 403 by the saw's."""
    opened = store().opens(key)
    if opened.kind != "edit":
        said = "This is the saw's link: it gives out no links."
        fix = "Do it on a phone that has the link to edit the job."
        raise bad_input([Problem("key", "the saw's link", said, fix)], "not-allowed", 403)
    return opened


def answer(body: dict[str, Any], status: int = 200) -> Response:
    """A JSON answer."""
    return Response(json.dumps(body) + "\n", status, mimetype="application/json")
