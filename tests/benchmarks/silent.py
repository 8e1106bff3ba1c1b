"""What silent connections cost the others over https: `python -m tests.benchmarks.silent`.

Each of the two is measured in turn in the same run: new TLS connections with one request
each, with nobody else there, and with connections that say nothing or half a hello.
"""

import contextlib
import socket
import statistics
import tempfile
import time

from tests.server.conftest import Laptop
from tests.server.test_https import HALF_A_HELLO, LOCAL, ask, secure, trusting

ROUNDS = 4
ASKED = 50
SILENT = 200


def main():
    """Print the times without and with them, and the ratio."""
    with tempfile.TemporaryDirectory() as data:
        one = Laptop(data)
        try:
            context = trusting(one)
            ask(one, context)
            times = {"alone": [], "silent": []}
            for _ in range(ROUNDS):
                times["alone"] += _times(one, context)
                with contextlib.ExitStack() as open_ones:
                    for n in range(SILENT):
                        s = socket.create_connection((LOCAL, secure(one)[1]))
                        open_ones.enter_context(s)
                        s.sendall(HALF_A_HELLO if n % 2 else b"")
                    times["silent"] += _times(one, context)
        finally:
            one.kill()
    for name, ms in times.items():
        p95 = statistics.quantiles(ms, n=20)[-1]
        print(f"{name:7} p50 {statistics.median(ms):6.1f} ms  p95 {p95:6.1f}  max {max(ms):6.1f}")
    ratio = statistics.median(times["silent"]) / statistics.median(times["alone"])
    print(f"with {SILENT} silent connections a request takes {ratio:.2f} times as long")


def _times(one, context):
    out = []
    for _ in range(ASKED):
        began = time.perf_counter()
        assert ask(one, context) == 200
        out.append((time.perf_counter() - began) * 1000)
    return out


if __name__ == "__main__":
    main()
