"""A phone's end of the live stream, over a plain connection to the real server."""

import contextlib
import http.client
import json
import socket
import threading
import time

PATIENCE = 20.0  # on a busy machine; nothing here waits for time to pass


class Listener:
    """Reads a job's stream in a thread. events: (name, data) in the order they came."""

    def __init__(self, laptop, key, phone):
        self.events = []
        self.over = False  # the laptop has ended it
        self._more = threading.Condition()
        self.connection = http.client.HTTPConnection("127.0.0.1", laptop.port, timeout=300)
        self.connection.request("GET", f"/api/jobs/{key}/live?phone={phone}")
        self.answer = self.connection.getresponse()
        assert self.answer.status == 200, self.answer.read()
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()

    def _read(self):
        name = ""
        try:
            for line in self.answer:
                field, _, value = line.decode().rstrip("\n").partition(": ")
                if field == "event":
                    name = value
                elif field == "data":
                    with self._more:
                        self.events.append((name, json.loads(value)))
                        self._more.notify_all()
        except (OSError, http.client.HTTPException, AttributeError, ValueError):
            pass  # left, or cut off
        with self._more:
            self.over = True
            self._more.notify_all()

    def wait(self, name, count=1, patience=PATIENCE):
        """The data of the first `count` events of that name, once they are there."""
        with self._more:
            done = self._more.wait_for(lambda: self.over or len(self.of(name)) >= count, patience)
            found = self.of(name)
        assert done and len(found) >= count, f"{self.events} {self.over}"
        return found[:count]

    def of(self, name):
        return [data for n, data in self.events if n == name]

    def wait_end(self, patience=PATIENCE):
        with self._more:
            assert self._more.wait_for(lambda: self.over, patience), self.events

    def leave(self):
        """Go away, in mid-stream unless the laptop has ended it."""
        if self.connection.sock is not None:
            with contextlib.suppress(OSError):  # the laptop was sooner
                self.connection.sock.shutdown(socket.SHUT_RDWR)
        self._reader.join()
        self.answer.close()
        self.connection.close()


def until(true, patience=PATIENCE):
    """Wait until true() is; what it is then."""
    end = time.monotonic() + patience
    while not (found := true()):
        assert time.monotonic() < end, "waited in vain"
        time.sleep(0.02)
    return found
