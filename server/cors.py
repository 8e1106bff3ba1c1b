"""The API for this laptop's own page under another of its addresses.

The page stays at the origin where a phone first opened it. When the laptop has moved to
another network, the page calls it at its new address, which the browser takes for a
foreign one. Nobody else's page may: an origin is ours only over https, which takes a
certificate from this laptop's CA.
"""

from flask import Flask, Response, request

from .https import Https

_METHODS = "GET, POST, PUT, DELETE"
_PREFLIGHT = {
    "Access-Control-Allow-Methods": _METHODS,
    "Access-Control-Allow-Headers": "Content-Type",
    "Access-Control-Max-Age": "600",
}


def register(app: Flask) -> None:
    """Answer to our own origins; there are no cookies, so no credentials either."""

    @app.after_request
    def allow(response: Response) -> Response:
        if not request.path.startswith("/api/"):
            return response
        response.vary.add("Origin")
        held: Https | None = app.config["HTTPS"]
        origin = request.headers.get("Origin", "")
        if held is None or not held.is_ours(origin):
            return response
        response.headers["Access-Control-Allow-Origin"] = origin
        if request.method == "OPTIONS" and "Access-Control-Request-Method" in request.headers:
            response.headers.extend(_PREFLIGHT)
            # From a page that the browser counts as public, because it opened it from its store.
            if "Access-Control-Request-Private-Network" in request.headers:
                response.headers["Access-Control-Allow-Private-Network"] = "true"
        return response
