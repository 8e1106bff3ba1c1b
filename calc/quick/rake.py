"""Rake: how each course changes in length under a gable, and how long the rake is."""

from ..angles import degrees, hundredths
from ..bounds import MOST_FACE, WIDEST
from ..draft import Answer, Draft
from ..lengths import JOTS_PER_MM
from ..measures import decimal
from ..trade.levels import SAW_MOST, rake_change, rake_factor
from .declare import Calculator, length

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

FIELDS = [
    length("face", "Course height (face)", "what one course covers", lo=10 * JOTS_PER_MM,
           hi=MOST_FACE),
    length("rise", "Rise", "over the run below", lo=1, hi=WIDEST),
    length("width", "Under the rake, width", "level, from its foot", lo=1, hi=WIDEST, needed=False),
    length("run", "Run", "", "12 in", "1000 mm", lo=1, hi=WIDEST),
]  # fmt: skip


def answer(v: "dict[str, Any]", unit: str) -> Answer:
    """The answer from the fields' values. Raises no error."""
    d = Draft(unit)
    face, rise, run = v["face"], v["rise"], v["run"]
    change = rake_change(face, rise, run)
    d.length("change", "Each course shorter by", change)
    d.row("Under two rakes", "%s, once at each end" % d.show(2 * change))
    d.step(
        "change of a course", "face x run / rise",
        "%s x %s / %s" % (d.show(face), d.show(run), d.show(rise)), d.show(change),
        "plane geometry",
    )  # fmt: skip
    angle = hundredths(rise, run)
    d.row("Rake", degrees(angle))
    ends = "%s from square" % degrees(9000 - angle)
    if 9000 - angle > int(100 * SAW_MOST):
        ends += ": past most saws, so draw it by a bevel and cut along a track"
    d.row("Boards' ends", ends)
    d.value("angle", angle)
    factor = rake_factor(rise, run)
    d.row("Rake factor", decimal(factor, 5))
    d.value("factor", int(factor * 100000 + 0.5))
    d.step(
        "rake factor", "square root of 1 + (rise / run)^2",
        "root(1 + (%s / %s)^2)" % (d.show(rise), d.show(run)), decimal(factor, 5),
        "plane geometry",
    )  # fmt: skip
    if v["width"] is not None:
        wide = v["width"]
        along = int(wide * factor + 0.5)
        up = (2 * wide * rise + run) // (2 * run)
        courses = (up + face - 1) // face
        d.length("along", "Along the rake", along)
        d.row("Height at its end", d.show(up))
        d.value("height", up)
        d.value("courses", courses)
        d.row("Courses under it", str(courses))
        d.step(
            "along the rake", "width x rake factor",
            "%s x %s" % (d.show(wide), decimal(factor, 5)), d.show(along), "plane geometry",
        )  # fmt: skip
    d.caution("saw-dust")
    return d.done()


CALCULATOR = Calculator(
    "rake",
    "Rake",
    "By how much does each course shorten under a gable?",
    FIELDS,
    answer,
    ["Change of a course = face x run / rise; rake factor: plane geometry"],
)
