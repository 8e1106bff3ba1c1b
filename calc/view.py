"""A plan as ready text and a drawing in jots: the page shows it and works nothing out."""

from .lengths import JOTS_PER_FOOT, JOTS_PER_MM, exact, from_mm, reading, show

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

_LONG = 10  # feet or metres: a length for buying is told in whole ones from there on
_HIDDEN = {"lapped": "lap", "tongue-and-groove": "tongue", "square": ""}


def view(plan: dict[str, Any]) -> dict[str, Any]:
    """Everything the page and the cut list show of a lapwright-plan.

    plan: as from plan.make, or read back from its JSON. Lengths are texts in
    the plan's unit; the drawings are in jots, y up from the floor. Errors:
    KeyError for what is no plan.
    """
    unit = plan["unit"]
    walls = plan["walls"]
    return {
        "summary": _summary(plan),
        "hang": hang_text(plan),
        "buy": [_buy(line, unit) for line in plan["buy"]],
        "boards": _boards(plan),
        "courses": [
            _course(plan, w, course) for w in range(len(walls)) for course in walls[w]["courses"]
        ],
        "drawings": [_drawing(plan, w) for w in range(len(walls))],
        "warnings": list(plan["warnings"]),
        "cautions": list(plan["cautions"]),
        "working": _working(plan),
    }


def text_of(mm: float, unit: str) -> str:
    """A plan's length as one line of text with its unit."""
    return show(from_mm(mm), unit)


def given_text(mm: float, unit: str) -> str:
    """A length that was given, as exactly as it was given: a kerf of 2.8 mm is not 3."""
    return exact(from_mm(mm), unit)


def money(value: float) -> str:
    """Money with two decimals, by whole-number arithmetic."""
    return "%d.%02d" % divmod(int(value * 100 + 0.5), 100)


def _count(n: int, word: str) -> str:
    return "%d %s%s" % (n, word, "" if n == 1 else "s")


