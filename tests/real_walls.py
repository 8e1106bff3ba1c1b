"""Jobs of real walls for tests of what is told from a plan: one by hand, one with everything.

GABLE is to be followed by hand: 48 in wide, 24 in high at the left and 40 at the
right, so its ceiling rises 16 in 48, which is 4 in 12 (18.43 degrees by every
carpenter's table of roof pitches). Square boards of 8 in, no gaps: courses at 0,
8, 16, 24 and 32. The ceiling meets 24 at x = 0, 32 at x = 24 and 40 at x = 48.
So 4A is 48 along its lower edge and 24 along its upper one; 5A begins at x = 24,
is 24 along its lower edge and comes to a point. Off square by arctan(24/8) =
71.57 degrees, 18.43 to the edge. No piece beside a joint may be under 30 in, and
of 48 one always would be: every course is one piece, whatever the search does.
"""

import copy
from functools import lru_cache

from calc.plan import make
from calc.switch import in_unit
from tests.jobs import job

GABLE = {
    "board__face": "8",
    "board__overall": "8",
    "board__edge": "square",
    "board__stock": [{"length": "96"}],
    "rules__end_gap": "0",
    "rules__shortest": "30",
    "walls__0__height_left": "24",
    "walls__0__height_right": "40",
    "walls__0__width_floor": "48",
}

# The same boards on a floor that is 1 in higher at the right, read from a level
# line 40 in over the floor at the left: lines at 0, 8 ... 88.
LEVEL = {
    **GABLE,
    "walls": [
        {
            "width_floor": "48",
            "stations": [
                {"at": "0", "down": "40", "up": "56"},
                {"at": "48", "down": "39", "up": "56"},
            ],
            "studs": {"first": "16", "spacing": "16"},
        }
    ],
}

EVERYTHING = [
    {
        "name": "Gable",
        "height_left": "60",
        "height_right": "100",
        "width_floor": "140",
        "width_top": "139",
        "left_corner": "in",
        "left_lean": "1/2",
        "studs": {
            "first": "16",
            "spacing": "16",
            "leaning": [{"at": "48", "top": "47"}],
            "doubled": ["64"],
            "found": ["130"],
        },
        "openings": [
            {"kind": "window", "left": "40", "width": "30", "bottom": "32", "height": "26"}
        ],
        "boxes": [
            {"by": "gangs", "standard": "us", "gangs": 2, "centre": "20", "middle": "16"},
            {"name": "Lamp", "by": "diameter", "diameter": "4", "centre": "100", "middle": "44"},
        ],
        "blocking": [{"left": "80", "width": "14", "bottom": "40", "height": "5"}],
    },
    {
        "name": "Stair",
        "width_floor": "120",
        "corner": "mitred",
        "stations": [
            {"at": "0", "down": "40", "up": "60"},
            {"at": "30", "down": "40"},
            {"at": "30", "down": "33"},
            {"at": "70", "down": "33", "up": "61"},
            {"at": "120", "down": "32 1/2", "up": "60 1/2"},
        ],
        "studs": {"first": "16", "spacing": "16"},
        "openings": [{"kind": "door", "left": "80", "width": "30", "height": "80"}],
    },
    {"name": "Later", "height_left": "90"},
]


def gable(**changes):
    """GABLE as a job, with changes as tests.jobs.job takes them."""
    return job(**{**GABLE, **changes})


def level():
    """LEVEL as a job."""
    return job(**LEVEL)


def everything(**changes):
    """Two walls with all that a wall may have, and a third that lacks its width."""
    return job(**{"walls": EVERYTHING, "rules__floor_gap": "1/4", **changes})


@lru_cache
def _planned(unit):
    return make(in_unit(everything(), unit))


def everything_planned(unit):
    """The plan of everything(), read and told in that unit; a fresh copy."""
    return copy.deepcopy(_planned(unit))
