"""This laptop's own addresses on its networks, found without sending anything."""

import ipaddress
import socket

import ifaddr

# Documentation addresses (RFC 5737). connect() on a datagram socket only asks
# the routing table which address of ours would be used; no packet leaves.
_ROUTED_BY = ("192.0.2.1", "198.51.100.1")
# Networks of virtual machines and containers, which no phone can reach.
_VIRTUAL = ("docker", "br-", "veth", "virbr", "lxc", "vmnet")


def addresses() -> list[str]:
    """IPv4 addresses that phones may reach, the likeliest first; empty where there is no network.

    First the one that the routing table prefers, then private ones (RFC 1918),
    then others; loopback is left out. Errors: none.
    """
    found = [a for a in map(_source_towards, _ROUTED_BY) if a]
    found += sorted(_of_interfaces(), key=lambda a: (not ipaddress.ip_address(a).is_private, a))
    usable = [a for a in found if not ipaddress.ip_address(a).is_loopback and a != "0.0.0.0"]
    return list(dict.fromkeys(usable))


def reachable(host: str, address: str | None) -> list[str]:
    """The addresses to put in links, best first, never empty.

    host: what the server listens on; address: the one the person chose, or None.
    127.0.0.1 stands where only this laptop can open the page.
    """
    if address:
        return [address]
    if host != "0.0.0.0":
        return [host]
    return addresses() or ["127.0.0.1"]


def served(host: str, address: str | None) -> list[str]:
    """Every address of this laptop at which it is served, the likeliest first.

    host, address: as in reachable().
    """
    own = addresses() if host == "0.0.0.0" else [host]
    return list(dict.fromkeys([address, *own] if address else own))


def is_ipv4(address: str) -> bool:
    """Whether it is an IPv4 address, not a name."""
    try:
        ipaddress.IPv4Address(address)
    except ValueError:
        return False
    return True


def is_own(address: str) -> bool:
    """Whether the IPv4 address is one of this laptop's own at this moment."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as s:
        try:
            s.bind((address, 0))
        except OSError:
            return False
        return True


def is_loopback(address: str) -> bool:
    """Whether only this laptop can open the address (a name other than localhost can't be told)."""
    try:
        return ipaddress.ip_address(address).is_loopback
    except ValueError:
        return address == "localhost"


def _source_towards(target: str) -> str | None:
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as s:
        try:
            s.connect((target, 9))
        except OSError:
            return None  # no route there: this laptop has no way out
        return str(s.getsockname()[0])


def _of_interfaces() -> list[str]:
    """IPv4 addresses of every interface, several of one included."""
    return [
        str(ip.ip)
        for adapter in ifaddr.get_adapters()
        if not adapter.nice_name.startswith(_VIRTUAL)
        for ip in adapter.ips
        if ip.is_IPv4
    ]
