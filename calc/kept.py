"""The plan that is cut by, held on to: whether it still serves the job now that more is done.

What is cut as planned changes nothing else. Only where the plan no longer holds, as a board
that is no good leaves it, must another be searched for.
"""

from .job import read_job
from .lengths import from_mm
from .plan import document, laid_of, walls_of
from .proof import KINDS
from .solver.bounds import Bounds
from .solver.given import Answer
from .solver.keeping import Keeping
from .solver.model import LACK, WHOLE, Model
from .solver.units import stack, stacks
from .view import view

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from .job import Job
    from .task import Laid
    from .walls import Built

    Held = list[tuple[int, int]]
else:
    Any = object
    Held = list


def kept(doc: object, plan: dict[str, Any]) -> dict[str, Any]:
    """{"plan", "view"} of the job by the joints and boards of this plan, or both None.

    doc: the job the plan was made for, with other marks. None where the plan does not hold any
    more, or where a mark was taken back that it was made by. Raises InputError as plan.make.
    """
    job = read_job(doc)
    built = walls_of(job)
    laid = laid_of(job, built)
    answer = None if _taken_back(laid, plan) else _Kept(job, built, laid, plan).answer()
    if answer is None:
        return {"plan": None, "view": None}
    made = document(job, built, laid, answer)
    if made["cost"]["by"] != plan["cost"]["by"] or made["cost"]["total"] > plan["cost"]["total"]:
        return {"plan": None, "view": None}
    return {"plan": made, "view": view(made)}


def _taken_back(laid: "Laid", plan: dict[str, Any]) -> bool:
    """Whether the plan was made by a call, a rejected board or a short piece that is no more."""
    boards = [] if laid.marks is None else laid.marks.boards
    lost = {b.number: b.lost for b in boards}
    bad = [b.number for b in boards if b.rejected]
    for b in plan["boards"]:
        if b["state"] == "rejected" and b["number"] not in bad:
            return True
        if from_mm(b["lost"]) > lost.get(b["number"], 0):
            return True
    called = 0 if laid.marks is None else len(laid.marks.called)
    return len([1 for p in plan["pieces"] if p["called"] is not None]) > called


