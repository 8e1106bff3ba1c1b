"""A job with windows and doors to trim, and a section of it as an answer."""

from calc.draft import Draft
from calc.job import read_job
from tests.jobs import job

INCH = 8128


def trimjob(openings, trim=None, wall=None, more=(), **changes):
    """A job record: one wall of 164-1/2 by 96 in with these openings; `more`: walls after it."""
    doc = job(**changes)
    doc["walls"][0].update({"openings": openings} | (wall or {}))
    doc["walls"] += list(more)
    doc["trim"] = trim or {}
    return read_job(doc)


def metric(trim=None, wall=None):
    """The same in millimetres: a window that stands too near, and a door; the floor falls."""
    return read_job(
        {
            "format": "lapwright-job",
            "version": 1,
            "unit": "mm",
            "board": {"face": 130, "edge": "square", "stock": [{"length": 3600}]},
            "walls": [
                {
                    "height_left": 2400,
                    "height_right": 2430,
                    "level": "ceiling",
                    "width_floor": 4000,
                    "width_top": 4050,
                    "studs": {"first": 400, "spacing": 400},
                    "openings": [
                        {"left": 40, "width": 900, "bottom": 700, "height": 1200,
                         "depth_top_left": 12, "depth_top_right": 0,
                         "depth_bottom_left": 4, "depth_bottom_right": 16, "proud": 20},
                        {"kind": "door", "left": 2000, "width": 800, "height": 2000},
                    ],
                }
                | (wall or {})
            ],
            "trim": trim or {},
        }
    )  # fmt: skip


def section(write, record):
    """What a section says of the job, without a plan."""
    d = Draft(record.unit)
    write(d, record, None)
    return d.done()


def inches(*texts):
    """Inches, whole or as fractions, in jots."""
    from fractions import Fraction

    out = [sum(Fraction(part) for part in str(t).split()) * INCH for t in texts]
    assert all(x.denominator == 1 for x in out)
    return int(out[0]) if len(out) == 1 else [int(x) for x in out]
