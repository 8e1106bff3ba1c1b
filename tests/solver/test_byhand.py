"""The hand's own rule, each offcut carried to the next course, worked out on paper.

A wall of 160 in, studs at every 16 in, boards of 96 in, a kerf of 1/8 in, no piece under
16 in, never the same stud twice running; in sixteenths of an inch. What is left of a board
after a piece is the board less the piece and the kerf.
"""

import pytest

from calc.solver.byhand import carried
from calc.solver.given import Problem, Rules, Run, Stock

STUDS = [(k, 256 * (k + 1)) for k in range(9)]
RULES = Rules(2, 0, 0, 256, [0], 1, 1, False, 512, 2, None)


def wall(courses, stock):
    runs = [Run(0, c, 0, 2560, STUDS, (0, 0), None) for c in range(courses)]
    return Problem(runs, stock, RULES, [])


@pytest.mark.parametrize(
    ("courses", "boards"),
    [
        (1, 2),  # 0-1536, 1536-2560; left 1536 - 1024 - 2 = 510
        (2, 4),  # 510 reaches 256; 256-1792; 1792-2560; left 766
        (3, 6),  # 766 reaches 512; 512-2048; 2048-2560; left 1022
        (4, 8),  # 1022 reaches 768; 768-2304; 2304-2560; left 1278
        (5, 9),  # 1278 reaches 1024; 1024-2560 is a whole board; nothing left
        (6, 11),  # as the first
    ],
)
def test_worked_courses(courses, boards):
    assert carried(wall(courses, [Stock(1536, 700, None, 0)])) == (700 * boards, [boards])


def test_the_length_that_suits_the_rule_best_is_taken():
    # Boards of 160 in at the price of one and a half: one for each course.
    stock = [Stock(1536, 700, None, 0), Stock(2560, 1050, None, 0), Stock(3000, 0, 2, 3)]
    assert carried(wall(6, stock)) == (6 * 1050, [0, 6, 0])


def test_no_length_reaches_a_stud():
    assert carried(wall(1, [Stock(250, 1, None, 0)])) is None
    assert carried(wall(2, [Stock(1536, 1, 3, 0)])) is None  # the fourth board is not there


def test_a_course_with_no_way_on_is_given_up_at_once():
    """Boards of 700 and studs at every 100, no joint within 650 of those of the course below:
    its joints at 700 and 1400 bar all studs but those over 2050, and none reaches that far."""
    studs = [(k, 100 * (k + 1)) for k in range(60)]
    rules = Rules(0, 0, 0, 100, [0], 650, 1, False, 0, 2, None)
    runs = [Run(0, c, 0, 6100, studs, (0, 0), None) for c in range(2)]
    assert carried(Problem(runs, [Stock(700, 1, None, 0)], rules, [])) is None


def test_matched_ends_take_whole_boards_of_their_own_length():
    """Studs at 800 and 3200, boards of 3000 and 2400: between the joints a whole one of 2400."""
    rules = Rules(0, 0, 0, 700, [0], 1, 1, True, 0, 2, None)
    run = Run(0, 0, 0, 4000, [(0, 800), (1, 3200)], (0, 0), None)
    stock = [Stock(3000, 1000, None, 0), Stock(2400, 2400, None, 0)]
    # Left piece 800 with a right-hand end, right piece 800 with a left-hand one: no offcut
    # carried within a run, so a board each.
    assert carried(Problem([run], stock, rules, [])) == (4400, [2, 1])
