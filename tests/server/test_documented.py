"""DEVELOPERS.md tells the API as it is: every route, every error code, and no other."""

import re

from server import store
from server.app import ROOT

DOC = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
API = DOC.split("## The API")[1].split("\n## ")[0]


def test_every_route_is_told_and_no_other(app):
    routes = set()
    for rule in app.url_map.iter_rules():
        path = rule.rule.replace("<key>", "KEY").replace("<name>", "NAME")
        for method in rule.methods & {"GET", "POST", "PUT"}:
            if path.startswith("/api/"):
                routes.add(f"{method} {path}")
    told = set(re.findall(r"`((?:GET|POST|PUT|DELETE) /api/[^` ]+)`", API))
    assert told == routes


def test_every_error_code_is_told_and_no_other():
    rows = [line for line in API.splitlines() if re.match(r"\| \d{3}", line)]
    told = {code for row in rows for code in re.findall(r"`([a-z-]+)`", row.split("|")[2])}
    sources = "".join(p.read_text(encoding="utf-8") for p in (ROOT / "server").glob("*.py"))
    used = {failure[2] for failure in store._FAILURES}
    used |= set(re.findall(r'(?:ApiError|_one|_response)\(\s*[\w. ]+, "([a-z-]+)"', sources))
    used |= set(re.findall(r'error_body\("([a-z-]+)"', sources))
    used |= set(re.findall(r'bad_input\([^)\n]+, "([a-z-]+)"', sources))
    used |= set(re.findall(r'code: str = "([a-z-]+)"', sources))
    assert told == used
