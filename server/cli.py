"""The command `lapwright`: serve the page, or print a job's cut list, CSV, plan or drawing."""

import argparse
import io
import json
import logging
import os
import sys
from pathlib import Path
from typing import Any

from calc.cutlist import text
from calc.problems import InputError, Problem
from calc.trade import printed

from .ask import ask, elevation, planned
from .jsontext import parse

_BAD_INPUT = 2
_FAILED = 1
_LIKE = "Give one like sqlite:////folder/jobs.sqlite3."


class Failed(Exception):
    """Lapwright can't go on; the text says why and what to do."""


def main(argv: list[str] | None = None) -> int:
    """Run the command. Returns the exit code: 0 done, 1 could not, 2 bad input."""
    options = _parser().parse_args(argv)
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(errors="replace")  # a terminal of few letters is no reason to stop
    try:
        options.run(options)
        sys.stdout.flush()
    except InputError as e:
        for p in e.problems:
            _say(_line(p))
        return _BAD_INPUT
    except Failed as e:
        _say(str(e))
        return _FAILED
    except BrokenPipeError:
        # Whoever read our output has enough of it; nothing more can be said there.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return _FAILED
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="lapwright",
        description="Serve the phone's page from this laptop, or plan a job file.",
    )
    parser.set_defaults(run=_serve)
    parser.add_argument("--host", help="IPv4 address to listen on (all; behind a proxy 127.0.0.1)")
    parser.add_argument("--port", type=int, help="port to listen on (8128 or the next; 0: any)")
    parser.add_argument("--https-port", type=int, help="port for https (8129 or the next; 0: any)")
    parser.add_argument("--address", help="address for links and QR (this laptop's own)")
    parser.add_argument("--data", type=Path, help="folder of the jobs (this user's data folder)")
    parser.add_argument("--database", help="database URL, in place of a file in the data folder")
    parser.add_argument(
        "--log", action="store_true", help="print each change of a job when it is taken"
    )
    parser.add_argument(
        "--behind-proxy",
        action="store_true",
        help="a reverse proxy with a certificate of its own stands before this, on one name",
    )
    commands = parser.add_subparsers(title="commands", metavar="plan")
    plan = commands.add_parser("plan", help="print the cut list of a job file")
    plan.add_argument("file", metavar="JOB.json", help="the job file; - reads standard input")
    form = plan.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="print the plan file instead")
    form.add_argument("--csv", action="store_true", help="print the pieces as CSV instead")
    form.add_argument(
        "--take-off", action="store_true", help="print what to buy and the steps of the work"
    )
    form.add_argument(
        "--svg", metavar="WALL", help="draw that wall instead, by its number or its name"
    )
    plan.add_argument("--paper", choices=("A4", "Letter"), help="the paper of --svg (A4)")
    plan.set_defaults(run=_plan)
    return parser


def _serve(options: argparse.Namespace) -> None:
    from sqlalchemy.exc import ArgumentError, NoSuchModuleError

    from .app import create_app
    from .database import Unavailable
    from .serve import CannotListen, serve

    if options.log:
        log = logging.getLogger("lapwright")
        log.addHandler(logging.StreamHandler(sys.stdout))
        log.setLevel(logging.INFO)
    if options.host is None:
        options.host = "127.0.0.1" if options.behind_proxy else "0.0.0.0"
    url, where = _database(options)
    https, problem = (None, "") if options.behind_proxy else _https(options)
    config = {
        "DATABASE_URL": url,
        "HOST": options.host,
        "ADDRESS": options.address,
        "BEHIND_PROXY": options.behind_proxy,
        "HTTPS": https,
        "HTTPS_PROBLEM": problem,
    }
    try:
        app = create_app(config)
    except Unavailable as e:
        raise Failed(f"{e.message} {e.fix} It is {where}.") from e
    except (ArgumentError, NoSuchModuleError, ModuleNotFoundError) as e:
        raise Failed(f"--database: {where} can't be used: {e}. {_LIKE}") from e
    store, shell = app.extensions["lapwright-store"], app.extensions["lapwright-shell"]
    if shell.missing():
        raise Failed(
            f"The page's file {shell.missing()} is missing. Install Lapwright again with pip."
        )

    def started(port: int, https_port: int) -> None:
        _started(app, options, (port, https_port), where)

    try:
        serve(app, options.host, options.port, started, https, options.https_port)
    except CannotListen as e:
        raise Failed(str(e)) from e
    finally:
        store.close()


def _folder(options: argparse.Namespace) -> Path:
    """The folder of jobs and certificate, made where it is not there."""
    from .folders import data_folder

    folder: Path = (options.data or data_folder()).absolute()
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as e:
        raise Failed(f"The folder {folder} can't be made. Choose another with --data.") from e
    return folder


