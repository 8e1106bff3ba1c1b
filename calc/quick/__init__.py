"""Quick calculators: one file each, declared once.

Law: a calculator is a Calculator record named CALCULATOR in a file of its own,
called as the file with hyphens; its fields, answer, working, cautions and
sources all come from that record, and the page, the API and the docs are made
from it. To add one: write the file, name it in find() and NAMES below, and
give it vectors under tests/vectors.

A calculator's file is loaded when it is first asked for, so that a phone has
its first answer without reading the others.
"""

from .declare import Calculator

NAMES = (
    "remaining-run",
    "box-notch",
    "stud-marks",
    "jamb-extension",
    "board-estimate",
    "paint",
    "tape-error",
    "finish-hours",
)


def find(name: str) -> Calculator | None:
    """The calculator of that name, or None."""
    if name == "remaining-run":
        from .remaining_run import CALCULATOR
    elif name == "box-notch":
        from .box_notch import CALCULATOR
    elif name == "stud-marks":
        from .stud_marks import CALCULATOR
    elif name == "jamb-extension":
        from .jamb_extension import CALCULATOR
    elif name == "board-estimate":
        from .board_estimate import CALCULATOR
    elif name == "paint":
        from .paint import CALCULATOR
    elif name == "tape-error":
        from .tape_error import CALCULATOR
    elif name == "finish-hours":
        from .finish_hours import CALCULATOR
    else:
        return None
    return CALCULATOR


def every() -> list[Calculator]:
    """All calculators, in the order of NAMES."""
    return [c for c in [find(name) for name in NAMES] if c is not None]
