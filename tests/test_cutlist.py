"""The printed cut list: every number that saw and wall need, each with its unit, in 80 columns."""

import html
import json
import re
from pathlib import Path

import pytest

from calc.columns import WIDTH, broken, table, wrap
from calc.cutlist import text
from calc.elevation import elevation
from calc.plan import make
from calc.words import text_of
from server.ask import planned
from tests.real_walls import everything, everything_planned, gable, level

NEEDS = [{"field": "walls[2].width_floor", "message": "Give the width of Later at the floor."}]


def one_line(told):
    """The text without its line breaks."""
    return re.sub(r"\s+", " ", told)


@pytest.fixture(scope="module", params=["in", "ft", "mm", "cm", "m"])
def plan(request):
    return everything_planned(request.param)


def test_it_fits_on_paper(plan):
    assert max(len(line) for line in text(plan, NEEDS).splitlines()) <= WIDTH == 80


def test_every_number_carries_its_unit(plan):
    length = {
        "in": r'\d+(-\d+/\d+)?"|[+-]?\d+/\d+"',
        "ft": r"(\d+' )?(\d+(-\d+/\d+)?|\d+/\d+)\"|[+-]?1/32\"|about \d+ ft",
    }.get(plan["unit"], rf"\d+(\.\d+)? {plan['unit']}|about \d+ m")
    named = r"\b[12]-\d+[A-Z]\b|\d+\.\d\d°|45°|\b\d+ (boards?|courses)\b|10 % over"
    named += r"|\b(Window|Door|Box|Blocking|Boards?|[Cc]ourse|stud|and) \d+\b"
    told = text(plan).split("CAUTION")[0].splitlines()
    told = [re.sub(r"^  (  )?\d+ ( +\S)", r"\2", line) for line in told]  # a row's own number
    line = re.sub(length, "", re.sub(named, "", one_line("\n".join(told))))
    if plan["unit"] == "in":
        line = line.replace("about 348 ft", "")  # what boards are sold by
    left = re.findall(r".{0,20}\d.{0,20}", line)
    assert left == []


def by_a_hair(cut):
    """Less than 1/32 in, what "heavy" is worth (common practice): nobody saws it, none is told."""
    if cut["kind"] not in ("bevel", "taper"):
        return False
    places = [q[0 if cut["kind"] == "bevel" else 1] for q in cut["points"]]
    return max(places) - min(places) < 25.4 / 32


def test_it_holds_every_number_of_the_plan(plan):
    told = one_line(text(plan))
    unit = plan["unit"]

    def t(mm):
        return text_of(mm, unit)

    for b in plan["boards"]:
        assert f"Board {b['number']}, {t(b['stock'])}" in told
        assert b["tight"] or f"Left over: {t(b['offcut']) if b['offcut'] else 'nothing'} " in told
    for p in plan["pieces"]:
        row = told.split(f"[ ] {p['id']} ")[1].split("[ ]")[0].split("Board ")[0]
        assert row.startswith(t(p["length"]))
        lower, upper = p["lengths"]["lower"], p["lengths"]["upper"]
        hairs = {c["edge"] for c in p["cuts"] if c["kind"] == "bevel" and by_a_hair(c)}
        sawn = [c for c in p["cuts"] if not by_a_hair(c)]
        if [c for c in sawn if c["kind"] == "bevel"]:
            top = t(upper) if upper else "comes to a point"
            assert f"Lower edge {t(lower)}, upper edge {top}." in row
        for side in ("left", "right"):
            angle = p[side + "_end"]["angle"]
            off = f"{side.capitalize()} end {angle // 100}.{angle % 100:02d}° off square"
            assert (off in row) == bool(angle and side not in hairs)
        if p["rip"]:
            assert f"Rip to {t(p['rip']['width'])}, cut off" in row
        for s in p["scribe"]:
            assert f"Scribe the {s['edge']} edge" in row
            for m in s["marks"]:
                assert t(m["up"]) in row and (not m["stud"] or f"stud {m['stud']}," in row)
        words = r"Saw|Notch|Hole|Round|Cut the|Cut out|Slot|Take"
        assert len(re.findall(words, row)) == len(sawn)
    for w in plan["walls"]:
        here = told.split(f"HANG {w['name']} ")[1].split("HANG ")[0]
        for c in w["courses"]:
            for run in c["runs"]:
                for key, joint in zip(run["pieces"], [*run["joints"], None], strict=True):
                    assert key in here
                    if joint:
                        assert f"{key}, joint on stud {joint['stud']} at {t(joint['at'])}" in here
        for row in w["pole"]["right"]:
            if row["up"] is not None and row["up"] <= w["heights"]["right"]:
                assert t(row["up"]) in here
        for r in w["openings"] + w["boxes"] + w["blocking"]:
            assert f"{r['name']}. " in here
            assert f"Left edge: {t(r['left'])}; Right edge: {t(r['right'])};" in here


