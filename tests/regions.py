"""Regions of a plan in shapely, and how far two may differ by rounding to jots.

The plan is in whole jots (1/320 mm): a wall's outline, and again the points where
course lines and joints cut it, are each rounded by half a jot at most along both
axes, and where two lines cross each is led through the rounded point. So a line
may stand sqrt(2) jots off, and two that bound a strip each bring their own: two
regions may differ by strips of up to WIDE = 3 jots, two sizes by NEAR = 2 jots.
"""

from shapely import Polygon
from shapely.ops import unary_union

from tests.wall_facts import JOT

JOTS = float(JOT)
NEAR = 2 * JOTS
WIDE = 3 * JOTS
FAR = 1e6  # mm, beyond every wall


def polygons(shape, least=NEAR * NEAR):
    """The polygons of a shapely result that are larger than rounding makes."""
    parts = getattr(shape, "geoms", [shape])
    return [p for p in parts if p.geom_type == "Polygon" and p.area > least]


def differ(a, b, wide=WIDE):
    """Whether two regions differ anywhere by more than the width."""
    odd = a.symmetric_difference(b)
    return odd.area > wide * wide and not odd.buffer(-wide / 2, join_style="mitre").is_empty


def region(rings):
    """The region of a plan's rings: anticlockwise ones are its outsides, the others holes."""
    out, holes = [], []
    for ring in rings:
        polygon = Polygon(ring)
        (out if polygon.exterior.is_ccw else holes).append(polygon)
    whole = out[0] if len(out) == 1 else unary_union(out)
    for hole in holes:
        whole = whole.difference(hole)
    return whole
