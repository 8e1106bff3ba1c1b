"""Course lines and rips, worked by hand."""

import pytest

from calc.courses import line_of, lines, rip_warnings
from calc.job import read_job
from calc.lengths import JOTS_PER_INCH
from tests.jobs import job

INCH = JOTS_PER_INCH


def of(**changes):
    j = read_job(job(**changes))
    low, high = j.rules.floor_gap, j.walls[0].height_left - j.rules.ceiling_gap
    return j, lines(low, high, line_of(low, high, j.board, j.rules), j.board, j.rules)


def inches(courses):
    return [
        (c.number, c.bottom / INCH, c.top / INCH, c.rip and (c.rip.width / INCH, c.rip.cut))
        for c in courses
    ]


def test_full_from_the_floor():
    # 20 in of 5-1/8: three full (15-3/8), then 4-5/8; the last loses its tongue.
    _, courses = of(walls__0__height_left="20")
    assert inches(courses) == [
        (1, 0, 5.125, None),
        (2, 5.125, 10.25, None),
        (3, 10.25, 15.375, None),
        (4, 15.375, 20, (4.625, "upper")),
    ]
    assert courses[3].rip.keeps is False


def test_full_from_the_ceiling_turns_it_over():
    _, courses = of(walls__0__height_left="20", rules__start="ceiling")
    assert inches(courses) == [
        (1, 14.875, 20, None),
        (2, 9.75, 14.875, None),
        (3, 4.625, 9.75, None),
        (4, 0, 4.625, (4.625, "lower")),
    ]


def test_balanced_keeps_the_first_tongue_and_loses_the_last():
    # 20 in: rest 4-5/8, with one face 9-3/4, so two of 4-7/8; the first board
    # keeps its 1/4 tongue: 5-1/8 wide, sawn along the edge at the floor.
    _, courses = of(walls__0__height_left="20", rules__courses="balanced")
    assert inches(courses) == [
        (1, 0, 4.875, (5.125, "lower")),
        (2, 4.875, 10, None),
        (3, 10, 15.125, None),
        (4, 15.125, 20, (4.875, "upper")),
    ]
    assert [c.rip.keeps for c in (courses[0], courses[3])] == [True, False]


def test_balanced_from_the_ceiling():
    _, courses = of(walls__0__height_left="20", rules__courses="balanced", rules__start="ceiling")
    assert [c.rip and c.rip.cut for c in courses] == ["upper", None, None, "lower"]
    assert courses[0].top == 20 * INCH and courses[3].bottom == 0


def test_gaps_move_the_datum_and_every_line_is_from_the_floor():
    _, courses = of(
        walls__0__height_left="20",
        rules__floor_gap="1/2",
        rules__ceiling_gap="1/4",
        rules__start="ceiling",
    )
    assert inches(courses) == [
        (1, 14.625, 19.75, None),
        (2, 9.5, 14.625, None),
        (3, 4.375, 9.5, None),
        (4, 0.5, 4.375, (3.875, "lower")),
    ]


def test_full_boards_that_come_out_even_still_lose_the_last_tongue():
    _, courses = of(walls__0__height_left="15 3/8")
    assert inches(courses)[2] == (3, 10.25, 15.375, (5.125, "upper"))
    for how in ("full", "balanced"):
        _, courses = of(
            walls__0__height_left="15 3/8",
            rules__courses=how,
            board__edge="square",
            board__overall="5 1/8",
        )
        assert [c.rip for c in courses] == [None, None, None]


def test_a_wall_lower_than_a_board():
    for how in ("full", "balanced"):
        j, courses = of(walls__0__height_left="4", rules__courses=how, rules__least_rip="4 1/2")
        assert inches(courses) == [(1, 0, 4, (4, "upper"))]
        (text,) = rip_warnings(courses, 0, 4 * INCH, j.board, j.rules, "in")
        assert "narrower board" in text


def test_an_odd_jot_is_not_lost():
    _, courses = of(walls__0__height_left=508.003125, rules__courses="balanced")
    sizes = [c.top - c.bottom for c in courses]
    assert sum(sizes) == 508.003125 * 320
    assert sizes[3] - sizes[0] == 1


@pytest.mark.parametrize(
    "height, how, least, says",
    [
        (
            "42",
            "full",
            "2",
            'Course 9 shows only 1"; the narrowest rip is set to 2". Equal rips give 7 full',
        ),
        ("42", "full", "1", None),
        ("42", "balanced", "2", None),
        ("42", "full", "4", "No division"),
        ("42", "balanced", "4", "No division"),
    ],
)
def test_a_rip_under_the_least_warns_with_what_balanced_gives(height, how, least, says):
    # 42 in = 8 x 5-1/8 + 1; balanced: 7 full and two of 3-1/16.
    j, courses = of(walls__0__height_left=height, rules__courses=how, rules__least_rip=least)
    texts = rip_warnings(courses, 0, 42 * INCH, j.board, j.rules, "in")
    if says is None:
        assert texts == []
    else:
        assert texts and all(says in t for t in texts)
    if says and "Equal rips" in says:
        assert 'two of 3-1/16"' in texts[0]
