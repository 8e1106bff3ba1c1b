"""The API: jobs, and answers from calc. Its table is in DEVELOPERS.md."""

import json
import secrets
from typing import Any, NoReturn

from flask import Blueprint, Response, current_app, request

from calc.problems import InputError, Problem, shown

from . import qr
from .ask import ask, elevation, planned, whole
from .errors import ApiError, bad_input
from .jsontext import parse
from .links import job_link
from .pages import shell
from .schemas import ChangedJob, Envelope, NewJob, PlanFor, Values, WallOf
from .store import Conflict, Store, Stored

api = Blueprint("api", __name__, url_prefix="/api")


def _store() -> Store:
    held: Store = current_app.extensions["lapwright-store"]
    return held


@api.post("/jobs")
def add_job() -> Response:
    """Store a new job, under the phone's own key or a fresh one."""
    given = _envelope(NewJob())
    key = given.get("key") or secrets.token_urlsafe(16)
    try:
        stored, new = _store().add(key, given["job"])
    except Conflict as e:
        _conflict(e.current, "This key holds another job.", "Send it under a new key.")
    return _json(_job(stored), 201 if new else 200)


@api.get("/jobs/<key>")
def get_job(key: str) -> Response:
    """The job of that key."""
    return _json(_job(_find(key)))


@api.put("/jobs/<key>")
def replace_job(key: str) -> Response:
    """Replace the revision that the phone knows."""
    given = _envelope(ChangedJob())
    try:
        stored = _store().replace(key, given["job"], given["base"])
    except KeyError:
        _no_job(key)
    except Conflict as e:
        _conflict(
            e.current,
            f"Revision {e.current.rev} is stored, not {given['base']}.",
            'Look at "current", then send again with its rev as base.',
        )
    return _json(_job(stored))


@api.get("/jobs/<key>/link")
def get_link(key: str) -> Response:
    """The link of the job for another phone, and its QR."""
    link = job_link(_find(key).key)
    return _json({"link": link, "qr": qr.svg(link)})


@api.get("/quick")
def calculators() -> Response:
    """The declarations of the quick calculators."""
    return _json(ask("calculators", unit=request.args.get("unit", "in")))


@api.post("/quick/<name>")
def quick(name: str) -> Response:
    """One quick answer."""
    given = _envelope(Values())
    try:
        answer = ask("quick", name=name, values=given["values"], unit=given.get("unit", "in"))
    except InputError as e:
        if any(p.field == "name" for p in e.problems):
            raise bad_input(e.problems, "not-found", 404) from e
        raise
    return _json(whole(answer))


@api.post("/plan")
def plan() -> Response:
    """The plan of a job, its view in ready texts, and what walls not planned yet need.

    calc is the mark of the calc that made it: a phone with another one makes its own.
    """
    answer = planned(_envelope(PlanFor())["job"])
    return _json({**answer, "calc": shell().calc()})


@api.post("/plan.csv")
def plan_csv() -> Response:
    """The pieces of a job's plan as CSV, by RFC 4180."""
    plan = planned(_envelope(PlanFor())["job"])["plan"]
    response = Response(ask("csv", plan=plan)["text"], mimetype="text/csv")
    response.mimetype_params["header"] = "present"
    return response


@api.post("/elevation")
def wall_elevation() -> Response:
    """The drawing of one wall of a job's plan as SVG, on paper."""
    given = _envelope(WallOf())
    svg = elevation(planned(given["job"]), str(given["wall"]), given.get("paper"))
    return Response(svg, mimetype="image/svg+xml")


@api.post("/compare")
def compare() -> Response:
    """The ways to divide a job's walls into courses, each with what it costs."""
    return _json(ask("compare", job=_envelope(PlanFor())["job"]))


@api.get("/ping")
def ping() -> Response:
    """Is the laptop there, and which page does it serve?"""
    return _json({"ok": True, "version": shell().version()})


def _envelope(schema: Envelope) -> dict[str, Any]:
    """The request's body. JSON only, so that no form on a foreign page can write."""
    if request.mimetype != "application/json":
        given = request.mimetype or "nothing"
        said = f"Content-Type: {shown(given)} is not taken here."
        problem = Problem("Content-Type", shown(given), said, "Send application/json.")
        raise bad_input([problem], "content-type", 415)
    try:
        value = parse(request.get_data())
    except InputError as e:
        raise bad_input(e.problems, "bad-json", 400) from e
    return schema.read(value)


def _find(key: str) -> Stored:
    stored = _store().get(key)
    if stored is None:
        _no_job(key)
    return stored


def _no_job(key: str) -> NoReturn:
    said = f'There is no job under the key "{shown(key)}" on this laptop.'
    fix = "Check the link, or open it from the phone that has the job."
    raise bad_input([Problem("key", shown(key), said, fix)], "not-found", 404)


def _conflict(current: Stored, message: str, fix: str) -> NoReturn:
    problem = Problem("base", str(current.rev), message, fix)
    raise ApiError(409, "conflict", message, [problem], current=_job(current))


def _job(stored: Stored) -> dict[str, Any]:
    return {"key": stored.key, "rev": stored.rev, "saved": stored.saved, "job": stored.doc}


def _json(body: dict[str, Any], status: int = 200) -> Response:
    return Response(json.dumps(body) + "\n", status, mimetype="application/json")