def _https(options: argparse.Namespace) -> tuple[Any, str]:
    """(what to serve https with, ""), or (None, why there is none): then http alone goes on."""
    from .address import served
    from .https import Https
    from .keeping import Damaged

    folder = _folder(options)
    try:
        return Https(folder / "trust", lambda: served(options.host, options.address)), ""
    except Damaged as e:
        return None, str(e)
    except OSError as e:
        return None, f"Its certificate can't be kept in {folder} ({e.strerror})."


def _database(options: argparse.Namespace) -> tuple[str, str]:
    """(database URL, how to name it to a person, without a password)."""
    from sqlalchemy import URL, make_url
    from sqlalchemy.exc import ArgumentError

    if options.database:
        try:
            given = make_url(options.database)
        except ArgumentError:
            raise Failed(f"--database: {options.database} is no database URL. {_LIKE}") from None
        if given.get_backend_name() == "sqlite" and given.database in (None, "", ":memory:"):
            raise Failed(f"--database: {given} keeps nothing when Lapwright stops. {_LIKE}")
        return options.database, repr(given)
    path = _folder(options) / "jobs.sqlite3"
    return URL.create("sqlite", database=str(path)).render_as_string(), str(path)


def _started(app: Any, options: argparse.Namespace, ports: tuple[int, int], where: str) -> None:
    """Say where it is. ports: of http and https, the latter 0 where there is none."""
    from . import qr
    from .address import is_loopback
    from .links import addresses, page_link

    usual = app.config["PORT"], app.config["HTTPS_PORT"]
    app.config["PORT"], app.config["HTTPS_PORT"] = port, secure = ports
    if options.behind_proxy:
        print(f"Proxy:  send it all to http://{options.host}:{port}/")
        print(f"Jobs:   {where}")
        print("Ctrl-C stops.", flush=True)
        return
    with app.app_context():
        first, *others = addresses()
        link = page_link(first)
    if options.port is None and port != usual[0]:
        print(f"Port {usual[0]} is in use, so this is {port}: phones must scan this QR anew.")
    code = qr.terminal(link)
    try:
        code.encode(sys.stdout.encoding or "utf-8")
        print(code)
    except UnicodeEncodeError:
        print("This terminal can't show a QR; the laptop's screen below can.")
    print(f"Phone:  {link}")
    for address in others:
        print(f"   or:  {link.replace(first, address)}")
    print(f"Laptop: http://{first}:{port}/")
    print(f"Jobs:   {where}")
    if is_loopback(first):
        print("Phones can't reach this address: it is this laptop's alone. Join a network first.")
    https = app.config["HTTPS"]
    if https is None:
        print(f"No https, so phones can't open the page without it. {app.config['HTTPS_PROBLEM']}")
    else:
        if secure != usual[1] and options.https_port is None and options.port is None:
            print(
                f"Port {usual[1]} is in use, so https is at {secure}: phones that saved the page "
                "do not find this laptop there. Free the port and start again."
            )
        print(f"Secure: https://{https.name}:{secure}/p for phones that trust this laptop")
        print(f"Trust:  {https.fingerprint}")
    print("Ctrl-C stops.", flush=True)


def _plan(options: argparse.Namespace) -> None:
    if options.paper and options.svg is None:
        raise Failed("--paper goes with --svg. Name the wall to draw: --svg 1.")
    job = parse(_read(options.file))
    answer = planned(job)
    if options.svg is not None:
        _file_to_keep(elevation(answer, options.svg, options.paper) + "\n")
    elif options.csv:
        _file_to_keep(ask("csv", plan=answer["plan"])["text"])
    elif options.take_off:
        sys.stdout.write(printed.text(ask("trade", job=job, plan=answer["plan"])))
    elif options.json:
        print(json.dumps(answer["plan"], indent=1))
    else:
        sys.stdout.write(text(answer["plan"], answer["needs"]))
        return
    for need in answer["needs"]:
        _say(f"Not planned yet: {need['message']}")


def _file_to_keep(text: str) -> None:
    """Print what is UTF-8 by its own standard, its line ends as they are."""
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(encoding="utf-8", newline="")
    sys.stdout.write(text)


def _read(name: str) -> bytes:
    """The bytes of the file of that name; - is standard input."""
    if name == "-":
        return sys.stdin.buffer.read()
    try:
        return Path(name).read_bytes()
    except FileNotFoundError:
        why, fix = "there is no such file", "Check the name and the folder."
    except IsADirectoryError:
        why, fix = "that is a folder", "Name the job file in it."
    except PermissionError:
        why, fix = "it may not be read", "Name a job file that you may read."
    except (OSError, ValueError):
        why, fix = "it can't be read", "Name a job file."
    raise InputError([Problem("JOB.json", name, f"JOB.json: {name}: {why}.", fix)])


def _line(p: Problem) -> str:
    """field: message fix; the field only where the message does not begin with it."""
    text = f"{p.message} {p.fix}"
    return text if not p.field or p.message.startswith(p.field) else f"{p.field}: {text}"


def _say(text: str) -> None:
    print(f"lapwright: {text}", file=sys.stderr)
