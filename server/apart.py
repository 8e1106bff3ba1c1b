"""Pages that stand apart: what helps a phone on which the page itself does not work.

They are read from web/apart, whatever state the page's own files are in, and are no part of
what the service worker serves.
"""

from pathlib import Path

from flask import Blueprint, Response, current_app, render_template, request

apart = Blueprint("apart", __name__)

FILES = {
    "/reset": "reset.html",
    "/reset.js": "reset.js",
    "/setup": "setup.html",
    "/setup.js": "setup.js",
    "/apart.css": "apart.css",
}
_TYPES = {".html": "text/html", ".js": "text/javascript", ".css": "text/css"}


def _file() -> Response:
    name = FILES[request.path]
    path = Path(current_app.config["WEB"], "apart", name)
    kind = f"{_TYPES[path.suffix]}; charset=utf-8"
    body = render_template(f"apart/{name}") if path.suffix == ".html" else path.read_bytes()
    return Response(body, content_type=kind, headers={"Cache-Control": "no-store"})


for _path in FILES:
    apart.add_url_rule(_path, "file", _file)
