"""What is marked as done, held against the walls as they are surveyed now.

What fits binds the plan: a run with a piece that was cut keeps its joints, a board that was
begun has what is left of it. What no longer fits is told of, and the board it came from has
lost it all the same.
"""

from collections import namedtuple

from .begunboards import begun_boards
from .called import FAR, off_text
from .lengths import JOTS_PER_INCH, show
from .solver.given import Run

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .done import Cut, Place
    from .job import Job
    from .strips import Strip
    from .walls import Built

# runs      the solver's runs, those that are partly up with the joints they have
# boards    list of BegunBoard: begun, rejected, or the piece that came short
# cut       (run, piece) -> jots it was sawn to; called: (run, piece) -> jots called for it
# names     (run, piece) -> what is pencilled on it
# warnings  sentences
Marks = namedtuple("Marks", "runs boards cut called names warnings")

# A joint so far off its stud's centre leaves less than half an inch of it to one board. From a
# stud an inch and a half thick.
_OFF = JOTS_PER_INCH // 4
_HAIR = JOTS_PER_INCH // 32  # what "heavy" is worth


def marks_of(
    job: "Job", built: "list[Built]", strips: "list[Strip]", runs: list[Run], priced: bool
) -> Marks:
    """How what is marked binds these runs, one for each strip. Errors: none."""
    done = job.done
    finder = _Finder(job, built, strips, runs)
    cut: dict[tuple[int, int], Cut] = {}
    where: list[tuple[int, int] | None] = []  # of each piece marked, where it hangs
    for mark in done.cut:
        at = finder.bind(mark.place)
        told = "Piece %s from board %d" % (mark.name or finder.told(mark.place), mark.board.number)
        if at is None:
            finder.say(
                "%s does not fit the wall any more: %s. It is planned anew: hang it if it serves, "
                "or correct the survey." % (told, finder.why)
            )
        elif mark.state == "cut" and at in cut:
            finder.twice(told, cut[at].board.number == mark.board.number)
            if cut[at].board.number == mark.board.number:
                where.append(at)
                continue
            at = None
        elif mark.state == "cut":
            cut[at] = mark
        where.append(at)
    called: dict[tuple[int, int], int] = {}
    for call in done.called:
        at = finder.bind(call.place)
        if at is None:
            finder.say(
                "The length called for %s is not used: %s. Call it again."
                % (finder.told(call.place), finder.why)
            )
        else:
            called[at] = call.length
    finder.stretch(called)
    lengths = {at: cut[at].length or finder.length(at) for at in cut}
    finder.changed(cut)
    finder.far(called, cut)
    boards, told_of = begun_boards(job, finder, cut, where, lengths, priced)
    names = {at: cut[at].name for at in cut if cut[at].name}
    return Marks(finder.runs, boards, lengths, called, names, finder.warnings + told_of)


