"""Where joints may stand: each run as a graph from its left end over the studs to its right.

Nodes are the left end, each usable stud and the right end; an arc is a piece;
a layout of the run is a path. Piece k of a run lies between joints k-1 and k.
"""

from collections import namedtuple

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Collection
    from typing import Any

# One stretch of one course, from end to end, jots from the wall's left corner.
# wall, course  0-based
# studs         list of (number, at) of the studs that may carry a joint
Run = namedtuple("Run", "wall course left right studs")

# What every piece and joint must keep, in jots: joint_gap at each joint (half
# off either piece), shortest beside a joint, longest at all, stagger between
# joints of neighbouring courses.
Limits = namedtuple("Limits", "joint_gap shortest longest stagger")

# x     jots of each node, left end first, right end last
# studs the stud number of each node, 0 for the two ends
# arcs  for each node the list of (next node, piece length)
Graph = namedtuple("Graph", "x studs arcs")


def graph(run: Run, limits: Limits) -> Graph:
    """The run's graph under the limits. Errors: none; it may have no path."""
    inside = [s for s in run.studs if run.left < s[1] < run.right]
    x = [run.left] + [at for _, at in inside] + [run.right]
    numbers = [0] + [number for number, _ in inside] + [0]
    end = len(x) - 1
    half = limits.joint_gap // 2  # of an odd gap the piece on the right loses the odd jot
    arcs = []
    for u in range(end):
        left = x[u] + (limits.joint_gap - half if u else 0)
        out = []
        for v in range(u + 1, end + 1):
            length = x[v] - (half if v < end else 0) - left
            if length > limits.longest:
                break
            if length > 0 and (length >= limits.shortest or (u == 0 and v == end)):
                out.append((v, length))
        arcs.append(out)
    arcs.append([])
    return Graph(x, numbers, arcs)


def one(
    g: Graph, cost: "dict[int, Any]", blocked: "Collection[int]"
) -> "tuple[Any, list[int]] | None":
    """The cheapest path as (cost, its joints' nodes), or None where there is none.

    cost: piece length -> cost of 0 or more; blocked: nodes no joint may use. Of paths
    that cost the same, the one whose joints stand first to the left.
    """
    end = len(g.x) - 1
    best: list[Any] = [-1] * (end + 1)
    back = [-1] * (end + 1)
    best[0] = 0
    for u in range(end):
        so_far = best[u]
        if so_far < 0:
            continue
        for v, length in g.arcs[u]:
            if v in blocked:
                continue
            c = so_far + cost[length]
            if best[v] < 0 or c < best[v]:
                best[v] = c
                back[v] = u
    if best[end] < 0:
        return None
    return best[end], _trace(back, end)


def _trace(back: list[int], end: int) -> list[int]:
    path = []
    v = back[end]
    while v > 0:
        path.append(v)
        v = back[v]
    return path[::-1]


def two(
    g: Graph,
    cost: "dict[int, Any]",
    stagger: int,
    blocked: "Collection[int]" = (),
    blocked_too: "Collection[int]" = (),
) -> "tuple[Any, list[int], list[int]] | None":
    """The cheapest two paths that may lie in neighbouring courses: (cost, joints, joints).

    Whichever path is behind goes on, and its new joint is held against the
    other's last one: an earlier one of the other cannot be nearer. None where
    no two paths agree. blocked, blocked_too: nodes without a joint in the first
    and in the second path.
    """
    end = len(g.x) - 1
    side = end + 1
    best: list[Any] = [-1] * (side * side)
    back = [-1] * (side * side)
    best[0] = 0
    x = g.x
    barred = [v in blocked for v in range(side)]
    barred_too = [v in blocked_too for v in range(side)]
    for u in range(side):
        for v in range(side):
            at = u * side + v
            so_far = best[at]
            if so_far < 0:
                continue
            # the one behind goes on; a joint nearer than the stagger to the other's last is barred
            mine = u <= v and u < end
            behind, ahead = (u, v) if mine else (v, u)
            from_x, to_x = x[ahead] - stagger, x[ahead] + stagger
            for w, length in g.arcs[behind]:
                if (barred if mine else barred_too)[w]:
                    continue
                if w < end and 0 < ahead < end and (w == ahead or from_x < x[w] < to_x):
                    continue
                c = so_far + cost[length]
                to = w * side + v if mine else u * side + w
                if best[to] < 0 or c < best[to]:
                    best[to] = c
                    back[to] = at
    at = side * side - 1
    if best[at] < 0:
        return None
    total = best[at]
    first: list[int] = []
    second: list[int] = []
    while at > 0:
        u, v = divmod(at, side)
        if 0 < u < end and u not in first:
            first.append(u)
        if 0 < v < end and v not in second:
            second.append(v)
        at = back[at]
    return total, first[::-1], second[::-1]


def pieces(g: Graph, joints: list[int]) -> list[tuple[int, int, int]]:
    """(left node, right node, length) of each piece of a layout, left to right."""
    out = []
    nodes = [0] + joints + [len(g.x) - 1]
    for k in range(len(nodes) - 1):
        for v, length in g.arcs[nodes[k]]:
            if v == nodes[k + 1]:
                out.append((nodes[k], v, length))
    return out


def feasible(g: Graph, courses: int, stagger: int) -> bool:
    """Whether `courses` neighbouring courses of this run can all be laid.

    Two paths that agree can take turns, so two courses answer for any more.
    """
    cost = free(g)
    if courses < 2:
        return one(g, cost, ()) is not None
    return two(g, cost, stagger) is not None


def free(g: Graph) -> "dict[int, int]":
    """A cost of 0 for each piece length of the graph."""
    return {length: 0 for out in g.arcs for _, length in out}
