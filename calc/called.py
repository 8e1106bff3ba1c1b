"""Lengths called from the wall: which can be, what a call changes, the piece as it is then sawn."""

from .lengths import JOTS_PER_INCH, LengthError, from_mm, jots_of, reading, show, to_mm
from .problems import shown, wrong
from .words import end_text, sawn_length

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

# A call that is farther off is more likely a slip of the tape than a wall. Common practice.
FAR = JOTS_PER_INCH


def more_than_planned(p: dict[str, Any]) -> int:
    """Jots by which the length called for piece p is more than planned; 0 where none is called."""
    return 0 if p["called"] is None else from_mm(p["called"]) - from_mm(p["length"])


def off_text(jots: int, unit: str) -> str:
    """'1/8" more than planned', 'as planned'."""
    if not jots:
        return "as planned"
    return "%s %s than planned" % (show(abs(jots), unit), "more" if jots > 0 else "less")


def as_called(p: dict[str, Any]) -> dict[str, Any]:
    """Piece p of a plan with the length called for it, if one is: what is told at the saw.

    The end at the wall moves; what lies along the piece keeps its distance from the other. What
    would lie beyond it is left out.
    Errors: KeyError for what is no piece.
    """
    d = more_than_planned(p)
    if p["called"] is None:
        return p
    out = dict(p)
    left = p["left_end"]["kind"] != "joint" and p["right_end"]["kind"] == "joint"
    slanted = [
        q[0] for c in p["cuts"]
        if c["kind"] == "bevel" and c["edge"] == ("left" if left else "right") for q in c["points"]
    ]  # fmt: skip
    line = max([0.0] + slanted) if left else min([p["length"]] + slanted)

    def moved(x: float) -> float:
        beyond = x > line if left else x >= line
        there: float = to_mm(from_mm(x) + d) if beyond else x
        return float(min(max(there, 0), p["called"]))

    out["length"] = p["called"]
    out["shape"] = [[[moved(x), y] for x, y in ring] for ring in p["shape"]]
    out["lengths"] = {
        key: to_mm(from_mm(p["lengths"][key]) + d) if p["lengths"][key] else 0
        for key in ("lower", "upper")
    }
    cuts = [_cut(c, moved) for c in p["cuts"]]
    out["cuts"] = [c for c in cuts if "from" not in c or c["from"] < c["to"]]
    out["scribe"] = [
        {
            "edge": s["edge"],
            "marks": [
                {"stud": m["stud"], "along": moved(m["along"]), "up": m["up"]} for m in s["marks"]
            ],
        }
        for s in p["scribe"]
    ]
    return out


def _cut(c: dict[str, Any], moved: Any) -> dict[str, Any]:
    out = dict(c)
    if "points" in c:
        out["points"] = [[moved(x), y] for x, y in c["points"]]
    if "centre" in c:
        out["centre"] = [moved(c["centre"][0]), c["centre"][1]]
    if "from" in c:
        out["from"], out["to"] = moved(c["from"]), moved(c["to"])
    return out


def place_of(plan: dict[str, Any], wall: int, course: int, run: int, piece: int) -> dict[str, Any]:
    """Where a piece hangs, as the job's marks say it. wall: its place in the plan, from 0."""
    w = plan["walls"][wall]
    rows = [c for c in w["courses"] if c["number"] == course]
    joints = rows[0]["runs"][run - 1]["joints"]
    return {
        "wall": w["id"],
        "course": course,
        "run": run,
        "piece": piece,
        "joints": [j["at"] for j in joints],
    }


def ends_of(plan: dict[str, Any], wall: Any, course: Any) -> list[dict[str, Any]]:
    """The pieces of a course that end at an end of a run, whose length the wall may call.

    wall: its place in the plan, from 1; course: its number. Each has "label": which end, "id",
    "planned" and "say" of its length, "cut": whether it is cut already, and the "place" for the
    call. Left to right. Raises InputError for no such wall or course.
    """
    unit = plan["unit"]
    rows = _course(plan, wall, course)["runs"]
    by_id = {p["id"]: p for p in plan["pieces"]}
    out = []
    for n in range(len(rows)):
        keys = rows[n]["pieces"]
        for k in (0,) if len(keys) == 1 else (0, len(keys) - 1):
            p = by_id[keys[k]]
            r = reading(from_mm(p["length"]), unit)
            out.append(
                {
                    "label": _label(p, k, len(keys), n, len(rows), unit),
                    "id": p["id"],
                    "planned": show(from_mm(p["length"]), unit),
                    "say": r.say,
                    "cut": p["state"] == "cut",
                    "place": place_of(plan, wall - 1, course, n + 1, k + 1),
                }
            )
    return out


