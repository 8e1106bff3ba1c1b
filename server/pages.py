"""What is no API: the laptop's own screen, the phone's page and its files."""

import re

from flask import Blueprint, Response, current_app, render_template, request
from flask.sansio.blueprints import BlueprintSetupState
from werkzeug.exceptions import NotFound
from werkzeug.routing import PathConverter

from calc.problems import Problem, shown

from . import qr
from .address import is_loopback
from .errors import bad_input
from .links import addresses, page_links
from .shell import Content, Shell
from .trust import where

pages = Blueprint("pages", __name__)
# Where a link may be broken over two lines: never within the address.
_LINK_BREAKS = re.compile(r"(?<=//)|(?=:\d)")
# Eight bytes of a fingerprint, as "AA:BB:".
_PRINT_LINE = 24


class FilePath(PathConverter):
    """A path of the page's files; the API's are none, so that a wrong method there is told so."""

    regex = "(?!api/)[^/].*?"


@pages.record_once
def _add_converter(setup: BlueprintSetupState) -> None:
    setup.app.url_map.converters["file"] = FilePath


def shell() -> Shell:
    """The app's page files."""
    held: Shell = current_app.extensions["lapwright-shell"]
    return held


@pages.get("/")
def laptop() -> Response:
    """The laptop's own screen: the large QR of the phone's page."""
    link, *others = page_links()
    here = where()
    mark = here["fingerprint"] or ""
    body = render_template(
        "laptop.html",
        link=link,
        parts=_LINK_BREAKS.split(link),
        qr=qr.svg(link),
        alone=not current_app.config["BEHIND_PROXY"] and is_loopback(addresses()[0]),
        others=others,
        setup=link.removeprefix("http://").removesuffix("/p") + "/setup",
        secure=f"{here['https']}/p",
        fingerprint=[
            mark[i : i + _PRINT_LINE].strip(":") for i in range(0, len(mark), _PRINT_LINE)
        ],
        problem=here["problem"],
    )
    return Response(body, mimetype="text/html", headers={"Cache-Control": "no-store"})


@pages.get("/version.json")
def version() -> Response:
    """The version of the page that this laptop serves."""
    body = current_app.json.dumps({"version": shell().version()})
    return Response(body, mimetype="application/json", headers={"Cache-Control": "no-store"})


@pages.get("/sw.js")
def service_worker() -> Response:
    """The service worker: always JavaScript, never from a cache, or a phone is stuck with it."""
    content = shell().content("/sw.js")
    assert content is not None  # nosec: Shell always makes it
    return _send(content, "no-store")


@pages.get("/<file:name>")
def page_file(name: str) -> Response:
    """The phone's page under /p, or one of its files.

    ?v= asks for one version of the page: never another one, and so for ever the same. A phone
    takes such a file from its own cache once the laptop is gone, over plain http too.
    """
    version = request.args.get("v")
    content = shell().content("/" + name, version)
    if content is not None:
        return _send(content, "no-cache" if version is None else "max-age=31536000, immutable")
    if version is not None and shell().content("/" + name) is not None:
        said = f"This laptop serves version {shell().version()} of the page."
        problem = Problem("v", shown(version), said, "Reload the page.")
        raise bad_input([problem], "not-found", 404)
    raise NotFound


def _send(content: Content, cache: str) -> Response:
    body, tag = content.body, content.etag
    packed = content.packed if request.accept_encodings["gzip"] > 0 else None
    if packed is not None:
        body, tag = packed, tag + "-gz"
    response = Response(body, content_type=content.type)
    response.headers["Cache-Control"] = cache
    if content.packed is not None:
        response.headers["Vary"] = "Accept-Encoding"
    if packed is not None:
        response.headers["Content-Encoding"] = "gzip"
    if cache != "no-store":
        response.set_etag(tag)
        response.make_conditional(request)
    return response
