"""One wall of a plan as ready text: its courses and runs, story pole, studs, openings, boxes.

A table is {"caption", "columns", "rows"}, the first cell of a row its heading;
columns that would tell nothing on this wall are left out.
"""

from .lengths import from_mm, show
from .profile import between, y_at
from .words import count_text, end_text, rip_text, text_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

_LEFT, _RIGHT = "left end", "right end"
_CORNERS = {
    "inside": "It starts in an inside corner: its boards butt the cladding of %s.",
    "outside": "It starts at an outside corner: its boards run over the ends of those of %s.",
    "mitred": "It starts at an outside corner, mitred with the boards of %s.",
}


def wall_view(plan: dict[str, Any], w: int) -> dict[str, Any]:
    """Everything that page and print show of the plan's wall of index w.

    plan: a lapwright-plan. Returns number, name, title, notes, datum, courses,
    and the tables pole, studs, openings, boxes, blocking (None where the wall
    has none). Errors: KeyError for what is no plan.
    """
    unit, wall = plan["unit"], plan["walls"][w]
    pieces = [p for p in plan["pieces"] if p["wall"] == w + 1]
    name = wall["name"]
    below = "" if _is_level(wall) else " below its left edge"
    return {
        "number": wall["number"],
        "name": name,
        "title": "%s: %s wide, %s high, %s"
        % (
            name,
            text_of(wall["width"], unit),
            text_of(wall["height"], unit),
            count_text(len(wall["courses"]), "course"),
        ),
        "notes": _notes(plan, w),
        "datum": "up from the %sfloor" % ("" if _is_level(wall) else "lowest point of the "),
        "courses": [_course(plan, c, pieces) for c in wall["courses"]],
        "outline": _outline(wall, unit),
        "pole": _pole(wall, unit),
        "studs": _studs(wall, unit),
        "openings": _rects(wall, "openings", "Opening", below, pieces, unit),
        "boxes": _rects(
            wall, "boxes", "Box", below and " below its middle", pieces, unit
        ),
        "blocking": _rects(wall, "blocking", "Blocking", below, [], unit),
    }  # fmt: skip


def _is_level(wall: dict[str, Any]) -> bool:
    return len(set([from_mm(y) for _, y in wall["floor"]])) == 1


def _line(wall: dict[str, Any], key: str) -> list[tuple[int, int]]:
    """The wall's "floor" or "ceiling" in jots."""
    return [(from_mm(x), from_mm(y)) for x, y in wall[key]]


def _notes(plan: dict[str, Any], w: int) -> list[str]:
    """What distances are taken from, and how the wall differs from a plain rectangle."""
    unit, wall = plan["unit"], plan["walls"][w]
    lean = from_mm(wall["left"][-1][0])
    out = ["Distances along it are from its left corner%s." % (" at the floor" if lean else "")]
    if lean:
        out.append(
            "Its left corner leans %s by %s from floor to ceiling."
            % ("in" if lean > 0 else "out", show(abs(lean), unit))
        )
    right = wall["right"]
    corner = [(from_mm(y), from_mm(x)) for x, y in wall["left"]]
    top = from_mm(right[-1][0]) - between(corner[0], corner[-1], from_mm(right[-1][1]))
    if top != from_mm(wall["width"]):
        out.append("At the ceiling's right end it is %s wide." % show(top, unit))
    if len(set([from_mm(x) for x, _ in right])) > 1:
        places = ["at the floor", "half-way up", "at the ceiling"]
        if len(right) == 2:
            places = [places[0], places[2]]
        told = ["%s %s" % (text_of(p[0], unit), place) for p, place in zip(right, places)]
        out.append("Its right corner stands at %s." % ", ".join(told))
    left_high, right_high = wall["heights"]["left"], wall["heights"]["right"]
    if from_mm(left_high) != from_mm(right_high) or not _is_level(wall):
        out.append(
            "It is %s high at its left end, %s at its right."
            % (text_of(left_high, unit), text_of(right_high, unit))
        )
    if wall["level"] is not None:
        out.append(
            "The level line runs %s up from the floor at the left end, %s at the right."
            % tuple(
                [show(from_mm(wall["level"]) - from_mm(wall["floor"][k][1]), unit) for k in (0, -1)]
            )
        )
    if wall["corner"] != "none":
        before = [b["name"] for b in plan["walls"] if b["number"] == wall["number"] - 1]
        out.append(_CORNERS[wall["corner"]] % (before[0] if before else "the wall before"))
    return out


