"""Crews of phones at one job (tests/shared), run by the phone's own engine in Chromium.

Each program runs whole in the page. What it ends with must be what the history says, and what
CPython answers. `python -m tests.benchmarks.merges --runs 5000 --engine phone` runs as many.
"""

import json

import pytest
from hypothesis import HealthCheck, Phase, given, settings

from calc.bridge import call
from tests import vectors
from tests.browser.conftest import serving
from tests.shared.crews import make
from tests.shared.held import faults
from tests.shared.programs import RUN_JS, run, wanted
from tests.shared.test_bad_copies import spoilt

RUNS = 400  # what takes 10 to 20 s
SPOILT = 400
# What JSON has no words for, or JavaScript no number.
UNSENT = ("NaN", "\\ud800", str(10**30))

ASK = """async (requests) => {
  const answers = await Promise.all(requests.map((r, i) => window.engines[i % 2].call(r)));
  return answers.map((a) => JSON.stringify(a));
}"""


@pytest.fixture(scope="module")
def phone_page(chromium, tmp_path_factory):
    """runs -> the phone's answers of each, by register."""
    with serving(tmp_path_factory.mktemp("jobs")) as server:
        page = chromium.new_page()
        page.set_default_timeout(0)
        page.goto(server.address + "/version.json")
        page.evaluate(RUN_JS, [[], []])  # its engines
        yield page
        page.close()


def on_phone(page, runs):
    """The phone's answers of each run, by register."""
    told = page.evaluate(RUN_JS, [[r.program for r in runs], [wanted(r) for r in runs]])
    return [
        dict(zip(wanted(r), json.loads(text), strict=True))
        for r, text in zip(runs, told, strict=True)
    ]


def test_crews_meet_on_the_phone_and_nothing_is_lost(phone_page):
    runs = [make(seed) for seed in range(RUNS)]
    for seed, (one, kept) in enumerate(zip(runs, on_phone(phone_page, runs), strict=True)):
        assert faults(one, kept) == [], f"seed {seed}"
        here = run(one.program)
        assert vectors.differences([here[r] for r in kept], list(kept.values())) == []


def test_the_phone_refuses_what_the_laptop_refuses(phone_page):
    """Requests spoilt in a place or two: no fault of the program, and the same words."""
    requests = []

    @settings(
        max_examples=SPOILT, deadline=None, derandomize=True, phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(spoilt())
    def gather(request):
        if not any(word in json.dumps(request) for word in UNSENT):
            requests.append(request)

    gather()
    assert len(requests) > SPOILT // 2
    refused = 0
    for request, text in zip(requests, phone_page.evaluate(ASK, requests), strict=True):
        here = json.loads(call(json.dumps(request)))
        assert vectors.differences(here, json.loads(text)) == [], request
        refused += not here["ok"]
    assert SPOILT // 8 < refused < len(requests)
