"""Every conversion of calc against another hand's: pint, whose definitions follow NIST SP 811.

NIST Handbook 44, Appendix C: a US gallon is 231 cubic inches, 3.785 411 784 L; a foot 0.3048 m.
The tolerance, a part in 10^12, is what doubles lose.
"""

import pint
import pytest

from calc.lengths import UNITS, exact, read, to_mm
from calc.measures import MEASURES
from calc.measures import read as read_measure

REGISTRY = pint.UnitRegistry()
# measure, name: pint's name, and that of the measure's base unit
SAME = {
    ("temperature", "°C"): ("degC", "degC"),
    ("temperature", "°F"): ("degF", "degC"),
    ("coverage", "m²/L"): ("m**2/L", "m**2/L"),
    ("coverage", "sq ft/gal"): ("ft**2/gallon", "m**2/L"),
    ("volume", "L"): ("L", "L"),
    ("volume", "gal"): ("gallon", "L"),
    ("volume", "qt"): ("quart", "L"),
    ("volume", "fl oz"): ("fluid_ounce", "L"),
    ("volume", "ml"): ("mL", "L"),
    ("cartridge", "ml"): ("mL", "mL"),
    ("cartridge", "fl oz"): ("fluid_ounce", "mL"),
    ("hours", "h"): ("hour", "hour"),
    ("hours", "min"): ("minute", "hour"),
    ("hours", "days"): ("day", "hour"),
    ("cartridge", "L"): ("L", "ml"),
    ("cartridge", "qt"): ("quart", "ml"),
    ("cartridge", "gal"): ("gallon", "ml"),
    ("wire", "mm"): ("mm", "mm"),
    ("wire", "in"): ("inch", "mm"),
    ("film", "µm"): ("um", "um"),
    ("film", "mil"): ("thou", "um"),
    ("area", "m²"): ("m**2", "m**2"),
    ("area", "sq ft"): ("ft**2", "m**2"),
    ("force", "N"): ("N", "N"),
    ("force", "lb"): ("lbf", "N"),
}
ALIKE = {("percent", "%"), ("angle", "°"), ("number", "")}  # one unit, nothing to convert


def test_no_unit_is_left_out():
    ours = {(m, u.name) for m in MEASURES for u in MEASURES[m].units}
    assert ours == set(SAME) | ALIKE


@pytest.mark.parametrize(("measure", "name"), sorted(SAME))
@pytest.mark.parametrize("value", ["1", "12.5", "350", "0.07"])
def test_as_pint_has_it(measure, name, value):
    theirs, base = SAME[measure, name]
    expect = REGISTRY.Quantity(float(value), theirs).to(base).magnitude
    got = read_measure(f"{value} {name}", measure, "in")
    assert got == pytest.approx(expect, rel=1e-12, abs=1e-11)


@pytest.mark.parametrize("unit", UNITS)
@pytest.mark.parametrize("value", ["1", "12.5", "96", "0.25"])
def test_lengths_as_pint_has_them(unit, value):
    """Exact to the jot: these all are whole jots (1 in = 25.4 mm, NBS Circular 572 addendum)."""
    expect = REGISTRY.Quantity(float(value), {"in": "inch", "ft": "foot"}.get(unit, unit))
    jots = read(f"{value} {unit}", "mm")
    assert to_mm(jots) == pytest.approx(expect.to("mm").magnitude, rel=1e-12)
    assert read(exact(jots, unit), unit) == jots


def test_a_gallon_is_231_cubic_inches():
    """NIST Handbook 44, App. C: (231 x 25.4^3) mm3, exactly the litres that we use."""
    assert pytest.approx(read_measure("1 gal", "volume", "in"), rel=1e-14) == 231 * 25.4**3 / 1e6
