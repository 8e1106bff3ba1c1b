"""Links that another phone can open; made from the server's own addresses, never from Host."""

from flask import current_app

from .address import reachable


def addresses() -> list[str]:
    """The addresses to put in links, best first; asked anew, since a laptop changes networks."""
    config = current_app.config
    return reachable(config["HOST"], config["ADDRESS"])


def page_link(address: str) -> str:
    """The phone's page at that address of this laptop."""
    return f"http://{address}:{current_app.config['PORT']}/p"


def job_link(key: str, kind: str) -> str:
    """The job that the key opens on the phone's page; kind: "edit", or "saw"."""
    return f"{page_link(addresses()[0])}#/{kind}/{key}"
