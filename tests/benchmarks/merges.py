"""Copies of a job and their merge, measured on one engine or on both.

`python -m tests.benchmarks.merges --runs N [--first SEED] --engine phone|laptop`: so many runs
of five phones and a laptop (tests/shared/crews.py), each held against the whole history.
`python -m tests.benchmarks.merges --house`: how long the verbs take for examples/house.json on
CPython and on the phone's engine, in a headless Chromium, unthrottled: [least, median] of each.
Prints JSON lines. Nothing here is a timed test; the runs fail where a copy is wrong.
"""

import argparse
import contextlib
import json
import statistics
import tempfile
import time
from pathlib import Path

from playwright.sync_api import sync_playwright

from calc.bridge import call
from tests.browser.conftest import FLAGS, serving
from tests.chromium import find
from tests.shared.crews import make
from tests.shared.held import faults
from tests.shared.programs import RUN_JS, run, wanted

ROOT = Path(__file__).parent.parent.parent
AT_ONCE = 100  # programs to one call of the page

# Each request so many times; ms of each, as the page's thread sees it.
TIMED = """async ([request, times]) => {
  const { createEngine } = await import('/engine.js');
  window.engine ??= createEngine();
  await window.engine.call(request);
  const taken = [];
  for (let i = 0; i < times; i += 1) {
    const start = performance.now();
    await window.engine.call(request);
    taken.push(performance.now() - start);
  }
  return taken;
}"""


@contextlib.contextmanager
def phone_page():
    """A page that serves the phone's engine."""
    with (
        sync_playwright() as playwright,
        tempfile.TemporaryDirectory() as data,
        serving(Path(data)) as server,
    ):
        browser = playwright.chromium.launch(executable_path=find(), args=FLAGS)
        page = browser.new_page()
        page.set_default_timeout(0)
        page.goto(server.address + "/version.json")
        yield page
        browser.close()


def on_phone(page, runs):
    """The phone's answers for each of the runs, by register."""
    told = page.evaluate(RUN_JS, [[r.program for r in runs], [wanted(r) for r in runs]])
    return [
        dict(zip(wanted(r), json.loads(text), strict=True))
        for r, text in zip(runs, told, strict=True)
    ]


def many(first, count, engine):
    """Run so many seeds and tell of the first faults."""
    start = time.monotonic()
    steps, bad = 0, []
    with phone_page() if engine == "phone" else contextlib.nullcontext() as page:
        for at in range(first, first + count, AT_ONCE):
            runs = [make(seed) for seed in range(at, min(at + AT_ONCE, first + count))]
            kept = on_phone(page, runs) if page else [run(r.program) for r in runs]
            for i, (one, answers) in enumerate(zip(runs, kept, strict=True)):
                steps += len(one.program)
                bad += [f"seed {at + i}: {line}" for line in faults(one, answers)]
    seconds = time.monotonic() - start
    return {"engine": engine, "runs": count, "calls": steps, "faults": len(bad),
            "seconds": round(seconds, 1), "first": bad[:3]}  # fmt: skip


def house(times):
    """Yield a line for each verb: ms on both engines, and how many times the phone takes."""
    job = json.loads((ROOT / "examples/house.json").read_text(encoding="utf-8"))
    ask = lambda **request: json.loads(call(json.dumps(request)))  # noqa: E731
    first = ask(do="adopt", job=job, writer="a", number=1)
    edited = json.loads(json.dumps(first["job"]))
    edited["walls"][3]["height_left"] = "97 1/2 in"
    ours = ask(do="write", copy=first["copy"], job=edited, writer="b", number=2)
    edited["walls"][3]["height_left"] = "97 1/4 in"
    theirs = ask(do="write", copy=first["copy"], job=edited, writer="c", number=2)
    step = {"writer": "b", "number": 2, "before": ours["before"]}
    requests = {
        "adopt": {"do": "adopt", "job": job, "writer": "a", "number": 1},
        "join a copy and a write": {"do": "join", "copies": [first["copy"], ours["write"]]},
        "join two copies": {"do": "join", "copies": [first["copy"], ours["copy"]]},
        "join two copies, one field apart": {
            "do": "join",
            "copies": [ours["copy"], theirs["copy"]],
        },
        "write": {"do": "write", "copy": first["copy"], "job": edited, "writer": "b", "number": 2},
        "undo": {"do": "undo", "copy": ours["copy"], "step": step, "writer": "b", "number": 3},
        "fields, to compare": {"do": "fields", "job": job, "unit": "in", "wall": 3},
    }
    with phone_page() as page:
        for name, request in requests.items():
            text = json.dumps(request)
            here = []
            for _ in range(times):
                start = time.perf_counter()
                call(text)
                here.append((time.perf_counter() - start) * 1000)
            there = page.evaluate(TIMED, [request, times])
            laptop, phone = [
                [round(min(ms), 2), round(statistics.median(ms), 2)] for ms in (here, there)
            ]
            yield {"name": name, "bytes": len(text), "laptop_ms": laptop, "phone_ms": phone,
                   "ratio_of_least": round(phone[0] / laptop[0], 1)}  # fmt: skip


def main():
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--runs", type=int, default=5000)
    options.add_argument("--first", type=int, default=0)
    options.add_argument("--engine", choices=["phone", "laptop"], default="laptop")
    options.add_argument("--house", action="store_true")
    options.add_argument("--times", type=int, default=15)
    given = options.parse_args()
    if given.house:
        for line in house(given.times):
            print(json.dumps(line), flush=True)
        return 0
    line = many(given.first, given.runs, given.engine)
    print(json.dumps(line), flush=True)
    return 1 if line["faults"] else 0


if __name__ == "__main__":
    raise SystemExit(main())
