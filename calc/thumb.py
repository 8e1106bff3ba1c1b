"""What the job would take by the rules of thumb: to hold the plan against."""

from .job import Job
from .lengths import to_mm
from .rings import twice_inside
from .solver.byhand import carried
from .task import by_price
from .trade.estimate import lineal
from .words import cost_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .task import Laid
    from .walls import Built
else:
    Any = object


def compared(job: Job, built: "list[Built]", laid: "Laid") -> dict[str, Any]:
    """What a plan holds under "compare". Errors: none.

    area: (area - openings) and 10 % over: length, and boards of the longest stock, cost.
    Source: see trade/estimate.py. carried: each offcut to the next course
    (solver/byhand.py), boards and cost; None where that rule comes to an end. Lengths in mm,
    money with two decimals.
    """
    priced = by_price(job)
    hand = carried(laid.problem)
    face = job.board.face
    twice = 0
    for b in built:
        twice += twice_inside(b.face.floor + b.face.right[1:] + b.face.ceiling[::-1])
        twice -= sum([2 * (r.right - r.left) * (r.top - r.bottom) for r in b.face.openings])
    length = lineal(twice, face)
    usable = [s for s in job.board.stock if s.count != 0 and s.kind == "new"]
    longest = max([s.length for s in usable])
    price = min([s.price if priced else longest for s in usable if s.length == longest])
    boards = -(-length // longest)
    return {
        "area": {
            "length": to_mm(length),
            "stock": to_mm(longest),
            "boards": boards,
            "cost": cost_of(boards * price, priced),
        },
        "carried": None
        if hand is None
        else {"boards": sum(hand[1]), "cost": cost_of(hand[0], priced)},
    }
