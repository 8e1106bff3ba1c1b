"""The network, the laptop and the phone; each test begins with new ones."""

import pytest

from . import net
from .phone import FORBIDDEN, Phone
from .served import Served


@pytest.fixture(scope="session")
def cable():
    lacks = net.why_not()
    if lacks:
        pytest.skip(f"not run: {lacks}")
    made = net.Lan()
    yield made
    made.close()


@pytest.fixture
def lan(cable):
    cable.join()
    cable.know({})
    return cable


@pytest.fixture
def serve(lan, tmp_path):
    """Starts the laptop's server, again and again on one data folder."""
    started = []

    def start(**options):
        one = Served(lan, tmp_path / "data", **options)
        started.append(one)
        return one

    yield start
    for one in started:
        one.kill()


@pytest.fixture
def phone(lan, playwright_driver, tmp_path):
    one = Phone(lan, tmp_path, playwright_driver)
    yield one
    one.close()
    assert one.broken == []


@pytest.fixture
def trusted(serve, phone):
    """A laptop, and a phone that trusts it and knows its name: (laptop, page at its name)."""
    laptop = serve()
    phone.trust(phone.fetch(f"http://{net.LAPTOP}:8128/ca.crt"))
    assert phone.learn(laptop.name) == net.LAPTOP
    page = phone.open()
    used = [flag.partition("=")[0] for flag in phone.flags()]
    assert not set(FORBIDDEN) & set(used), used
    page.goto(laptop.page)
    return laptop, page