def _label(p: dict[str, Any], k: int, of: int, n: int, runs: int, unit: str) -> str:
    if of == 1 and runs == 1:
        return "whole course"
    if of == 1:
        return "%s to %s" % (
            end_text(p["left_end"], unit, "left"), end_text(p["right_end"], unit, "right"),
        )  # fmt: skip
    side = "left" if k == 0 else "right"
    outermost = n == 0 if k == 0 else n == runs - 1
    if outermost:
        return side
    return "%s of %s" % ("right" if k == 0 else "left", end_text(p[side + "_end"], unit, side))


def _course(plan: dict[str, Any], wall: object, course: object) -> dict[str, Any]:
    walls = plan["walls"]
    if not isinstance(wall, int) or wall is True or wall is False or not 1 <= wall <= len(walls):
        raise wrong(
            "wall", shown(wall), "wall: %s is no wall of the plan." % shown(wall),
            "Give 1 to %d." % len(walls),
        )  # fmt: skip
    rows = walls[wall - 1]["courses"]
    found = [c for c in rows if c["number"] == course and course is not True]
    if not found:
        numbers = [c["number"] for c in rows]
        raise wrong(
            "course", shown(course),
            "course: %s has no course %s." % (walls[wall - 1]["name"], shown(course)),
            "Give %d to %d." % (min(numbers), max(numbers)),
        )  # fmt: skip
    row: dict[str, Any] = found[0]
    return row


def call_check(plan: dict[str, Any], key: object, text: object) -> dict[str, Any]:
    """What a length called for piece `key` means: how it reads, and what becomes of the plan.

    text: the length, in the plan's unit where it bears none. Answers "text", "lean", "say",
    "exact" of it, "note": one sentence, "fits": whether the board planned still gives it, and
    "far": whether it is so far off the plan that it is better measured again. Raises InputError.
    """
    unit = plan["unit"]
    found = [p for p in plan["pieces"] if p["id"] == key]
    if not found:
        raise wrong(
            "piece", shown(key), "piece: %s is no piece of the plan." % shown(key),
            'Give one like "%s".' % plan["pieces"][0]["id"],
        )  # fmt: skip
    try:
        jots = jots_of(text, unit)
    except LengthError as e:
        raise wrong("text", shown(text), e.message, e.fix)
    if jots <= 0:
        raise wrong("text", shown(text), "A length of 0 was called.", "Give what the tape says.")
    p = found[0]
    d = jots - from_mm(p["length"])
    (board,) = [b for b in plan["boards"] if b["number"] == p["board"]]
    fits = jots - from_mm(sawn_length(p)) <= _spare(plan, board)
    note = off_text(d, unit)
    note = note[0].upper() + note[1:]  # ASCII
    if p["state"] == "cut":
        note += ". Piece %s is cut already: mark it too short first, if it is" % p["id"]
    elif fits:
        note += "; board %d still gives it" % p["board"]
    else:
        note += "; board %d is too short for it: the plan changes" % p["board"]
    far = abs(d) > FAR
    if far:
        note = "Measure again: %s%s" % (note[0].lower(), note[1:])  # ASCII
    r = reading(jots, unit)
    return {"text": r.text, "lean": r.lean, "say": r.say, "note": note + ".", "fits": fits,
            "far": far, "exact": to_mm(jots)}  # fmt: skip


def _spare(plan: dict[str, Any], board: dict[str, Any]) -> int:
    """Jots by which one of the board's cuts may be longer, its last kerf taken too."""
    by_id = {p["id"]: p for p in plan["pieces"]}
    cuts = [by_id[key] for key in board["cuts"]]
    kerf = from_mm(plan["rules"]["kerf"])
    trim = 0 if board["short"] else 2 * from_mm(plan["rules"]["trim"])
    used = sum([from_mm(sawn_length(p)) for p in cuts]) + kerf * (len(cuts) - 1)
    return from_mm(board["stock"]) - trim - from_mm(board["lost"]) - used
