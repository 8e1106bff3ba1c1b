"""Two network namespaces with a cable between them: one is the laptop's, one the phone's."""

import os
import shutil
import subprocess
from pathlib import Path

LAPTOP = "10.77.0.1"
MOVED = "10.77.0.9"
PHONES = ("10.77.0.2", "10.77.0.3")
_ETC = Path("/etc/netns")


def why_not():
    """What this machine lacks for it, or ""."""
    if os.name != "posix" or not shutil.which("ip"):
        return "network namespaces need Linux and its program ip (Debian: iproute2)"
    probe = f"lw-probe-{os.getpid()}"
    done = _ip("netns", "add", probe, check=False)
    if done.returncode:
        return f"network namespaces can't be made here: {done.stderr.strip()}"
    _ip("netns", "delete", probe)
    if not shutil.which("certutil"):
        return "the browser's store of certificates needs certutil (Debian: libnss3-tools)"
    return ""


class Lan:
    """The two namespaces. `laptop` and `phone` are what to put before a command run there."""

    def __init__(self):
        self._names = [f"lw-laptop-{os.getpid()}", f"lw-phone-{os.getpid()}"]
        self.laptop, self.phone = (["ip", "netns", "exec", name] for name in self._names)
        self.hosts = _ETC / self._names[1] / "hosts"
        try:
            self._make()
        except BaseException:
            self.close()
            raise

    def _make(self):
        # Only what is in this file when a program is started stands over the machine's own; but
        # it may be written later. It is what the phone's system has learnt of names.
        self.hosts.parent.mkdir(parents=True)
        self.know({})
        for name in self._names:
            _ip("netns", "add", name)
            _ip("-n", name, "link", "set", "lo", "up")
        one, two = self._names
        _ip("link", "add", "wlan0", "netns", one, "type", "veth", "peer", "wlan0", "netns", two)
        for name in self._names:
            _ip("-n", name, "link", "set", "wlan0", "up")
        self.join()

    def join(self, laptop=LAPTOP, phone=PHONES[0]):
        """Both have these addresses from now on, and no others, as on another network."""
        self.phone_address = phone
        for name, address in zip(self._names, (laptop, phone), strict=True):
            _ip("-n", name, "address", "flush", "dev", "wlan0")
            _ip("-n", name, "address", "add", f"{address}/24", "dev", "wlan0")

    def also(self, address):
        """The laptop's side has that address too, and the phone finds the way there."""
        _ip("-n", self._names[0], "address", "add", f"{address}/32", "dev", "wlan0")
        _ip("-n", self._names[1], "route", "replace", f"{address}/32", "dev", "wlan0")

    def know(self, names):
        """Have the phone's system resolve these names, and no others. names: {name: address}"""
        self.hosts.write_text("".join(f"{a} {n}\n" for n, a in names.items()) or "\n")

    def close(self):
        for name in self._names:
            _ip("netns", "delete", name, check=False)
        shutil.rmtree(self.hosts.parent, ignore_errors=True)
        if _ETC.is_dir() and not any(_ETC.iterdir()):
            _ETC.rmdir()


def _ip(*arguments, check=True):
    return subprocess.run(
        ["ip", *arguments], check=check, capture_output=True, text=True, timeout=20
    )
