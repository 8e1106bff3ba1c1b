"""What an answer is, and the Draft it is put together in.

A quick calculator's answer and a section of a job are the same record, so that one calculation
writes into either.
"""

from collections import namedtuple

from . import cautions as _cautions
from .lengths import reading, show, words
from .problems import InputError, Problem
from .words import count_text

# figures:  list of Figure, the first is the answer in large digits
# rows:     list of (label, text), lesser results
# tables:   list of Table
# warnings: list of str, what will go wrong and the mend
# working:  list of str, the arithmetic in order, with units
# cautions: list of caution keys (calc/cautions.py)
# sketch:   Sketch or None
# values:   list of (name, int): the results as jots or counts, for machines
Answer = namedtuple("Answer", "figures rows tables warnings working cautions sketch values")

# One result for the eye and the ear. text carries its unit; lean as in Reading.
Figure = namedtuple("Figure", "label text lean say")

# title: str; columns: list of str; rows: list of lists of str.
Table = namedtuple("Table", "title columns rows")

# A drawing in jots, x to the right, y down, origin at its top left corner.
# items: list of lists:
#   ["rect", x, y, w, h, style]    style: board, cut, hole, box, plate, stud,
#   ["line", x1, y1, x2, y2, style]       wall, dim, mark, ghost
#   ["path", rings, style]         each ring [x1, y1, x2, y2, ...], closed;
#                                  of rings one in another the inner are holes
#   ["text", x, y, anchor, text]   anchor: start, middle, end; drawn at a
#                                  readable size whatever the scale
# say: what the drawing shows, in words.
Sketch = namedtuple("Sketch", "width height items say")


def length_figure(label: str, jots: int, unit: str) -> Figure:
    """A Figure of a length in jots."""
    r = reading(jots, unit)
    return Figure(label, r.text, r.lean, r.say)


def to_dict(a: Answer) -> dict[str, object]:
    """An answer as a JSON object. Errors: none."""
    return {
        "figures": [
            {"label": f.label, "text": f.text, "lean": f.lean, "say": f.say} for f in a.figures
        ],
        "rows": [[label, text] for label, text in a.rows],
        "tables": [{"title": t.title, "columns": t.columns, "rows": t.rows} for t in a.tables],
        "warnings": list(a.warnings),
        "working": list(a.working),
        "cautions": [_cautions.to_dict(key) for key in a.cautions],
        "sketch": None
        if a.sketch is None
        else {
            "width": a.sketch.width,
            "height": a.sketch.height,
            "items": a.sketch.items,
            "say": a.sketch.say,
        },
        "values": [[name, value] for name, value in a.values],
    }


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
            Figure(label, str(n), "", "%s %s" % (words(n), count_text(n, noun).split(" ", 1)[1]))
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

    def step(
        self, what: str, words: str, numbers: str, result: str, source: str = "common practice"
    ) -> None:
        """A line of the working: formula in words, numbers put in, result, source."""
        self.work("%s = %s: %s = %s (%s)" % (what, words, numbers, result, source))

    def figure(self, key: str, label: str, text: str, say: str, n: int) -> None:
        """Any other result as the next figure, and as the value `key`, a whole number."""
        self.figures.append(Figure(label, text, "", say))
        self.values.append((key, n))

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
