"""For the worked walls: a plan read in inches, and what counts as the same reading.

Every expected value in tests/validation/test_worked_*.py was worked out by hand
from plane geometry before the code for it existed; none is our own output.

Tolerance: half of 1/64 in. The expected values are exact fractions and a plan's
points lie within a jot or two (1/8128 in) of theirs, so a value inside it reads
as the same 64th on a tape, or as the one that it lies between.
"""

import json
from fractions import Fraction

from calc.plan import make

INCH = Fraction(254, 10)
TOLERANCE = Fraction(1, 128)


def q(text):
    """Inches of "3 3/4" or "-4 5/8", exactly."""
    sign = -1 if str(text).startswith("-") else 1
    return sign * sum((Fraction(part) for part in str(text).lstrip("-").split()), Fraction(0))


def job(walls, rules, **more):
    """A job in inches: tongue-and-groove, face 5-1/8, overall 5-3/8, one 16 ft board length."""
    board = {
        "face": "5 1/8",
        "overall": "5 3/8",
        "thickness": "3/4",
        "edge": "tongue-and-groove",
        "stock": [{"length": "16'"}],
    }
    doc = {"format": "lapwright-job", "version": 1, "unit": "in", "board": board}
    return doc | {"rules": rules, "walls": walls} | more


def planned(doc):
    """The plan as anyone reads it: through JSON."""
    return json.loads(json.dumps(make(doc)))


def near(got_mm, want, what=""):
    """The plan's millimetres are so many inches."""
    assert got_mm is not None, what
    got = Fraction(got_mm) / INCH
    assert abs(got - Fraction(want)) <= TOLERANCE, f"{what}: {float(got)} in, not {float(want)}"


def near_mm(got_mm, want, what=""):
    """The same for a job in millimetres; the tolerance is as for inches, 0.198 mm."""
    assert abs(Fraction(got_mm) - Fraction(want)) <= TOLERANCE * INCH, f"{what}: {got_mm} mm"


def near_all(got_mm, want, what=""):
    """Each of a row of numbers, or of points, is so many inches."""
    assert len(got_mm) == len(want), f"{what}: {got_mm}"
    for i, (g, w) in enumerate(zip(got_mm, want, strict=True)):
        if isinstance(w, (list, tuple)):
            near_all(g, w, f"{what}[{i}]")
        else:
            near(g, w, f"{what}[{i}]")


def course_of(plan, number, wall=1):
    return next(c for c in plan["walls"][wall - 1]["courses"] if c["number"] == number)


def pieces_of(plan, course, wall=1):
    """The pieces of a course, left to right."""
    found = [p for p in plan["pieces"] if (p["wall"], p["course"]) == (wall, course)]
    return sorted(found, key=lambda p: p["left"])


def only(plan, course, wall=1):
    """The one piece of a course that has no room for a joint."""
    (piece,) = pieces_of(plan, course, wall)
    return piece


def outline(piece):
    """The outer ring of the piece as it hangs, in millimetres on the wall."""
    ring = piece["shape"][0]
    return [(piece["left"] + x, piece["bottom"] + y) for x, y in ring]


def outlined(piece, want):
    """The piece's outer ring, by inches on the wall: from its lowest, then leftmost, corner."""
    near_all(outline(piece), want, f"outline of {piece['id']}")


def cuts(piece, **like):
    """The piece's cuts that have these values, in the plan's order."""
    return [c for c in piece["cuts"] if all(c[k] == v for k, v in like.items())]


def cut(piece, **like):
    (found,) = cuts(piece, **like)
    return found


def rectangle(piece, kind, want, opens, by=None):
    """The piece has just one cut of the kind: its from, to, low and high in inches, where open."""
    one = cut(piece, kind=kind)
    near_all([one[k] for k in ("from", "to", "low", "high")], want, f"{kind} of {piece['id']}")
    assert sorted(one["open"]) == sorted(opens)
    if by:
        assert one["by"] == by


def saw_line(piece, want, **like):
    """The one cut like this runs through these points (along, and up on the wall), in inches."""
    points = [(x, piece["bottom"] + y) for x, y in cut(piece, **like)["points"]]
    near_all(points, want, f"saw line of {piece['id']}")


def marks(piece, edge, want):
    """The scribe marks along the edge: (stud or 0, along, height on the wall) each, in inches."""
    (scribe,) = [s for s in piece["scribe"] if s["edge"] == edge]
    assert [m["stud"] for m in scribe["marks"]] == [stud for stud, _, _ in want]
    for m, (_, along, height) in zip(scribe["marks"], want, strict=True):
        near(m["along"], along, f"mark of {piece['id']}")
        near(piece["bottom"] + m["up"], height, f"mark of {piece['id']}")


def ripped(rip, width, edge, keeps):
    near(rip["width"], width, "rip")
    assert (rip["cut"], rip["keeps"]) == (edge, keeps)


def pole(plan, side, line, course, up, wall=1):
    """The story pole at one end: the line's course above it, and its height over the floor."""
    rows = plan["walls"][wall - 1]["pole"][side]
    (row,) = [r for r in rows if abs(Fraction(r["line"]) / INCH - line) <= TOLERANCE]
    assert row["course"] == course
    if up is None:
        assert row["up"] is None
    else:
        near(row["up"], up, f"pole at {float(line)}")


def angle(end, hundredths, long):
    """An end's angle off square; within 2 hundredths of a degree, which is 1/640 in over 4-1/2."""
    assert abs(end["angle"] - hundredths) <= 2, end
    assert end["long"] == long
