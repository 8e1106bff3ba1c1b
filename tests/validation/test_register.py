"""The register itself: every figure has a test, and the test says where the figure stands.

Run with -s for the count by trust: rows covered / rows there.
"""

import ast
from functools import cache
from pathlib import Path

import pytest

from tests.validation.register import BOARDS, MOISTURE, REGISTER, Row

ROOT = Path(__file__).parents[2]
# Rows of each subject, so that one which drops out is noticed.
THERE = {
    "units and tape": 7,
    "boards": 8,
    "framing, level, plumb": 8,
    "moisture and movement": 14,
    "fasteners": 10,
    "boxes": 8,
    "windows and trim": 4,
    "coats and health": 7,
    "cautions": 6,
}
LETTERS = {
    "P": "published",
    "D": "worked out",
    "M": "from memory",
    "T": "common practice",
    "C": "cautions",
}
# What a test of such a row says itself: in its name, docstring, comments or its file's name.
SAYS = {"M": "from memory", "T": "common practice"}
ROWS = [row for rows in REGISTER.values() for row in rows]


@cache
def _tests(file):
    """name -> the source of each test of a file, with its decorators and its docstring."""
    text = (ROOT / file).read_text(encoding="utf-8")
    lines = text.splitlines()
    out = {}
    for node in ast.parse(text).body:
        if isinstance(node, ast.FunctionDef) and node.name.startswith("test_"):
            first = min([node.lineno, *[d.lineno for d in node.decorator_list]])
            out[node.name] = "\n".join(lines[first - 1 : node.end_lineno])
    return out


def _plain(text):
    """Lower case, on one line, a name's underlines as spaces."""
    return " ".join(text.lower().replace("_", " ").split())


def lacks(row):
    """What a row lacks, in sentences; none where it is covered."""
    if not row.tests:
        return [f"{row.what}: no test is named"]
    out, said = [], []
    for test in row.tests:
        file, _, name = test.partition("::")
        if not (ROOT / file).is_file() or name not in _tests(file):
            out.append(f"{row.what}: there is no {test}")
            continue
        said.append(_plain(file + " " + _tests(file)[name]))
        text = _plain((ROOT / file).read_text(encoding="utf-8"))
        own = file.startswith("tests/validation/")
        if own and set(row.trust) & set("PD") and _plain(row.cites) not in text:
            out.append(f"{row.what}: {file} does not cite {row.cites}")
    for letter, words in SAYS.items():
        if letter in row.trust and not any(words in text for text in said):
            out.append(f"{row.what}: none of its tests says {words}")
    return out


@pytest.mark.parametrize("row", ROWS, ids=[row.what for row in ROWS])
def test_the_row_is_covered(row):
    assert lacks(row) == []


def test_no_row_dropped_out():
    assert {subject: len(rows) for subject, rows in REGISTER.items()} == THERE


def test_every_row_is_whole_and_said_once():
    assert len({row.what for row in ROWS}) == len(ROWS)
    for row in ROWS:
        assert row.trust and set(row.trust) <= set(LETTERS)
        assert row.what and row.where
        assert row.cites or set(row.trust) <= set("CM"), row.what
        assert len(set(row.tests)) == len(row.tests), row.what


def test_the_count_by_trust():
    """A row of two letters counts under both."""
    covered = {row.what for row in ROWS if not lacks(row)}
    for letter, name in LETTERS.items():
        rows = [row for row in ROWS if letter in row.trust]
        done = [row for row in rows if row.what in covered]
        print(f"{letter} {name}: {len(done)}/{len(rows)}")
        assert len(done) == len(rows) > 0
    print(f"rows: {len(covered)}/{sum(THERE.values())}")
    assert len(covered) == sum(THERE.values())


def test_what_a_row_lacks_is_seen():
    good = BOARDS[0]
    assert good.trust == "P" and lacks(good) == []
    gone = good.tests[0].replace("dressed", "undressed")
    assert "there is no" in lacks(good._replace(tests=(gone,)))[0]
    assert "there is no" in lacks(good._replace(tests=("tests/validation/test_no.py::test_x",)))[0]
    assert "no test is named" in lacks(good._replace(tests=()))[0]
    assert "does not cite" in lacks(good._replace(cites="PS 21"))[0]
    assert "says from memory" in lacks(good._replace(trust="M"))[0]
    assert "says common practice" in lacks(good._replace(trust="PT"))[0]
    memory = next(row for row in MOISTURE if row.trust == "M")
    assert isinstance(memory, Row) and lacks(memory) == []
