"""Take-off and steps of the work as plain text, to print or to read through line by line."""

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

_WIDE = 76  # letters a line of text takes, at most


def text(answer: dict[str, Any]) -> str:
    """The whole answer of the verb trade, both parts of it, as lines. Errors: none.

    answer: with "take_off" and "sections", neither null.
    """
    out = ["SHOPPING LIST", ""]
    off = answer["take_off"]
    for group in off["groups"]:
        out.append(group["title"])
        for i in group["items"]:
            box = "[x]" if i["ticked"] else "[ ]"
            out.append(_row("  %s %s %s" % (box, i["amount"], i["what"]), i["cost"] or "no price"))
            for note in (i["note"], i["told"]):
                if note:
                    out.append("        " + note)
    out += [_row(label, cost) for label, cost in off["totals"]]
    out += [line for key in ("unpriced", "left", "waits") for line in _wrapped(off[key], "")]
    out += _answer(off["answer"])
    for one in answer["sections"]:
        out += ["", "", one["title"].upper(), ""]  # ASCII
        out += _answer(one)
    return "\n".join(out) + "\n"


def _answer(a: dict[str, Any]) -> list[str]:
    out = [
        "%s: %s" % (f["label"], " ".join([t for t in (f["text"], f["lean"]) if t]))
        for f in a["figures"]
    ]
    for w in a["warnings"]:
        out += _wrapped("LOOK OUT: " + w, "    ")
    for c in a["cautions"]:
        out += _wrapped("CAUTION: %s %s" % (c["text"], c["asks"]), "    ")
    for label, value in a["rows"]:
        out += _wrapped("%s: %s" % (label, value), "    ")
    for t in a["tables"]:
        out += ["", t["title"]]
        out += _table([t["columns"]] + t["rows"])
    if a["working"]:
        out += ["", "Working"]
        for line in a["working"]:
            out += _wrapped("  " + line, "    ")
    return out


def _row(left: str, right: str) -> str:
    return left + " " * max(_WIDE - len(left) - len(right), 1) + right


def _table(rows: list[list[str]]) -> list[str]:
    wide = [max([len(row[k]) for row in rows]) for k in range(len(rows[0]))]
    out = []
    for row in rows:
        cells = [row[k] + " " * (wide[k] - len(row[k])) for k in range(len(row))]
        out.append(("  " + "  ".join(cells)).rstrip(" "))
    return out


def _wrapped(line: str, more: str) -> list[str]:
    """The line in pieces of at most _WIDE letters, those after the first led by `more`."""
    out: list[str] = []
    now = ""
    for word in line.split(" "):
        if now and len(now) + 1 + len(word) > _WIDE:
            out.append(now)
            now = more + word
        else:
            now = now + " " + word if now else word
    return out + [now] if now else out
