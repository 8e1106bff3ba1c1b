"""Wire of nails.

Source: steel wire gauge tables: 15, 16 and 18 gauge are .0720, .0625 and .0475 in
(1.829, 1.588, 1.207 mm). AWG, which is thinner (.0570, .0403 in for 15, 18), is
never meant. Trust: published.
"""

import pytest

from calc.trade.nail_words import wire_text
from calc.trade.nails import GAUGES, wire
from tests.quick.gen import ask

TABLE = [(15, 720, "0.0720 in", "1.829 mm"), (16, 625, "0.0625 in", "1.588 mm")]
TABLE += [(18, 475, "0.0475 in", "1.207 mm")]


@pytest.mark.parametrize(("gauge", "across", "inches", "mm"), TABLE)
def test_the_table(gauge, across, inches, mm):
    assert wire(gauge) == across
    assert (wire_text(across, "in"), wire_text(across, "mm")) == (inches, mm)


@pytest.mark.parametrize(("gauge", "across", "inches", "mm"), TABLE)
def test_the_calculator_says_it(gauge, across, inches, mm):
    for unit, text in (("in", inches), ("ft", inches), ("mm", mm), ("m", mm)):
        answer = ask("nails", unit, thickness="3/4 in", gauge=str(gauge))["answer"]
        assert ["Wire", f"{gauge} gauge, {text}"] in answer["rows"]


def test_no_gauge_is_awg():
    assert {g for g, _ in GAUGES} == {15, 16, 18}
    assert not {570, 403} & {across for _, across in GAUGES}
    with pytest.raises(KeyError):
        wire(17)
