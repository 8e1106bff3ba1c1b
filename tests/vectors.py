"""The vectors: requests to calc.bridge with what must be in the answer.

Each file tests/vectors/*.json is a list of objects with exactly these keys:

    name     unique over all files, a few words
    request  the bridge request, {"do": ..., ...}
    expect   a pattern the answer must match, not empty
    source   where the expected values come from: a published source, the
             arithmetic written out, or "frozen: ..." for our own output

A pattern is matched recursively:

    {"key": pattern, ...}          the answer is an object with at least these
    [pattern, ...]                 a list of exactly as many, matched in order
    {"contains": [pattern, ...]}   a list: each pattern matches some element;
                                   a text: each (a text) stands somewhere in it
    {"near": x, "within": d}       a number at most d from x
    anything else                  equal; true is not 1, 1 is 1.0

tests/test_vectors.py runs them on CPython; tests/browser runs each on the
phone's engine and compares the two whole answers as parsed JSON.
"""

import json
from collections import namedtuple
from pathlib import Path

FOLDER = Path(__file__).parent / "vectors"

Vector = namedtuple("Vector", "name request expect source file")

_KEYS = ["expect", "name", "request", "source"]


def load(folder=FOLDER):
    """Every Vector of the folder's *.json files, in order of file and place.

    Raises ValueError naming the file and the entry that breaks the shape.
    """
    vectors = []
    seen = {}
    for path in sorted(folder.glob("*.json")):
        entries = json.loads(path.read_text(encoding="utf-8"))
        if not isinstance(entries, list) or not entries:
            raise ValueError(f"{path.name}: not a list of vectors")
        for i, entry in enumerate(entries):
            where = f"{path.name}[{i}]"
            if not isinstance(entry, dict) or sorted(entry) != _KEYS:
                raise ValueError(f"{where}: needs exactly the keys {_KEYS}")
            name, request = entry["name"], entry["request"]
            if not isinstance(name, str) or not name:
                raise ValueError(f"{where}: name is not a text")
            if name in seen:
                raise ValueError(f"{where}: the name {name!r} is taken by {seen[name]}")
            seen[name] = where
            if not isinstance(request, dict):
                raise ValueError(f"{where}: request is not an object")
            if not isinstance(entry["expect"], dict) or not entry["expect"]:
                raise ValueError(f"{where}: expect is empty, so nothing would be checked")
            if not isinstance(entry["source"], str) or not entry["source"]:
                raise ValueError(f"{where}: source is not a text")
            vectors.append(Vector(name, request, entry["expect"], entry["source"], path.name))
    return vectors


def misses(expect, answer, at="answer"):
    """Where the answer does not match the pattern: a list of lines, empty if it does."""
    if isinstance(expect, dict) and list(expect) == ["contains"]:
        return _misses_contained(expect["contains"], answer, at)
    if isinstance(expect, dict) and sorted(expect) == ["near", "within"]:
        if not _is_number(answer) or abs(answer - expect["near"]) > expect["within"]:
            return [f"{at}: {answer!r} is not within {expect['within']} of {expect['near']}"]
        return []
    if isinstance(expect, dict):
        if not isinstance(answer, dict):
            return [f"{at}: {answer!r} is not an object"]
        out = []
        for key in expect:
            if key in answer:
                out += misses(expect[key], answer[key], f"{at}.{key}")
            else:
                out.append(f"{at}.{key}: missing; there are {sorted(answer)}")
        return out
    if isinstance(expect, list):
        if not isinstance(answer, list):
            return [f"{at}: {answer!r} is not a list"]
        if len(expect) != len(answer):
            return [f"{at}: {len(answer)} elements instead of {len(expect)}: {answer!r}"]
        return [
            line
            for i, (e, a) in enumerate(zip(expect, answer, strict=True))
            for line in misses(e, a, f"{at}[{i}]")
        ]
    return [] if _equal(expect, answer) else [f"{at}: {answer!r} instead of {expect!r}"]


def differences(one, other, at="answer"):
    """Where two parsed JSON values differ: a list of lines, empty if they are the same."""
    if isinstance(one, dict) and isinstance(other, dict) and sorted(one) == sorted(other):
        return [line for k in one for line in differences(one[k], other[k], f"{at}.{k}")]
    if isinstance(one, list) and isinstance(other, list) and len(one) == len(other):
        return [
            line for i in range(len(one)) for line in differences(one[i], other[i], f"{at}[{i}]")
        ]
    if isinstance(one, (dict, list)) or isinstance(other, (dict, list)):
        return [f"{at}: {one!r} and {other!r}"]
    return [] if _equal(one, other) else [f"{at}: {one!r} and {other!r}"]


def _misses_contained(wanted, answer, at):
    if not isinstance(answer, (list, str)):
        return [f"{at}: {answer!r} is neither a list nor a text"]
    if isinstance(answer, str):
        return [f"{at}: {w!r} does not stand in {answer!r}" for w in wanted if w not in answer]
    return [
        f"{at}: nothing matches {w!r} in {answer!r}"
        for w in wanted
        if all(misses(w, element) for element in answer)
    ]


def _is_number(value):
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def _equal(one, other):
    if _is_number(one) and _is_number(other):
        return one == other
    return type(one) is type(other) and one == other
