"""A job as a copy that can be merged, and back: what was written, taken back, found apart.

An item of a list is there where its place is among the copy's fields. Whoever changes a field of
an item writes the item's place anew as well, so that it stays where another phone took it out
meanwhile: then both are told, and nothing is lost.
"""

from .merge import empty, in_order, merge
from .paths import GONE, field_at, flat, ids_given, items_of, tree, within
from .seen import has, with_writes

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .merge import Write
else:
    Any = object


def adopt(job: dict[str, Any], writer: str, number: int) -> dict[str, Any]:
    """The copy of a job document that was in none before, all of it that writer's one write.

    job: a document without anything wrong in it (job.check_job).
    """
    return merge(empty(), write(empty(), job, writer, number)["copy"])


def job_of(copy: dict[str, Any]) -> dict[str, Any]:
    """The job document: of what was written apart, what was written last. Errors: none."""
    return tree(values(copy))


def values(copy: dict[str, Any]) -> dict[str, Any]:
    """path -> the value it has, of those apart the last; those taken out are left out."""
    out = {}
    for path in sorted(copy["fields"]):
        last = in_order(copy["fields"][path])[-1]
        if len(last) == 3:
            out[path] = last[2]
    return _kept(copy, out)


def _kept(copy: dict[str, Any], found: dict[str, Any]) -> dict[str, Any]:
    """With the items that one writer took out while another changed them."""
    for path in items_of(copy["fields"]):
        if path not in found:
            there = [w for w in copy["fields"][path] if len(w) == 3]
            if there:
                found[path] = there[-1][2]
    return found


def write(copy: dict[str, Any], job: dict[str, Any], writer: str, number: int) -> dict[str, Any]:
    """What a phone that saw `copy` writes so that it holds `job`.

    job: job_of(copy) with what the person changed; an item without an id is a new one.
    writer, number: name the write; the number is above every one that the copy has seen.
    {"copy": the write alone, to be merged, "before": {path: value, or GONE} of what it changes}.
    """
    now = values(copy)
    want = flat(ids_given(job, not copy["fields"], "%s.%d" % (writer, number)), now)
    change: dict[str, Any] = {}
    for path in want:
        if path not in now or now[path] != want[path]:
            change[path] = want[path]
    out_of = [path for path in items_of(now) if path not in want]
    for path in now:
        if path not in want and not [p for p in out_of if path != p and within(path, p)]:
            change[path] = GONE
    return _written(copy, change, now, writer, number)


def settle(copy: dict[str, Any], path: str, place: int, writer: str, number: int) -> dict[str, Any]:
    """The person's pick among what was written apart: as write.

    place: of the chosen one among apart's values, from 0. Raises KeyError where nothing is apart.
    """
    now = values(copy)
    chosen = different(copy["fields"][path])[place]
    return _written(copy, {path: chosen[2] if len(chosen) == 3 else GONE}, now, writer, number)


def undo(copy: dict[str, Any], step: dict[str, Any], writer: str, number: int) -> dict[str, Any]:
    """The write that takes back another one.

    step: {"writer", "number", "before"} of what is taken back. As write, with "kept": the paths
    that somebody has written since; they stay.
    """
    name = [step["writer"], step["number"]]
    change: dict[str, Any] = {}
    kept = []
    before = step["before"]
    for path in sorted(before):
        writes = copy["fields"].get(path, [])
        if [w for w in writes if w[:2] == name]:
            # What was added goes as a whole; what others wrote in it meanwhile keeps it there.
            if not [p for p in change if change[p] == GONE and within(path, p)]:
                change[path] = before[path]
        else:
            kept.append(path)
    answer = _written(copy, change, values(copy), writer, number, name)
    answer["kept"] = kept
    return answer


def different(writes: "list[Write]") -> "list[Write]":
    """One write of each value among them, in order."""
    out: list[Write] = []
    for w in in_order(writes):
        if [1 for o in out if o[2:] == w[2:]]:
            continue
        out.append(w)
    return out


def apart(copy: dict[str, Any]) -> list[str]:
    """Paths of what was written apart and differs; an item that one took out and another did
    not is such. Errors: none.
    """
    several = [p for p in sorted(copy["fields"]) if len(different(copy["fields"][p])) > 1]
    out = []
    for path in several:
        there = [len(w) == 3 for w in copy["fields"][path]]
        if not field_at(path)[1] or (True in there and False in there):
            out.append(path)
    return out


def _written(
    copy: dict[str, Any],
    change: dict[str, Any],
    now: dict[str, Any],
    writer: str,
    number: int,
    over: "list[Any] | None" = None,
) -> dict[str, Any]:
    """The write of `change`; over: the one write it replaces, None for all that the copy has."""
    own: Write = [writer, number]
    fields: dict[str, Any] = {}
    named = [(writer, number)]
    for path in sorted(change):
        value = change[path]
        fields[path] = [own if value is GONE or value == GONE else own + [value]]
        named.extend(_names(copy, path, over))
    for path in sorted(change):
        for item in items_of(now):
            if item not in fields and within(path, item):
                fields[item] = [own + [now[item]]]
                # Who took it out apart stays heard.
                named.extend([(w[0], w[1]) for w in copy["fields"][item] if len(w) == 3])
    out = empty()
    out["fields"] = fields
    out["seen"] = with_writes({}, named)
    before = {path: now.get(path, GONE) for path in change}
    return {"copy": out, "before": before}


def _names(copy: dict[str, Any], path: str, over: "list[Any] | None") -> list[tuple[str, int]]:
    writes = copy["fields"].get(path, [])
    return [(w[0], w[1]) for w in writes if over is None or w[:2] == over]


def news(copy: dict[str, Any], more: dict[str, Any]) -> list[str]:
    """The writes of `more` that `copy` has not seen, as "writer.number", of what more holds."""
    out = []
    for path in sorted(more["fields"]):
        for w in more["fields"][path]:
            name = "%s.%d" % (w[0], w[1])
            if not has(copy["seen"], w[0], w[1]) and name not in out:
                out.append(name)
    return sorted(out)
