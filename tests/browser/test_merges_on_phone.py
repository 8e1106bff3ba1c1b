"""Crews of phones at one job (tests/shared), run by the phone's own engine in Chromium.

Each program runs whole in the page. What it ends with must be what the history says, and what
CPython answers. `python -m tests.benchmarks.merges --runs 5000 --engine phone` runs as many.
"""

import json

import pytest

from tests import vectors
from tests.browser.conftest import serving
from tests.shared.crews import make
from tests.shared.held import faults
from tests.shared.programs import RUN_JS, run, wanted

RUNS = 400  # what takes 10 to 20 s


@pytest.fixture(scope="module")
def on_phone(chromium, tmp_path_factory):
    """runs -> the phone's answers of each, by register."""
    with serving(tmp_path_factory.mktemp("jobs")) as server:
        page = chromium.new_page()
        page.set_default_timeout(0)
        page.goto(server.address + "/version.json")

        def answers(runs):
            told = page.evaluate(RUN_JS, [[r.program for r in runs], [wanted(r) for r in runs]])
            return [
                dict(zip(wanted(r), json.loads(text), strict=True))
                for r, text in zip(runs, told, strict=True)
            ]

        yield answers
        page.close()


def test_crews_meet_on_the_phone_and_nothing_is_lost(on_phone):
    runs = [make(seed) for seed in range(RUNS)]
    for seed, (one, kept) in enumerate(zip(runs, on_phone(runs), strict=True)):
        assert faults(one, kept) == [], f"seed {seed}"
        here = run(one.program)
        assert vectors.differences([here[r] for r in kept], list(kept.values())) == []
