"""One wall of a plan as ready text: how it stands, its courses and runs, and its tables."""

from .lengths import from_mm, show
from .walltables import EDGE, outline, pole, rects, studs
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
_RIGHT_CORNERS = {
    "outside": "Its boards end flush with the bare outside corner at its right; the next wall's "
    "boards run over them.",
    "mitred": "Its boards end mitred at the outside corner at its right, the long point past the "
    "bare corner.",
    "boards": "At its right its boards butt the boards that hang there already.",
}


def wall_view(plan: dict[str, Any], w: int) -> dict[str, Any]:
    """Everything that page and print show of the plan's wall of index w.

    plan: a lapwright-plan. Returns number, name, title, notes, edge, datum, courses,
    and the tables (see walltables.py) outline, pole, studs, openings, boxes,
    blocking, None where the wall has none. Errors: KeyError for what is no plan.
    """
    unit, wall = plan["unit"], plan["walls"][w]
    pieces = [p for p in plan["pieces"] if p["wall"] == w + 1]
    name = wall["name"]
    up = plan["rules"]["start"] == "floor"
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
        "edge": EDGE[up],
        "datum": "up from the %sfloor" % ("" if _is_level(wall) else "lowest point of the "),
        "courses": [_course(plan, c, pieces) for c in wall["courses"]],
        "outline": outline(wall, unit),
        "pole": pole(wall, unit, up),
        "studs": studs(wall, unit),
        "openings": rects(wall, "openings", "Opening", below, pieces, unit),
        "boxes": rects(
            wall, "boxes", "Box", below and " below its middle", pieces, unit
        ),
        "blocking": rects(wall, "blocking", "Blocking", below, [], unit),
    }  # fmt: skip


def _is_level(wall: dict[str, Any]) -> bool:
    return len(set([from_mm(y) for _, y in wall["floor"]])) == 1


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
    top = from_mm(wall["ceiling"][-1][0]) - from_mm(wall["ceiling"][0][0])
    if top != from_mm(wall["width"]):
        out.append("Its ceiling is %s wide from corner to corner." % show(top, unit))
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
    if wall["corner_right"] in _RIGHT_CORNERS:
        out.append(_RIGHT_CORNERS[wall["corner_right"]])
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
        "line": text_of(course["bottom" if plan["rules"]["start"] == "floor" else "top"], unit),
        "height": show(from_mm(course["top"]) - from_mm(course["bottom"]), unit),
        "rip": rip_text(course["rip"], plan),
        "pieces": [key for r in runs for key in r["pieces"]],
        "joints": [j for r in runs for j in r["joints"]],
        "runs": runs,
    }
