"""What the phone's system does to find a .local name: ask the network over multicast DNS.

`python -m tests.lan.resolve NAME SECONDS MINE`, in the phone's namespace, prints its addresses.
MINE: the phone's own address.
"""

import sys

from zeroconf import AddressResolverIPv4, Zeroconf


def main(name, seconds, mine):
    """Ask, and wait that long for the first answer."""
    asked = Zeroconf(interfaces=[mine])
    try:
        found = AddressResolverIPv4(f"{name}.")
        found.request(asked, timeout=float(seconds) * 1000)
        print(*found.parsed_addresses())
    finally:
        asked.close()


if __name__ == "__main__":
    main(*sys.argv[1:])
