"""The tables of one wall of a plan: its outline, story pole, studs, and what stands on it.

A table is {"caption", "columns", "rows"}, the first cell of a row its heading;
columns that would tell nothing on this wall are left out. `wall` is one of a
lapwright-plan's, `unit` one of UNITS. Errors: KeyError for what is no wall.
"""

from .lengths import from_mm, show
from .profile import y_at
from .words import text_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object


EDGE = {True: "Lower edge", False: "Upper edge"}  # of a board, at its course line


def _line(wall: dict[str, Any], key: str) -> list[tuple[int, int]]:
    """The wall's "floor" or "ceiling" in jots."""
    return [(from_mm(x), from_mm(y)) for x, y in wall[key]]


def _table(caption: str, columns: list[str], rows: list[list[str]]) -> dict[str, Any]:
    return {"caption": caption, "columns": columns, "rows": rows}


def outline(wall: dict[str, Any], unit: str) -> dict[str, Any] | None:
    """Floor and ceiling wherever one of them bends or steps; None where both are straight."""
    floor, ceiling = _line(wall, "floor"), _line(wall, "ceiling")
    if len(floor) == len(ceiling) == 2:
        return None
    level = None if wall["level"] is None else from_mm(wall["level"])
    columns = ["From the left corner", "Floor, over its lowest point"]
    columns.append("Ceiling, up from the floor there")
    if level is not None:
        columns[1:] = ["Floor, down from the level line", "Ceiling, up from the level line"]
        columns.append("Floor to ceiling")
    inner = [x for x, _ in floor[1:-1] + ceiling[1:-1]]
    rows = []
    for x in sorted(set([floor[0][0]] + inner + [floor[-1][0]])):
        stepped = [1 for line in (floor, ceiling) if len([1 for p in line if p[0] == x]) > 1]
        for side in (-1, 1) if stepped else (1,) if x == floor[0][0] else (-1,):
            low, high = y_at(floor, x, side), y_at(ceiling, x, side)
            told = [low] if level is None else [level - low, high - level]
            told.append(high - low)
            where = show(x, unit)
            if stepped:
                where += ", %s of the step" % _way(side)
            rows.append([where] + [show(y, unit) for y in told])
    return _table("Floor and ceiling", columns, rows)


def pole(wall: dict[str, Any], unit: str, up: bool) -> dict[str, Any]:
    """Every course line from the top down, as it is marked at both ends.

    up: whether boards hang from the floor up: a line is then their lower edge, else the upper.
    """
    left, right = wall["pole"]["left"], wall["pole"]["right"]
    cells = [
        [_up(row["up"], wall["heights"][side], unit) for row in wall["pole"][side]]
        for side in ("left", "right")
    ]
    edge = EDGE[up]
    columns = [edge, "Up from the floor, left end", "Up from the floor, right end"]
    if cells[0] == cells[1]:
        columns = [edge, "Up from the floor, either end"]
    if wall["level"] is not None:
        columns.append("From the level line")
    rows = []
    for k in range(len(left)):
        course = left[k]["course"]
        head = "Course %d" % course if course else ""
        if not course:
            head = "Its top" if up else "Its foot"
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
    return "%s %s" % (show(abs(over), unit), "up" if over > 0 else "down")


def studs(wall: dict[str, Any], unit: str) -> dict[str, Any]:
    """Stud centres at the floor, and at the ceiling as a tape reads from the corner there.

    The ceiling's column stands only where a stud or the left corner leans.
    """
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


def rects(
    wall: dict[str, Any], key: str, head: str, below: str, pieces: list[dict[str, Any]], unit: str
) -> dict[str, Any] | None:
    """What stands on the wall by its edges, and the pieces that are cut for it.

    key: "openings", "boxes" or "blocking"; head: of the first column; below: what
    is added to "up from the floor"; pieces: the wall's. None where it has none.
    """
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
