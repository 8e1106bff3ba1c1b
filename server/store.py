"""Jobs on disk: copies that are merged, under keys nobody guesses; each write is taken once."""

import json
import logging
import secrets
from typing import Any, NamedTuple

from sqlalchemy import Connection, inspect, text
from sqlalchemy import exc as sql

from calc.shared.job_copy import adopt, news
from calc.shared.merge import empty, merge

from .database import COPIES, KEYS, PLANS, Database, now

log = logging.getLogger("lapwright.jobs")
_TRIES = 8  # at a write that another process was sooner with


class Stored(NamedTuple):
    """A job as stored: rev from 1 up; saved in UTC, ISO 8601; copy: see calc/shared/merge.py.

    key and kind ("edit" or "saw") are those it was asked for by.
    """

    key: str
    kind: str
    id: str
    rev: int
    saved: str
    copy: Any


class Ended(Exception):
    """The key was taken back."""


class Merged(NamedTuple):
    """What a merge did: before is the revision it found, taken the writes that were new."""

    stored: Stored
    before: int
    taken: list[str]


class Store:
    """The jobs of one laptop. Safe from many threads; every method may raise Unavailable."""

    def __init__(self, database: Database) -> None:
        """Takes over the jobs of a database of the first version."""
        self.database = database
        with database.writing() as c:
            _take_over(c)

    def close(self) -> None:
        """Let go of the database."""
        self.database.close()

    def get(self, key: str) -> Stored | None:
        """The job that the key opens, or None. Raises Ended."""
        with self.database.reading() as c:
            return _find(c, key)

    def add(self, key: str, writes: list[Any]) -> Merged:
        """Store a new job under its key to edit it, or merge the writes into what is there.

        The same job sent again, since the first answer was lost, is taken once. Raises Ended.
        """
        copy = _all(empty(), writes)
        new = Stored(key, "edit", secrets.token_urlsafe(16), 1, now(), copy)
        try:
            with self.database.writing() as c:
                # The key first: of two that come at once, one fails here.
                c.execute(KEYS.insert().values(key=key, job=new.id, kind="edit"))
                values = {"id": new.id, "rev": 1, "saved": new.saved, "copy": _text(copy)}
                c.execute(COPIES.insert().values(**values))
        except sql.IntegrityError:
            return self.merge(key, writes)
        return Merged(new, 0, _taken(new.id, empty(), writes))

    def merge(self, key: str, writes: list[Any]) -> Merged:
        """Merge writes into the job of that key. Nothing new makes no new revision.

        Raises KeyError where there is no such job, and Ended.
        """
        for _ in range(_TRIES):
            with self.database.writing() as c:
                found = _find(c, key)
                if found is None:
                    raise KeyError(key)
                copy = _all(found.copy, writes)
                if copy == found.copy:
                    return Merged(found, found.rev, [])
                rev, saved = found.rev + 1, now()
                change = COPIES.update().where(COPIES.c.id == found.id, COPIES.c.rev == found.rev)
                values = {"rev": rev, "saved": saved, "copy": _text(copy)}
                if c.execute(change.values(**values)).rowcount:
                    stored = found._replace(rev=rev, saved=saved, copy=copy)
                    return Merged(stored, found.rev, _taken(found.id, found.copy, writes))
        raise RuntimeError(f"{_TRIES} times another process was sooner")

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

    def keep_plan(self, job: str, of: Any, plan: Any, instead: bool) -> int | None:
        """Keep the plan in use; its revision, or None where another of the same job is in use.

        instead: a person chose it in place of that one.
        """
        wanted = _text(of)
        with self.database.writing() as c:
            row = c.execute(PLANS.select().where(PLANS.c.job == job)).first()
            if row is None:
                c.execute(PLANS.insert().values(job=job, rev=1, of=wanted, plan=_text(plan)))
                return 1
            if row.of == wanted and not instead:
                return None
            change = PLANS.update().where(PLANS.c.job == job)
            c.execute(change.values(rev=row.rev + 1, of=wanted, plan=_text(plan)))
            return int(row.rev) + 1


def _find(c: Connection, key: str) -> Stored | None:
    opens = c.execute(KEYS.select().where(KEYS.c.key == key)).first()
    if opens is None:
        return None
    if opens.ended is not None:
        raise Ended(key)
    row = c.execute(COPIES.select().where(COPIES.c.id == opens.job)).first()
    if row is None:
        return None
    return Stored(key, opens.kind, row.id, row.rev, row.saved, json.loads(row.copy))


def _take_over(c: Connection) -> None:
    """The first version kept whole documents in a table `jobs`."""
    if not inspect(c).has_table("jobs"):
        return
    for row in c.execute(text("SELECT key, rev, saved, doc FROM jobs")).all():
        job = secrets.token_urlsafe(16)
        copy = adopt(json.loads(row.doc), "laptop", 1)
        c.execute(KEYS.insert().values(key=row.key, job=job, kind="edit"))
        values = {"id": job, "rev": row.rev, "saved": row.saved, "copy": _text(copy)}
        c.execute(COPIES.insert().values(**values))
    c.execute(text("DROP TABLE jobs"))


def _all(copy: Any, writes: list[Any]) -> Any:
    for write in writes:
        copy = merge(copy, write)
    return copy


def _taken(job: str, copy: Any, writes: list[Any]) -> list[str]:
    """The names of the writes that are new to the copy; each is logged once in a job's life."""
    taken = []
    for write in writes:
        for name in news(copy, write):
            if name not in taken:
                taken.append(name)
        copy = merge(copy, write)
    for name in taken:
        log.info("job %s: write %s taken", job, name)
    return taken


def _text(value: Any) -> str:
    """One text per value: the order of fields doesn't matter, and it is plain ASCII."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"))
