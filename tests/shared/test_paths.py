"""Paths of a copy are JSON Pointers, with RFC 6901's own examples."""

import pytest

from calc.jobfields import JOB
from calc.shared.paths import field_at, items_over, joined, steps, within

# RFC 6901, section 5: "For example, given the JSON document ..., the following JSON strings
# evaluate to the accompanying values"; here pointer -> the keys on the way to the value.
EXAMPLES = {
    "": [],
    "/foo": ["foo"],
    "/foo/0": ["foo", "0"],
    "/": [""],
    "/a~1b": ["a/b"],
    "/c%d": ["c%d"],
    "/e^f": ["e^f"],
    "/g|h": ["g|h"],
    "/i\\j": ["i\\j"],
    '/k"l': ['k"l'],
    "/ ": [" "],
    "/m~0n": ["m~n"],
}
DOCUMENT = {
    "foo": ["bar", "baz"], "": 0, "a/b": 1, "c%d": 2, "e^f": 3, "g|h": 4, "i\\j": 5, 'k"l': 6,
    " ": 7, "m~n": 8,
}  # fmt: skip
VALUES = [DOCUMENT, ["bar", "baz"], "bar", 0, 1, 2, 3, 4, 5, 6, 7, 8]


@pytest.mark.parametrize(("pointer", "value"), [*zip(EXAMPLES, VALUES, strict=True)])
def test_the_examples_of_rfc_6901(pointer, value):
    at = DOCUMENT
    for step in steps(pointer):
        at = at[int(step)] if isinstance(at, list) else at[step]
    assert at == value
    assert steps(pointer) == EXAMPLES[pointer]
    again = ""
    for step in steps(pointer):
        again = joined(again, step)
    assert again == pointer


def test_escapes_are_undone_in_the_order_of_rfc_6901():
    """Section 4: ~01 becomes ~1, not a slash."""
    assert steps("/~01") == ["~1"] and joined("", "~1") == "/~01"
    assert steps("/~1~0~1") == ["/~/"] and joined("", "/~/") == "/~1~0~1"


def _paths(fields, at):
    """Every path that a job with one item "x" in each list has: (path, kind, items over it)."""
    for f in fields:
        if f.key in ("format", "version", "id"):
            continue
        path = f"{at[0]}/{f.key}"
        if f.kind == "objects":
            yield f"{path}/x", "item", at[1]
            yield from _paths(f.fields, (f"{path}/x", [*at[1], f"{path}/x"]))
        elif f.kind == "object":
            yield from _paths(f.fields, (path, at[1]))
        else:
            yield path, f.kind, at[1]


def test_every_field_of_a_job_has_a_path():
    found = list(_paths(JOB, ("", [])))
    assert len(found) > 60
    for path, kind, items in found:
        field, item = field_at(path)
        assert (field.kind, item) == (("objects", True) if kind == "item" else (kind, False))
        assert items_over(path) == items
        assert all(within(path, i) for i in items)


@pytest.mark.parametrize(
    "path",
    [
        "", "/", "title", "/titles", "/title/", "/title/x", "/board", "/board/stock", "/rules/",
        "/walls", "/walls/", "/walls//name", "/walls/1/id", "/walls/1/studs", "/walls/1/openings",
        "/walls/1/studs/found/", "/walls/1/studs/found/0", "/format", "/version", "/id",
        "/walls/" + 41 * "x",
    ],
)  # fmt: skip
def test_a_copy_holds_nothing_elsewhere(path):
    assert field_at(path) == (None, False)


def test_within_is_below_and_not_beside():
    assert within("/walls/1/name", "/walls/1")
    assert not within("/walls/1", "/walls/1")
    assert not within("/walls/10/name", "/walls/1")
