"""This laptop's own addresses on its networks, found without sending anything."""

import ipaddress
import socket
import struct
import sys

# Documentation addresses (RFC 5737). connect() on a datagram socket only asks
# the routing table which address of ours would be used; no packet leaves.
_ROUTED_BY = ("192.0.2.1", "198.51.100.1")
_SIOCGIFADDR = 0x8915  # Linux: linux/sockios.h
# Networks of virtual machines and containers, which no phone can reach.
_VIRTUAL = ("docker", "br-", "veth", "virbr", "lxc", "vmnet")


def addresses() -> list[str]:
    """IPv4 addresses that phones may reach, the likeliest first; empty where there is no network.

    First the one that the routing table prefers, then private ones (RFC 1918),
    then others; loopback is left out. Errors: none.
    """
    found = [a for a in map(_source_towards, _ROUTED_BY) if a]
    others = _of_interfaces() if sys.platform == "linux" else _of_host_name()
    found += sorted(others, key=lambda a: (not ipaddress.ip_address(a).is_private, a))
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
    import fcntl

    out = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as s:
        for _, name in socket.if_nameindex():
            if name.startswith(_VIRTUAL):
                continue
            try:
                answer = fcntl.ioctl(s.fileno(), _SIOCGIFADDR, struct.pack("256s", name.encode()))
            except OSError:
                continue  # an interface without an IPv4 address
            out.append(socket.inet_ntoa(answer[20:24]))
    return out


def _of_host_name() -> list[str]:
    """On Windows and macOS the system answers its own name by itself."""
    try:
        return socket.gethostbyname_ex(socket.gethostname())[2]
    except OSError:
        return []  # the name is not known, which is no fault: the routed address stands
