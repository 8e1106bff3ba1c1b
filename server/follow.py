"""Follows the laptop from network to network: its certificate, and its name on each."""

import sys
import threading
import time

from .address import is_ipv4, is_loopback
from .announce import Announcer, NotAnnounced
from .https import Https

LOOK_SECONDS = 2.0
AGAIN_SECONDS = 30.0


class Follower:
    """Looks every two seconds; says in the terminal what can't be done, once each."""

    def __init__(self, https: Https, port: int) -> None:
        """port: of https, which is announced with the name."""
        self._https = https
        self._announcer = Announcer(https.name, port)
        self._announced: list[str] = []
        self._again = 0.0
        self._ended = threading.Event()
        self._said: set[str] = set()
        self._thread = threading.Thread(target=self._run, daemon=True)

    def start(self) -> None:
        """Begin, in a thread of its own."""
        self._thread.start()

    def close(self) -> None:
        """End, and take the name off the network."""
        self._ended.set()
        self._thread.join()

    def _run(self) -> None:
        while not self._ended.is_set():
            self.look()
            self._ended.wait(LOOK_SECONDS)
        self._announcer.close()

    def look(self) -> None:
        """Bring certificate and announcement up to date."""
        try:
            self._https.refresh()
        except OSError as e:
            self._say(
                f"The certificate for this laptop's present address could not be written ({e}). "
                "Free some space on the disk; until then phones reach it only where it was before."
            )
        self._announce()

    def _announce(self) -> None:
        now = sorted(a for a in self._https.served() if is_ipv4(a) and not is_loopback(a))
        if now == self._announced or time.monotonic() < self._again:
            return
        try:
            self._announcer.announce(now)
            self._announced = now
        except NotAnnounced as e:
            self._announced = []
            self._again = time.monotonic() + AGAIN_SECONDS
            self._say(
                f"The name {self._https.name} can't be announced on this network ({e}). "
                "Phones reach this laptop by its address alone."
            )

    def _say(self, text: str) -> None:
        if text not in self._said:
            self._said.add(text)
            print(f"lapwright: {text}", file=sys.stderr, flush=True)
