"""What all tests share: the browser's driver, and what hypothesis draws.

What hypothesis draws is the same in every run and every clone.

With derandomize it still looks into the modules it finds for constants to draw, so that
a change anywhere would change every draw; here it looks nowhere.
"""

import pytest
from hypothesis.internal.conjecture import providers
from playwright.sync_api import sync_playwright

providers._get_local_constants = lambda: providers._local_constants


@pytest.fixture(scope="session")
def playwright_driver():
    """One for the whole run: a second beside it is not possible."""
    with sync_playwright() as driver:
        yield driver
