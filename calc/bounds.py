"""What no wall and no board goes beyond, in jots.

They only keep out what can't be meant, so that every question is answered in a
moment; they are ours, no source.
"""

from .lengths import JOTS_PER_INCH, JOTS_PER_MM

_MM = JOTS_PER_MM
_M = 1000 * _MM

WIDEST = 100 * _M  # a wall, corner to corner
TALLEST = 20 * _M
LONGEST_BOARD = 20 * _M
MOST_FACE = _M  # one course
MOST_OVERALL = 2 * MOST_FACE
MOST_THICKNESS = 100 * _MM
MOST_KERF = 31 * JOTS_PER_INCH // 32
MOST_END_GAP = 4 * JOTS_PER_INCH
MOST_JOINT_GAP = JOTS_PER_INCH
MOST_SHORTEST = 5 * _M
MOST_TRIM = 300 * _MM  # off each end of a board
MOST_ALLOWANCE = 150 * _MM
MOST_REACH = 4  # courses
MOST_KEPT = 1000  # offcuts that wait
MOST_READINGS = 400  # in one list
MOST_LEAN = _M  # of a corner, over its height
MOST_STATIONS = 60
MOST_OPENINGS = 40
MOST_BOXES = 60
MOST_GANGS = 10
MOST_BOX = _M  # across
