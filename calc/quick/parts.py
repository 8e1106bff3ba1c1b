"""What the calculators' answers are put together from."""

from ..lengths import reading, show, words
from ..problems import InputError, Problem
from .declare import Answer, Figure, Sketch, Table, length_figure


def some(n: int, noun: str) -> str:
    """A count with its noun: "1 board", "3 boards"."""
    return "%d %s%s" % (n, noun, "" if n == 1 else "s")


def refuse(field: str, value: str, message: str, fix: str) -> InputError:
    """The InputError of one Problem, to be raised."""
    return InputError([Problem(field, value, message, fix)])


class Draft:
    """An answer while it is worked out, in one unit. Lengths are jots."""

    def __init__(self, unit: str) -> None:
        self.unit = unit
        self.figures: list[Figure] = []
        self.rows: list[tuple[str, str]] = []
        self.tables: list[Table] = []
        self.warnings: list[str] = []
        self.working: list[str] = []
        self.cautions: list[str] = []
        self.sketch: Sketch | None = None
        self.values: list[tuple[str, int]] = []

    def show(self, jots: int) -> str:
        """A length as one line of text in the draft's unit."""
        return show(jots, self.unit)

    def length(self, key: str, label: str, jots: int) -> None:
        """A length as the next figure, and as the value `key`."""
        self.figures.append(length_figure(label, jots, self.unit))
        self.values.append((key, jots))

    def count(self, key: str, label: str, n: int, noun: str) -> None:
        """A count as the next figure, and as the value `key`."""
        self.figures.append(
            Figure(label, str(n), "", "%s %s" % (words(n), some(n, noun).split(" ")[1]))
        )
        self.values.append((key, n))

    def row(self, label: str, text: str) -> None:
        """A lesser result."""
        self.rows.append((label, text))

    def value(self, key: str, n: int) -> None:
        """A result for machines: jots, a count, or hundredths of a degree."""
        self.values.append((key, n))

    def warn(self, text: str) -> None:
        """What will go wrong, and the mend."""
        self.warnings.append(text)

    def work(self, text: str) -> None:
        """The next line of the arithmetic."""
        self.working.append(text)

    def caution(self, key: str) -> None:
        """A caution, once."""
        if key not in self.cautions:
            self.cautions.append(key)

    def mark(self, x: int, y: int, anchor: str, jots: int, line: int) -> list[list[object]]:
        """A reading for the sketch at x, y; its heavy or light stands a line below."""
        r = reading(jots, self.unit)
        items: list[list[object]] = [["text", x, y, anchor, r.text]]
        if r.lean:
            items.append(["text", x, y + line, anchor, r.lean])
        return items

    def done(self) -> Answer:
        """The Answer."""
        return Answer(
            self.figures,
            self.rows,
            self.tables,
            self.warnings,
            self.working,
            self.cautions,
            self.sketch,
            self.values,
        )
