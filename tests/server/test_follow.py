"""Certificate and name follow the laptop; what can't be done is said once, and tried again."""

import errno

import pytest

from server import follow
from server.announce import Announcer, NotAnnounced
from server.follow import Follower
from server.https import Https


class Network:
    """Takes announcements, or refuses them; at: what was announced, in turn."""

    def __init__(self):
        self.at = []
        self.refuses = ""
        self.closed = 0

    def announce(self, addresses):
        if self.refuses:
            raise NotAnnounced(self.refuses)
        self.at.append(addresses)

    def close(self):
        self.closed += 1


@pytest.fixture
def addresses():
    return ["127.0.0.1"]


@pytest.fixture
def network(monkeypatch):
    one = Network()
    monkeypatch.setattr(follow, "Announcer", lambda name, port: one)
    return one


@pytest.fixture
def follower(tmp_path, addresses, network):
    return Follower(Https(tmp_path / "trust", lambda: list(addresses)), 8129)


def test_it_announces_what_others_can_reach_and_only_when_it_changes(follower, addresses, network):
    follower.look()
    assert network.at == []
    addresses[:] = ["192.168.7.20", "127.0.0.1", "laptop.example"]
    follower.look()
    follower.look()
    assert network.at == [["192.168.7.20"]]
    addresses[:] = ["10.0.0.5", "192.168.7.20"]
    follower.look()
    addresses.clear()
    follower.look()
    assert network.at == [["192.168.7.20"], ["10.0.0.5", "192.168.7.20"], []]


def test_a_network_that_takes_no_name_is_told_once_and_tried_again(
    follower, addresses, network, capsys, monkeypatch
):
    addresses[:] = ["192.168.7.20"]
    network.refuses = "no multicast here"
    monkeypatch.setattr(follow, "AGAIN_SECONDS", 0.0)
    for _ in range(3):
        follower.look()
    said = capsys.readouterr().err
    assert said.count("can't be announced on this network (no multicast here)") == 1
    assert "Phones reach this laptop by its address alone." in said
    network.refuses = ""
    follower.look()
    assert network.at == [["192.168.7.20"]]


def test_it_is_not_tried_all_the_time(follower, addresses, network):
    addresses[:] = ["192.168.7.20"]
    network.refuses = "no multicast here"
    follower.look()
    network.refuses = ""
    follower.look()
    assert network.at == []


def test_a_full_disk_is_told_and_the_name_announced_all_the_same(
    tmp_path, follower, addresses, network, capsys, monkeypatch
):
    def full(*_args, **_more):
        raise OSError(errno.ENOSPC, "No space left on device")

    addresses[:] = ["192.168.7.20"]
    before = follower._https.context
    monkeypatch.setattr("server.https.tempfile.mkstemp", full)
    follower.look()
    follower.look()
    said = capsys.readouterr().err
    assert said.count("could not be written") == 1
    assert "No space left on device" in said
    assert follower._https.context is before
    assert network.at == [["192.168.7.20"]]
    monkeypatch.undo()
    follower.look()
    assert follower._https.context is not before


def test_it_ends_and_takes_the_name_away(follower, network):
    follower.start()
    follower.close()
    assert network.closed == 1


def test_an_address_of_another_machine_alone_is_not_announced():
    """As where --address names that of a router which passes requests on."""
    with pytest.raises(NotAnnounced, match=r"203\.0\.113\.7 is no address of this laptop"):
        Announcer("lapwright-aaaaaa.local", 8129).announce(["203.0.113.7"])
