"""Mitre: the saw's setting for a corner that is not square, and for a raked head."""

from ..bounds import WIDEST
from ..draft import Answer, Draft
from ..trade.levels import SAW_MOST, angle_of, degrees_text, mitre, raked_head, saw_mend
from .declare import Calculator, length, measure

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

FIELDS = [
    measure("angle", "corner", "Corner", "as a bevel reads it, 90 is square", lo=20.0, hi=179.0),
    length("rise", "Or raked head, rise", "over the run below", hi=WIDEST, needed=False),
    length("run", "Run", "", "12 in", "1000 mm", lo=1, hi=WIDEST),
]


def answer(v: "dict[str, Any]", unit: str) -> Answer:
    """The answer from the fields' values. Raises no error."""
    d = Draft(unit)
    _corner(d, "mitre", "Saw, from square", v["corner"], mitre(v["corner"]))
    d.row("Between cut and edge", degrees_text(v["corner"] / 2))
    d.row("Good for", "both pieces, at an inside or an outside corner")
    if v["rise"]:
        pitch = angle_of(v["rise"], v["run"])
        low, high = raked_head(pitch)
        d.step(
            "rake", "arctangent of rise / run",
            "arctan(%s / %s)" % (d.show(v["rise"]), d.show(v["run"])),
            degrees_text(pitch, 3), "plane geometry",
        )  # fmt: skip
        _corner(d, "low", "Raked head, low side", 90.0 + pitch, low)
        _corner(d, "high", "Raked head, high side", 90.0 - pitch, high)
    d.caution("saw-dust")
    return d.done()


def _corner(d: Draft, key: str, label: str, corner: float, saw: float) -> None:
    """One setting, thousandths of a degree for machines."""
    d.figure(
        key, label, degrees_text(saw), degrees_text(saw)[:-1] + " degrees", int(saw * 1000 + 0.5)
    )
    d.step(
        label.lower(), "90° - corner / 2",  # ASCII
        "90° - %s / 2" % degrees_text(corner, 3), degrees_text(saw, 3), "plane geometry",
    )  # fmt: skip
    if saw > SAW_MOST:
        d.warn(
            "%s: %s is more than most saws turn (%s): %s."
            % (label, degrees_text(saw), degrees_text(SAW_MOST), saw_mend([saw]))
        )


CALCULATOR = Calculator(
    "mitre",
    "Mitre",
    "What does the saw stand at for this corner?",
    FIELDS,
    answer,
    ["Mitre from square = 90° - corner / 2: plane geometry"],
)