def _summary(plan: dict[str, Any]) -> dict[str, str]:
    unit, cost, compare = plan["unit"], plan["cost"], plan["compare"]
    boards = len(plan["boards"])
    lines = ["%d of %s" % (b["count"], text_of(b["length"], unit)) for b in plan["buy"]]
    if cost["by"] == "price":
        total = "Cost %s." % money(cost["total"])
        least = "costs less than %s" % money(cost["bound"])
    else:
        total = "%s of board bought." % text_of(cost["total"], unit)
        least = "buys less than %s" % text_of(cost["bound"], unit)
    one_stock = len(plan["certificate"]["fills"]) == 1
    if one_stock and cost["by"] == "length":
        stock = from_mm(plan["buy"][0]["length"])
        least = "needs fewer than %s" % _count(from_mm(cost["bound"]) // stock, "board")
    return {
        "boards": "%s of %s" % (_count(boards, "board"), text_of(plan["buy"][0]["length"], unit))
        if len(lines) == 1
        else "%s: %s" % (_count(boards, "board"), ", ".join(lines)),
        "cost": total,
        "bound": "No plan by these rules %s%s."
        % (
            least,
            " (counts to be had not reckoned)" if cost["counted"] and not cost["proven"] else "",
        ),
        "proven": "Proven: no plan is better."
        if cost["proven"]
        else "Not proven: a better plan may exist.",
        "compare": "The rule of thumb, area and 10 %% over, says %s, or %s of %s."
        % (
            _about(compare["length"], unit),
            _count(compare["boards"], "board"),
            text_of(compare["stock"], unit),
        ),
    }


def _about(mm: float, unit: str) -> str:
    """A length bought by the running foot or metre: to the next whole one where it is long."""
    jots = from_mm(mm)
    size, name = (JOTS_PER_FOOT, "ft") if unit in ("in", "ft") else (1000 * JOTS_PER_MM, "m")
    return "about %d %s" % (-(-jots // size), name) if jots >= _LONG * size else show(jots, unit)


def _buy(line: dict[str, Any], unit: str) -> dict[str, Any]:
    length = text_of(line["length"], unit)
    text = "%s of %s" % (_count(line["count"], "board"), length)
    if line["price"] is not None:
        text += " at %s = %s" % (money(line["price"]), money(line["cost"]))
    return {"count": line["count"], "length": length, "text": text}


def hang_text(plan: dict[str, Any]) -> str:
    """Where to start and which way the boards face: 'Start at the floor, tongue up.'"""
    start = plan["rules"]["start"]
    hidden = _HIDDEN[plan["board"]["edge"]]
    way = "up" if start == "floor" else "down"
    return "Start at the %s%s." % (start, ", %s %s" % (hidden, way) if hidden else "")


def end_text(end: dict[str, Any], unit: str, wall_end: str) -> str:
    """Where a piece ends: 'stud 5 at 80"', or the words for the end of its course."""
    if end["kind"] == "joint":
        return "stud %d at %s" % (end["stud"], text_of(end["at"], unit))
    return wall_end


def where_text(piece: dict[str, Any], unit: str) -> str:
    """Where a piece goes: 'left end to stud 5 at 80"'."""
    return "%s to %s" % (
        end_text(piece["left_end"], unit, "left end"),
        end_text(piece["right_end"], unit, "right end"),
    )


def rip_text(rip: dict[str, Any] | None, plan: dict[str, Any]) -> str:
    """'Rip to 3-3/4", cut the upper edge off (its tongue goes)', or "" for no rip."""
    if rip is None:
        return ""
    text = "Rip to %s, cut off the %s edge" % (text_of(rip["width"], plan["unit"]), rip["cut"])
    hidden = _HIDDEN[plan["board"]["edge"]]
    if hidden:
        text += " (the %s %s)" % (hidden, "stays" if rip["keeps"] else "goes")
    return text


def _rips(plan: dict[str, Any]) -> "dict[tuple[int, int], Any]":
    out = {}
    for w in range(len(plan["walls"])):
        for course in plan["walls"][w]["courses"]:
            out[(w + 1, course["number"])] = course["rip"]
    return out


def _boards(plan: dict[str, Any]) -> list[dict[str, Any]]:
    unit = plan["unit"]
    by_id = {p["id"]: p for p in plan["pieces"]}
    rips = _rips(plan)
    out = []
    for board in plan["boards"]:
        cuts = []
        for key in board["cuts"]:
            p = by_id[key]
            r = reading(from_mm(p["length"]), unit)
            cuts.append(
                {
                    "id": key,
                    "text": r.text,
                    "lean": r.lean,
                    "say": r.say,
                    "course": p["course"],
                    "wall": plan["walls"][p["wall"] - 1]["name"],
                    "where": where_text(p, unit),
                    "rip": rip_text(rips[(p["wall"], p["course"])], plan),
                }
            )
        out.append(
            {
                "number": board["number"],
                "stock": text_of(board["stock"], unit),
                "cuts": cuts,
                "offcut": _offcut(plan, board),
            }
        )
    return out


def _offcut(plan: dict[str, Any], board: dict[str, Any]) -> str:
    """What is left of a board; where its cuts take all of it, how wide they may be at most."""
    if board["tight"] and len(board["cuts"]) == 1:
        return "nothing to spare: the whole board"
    if board["tight"]:
        kerf = given_text(plan["rules"]["kerf"], plan["unit"])
        return "nothing to spare: kerf at most %s" % kerf
    return text_of(board["offcut"], plan["unit"]) if board["offcut"] else "nothing"


def _course(plan: dict[str, Any], w: int, course: dict[str, Any]) -> dict[str, Any]:
    unit = plan["unit"]
    joints = []
    pieces = []
    for run in course["runs"]:
        joints.extend([end_text(j, unit, "") for j in run["joints"]])
        pieces.extend(run["pieces"])
    return {
        "number": course["number"],
        "wall": plan["walls"][w]["name"],
        "line": text_of(course["bottom"], unit),
        "height": show(from_mm(course["top"]) - from_mm(course["bottom"]), unit),
        "rip": rip_text(course["rip"], plan),
        "joints": joints,
        "pieces": pieces,
    }


def _drawing(plan: dict[str, Any], w: int) -> dict[str, Any]:
    unit = plan["unit"]
    wall = plan["walls"][w]
    rows = []
    joints = []
    places = {}
    for course in wall["courses"]:
        bottom, top = from_mm(course["bottom"]), from_mm(course["top"])
        places[course["number"]] = (bottom, top)
        rows.append(
            {
                "number": course["number"],
                "bottom": bottom,
                "top": top,
                "rip": course["rip"] is not None,
            }
        )
        for run in course["runs"]:
            for j in run["joints"]:
                joints.append({"at": from_mm(j["at"]), "bottom": bottom, "top": top})
    return {
        "name": wall["name"],
        "width": from_mm(wall["width"]),
        "height": from_mm(wall["height"]),
        "studs": [
            {"at": from_mm(s["at"]), "label": "%d: %s" % (s["number"], text_of(s["at"], unit))}
            for s in wall["studs"]
        ],
        "courses": rows,
        "pieces": [
            {
                "id": p["id"],
                "course": p["course"],
                "left": from_mm(p["left"]),
                "right": from_mm(p["right"]),
                "bottom": places[p["course"]][0],
                "top": places[p["course"]][1],
                "text": text_of(p["length"], unit),
            }
            for p in plan["pieces"]
            if p["wall"] == w + 1
        ],
        "joints": joints,
    }


def _working(plan: dict[str, Any]) -> list[str]:
    """The arithmetic in order, with units."""
    unit, rules = plan["unit"], plan["rules"]
    out = []
    for wall in plan["walls"]:
        courses = wall["courses"]
        ripped = len([c for c in courses if c["rip"] is not None])
        room = from_mm(wall["height"]) - from_mm(rules["floor_gap"]) - from_mm(rules["ceiling_gap"])
        out.append(
            "%s: %s high less gaps is %s; at %s a course that is %s, %d of them ripped."
            % (
                wall["name"],
                text_of(wall["height"], unit),
                show(room, unit),
                given_text(plan["board"]["face"], unit),
                _count(len(courses), "course"),
                ripped,
            )
        )
        out.append(
            "%s: %s wide less an end gap of %s at either end is %s a course."
            % (
                wall["name"],
                text_of(wall["width"], unit),
                given_text(rules["end_gap"], unit),
                show(from_mm(wall["width"]) - 2 * from_mm(rules["end_gap"]), unit),
            )
        )
    cut = sum([from_mm(p["length"]) for p in plan["pieces"]])
    bought = sum([from_mm(b["stock"]) for b in plan["boards"]])
    out.append(
        "%s, together %s, from %s of board: %s over, kerfs of %s included."
        % (
            _count(len(plan["pieces"]), "piece"),
            show(cut, unit),
            show(bought, unit),
            show(bought - cut, unit),
            given_text(rules["kerf"], unit),
        )
    )
    return out
