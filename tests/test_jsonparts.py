"""Answers are written in parts; put together they are the JSON of the whole."""

import json

from hypothesis import given, settings
from hypothesis import strategies as st

from calc.jsonparts import text

JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(),
    lambda inner: st.lists(inner, max_size=30) | st.dictionaries(st.text(), inner, max_size=30),
    max_leaves=60,
)


@settings(deadline=None, derandomize=True)
@given(JSON, st.integers(0, 5))
def test_the_parts_are_the_whole(value, depth):
    assert text(value, depth) == json.dumps(value)


def test_large_ones_too():
    many = {f"/walls/{i}": [["a", i, 'é"'], ["b", i]] for i in range(100)}
    for value in (many, {"copy": {"fields": many}}, [many, [], {}], {"list": list(range(1000))}):
        assert text(value) == json.dumps(value)
