"""Links that another phone can open; made from the server's own addresses, never from Host.

Behind a proxy they are the proxy's, which alone is asked there and says where it was asked.
"""

from flask import current_app, request

from .address import reachable


def addresses() -> list[str]:
    """The addresses to put in links, best first; asked anew, since a laptop changes networks."""
    config = current_app.config
    return reachable(config["HOST"], config["ADDRESS"])


def page_link(address: str) -> str:
    """The phone's page at that address of this laptop, over http."""
    return f"http://{address}:{current_app.config['PORT']}/p"


def page_links() -> list[str]:
    """The phone's page at each address, best first; for a request. Never empty."""
    if current_app.config["BEHIND_PROXY"]:
        return [f"{request.host_url}p"]
    return [page_link(a) for a in addresses()]


def job_link(key: str, kind: str) -> str:
    """The job that the key opens on the phone's page; kind: "edit", or "saw"."""
    return f"{page_links()[0]}#/{kind}/{key}"
