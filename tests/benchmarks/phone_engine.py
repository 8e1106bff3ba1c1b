"""The solver on the phone's engine: MicroPython in a headless Chromium, unthrottled."""

import contextlib
import json
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

from calc.solver.given import Answer
from tests.browser.conftest import FLAGS, serving
from tests.chromium import find

# The engine as web/worker.js starts it, on the page's own thread.
_START = """async () => {
  const { loadMicroPython } = await import('/vendor/micropython.mjs');
  const python = await loadMicroPython({ heapsize: 2 ** 21, pystack: 2 ** 14 });
  const made = new Set();
  for (const name of ['/quick.bin', '/job.bin']) {
    const whole = new Uint8Array(await (await fetch(name)).arrayBuffer());
    const end = whole.indexOf(10);
    const { files } = JSON.parse(new TextDecoder().decode(whole.subarray(0, end)));
    let names = end + 1;
    let rest = files.reduce((at, [, size]) => at + size, names);
    for (const [path, first, second] of files) {
      path.split('/').slice(0, -1).forEach((_, n, all) => {
        const folder = all.slice(0, n + 1).join('/');
        if (!made.has(folder)) python.FS.mkdir(folder);
        made.add(folder);
      });
      const code = new Uint8Array(first + second);
      code.set(whole.subarray(names, names + first));
      code.set(whole.subarray(rest, rest + second), first);
      python.FS.writeFile(path, code);
      names += first;
      rest += second;
    }
  }
  python.globals.set('now', () => performance.now() / 1000);
  python.runPython(%s);
  window.solved = python.globals.get('solved');
}"""

_SOLVED = """
import json
from calc.solver.given import Problem, Rules, Run, Stock
from calc.solver.solve import Solver

def solved(text, seconds, seed, steps):
    given = json.loads(text)
    runs = []
    for wall, course, left, right, studs, more, joints in given["runs"]:
        studs = [tuple(s) for s in studs]
        runs.append(Run(wall, course, left, right, studs, tuple(more), joints))
    stock = [Stock(*s) for s in given["stock"]]
    start = now()
    seen, proof = [], None
    problem = Problem(runs, stock, Rules(*given["rules"]), [])
    solver = Solver(problem, lambda: (now() - start) / seconds, seed, steps)
    for progress in solver.slices():
        if progress is not None and (not seen or progress.cost < seen[-1][1]):
            seen.append([now() - start, progress.cost, solver.answer().joints])
        if progress is not None and proof is None and progress.cost == progress.bound:
            proof = now() - start
    answer = solver.answer()
    if answer is not None:
        answer = [list(a) if isinstance(a, tuple) else a for a in answer]
    return json.dumps([answer, now() - start, seen, proof])
"""


@contextlib.contextmanager
def phone_engine():
    """A function as laptop_engine of layout.py gives it."""
    with (
        sync_playwright() as playwright,
        tempfile.TemporaryDirectory() as data,
        serving(Path(data)) as server,
    ):
        browser = playwright.chromium.launch(executable_path=find(), args=FLAGS)
        page = browser.new_page()
        page.set_default_timeout(0)

        def solve(problem, seconds, seed, steps):
            page.goto(f"{server.address}/p")
            page.evaluate(_START % json.dumps(_SOLVED))
            given = {"runs": problem.runs, "stock": problem.stock, "rules": problem.rules}
            told = page.evaluate(
                "([text, s, seed, steps]) => solved(text, s, seed, steps)",
                [json.dumps(given), seconds, seed, min(steps, 10**9)],
            )
            answer, *rest = json.loads(told)
            return None if answer is None else Answer(*answer), *rest

        yield solve
        browser.close()
