"""The database of one laptop: its tables, its transactions, and its errors in plain words.

SQLite by default, in WAL with synchronous=FULL: what was acknowledged survives
a kill and a power cut (https://www.sqlite.org/pragma.html#pragma_synchronous).
Any other SQLAlchemy database URL works as well.
"""

import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from typing import Any

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
    inspect,
)
from sqlalchemy import exc as sql

# One write's wait in all, for its turn and for the file: shorter than the 2.5 s after which
# the page gives up.
BUSY_SECONDS = 2.0

meta = MetaData()
# A job's copy (calc/shared/merge.py) as JSON; its id is no key: it opens nothing.
COPIES = Table(
    "copies",
    meta,
    Column("id", String(22), primary_key=True),
    Column("rev", Integer, nullable=False),
    Column("saved", String(20), nullable=False),
    Column("copy", Text, nullable=False),
)
# Keys that open a job; kind "edit" or "saw"; ended: when it was taken back, or null.
KEYS = Table(
    "keys",
    meta,
    Column("key", String(22), primary_key=True),
    Column("job", String(22), nullable=False, index=True),
    Column("kind", String(4), nullable=False),
    Column("ended", String(20)),
)
# Short codes to type; until in seconds since 1970.
CODES = Table(
    "codes",
    meta,
    Column("code", String(8), primary_key=True),
    Column("key", String(22), nullable=False),
    Column("until", Integer, nullable=False),
)
# Wrong codes, by the minute since 1970.
TRIES = Table(
    "tries",
    meta,
    Column("minute", Integer, primary_key=True),
    Column("wrong", Integer, nullable=False),
)
# The plan in use of a job: `of` is the job document that it was made of.
PLANS = Table(
    "plans",
    meta,
    Column("job", String(22), primary_key=True),
    Column("rev", Integer, nullable=False),
    Column("of", Text, nullable=False),
    Column("plan", Text, nullable=False),
)


class Unavailable(Exception):
    """The store could not do it and nothing was changed. status is the HTTP one."""

    def __init__(self, status: int, code: str, message: str, fix: str, detail: str) -> None:
        super().__init__(f"{message} {fix} ({detail})")
        self.status = status
        self.code = code
        self.message = message
        self.fix = fix
        self.detail = detail


class Sooner(Unavailable):
    """Another process stored something under the same name a moment before."""


class Database:
    """Transactions on one database. Safe from many threads; every method may raise Unavailable."""

    def __init__(self, url: str) -> None:
        """url: an SQLAlchemy database URL. Makes the tables where there are none."""
        sqlite = url.startswith("sqlite")
        self._turn = threading.RLock() if sqlite else None
        self._until = 0.0  # when the wait of whoever has the turn ends; 0 where nobody has it
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
            if not set(meta.tables) <= self.tables():
                with self.writing() as c:
                    meta.create_all(c)
        except Unavailable:
            self.close()
            raise

    def close(self) -> None:
        """Let go of the database."""
        self.engine.dispose()

    def tables(self) -> set[str]:
        """The names of its tables."""
        with self.reading() as c:
            return set(inspect(c).get_table_names())

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A connection to read by."""
        with _guarded(), self.engine.connect() as c:
            yield c

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A transaction that may write; what it reads, nobody changes before it ends (but in
        another database than SQLite: there a change names the revision that it replaces).
        """
        with self.turn(), _guarded(), self.engine.begin() as c:
            if self._turn is not None:
                # What is left of the wait.
                left = max(int((self._until - time.monotonic()) * 1000), 0)
                c.exec_driver_sql(f"PRAGMA busy_timeout={left}")
                c.exec_driver_sql("BEGIN IMMEDIATE")
            yield c

    @contextmanager
    def turn(self) -> Iterator[None]:
        """This process's turn to write; whoever has it may write within it, and tell of it before
        anybody writes again. SQLite has one writer at a time and wakes waiting ones by chance,
        so that in a full room some would wait too long: here each waits for its turn.
        """
        if self._turn is None:
            yield
            return
        until = time.monotonic() + BUSY_SECONDS
        if not self._turn.acquire(timeout=BUSY_SECONDS):
            raise busy(f"no turn to write in {BUSY_SECONDS} s")
        try:
            outer, self._until = self._until, self._until or until
            yield
        finally:
            self._until = outer
            self._turn.release()


def busy(detail: str) -> Unavailable:
    """The error of a write that others are always sooner with; detail: for the laptop's window."""
    return _unavailable("SQLITE_BUSY", detail)


def now() -> str:
    """Now in UTC, ISO 8601, to the second."""
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
    """Turn the database's errors into Unavailable."""
    try:
        yield
    except sql.TimeoutError as e:
        raise busy(str(e)) from e
    except sql.IntegrityError as e:
        raise _unavailable("SQLITE_BUSY", str(e.orig), Sooner) from e
    except sql.DBAPIError as e:
        raise _unavailable(getattr(e.orig, "sqlite_errorname", ""), str(e.orig)) from e


def _unavailable(name: str, detail: str, kind: type[Unavailable] = Unavailable) -> Unavailable:
    """name: SQLite's name of the error, "" for another database's."""
    status, code, message, fix = next(f[1:] for f in _FAILURES if name.startswith(f[0]))
    return kind(status, code, message, fix, f"{name} {detail}".strip())


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
