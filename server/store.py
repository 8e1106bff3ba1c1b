"""Jobs on disk: copies that are merged, under keys nobody guesses; each write is taken once."""

import json
import logging
import secrets
from typing import Any, NamedTuple

from sqlalchemy import Connection, inspect, text

from calc.shared.job_copy import adopt, job_of, news
from calc.shared.merge import empty

from .database import COPIES, KEYS, PLANS, Database, Sooner, busy, now
from .taking import check_size, taken

log = logging.getLogger("lapwright.jobs")
_TRIES = 8  # at a write that another process was sooner with


class Opened(NamedTuple):
    """What a key opens: the job of that id, by a key of that kind, "edit" or "saw"."""

    key: str
    kind: str
    id: str


class Stored(NamedTuple):
    """A job as stored: rev from 1 up; saved in UTC, ISO 8601; copy: see calc/shared/merge.py.

    key and kind are those it was asked for by.
    """

    key: str
    kind: str
    id: str
    rev: int
    saved: str
    copy: Any


class NoJob(Exception):
    """The key opens nothing; it is the exception's text."""


class Ended(Exception):
    """The key, which is the exception's text, was taken back."""


class Merged(NamedTuple):
    """What a merge did: before is the revision it found, 0 where the job is new."""

    stored: Stored
    before: int


class Store:
    """The jobs of one laptop. Safe from many threads; every method may raise Unavailable."""

    def __init__(self, database: Database) -> None:
        """Takes over the jobs of a database of the first version."""
        self.database = database
        if _FIRST in database.tables():
            with database.writing() as c:
                if inspect(c).has_table(_FIRST):  # two may start at once
                    _take_over(c)

    def close(self) -> None:
        """Let go of the database."""
        self.database.close()

    def opens(self, key: str) -> Opened:
        """What the key opens. Raises NoJob and Ended."""
        with self.database.reading() as c:
            return opens(c, key)

    def get(self, key: str) -> Stored:
        """The job that the key opens. Raises NoJob and Ended."""
        with self.database.reading() as c:
            return _find(c, key)

    def add(self, key: str, writes: list[Any]) -> Merged:
        """Store a new job under its key to edit it, or merge the writes into what is there.

        The same job sent again, since the first answer was lost, is taken once.
        Raises Ended, and Refused as `taken` does.
        """
        copy = taken(empty(), writes, "edit")
        new = Stored(key, "edit", secrets.token_urlsafe(16), 1, now(), copy)
        try:
            with self.database.writing() as c:
                # The key first: of two that come at once, one fails here.
                c.execute(KEYS.insert().values(key=key, job=new.id, kind="edit"))
                values = {"id": new.id, "rev": 1, "saved": new.saved, "copy": _copy_text(copy)}
                c.execute(COPIES.insert().values(**values))
        except Sooner:
            return self.merge(key, writes)
        _log(new.id, empty(), writes)
        return Merged(new, 0)

    def merge(self, key: str, writes: list[Any]) -> Merged:
        """Merge writes into the job of that key. Nothing new makes no new revision.

        Raises NoJob, Ended, and Refused as `taken` does.
        """
        for _ in range(_TRIES):
            with self.database.writing() as c:
                found = _find(c, key)
                copy = taken(found.copy, writes, found.kind)
                if copy == found.copy:
                    return Merged(found, found.rev)
                stored = found._replace(rev=found.rev + 1, saved=now(), copy=copy)
                change = COPIES.update().where(COPIES.c.id == found.id, COPIES.c.rev == found.rev)
                values = {"rev": stored.rev, "saved": stored.saved, "copy": _copy_text(copy)}
                done = c.execute(change.values(**values)).rowcount
            if done:
                _log(found.id, found.copy, writes)
                return Merged(stored, found.rev)
        raise busy(f"another process was sooner {_TRIES} times")

    def revisions(self, ids: list[str]) -> dict[str, tuple[int, int]]:
        """id -> (revision of the job, of its plan or 0), for those that are there."""
        with self.database.reading() as c:
            jobs = c.execute(
                COPIES.select()
                .with_only_columns(COPIES.c.id, COPIES.c.rev)
                .where(COPIES.c.id.in_(ids))
            )
            plans = c.execute(
                PLANS.select()
                .with_only_columns(PLANS.c.job, PLANS.c.rev)
                .where(PLANS.c.job.in_(ids))
            )
            of = {row.job: row.rev for row in plans}
            return {row.id: (row.rev, of.get(row.id, 0)) for row in jobs}

    def plan(self, job: str) -> tuple[int, Any, Any] | None:
        """(revision, the job document it was made of, the plan) in use of the job of that id."""
        with self.database.reading() as c:
            row = c.execute(PLANS.select().where(PLANS.c.job == job)).first()
        return None if row is None else (row.rev, json.loads(row.of), json.loads(row.plan))

    def keep_plan(self, key: str, of: Any, plan: Any, instead: bool) -> tuple[str, int] | None:
        """Keep the plan in use of the key's job: (the job's id, the plan's revision), or None
        where another one stays.

        of: the job document that it was made of. instead: a person chose it in place of
        another plan of the same document. A plan of what the job was before takes no other's
        place. Raises NoJob and Ended.
        """
        wanted, made = _text(of), _text(plan)
        for _ in range(_TRIES):
            with self.database.writing() as c:
                found = _find(c, key)
                row = c.execute(PLANS.select().where(PLANS.c.job == found.id)).first()
                if row is None:
                    values = {"job": found.id, "rev": 1, "of": wanted, "plan": made}
                    c.execute(PLANS.insert().values(**values))
                    return found.id, 1
                if row.of == wanted and row.plan == made:
                    return found.id, int(row.rev)
                if (row.of == wanted and not instead) or _is_late(found, row.of, wanted):
                    return None
                change = PLANS.update().where(PLANS.c.job == found.id, PLANS.c.rev == row.rev)
                values = {"rev": row.rev + 1, "of": wanted, "plan": made}
                if c.execute(change.values(**values)).rowcount:
                    return found.id, int(row.rev) + 1
        raise busy(f"another process was sooner {_TRIES} times")


