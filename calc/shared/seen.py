"""Which writes a copy knows of: {writer: [[first, last], ...]}, runs of numbers that it has seen.

A change of a person writes many fields at once, each under a number of its own: change k of a
writer has the numbers from k * SIZE on, all of them seen with it. A writer numbers its changes
upwards; (writer, number) names one write for ever.
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    Runs = list[list[int]]
    Seen = dict[str, Runs]

SIZE = 1 << 16  # numbers of one change: fields that it may write
# An id of a new item is made of writer and change, and fits; a browser's numbers are exact.
LAST_CHANGE = 999999999


def has(seen: "Seen", writer: str, number: int) -> bool:
    """Whether that write is among them. Errors: none."""
    runs = seen.get(writer)
    if not runs:
        return False
    low, high = 0, len(runs)
    while low < high:
        middle = (low + high) // 2
        if runs[middle][1] < number:
            low = middle + 1
        else:
            high = middle
    return low < len(runs) and runs[low][0] <= number


def of(runs: list[tuple[str, int, int]]) -> "Seen":
    """Each (writer, first, last) seen, and nothing else. Errors: none."""
    out: Seen = {}
    for writer, first, last in runs:
        out[writer] = _joined(out.get(writer, []), [[first, last]])
    return out


def union(a: "Seen", b: "Seen") -> "Seen":
    """Whatever one of the two has seen. Errors: none."""
    out = dict(a)
    for writer in b:
        out[writer] = _joined(a[writer], b[writer]) if writer in a else b[writer]
    return out


def top(seen: "Seen") -> int:
    """The largest number of a change of any writer, 0 where there is none. Errors: none."""
    return max([0] + [seen[writer][-1][1] // SIZE for writer in seen])


def _joined(a: "Runs", b: "Runs") -> "Runs":
    """The runs of both, those that touch made one."""
    if a == b:
        return a
    out: Runs = []
    i = j = 0
    while i < len(a) or j < len(b):
        if j == len(b) or (i < len(a) and a[i][0] <= b[j][0]):
            first, last = a[i]
            i += 1
        else:
            first, last = b[j]
            j += 1
        if out and first <= out[-1][1] + 1:
            if last > out[-1][1]:
                out[-1] = [out[-1][0], last]
        else:
            out.append([first, last])
    return out
