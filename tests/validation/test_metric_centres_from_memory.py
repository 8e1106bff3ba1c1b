"""Stud centres in metric.

Common practice, from memory: 400, 450 and 600 mm. No tolerance: whole millimetres.
"""

import itertools

import pytest

from calc.lengths import read
from calc.quick.declare import default_text
from calc.quick.stud_marks import CALCULATOR, FIELDS
from calc.studs import SPACINGS
from tests.quick.gen import ask

MM = 320


def test_they_are_offered_from_memory():
    """400, 450, 600 mm; 400 mm where the unit is metric."""
    assert [s for s in SPACINGS if s.endswith("mm")] == ["400 mm", "450 mm", "600 mm"]
    (spacing,) = [f for f in FIELDS if f.key == "spacing"]
    assert {"400 mm", "450 mm", "600 mm"} <= {key for key, _ in spacing.choices}
    assert default_text(spacing, "mm") == "400 mm"
    assert any("from memory" in s and "400, 450, 600 mm" in s for s in CALCULATOR.sources)


@pytest.mark.parametrize("centres", [400, 450, 600])
def test_marks_stand_so_far_apart_from_memory(centres):
    values = {"width": "3000", "first": str(centres), "spacing": f"{centres} mm"}
    v = ask("stud-marks", "mm", **values)["answer"]["values"]
    marks = [v[f"mark {i + 1}"] for i in range(v["count"])]
    on = [m for m in marks if m >= centres * MM]
    assert {b - a for a, b in itertools.pairwise(on)} == {centres * MM}
    assert read(f"{centres} mm", "in") == centres * MM
