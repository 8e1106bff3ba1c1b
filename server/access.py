"""Who may open a job: keys for editing and for the saw, and short codes to type in their place."""

import secrets
import time
from typing import NamedTuple

from .database import CODES, KEYS, TRIES, Database, now

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


class Access:
    """Keys and codes. Safe from many threads; every method may raise Unavailable."""

    def __init__(self, database: Database) -> None:
        self.database = database

    def key(self, job: str, kind: str) -> str:
        """The key of that kind that opens the job of that id; a new one where there is none."""
        with self.database.writing() as c:
            one = KEYS.select().where(
                KEYS.c.job == job, KEYS.c.kind == kind, KEYS.c.ended.is_(None)
            )
            row = c.execute(one).first()
            if row is not None:
                return str(row.key)
            key = secrets.token_urlsafe(16)
            c.execute(KEYS.insert().values(key=key, job=job, kind=kind))
            return key

    def renew(self, job: str, kind: str) -> tuple[str, list[str]]:
        """Take back every key of that kind: (the new one, those taken back)."""
        key = secrets.token_urlsafe(16)
        with self.database.writing() as c:
            old = KEYS.select().where(
                KEYS.c.job == job, KEYS.c.kind == kind, KEYS.c.ended.is_(None)
            )
            keys = [row.key for row in c.execute(old)]
            c.execute(KEYS.update().where(KEYS.c.key.in_(keys)).values(ended=now()))
            c.execute(CODES.delete().where(CODES.c.key.in_(keys)))
            c.execute(KEYS.insert().values(key=key, job=job, kind=kind))
        return key, keys

    def code(self, key: str) -> Code:
        """A code that opens what the key opens, for MINUTES; it takes the place of an older one."""
        until = int(time.time()) + 60 * MINUTES
        with self.database.writing() as c:
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
            c.execute(TRIES.delete().where(TRIES.c.minute <= minute - MINUTES))
            if sum(row.wrong for row in c.execute(TRIES.select())) >= MOST_TRIES:
                raise TooMany
            found = CODES.select().where(CODES.c.code == code, CODES.c.until >= time.time())
            row = c.execute(found).first()
            opens = row and c.execute(KEYS.select().where(KEYS.c.key == row.key)).first()
            if opens is not None and opens.ended is None:
                return opens.key, opens.kind
            more = TRIES.update().where(TRIES.c.minute == minute).values(wrong=TRIES.c.wrong + 1)
            if not c.execute(more).rowcount:
                c.execute(TRIES.insert().values(minute=minute, wrong=1))
        return None


def _digits() -> str:
    return "".join(secrets.choice("0123456789") for _ in range(DIGITS))