def _course(
    plan: dict[str, Any], course: dict[str, Any], pieces: list[dict[str, Any]]
) -> dict[str, Any]:
    unit = plan["unit"]
    by_id = {p["id"]: p for p in pieces}
    runs = []
    for run in course["runs"]:
        first, last = by_id[run["pieces"][0]], by_id[run["pieces"][-1]]
        ends = (
            end_text(first["left_end"], unit, _LEFT),
            end_text(last["right_end"], unit, _RIGHT),
        )
        joints = [end_text(j, unit, "") for j in run["joints"]]
        row = run["pieces"][0]
        for joint, key in zip(joints, run["pieces"][1:]):
            row += ", joint on %s, %s" % (joint, key)
        runs.append(
            {
                "from": ends[0],
                "to": ends[1],
                "pieces": list(run["pieces"]),
                "joints": joints,
                "text": row if ends == (_LEFT, _RIGHT) else "%s to %s: %s" % (ends + (row,)),
            }
        )
    return {
        "number": course["number"],
        "line": text_of(course["bottom"], unit),
        "height": show(from_mm(course["top"]) - from_mm(course["bottom"]), unit),
        "rip": rip_text(course["rip"], plan),
        "pieces": [key for r in runs for key in r["pieces"]],
        "joints": [j for r in runs for j in r["joints"]],
        "runs": runs,
    }


def _table(caption: str, columns: list[str], rows: list[list[str]]) -> dict[str, Any]:
    return {"caption": caption, "columns": columns, "rows": rows}


def _outline(wall: dict[str, Any], unit: str) -> dict[str, Any] | None:
    """Floor and ceiling wherever one of them bends or steps; None where both are straight."""
    floor, ceiling = _line(wall, "floor"), _line(wall, "ceiling")
    if len(floor) == len(ceiling) == 2:
        return None
    level = None if wall["level"] is None else from_mm(wall["level"])
    columns = ["From the left corner", "Floor, over its lowest point"]
    columns.append("Ceiling, up from the floor there")
    if level is not None:
        columns[1:] = ["Floor, down from the level line", "Ceiling, up from the level line"]
    inner = [x for x, _ in floor[1:-1] + ceiling[1:-1]]
    rows = []
    for x in sorted(set([floor[0][0]] + inner + [floor[-1][0]])):
        stepped = [1 for line in (floor, ceiling) if len([1 for p in line if p[0] == x]) > 1]
        for side in (-1, 1) if stepped else (1,) if x == floor[0][0] else (-1,):
            low, high = y_at(floor, x, side), y_at(ceiling, x, side)
            told = (low, high - low) if level is None else (level - low, high - level)
            where = show(x, unit)
            if stepped:
                where += ", %s of the step" % _way(side)
            rows.append([where] + [show(y, unit) for y in told])
    return _table("Floor and ceiling", columns, rows)


def _pole(wall: dict[str, Any], unit: str) -> dict[str, Any]:
    """Every course line from the top down, as it is marked at both ends."""
    left, right = wall["pole"]["left"], wall["pole"]["right"]
    cells = [
        [_up(row["up"], wall["heights"][side], unit) for row in wall["pole"][side]]
        for side in ("left", "right")
    ]
    columns = ["Line", "Up from the floor, left end", "Up from the floor, right end"]
    if cells[0] == cells[1]:
        columns = ["Line", "Up from the floor, either end"]
    if wall["level"] is not None:
        columns.append("From the level line")
    rows = []
    for k in range(len(left)):
        course = left[k]["course"]
        head = "Course %d, lower edge" % course if course else ""
        if not course:
            head = "Course %d, upper edge" % left[k - 1]["course"]
        row = [head, cells[0][k]]
        if cells[0] != cells[1]:
            row.append(cells[1][k])
        if wall["level"] is not None:
            row.append(_from_level(from_mm(right[k]["line"]) - from_mm(wall["level"]), unit))
        rows.append(row)
    return _table("Story pole: the course lines", columns, rows[::-1])


