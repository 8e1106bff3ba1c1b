"""What a job's marks say of its plan, worked out from the job alone, in fractions of a millimetre.

It shares nothing with calc but the reading of a tape. For jobs whose walls and stock are as
they were when the marks were made: every mark fits.
"""

from fractions import Fraction

from tests.wall_facts import JOT

STATES = ("whole", "begun", "rejected")


class Marked:
    """runs: (wall, course, run) -> the joints it keeps; cut: (wall, course, run, piece) -> its
    mark; called: the same -> length; boards: number -> _Board; shorts: id -> mark. Walls by
    their place in the job, from 1, as all else.
    """

    def __init__(self, job, facts):
        done = job.get("done", {})
        ids = [w.get("id") or str(i) for i, w in enumerate(job["walls"], 1)]
        self.lines = [s.get("id") or str(i) for i, s in enumerate(job["board"]["stock"], 1)]
        self.facts, self.runs, self.cut, self.called, self.boards = facts, {}, {}, {}, {}
        self.shorts = {}
        for key in ("cut", "called"):
            for n, mark in enumerate(done.get(key, []), 1):
                place = (ids.index(mark["wall"]) + 1, mark["course"], mark["run"])
                self.runs[place] = [facts.mm(x) for x in mark["joints"]]
                if key == "called":
                    self.called[*place, mark["piece"]] = facts.mm(mark["length"])
                    continue
                board = self._board(mark)
                if mark["state"] == "short":
                    board.lost += facts.mm(mark["length"]) + facts.kerf
                    self.shorts[mark.get("id") or str(n)] = mark
                else:
                    self.cut[*place, mark["piece"]] = mark
                    board.cuts.append(mark["name"])
        for mark in done.get("rejected", []):
            self._board(mark).rejected = True
        self.names = {mark["name"] for mark in self.cut.values()}

    def _board(self, mark):
        number = mark["board"]
        if number not in self.boards:
            line = self.lines.index(mark["line"]) if "line" in mark else None
            stock = self.facts.mm(mark["stock"])
            self.boards[number] = _Board(stock, line, mark.get("from", ""))
        return self.boards[number]

    def used(self, line):
        """How many boards of the stock line, from 1, are begun or no good."""
        return sum(b.line == line - 1 for b in self.boards.values())

    def sunk(self, cost_of):
        return sum(
            (cost_of(b.line + 1) for b in self.boards.values() if b.line is not None), Fraction(0)
        )

    def left(self, number, board):
        """What may still be cut from the board of that number; board: of the plan."""
        known = self.boards.get(number)
        if known is not None and known.rejected:
            return Fraction(0)
        trim = 0 if board["short"] else 2 * self.facts.trim
        room = Fraction(str(board["stock"])) - trim
        if known is not None:
            marks = [m for m in self.cut.values() if m["board"] == number]
            room -= known.lost + sum(self.facts.mm(m["length"]) + self.facts.kerf for m in marks)
        return max(room, Fraction(0))


class _Board:
    def __init__(self, stock, line, short):
        self.stock, self.line, self.short = stock, line, short
        self.lost, self.cuts, self.rejected = Fraction(0), [], False


def check_marks(marked, plan, pieces, faults):
    """Every cut piece is where and as it was, every call is answered, every board its own."""
    seen, calls = set(), set()
    for w, wall in enumerate(plan["walls"], 1):
        for course in wall["courses"]:
            for r, run in enumerate(course["runs"], 1):
                place = (w, course["number"], r)
                joints = [Fraction(str(j["at"])) for j in run["joints"]]
                if place in marked.runs and joints != marked.runs[place]:
                    faults.append(f"kept: the joints of {place} are {run['joints']}")
                for k, key in enumerate(run["pieces"], 1):
                    p = pieces.get(key)
                    if p is not None:
                        _check_piece(marked, (*place, k), p, faults)
                        seen.add((*place, k)) if p["state"] == "cut" else None
                        calls.add((*place, k)) if p["called"] is not None else None
    if seen != set(marked.cut):
        faults.append(f"kept: cut are {sorted(seen)}")
    if calls != set(marked.called):
        faults.append(f"called: {sorted(calls)}")
    boards = {b["number"]: b for b in plan["boards"]}
    for number, known in marked.boards.items():
        b = boards.get(number)
        if b is None or Fraction(str(b["stock"])) != known.stock or b["short"] != known.short:
            faults.append(f"kept: board {number} is {b}")
            continue
        state = "rejected" if known.rejected else "begun"
        if b["state"] != state or b["cuts"][: len(known.cuts)] != known.cuts:
            faults.append(f"kept: board {number} is {b['state']}, {b['cuts']}")
        if known.rejected and len(b["cuts"]) > len(known.cuts):
            faults.append(f"rejected: board {number} is cut")
        if Fraction(str(b["lost"])) != known.lost:
            faults.append(f"lost: board {number} has lost {b['lost']}")


def _check_piece(marked, place, p, faults):
    mark = marked.cut.get(place)
    if (p["state"] == "cut") != (mark is not None):
        faults.append(f"kept: {p['id']} is {p['state']}")
    if mark is not None and (
        p["id"] != mark["name"]
        or p["board"] != mark["board"]
        or Fraction(str(p["sawn"])) != marked.facts.mm(mark["length"])
    ):
        faults.append(f"kept: {p['id']} of {p['board']} is sawn to {p['sawn']}")
    want = marked.called.get(place)
    if (None if p["called"] is None else Fraction(str(p["called"]))) != want:
        faults.append(f"called: {p['id']} is {p['called']}")


def sawn(piece):
    """What the piece is sawn to, in mm."""
    for key in ("sawn", "called"):
        if piece[key] is not None:
            return Fraction(str(piece[key]))
    over = sum(Fraction(str(x)) for x in piece["over"].values())
    return Fraction(str(piece["length"])) + over


def jots(mm):
    return round(Fraction(str(mm)) / JOT)
