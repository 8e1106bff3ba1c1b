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
    "wood-movement",
    "room-moisture",
    "nails",
    "nail-hold",
    "box-extension",
)
    "remaining-run", "box-notch", "stud-marks", "jamb-extension",
    "casing", "level-taper", "square-check", "mitre", "rake",
)  # fmt: skip
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
    elif name == "wood-movement":
        from .wood_movement import CALCULATOR
    elif name == "room-moisture":
        from .room_moisture import CALCULATOR
    elif name == "nails":
        from .nails import CALCULATOR
    elif name == "nail-hold":
        from .nail_hold import CALCULATOR
    elif name == "box-extension":
        from .box_extension import CALCULATOR
    elif name == "casing":
        from .casing import CALCULATOR
    elif name == "level-taper":
        from .level_taper import CALCULATOR
    elif name == "square-check":
        from .square_check import CALCULATOR
    elif name == "mitre":
        from .mitre import CALCULATOR
    elif name == "rake":
        from .rake import CALCULATOR
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
