"""The plan file's certificate: the prices that prove its bound, for anyone to add up again.

solver/bounds.py says why they prove it.
"""

from .lengths import to_mm
from .words import cost_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .solver.bounds import Certificate
    from .task import Laid
    from .walls import Built
else:
    Any = object

# A piece by the ends it needs, where ends match; the place is the solver's kind.
KINDS = ("any", "left", "right", "whole")


def certificate(
    laid: "Laid", built: "list[Built]", proof: "Certificate", priced: bool
) -> dict[str, Any]:
    """The certificate of the solver as a JSON object: lengths in mm, money with two decimals.

    priced: whether costs are money. Errors: none.
    """
    begun = [] if laid.marks is None else laid.marks.boards
    runs = laid.problem.runs
    place = _places(laid)
    units = []
    for group, least in proof.units:
        of = []
        for i in sorted(group, key=lambda i: (runs[i].wall, runs[i].course, place[i])):
            number = built[runs[i].wall].courses[runs[i].course].number
            of.append({"wall": runs[i].wall + 1, "course": number, "run": place[i]})
        units.append({"runs": of, "least": least})
    most, cost = proof.rate
    return {
        "prices": [
            {"length": to_mm(length), "kind": KINDS[kind], "price": price}
            for length, kind, price in proof.prices
        ],
        "fills": [
            {"line": laid.lines[t] + 1, "most": fill} for t, fill in proof.fills if t >= 0
        ],
        "begun": [
            {"board": begun[-1 - k].number or None, "short": begun[-1 - k].source, "most": fill}
            for k, fill in proof.fills if k < 0
        ],
        "sunk": cost_of(sum([b.cost for b in begun]), priced),
        "units": units,
        "rate": {"most": most, "cost": cost_of(cost, priced)},
    }  # fmt: skip


def _places(laid: "Laid") -> list[int]:
    """For each run its place in its course, from 1, as the plan lists them."""
    runs = laid.problem.runs
    out = [0] * len(runs)
    row, n = (-1, -1), 0
    order = sorted([(r.wall, r.course, r.left, r.right, i) for i, r in enumerate(runs)])
    for wall, course, _, _, i in order:
        n = n + 1 if (wall, course) == row else 1
        row = (wall, course)
        out[i] = n
    return out
