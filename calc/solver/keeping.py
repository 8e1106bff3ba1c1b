"""Offcuts kept for later courses: how many wait at once, where the rules limit them.

Courses hang wall by wall, in their order. A board waits from the first course it serves to
the last; once a course hangs, at most `kept` boards may wait.
"""

from .model import Model

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .cutting import Board


class Keeping:
    """The boards that wait after each course of one plan."""

    def __init__(self, model: Model) -> None:
        self.most = model.rules.kept
        runs = model.problem.runs
        rows = sorted({(r.wall, r.course) for r in runs})
        at = {rows[k]: k for k in range(len(rows))}
        self.place = [at[r.wall, r.course] for r in runs]
        # Of a board already cut, the courses of what it holds.
        self.begun = {
            t: [self.place[run] for run, _ in model.problem.cuts[-1 - s.origin].pieces]
            for t, s in enumerate(model.stores)
            if s.origin < 0
        }
        self.waiting = [0] * (max(self.place) + 1)

    def change(self, board: "Board", by: int) -> None:
        """Count the board in, by 1, or out, by -1. One of which nothing more is cut waits not."""
        if not board[2]:
            return
        places = self._places(board)
        for k in range(min(places), max(places)):
            self.waiting[k] += by

    def allows(self, board: "Board", run: int) -> bool:
        """Whether a piece of the run may be cut from the board as well."""
        at = self.place[run]
        places = self._places(board) or [at]
        first, last = min(places), max(places)
        more = self.waiting[last:at] + self.waiting[at:first]
        if not board[2]:
            more += self.waiting[first:last]
        return bool(not more or max(more) < self.most)

    def _places(self, board: "Board") -> list[int]:
        return [self.place[h[0]] for h in board[2]] + self.begun.get(board[0], [])
