"""The plan's boards with what is cut from each, and what to buy."""

from .job import Job
from .lengths import JOTS_PER_INCH, from_mm, to_mm
from .words import sawn_length

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .solver.given import Answer
    from .task import Laid
else:
    Any = object

_TIGHT = JOTS_PER_INCH // 32


def boards_of(
    job: Job,
    laid: "Laid",
    answer: "Answer",
    ids: "dict[tuple[int, int], int]",
    cut: list[dict[str, Any]],
) -> list[dict[str, Any]]:
    """Boards by number: those begun keep theirs, new ones have the others in hanging order.

    ids: (run, piece) -> its place in cut, the plan's pieces in hanging order, which are told
    their board. The cuts of a board: what is cut as it was marked, then by hanging order.
    """
    begun = [] if laid.marks is None else laid.marks.boards
    rows = []
    for n in range(len(answer.boards)):
        stock, held = answer.boards[n]
        known = begun[n] if n < len(begun) else None
        sawn = [ids[h] for h in known.pieces] if known is not None else []
        open_ = sorted([ids[h] for h in held if ids[h] not in sawn])
        if known is None or sawn or open_ or known.number:
            place = (open_ or [0], stock if known is None else n)
            rows.append(
                (known.number if known is not None else 0, place, known, stock, sawn, open_)
            )
    taken = {row[0] for row in rows}
    out = []
    number = 0
    for row in sorted([r for r in rows if not r[0]], key=lambda r: (r[1], r[2] is None)):
        number += 1
        while number in taken:
            number += 1
        out.append(_board(job, laid, number, row, cut))
    for row in rows:
        if row[0]:
            out.append(_board(job, laid, row[0], row, cut))
    out.sort(key=lambda b: b["number"])
    return out


def _board(
    job: Job, laid: "Laid", number: int, row: "tuple[Any, ...]", cut: list[dict[str, Any]]
) -> dict[str, Any]:
    """One board of the plan file; row: see boards_of."""
    _, _, known, stock, sawn, open_ = row
    kerf = job.rules.kerf
    if known is None:
        line = laid.lines[stock]
        length, kind = job.board.stock[line].length, job.board.stock[line].kind
        left = length - 2 * job.rules.trim
    else:
        line, length, kind, left = known.line, known.stock, known.kind, known.left
    left -= sum([from_mm(sawn_length(cut[p])) + kerf for p in open_])
    for p in sawn + open_:
        cut[p]["board"] = number
    fresh = known is None or (known.source and not sawn and not known.lost and not known.rejected)
    state = "rejected" if known is not None and known.rejected else "whole" if fresh else "begun"
    return {
        "number": number,
        "line": line + 1 if line >= 0 else None,
        "line_id": job.board.stock[line].id if line >= 0 else "",
        "kind": kind,
        "state": state,
        "stock": to_mm(length),
        "short": known.source if known is not None else "",
        "of": known.of or None if known is not None else None,
        "cuts": [cut[p]["id"] for p in sawn + open_],
        "lost": to_mm(known.lost if known is not None else 0),
        "offcut": to_mm(max(left, 0)),
        "tight": open_ != [] and left + kerf < _TIGHT,
    }


def buy(job: Job, boards: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """How many of each line of the job's stock, those that are not needed left out.

    Offcuts on site are among them, at no cost. What was begun or rejected counts; last come
    boards of lengths that the stock has no line for any more. boards: of the plan file.
    """
    stock = job.board.stock
    rows: list[tuple[int | None, Any, float, int | None]]
    rows = [(i + 1, s.kind, to_mm(s.length), s.price) for i, s in enumerate(stock)]
    others = sorted({(b["kind"], b["stock"]) for b in boards if not b["line"] and not b["short"]})
    rows += [(None, kind, length, None) for kind, length in others]
    out = []
    for line, kind, length, price in rows:
        own = [
            b["state"] for b in boards if b["line"] == line and not b["short"]
            and (line or (b["kind"], b["stock"]) == (kind, length))
        ]  # fmt: skip
        if kind == "offcut":
            price = 0
        if own:
            out.append(
                {
                    "line": line,
                    "kind": kind,
                    "length": length,
                    "count": len(own),
                    "begun": own.count("begun"),
                    "rejected": own.count("rejected"),
                    "price": None if price is None else price / 100,
                    "cost": None if price is None else len(own) * price / 100,
                }
            )
    return out