class _Finder:
    """The runs of the job, found by what a mark says of them, and bound by it."""

    def __init__(
        self, job: "Job", built: "list[Built]", strips: "list[Strip]", runs: list[Run]
    ) -> None:
        self.job = job
        self.built = built
        self.strips = strips
        self.runs = list(runs)
        self.bound: dict[int, list[int]] = {}
        self.warnings: list[str] = []
        self.why = ""
        self._rows: dict[tuple[str, int], list[int]] = {}
        for i in sorted(range(len(strips)), key=lambda i: (strips[i].left, strips[i].right, i)):
            s = strips[i]
            number = built[s.wall].courses[s.course].number
            key = (job.ids[job.walls[s.wall].index], number)
            self._rows[key] = self._rows.get(key, []) + [i]
        self._measured = [job.ids[w.index] for w in job.walls]

    def say(self, text: str) -> None:
        self.warnings.append(text)

    def told(self, place: "Place") -> str:
        """The piece in words: "course 9, piece 2"."""
        text = "course %d, piece %d" % (place.course, place.piece)
        if place.run > 1:
            text += " of run %d" % place.run
        if self.job.count > 1 and place.wall in self._measured:
            wall = self.job.walls[self._measured.index(place.wall)]
            text = "%s, %s" % (wall.name, text)
        return text

    def bind(self, place: "Place") -> tuple[int, int] | None:
        """The (run, piece) of the place, its run bound to its joints; None, and why, if none is."""
        i = self._found(place)
        if i is None:
            return None
        if i not in self.bound:
            run = self._with(i, place.joints)
            if run is None:
                return None
            self.bound[i] = place.joints
            self.runs[i] = run
            self._off(i, place)
        if self.bound[i] != place.joints:
            self.why = "another piece of its run was cut for other joints"
            return None
        return i, place.piece - 1

    def _found(self, place: "Place") -> int | None:
        if place.wall not in self._measured:
            known = place.wall in self.job.ids
            self.why = "its wall is not all measured" if known else "its wall is gone"
            return None
        rows = self._rows.get((place.wall, place.course), [])
        if place.run > len(rows):
            self.why = "there is no such course there" if not rows else "its run is gone"
            return None
        return int(rows[place.run - 1])

    def _with(self, i: int, joints: list[int]) -> Run | None:
        """The run with these joints, each told by the stud it is nearest to."""
        run, studs = self.runs[i], self.strips[i].spare
        ends = [run.left] + joints + [run.right]
        gap = self.job.rules.joint_gap
        if [1 for n in range(len(joints) + 1) if ends[n + 1] - ends[n] <= gap]:
            self.why = "its joints are not on the run as it is now"
            return None
        if joints and not studs:
            self.why = "no stud is behind its run"
            return None
        marks = []
        for x in joints:
            number, at = min(studs, key=lambda s: (abs(s[1] - x), s[0]))
            marks.append((number, x - at))
        return Run(run.wall, run.course, run.left, run.right, studs, run.more, marks)

    def _off(self, i: int, place: "Place") -> None:
        """Tell of joints that lie beside their stud."""
        for (number, offset), x in zip(self.runs[i].joints, place.joints):
            if abs(offset) > _OFF:
                unit = self.job.unit
                self.say(
                    "Course %d: the joint at %s, cut already, is %s off stud %d as surveyed now: "
                    "set a block behind it, or correct the stud."
                    % (place.course, show(x, unit), show(abs(offset), unit), number)
                )

    def length(self, at: tuple[int, int]) -> int:
        """Jots to which the piece of a bound run is sawn: as called, else as surveyed."""
        i, k = at
        run, joints, gap = self.runs[i], self.bound[i], self.job.rules.joint_gap
        left = joints[k - 1] + gap - gap // 2 if k else run.left - run.more[0]
        right = joints[k] - gap // 2 if k < len(joints) else run.right + run.more[1]
        return int(right - left)

    def stretch(self, called: dict[tuple[int, int], int]) -> None:
        """Let the pieces called have their length: their run ends so much farther out."""
        for at in sorted(called):
            i, k = at
            r = self.runs[i]
            last = k == len(self.bound[i])
            more = [0 if last else r.more[0], r.more[1] if not last else 0]
            if k and last:
                more[0] = r.more[0]
            self.runs[i] = Run(r.wall, r.course, r.left, r.right, r.studs, (0, 0), r.joints)
            d = called[at] - self.length(at)
            more[1 if last else 0] = d
            self.runs[i] = Run(r.wall, r.course, r.left, r.right, r.studs, tuple(more), r.joints)

    def far(self, called: dict[tuple[int, int], int], cut: "dict[tuple[int, int], Cut]") -> None:
        """Tell of lengths called that are far off the wall as surveyed, and not cut yet."""
        for at in sorted(called):
            r, unit = self.runs[at[0]], self.job.unit
            d = r.more[1 if at[1] == len(self.bound[at[0]]) else 0]
            if at not in cut and abs(d) > FAR:
                self.say(
                    "Course %d: %s was called, %s: measure again before it is cut."
                    % (self.built[r.wall].courses[r.course].number, show(called[at], unit),
                       off_text(d, unit))
                )  # fmt: skip

    def changed(self, cut: "dict[tuple[int, int], Cut]") -> None:
        """Tell of pieces that the wall as surveyed now asks for in another length."""
        for at in sorted(cut):
            mark, unit = cut[at], self.job.unit
            asked = self.length(at)
            if mark.length is not None and abs(mark.length - asked) > _HAIR:
                self.say(
                    "Piece %s was cut to %s; the wall asks for %s now: try it before more of its "
                    "course is cut."
                    % (mark.name or self.told(mark.place), show(mark.length, unit),
                       show(asked, unit))
                )  # fmt: skip

    def twice(self, told: str, same: bool) -> None:
        if same:
            self.say("%s is marked as cut twice and counts once: take one mark back." % told)
        else:
            self.say(
                "%s is one more than is needed, as the piece was cut from another board too: it "
                "is spare." % told
            )
