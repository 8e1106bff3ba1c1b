"""The API: jobs, and answers from calc. Its table is in DEVELOPERS.md."""

import secrets
from typing import Any

from flask import Blueprint, Response, request

from calc.problems import InputError
from calc.shared.job_copy import adopt, job_of

from .ask import ask, elevation, planned, whole
from .errors import bad_input
from .given import answer, body, envelope, hub, store
from .pages import shell
from .schemas import NewCopy, NewJob, PlanFor, Values, WallOf, Writes
from .store import Merged, Stored

api = Blueprint("api", __name__, url_prefix="/api")


@api.post("/jobs")
def add_job() -> Response:
    """Store a new job: a document under a fresh key, or a phone's writes under its own."""
    given = body()
    if isinstance(given, dict) and "job" in given:
        job = NewJob().read(given)["job"]
        key, writes = secrets.token_urlsafe(16), [adopt(job, secrets.token_urlsafe(6), 1)]
    else:
        new = NewCopy().read(given)
        key, writes = new["key"], new["writes"]
    with store().database.turn():
        merged = store().add(key, writes)
        _tell(merged, writes)
    return answer(_job(merged.stored), 200 if merged.before else 201)


@api.get("/jobs/<key>")
def get_job(key: str) -> Response:
    """The job that the key opens."""
    return answer(_job(store().get(key)))


@api.post("/jobs/<key>/writes")
def add_writes(key: str) -> Response:
    """Merge a phone's writes. What was sent before is taken once; the answer acknowledges all.

    "copy" is the whole copy where the phone stood on another revision, else null.
    """
    given = Writes().read(body())
    writes = given["writes"]
    # Told in the order they were taken in: within the turn.
    with store().database.turn():
        merged = store().merge(key, writes)
        _tell(merged, writes)
    stored = merged.stored
    copy = None if merged.before == given["have"] else stored.copy
    return answer({"id": stored.id, "rev": stored.rev, "saved": stored.saved, "copy": copy})


@api.get("/quick")
def calculators() -> Response:
    """The declarations of the quick calculators."""
    return answer(ask("calculators", unit=request.args.get("unit", "in")))


@api.post("/quick/<name>")
def quick(name: str) -> Response:
    """One quick answer."""
    given = envelope(Values())
    try:
        found = ask("quick", name=name, values=given["values"], unit=given.get("unit", "in"))
    except InputError as e:
        if any(p.field == "name" for p in e.problems):
            raise bad_input(e.problems, "not-found", 404) from e
        raise
    return answer(whole(found))


@api.post("/plan")
def plan() -> Response:
    """The plan of a job, its view in ready texts, and what walls not planned yet need.

    calc is the mark of the calc that made it: a phone with another one makes its own.
    """
    found = planned(envelope(PlanFor())["job"])
    return answer({**found, "calc": shell().calc()})


@api.post("/plan.csv")
def plan_csv() -> Response:
    """The pieces of a job's plan as CSV, by RFC 4180."""
    plan = planned(envelope(PlanFor())["job"])["plan"]
    response = Response(ask("csv", plan=plan)["text"], mimetype="text/csv")
    response.mimetype_params["header"] = "present"
    return response


@api.post("/elevation")
def wall_elevation() -> Response:
    """The drawing of one wall of a job's plan as SVG, on paper."""
    given = envelope(WallOf())
    svg = elevation(planned(given["job"]), str(given["wall"]), given.get("paper"))
    return Response(svg, mimetype="image/svg+xml")


@api.post("/compare")
def compare() -> Response:
    """The ways to divide a job's walls into courses, each with what it costs."""
    return answer(ask("compare", job=envelope(PlanFor())["job"]))


@api.post("/trade")
def trade() -> Response:
    """What a job takes beside its layout, and the steps of its work, by its plan."""
    job = envelope(PlanFor())["job"]
    return answer(ask("trade", job=job, plan=planned(job)["plan"]))


@api.get("/ping")
def ping() -> Response:
    """Is the laptop there, and which page does it serve?"""
    return answer({"ok": True, "version": shell().version()})


def _tell(merged: Merged, writes: list[Any]) -> None:
    """Tell the other phones of what was new."""
    stored = merged.stored
    if merged.before and stored.rev != merged.before:
        hub().wrote(stored.id, merged.before, stored.rev, stored.saved, writes)


def _job(stored: Stored) -> dict[str, Any]:
    known = {"key": stored.key, "kind": stored.kind, "id": stored.id, "rev": stored.rev}
    return {**known, "saved": stored.saved, "copy": stored.copy, "job": job_of(stored.copy)}
