"""Every vector on the phone's own engine: engine.js and worker.js in Chromium.

All requests go to the workers at once; each answer must match its vector's
expectation and be, as parsed JSON, the answer that CPython gives. Two workers,
since the sweep of lengths is long and machines have two cores.
"""

import json

import pytest

from calc.bridge import call
from tests import sweep, vectors
from tests.browser.conftest import serving

ALL = vectors.load()

ASK = """async (requests) => {
  if (!window.engines) {
    const { createEngine } = await import('/engine.js');
    window.engines = [createEngine(), createEngine()];
  }
  const answers = await Promise.all(requests.map((r, i) => window.engines[i % 2].call(r)));
  return answers.map((a) => JSON.stringify(a));
}"""


@pytest.fixture(scope="module")
def ask(chromium, tmp_path_factory):
    """requests -> the phone's answers, from two workers."""
    with serving(tmp_path_factory.mktemp("jobs")) as server:
        page = chromium.new_page()
        page.goto(server.address + "/version.json")
        yield lambda requests: [json.loads(a) for a in page.evaluate(ASK, requests)]
        page.close()


@pytest.fixture(scope="module")
def on_phone(ask):
    """name -> the phone's answer, for every vector."""
    answers = ask([v.request for v in ALL])
    return {v.name: a for v, a in zip(ALL, answers, strict=True)}


@pytest.mark.parametrize("vector", ALL, ids=[v.name for v in ALL])
def test_vector_on_phone(on_phone, vector):
    answer = on_phone[vector.name]
    assert vectors.misses(vector.expect, answer) == [], vector.source
    assert vectors.differences(_on_laptop(vector.request), answer) == []


@pytest.fixture(scope="module")
def ask_both(ask):
    """requests -> the answers, after both engines gave the same."""

    def both(requests):
        answers = ask(requests)
        for request, answer in zip(requests, answers, strict=True):
            assert vectors.differences(_on_laptop(request), answer) == []
        return answers

    return both


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_every_length_on_phone(ask_both, unit):
    """There and back on both engines: each 1/32 in to 240 in, each 0.5 mm to 6 m."""
    assert sweep.round_trip(ask_both, unit, sweep.typed()[unit]) == []


def test_a_hundred_switches_on_phone(ask_both):
    """No drift: lengths switched 100 times, one switch after another."""
    assert sweep.hundred_switches(ask_both) == []


def _on_laptop(request):
    return json.loads(call(json.dumps(request)))
