"""The API of a job that is shared: its live stream, links, short codes, and the plan in use."""

import re
from functools import partial
from typing import Any

from flask import Blueprint, Response, current_app, request

from calc.problems import Problem, shown

from . import qr
from .access import DIGITS, KINDS, MINUTES, Access, KeyTaken, TooMany
from .errors import bad_input
from .given import answer, body, edited, hub, store
from .links import job_link
from .live import MOST_STREAMS, Full
from .schemas import OfKind, PlanInUse, Renewed, Typed

sharing = Blueprint("sharing", __name__, url_prefix="/api")


def _access() -> Access:
    held: Access = current_app.extensions["lapwright-access"]
    return held


@sharing.get("/jobs/<key>/live")
def live(key: str) -> Response:
    """The stream of what happens to the job: text/event-stream."""
    job = store().opens(key).id
    phone = request.args.get("phone", "")
    if not re.fullmatch(r"[A-Za-z0-9_-]{1,64}", phone):
        said = f'phone: "{shown(phone)}" names no phone.'
        fix = "Send 1 to 64 of A-Z, a-z, 0-9, _ and -, the same each time."
        raise bad_input([Problem("phone", shown(phone), said, fix)])
    try:
        stream = hub().open(job, key, phone, request.environ.get("lapwright.gone", _never))
    except Full:
        said = f"{MOST_STREAMS} phones listen to this laptop already."
        fix = "Look again in a while; what is keyed in is sent all the same."
        raise bad_input([Problem("phone", phone, said, fix)], "busy", 503) from None
    try:
        store().opens(key)  # one that was taken back meanwhile found no stream to end
    except Exception:
        hub().leave(stream)
        raise
    response = Response(hub().events(stream), mimetype="text/event-stream")
    response.call_on_close(partial(hub().leave, stream))  # also where nothing was asked of it
    return response


@sharing.get("/jobs/<key>/links")
def get_links(key: str) -> Response:
    """The links of the job, one to edit it and one for the saw, each with its QR."""
    job = edited(key).id
    return answer({kind: _link(_access().key(job, kind), kind) for kind in KINDS})


@sharing.post("/jobs/<key>/links")
def renew_link(key: str) -> Response:
    """Take back the links of that kind, and make a new one."""
    given = Renewed().read(body())
    edited(key)
    try:
        fresh, old = _access().renew(key, given["kind"], given["key"])
    except KeyTaken as e:
        used = shown(str(e))
        said = f'key: "{used}" was used before.'
        raise bad_input([Problem("key", used, said, "Send a new one.")]) from None
    hub().ended(old)
    return answer({"key": fresh, **_link(fresh, given["kind"])})


@sharing.post("/jobs/<key>/code")
def make_code(key: str) -> Response:
    """A short code that opens what the link of that kind opens, for some minutes."""
    kind = OfKind().read(body())["kind"]
    code, until = _access().code(_access().key(edited(key).id, kind))
    return answer({"code": code, "minutes": MINUTES, "until": until})


@sharing.post("/codes")
def redeem() -> Response:
    """The key that a short code stands for."""
    typed = Typed().read(body())["code"]
    digits = "".join(c for c in typed if c in "0123456789")
    try:
        found = _access().opened_by(digits) if len(digits) == DIGITS else None
    except TooMany:
        said = f"Too many wrong codes were tried in the last {MINUTES} minutes."
        fix = f"Wait {MINUTES} minutes, or scan the QR on the other phone."
        raise bad_input([Problem("code", shown(typed), said, fix)], "too-many", 429) from None
    if found is None:
        said = f'code: "{shown(typed)}" opens no job.'
        fix = f"Look at the {DIGITS} digits again; a code lasts {MINUTES} minutes."
        raise bad_input([Problem("code", shown(typed), said, fix)], "not-found", 404)
    return answer({"key": found[0], "kind": found[1]})


@sharing.get("/jobs/<key>/plan")
def get_plan(key: str) -> Response:
    """The plan in use, and the job document it was made of; null where there is none."""
    rev, job, plan = store().plan(store().opens(key).id) or (0, None, None)
    return answer({"rev": rev, "job": job, "plan": plan})


@sharing.put("/jobs/<key>/plan")
def put_plan(key: str) -> Response:
    """Have this plan used on every phone; 409 where another of the same job is in use."""
    given = PlanInUse().read(body())
    with store().database.turn():
        kept = store().keep_plan(key, given["job"], given["plan"], given["instead"])
        if kept is not None:
            hub().planned(*kept)
    if kept is None:
        said = "Another plan of this job is in use."
        fix = "Look at it, then send this one with instead, or leave it."
        raise bad_input([Problem("plan", "a plan", said, fix)], "conflict", 409)
    return answer({"rev": kept[1]})


def _never() -> bool:
    """Another server than ours does not say whether the phone has left."""
    return False


def _link(key: str, kind: str) -> dict[str, Any]:
    link = job_link(key, kind)
    return {"link": link, "qr": qr.svg(link)}
