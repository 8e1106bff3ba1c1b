"""A linear programme's basis: its inverse, kept thin, and what enters, leaves and is fixed.

Rows say `at least`, `exactly` or `at most`; whoever makes the columns knows which. The
inverse is kept by columns without its noughts, which are most of it. Sums are made in a
fixed order for each number, so the answer is the same on both interpreters.
Source: revised simplex method; from memory.
"""

TYPE_CHECKING = False
if TYPE_CHECKING:
    Column = list[tuple[int, int]]  # (row, how many)
    Name = tuple[int, ...]  # what a column stands for; () for surplus and the like

_NIL = 1e-9  # less than this is nothing
_TRIFLE = 1e-7  # what is left of noughts after many pivots is less
_PIVOT = 1e-5
_NEAR = 1e-9
PART = 1e-6  # a share this small is none


class Basis:
    """size, right: rows and their right sides; dual, value: prices, and how much of each.

    dear: what it costs to take back one of what is fixed, again and again.
    """

    def __init__(self, right: list[float], dear: float) -> None:
        self.dear = dear
        self.size = len(right)
        self.right = right
        self.inverse: list[dict[int, float]] = [{} for _ in right]  # by columns
        self.dual = [0.0] * self.size
        self.value = [0.0] * self.size
        self.names: list[Name] = [()] * self.size
        self.columns: list[Column] = [[] for _ in right]
        self.forced: set[int] = set()  # rows whose column takes back what was fixed
        self.pivots = 0

    def take_over(self, other: "Basis") -> None:
        """Be the same as the other, with lists of its own, and without its trifles."""
        self.dear = other.dear
        self.size = other.size
        self.right = list(other.right)
        self.inverse = [
            {r: col[r] for r in col if not -_TRIFLE < col[r] < _TRIFLE} for col in other.inverse
        ]
        self.dual = list(other.dual)
        self.value = list(other.value)
        self.names = list(other.names)
        self.columns = list(other.columns)
        self.forced = set(other.forced)
        self.pivots = other.pivots

    def objective(self) -> float:
        """What the programme costs now."""
        total = 0.0
        for r in range(self.size):
            total += self.dual[r] * self.right[r]
        return total

    def seen(self, column: "Column") -> dict[int, float]:
        """The column as the basis sees it, by rows."""
        d: dict[int, float] = {}
        for i, many in column:
            col = self.inverse[i]
            for r in col:
                d[r] = d.get(r, 0.0) + many * col[r]
        return d

    def enter(self, column: "Column", gain: float, name: "Name") -> bool:
        """Bring a column in that makes a unit dearer by `gain`; False where none can leave."""
        d = self.seen(column)
        out = self._leaves(d)
        if out < 0:
            return False
        least = max(self.value[out] / d[out], 0.0)
        scale = 1.0 / d.pop(out)
        change = [(r, d[r]) for r in sorted(d)]
        for c in range(self.size):
            col = self.inverse[c]
            if out in col:
                f = col[out] * scale
                get = col.get
                for r, x in change:
                    y = get(r, 0.0) - f * x
                    if y > _NIL or y < -_NIL:
                        col[r] = y
                    elif r in col:
                        del col[r]
                col[out] = f
                self.dual[c] += gain * f
        for r, x in change:
            self.value[r] -= least * x
        self.value[out] = least
        self.names[out] = name
        self.columns[out] = column
        self.forced.discard(out)
        self.pivots += 1
        return True

    def _leaves(self, d: dict[int, float]) -> int:
        """The row whose column leaves for this one, -1 where none can.

        Of those that bind, or nearly, the largest pivot. Source: Harris's ratio test, from memory.
        """
        least = -1.0
        for r in d:
            if d[r] > _PIVOT:
                ratio = (max(self.value[r], 0.0) + _NEAR) / d[r]
                if least < 0.0 or ratio < least:
                    least = ratio
        out = -1
        for r in sorted(d):
            if d[r] > _PIVOT and self.value[r] <= least * d[r] and (out < 0 or d[r] > d[out]):
                out = r
        return out

    def fix(self, column: "Column") -> None:
        """Take the column once for good; the others are worth what is left.

        A column that would be taken less than never is turned about: it then takes back
        what was fixed, dearly, until another comes in its place.
        """
        for r, many in column:
            self.right[r] -= many
        self._lower(self.seen(column))

    def grow(self, column: "Column", name: "Name") -> None:
        """One row more, of right side 1, for this free column alone, which is taken once.

        The column's last entry is the new row's.
        """
        row = self.size
        d = self.seen(column[:-1])
        col = {r: -d[r] for r in d}
        col[row] = 1.0
        self.size += 1
        self.inverse.append(col)
        worth = 0.0
        for r, many in column[:-1]:
            worth += many * self.dual[r]
        self.dual.append(-worth)
        self.right.append(1.0)
        self.value.append(1.0)
        self.names.append(name)
        self.columns.append(column)
        self._lower(d)

    def _lower(self, d: dict[int, float]) -> None:
        for r in sorted(d):
            self.value[r] -= d[r]
            if self.value[r] < -_NEAR:
                self._turn(r)

    def _turn(self, row: int) -> None:
        self.value[row] = -self.value[row]
        self.names[row] = ()
        self.columns[row] = []
        self.forced.add(row)
        for col in self.inverse:
            if row in col:
                col[row] = -col[row]
        self._fine(row)

    def owing(self) -> list[int]:
        """The rows where something fixed is still taken back."""
        return [r for r in sorted(self.forced) if self.value[r] > PART]

    def owe(self) -> None:
        """Make dearer what is still taken back."""
        for r in self.owing():
            self._fine(r)

    def _fine(self, row: int) -> None:
        for c in range(self.size):
            if row in self.inverse[c]:
                self.dual[c] += self.dear * self.inverse[c][row]
