"""Jobs on disk: one table, keys nobody guesses, revisions that can't be lost.

SQLite by default, in WAL with synchronous=FULL: what was acknowledged survives
a kill and a power cut (https://www.sqlite.org/pragma.html#pragma_synchronous).
Any other SQLAlchemy database URL works as well.
"""

import json
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import Any, NamedTuple

from sqlalchemy import (
    Column,
    Connection,
    Integer,
    MetaData,
    String,
    Table,
    Text,
    create_engine,
    event,
)
from sqlalchemy import exc as sql

# One write's wait in all, for its turn and for the file: shorter than the 2.5 s after which
# the page gives up.
BUSY_SECONDS = 2.0

_meta = MetaData()
_jobs = Table(
    "jobs",
    _meta,
    Column("key", String(22), primary_key=True),
    Column("rev", Integer, nullable=False),
    Column("saved", String(20), nullable=False),
    Column("doc", Text, nullable=False),
)


class Stored(NamedTuple):
    """A job as stored: rev from 1 up; saved in UTC, ISO 8601; doc the parsed JSON."""

    key: str
    rev: int
    saved: str
    doc: Any


class Conflict(Exception):
    """Another job is stored than the one the write knows of."""

    def __init__(self, current: Stored) -> None:
        super().__init__(f"revision {current.rev} is stored")
        self.current = current


class Unavailable(Exception):
    """The store could not do it and nothing was changed. status is the HTTP one."""

    def __init__(self, status: int, code: str, message: str, fix: str, detail: str) -> None:
        super().__init__(f"{message} {fix} ({detail})")
        self.status = status
        self.code = code
        self.message = message
        self.fix = fix
        self.detail = detail


class Store:
    """The jobs of one laptop. Safe from many threads; every method may raise Unavailable."""

    def __init__(self, url: str) -> None:
        """url: an SQLAlchemy database URL. Makes the table where there is none."""
        sqlite = url.startswith("sqlite")
        self._turn = threading.Lock() if sqlite else None
        self.engine = create_engine(
            url,
            pool_size=8,
            max_overflow=32,
            pool_timeout=BUSY_SECONDS,
            connect_args={"timeout": BUSY_SECONDS} if sqlite else {},
        )
        if sqlite:
            event.listen(self.engine, "connect", _durable)
            event.listen(self.engine, "checkout", _patient)
        try:
            with _guarded():
                _meta.create_all(self.engine)
        except Unavailable:
            self.close()
            raise

    def close(self) -> None:
        """Let go of the database."""
        self.engine.dispose()

    def get(self, key: str) -> Stored | None:
        """The job of that key, or None."""
        with _guarded(), self.engine.connect() as c:
            row = c.execute(_jobs.select().where(_jobs.c.key == key)).first()
        return None if row is None else Stored(row.key, row.rev, row.saved, json.loads(row.doc))

    def add(self, key: str, doc: Any) -> tuple[Stored, bool]:
        """Store a new job; (it, True), or (what is stored, False) where it was sent before.

        Raises Conflict where the key holds another job.
        """
        new = Stored(key, 1, _now(), doc)
        try:
            with self._writing() as c:
                c.execute(_jobs.insert().values(key=key, rev=1, saved=new.saved, doc=_text(doc)))
        except sql.IntegrityError:
            return self._same_or_conflict(key, doc), False
        return new, True

    def replace(self, key: str, doc: Any, base: int) -> Stored:
        """Store `doc` in place of revision `base`, in one step.

        The same job as stored makes no new revision. Raises KeyError where
        there is no job of that key, Conflict where another revision is stored.
        """
        text = _text(doc)
        new = Stored(key, base + 1, _now(), doc)
        change = (
            _jobs.update()
            .where(_jobs.c.key == key, _jobs.c.rev == base, _jobs.c.doc != text)
            .values(rev=base + 1, saved=new.saved, doc=text)
        )
        with self._writing() as c:
            changed = c.execute(change).rowcount
        return new if changed else self._same_or_conflict(key, doc)

    @contextmanager
    def _writing(self) -> Iterator[Connection]:
        """A transaction. SQLite has one writer at a time and wakes waiting ones by chance, so
        that in a full room some would wait too long: here each waits for its turn.
        """
        until = time.monotonic() + BUSY_SECONDS
        if self._turn is None:
            with _guarded(), self.engine.begin() as c:
                yield c
        elif self._turn.acquire(timeout=BUSY_SECONDS):
            try:
                with _guarded(), self.engine.begin() as c:
                    # What is left of the wait.
                    left = max(int((until - time.monotonic()) * 1000), 0)
                    c.exec_driver_sql(f"PRAGMA busy_timeout={left}")
                    yield c
            finally:
                self._turn.release()
        else:
            raise _unavailable("SQLITE_BUSY", f"no turn to write in {BUSY_SECONDS} s")

    def _same_or_conflict(self, key: str, doc: Any) -> Stored:
        current = self.get(key)
        if current is None:
            raise KeyError(key)
        if _text(current.doc) != _text(doc):
            raise Conflict(current)
        return current


