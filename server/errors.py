"""One shape for every error: {"error": {"code", "message", "problems": [...]}}."""

import json
from collections.abc import Iterable

from flask import Flask, Response, request
from werkzeug.exceptions import HTTPException, MethodNotAllowed, RequestEntityTooLarge

from calc.problems import InputError, Problem, shown, to_dict

from .database import Unavailable
from .store import Ended, NoJob
from .taking import Refused

_DRAIN_BYTES = 8_000_000
_WORKER = "/sw.js"


class ApiError(Exception):
    """An answer other than 2xx."""

    def __init__(self, status: int, code: str, message: str, problems: Iterable[Problem]) -> None:
        super().__init__(message)
        self.status = status
        self.code = code
        self.message = message
        self.problems = list(problems)


def error_body(code: str, message: str, problems: Iterable[Problem]) -> str:
    """The JSON text of an error."""
    told = [{**to_dict(p), "value": p.value or "nothing"} for p in problems]
    error = {"code": code, "message": message, "problems": told}
    return json.dumps({"error": error}) + "\n"


def bad_input(problems: list[Problem], code: str = "bad-input", status: int = 422) -> ApiError:
    """The error of input that was read but can't be used."""
    first = problems[0].message
    rest = len(problems) - 1
    return ApiError(status, code, f"{first} And {rest} more." if rest else first, problems)


def register(app: Flask) -> None:
    """Let every error of the app leave in the one shape."""

    @app.errorhandler(ApiError)
    def api_error(e: ApiError) -> Response:
        return _response(e.status, e.code, e.message, e.problems)

    @app.errorhandler(InputError)
    def input_error(e: InputError) -> Response:
        return api_error(bad_input(e.problems))

    @app.errorhandler(NoJob)
    def no_job(e: NoJob) -> Response:
        key = shown(str(e))
        said = f'There is no job under the key "{key}" on this laptop.'
        fix = "Check the link, or open it from the phone that has the job."
        return api_error(bad_input([Problem("key", key, said, fix)], "not-found", 404))

    @app.errorhandler(Ended)
    def ended(e: Ended) -> Response:
        said = "This link was taken back."
        fix = "Ask for the new link on the phone that made it; what you keyed in is kept here."
        return api_error(bad_input([Problem("key", shown(str(e)), said, fix)], "ended", 410))

    @app.errorhandler(Refused)
    def refused(e: Refused) -> Response:
        return api_error(bad_input([e.problem], e.code, e.status))

    @app.errorhandler(Unavailable)
    def unavailable(e: Unavailable) -> Response:
        app.logger.error("%s %s: %s", request.method, request.path, e.detail)
        return _one(e.status, e.code, "nothing", e.message, e.fix)

    @app.errorhandler(HTTPException)
    def http_error(e: HTTPException) -> Response:
        return _http(e)

    @app.errorhandler(Exception)
    def fault(e: Exception) -> Response:
        app.logger.exception("%s %s", request.method, request.path)
        message = "A fault in the program on the laptop; its window says more."
        fix = "Try again; what was acknowledged before is kept."
        return _one(500, "fault", "nothing", message, fix)


def _http(e: HTTPException) -> Response:
    path = shown(request.path)
    if isinstance(e, MethodNotAllowed):
        allowed = ", ".join(sorted(set(e.valid_methods or ()) - {"OPTIONS", "HEAD"}))
        message = f"{request.method} is not possible at {path}."
        response = _one(405, "method", request.method, message, f"Use {allowed}.")
        response.headers["Allow"] = allowed
        return response
    if isinstance(e, RequestEntityTooLarge):
        _drain()
        size = request.content_length
        most = f"{(request.max_content_length or 0) // 1_000_000} MB"
        given = f"more than {most}" if size is None else f"{size} bytes"
        message = f"The request is larger than {most}."
        return _one(413, "too-large", given, message, "Send less at a time, or a smaller job.")
    if e.code == 404:
        message = f"There is nothing at {path}."
        fix = "The phone's page is at /p, the API under /api."
        return _one(404, "not-found", path, message, fix)
    message = f"The request could not be read ({e.code})."
    return _one(e.code or 500, "bad-request", path, message, "Send it as DEVELOPERS.md says.")


def _one(status: int, code: str, given: str, message: str, fix: str) -> Response:
    return _response(status, code, message, [Problem("", given, message, fix)])


def _drain() -> None:
    """Read away some of a body that is refused, so that the answer is not lost with it."""
    stream = request.environ["wsgi.input"]
    left = min(request.content_length or 0, _DRAIN_BYTES)
    while left > 0:
        chunk = stream.read(min(left, 65536))
        if not chunk:
            return
        left -= len(chunk)


def _response(status: int, code: str, message: str, problems: Iterable[Problem]) -> Response:
    if request.path == _WORKER and request.method in ("GET", "HEAD"):
        # JavaScript even so, and kept nowhere: what is no script here may hold a phone for months.
        return Response(
            f"// {json.dumps(message)}\n",
            status,
            content_type="text/javascript; charset=utf-8",
            headers={"Cache-Control": "no-store"},
        )
    return Response(error_body(code, message, problems), status, mimetype="application/json")
