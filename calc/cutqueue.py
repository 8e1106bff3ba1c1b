"""The cuts that are still to be made, in the order the wall wants them, as the saw shows them."""

from .called import as_called, more_than_planned, off_text, place_of
from .cutwords import POINT, cuts_told, ends_off, lengths, scribes_told, slight
from .lengths import from_mm, reading, words
from .words import rip_text, sawn_length, text_of, where_text

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

_KINDS = (("notch", "notch", "notches"), ("hole", "hole", "holes"),
          ("round", "round hole", "round holes"), ("taper", "taper", "tapers"))  # fmt: skip


def cut_view(plan: dict[str, Any], piece: dict[str, Any]) -> dict[str, Any]:
    """One cut of a board as ready text. piece: of the plan. Errors: none."""
    unit = plan["unit"]
    p = as_called(piece)
    r = reading(from_mm(sawn_length(p)), unit)
    return {
        "id": p["id"],
        "text": r.text,
        "lean": r.lean,
        "say": r.say,
        "course": p["course"],
        "wall": plan["walls"][p["wall"] - 1]["name"],
        "where": where_text(p, unit),
        "rip": rip_text(p["rip"], plan),
        "lengths": _edges(p, unit),
        "ends": ends_off(plan, p),
        "cuts": cuts_told(plan, p),
        "scribe": scribes_told(plan, p),
        "state": p["state"],
        "called": _called(piece, unit),
    }


def _edges(p: dict[str, Any], unit: str) -> list[list[str]]:
    """[label, text] of both edges' lengths, or [] where the piece's length says it."""
    told = [row for row in lengths(p) if not row[0].startswith("Length")]
    return [[label, text_of(mm, unit) if from_mm(mm) else POINT] for label, mm in told]


def _called(p: dict[str, Any], unit: str) -> str:
    """What was called for it: 'Called from the wall: 1/8" more than planned', or ""."""
    if p["called"] is None:
        return ""
    return "Called from the wall: " + off_text(more_than_planned(p), unit)


def queue(plan: dict[str, Any]) -> list[dict[str, Any]]:
    """Every cut still to be made: what is called first, then as the courses hang, left to right.

    Each is a cut_view with its "board" and "stock", "head": what stands over it, "speak": one
    sentence to be said aloud, "bound": whether its run keeps its joints whatever the next plan is,
    "mark": what the job's done.cut takes of it, and "reject": what done.rejected takes of its
    board. Errors: KeyError for what is no plan.
    """
    by_id = {p["id"]: p for p in plan["pieces"]}
    boards = {b["number"]: b for b in plan["boards"]}
    called: list[dict[str, Any]] = []
    out: list[dict[str, Any]] = []
    for w in range(len(plan["walls"])):
        rows = sorted(plan["walls"][w]["courses"], key=lambda c: c["number"])
        for course in rows:
            for n in range(len(course["runs"])):
                keys = course["runs"][n]["pieces"]
                up = [by_id[key]["state"] == "cut" or by_id[key]["called"] for key in keys]
                for k in range(len(keys)):
                    p = by_id[keys[k]]
                    if p["state"] == "cut":
                        continue
                    place = place_of(plan, w, course["number"], n + 1, k + 1)
                    row = _row(plan, p, boards[p["board"]], place, (k, len(keys)))
                    row["bound"] = any(up)
                    (out if p["called"] is None else called).append(row)
    return called + out


def _row(
    plan: dict[str, Any], p: dict[str, Any], board: dict[str, Any], place: dict[str, Any],
    side: tuple[int, int],
) -> dict[str, Any]:  # fmt: skip
    row = cut_view(plan, p)
    unit = plan["unit"]
    stock = {
        "board": board["number"],
        "stock": board["stock"],
        "kind": board["kind"],
        "line": board["line_id"],
        "from": board["short"],
    }
    stock = {key: stock[key] for key in stock if stock[key] != ""}
    mark = dict(place)
    mark.update(stock)
    mark["length"] = sawn_length(p)
    mark["name"] = p["id"]
    row["board"] = board["number"]
    row["stock"] = text_of(board["stock"], unit)
    row["on"] = _on(board, row["stock"])
    row["head"] = _head(plan, p, row, side)
    row["speak"] = speak(plan, p)
    row["mark"] = mark
    row["reject"] = stock
    return row


def _on(board: dict[str, Any], stock: str) -> str:
    """The board in words: 'Board 12, 12'', begun'."""
    if board["of"]:
        return "Board %d: the piece of %s that came off board %d" % (
            board["number"], stock, board["of"],
        )  # fmt: skip
    kind = "offcut of " if board["kind"] == "offcut" else ""
    return "Board %d, %s%s%s" % (
        board["number"], kind, stock, ", begun" if board["state"] == "begun" else "",
    )  # fmt: skip


def _head(plan: dict[str, Any], p: dict[str, Any], row: dict[str, Any], side: Any) -> str:
    where = "course %d" % p["course"]
    if len(plan["walls"]) > 1:
        where = "%s, %s" % (row["wall"], where)
    if p["called"] is None:
        return where[0].upper() + where[1:]  # ASCII
    k, of = side
    end = "" if of == 1 else ", left" if k == 0 else ", right"
    text = row["text"] + (" " + row["lean"] if row["lean"] else "")
    return "Called from the wall: %s, %s%s" % (text, where, end)


def speak(plan: dict[str, Any], piece: dict[str, Any]) -> str:
    """One sentence in words, without a slash or a sign: what is to be cut.

    piece: of the plan. Errors: none.
    """
    unit = plan["unit"]
    p = as_called(piece)
    parts = [reading(from_mm(sawn_length(p)), unit).say]
    if p["called"] is not None:
        parts[0] += ", called from the wall"
    rip = p["rip"]
    if rip is not None:
        edges = "both edges" if rip["cut"] == "both" else "the %s edge" % rip["cut"]
        parts.append(
            "rip to %s, off %s" % (reading(from_mm(rip["width"]), unit).say, edges)
        )  # fmt: skip
    for side in ("left", "right"):
        end = p[side + "_end"]
        few = [c for c in p["cuts"] if c["kind"] == "bevel" and c["edge"] == side and slight(c)]
        if end["angle"] and not few:
            text = "%s end %s off square" % (side, _degrees(end["angle"]))
            parts.append(text + (", %s edge longer" % end["long"] if end["long"] else ""))
    kinds = [c["kind"] for c in p["cuts"] if not slight(c)]
    more = []
    for kind, one, many in _KINDS:
        if kind in kinds:
            n = kinds.count(kind)
            more.append("%s %s" % (words(n), one if n == 1 else many))
    if more:
        parts.append("with %s, as drawn" % " and ".join(more))
    return "Board %s, piece %s: %s." % (words(p["board"]), _named(p["id"]), "; ".join(parts))


def _named(key: str) -> str:
    """ "3A": "three A"; "2-3A": "three A of wall two"."""
    wall, _, rest = key.rpartition("-")
    digits = "".join([ch for ch in rest if ch in "0123456789"])
    name = "%s %s" % (words(int(digits)), rest[len(digits) :])
    return name + (" of wall %s" % words(int(wall)) if wall else "")


def _degrees(hundredths: int) -> str:
    whole, part = divmod(hundredths, 100)
    digits = "%02d" % part
    if digits.endswith("0"):
        digits = digits[:-1]
    text = words(whole)
    if part:
        text += " point " + " ".join([words(int(ch)) for ch in digits])
    return text + (" degree" if hundredths == 100 else " degrees")
