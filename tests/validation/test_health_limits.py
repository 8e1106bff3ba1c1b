"""Dust and lead: the figures that the cautions hold, and where they come up.

- 40 CFR 745, subpart E: US housing from before 1978; over 6 sq ft of painted interior surface
  disturbed in a room; window replacement is never exempt.
- 29 CFR 1926.1153: respirable silica 50 micrograms a cubic metre over a shift, action level 25.
- 29 CFR 1910.1000, Table Z-1, from memory: wood dust 15 mg total, 5 respirable.
"""

import pytest

from calc.cautions import caution
from calc.draft import Draft
from calc.job import read_job
from calc.plan import make
from calc.trade import section_coats, section_schedule
from calc.trade.steps import steps
from tests.jobs import job


def test_lead():
    """40 CFR 745 subpart E."""
    rule = caution("lead-rule")
    for word in ("1978", "6 sq ft", "window", "exemption, not a safe amount"):
        assert word in rule.text
    assert "1978" in caution("lead-asbestos").text
    assert {rule.source, caution("lead-asbestos").source} == {"40 CFR 745 subpart E"}


def test_silica():
    """29 CFR 1926.1153: 50 and 25 micrograms a cubic metre."""
    c = caution("sanding-dust")
    assert "50 micrograms a cubic metre" in c.text and "25 the action level" in c.text
    assert "29 CFR 1926.1153" in c.source


def test_wood_dust_from_memory():
    """29 CFR 1910.1000, Table Z-1, from memory: 15 total, 5 respirable."""
    assert "1910.1000" in caution("saw-dust").source
    doc = job(walls__0__width_floor="60", walls__0__height_left="20")
    d = Draft("in")
    section_coats.write(d, read_job(doc), make(doc))
    told = dict(d.rows)["Wood dust"]
    assert "15 mg" in told and "5 of what" in told and "from memory" in told


@pytest.mark.parametrize(
    ("built", "old"), [("unknown", True), ("before-1978", True), ("later", False)]
)
def test_lead_comes_up_where_the_house_may_be_old(built, old):
    doc = job(site={"built": built}, walls__0__width_floor="60", walls__0__height_left="20",
              walls__0__openings=[{"kind": "window", "left": "20", "width": "10",
                                   "bottom": "5", "height": "9"}])  # fmt: skip
    j, plan = read_job(doc), make(doc)
    for section in (section_coats, section_schedule):
        for given in (plan, None):
            d = Draft("in")
            section.write(d, j, given)
            assert [k in d.cautions for k in ("lead-asbestos", "lead-rule")] == [old, old]
    asked = {s.key: s.cautions for s in steps(j, plan)}
    for key in ("sand", "case"):
        assert ("lead-rule" in asked[key]) == ("lead-asbestos" in asked[key]) == old
    assert ("lead-asbestos" in asked["hang"]) == old
    assert "sanding-dust" in asked["sand"]
