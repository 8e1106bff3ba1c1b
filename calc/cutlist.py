"""A plan as a printed cut list of at most 80 columns, to be followed at the saw by itself."""

from .columns import table, wrap
from .view import view
from .words import given_text

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

_INDENT = 12  # of what is told of a piece under its length


def text(plan: dict[str, Any], needs: "list[dict[str, str]] | None" = None) -> str:
    """The cut list of a lapwright-plan.

    plan: as from plan.make; needs: what the walls that are not planned yet lack,
    each with "message", as the bridge's verb plan answers them. Every length
    carries its unit, heavy and light their value; lines are at most 80
    characters but for a longer word. Errors: KeyError for what is no plan.
    """
    v = view(plan)
    out: list[str] = []
    _head(plan, v, out)
    out.append("")
    out.append("BUY")
    for line in v["buy"]:
        wrap(out, "  ", line["text"])
    s = v["summary"]
    for key in ("cost", "bound", "proven"):
        wrap(out, "  ", s[key])
    for row in v["compare"]:
        wrap(out, "  ", "%s: %s, %s." % (row["label"], row["boards"], row["cost"]))
    out.append("")
    out.append("CUT, board by board, in hanging order")
    wrap(
        out,
        "  ",
        "Distances along a piece are from its left end, from the longest point where that is off "
        "square; heights are up from its lower edge, once it is ripped. Lengths are over all.",
    )
    for board in v["boards"]:
        _board(plan, board, out)
    for w in v["walls"]:
        out.append("")
        _wall(w, len(v["walls"]) > 1, out)
    _listed(out, "NOT PLANNED YET", [n["message"] for n in needs or []])
    _listed(out, "WATCH", v["warnings"])
    _listed(out, "CAUTION", [c["text"] for c in v["cautions"]])
    return "\n".join(out) + "\n"


def _head(plan: dict[str, Any], v: dict[str, Any], out: list[str]) -> None:
    unit, b, r = plan["unit"], plan["board"], plan["rules"]
    wrap(out, "", "Cut list" + (": " + plan["title"] if plan["title"] else ""))
    out.append("")
    wrap(
        out,
        "",
        "Board: %s, face %s, overall %s, %s thick. Kerf %s."
        % (
            b["edge"],
            given_text(b["face"], unit),
            given_text(b["overall"], unit),
            given_text(b["thickness"], unit),
            given_text(r["kerf"], unit),
        ),
    )
    gaps = "%s Gap %s at each end of a course, %s at each joint" % (
        v["hang"],
        given_text(r["end_gap"], unit),
        given_text(r["joint_gap"], unit),
    )
    for key, what in (("openings", "openings"), ("boxes", "boxes")):
        if [1 for w in plan["walls"] if w[key]]:
            gap = r["opening_gap" if key == "openings" else "box_gap"]
            gaps += ", %s around %s" % (given_text(gap, unit), what)
    wrap(out, "", gaps + ".")
    for w in v["walls"]:
        wrap(out, "", " ".join([w["title"] + "."] + w["notes"]))


def _board(plan: dict[str, Any], board: dict[str, Any], out: list[str]) -> None:
    out.append("")
    note = " (%s)" % board["note"] if board["note"] else ""
    out.append("Board %d, %s%s" % (board["number"], board["stock"], note))
    for cut in board["cuts"]:
        length = cut["text"] + (" " + cut["lean"] if cut["lean"] else "")
        course = "course %d, " % cut["course"]
        if len(plan["walls"]) > 1:
            course = cut["wall"] + ", " + course
        box = "[x]" if cut["state"] == "cut" else "[ ]"
        wrap(out, "  %s %-5s %s  " % (box, cut["id"], length), course + cut["where"], _INDENT)
        if cut["called"]:
            wrap(out, " " * _INDENT, cut["called"] + ".", _INDENT + 2)
        if cut["rip"]:
            wrap(out, " " * _INDENT, cut["rip"] + ".", _INDENT + 2)
        told = list(cut["ends"])
        if cut["lengths"]:
            lower, upper = cut["lengths"]
            told.insert(0, "Lower edge %s, upper edge %s." % (lower[1], upper[1]))
        for line in told + cut["cuts"] + cut["scribe"]:
            wrap(out, " " * _INDENT, line, _INDENT + 2)
    wrap(out, "  ", "Left over: %s" % board["offcut"])


def _wall(w: dict[str, Any], several: bool, out: list[str]) -> None:
    """What is needed at the wall: courses, story pole, studs, openings and boxes."""
    out.append("HANG" + (" " + w["name"] if several else ""))
    wrap(out, "  ", "%s %s; pieces left to right." % (w["edge"], w["datum"]))
    rows = []
    for c in w["courses"]:
        head = ["%d" % c["number"], c["line"]]
        for run in c["runs"]:
            rows.append(head + [run["text"]])
            head = ["", ""]
        if c["rip"]:
            rows.append(["", "", c["rip"] + "."])
    table(out, ["Course", w["edge"], "Pieces and joints"], rows)
    for key in ("outline", "pole", "studs"):
        if w[key] is None:
            continue
        out.append("")
        out.append("  " + w[key]["caption"])
        table(out, w[key]["columns"], w[key]["rows"], 4)
    for key in ("openings", "boxes", "blocking"):
        if w[key] is not None:
            out.append("")
            out.append("  " + w[key]["caption"])
            _named(out, w[key])


def _named(out: list[str], told: dict[str, Any]) -> None:
    """A table whose cells are too many for a line, told row by row."""
    for row in told["rows"]:
        cells = ["%s: %s" % (column, cell) for column, cell in zip(told["columns"], row)][1:]
        wrap(out, "    %s. " % row[0], "; ".join(cells) + ".", 6)


def _listed(out: list[str], title: str, texts: list[str]) -> None:
    if texts:
        out.append("")
        out.append(title)
        for line in texts:
            wrap(out, "  - ", line, 4)
