"""The app factory: settings in, a Flask app out."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from flask import Flask, Response, request
from werkzeug.middleware.proxy_fix import ProxyFix

from . import cors, errors
from .access import Access
from .apart import apart
from .api import api
from .database import Database
from .live import Hub
from .pages import pages
from .sharing import sharing
from .shell import Shell
from .store import Store
from .trust import trust

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
DEFAULT_HTTPS_PORT = 8129

# The page runs its own scripts and compiles WebAssembly; nothing else, from nowhere else.
POLICY = (
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
)
HEADERS = (
    ("Content-Security-Policy", "; ".join(POLICY)),
    ("X-Content-Type-Options", "nosniff"),
    ("Referrer-Policy", "no-referrer"),
)


def create_app(config: Mapping[str, Any]) -> Flask:
    """The app.

    config: DATABASE_URL (needed, an SQLAlchemy URL); HOST, what the server
    listens on (0.0.0.0), ADDRESS, the one to put in links (None: this laptop's
    own), PORT (8128); HTTPS, what https is served with (None: nothing, and
    HTTPS_PROBLEM tells people why), HTTPS_PORT (8129); BEHIND_PROXY, whether one
    proxy stands before it that says where it was asked (False); WEB and CALC, the
    folders of the page and of calc; RESCAN, seconds until their files are looked at
    again (2).
    Raises database.Unavailable where the database can't be opened.
    """
    web = Path(config.get("WEB", ROOT / "web"))
    app = Flask(__name__, static_folder=None, template_folder=str(web))
    app.config.from_mapping(HOST="0.0.0.0", ADDRESS=None, PORT=DEFAULT_PORT, RESCAN=2.0)
    app.config.from_mapping(HTTPS=None, HTTPS_PROBLEM="", HTTPS_PORT=DEFAULT_HTTPS_PORT)
    app.config.from_mapping(BEHIND_PROXY=False)
    app.config.from_mapping(config, WEB=web)
    if app.config["BEHIND_PROXY"]:
        app.wsgi_app = ProxyFix(app.wsgi_app, x_proto=1, x_host=1)  # type: ignore[method-assign]
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
    app.register_blueprint(trust)
    errors.register(app)
    cors.register(app)

    @app.before_request
    def read_whole_body() -> None:
        # Before any answer, an error's too: an unread body would stay on the
        # connection. Raises 413 beyond what may be sent there.
        request.max_content_length = _LARGEST.get(request.endpoint or "", LARGEST_BODY)
        request.get_data()

    @app.after_request
    def harden(response: Response) -> Response:
        response.headers.extend(HEADERS)
        response.headers["Content-Security-Policy"] = "; ".join(_policy(app))
        if response.mimetype == "text/event-stream":
            # A proxy that gathers an answer before it sends it on would hold back each event.
            response.headers["X-Accel-Buffering"] = "no"
        if request.path.startswith("/api/"):
            response.headers["Cache-Control"] = "no-store"
        return response

    return app


def _policy(app: Flask) -> tuple[str, ...]:
    """POLICY, and where there is https, this laptop in another network.

    The page may be opened from the phone when the laptop has an address that nobody knew
    when the page was stored. A policy can't name private networks, but it can name the port.
    """
    if app.config["HTTPS"] is None:
        return POLICY
    ours = f"connect-src 'self' https://*:{app.config['HTTPS_PORT']}"
    return tuple(ours if line.startswith("connect-src") else line for line in POLICY)
