"""Stud centres along a wall: the grid from a first mark, and what probing found.

Positions are jots from the left corner. A spacing is a length, but for 19.2 in,
which is 96/5 in and no whole number of jots: five of them make 96 in exactly.
"""

from collections import namedtuple

from .lengths import JOTS_PER_INCH, show

# Common spacings as tape readings. 16, 19.2 and 24 in: tape convention
# (19.2 in = 96/5); 400, 450, 600 mm: common practice, from memory.
SPACINGS = ("16 in", "19.2 in", "24 in", "400 mm", "450 mm", "600 mm")

_FIFTHS = 96 * JOTS_PER_INCH
_NEAR_FIFTH = (_FIFTHS * 2 + 5) // 10  # what read("19.2 in") gives

# A reading is of a grid mark within this part of the spacing (2 in at 16); farther
# off it is another stud. Common practice, no source.
OWN_PART = 8

# at       jots from the left corner
# kind     "grid" (from the first mark), "found" (by probing)
# off      jots the found mark lies right of the nearest grid mark within half a
#          spacing (0 for grid marks, and where there is none)
Mark = namedtuple("Mark", "at kind off")


def grid_place(first: int, spacing: int, k: int) -> int:
    """Jots from the left corner of the k-th centre from the first mark.

    first, spacing: jots; k: a whole number, negative to the left.
    Exact for a spacing in whole jots, and at each multiple of 96 in for 19.2;
    between those 19.2 is taken to the nearest jot.
    """
    if spacing == _NEAR_FIFTH:
        return first + (2 * _FIFTHS * k + 5) // 10
    return first + spacing * k


def grid_count(spacing: int, distance: int) -> int:
    """The least k whose centre lies `distance` jots or more beyond the first mark's.

    spacing: jots, more than 0; distance: jots, negative to the left. The inverse
    of grid_place: grid_place(0, spacing, k) >= distance, and k - 1 is less.
    """
    if spacing == _NEAR_FIFTH:
        return -((5 - 10 * distance) // (2 * _FIFTHS))
    return -(-distance // spacing)


def marks(width: int, first: int, spacing: int, found: list[int], missing: list[int]) -> list[Mark]:
    """Every stud centre strictly between the corners, from left to right.

    width: jots between corners; first: jots from the left corner to the first
    mark's centre; spacing: jots, more than 0; found: jots of marks found by
    probing, each taking the place of its grid mark, or standing as one more
    where it has none (see OWN_PART); missing: jots, each taking out its grid
    mark. Raises ValueError for a spacing of 0 or less, and for a missing mark
    that has no grid mark (see strays).
    """
    grid = _grid(width, first, spacing)
    free = list(grid)
    for gone in missing:
        i = near_mark(grid, gone, spacing // OWN_PART)
        if i < 0:
            raise ValueError("a missing mark has no grid mark")
        if grid[i] in free:
            free.remove(grid[i])
    out = []
    for at in sorted(found):
        i = near_mark(free, at, spacing // OWN_PART)
        if i >= 0:
            out.append(Mark(at, "found", at - free[i]))
            del free[i]
        else:
            i = near_mark(grid, at, spacing // 2)
            out.append(Mark(at, "found", at - grid[i] if i >= 0 else 0))
    out.extend([Mark(at, "grid", 0) for at in free])
    out.sort()
    return [m for m in out if 0 < m.at < width]


def strays(width: int, first: int, spacing: int, missing: list[int]) -> list[tuple[int, list[int]]]:
    """The missing marks that have no grid mark: (place in `missing`, grid marks on either side).

    Jots as in marks, which refuses these. The list of grid marks has the next
    one to the left and the next one to the right, where there are such.
    """
    grid = _grid(width, first, spacing)
    out = []
    for i in range(len(missing)):
        at = missing[i]
        if near_mark(grid, at, spacing // OWN_PART) < 0:
            left = [x for x in grid if x < at][-1:]
            out.append((i, left + [x for x in grid if x > at][:1]))
    return out


def nearest_text(near: list[int], unit: str) -> str:
    """What strays tells of, in words: 'nearest marks are 48" and 64"'."""
    if not near:
        return "there is no grid mark on this wall"
    names = " and ".join([show(x, unit) for x in near])
    return "nearest %s %s" % ("mark is" if len(near) == 1 else "marks are", names)


def _grid(width: int, first: int, spacing: int) -> list[int]:
    """Every grid mark strictly between the corners."""
    if spacing <= 0:
        raise ValueError("spacing must be more than 0")
    places: list[int] = []
    k = -(first // spacing) - 1
    while grid_place(first, spacing, k) < width:
        at = grid_place(first, spacing, k)
        if at > 0:
            places.append(at)
        k += 1
    return places


def near_mark(places: list[int], at: int, within: int) -> int:
    """Index of the place nearest to `at`, at most `within` from it, or -1. All jots."""
    best = -1
    for i in range(len(places)):
        gap = abs(places[i] - at)
        if gap <= within and (best < 0 or gap < abs(places[best] - at)):
            best = i
    return best
