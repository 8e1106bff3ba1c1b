"""Holds what an engine made of a run against the model: a list of faults, empty if all is well."""

from calc.shared.seen import SIZE
from tests.shared.model import GONE, is_item


def faults(run, kept):
    """kept: register -> the answer of the bridge."""
    model, known = run.model, run.known
    last = [kept[r] for r in run.meet]
    out = [f"copy {i} is another" for i, a in enumerate(last) if a["copy"] != last[0]["copy"]]
    answer = last[0]
    out += _fields(model, known, answer["copy"]["fields"])
    job = {k: v for k, v in answer["job"].items() if k not in ("format", "version")}
    want = _dense(model.document(known))
    if job != want:
        out.append(f"the job is {job} instead of {want}")
    told = {f["path"]: f["options"] for f in answer["apart"]}
    want = model.apart(known)
    if sorted(told) != want:
        out.append(f"apart is {sorted(told)} instead of {want}")
    for path in want:
        if path in told and len(told[path]) != len(model.different(known, path)):
            out.append(f"{path} has the options {told[path]}")
    out += _apart_from_removal(model, known, told)
    for register, many in run.kept:
        if kept[register]["kept"] != many:
            out.append(f"undo {register} kept {kept[register]['kept']} instead of {many}")
    return out


def _fields(model, known, fields):
    """Every write that nobody replaced is there, and no other."""
    out = []
    for path in sorted({*model.paths(known), *fields}):
        want = [[x.writer, x.number, *x.tail] for x in model.live(known, path)]
        held = [[w[0], w[1] // SIZE, *w[2:]] for w in fields.get(path, [])]
        if held != want:
            out.append(f"{path} holds {held} instead of {want}")
    return out


def _dense(node):
    """Without objects and lists that hold nothing."""
    if isinstance(node, list):
        return [_dense(n) for n in node]
    if not isinstance(node, dict):
        return node
    out = {k: _dense(v) for k, v in node.items()}
    return {k: v for k, v in out.items() if v not in ({}, [])}


def _apart_from_removal(model, known, told):
    """An item that one took out while another, who did not know, changed something in it, is
    there and asked about, unless somebody decided who knew. Read from the history alone.
    """
    out = []
    past = []  # of each change, those that led to it
    for change in model.changes:
        past.append(change.known.union(*(past[c] for c in change.known)))
    for gone in known:
        for item in [p for p, tails in model.changes[gone].says.items() if tails == [GONE]]:
            if not is_item(item) or not model.visible(known, item):
                continue
            touched = [c for c in known if item in model.changes[c].says]
            decided = any(gone in past[c] and item in model.changes[c].main for c in touched)
            for edit in touched:
                inside = any(p.startswith(item + "/") for p in model.changes[edit].main)
                if decided or not inside or edit in past[gone] or gone in past[edit]:
                    continue
                if any(edit in past[c] and GONE in model.changes[c].says[item] for c in touched):
                    continue
                if item not in told:
                    out.append(f"{item} was changed apart from its removal, and nobody is asked")
    return out
