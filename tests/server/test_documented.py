"""DEVELOPERS.md tells API, bridge and plan file as they are: nothing left out, nothing else."""

import argparse
import re

from calc.bridge import VERBS
from calc.plan import make
from calc.view import view
from server import cli, database
from server.app import ROOT
from tests.real_walls import everything, gable

DOC = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
API = DOC.split("## The API")[1].split("\n## ")[0]
BRIDGE = DOC.split("## The bridge")[1].split("\n## ")[0]
PLAN = DOC.split("## The plan file")[1].split("\n## ")[0]
README = (ROOT / "README.md").read_text(encoding="utf-8")
# Told as in the job, and checked there.
AS_IN_THE_JOB = ("board", "rules")


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
    used = {failure[2] for failure in database._FAILURES}
    used |= set(re.findall(r'(?:ApiError|_one|_response)\(\s*[\w. ]+, "([a-z-]+)"', sources))
    used |= set(re.findall(r'error_body\("([a-z-]+)"', sources))
    used |= set(re.findall(r'bad_input\([^\n]+, "([a-z-]+)", \d+\)', sources))
    used |= set(re.findall(r'code: str = "([a-z-]+)"', sources))
    used |= set(re.findall(r'_refused\(\d+, "([a-z-]+)"', sources))
    assert told == used


def rows_of(section):
    """(first cell, the whole row) of each row of the section's table."""
    rows = [line for line in section.splitlines() if line.startswith("| `")]
    return [(row.split(" | ")[0], row) for row in rows]


def test_every_verb_of_the_bridge_is_told_and_no_other():
    assert {first.strip("| `") for first, _ in rows_of(BRIDGE)} == set(VERBS)


def paths(value, at=""):
    """Every path of a JSON value: walls, walls[].name, pieces[].left_end.angle ..."""
    if isinstance(value, dict):
        return {
            p
            for k, v in value.items()
            for p in {f"{at}.{k}".strip("."), *paths(v, f"{at}.{k}".strip("."))}
        }
    if isinstance(value, list):
        return {p for v in value if isinstance(v, dict) for p in paths(v, at + "[]")}
    return set()


def told_paths():
    """{path told in a first cell: its row}; a name without a parent has that of the one before."""
    told = {}
    for first, row in rows_of(PLAN):
        parent = ""
        for name in re.findall(r"`([^`]+)`", first):
            if "." in name:
                parent = name.rsplit(".", 1)[0] + "."
            told[(name if "." in name else parent + name).removesuffix("[]")] = row
    return told


def test_every_field_of_a_plan_is_told_and_no_other():
    """A field stands in a row of its own, or in that of what holds it."""
    made = paths(make(everything()))
    told = told_paths()
    for path in made:
        if path.split(".")[0] in AS_IN_THE_JOB or path in told:
            continue
        holder = path
        while holder not in told:
            assert "." in holder, path
            holder = holder.rsplit(".", 1)[0].removesuffix("[]")
        assert re.search(rf"`{path.rsplit('.', 1)[1]}(\[\])?`", told[holder]), path
    assert set(told) <= made, set(told) - made


def test_every_part_of_a_view_is_told():
    for path in paths(view(make(gable()))):
        name = path.rsplit(".", 1)[-1]
        depth = path.count(".") - path.startswith("walls[].")
        if depth == 0:
            plain = name in ("number", "name")  # they need no words
            assert plain or re.search(rf"[`\"]{name}(\[\])?[`\"]", BRIDGE), path


def test_every_option_of_plan_is_told():
    """README's commands are those that there are."""
    parser = cli._parser()
    commands = [a for a in parser._actions if isinstance(a, argparse._SubParsersAction)]
    known = {o for a in commands[0].choices["plan"]._actions for o in a.option_strings}
    told = set(
        re.findall(r"(?<= )--[a-z-]+", README.split("## At the command line")[1].split("\n## ")[0])
    )
    assert told == known - {"-h", "--help"}
