"""How large a plan is, so that none is begun that the phone could not end in a while."""

# What can be planned at once. On the laptop this was measured on (CPython 3.11) the first
# plan of such a job took 0.3 to 0.6 s, the search to its end 4 to 9 s, and 50 MB; with
# boards of 20 m on a 400 mm grid 150 MB.
MOST_WORK = 8000000


def wall_work(courses: int, width: int, nodes: int, longest: int) -> int:
    """How hard the wall's joints are, about: a second of a laptop is some 2 000 000 of it.

    courses: of the wall; width, longest: jots of the wall and of the longest
    board; nodes: its studs and two ends. Two courses are laid together over all
    pairs of nodes, each with as many pieces as a board reaches over nodes, for
    each pair of courses and some sixty times for the prices; many pieces a node
    also make many lengths. The factors are measured. Errors: none.
    """
    reach = min(nodes, longest * nodes // width + 1)
    return 60000 + (courses + 60) * nodes * nodes * reach * (80 + reach) // 1000


def cutting_work(pieces: int) -> int:
    """The same for the cutting: each piece is held against each board. Measured."""
    return 2 * pieces * pieces
