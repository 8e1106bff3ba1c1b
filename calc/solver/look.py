"""How a plan looks, and the search for a better look that costs no more.

Lower is better: 10 for the same stud two or more courses apart (as far as soft_reach), 3
for a joint nearer than `soft` to one in the next course, 2 for joints stepping by one
stud over three courses, 1 for each joint. Common practice, no source.
"""

from .chance import WAITS
from .search import Search, way_with

SAME, NEAR, STAIR, JOINT = 10, 3, 2, 1


class Look:
    """The score of a search's plan, kept by courses so that a move changes only its own."""

    def __init__(self, search: Search) -> None:
        self.search = search
        model = search.model
        self.rules = model.rules
        runs = model.problem.runs
        self.rows: dict[tuple[int, int], list[int]] = {}
        self.order: dict[int, list[int]] = {}  # stud numbers of each wall, left to right
        seen: dict[int, dict[int, int]] = {}
        for i in range(len(runs)):
            key = (runs[i].wall, runs[i].course)
            self.rows[key] = self.rows.get(key, []) + [i]
            studs = seen.get(runs[i].wall, {})
            for number, at in runs[i].studs:
                studs[number] = at
            seen[runs[i].wall] = studs
        self.place: dict[tuple[int, int], int] = {}
        for wall in sorted(seen):
            numbers = sorted([(seen[wall][number], number) for number in sorted(seen[wall])])
            for k in range(len(numbers)):
                self.place[wall, numbers[k][1]] = k
        self.deep = max(2, self.rules.soft_reach)
        self.parts = {key: self.part(key) for key in sorted(self.rows)}
        self.total = sum(self.parts.values())

    def joints(self, wall: int, course: int) -> list[tuple[int, int]]:
        """The (place of the stud from the left, at) of each joint of the course."""
        out = []
        model = self.search.model
        for run in self.rows.get((wall, course), []):
            g = model.graphs[model.graph_of[run]]
            for v in self.search.joints[run] or []:
                out.append((self.place[wall, g.marks[v][0]], g.at[v]))
        return out

    def part(self, key: tuple[int, int]) -> int:
        """What the joints of this course score, alone and with the courses after it."""
        wall, course = key
        mine = self.joints(wall, course)
        score = JOINT * len(mine)
        if not mine:
            return score
        rows = [self.joints(wall, course + k) for k in range(1, self.deep + 1)]
        soft = self.rules.soft
        for _, x in mine:
            for _, y in rows[0]:
                if 0 < abs(x - y) < soft:
                    score += NEAR
        after = {k for k, _ in rows[0]}
        third = {k for k, _ in rows[1]}
        for k, _ in mine:
            for d in (-1, 1):
                if k + d in after and k + 2 * d in third:
                    score += STAIR
        for n in range(2, self.rules.soft_reach + 1):
            theirs = {k for k, _ in rows[n - 1]}
            score += SAME * len([1 for k, _ in mine if k in theirs])
        return score

    def touched(self, runs: list[int]) -> list[tuple[int, int]]:
        """The courses whose part changes with these runs."""
        keys = set()
        for run in runs:
            r = self.search.model.problem.runs[run]
            for k in range(self.deep + 1):
                if (r.wall, r.course - k) in self.parts:
                    keys.add((r.wall, r.course - k))
        return sorted(keys)

    def tolls(self, run: int) -> list[float]:
        """What a joint on each node of the run would score, by its neighbours' joints."""
        model = self.search.model
        r = model.problem.runs[run]
        g = model.graphs[model.graph_of[run]]
        around = {
            k: self.joints(r.wall, r.course + k) for k in range(-self.deep, self.deep + 1) if k
        }
        places = {k: {p for p, _ in around[k]} for k in sorted(around)}
        out = [0.0]
        for v in range(1, len(g.x) - 1):
            at = g.at[v]
            p = self.place[r.wall, g.marks[v][0]]
            score = float(JOINT)
            for side in (-1, 1):
                for _, x in around[side]:
                    if 0 < abs(x - at) < self.rules.soft:
                        score += NEAR
                for k in range(2, self.rules.soft_reach + 1):
                    if p in places[side * k]:
                        score += SAME
                for d in (-1, 1):
                    if p + d in places[side] and p + 2 * d in places[2 * side]:
                        score += STAIR
            for d in (-1, 1):
                if p + d in places[1] and p - d in places[-1]:
                    score += STAIR
            out.append(score)
        out.append(0.0)
        return out

    def improve(self, moves: int, cap: int) -> int:
        """Make `moves` moves, keeping what costs at most `cap` and looks no worse, or hardly."""
        search = self.search
        random = search.random
        price = 60.0 / max(search.toll_of_board(), 1.0)
        best = self.total
        search.keep()
        for _ in range(moves):
            runs = self.pick()
            search.log = {}
            keys = self.touched(runs)
            old = [(r, search.joints[r], search.cuts[r]) for r in runs]
            before = [(k, self.parts[k]) for k in keys]
            was = self.total
            if self.move(runs, price * (1 + random.below(4))):
                search.shrink()
                if search.cost <= cap:
                    for k in keys:
                        now = self.part(k)
                        self.total += now - self.parts[k]
                        self.parts[k] = now
                    if self.total <= was + int(1.5 * WAITS[random.below(512)]):
                        if self.total < best or (
                            self.total == best and search.cost < search.best_cost
                        ):
                            best = self.total
                            search.keep()
                        continue
            search.undo(old)
            for k, part in before:
                self.parts[k] = part
            self.total = was
        return best

    def pick(self) -> list[int]:
        """A run of a course that scores much, some of its neighbours, and who shares a board."""
        search = self.search
        random = search.random
        most, chosen = -1, 0
        for _ in range(3):
            run = random.below(len(search.joints))
            r = search.model.problem.runs[run]
            if self.parts[r.wall, r.course] > most:
                most, chosen = self.parts[r.wall, r.course], run
        out = [chosen]
        near = search.near[chosen]
        for _ in range(random.below(3)):
            if near:
                j = near[random.below(len(near))][0]
                if j not in out:
                    out.append(j)
        for b in search.cuts[chosen]:
            board = search.boards[b] if b >= 0 else None
            if board is not None and len(out) < 5 and random.below(2):
                for h in board[2]:
                    if h[0] not in out and len(out) < 5:
                        out.append(h[0])
        return out

    def move(self, runs: list[int], price: float) -> bool:
        """Lay these runs again by cost and look."""
        search = self.search
        for run in runs:
            search.take(run)
        todo = list(runs)
        while todo:
            run = todo.pop(search.random.below(len(todo)))
            graph = search.model.graph_of[run]
            mask = search.blocked(run)
            arcs = search.arcs[graph]
            if mask:
                arcs = [a for a in arcs if not a[3] & mask]
            cost = [c * price for c in search.costs(graph)]
            last = len(search.model.graphs[graph].x) - 1
            path = way_with(arcs, last, cost, self.tolls(run))
            if path is None:
                return False
            search.put(run, path)
        return True
