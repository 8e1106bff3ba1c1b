"""Every vector on CPython, and checks that the matcher itself can fail."""

import json

import pytest

from calc.bridge import call
from tests import vectors

ALL = vectors.load()


@pytest.mark.parametrize("vector", ALL, ids=[v.name for v in ALL])
def test_vector(vector):
    answer = json.loads(call(json.dumps(vector.request)))
    assert vectors.misses(vector.expect, answer) == [], vector.source


@pytest.mark.parametrize(
    ("expect", "answer"),
    [
        ({"a": 1}, {"a": 1, "b": 2}),
        ({"a": [1, {"b": "x"}]}, {"a": [1, {"b": "x", "c": 0}]}),
        ({"contains": [["n", 2]]}, [["m", 1], ["n", 2]]),
        ({"contains": ["heavy"]}, "75 heavy (+)"),
        ({"near": 90.124, "within": 0.001}, 90.1235),
        ({"a": 1}, {"a": 1.0}),
        ({"a": None}, {"a": None}),
    ],
)
def test_a_match(expect, answer):
    assert vectors.misses(expect, answer) == []


@pytest.mark.parametrize(
    ("expect", "answer"),
    [
        ({"a": 1}, {"b": 1}),
        ({"a": 1}, {"a": True}),
        ({"a": 1}, {"a": "1"}),
        ({"a": None}, {"a": 0}),
        ({"a": []}, {"a": [1]}),
        ({"a": [1, 2]}, {"a": [2, 1]}),
        ({"a": {"b": 1}}, {"a": [1]}),
        ({"contains": [["n", 2]]}, [["n", 3]]),
        ({"contains": ["heavy"]}, "75 light"),
        ({"contains": [1]}, 1),
        ({"near": 90.124, "within": 0.001}, 90.13),
        ({"near": 1, "within": 1}, True),
    ],
)
def test_a_miss(expect, answer):
    assert vectors.misses(expect, answer) != []


@pytest.mark.parametrize(
    ("one", "other"),
    [({"a": 1}, {"a": 1, "b": 2}), ([1], [1, 2]), ([1], {"a": 1}), (True, 1), ("1", 1), ([], 0)],
)
def test_a_difference(one, other):
    assert vectors.differences(one, other) != []
    assert vectors.differences(one, one) == []


GOOD = {"name": "n", "request": {"do": "read"}, "expect": {"ok": True}, "source": "s"}


@pytest.mark.parametrize(
    ("entries", "says"),
    [
        ([], "not a list of vectors"),
        ([{**GOOD, "note": ""}], "exactly the keys"),
        ([{**GOOD, "expect": {}}], "expect is empty"),
        ([{**GOOD, "source": ""}], "source is not a text"),
        ([{**GOOD, "request": []}], "request is not an object"),
        ([{**GOOD, "name": ""}], "name is not a text"),
        ([GOOD, GOOD], "is taken by v.json"),
    ],
)
def test_a_bad_file_is_refused(tmp_path, entries, says):
    (tmp_path / "v.json").write_text(json.dumps(entries), encoding="utf-8")
    with pytest.raises(ValueError, match=says):
        vectors.load(tmp_path)