class _Kept:
    """The plan as an answer of the solver to the job as it is now."""

    def __init__(
        self, job: "Job", built: "list[Built]", laid: "Laid", plan: dict[str, Any]
    ) -> None:
        self.job, self.built, self.laid, self.plan = job, built, laid, plan
        self.model = Model(laid.problem)
        self.nodes: list[list[int]] = [[] for _ in laid.problem.runs]  # ends and joints
        self.held: dict[int, Held] = {}  # of each board of the plan, what is still to be cut
        self.cost = self.model.sunk

    def answer(self) -> Answer | None:
        """The Answer, or None where the plan does not hold."""
        if not self._lay() or not self._apart():
            return None
        boards = self._boards()
        if boards is None:
            return None
        model = self.model
        joints = [
            [model.graphs[model.graph_of[i]].marks[v] for v in self.nodes[i][1:-1]]
            for i in range(len(self.nodes))
        ]
        proof = self._proof()
        proven = self.cost == proof.cost
        return Answer(joints, boards, self.cost, proof.cost, proven, proof, 0, 0, [])

    def _lay(self) -> bool:
        """Give each run the joints of the plan's; False where it can't have them."""
        runs = self.laid.problem.runs
        cut = {} if self.laid.marks is None else self.laid.marks.cut
        board = {p["id"]: p["board"] for p in self.plan["pieces"]}
        rows: dict[tuple[int, int], list[Any]] = {}
        for w, wall in enumerate(self.plan["walls"]):
            for c in wall["courses"]:
                rows[w, c["number"]] = list(c["runs"])
        for i in sorted(range(len(runs)), key=lambda i: (runs[i].left, runs[i].right, i)):
            run = runs[i]
            number = self.built[run.wall].courses[run.course].number
            row = rows.get((run.wall, number))
            if not row:
                return False
            told = row.pop(0)
            if (from_mm(told["left"]), from_mm(told["right"])) != (run.left, run.right):
                return False
            graph = self.model.graphs[self.model.graph_of[i]]
            at = {graph.x[v]: v for v in range(1, len(graph.x) - 1)}
            inner = [at.get(from_mm(j["at"]), -1) for j in told["joints"]]
            nodes = self.nodes[i] = [0] + inner + [len(graph.x) - 1]
            steps = {(u, v) for u, v, _ in graph.arcs}
            for k in range(len(nodes) - 1):
                if (nodes[k], nodes[k + 1]) not in steps:
                    return False
                if (i, k) not in cut:
                    n = board[told["pieces"][k]]
                    self.held[n] = self.held.get(n, []) + [(i, k)]
        return not [1 for key in rows if rows[key]]

    def _apart(self) -> bool:
        """Whether the joints of neighbours agree."""
        model = self.model
        for i in range(len(self.nodes)):
            for j, apart in model.near[i]:
                table = model.barred(model.graph_of[i], model.graph_of[j], apart)
                for v in self.nodes[j][1:-1]:
                    if [1 for u in self.nodes[i][1:-1] if table[v] >> u & 1]:
                        return False
        return True

    def _boards(self) -> "list[tuple[int, Held]] | None":
        """The solver's boards, those begun first; None where one does not give what is on it."""
        given, model = self.laid.problem, self.model
        begun = [] if self.laid.marks is None else self.laid.marks.boards
        at = {b.number: n for n, b in enumerate(begun) if b.number}
        at_short = {b.source: n for n, b in enumerate(begun) if not b.number}
        out: list[tuple[int, Held]] = [(c.stock, list(c.pieces)) for c in given.cuts]
        stores = {s.origin: t for t, s in enumerate(model.stores)}
        used = [0] * len(model.stores)
        keeping = Keeping(model) if model.rules.kept is not None else None
        for b in sorted(self.plan["boards"], key=lambda b: b["number"]):
            held = self.held.pop(b["number"], [])
            if not held:
                continue
            n = at.get(b["number"], at_short.get(b["short"], -1) if b["short"] else -1)
            if n >= 0:
                origin = -1 - n
                out[n] = (out[n][0], out[n][1] + held)
            else:
                origin = self._stock(b)
                out.append((origin, held))
            t = stores.get(origin, -1)
            if t < 0 or not self._fits(t, held):
                return None
            s = model.stores[t]
            used[t] += 1
            if s.count is not None and used[t] > s.count:
                return None
            self.cost += s.cost
            if keeping is not None:
                keeping.change((t, 0, tuple([(i, k, 0) for i, k in held])), 1)
        if self.held or (keeping is not None and max(keeping.waiting) > keeping.most):
            return None
        return out

    def _stock(self, b: dict[str, Any]) -> int:
        """Which of the solver's stock a board of the plan is; out of all if none is."""
        lines = self.laid.lines
        line = (b["line"] or 0) - 1
        stock = self.job.board.stock
        if line in lines and from_mm(b["stock"]) == stock[line].length:
            return int(lines.index(line))
        return LACK

    def _fits(self, store: int, held: Held) -> bool:
        s = self.model.stores[store]
        room, ends = s.cap, s.gone
        for i, k in held:
            graph = self.model.graphs[self.model.graph_of[i]]
            steps = {(u, v): item for u, v, item in graph.arcs}
            item = steps[self.nodes[i][k], self.nodes[i][k + 1]]
            weight, kind = self.model.weight[item], self.model.kind[item]
            if kind == WHOLE:
                return len(held) == 1 and s.whole + self.model.rules.kerf == weight
            if kind & ends:
                return False
            room, ends = room - weight, ends | kind
        return bool(room >= 0)

    def _proof(self) -> Any:
        """What the plan's own prices prove of the job as it is now.

        A length that was called has the price of the next shorter one that has any.
        """
        model = self.model
        told: list[list[tuple[int, int]]] = [[] for _ in KINDS]
        for p in self.plan["certificate"]["prices"]:
            told[KINDS.index(p["kind"])].append((from_mm(p["length"]), p["price"]))
        prices = [0]
        for i in range(1, len(model.weight)):
            length = model.weight[i] - model.rules.kerf
            prices.append(max([p for n, p in told[model.kind[i]] if n <= length] + [0]))
        groups = stacks(model)
        bounds = Bounds(model, groups, [stack(model, key) for key, _ in groups])
        kerf = model.rules.kerf
        if [1 for rows in told for n, p in rows if p != n + kerf]:
            bounds.offer(prices)
        else:
            bounds.by_length()
        return bounds.best
