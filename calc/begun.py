"""A plan that is searched for a little at a time, so that the page can show how far it is.

The one thing of calc that is kept between two requests: the search that was begun last.
Taken up often enough it ends with the plan that the verb plan answers at once.
"""

from .job import Job, read_job
from .plan import document, laid_of, no_plan, walls_of
from .problems import InputError, shown, wrong
from .search import PlanSearch
from .task import Laid, by_price
from .view import view
from .words import cost_text, count_text, less_text

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .solver.given import Answer
    from .walls import Built
else:
    Any = object

_MOST_TURNS = 1000


class Begun:
    """One search, from its first plan to its last."""

    def __init__(self, doc: object, steps: int | None = None) -> None:
        """Search as far as the first plan. Raises InputError as plan.make."""
        self.job: Job = read_job(doc)
        self.built: "list[Built]" = walls_of(self.job)
        self.laid: Laid = laid_of(self.job, self.built)
        self.search = PlanSearch(self.laid.problem, steps)
        self._turns = self.search.slices()
        self.ended = False
        answer = None
        while answer is None and not self.ended:
            self.more(1)
            answer = self.search.answer()
        if answer is None:
            raise InputError(no_plan(self.job, self.built, self.laid))
        self.taken = answer

    def more(self, turns: int) -> None:
        """Search on for so many turns, each a few dozen moves, or to the end."""
        for _ in range(turns):
            if self.ended:
                return
            self.ended = next(self._turns, self) is self

    def take(self) -> dict[str, Any]:
        """The best plan so far and its view."""
        self.taken = self.best()
        plan = document(self.job, self.built, self.laid, self.taken)
        return {"plan": plan, "view": view(plan)}

    def best(self) -> "Answer":
        answer = self.search.answer()
        return self.taken if answer is None else answer

    def progress(self) -> dict[str, Any]:
        """How far it is.

        "ended"; "better": whether the best plan or its bound is another than those taken last;
        "proven" whether it is the best; its "boards" and "say", as text.
        """
        best = self.best()
        was = self.taken
        better = (best.joints, best.boards, best.bound) != (was.joints, was.boards, was.bound)
        return {
            "ended": self.ended,
            "better": better,
            "boards": self._boards(best),
            "proven": best.proven,
            "say": self._say(best),
        }

    def _boards(self, answer: "Answer") -> str:
        stock = self.job.board.stock
        begun = [] if self.laid.marks is None else self.laid.marks.boards
        lines = [stock[self.laid.lines[s]] for s, _ in answer.boards[len(begun) :]]
        kinds = [s.kind for s in lines] + [b.kind for b in begun]
        return count_text(len([1 for kind in kinds if kind == "new"]), "board")

    def _say(self, answer: "Answer") -> str:
        priced = by_price(self.job)
        new = [s for s in self.job.board.stock if s.count != 0 and s.kind == "new"]
        one = len(new) == 1 and not priced
        if answer.proven:
            return "Proven: no plan %s. Now the joints are spread." % less_text(one, priced)
        left = answer.cost - answer.bound
        least = cost_text(left, priced, self.job.unit)
        if one:
            least = count_text(left // new[0].length, "board")
        done = int(100 * self.search.share())
        how = "%d %% searched" % done if done < 100 else "Now the joints are spread"
        return "At most %s more can be saved. %s." % (least, how)


_last: list[Begun] = []
_count: list[int] = [0]


def begin(doc: object, steps: int | None = None) -> dict[str, Any]:
    """Begin a search in the place of the last one: its id, first plan, view and progress."""
    begun = Begun(doc, steps)
    _last[:] = [begun]
    _count[0] += 1
    answer = begun.take()
    answer["id"] = _count[0]
    answer["progress"] = begun.progress()
    return answer


def more(key: object, turns: object) -> dict[str, Any]:
    """Search on: the progress. Raises InputError for a search that is not kept."""
    begun = _kept(key)
    whole = isinstance(turns, int) and turns is not True and turns is not False
    if not isinstance(turns, int) or not whole or not 1 <= turns <= _MOST_TURNS:
        raise wrong(
            "turns", shown(turns), "turns: %s is no number of turns." % shown(turns),
            "Give 1 to %d." % _MOST_TURNS,
        )  # fmt: skip
    begun.more(turns)
    return {"progress": begun.progress()}


def take(key: object) -> dict[str, Any]:
    """The best plan so far, its view, and the progress. Raises InputError as more."""
    begun = _kept(key)
    answer = begun.take()
    answer["progress"] = begun.progress()
    return answer


def _kept(key: object) -> Begun:
    if not _last or key is True or key != _count[0]:
        raise wrong(
            "id", shown(key), "id: the search %s is not kept here." % shown(key),
            "Begin one, and go on with that before another is begun.",
        )  # fmt: skip
    return _last[0]