def _text(doc: Any) -> str:
    """One text per document: field order doesn't matter, and it is plain ASCII."""
    return json.dumps(doc, sort_keys=True, separators=(",", ":"))


def _now() -> str:
    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def _durable(connection: Any, _record: Any) -> None:
    cursor = connection.cursor()
    cursor.execute("PRAGMA journal_mode=WAL")
    cursor.execute("PRAGMA synchronous=FULL")
    # On macOS an fsync alone leaves data in the drive's cache; elsewhere this does nothing.
    cursor.execute("PRAGMA fullfsync=ON")
    cursor.close()


def _patient(connection: Any, _record: Any, _proxy: Any) -> None:
    """Whoever had the connection before may have left it with a shorter wait."""
    connection.execute(f"PRAGMA busy_timeout={int(BUSY_SECONDS * 1000)}")


@contextmanager
def _guarded() -> Iterator[None]:
    """Turn the database's errors into Unavailable; IntegrityError passes."""
    try:
        yield
    except sql.IntegrityError:
        raise
    except sql.TimeoutError as e:
        raise _unavailable("SQLITE_BUSY", str(e)) from e
    except sql.DBAPIError as e:
        raise _unavailable(getattr(e.orig, "sqlite_errorname", ""), str(e.orig)) from e


def _unavailable(name: str, detail: str) -> Unavailable:
    """name: SQLite's name of the error, "" for another database's."""
    status, code, message, fix = next(f[1:] for f in _FAILURES if name.startswith(f[0]))
    return Unavailable(status, code, message, fix, f"{name} {detail}".strip())


# Names: https://www.sqlite.org/rescode.html. The last takes every other error.
_FAILURES = (
    (
        "SQLITE_FULL", 507, "disk-full", "The laptop's disk is full; the job was not stored.",
        "Free some space on the laptop, then send again.",
    ),
    (
        "SQLITE_BUSY", 503, "busy", "The laptop's job file is in use; the job was not stored.",
        "Send again in a moment; close other programs that have it open.",
    ),
    (
        "SQLITE_LOCKED", 503, "busy", "The laptop's job file is in use; the job was not stored.",
        "Send again in a moment; close other programs that have it open.",
    ),
    (
        "SQLITE_READONLY", 503, "read-only", "The laptop's job file can't be written.",
        "Give the user who runs Lapwright the right to write it.",
    ),
    (
        "SQLITE_CORRUPT", 503, "damaged", "The laptop's job file is damaged.",
        "Stop Lapwright, keep the file aside, start again; phones send their jobs again.",
    ),
    (
        "SQLITE_NOTADB", 503, "damaged", "The laptop's job file is not a Lapwright database.",
        "Move that file away, or choose another folder with --data.",
    ),
    (
        "SQLITE_CANTOPEN", 503, "unreachable", "The laptop's job file can't be opened.",
        "Check that its folder exists and can be written.",
    ),
    (
        "SQLITE_IOERR", 503, "disk", "The laptop's disk did not take it; nothing was stored.",
        "Check the disk and its free space on the laptop, then send again.",
    ),
    (
        "", 503, "unreachable", "The laptop's job store did not answer.",
        "Send again in a moment; the laptop's window says more.",
    ),
)  # fmt: skip
