"""Who may open a job: keys for editing and for the saw, and short codes to type in their place."""

import secrets
import time
from typing import NamedTuple

from sqlalchemy import Connection

from .database import CODES, KEYS, TRIES, Database, now
from .store import opens

KINDS = ("edit", "saw")
DIGITS = 8
MINUTES = 10
# Wrong codes in MINUTES, of everybody together: a guess hits with less than one in a million.
MOST_TRIES = 30


class Code(NamedTuple):
    """A short code: its digits, and until when it opens the job, in seconds since 1970."""

    code: str
    until: int


class TooMany(Exception):
    """Too many wrong codes were tried; nobody may try until those are forgotten."""


class KeyTaken(Exception):
    """The key opens a job, or did; it is the exception's text."""


class Access:
    """Keys and codes. Safe from many threads; every method may raise Unavailable."""

    def __init__(self, database: Database) -> None:
        self.database = database

    def key(self, job: str, kind: str) -> str:
        """The key of that kind that opens the job of that id; a new one where there is none."""
        with self.database.reading() as c:
            known = _keys(c, job, kind)
        if known:
            return known[0]
        with self.database.writing() as c:
            known = _keys(c, job, kind)  # another thread may have been sooner
            if known:
                return known[0]
            key = secrets.token_urlsafe(16)
            c.execute(KEYS.insert().values(key=key, job=job, kind=kind))
            return key

    def renew(self, by: str, kind: str, key: str | None = None) -> tuple[str, list[str]]:
        """Take back every key of that kind: (the new one, those taken back).

        by: a key to edit the job with; key: the new one, or None for one of chance. The same
        again, since the answer was lost, may be asked by the new one, and changes nothing.
        Raises NoJob, Ended, and KeyTaken where that key was in use before.
        """
        with self.database.writing() as c:
            job = opens(c, by).id
            keys = _keys(c, job, kind)
            if key is not None and keys == [key]:
                return key, []
            key = key or secrets.token_urlsafe(16)
            if c.execute(KEYS.select().where(KEYS.c.key == key)).first() is not None:
                raise KeyTaken(key)
            c.execute(KEYS.update().where(KEYS.c.key.in_(keys)).values(ended=now()))
            c.execute(KEYS.insert().values(key=key, job=job, kind=kind))
        return key, keys

    def code(self, key: str) -> Code:
        """A code that opens what the key opens, for MINUTES; it takes the place of an older one.

        Raises NoJob and Ended.
        """
        until = int(time.time()) + 60 * MINUTES
        with self.database.writing() as c:
            opens(c, key)
            c.execute(CODES.delete().where((CODES.c.until < time.time()) | (CODES.c.key == key)))
            taken = {row.code for row in c.execute(CODES.select())}
            code = next(d for d in iter(_digits, None) if d not in taken)
            c.execute(CODES.insert().values(code=code, key=key, until=until))
        return Code(code, until)

    def opened_by(self, code: str) -> tuple[str, str] | None:
        """(key, kind) that the code stands for, or None, which counts as a wrong one.

        Raises TooMany where MOST_TRIES wrong ones came within MINUTES.
        """
        minute = int(time.time()) // 60
        with self.database.writing() as c:
            # Later ones too: somebody has set the laptop's clock back.
            over = (TRIES.c.minute <= minute - MINUTES) | (TRIES.c.minute > minute)
            c.execute(TRIES.delete().where(over))
            if sum(row.wrong for row in c.execute(TRIES.select())) >= MOST_TRIES:
                raise TooMany
            found = CODES.select().where(CODES.c.code == code, CODES.c.until >= time.time())
            row = c.execute(found).first()
            key = row and c.execute(KEYS.select().where(KEYS.c.key == row.key)).first()
            if key is not None and key.ended is None:
                return key.key, key.kind
            more = TRIES.update().where(TRIES.c.minute == minute).values(wrong=TRIES.c.wrong + 1)
            if not c.execute(more).rowcount:
                c.execute(TRIES.insert().values(minute=minute, wrong=1))
        return None


def _keys(c: Connection, job: str, kind: str) -> list[str]:
    """The keys of that kind that open the job."""
    one = KEYS.select().where(KEYS.c.job == job, KEYS.c.kind == kind, KEYS.c.ended.is_(None))
    return sorted(row.key for row in c.execute(one))


def _digits() -> str:
    return "".join(secrets.choice("0123456789") for _ in range(DIGITS))
