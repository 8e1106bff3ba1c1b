"""How a plan looks: a score, kept course by course so that a move changes only its own.

Lower is better: 10 for the same stud two or more courses apart (as far as soft_reach), 3
for a joint nearer than `soft` to one in the next course, 2 for joints stepping by one
stud over three courses, 1 for each joint. Common practice, no source.
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    from .search import Search

SAME, NEAR, STAIR, JOINT = 10, 3, 2, 1


class Look:
    """The score of a search's plan.

    Each course of each wall is a row: the studs of its joints as bits, from the left. Rows
    without a joint stand between the walls, so that a row's neighbours are always there.
    """

    def __init__(self, search: "Search") -> None:
        self.search = search
        model = search.model
        runs = model.problem.runs
        self.reach = model.rules.soft_reach
        self.deep = max(2, self.reach)
        walls: dict[int, list[int]] = {}
        for i in range(len(runs)):
            walls[runs[i].wall] = walls.get(runs[i].wall, []) + [i]
        self.row = [0] * len(runs)
        self.bits: list[list[int]] = [[] for _ in runs]  # of each run's nodes
        self.near: list[list[tuple[int, int]]] = []  # of each row (d, bits d from one too near)
        size = self.deep
        for wall in sorted(walls):
            size += self._wall(walls[wall], size) + self.deep
        self.near += [[] for _ in range(self.deep)]
        self.rows = [0] * size
        for i in range(len(runs)):
            self.rows[self.row[i]] |= self.bits_of(i, search.joints[i] or [])
        self.parts = [self.part(row) for row in range(size - self.deep)]
        self.total = sum(self.parts)
        self.begin()

    def _wall(self, runs: list[int], first: int) -> int:
        """Give the runs of a wall their rows, from this one on. How many rows they take."""
        model = self.search.model
        seen: dict[int, int] = {}
        courses = [model.problem.runs[i].course for i in runs]
        top = min(courses)
        for i in runs:
            for number, at in model.problem.runs[i].studs:
                seen[number] = at
        order = sorted([(seen[number], number) for number in sorted(seen)])
        place = {order[k][1]: k for k in range(len(order))}
        for i in runs:
            marks = model.graphs[model.graph_of[i]].marks
            self.row[i] = first + model.problem.runs[i].course - top
            self.bits[i] = [0 if m is None else 1 << place[m[0]] for m in marks]
        near = []
        for d in range(1, len(order)):
            bits = 0
            for k in range(len(order) - d):
                if 0 < order[k + d][0] - order[k][0] < model.rules.soft:
                    bits |= 1 << k
            if bits:
                near.append((d, bits))
        count = int(max(courses) - top + 1)
        while len(self.near) < first:
            self.near.append([])
        self.near += [near for _ in range(count)]
        return count

    def bits_of(self, run: int, joints: list[int]) -> int:
        """The studs of these joints of the run."""
        of = self.bits[run]
        bits = 0
        for v in joints:
            bits |= of[v]
        return bits

    def part(self, row: int) -> int:
        """What the joints of this row score, alone and with the rows after it."""
        rows = self.rows
        mine = rows[row]
        if not mine:
            return 0
        score = JOINT * ones(mine)
        for k in range(2, self.reach + 1):
            both = mine & rows[row + k]
            if both:
                score += SAME * ones(both)
        after = rows[row + 1]
        if not after:
            return score
        for d, bits in self.near[row]:
            pair = mine & bits & after >> d
            if pair:
                score += NEAR * ones(pair)
            pair = after & bits & mine >> d
            if pair:
                score += NEAR * ones(pair)
        third = rows[row + 2]
        if third:
            up = mine & after >> 1 & third >> 2
            if up:
                score += STAIR * ones(up)
            down = mine & after << 1 & third << 2
            if down:
                score += STAIR * ones(down)
        return score

    def alone(self, run: int) -> int:
        """What the rows that this run touches score together."""
        row = self.row[run]
        return int(sum(self.parts[row - self.deep : row + 1]))

    def change(self, run: int, old: list[int], new: list[int]) -> None:
        """The run has had the joints `old` and has `new`; counted from the next settle() on."""
        row = self.row[run]
        if row not in self._rows:
            self._rows[row] = self.rows[row]
        self.rows[row] ^= self.bits_of(run, old) ^ self.bits_of(run, new)

    def settle(self) -> None:
        """Bring the score up to date with what has changed since begin()."""
        parts = self.parts
        for row in self._rows:
            for k in range(row - self.deep, row + 1):
                if k not in self._parts:
                    self._parts[k] = parts[k]
                    parts[k] = self.part(k)
                    self.total += parts[k] - self._parts[k]

    def begin(self) -> None:
        """From here on changes can be undone; settle() is called once at most."""
        self._rows: dict[int, int] = {}
        self._parts: dict[int, int] = {}

    def undo(self) -> None:
        """All as it was at begin()."""
        for row in self._rows:
            self.rows[row] = self._rows[row]
        for k in self._parts:
            self.total += self._parts[k] - self.parts[k]
            self.parts[k] = self._parts[k]
        self.begin()

    def tolls(self, run: int) -> list[int]:
        """What a joint on each node of the run would score, by its neighbours' joints."""
        row, rows = self.row[run], self.rows
        same = 0
        for k in range(2, self.reach + 1):
            same |= rows[row - k] | rows[row + k]
        above, below = rows[row - 1], rows[row + 1]
        stair = (above >> 1 & below << 1) | (above << 1 & below >> 1)
        for one, two in ((above, rows[row - 2]), (below, rows[row + 2])):
            stair |= (one >> 1 & two >> 2) | (one << 1 & two << 2)
        near = 0
        for d, bits in self.near[row]:
            for one in (above, below):
                near |= (bits & one >> d) | (one & bits) << d
        out = []
        for bit in self.bits[run]:
            score = 0
            if bit:
                score = JOINT
                if bit & same:
                    score += SAME
                if bit & near:
                    score += NEAR
                if bit & stair:
                    score += STAIR
            out.append(score)
        return out

    def counts(self) -> dict[str, int]:
        """How often each thing that scores is there."""
        out = {"same": 0, "near": 0, "stair": 0, "joints": 0}
        rows = self.rows
        for row in range(len(self.parts)):
            mine, after, third = rows[row], rows[row + 1], rows[row + 2]
            out["joints"] += ones(mine)
            for k in range(2, self.reach + 1):
                out["same"] += ones(mine & rows[row + k])
            for d, bits in self.near[row]:
                out["near"] += ones(mine & bits & after >> d) + ones(after & bits & mine >> d)
            out["stair"] += ones(mine & after >> 1 & third >> 2)
            out["stair"] += ones(mine & after << 1 & third << 2)
        return out


def ones(bits: int) -> int:
    """How many bits are set."""
    return bin(bits).count("1")
