"""What a drawing spans, and the room that its words need round the wall."""

from collections import namedtuple

from . import around
from .sheet import Sheet, jots, lines_of
from .style import Style

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any
else:
    Any = object

# left, low, right, high: mm, what the wall and its boards span; beside, over,
# under: sheet units of room for words there; studs, chain: lines of words of
# the stud marks and of the readings of openings, under the floor
Frame = namedtuple("Frame", "left low right high beside over under studs chain")


def frame(
    here: dict[str, Any], pieces: list[dict[str, Any]], looks: Style, unit: str, labels: bool
) -> Frame:
    """The Frame of a wall of a plan, with room for whatever its words may take."""
    points = here["floor"] + here["ceiling"] + here["left"] + here["right"]
    points = points + [q for p in pieces for ring in p["shows"] for q in ring]
    xs = [p[0] for p in points]
    ys = [p[1] for p in points]
    line = looks.text * 6 // 5
    over = 2 * looks.gap
    if not labels:
        return Frame(min(xs), min(ys), max(xs), max(ys), over, over, over, 0, 0)
    above = [
        1 + len(lines_of(s["top"] - here["left"][-1][0], unit))
        for s in here["studs"]
        if s["top"] != s["at"]
    ]
    if len(here["ceiling"]) > 2:
        above.append(2)
    over += line * max([0] + above)
    if top_width(here) is not None:
        over += line + looks.gap
    studs = max([0] + [1 + len(lines_of(s["at"], unit)) for s in here["studs"]])
    chain = 2 * max([0] + [len(lines_of(mm, unit)) for mm in around.stations(here)])
    beside = line * 3 + looks.gap
    return _sized(Frame(min(xs), min(ys), max(xs), max(ys), beside, over, 0, studs, chain), looks)


def tightened(wide: Frame, here: dict[str, Any], looks: Style, unit: str, k: float) -> Frame:
    """The same at k sheet units a millimetre: no more room than the words take there."""
    ruler = Sheet(looks, 0, 0, k, 0, 0)
    studs = max([0] + [len(lines) for _, lines in around.stud_marks(ruler, here, unit)])
    chain = wide.chain
    if not around.crowded(ruler, here, unit):
        chain //= 2
    left, low, right, high, beside, over = [wide[i] for i in range(6)]
    return _sized(Frame(left, low, right, high, beside, over, 0, studs, chain), looks)


def _sized(f: Frame, looks: Style) -> Frame:
    """With `under` added up of what stands there."""
    line = looks.text * 6 // 5
    under = 6 * looks.gap + line * (f.studs + 1)
    if f.chain:
        under += line * f.chain + 2 * looks.gap
    return Frame(f.left, f.low, f.right, f.high, f.beside, f.over, under, f.studs, f.chain)


def top_width(here: dict[str, Any]) -> float | None:
    """The width at the ceiling where it is another than at the floor, in mm."""
    top: float = here["ceiling"][-1][0] - here["ceiling"][0][0]
    return top if jots(top) != jots(here["width"]) else None
