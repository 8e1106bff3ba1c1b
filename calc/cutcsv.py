"""A plan as a table of its pieces in cutting order, as CSV for a spreadsheet or a saw.

The form is RFC 4180 (Common Format and MIME Type for Comma-Separated Values):
a header line, CRLF after every line, a field with a comma, a quote or a line
end in quotes, a quote in it doubled. Our own words are ASCII; names that people
typed make the file UTF-8.
"""

from .called import as_called
from .cutwords import cut_text, mitred, scribe_text
from .lengths import exact, from_mm
from .view import view
from .words import end_text, sawn_length, text_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

COLUMNS = (
    "job", "board", "stock", "stock mm", "cut", "piece", "wall", "course", "place",
    "length", "length mm", "sawn length", "sawn length mm",
    "lower edge", "lower edge mm", "upper edge", "upper edge mm",
    "left end", "left end at", "left end degrees off square", "left end longer edge",
    "left end mitre degrees",
    "right end", "right end at", "right end degrees off square", "right end longer edge",
    "right end mitre degrees",
    "rip", "rip mm", "rip off edge", "tongue or lap", "cuts", "scribe",
    "left of board", "left of board mm",
)  # fmt: skip

# A cell that begins with one of these may run as a formula when a spreadsheet
# opens the file, the last four being the full-width forms that some take too.
# Source: a web security project's page on CSV injection, from memory.
_FORMULA = "=+-@\t\r\n\uff1d\uff0b\uff0d\uff20"


def text(plan: dict[str, Any]) -> str:
    """The CSV of a whole lapwright-plan: COLUMNS, then a row a piece in cutting order.

    A length is told twice: as it reads in the job's unit, and in whole jots as
    decimal millimetres. "cut" counts on each board from 1; "left of board" is
    the board's offcut, the same on each of its rows; "place" is where the piece
    hangs. A cell that begins with = + - @, a tab or a line end has an apostrophe
    put before it, so that a spreadsheet shows it and runs nothing. Errors:
    KeyError for what is no whole plan.
    """
    by_id = {p["id"]: p for p in plan["pieces"]}
    shown = view(plan)
    lines = [_line(list(COLUMNS))]
    for board, told in zip(plan["boards"], shown["boards"]):
        for i in range(len(board["cuts"])):
            p = as_called(by_id[board["cuts"][i]])
            row = [plan["title"], str(board["number"])]
            row += _both(board["stock"], plan["unit"])
            row += [str(i + 1), p["id"], told["cuts"][i]["wall"], str(p["course"])]
            row += [told["cuts"][i]["where"]]
            row += _piece(plan, p)
            row += [told["offcut"], _mm(board["offcut"])]
            lines.append(_line(row))
    return "".join(lines)


def _piece(plan: dict[str, Any], p: dict[str, Any]) -> list[str]:
    unit = plan["unit"]
    row = []
    for mm in (p["length"], sawn_length(p), p["lengths"]["lower"], p["lengths"]["upper"]):
        row += _both(mm, unit)
    for side in ("left", "right"):
        end = p[side + "_end"]
        row.append(end["kind"])
        row.append(end_text(end, unit, side + " end"))
        row.append("%d.%02d" % divmod(end["angle"], 100))
        row.append(end["long"] or "")
        row.append("45" if mitred(plan, p, side) else "0")
    rip = p["rip"]
    if rip is None:
        row += ["", "", "", ""]
    else:
        row += _both(rip["width"], unit) + [rip["cut"], "stays" if rip["keeps"] else "goes"]
    row.append(" ".join([cut_text(plan, p, c) for c in p["cuts"]]))
    row.append(" ".join([scribe_text(s, p, unit) for s in p["scribe"]]))
    return row


def _both(mm: float, unit: str) -> list[str]:
    """A length as it reads, and as a number of millimetres."""
    return [text_of(mm, unit), _mm(mm)]


def _mm(mm: float) -> str:
    return exact(from_mm(mm), "mm")[: -len(" mm")]


def _line(cells: list[str]) -> str:
    return ",".join([_cell(c) for c in cells]) + "\r\n"


def _cell(cell: str) -> str:
    if cell and cell[0] in _FORMULA:
        cell = "'" + cell
    if [1 for c in ',"\r\n' if c in cell]:
        return '"' + cell.replace('"', '""') + '"'
    return cell
