"""Stud alignment for wallboard.

Source: ASTM C840 (and GA-216), from memory: the faces of neighbouring studs are within 1/8 in of
one plane.
"""

from calc.trade import section_level
from calc.trade.levels import STUDS_ALIGNED, STUDS_SOURCE
from tests.trade.trimjob import INCH, metric, section, trimjob


def test_an_eighth_between_neighbours_from_memory():
    assert STUDS_ALIGNED == INCH // 8
    assert "ASTM C840" in STUDS_SOURCE and "from memory" in STUDS_SOURCE


def test_the_job_says_it_with_its_source_from_memory():
    text = dict(section(section_level.write, trimjob([])).rows)["Studs"]
    assert 'within 1/8" (ASTM C840, from memory)' in text
    told = dict(section(section_level.write, metric()).rows)["Studs"]
    assert "within 3 mm" in told  # 3.175 mm to the nearest half
