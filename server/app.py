"""The app factory: settings in, a Flask app out."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from flask import Flask, Response, request

from .access import Access
from .apart import apart
from .api import api
from .database import Database
from .errors import register
from .live import Hub
from .pages import pages
from .sharing import sharing
from .shell import Shell
from .store import Store

ROOT = Path(__file__).parent.parent
LARGEST_BODY = 1_000_000
LARGEST_WRITES = 4_000_000  # a whole copy that a phone gives back (taking.LARGEST_COPY)
LARGEST_PLAN = 8_000_000  # of a house of forty walls
_LARGEST = {
    "api.add_job": LARGEST_WRITES,
    "api.add_writes": LARGEST_WRITES,
    "sharing.put_plan": LARGEST_PLAN,
}
DEFAULT_PORT = 8128

# The page runs its own scripts and compiles WebAssembly; nothing else, from nowhere else.
POLICY = "; ".join(
    [
        "default-src 'none'",
        "script-src 'self' 'wasm-unsafe-eval'",
        "style-src 'self'",
        "img-src 'self' data: blob:",
        "connect-src 'self'",
        "worker-src 'self'",
        "manifest-src 'self'",
        "form-action 'none'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    ]
)
HEADERS = (
    ("Content-Security-Policy", POLICY),
    ("X-Content-Type-Options", "nosniff"),
    ("Referrer-Policy", "no-referrer"),
)


def create_app(config: Mapping[str, Any]) -> Flask:
    """The app.

    config: DATABASE_URL (needed, an SQLAlchemy URL); HOST, what the server
    listens on (0.0.0.0), ADDRESS, the one to put in links (None: this laptop's
    own), PORT (8128); WEB and CALC, the folders of the page and of calc; RESCAN,
    seconds until their files are looked at again (2).
    Raises database.Unavailable where the database can't be opened.
    """
    web = Path(config.get("WEB", ROOT / "web"))
    app = Flask(__name__, static_folder=None, template_folder=str(web))
    app.config.from_mapping(HOST="0.0.0.0", ADDRESS=None, PORT=DEFAULT_PORT, RESCAN=2.0)
    app.config.from_mapping(config, WEB=web)
    app.url_map.merge_slashes = False
    database = Database(config["DATABASE_URL"])
    store = Store(database)
    app.extensions["lapwright-store"] = store
    app.extensions["lapwright-access"] = Access(database)
    app.extensions["lapwright-live"] = Hub(store.revisions)
    calc = Path(config.get("CALC", ROOT / "calc"))
    app.extensions["lapwright-shell"] = Shell(web, calc, app.config["RESCAN"])
    app.register_blueprint(api)
    app.register_blueprint(sharing)
    app.register_blueprint(pages)
    app.register_blueprint(apart)
    register(app)

    @app.before_request
    def read_whole_body() -> None:
        # Before any answer, an error's too: an unread body would stay on the
        # connection. Raises 413 beyond what may be sent there.
        request.max_content_length = _LARGEST.get(request.endpoint or "", LARGEST_BODY)
        request.get_data()

    @app.after_request
    def harden(response: Response) -> Response:
        response.headers.extend(HEADERS)
        if request.path.startswith("/api/"):
            response.headers["Cache-Control"] = "no-store"
        return response

    return app
