"""Programs: what people do to one job on several phones, as data, run on either engine.

A program is a list of steps. Each calls the bridge once and keeps its answer in the register
`into`:

    {"do": "adopt", "into", "job", "writer", "number"}
    {"do": "write", "into", "copy", "patch", "writer", "number"}
    {"do": "undo", "into", "copy", "step", "writer", "number"}
    {"do": "settle", "into", "copy", "path", "place", "writer", "number"}
    {"do": "join", "into", "of": [["copy" or "write", register], ...]}

copy and step are registers; a patch is a list of {"at": [keys and indexes], "value"} on the job
of that register: without a value it takes out, with "insert" it puts into a list.
"""

import json

from calc.bridge import call


def run(program):
    """The answers by register. Raises AssertionError where the bridge refuses a step."""
    kept = {}
    for step in program:
        answer = json.loads(call(json.dumps(request(step, kept))))
        assert answer["ok"], (step, answer)
        kept[step["into"]] = answer
        answer["by"] = {key: step[key] for key in ("writer", "number") if key in step}
    return kept


def wanted(one):
    """The registers of a run (crews.py) that held.py looks at."""
    return [*one.meet, *(register for register, _ in one.kept)]


def request(step, kept):
    """The bridge request of a step."""
    if step["do"] == "join":
        return {"do": "join", "copies": [kept[r][what] for what, r in step["of"]]}
    out = {key: step[key] for key in step if key not in ("into", "patch")}
    if "copy" in step:
        out["copy"] = kept[step["copy"]]["copy"]
    if "patch" in step:
        out["job"] = patched(kept[step["copy"]]["job"], step["patch"])
    if "step" in step:
        done = kept[step["step"]]
        out["step"] = {**done["by"], "before": done["before"]}
    return out


def patched(job, patch):
    """The document after the patch."""
    job = json.loads(json.dumps(job))
    for change in patch:
        *way, last = change["at"]
        at = job
        for i, key in enumerate(way):
            if isinstance(key, str) and key not in at:
                at[key] = [] if isinstance(([*way, last])[i + 1], int) else {}
            at = at[key]
        if "insert" in change:
            at.insert(last, change["insert"])
        elif "value" in change:
            at[last] = change["value"]
        else:
            del at[last]
    return job


# The same in the page: programs -> for each, its answers in the registers asked for.
RUN_JS = """async ([programs, wanted]) => {
  const { createEngine } = await import('/engine.js');
  window.engines ??= [createEngine(), createEngine()];
  const patched = (job, patch) => {
    job = structuredClone(job);
    for (const change of patch) {
      const way = change.at.slice(0, -1);
      const last = change.at.at(-1);
      let at = job;
      way.forEach((key, i) => {
        at[key] ??= typeof change.at[i + 1] === 'number' ? [] : {};
        at = at[key];
      });
      if ('insert' in change) at.splice(last, 0, change.insert);
      else if ('value' in change) at[last] = change.value;
      else if (Array.isArray(at)) at.splice(last, 1);
      else delete at[last];
    }
    return job;
  };
  const request = (step, kept) => {
    const { into, patch, ...out } = step;
    if (step.do === 'join') {
      return { do: 'join', copies: step.of.map(([what, r]) => kept[r][what]) };
    }
    if ('copy' in step) out.copy = kept[step.copy].copy;
    if (patch) out.job = patched(kept[step.copy].job, patch);
    if ('step' in step) out.step = { ...kept[step.step].by, before: kept[step.step].before };
    return out;
  };
  const run = async (engine, program, registers) => {
    const kept = {};
    for (const step of program) {
      const answer = await engine.call(request(step, kept));
      if (!answer.ok) throw new Error(JSON.stringify([step, answer]));
      kept[step.into] = answer;
      answer.by = { writer: step.writer, number: step.number };
    }
    return JSON.stringify(registers.map((r) => kept[r]));
  };
  let next = 0;
  const answers = [];
  await Promise.all(window.engines.map(async (engine) => {
    while (next < programs.length) {
      const mine = next;
      next += 1;
      answers[mine] = await run(engine, programs[mine], wanted[mine]);
    }
  }));
  return answers;
}"""