_FIRST = "jobs"


def _take_over(c: Connection) -> None:
    """The first version kept whole documents in a table of its own."""
    for row in c.execute(text("SELECT key, rev, saved, doc FROM jobs")).all():
        job = secrets.token_urlsafe(16)
        copy = adopt(json.loads(row.doc), "laptop", 1)
        c.execute(KEYS.insert().values(key=row.key, job=job, kind="edit"))
        values = {"id": job, "rev": row.rev, "saved": row.saved, "copy": _text(copy)}
        c.execute(COPIES.insert().values(**values))
    c.execute(text("DROP TABLE jobs"))


def opens(c: Connection, key: str) -> Opened:
    """What the key opens. Raises NoJob and Ended."""
    row = c.execute(KEYS.select().where(KEYS.c.key == key)).first()
    if row is None:
        raise NoJob(key)
    if row.ended is not None:
        raise Ended(key)
    return Opened(key, row.kind, row.job)


def _find(c: Connection, key: str) -> Stored:
    opened = opens(c, key)
    row = c.execute(COPIES.select().where(COPIES.c.id == opened.id)).first()
    if row is None:
        raise NoJob(key)
    return Stored(key, opened.kind, row.id, row.rev, row.saved, json.loads(row.copy))


def _is_late(found: Stored, of: str, wanted: str) -> bool:
    """Whether the plan in use is of the job as it is, and the other one is not."""
    return of == _text(job_of(found.copy)) != wanted


def _log(job: str, copy: Any, writes: list[Any]) -> None:
    """Log those of the writes that were new to the copy; each is new once in a job's life."""
    for name in dict.fromkeys(name for write in writes for name in news(copy, write)):
        log.info("job %s: write %s taken", job, name)


def _copy_text(copy: Any) -> str:
    return check_size(_text(copy))


def _text(value: Any) -> str:
    """One text per value: the order of fields doesn't matter, and it is plain ASCII."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"))
