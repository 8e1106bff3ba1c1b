"""Where the pieces of a run lie, once its joints are chosen."""

from collections import namedtuple

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .solver.given import Run

# left, right  jots where the piece begins and ends, what a joint's gap takes off it left out
# start, end   (stud, at) of the joint that it meets there, or None at an end of the run
Piece = namedtuple("Piece", "left right start end")


def pieces(run: "Run", joints: list[tuple[int, int]], gap: int) -> list[Piece]:
    """The pieces of a run, left to right; piece k lies between joints k-1 and k.

    joints: (stud, offset in jots) of each, left to right; gap: jots at each joint. Of
    an odd gap the piece on the right loses the odd jot. Errors: KeyError for a stud
    that is not the run's.
    """
    places = {number: at for number, at in run.studs}
    ends = [(number, places[number] + offset) for number, offset in joints]
    half = gap // 2
    out = []
    for k in range(len(ends) + 1):
        start = ends[k - 1] if k else None
        end = ends[k] if k < len(ends) else None
        left = start[1] + gap - half if start else run.left
        right = end[1] - half if end else run.right
        out.append(Piece(left, right, start, end))
    return out
