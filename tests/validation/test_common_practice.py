"""What the trade does, with no source: common practice, so each is a default or is told as such.

Common practice, no source: lengths that boards come in, nails at a stud, the cut at a box's screw
ends, what is coated before hanging, nap and grit, drying times. Tolerances: none, all whole.
"""

import json
from pathlib import Path

import pytest

from calc.draft import Draft
from calc.job import read_job
from calc.lengths import JOTS_PER_FOOT, JOTS_PER_INCH, read
from calc.plan import make
from calc.quick.declare import default_text
from calc.quick.finish_hours import FIELDS as HOURS
from calc.trade import section_coats
from calc.trade.coated import board_area
from calc.trade.nails import count
from calc.tradefields import FINISH, NAILS
from tests.jobs import job
from tests.quick.gen import ask

EXAMPLES = Path(__file__).parents[2] / "examples"
SMALL = {"walls__0__width_floor": "60", "walls__0__height_left": "20"}
INCH = JOTS_PER_INCH


def _drafted(**changes):
    doc = job(**SMALL, **changes)
    d = Draft(doc["unit"])
    section_coats.write(d, read_job(doc), make(doc))
    return d


def test_boards_come_in_whole_feet():
    """Common practice, no source: mostly 6 to 20 ft by steps of 2; the examples have such."""
    values = {"width": "120", "height": "96", "face": "5 1/8", "board": "144"}
    rows = dict(ask("board-estimate", **values)["answer"]["rows"])
    assert rows["Boards come"].startswith("in whole feet, mostly 6 to 20 ft by steps of 2")
    metric = {"width": "3000", "height": "2400", "face": "130", "board": "3600"}
    assert "Boards come" not in dict(ask("board-estimate", "mm", **metric)["answer"]["rows"])
    seen = 0
    for path in EXAMPLES.glob("*.json"):
        doc = json.loads(path.read_text(encoding="utf-8"))
        for line in doc["board"]["stock"] if doc["unit"] in ("in", "ft") else []:
            if line.get("kind", "new") == "new":
                jots = read(line["length"], doc["unit"])
                assert jots in [n * JOTS_PER_FOOT for n in range(6, 21, 2)], path.name
                seen += 1
    assert seen >= 5


def test_two_nails_a_stud_and_two_an_end():
    """Common practice, no source: the defaults, and what a plan is counted by.

    60 in with studs at 16, 32, 48 and boards of 72: each course is one piece over 3 studs with
    2 ends, so 3 x 2 + 2 x 2 = 10 nails; 20 in at 5-1/8 are 4 courses.
    """
    assert {f.key: f.default for f in NAILS if f.key in ("per_stud", "per_end")} == {
        "per_stud": 2, "per_end": 2,
    }  # fmt: skip
    doc = job(**SMALL, board__stock=[{"length": "72"}])
    assert count(read_job(doc), make(doc)).nails == 4 * 10


def test_cut_no_farther_than_the_wallboard_at_the_screw_ends():
    """Common practice, no source: so that the ears bear on the board or an extender.

    Box 3-3/4 high with a gap of 1/16: 4-1/8 - 3-7/8 = 1/4, so 1/8 for each ear; a gap of 1/8
    leaves 1/16, which is too little, and an extender is named.
    """
    rows = dict(ask("box-extension", thickness="3/4")["answer"]["rows"])
    assert rows["At the screw ends"] == "cut no farther than the drywall"
    assert rows["Each ear bears on"] == '1/8"'
    told = ask("box-extension", thickness="3/4", clearance="1/8")["answer"]["warnings"]
    assert any("ears bear on 1/16" in w and "extender" in w for w in told)


@pytest.mark.parametrize(("back", "sides"), [("bare", 1), ("coated", 2)])
def test_face_both_edges_and_the_lap_are_coated_before_hanging(back, sides):
    """Common practice, no source: so that a seasonal gap shows no bare line.

    The whole width with its tongue, 5-3/8, and both edges, 2 x 3/4.
    """
    doc = job(**SMALL, finish={"back": back})
    plan = make(doc)
    around = sides * 5.375 + 2 * 0.75
    square_inches = board_area(read_job(doc), plan) / 0.0254**2
    assert square_inches == pytest.approx(len(plan["boards"]) * 144 * around)
    told = dict(_drafted(finish={"back": back}).rows)["Taken for that"]
    assert "face with the tongue, both edges" in told
    bare = _drafted(finish={"primer_coats": 0, "paint_before": 0}).warnings
    assert any("bare line" in w and "face, edges and tongue before they hang" in w for w in bare)


@pytest.mark.parametrize(
    ("unit", "finer", "deeper"), [("in", "3/8 in", "1/2 in"), ("mm", "10 mm", "13 mm")]
)
def test_a_deeper_nap_leaves_more_texture_and_the_sponge_is_fine(unit, finer, deeper):
    """Common practice, no source: 3/8 against 1/2 in nap; about 120 grit."""
    doc = job(**SMALL)
    plan = make(doc)
    d = Draft(unit)
    section_coats.write(d, read_job(doc), plan)
    rows = dict(d.rows)
    assert rows["Roller"] == f"a {finer} nap lies smoother than {deeper}"
    assert "about 120 grit" in rows["Sanding"]


def test_over_night_before_hanging_and_hours_before_sanding():
    """Common practice, no source: about 24 h; filler 1 to 5 h; both in the job and by itself."""
    fields = {f.key: f for f in FINISH}
    assert fields["dry"].default == fields["dry"].metric == 24
    assert 1 <= fields["filler"].default <= 5
    offered = {f.key: default_text(f, "in") for f in HOURS}
    assert offered["dry"] == "24 h"
    assert 1 <= float(offered["filler"].split()[0]) <= 5
