"""The boards of a wall by its area, and how its height falls into courses. Lengths are jots.

A first guess to ask a price by; the plan counts the boards.
"""

from collections import namedtuple

from ..courses import line_of

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

# What is cut off: 10 % of the area. Source: western lumber association coverage table.
OVER = 10.0
COVERAGE = "western lumber association coverage table"

# full: courses of a whole face; rips: what is left, as the heights that show
Division = namedtuple("Division", "full rips")
_Board = namedtuple("_Board", "face")
_Rules = namedtuple("_Rules", "courses start")


def lineal(twice: int, face: int, over: float = OVER) -> int:
    """The length of board that an area takes, up to a whole jot.

    twice: twice the area less openings, square jots; face: what a course covers, over 0;
    over: percent cut off, 0 to 100, to the tenth. Errors: none.
    Source: area x 1.10 x 12 / face in inches, western lumber association coverage table.
    """
    parts = 1000 + int(10 * over + 0.5)
    return -(-parts * max(twice, 0) // (2000 * face))


def lineal_factor(face: int, unit: int) -> float:
    """Length of board for an area of one square unit: 12 / face in inches, 1000 / face in mm.

    unit: jots of a foot or of a metre. Source: as lineal.
    """
    return unit / face


def board_factor(nominal: int, face: int) -> float:
    """What is bought by nominal width for what it covers: nominal / face. Source: as lineal."""
    return nominal / face


def divided(height: int, face: int, how: str) -> Division:
    """How a height falls into courses. how: "full" or "balanced", as the job's rule.

    height, face: jots over 0. 96 in at 5-1/8 in is 18 full and 3-3/4, or 17 full and two of
    4-7/16 (two halves that are no whole jots differ by one). Errors: none. Source: arithmetic.
    """
    rules: Any = _Rules(how, "floor")
    board: Any = _Board(face)
    first = line_of(0, height, board, rules)
    full, rest = divmod(height - first, face)
    return Division(full, [r for r in (first, rest) if r])
