"""Runs in small stacks: one, two or three neighbouring courses laid together.

A unit is a stack of graphs. Its layouts are the paths of one graph of states: whichever
run is behind goes on, and its new joint is held against where the others stand.
"""

from collections import namedtuple

from .model import Model

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

BIG = 1e30

# graphs  the graphs in the stack, from one course to the next
# arcs    list of (state, next state, item, bit): bit of the new node, graph by graph
# last    the state where all have come to their ends; count of states is last + 1
# nodes   for each state the node of each graph, as a tuple
Unit = namedtuple("Unit", "graphs arcs last nodes shift")


def stack(model: Model, graphs: tuple[int, ...]) -> Unit:
    """The unit of these graphs, one course apart each from the next."""
    gs = [model.graphs[k] for k in graphs]
    out_of = []
    for g in gs:
        row: list[list[tuple[int, int]]] = [[] for _ in g.x]
        for u, v, item in g.arcs:
            row[u].append((v, item))
        out_of.append(row)
    ends = tuple([len(g.x) - 1 for g in gs])
    shift = []
    bits = 0
    for g in gs:
        shift.append(bits)
        bits += len(g.x)
    barred = {}
    for i in range(len(gs)):
        for j in range(len(gs)):
            apart = abs(i - j)
            if 0 < apart <= model.rules.reach:
                barred[i, j] = model.barred(graphs[i], graphs[j], apart)
    start = tuple([0] * len(gs))
    layers: list[list[tuple[int, ...]]] = [[] for _ in range(sum(ends) + 1)]
    layers[0].append(start)
    seen = {start}
    number: dict[tuple[int, ...], int] = {}
    nodes: list[tuple[int, ...]] = []
    steps = []
    for layer in layers:
        layer.sort()
        for state in layer:
            number[state] = len(nodes)
            nodes.append(state)
            behind = -1
            for i in range(len(gs)):
                if state[i] < ends[i] and (
                    behind < 0 or gs[i].x[state[i]] < gs[behind].x[state[behind]]
                ):
                    behind = i
            if behind < 0:
                continue
            mask = 0
            for j in range(len(gs)):
                if (behind, j) in barred:
                    mask |= barred[behind, j][state[j]]
            for v, item in out_of[behind][state[behind]]:
                if not mask >> v & 1:
                    to = state[:behind] + (v,) + state[behind + 1 :]
                    bit = 0 if v == ends[behind] else 1 << (shift[behind] + v)
                    steps.append((state, to, item, bit))
                    if to not in seen:
                        seen.add(to)
                        layers[sum(to)].append(to)
    if ends not in number:
        return Unit(graphs, [], 0, [], shift)
    arcs = [(number[a], number[b], item, bit) for a, b, item, bit in steps]
    return Unit(graphs, _alive(arcs, number[ends]), number[ends], nodes, shift)


def _alive(arcs: "list[tuple[int, int, int, int]]", last: int) -> "list[tuple[int, int, int, int]]":
    """The arcs from which the end can be reached."""
    good = {last}
    out = []
    for arc in arcs[::-1]:
        if arc[1] in good:
            good.add(arc[0])
            out.append(arc)
    return out[::-1]


def cheapest(unit: Unit, cost: "list[Any]") -> "tuple[Any, list[int]] | None":
    """The cheapest layout as (cost, its states), or None. Of equals the first found."""
    return walk(unit.arcs, unit.last, cost)


def walk(
    arcs: "list[tuple[int, int, int, int]]", last: int, cost: "list[Any]"
) -> "tuple[Any, list[int]] | None":
    """The cheapest way over these arcs from state 0 to the last."""
    best: list[Any] = [BIG] * (last + 1)
    back = [0] * (last + 1)
    best[0] = 0
    for a, b, item, _ in arcs:
        c = best[a] + cost[item]
        if c < best[b]:
            best[b] = c
            back[b] = a
    if last == 0 or best[last] >= BIG:
        return None
    path = [last]
    while path[-1]:
        path.append(back[path[-1]])
    return best[last], path[::-1]


def joints(unit: Unit, path: list[int]) -> list[list[int]]:
    """For each graph of the stack the nodes of its joints, from the states of a path."""
    out = []
    for k in range(len(unit.graphs)):
        end = unit.nodes[unit.last][k]
        row: list[int] = []
        for state in path:
            v = unit.nodes[state][k]
            if 0 < v < end and (not row or row[-1] != v):
                row.append(v)
        out.append(row)
    return out


def stacks(model: Model) -> list[tuple[tuple[int, ...], list[list[int]]]]:
    """All runs shared out into units: (graphs, the runs of each such unit).

    Neighbours of one kind go together first, as far as the stagger reaches.
    """
    runs = model.problem.runs
    deep = min(model.rules.reach, 2) + 1
    order = sorted(range(len(runs)), key=lambda i: (runs[i].wall, runs[i].course, runs[i].left, i))
    taken = [False] * len(runs)
    found: dict[tuple[int, ...], list[list[int]]] = {}
    keys: list[tuple[int, ...]] = []
    for i in order:
        if taken[i]:
            continue
        chain = [i]
        taken[i] = True
        while True:
            here = runs[chain[-1]]
            below = [
                j
                for j, apart in model.near[chain[-1]]
                if apart == 1 and runs[j].course == here.course + 1 and not taken[j]
            ]
            if not below:
                break
            mine = model.graph_of[chain[-1]]
            below.sort(key=lambda j: (model.graph_of[j] != mine, -_shared(runs[j], here), j))
            if model.graph_of[below[0]] != mine and len(chain) % deep == 0:
                break
            chain.append(below[0])
            taken[below[0]] = True
        for k in range(0, len(chain), deep):
            part = chain[k : k + deep]
            key = tuple([model.graph_of[j] for j in part])
            if key not in found:
                found[key] = []
                keys.append(key)
            found[key].append(part)
    return [(key, found[key]) for key in keys]


def _shared(a: "Any", b: "Any") -> int:
    return int(min(a.right, b.right) - max(a.left, b.left))
