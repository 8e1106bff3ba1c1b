"""Quick calculators: one file each, declared once.

Law: a calculator is a Calculator record named CALCULATOR in a file of its own;
its fields, answer, working, cautions and sources all come from that record,
and the page, the API and the docs are made from it. To add one: write the
file, name it in ALL below, and give it vectors under tests/vectors.
"""

from . import box_notch, jamb_extension, remaining_run, stud_marks
from .declare import Calculator

ALL: list[Calculator] = [
    remaining_run.CALCULATOR,
    box_notch.CALCULATOR,
    stud_marks.CALCULATOR,
    jamb_extension.CALCULATOR,
]


def find(name: str) -> Calculator | None:
    """The calculator of that name, or None."""
    for c in ALL:
        if c.name == name:
            return c
    return None
