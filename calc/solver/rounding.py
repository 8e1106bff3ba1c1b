"""A start from the linear programme: its layouts, rounded to whole runs."""

from .chance import Random
from .programme import Programme
from .search import Search
from .units import joints


class Rounding:
    """The layouts of the programme's plan, to be dealt out to the runs."""

    def __init__(self, programme: Programme) -> None:
        n = len(programme.units)
        self.shares: list[list[tuple[float, list[list[int]]]]] = [[] for _ in range(n)]
        for value, name in sorted(programme.layouts(), key=lambda vn: (-vn[0], vn[1])):
            if value > 1e-6:
                unit = programme.units[name[0]]
                self.shares[name[0]].append((value, joints(unit, list(name[1:]))))

    def deal(self, unit: int, count: int, random: Random) -> list[list[list[int]]]:
        """`count` layouts of the unit, about as often as in the programme, shuffled."""
        out = []
        rest = []
        for value, layout in self.shares[unit]:
            whole = int(value + 1e-6)
            out += [layout] * whole
            rest.append((value - whole, layout))
        while len(out) < count and rest:
            total = 1e-9
            for value, _ in rest:
                total += value
            at = random.below(10000) * total / 10000
            k = 0
            while k < len(rest) - 1 and at >= rest[k][0]:
                at -= rest[k][0]
                k += 1
            out.append(rest.pop(k)[1])
        for i in range(len(out) - 1, 0, -1):
            j = random.below(i + 1)
            out[i], out[j] = out[j], out[i]
        return out[:count]


def build_rounded(
    search: Search,
    stacks: "list[tuple[tuple[int, ...], list[list[int]]]]",
    rounding: Rounding,
    random: Random,
) -> bool:
    """Lay all runs by the dealt layouts as far as neighbours allow, the others by the search."""
    later: list[list[int]] = []
    chosen: list[tuple[int, list[int]]] = []
    for k in range(len(stacks)):
        graphs, groups = stacks[k]
        left = rounding.deal(k, len(groups), random)
        for runs in groups:
            for n in range(len(left)):
                if _fits(search, runs, left[n]):
                    way = left[n]
                elif list(graphs) == list(graphs)[::-1] and _fits(search, runs, left[n][::-1]):
                    way = left[n][::-1]
                else:
                    continue
                left.pop(n)
                for run, nodes in zip(runs, way):
                    search.joints[run] = nodes
                    chosen.append((run, nodes))
                break
            else:
                later.append(runs)
    search.put_all(chosen)
    for runs in later:
        if not search.lay_all(runs) and not search.settle(
            [r for r in runs if search.joints[r] is None]
        ):
            return False
    return True


def _fits(search: Search, runs: list[int], layout: list[list[int]]) -> bool:
    """Whether the runs may have these joints for their neighbours' sake."""
    for run, nodes in zip(runs, layout):
        mask = search.blocked(run)
        if mask:
            for v in nodes:
                if mask >> v & 1:
                    return False
    return True
