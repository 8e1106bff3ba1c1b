"""The CA on disk: made once, never replaced by another without being asked."""

import contextlib
import json
import os
import shutil
import stat
import tempfile
from datetime import UTC, datetime
from pathlib import Path

from .certs import Authority, Unfit, authority, new_authority, new_name, pem

_KEY = "ca.key"
_CERT = "ca.crt"
_ADDRESSES = "addresses.json"
_MOST_ADDRESSES = 100
_ANEW = (
    "Put the folder back from a copy. Or move it away, and Lapwright makes a new one; "
    "then every phone has to trust this laptop anew."
)


class Damaged(Exception):
    """What the folder holds can't be used; the text names it, says why and what to do."""


def open_or_make(folder: Path, now: datetime | None = None) -> Authority:
    """The laptop's CA, kept in that folder; made where there is no such folder.

    Whoever trusts the CA that was there trusts no other, so a folder that is there and
    holds no whole CA is never filled anew. Raises Damaged, and OSError where nothing
    can be written.
    """
    now = now or datetime.now(UTC)
    if not folder.exists():
        _make(folder, now)
    return _read(folder, now)


def known_addresses(folder: Path) -> list[str]:
    """The addresses the laptop has had, the latest first. Raises Damaged, OSError."""
    path = folder / _ADDRESSES
    try:
        held = json.loads(path.read_bytes())
    except FileNotFoundError:
        return []
    except ValueError:
        held = None
    if not isinstance(held, list) or not all(isinstance(a, str) for a in held):
        raise Damaged(
            f"{path} can't be read. Delete it; phones that opened the page at an earlier "
            "address of this laptop then have to open it at the present one."
        )
    return held


def keep_addresses(folder: Path, addresses: list[str]) -> None:
    """Write down the addresses the laptop has had. Raises OSError."""
    text = json.dumps(addresses[:_MOST_ADDRESSES]) + "\n"
    path = folder / _ADDRESSES
    new = path.with_suffix(".new")
    _write(new, text.encode())
    os.replace(new, path)


def _make(folder: Path, now: datetime) -> None:
    """Written beside its place, then moved there whole: there is never half a CA."""
    made = new_authority(new_name(), now)
    new = Path(tempfile.mkdtemp(prefix=folder.name + ".new-", dir=folder.parent))
    try:
        _write(new / _KEY, pem(made.key))
        _write(new / _CERT, pem(made.cert))
        _sync(new)
        # Another Lapwright may have been faster; its CA stands, then.
        with contextlib.suppress(FileExistsError):
            _move(new, folder)
        _sync(folder.parent)
    finally:
        shutil.rmtree(new, ignore_errors=True)


def _move(new: Path, folder: Path) -> None:
    try:
        new.rename(folder)
    except OSError as e:
        if folder.exists():
            raise FileExistsError(str(folder)) from e
        raise


def _read(folder: Path, now: datetime) -> Authority:
    held = {}
    for name in (_KEY, _CERT):
        try:
            held[name] = (folder / name).read_bytes()
        except (FileNotFoundError, NotADirectoryError):
            raise Damaged(_said(folder, f"{name} is missing")) from None
        except OSError as e:
            raise Damaged(_said(folder, f"{name} can't be read ({e.strerror})")) from e
    if os.name == "posix" and stat.S_IMODE((folder / _KEY).stat().st_mode) & 0o077:
        raise Damaged(
            f"{folder / _KEY} may be read by others on this laptop. Whoever has it can pass for "
            f"this laptop. If nobody took it, run: chmod 600 '{folder / _KEY}'"
        )
    try:
        return authority(held[_KEY], held[_CERT], now)
    except Unfit as e:
        raise Damaged(_said(folder, str(e), e.fix)) from e


def _said(folder: Path, why: str, fix: str = "") -> str:
    return f"The certificate of this laptop in {folder} can't be used: {why}. {fix or _ANEW}"


def _write(path: Path, body: bytes) -> None:
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as f:
        f.write(body)
        f.flush()
        os.fsync(f.fileno())


def _sync(folder: Path) -> None:
    """Have the folder's own entries on the disk; Windows can't, and does so by itself."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
