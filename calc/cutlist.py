"""A plan as a printed cut list of at most 80 columns, to be followed at the saw by itself."""

from .view import view
from .words import given_text, text_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

WIDTH = 80


def text(plan: dict[str, Any]) -> str:
    """The cut list of a lapwright-plan.

    plan: as from plan.make. Every length carries its unit, heavy and light
    their value; lines are at most 80 characters but for a longer title.
    Errors: KeyError for what is no plan.
    """
    v = view(plan)
    out: list[str] = []
    _head(plan, v, out)
    out.append("")
    out.append("BUY")
    for line in v["buy"]:
        _wrap(out, "  ", line["text"])
    s = v["summary"]
    for key in ("cost", "bound", "proven", "compare"):
        _wrap(out, "  ", s[key])
    out.append("")
    out.append("CUT, board by board, in hanging order")
    for board in v["boards"]:
        _board(plan, board, out)
    for w in plan["walls"]:
        out.append("")
        _hang(plan, w, [c for c in v["courses"] if c["wall"] == w["name"]], out)
    _listed(out, "WATCH", v["warnings"])
    _listed(out, "CAUTION", [c["text"] for c in v["cautions"]])
    return "\n".join(out) + "\n"


def _head(plan: dict[str, Any], v: dict[str, Any], out: list[str]) -> None:
    unit, b, r = plan["unit"], plan["board"], plan["rules"]
    _wrap(out, "", "Cut list" + (": " + plan["title"] if plan["title"] else ""))
    out.append("")
    _wrap(
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
    _wrap(
        out,
        "",
        "%s Gap %s at each end of a course, %s at each joint."
        % (
            v["hang"],
            given_text(r["end_gap"], unit),
            given_text(r["joint_gap"], unit),
        ),
    )
    for w in plan["walls"]:
        _wrap(
            out,
            "",
            "%s: %s wide, %s high, %d courses. Distances along it are from its left corner."
            % (
                w["name"],
                text_of(w["width"], unit),
                text_of(w["height"], unit),
                len(w["courses"]),
            ),
        )


def _board(plan: dict[str, Any], board: dict[str, Any], out: list[str]) -> None:
    out.append("")
    out.append("Board %d, %s" % (board["number"], board["stock"]))
    for cut in board["cuts"]:
        length = cut["text"] + (" " + cut["lean"] if cut["lean"] else "")
        course = "course %d, " % cut["course"]
        if len(plan["walls"]) > 1:
            course = cut["wall"] + ", " + course
        _wrap(out, "  [ ] %-5s %s  " % (cut["id"], length), course + cut["where"], 12)
        if cut["rip"]:
            _wrap(out, " " * 12, cut["rip"])
    _wrap(out, "  ", "Left over: %s" % board["offcut"])


def _hang(
    plan: dict[str, Any], wall: dict[str, Any], courses: list[dict[str, Any]], out: list[str]
) -> None:
    out.append("HANG" + (" " + wall["name"] if len(plan["walls"]) > 1 else ""))
    _wrap(out, "  ", "Lower edge from the floor, each from the same datum; pieces left to right.")
    rows = [("Course", "Lower edge", "Pieces", "Joints")]
    for c in courses:
        joints = "; ".join(c["joints"]) or "none"
        rows.append(("%d" % c["number"], c["line"], " ".join(c["pieces"]), joints))
    wide = [max([len(r[k]) for r in rows]) for k in range(3)]
    form = "  %%-%ds  %%-%ds  %%-%ds  " % (wide[0], wide[1], wide[2])
    for i in range(len(rows)):
        row = rows[i]
        _wrap(out, form % (row[0], row[1], row[2]), row[3], 2 + sum(wide[:2]) + 4)
        if i and courses[i - 1]["rip"]:
            _wrap(out, " " * (wide[0] + 4), courses[i - 1]["rip"] + ".")


def _listed(out: list[str], title: str, texts: list[str]) -> None:
    if texts:
        out.append("")
        out.append(title)
        for line in texts:
            _wrap(out, "  - ", line, 4)


def _wrap(out: list[str], lead: str, line: str, indent: int = -1) -> None:
    """Add lead + line, broken at spaces to WIDTH; further lines are indented."""
    if indent < 0:
        indent = len(lead)
    row = lead
    fresh = True
    for word in line.split(" "):
        if not fresh and len(row) + 1 + len(word) > WIDTH:
            out.append(_trimmed(row))
            row = " " * indent
            fresh = True
        row += word if fresh else " " + word
        fresh = False
    out.append(_trimmed(row))


def _trimmed(row: str) -> str:
    return row.rstrip(" ")
