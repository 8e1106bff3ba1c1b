"""The live stream of a job: what one phone writes, the others see at once.

One stream per phone; a new one of the same phone ends the old, or phones that left without a
word would take up a thread each. What is said is small, and may be missed: a phone that finds
itself behind asks for the whole job. What other processes write is looked for now and then.
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
# Each takes a thread; more would leave none for the requests (serve.THREADS).
MOST_STREAMS = 60
BEAT_SECONDS = 10.0
LOOK_SECONDS = 0.5
# Then a stream ends, and the phone opens another: no thread is lost for longer to one that left.
LONGEST_SECONDS = 600.0
_MOST_WAITING = 200
# Bytes; of more than that a phone is told that they are there, and asks for the job.
_LARGEST_EVENT = 50_000

# id -> (revision of the job, of its plan)
Revisions = Callable[[list[str]], dict[str, tuple[int, int]]]


class Full(Exception):
    """MOST_STREAMS phones listen already."""


class Stream:
    """One phone's stream of one job, by its key."""

    def __init__(self, job: str, key: str, phone: str, gone: Callable[[], bool]) -> None:
        self.job = job
        self.key = key
        self.phone = phone
        self.gone = gone
        self.over = False
        self.hello = ""
        self.rev = 0  # of the job, that the phone was told of
        self.plan = 0  # the same of the plan in use
        self.waiting: queue.Queue[str | None] = queue.Queue(_MOST_WAITING)

    def tell(self, said: str) -> None:
        """Have the phone told. One that takes nothing any more is ended."""
        try:
            self.waiting.put_nowait(said)
        except queue.Full:
            self.end()

    def last(self, said: str) -> None:
        """Have the phone told, and end the stream after it."""
        self.tell(said)
        with contextlib.suppress(queue.Full):  # then it is ended already
            self.waiting.put_nowait(None)

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
        self._closed = threading.Event()
        self._looking: threading.Thread | None = None

    def open(self, job: str, key: str, phone: str, gone: Callable[[], bool]) -> Stream:
        """A stream for that phone, in place of the one it had; whoever opens it has it left.

        gone: whether the phone has closed its end. Raises Full and Unavailable.
        """
        stream = Stream(job, key, phone, gone)
        with self._lock:
            old = self._streams.get(phone)
            if old is None and len(self._streams) >= MOST_STREAMS:
                raise Full
            self._streams[phone] = stream
            if self._looking is None and not self._closed.is_set():
                self._looking = threading.Thread(target=self._look, daemon=True)
                self._looking.start()
        if old is not None:
            old.end()
        if self._closed.is_set():
            stream.end()
        try:
            # After it is among the streams, so that nothing in between is missed.
            rev, plan = self._revisions([job]).get(job, (0, 0))
        except Unavailable:
            self.leave(stream)
            raise
        with self._lock:
            stream.rev, stream.plan = max(rev, stream.rev), max(plan, stream.plan)
        stream.hello = _event("hello", {"rev": rev, "plan": plan})
        return stream

    def leave(self, stream: Stream) -> None:
        """Nobody listens to the stream any more."""
        stream.over = True
        with self._lock:
            if self._streams.get(stream.phone) is stream:
                del self._streams[stream.phone]

    def events(self, stream: Stream) -> Iterator[str]:
        """What the phone is told, until it leaves or the stream is ended."""
        now = time.monotonic()
        until, beat = now + LONGEST_SECONDS, now + BEAT_SECONDS
        try:
            yield "retry: 2000\n\n" + stream.hello
            while not stream.over and not stream.gone() and now < until:
                said: str | None = ""
                with contextlib.suppress(queue.Empty):
                    said = stream.waiting.get(timeout=max(min(beat - now, LOOK_SECONDS), 0))
                now = time.monotonic()
                if said is None or stream.over:
                    return
                if not said and now >= beat:
                    said = _event("beat", {})
                if said:
                    yield said
                    beat = now + BEAT_SECONDS
        finally:
            self.leave(stream)

    def wrote(self, job: str, before: int, rev: int, saved: str, writes: list[Any]) -> None:
        """Writes were merged into revision `before`, which made `rev` of it."""
        data = {"before": before, "rev": rev, "saved": saved, "writes": writes}
        said = _event("job", data)
        if len(said) > _LARGEST_EVENT:
            said = _event("job", {"rev": rev})
        self._tell(job, said, rev=rev)

    def planned(self, job: str, plan: int) -> None:
        """Another plan of the job is in use."""
        self._tell(job, _event("plan", {"plan": plan}), plan=plan)

    def ended(self, keys: list[str]) -> None:
        """These keys open nothing any more."""
        for stream in self._all():
            if stream.key in keys:
                stream.last(_event("ended", {}))

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

    def _tell(self, job: str, said: str, rev: int = 0, plan: int = 0) -> None:
        """Tell the job's phones, but those that were told of that revision already."""
        with self._lock:
            for stream in self._streams.values():
                if stream.job == job and (rev > stream.rev or plan > stream.plan):
                    stream.rev, stream.plan = max(rev, stream.rev), max(plan, stream.plan)
                    stream.tell(said)

    def _look(self) -> None:
        """Tell of what another process on the same database wrote.

        What is found is told one look later: what this process writes is told by then.
        """
        found: dict[str, tuple[int, int]] = {}
        reached = True
        while not self._closed.wait(LOOK_SECONDS):
            for job, (rev, plan) in found.items():
                self._tell(job, _event("job", {"rev": rev}), rev=rev)
                self._tell(job, _event("plan", {"plan": plan}), plan=plan)
            jobs = sorted({stream.job for stream in self._all()})
            try:
                found = self._revisions(jobs) if jobs else {}
                reached = True
            except Unavailable as e:
                found = {}
                if reached:
                    log.error("The live stream can't look into the database: %s", e.detail)
                reached = False


def _event(name: str, data: dict[str, Any]) -> str:
    """at: seconds since 1970."""
    return f"event: {name}\ndata: {json.dumps({**data, 'at': round(time.time(), 3)})}\n\n"
