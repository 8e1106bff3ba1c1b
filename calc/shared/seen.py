"""Which writes a copy knows of: {writer: [[first, last], ...]}, runs of numbers that it has seen.

A writer numbers its writes upwards; (writer, number) names one write for ever.
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    Seen = dict[str, list[list[int]]]


def has(seen: "Seen", writer: str, number: int) -> bool:
    """Whether that write is among them. Errors: none."""
    return [1 for first, last in seen.get(writer, []) if first <= number <= last] != []


def union(a: "Seen", b: "Seen") -> "Seen":
    """Whatever one of the two has seen. Errors: none."""
    out = {}
    for writer in sorted(set(a) | set(b)):
        out[writer] = _joined(sorted(a.get(writer, []) + b.get(writer, [])))
    return out


def with_writes(seen: "Seen", writes: list[tuple[str, int]]) -> "Seen":
    """`seen` and these writes, each (writer, number). Errors: none."""
    more: Seen = {}
    for writer, number in writes:
        more[writer] = _joined(sorted(more.get(writer, []) + [[number, number]]))
    return union(seen, more)


def top(seen: "Seen") -> int:
    """The largest number of any writer, 0 where there is none. Errors: none."""
    return max([0] + [seen[writer][-1][1] for writer in sorted(seen)])


def covers(seen: "Seen", other: "Seen") -> bool:
    """Whether every write of `other` is in `seen`. Errors: none."""
    return union(seen, other) == union(seen, {})


def _joined(runs: list[list[int]]) -> list[list[int]]:
    """Runs in order, those that touch made one."""
    out: list[list[int]] = []
    for first, last in runs:
        if out and first <= out[-1][1] + 1:
            out[-1] = [out[-1][0], max(out[-1][1], last)]
        else:
            out.append([first, last])
    return out
