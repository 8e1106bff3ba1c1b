"""The real server in the laptop's namespace, and a stranger's server with a stolen key."""

import os
import queue
import re
import signal
import subprocess
import sys
import threading
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
STARTS_WITHIN = 30  # seconds; a cold machine with two busy cores


class Served:
    """`lapwright` on the usual ports of the laptop's addresses; name, fingerprint, kill, hang."""

    def __init__(self, lan, data, web=ROOT / "web"):
        command = [*lan.laptop, sys.executable, "-u", "-m", "tests.lan.laptop", str(web)]
        self._lan = lan
        self.process = subprocess.Popen(
            [*command, "--data", str(data)],
            cwd=ROOT,
            env={**os.environ, "PYTHONIOENCODING": "utf-8"},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
        )
        self._lines = queue.Queue()
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()
        self.said = ""
        try:
            self.hear("Ctrl-C stops.")
        except BaseException:
            self.kill()
            raise
        self.name, port = re.search(r"Secure: https://(\S+):(\d+)/p", self.said).groups()
        assert port == "8129"
        self.fingerprint = re.search(r"Trust: +([0-9A-F:]{95})\n", self.said)[1]

    def hear(self, text):
        """Wait until it has said that in the terminal."""
        until = time.monotonic() + STARTS_WITHIN
        while text not in self.said:
            try:
                line = self._lines.get(timeout=max(until - time.monotonic(), 0.01))
            except queue.Empty:
                raise AssertionError(f"not said in {STARTS_WITHIN} s: {self.said}") from None
            assert line is not None, f"it ended: {self.said}"
            self.said += line

    def _read(self):
        for line in self.process.stdout:
            self._lines.put(line)
        self._lines.put(None)

    @property
    def page(self):
        """The page's lasting address."""
        return f"https://{self.name}:8129/p"

    def names(self, address="127.0.0.1"):
        """The names in the certificate that a new connection gets, as openssl tells them."""
        fetched = self._run("openssl", "s_client", "-connect", f"{address}:8129")
        cert = self._run("openssl", "x509", "-noout", "-ext", "subjectAltName", given=fetched)
        return set(re.findall(r"(?:DNS|IP Address):([^,\s]+)", cert))

    def _run(self, *command, given=""):
        done = subprocess.run(
            [*self._lan.laptop, *command], input=given, capture_output=True, text=True, timeout=20
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    def kill(self):
        """End it at once, as a pulled plug would."""
        self.process.kill()
        self.process.wait()
        self._reader.join()
        self.process.stdout.close()

    def hang(self):
        """Stop it in mid-air: it holds its connections and answers nothing."""
        self.process.send_signal(signal.SIGSTOP)

    def end(self):
        """As Ctrl-C does; seconds until it was gone."""
        began = time.monotonic()
        self.process.send_signal(signal.SIGINT)
        self.process.wait(timeout=20)
        return time.monotonic() - began


class Stranger:
    """Somebody's https server, in the laptop's namespace too, with the certificate given."""

    def __init__(self, lan, folder, port, key, cert):
        (folder / f"{port}.key").write_bytes(key)
        (folder / f"{port}.crt").write_bytes(cert)
        command = ["openssl", "s_server", "-accept", str(port), "-www", "-quiet"]
        command += ["-key", folder / f"{port}.key", "-cert", folder / f"{port}.crt"]
        self.process = subprocess.Popen(
            [*lan.laptop, *command], stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL
        )

    def kill(self):
        self.process.kill()
        self.process.wait()