def test_it_holds_every_length_of_the_drawing():
    """The example house: each wall's drawing on paper, and the lengths of its pieces."""
    house = Path(__file__).parents[1] / "examples" / "house.json"
    plan = make(json.loads(house.read_text(encoding="utf-8")))
    told = one_line(text(plan))
    length = r'\d+(?:-\d+/\d+)?"(?: (?:heavy|light) \([+-]1/32"\))?|\d+/\d+"'
    found = 0
    for n, wall in enumerate(plan["walls"]):
        title = told[told.index(wall["name"] + ": ") :].split(" BUY ")[0]
        here = title + told.split(f"HANG {wall['name']} ")[1].split("HANG ")[0]
        svg = elevation(plan, n + 1, None, "A4")["svg"]
        for words in re.findall(r"<text[^>]*>([^<]*)</text>", svg):
            for size in re.findall(length, html.unescape(words)):
                found += 1
                piece = re.match(r"\d+-\d+[A-Z]+(?= )", words)
                if piece:
                    assert f"[ ] {piece[0]} {size}" in told, words
                else:
                    assert re.search(r"(?<![\d/-])" + re.escape(size), here), (wall["name"], words)
    assert found > 300


def test_a_gable_and_its_story_pole_by_hand():
    """See tests/real_walls.py for the arithmetic; the left end is 24 in high, the right 40."""
    told = text(make(gable()))
    assert '  [ ] 4A    48"  course 4, the ceiling to right end\n' in told
    assert '            Lower edge 48", upper edge 24".\n' in told
    assert "Left end 71.57° off square (18.43° to the edge), lower edge longer.\n" in told
    assert 'Lower edge 24", upper edge comes to a point.\n' in told
    rows = [line.split("  ") for line in told.split("Story pole")[1].splitlines()]
    pole = {r[2]: [c.strip() for c in r[3:] if c.strip()] for r in rows if len(r) > 3 and r[2]}
    assert pole["Course 4"] == ['24"', '24"']
    assert pole["Course 5"] == ["over the ceiling", '32"']
    assert pole["Its top"] == ["over the ceiling", '40"']
    assert 'It is 24" high at its left end, 40" at its right.' in one_line(told)


def test_a_story_pole_from_the_level_line_by_hand():
    """The line is 40 in up at the left, 39 at the right: each mark is 1 in lower there."""
    told = text(make(level()))
    rows = [re.split(r"  +", line.strip()) for line in told.split("Story pole")[1].splitlines()]
    pole = {r[0]: r[1:] for r in rows}
    assert pole["Course 1"] == ['0"', "under the floor", '40" down']
    assert pole["Course 2"] == ['8"', '7"', '32" down']
    assert pole["Course 6"] == ['40"', '39"', "on it"]
    assert pole["Its top"] == ['96"', '95"', '56" up']
    note = 'The level line runs 40" up from the floor at the left end, 39" at the right.'
    assert note in one_line(told)
    assert "  Lower edge up from the lowest point of the floor; pieces left to right.\n" in told


def test_leaning_studs_are_read_at_floor_and_ceiling():
    """The corner leans in by 1/2 in: an upright stud reads 1/2 in less at the ceiling."""
    told = text(everything_planned("in"))
    gable_part = told.split("HANG Gable")[1].split("HANG Stair")[0]
    rows = [re.split(r"  +", line.strip()) for line in gable_part.splitlines()]
    assert ["1", '16"', '15-1/2"'] in rows
    assert ["3", '48"', '47"', 'leans 1/2" to the left'] in rows
    assert ["4", '64"', '63-1/2"', "doubled"] in rows
    assert ["8", '130"', '129-1/2"', "found"] in rows


def test_walls_that_are_not_planned_yet_say_what_they_need():
    answer = planned(everything())
    told = text(answer["plan"], answer["needs"])
    part = told.split("NOT PLANNED YET\n")[1].split("\n\n")[0]
    assert part.splitlines() == [
        "  - Give the width of Later at the floor.",
        "  - Give the first stud mark of Later.",
        "  - Give the stud spacing of Later.",
    ]
    assert "NOT PLANNED" not in text(answer["plan"])


def test_gaps_around_openings_and_boxes_are_told_where_there_are_any():
    told = one_line(text(everything_planned("in")))
    assert '0" at each joint, 1/8" around openings, 1/16" around boxes.' in told
    assert "around" not in text(make(gable())).split("BUY")[0]


def test_lines_are_broken_at_spaces_only():
    assert broken("one two three", 7, 7) == ["one two", "three"]
    assert broken("one two three", 9, 3) == ["one", "two three"]
    assert broken("", 5, 5) == [""]
    out = []
    wrap(out, "  - ", "x" * 90 + " end")
    assert out == ["  - " + "x" * 90, "    end"]


def test_a_table_gives_way_in_its_widest_column():
    out = []
    table(out, ["A", "Long heading"], [["1", "word " * 30 + "end"], ["22", ""]], 2)
    assert max(len(line) for line in out) <= WIDTH
    assert out[0] == "  A   Long heading"
    assert out[1].startswith("  1   word word")
    assert out[2].startswith("      word")
    assert out[-1] == "  22"
    assert not [line for line in out if line.endswith(" ")]
