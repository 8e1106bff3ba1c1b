"""A course's run: what is left of it, and the shift that mends a short end."""

from collections import namedtuple

from .lengths import show
from .problems import InputError, Problem
from .studs import grid_count, grid_place

# What is still open. pieces: boards up; gaps: jots of all gaps that go with
# them and with one more piece; left, left_top: that piece, filling the rest,
# at the lower and the upper edge (negative where less than its joint gap is
# left); short, long: the shorter and the longer of the two.
Rest = namedtuple("Rest", "pieces gaps left left_top short long")


def rest_of(
    run: int, run_top: int | None, up: list[int], end_gap: int, joint_gap: int, unit: str
) -> Rest:
    """What a run still takes, as a Rest.

    run, run_top: jots, corner to corner at the lower and the upper edge; up:
    jots of each board up; end_gap, joint_gap: jots, 0 or more. There is an end
    gap at both corners and a joint gap between every two pieces, the next one
    included. unit: one of UNITS, for messages. Raises InputError where the
    boards up and the gaps take more than the run, naming by how much.
    Source: plane geometry.
    """
    top = run if run_top is None else run_top
    n = len(up)
    gaps = 2 * end_gap + n * joint_gap
    taken = sum(up) + gaps - (joint_gap if n else 0)
    room = min(run, top) - taken
    over = show(-room, unit)
    if n and room < 0:
        boards = "%d %s" % (n, "board" if n == 1 else "boards")
        raise InputError(
            [
                Problem(
                    "up",
                    boards,
                    "Boards already up: %s with the gaps take %s, which is %s more than the run "
                    "of %s." % (boards, show(taken, unit), over, show(min(run, top), unit)),
                    "Check the readings, or cut %s off the last board." % over,
                )
            ]
        )
    if not n and room <= 0:
        field = "run" if run <= top else "run_top"
        raise InputError(
            [
                Problem(
                    field,
                    show(min(run, top), unit),
                    "Run: %s is no longer than its two end gaps, %s."
                    % (show(min(run, top), unit), show(taken, unit)),
                    "Give a longer run or a smaller end gap.",
                )
            ]
        )
    used = sum(up) + gaps
    return Rest(n, gaps, run - used, top - used, min(run, top) - used, max(run, top) - used)


def shift_for(
    short: int, long: int, donor: int, shortest: int, stock: int | None, spacing: int | None
) -> int:
    """How much an earlier piece gives so that the last piece is long enough.

    short, long: jots of the last piece at its shorter and its longer edge;
    donor: jots of the piece that gives; shortest: jots; stock: jots of a board
    or None; spacing: jots between studs or None. With a spacing the shift is
    the least number of whole spacings, so that joints stay on studs. Returns 0
    where no shift leaves both pieces between `shortest` and `stock`.
    """
    by = shortest - short
    if spacing is not None:
        by = grid_place(0, spacing, grid_count(spacing, by))
    if donor - by < shortest or (stock is not None and long + by > stock):
        return 0
    return by