def _up(up: float | None, high: float, unit: str) -> str:
    """A mark's height at an end of the wall, or why it can't be made there."""
    if up is None:
        return "under the floor"
    return "over the ceiling" if from_mm(up) > from_mm(high) else text_of(up, unit)


def _from_level(over: int, unit: str) -> str:
    if not over:
        return "on it"
    return "%s %s" % (show(abs(over), unit), "above" if over > 0 else "below")


def _studs(wall: dict[str, Any], unit: str) -> dict[str, Any]:
    corner = from_mm(wall["left"][-1][0])
    leans = [1 for s in wall["studs"] if from_mm(s["at"]) != from_mm(s["top"])]
    columns = ["Stud", "From the left corner"]
    if leans or corner:
        columns = ["Stud", "At the floor", "At the ceiling, from the corner there"]
    rows = []
    for s in wall["studs"]:
        row = ["%d" % s["number"], text_of(s["at"], unit)]
        lean = from_mm(s["top"]) - from_mm(s["at"])
        if leans or corner:
            row.append(show(from_mm(s["top"]) - corner, unit))
        notes = ["found"] if s["kind"] == "found" else []
        notes += ["doubled"] if s["doubled"] else []
        if lean:
            notes.append("leans %s to the %s" % (show(abs(lean), unit), _way(lean)))
        rows.append(row + [", ".join(notes)])
    if [1 for row in rows if row[-1]]:
        return _table("Stud centres", columns + ["Note"], rows)
    return _table("Stud centres", columns, [row[:-1] for row in rows])


def _way(lean: int) -> str:
    return "right" if lean > 0 else "left"


def _rects(
    wall: dict[str, Any], key: str, head: str, below: str, pieces: list[dict[str, Any]], unit: str
) -> dict[str, Any] | None:
    """What stands on the wall by its edges, and the pieces that are cut for it."""
    if not wall[key]:
        return None
    columns = [head]
    if key != "blocking":
        columns.append("Kind")
    columns += ["Left edge", "Right edge", "Width", "Height"]
    columns += [edge + ", up from the floor" + below for edge in ("Bottom", "Top")]
    if key != "blocking":
        columns.append("Pieces cut for it")
    rows = []
    for r in wall[key]:
        at = (r["left"] + r["right"]) / 2 if key == "boxes" else r["left"]
        floor = y_at(_line(wall, "floor"), from_mm(at), 1)
        row = [r["name"]]
        if r["kind"] == "round":
            row.append("round")
        elif key != "blocking":
            row.append(r["kind"])
        row += [text_of(r["left"], unit), text_of(r["right"], unit)]
        row += [text_of(r["right"] - r["left"], unit), text_of(r["top"] - r["bottom"], unit)]
        row += [show(from_mm(r[edge]) - floor, unit) for edge in ("bottom", "top")]
        if key != "blocking":
            row.append(" ".join([p["id"] for p in pieces if _is_cut(p, r["name"])]) or "none")
        rows.append(row)
    return _table({"openings": "Openings", "boxes": "Boxes"}.get(key, "Blocking"), columns, rows)


def _is_cut(p: dict[str, Any], name: str) -> bool:
    """Whether piece p ends at what has that name, or is notched for it."""
    return bool(
        [1 for end in (p["left_end"], p["right_end"]) if end.get("name") == name]
        or [1 for c in p["cuts"] if c["by"] == name]
    )
