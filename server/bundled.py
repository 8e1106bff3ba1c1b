"""The page's modules as the phone loads them: a few files, bundled here from the sources.

One request for each of some twenty modules, each of which names the next, keeps a
slow phone waiting for its first answer.
"""

import os
import subprocess
import tempfile
from pathlib import Path

# What is loaded by its address: by index.html, by start.js, and by whoever wants the
# engine alone. They share their parts, so that each module is there once.
ENTRIES = ("app.js", "worker.js", "engine.js")
# Where the bundler is, under web/.
BUNDLER = "vendor/esbuild.exe" if os.name == "nt" else "vendor/esbuild"
_OPTIONS = (
    "--bundle",
    "--splitting",
    "--format=esm",
    "--minify",
    "--target=es2022",
    "--charset=utf8",
    "--legal-comments=eof",
    "--external:./vendor/micropython.mjs",
    "--tsconfig-raw={}",
    "--log-level=error",
    "--color=false",
)


def bundled(sources: dict[str, Path], bundler: Path) -> dict[str, bytes]:
    """Address -> script, "/app.js" for one, for the modules of web/ by their names within it.

    The same sources give the same bytes under the same addresses; a part that no entry's
    name stands for is named by a hash of its content.
    Raises SyntaxError, with the bundler's words, for modules that can't be bundled, and
    OSError where the bundler can't be run.
    """
    with tempfile.TemporaryDirectory() as folder:
        read, written = Path(folder, "web"), Path(folder, "out")
        for name, path in sources.items():
            copy = read / name
            copy.parent.mkdir(parents=True, exist_ok=True)
            copy.write_bytes(path.read_bytes())
        _run(bundler, read, [*ENTRIES, *_OPTIONS, f"--outdir={written}"])
        made = sorted(path for path in written.rglob("*") if path.is_file())
        return {f"/{path.relative_to(written).as_posix()}": path.read_bytes() for path in made}


def minified(module: Path, bundler: Path) -> bytes:
    """One module that travels by itself, without what only people read. Raises as bundled."""
    with tempfile.TemporaryDirectory() as folder:
        read, written = Path(folder, module.name), Path(folder, "out", module.name)
        read.write_bytes(module.read_bytes())
        options = [o for o in _OPTIONS if o.startswith(("--minify", "--format", "--target"))]
        options += [o for o in _OPTIONS if o.startswith(("--charset", "--legal", "--tsconfig"))]
        _run(bundler, Path(folder), [read.name, *options, f"--outfile={written}"])
        return written.read_bytes()


def _run(bundler: Path, where: Path, arguments: list[str]) -> None:
    try:
        done = subprocess.run(
            [str(bundler.absolute()), *arguments],
            cwd=where,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
            errors="replace",
        )
    except OSError as e:
        raise OSError(
            f"The page's bundler {bundler} can't be run ({e.strerror or e}). "
            "Install Lapwright again with pip, on this machine, where programs may be run."
        ) from e
    if done.returncode:
        raise SyntaxError(f"The page's modules could not be bundled: {done.stdout.strip()}")
