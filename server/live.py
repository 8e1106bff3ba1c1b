"""The live stream of a job: what one phone writes, the others see at once.

One stream per phone; a new one of the same phone ends the old, or phones that left without a
word would take up a thread each. What is said is small, and may be missed: a phone that finds
itself behind asks for the whole job. What other processes write is looked for every second.
"""

import contextlib
import json
import logging
import queue
import threading
import time
from collections.abc import Callable, Iterator
from typing import Any

from .database import Unavailable

log = logging.getLogger("lapwright.live")
BEAT_SECONDS = 10.0
LOOK_SECONDS = 1.0
# Then a stream ends, and the phone opens another: no thread is lost for longer to one that left.
LONGEST_SECONDS = 600.0
_MOST_WAITING = 200

# id -> (revision of the job, of its plan)
Revisions = Callable[[list[str]], dict[str, tuple[int, int]]]


class Stream:
    """One phone's stream of one job, by its key."""

    def __init__(self, job: str, key: str, phone: str) -> None:
        self.job = job
        self.key = key
        self.phone = phone
        self.over = False
        self.waiting: queue.Queue[str | None] = queue.Queue(_MOST_WAITING)

    def tell(self, event: str, data: dict[str, Any]) -> None:
        """Have the phone told. One that takes nothing any more is ended."""
        try:
            self.waiting.put_nowait(f"event: {event}\ndata: {json.dumps(data)}\n\n")
        except queue.Full:
            self.end()

    def end(self) -> None:
        """End the stream, whatever is still waiting."""
        self.over = True
        with contextlib.suppress(queue.Full):  # then what waits wakes it as well
            self.waiting.put_nowait(None)


class Hub:
    """All streams of this process. Safe from many threads."""

    def __init__(self, revisions: Revisions) -> None:
        self._revisions = revisions
        self._lock = threading.Lock()
        self._streams: dict[str, Stream] = {}  # by phone
        self._known: dict[str, tuple[int, int]] = {}  # what was told last, by job
        self._closed = threading.Event()
        self._looking: threading.Thread | None = None

    def open(self, job: str, key: str, phone: str) -> Stream:
        """A stream for that phone, in place of the one it had."""
        stream = Stream(job, key, phone)
        with self._lock:
            old = self._streams.get(phone)
            self._streams[phone] = stream
            if self._looking is None and not self._closed.is_set():
                self._looking = threading.Thread(target=self._look, daemon=True)
                self._looking.start()
        if old is not None:
            old.end()
        if self._closed.is_set():
            stream.end()
        return stream

    def events(self, stream: Stream) -> Iterator[str]:
        """What the phone is told, until it leaves or the stream is ended."""
        until = time.monotonic() + LONGEST_SECONDS
        try:
            yield "retry: 2000\n\n"
            yield self._hello(stream)
            while (left := until - time.monotonic()) > 0:
                try:
                    said = stream.waiting.get(timeout=min(BEAT_SECONDS, left))
                except queue.Empty:
                    yield f"event: beat\ndata: {json.dumps({'at': _clock()})}\n\n"
                    continue
                if said is None or stream.over:
                    return
                yield said
        finally:
            with self._lock:
                if self._streams.get(stream.phone) is stream:
                    del self._streams[stream.phone]

    def _hello(self, stream: Stream) -> str:
        rev, plan = self._revisions([stream.job]).get(stream.job, (0, 0))
        with self._lock:
            self._known.setdefault(stream.job, (rev, plan))
        data = {"rev": rev, "plan": plan, "at": _clock()}
        return f"event: hello\ndata: {json.dumps(data)}\n\n"

    def wrote(self, job: str, before: int, rev: int, saved: str, writes: list[Any]) -> None:
        """Writes were merged into revision `before`, which made `rev` of it."""
        with self._lock:
            self._known[job] = (rev, self._known.get(job, (0, 0))[1])
        data = {"before": before, "rev": rev, "saved": saved, "writes": writes, "at": _clock()}
        self._tell(job, "job", data)

    def planned(self, job: str, plan: int) -> None:
        """Another plan of the job is in use."""
        with self._lock:
            self._known[job] = (self._known.get(job, (0, 0))[0], plan)
        self._tell(job, "plan", {"plan": plan, "at": _clock()})

    def ended(self, keys: list[str]) -> None:
        """These keys open nothing any more."""
        for stream in self._all():
            if stream.key in keys:
                stream.tell("ended", {})
                stream.end()

    def phones(self) -> int:
        """How many streams are open."""
        return len(self._all())

    def close(self) -> None:
        """End every stream, for good."""
        self._closed.set()
        for stream in self._all():
            stream.end()

    def _all(self) -> list[Stream]:
        with self._lock:
            return list(self._streams.values())

    def _tell(self, job: str, event: str, data: dict[str, Any]) -> None:
        for stream in self._all():
            if stream.job == job:
                stream.tell(event, data)

    def _look(self) -> None:
        """Tell of what another process on the same database wrote."""
        while not self._closed.wait(LOOK_SECONDS):
            jobs = {stream.job for stream in self._all()}
            with self._lock:
                before = {job: self._known.get(job) for job in jobs}
            try:
                now = self._revisions(sorted(jobs)) if jobs else {}
            except Unavailable as e:
                log.error("The live stream can't look into the database: %s", e.detail)
                continue
            for job, found in now.items():
                known = before[job]
                with self._lock:
                    self._known[job] = max(found, self._known.get(job, found))
                if known and found[0] > known[0]:
                    self._tell(job, "job", {"rev": found[0], "at": _clock()})
                if known and found[1] > known[1]:
                    self._tell(job, "plan", {"plan": found[1], "at": _clock()})


def _clock() -> float:
    return round(time.time(), 3)
