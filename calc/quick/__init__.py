"""Quick calculators: one file each, declared once.

Law: a calculator is a Calculator record named CALCULATOR in a file of its own,
called as the file with hyphens; its fields, answer, working, cautions and
sources all come from that record, and the page, the API and the docs are made
from it. To add one: write the file, name it in find() and GROUPS below, and
give it vectors under tests/vectors.

A calculator's file is loaded when it is first asked for, so that a phone has
its first answer without reading the others.
"""

from .declare import Calculator

# (heading, names) in the order that the page lists them.
GROUPS = (
    ("At the wall", ("remaining-run", "box-notch", "stud-marks")),
    ("Windows and doors", ("jamb-extension", "casing", "mitre")),
    ("Level and square", ("level-taper", "square-check", "rake", "tape-error")),
    ("Boards and moisture", ("board-estimate", "wood-movement", "room-moisture")),
    ("Nails and boxes", ("nails", "nail-hold", "box-extension")),
    ("Coats and hours", ("paint", "finish-hours")),
)
NAMES = tuple([name for _, names in GROUPS for name in names])


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
    elif name == "casing":
        from .casing import CALCULATOR
    elif name == "mitre":
        from .mitre import CALCULATOR
    elif name == "level-taper":
        from .level_taper import CALCULATOR
    elif name == "square-check":
        from .square_check import CALCULATOR
    elif name == "rake":
        from .rake import CALCULATOR
    elif name == "tape-error":
        from .tape_error import CALCULATOR
    elif name == "board-estimate":
        from .board_estimate import CALCULATOR
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
    elif name == "paint":
        from .paint import CALCULATOR
    elif name == "finish-hours":
        from .finish_hours import CALCULATOR
    else:
        return None
    return CALCULATOR


def group(name: str) -> str:
    """The heading that the calculator of that name stands under. Raises KeyError for no such."""
    for heading, names in GROUPS:
        if name in names:
            return heading
    raise KeyError(name)


def every() -> list[Calculator]:
    """All calculators, in the order of NAMES."""
    return [c for c in [find(name) for name in NAMES] if c is not None]
