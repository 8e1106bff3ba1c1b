"""The CSV of a plan, read back and held against the plan number by number.

RFC 4180, section 2: rule 1 lines end with CRLF; 3 a header line; 4 as many
fields in every line; 6 fields with line ends, quotes and commas in quotes; 7 a
quote inside doubled. The reader is the standard library's csv module, strict.
"""

import csv
import io
import json
import re

import pytest

from calc.bridge import call
from calc.cutcsv import COLUMNS, text
from calc.lengths import read
from calc.plan import make
from tests.jobs import random_job
from tests.real_walls import everything_planned, gable

INCH = 25.4
SHOWN = {"in": INCH / 64, "ft": INCH / 64, "mm": 0.25, "cm": 0.25, "m": 0.25}  # see reading()


def rows_of(plan):
    """The rows as dicts, after checking the form."""
    made = text(plan)
    assert made.endswith("\r\n")
    lines = list(csv.reader(io.StringIO(made, newline=""), strict=True))
    assert lines[0] == list(COLUMNS)
    assert {len(line) for line in lines} == {len(COLUMNS)}
    return [dict(zip(COLUMNS, line, strict=True)) for line in lines[1:]]


def said(cell, unit):
    """A length as it reads, in mm."""
    return read(cell, unit) / 320


@pytest.fixture(scope="module", params=["in", "ft", "mm", "cm", "m"])
def plan(request):
    """The walls with everything, told in each unit."""
    return everything_planned(request.param)


def test_a_row_a_piece_in_cutting_order(plan):
    rows = rows_of(plan)
    expected = [
        (str(b["number"]), str(i + 1), b["cuts"][i])
        for b in plan["boards"]
        for i in range(len(b["cuts"]))
    ]
    assert [(r["board"], r["cut"], r["piece"]) for r in rows] == expected
    assert {r["piece"] for r in rows} == {p["id"] for p in plan["pieces"]}
    assert len(rows) == len(plan["pieces"]) > 40


def test_every_length_is_the_plan_s(plan):
    pieces = {p["id"]: p for p in plan["pieces"]}
    for r in rows_of(plan):
        p, b = pieces[r["piece"]], plan["boards"][int(r["board"]) - 1]
        told = {
            "stock": b["stock"],
            "length": p["length"],
            "lower edge": p["lengths"]["lower"],
            "upper edge": p["lengths"]["upper"],
            "left of board": b["offcut"],
        }
        if p["rip"]:
            told["rip"] = p["rip"]["width"]
        for column, mm in told.items():
            assert float(r[column + " mm"]) == mm  # to the jot, 0.003125 mm
            if r[column][:7] != "nothing":
                assert abs(said(r[column], plan["unit"]) - mm) <= SHOWN[plan["unit"]] + 1e-9
        if not p["rip"]:
            assert r["rip"] == r["rip mm"] == r["rip off edge"] == r["tongue or lap"] == ""
        else:
            kept = "stays" if p["rip"]["keeps"] else "goes"
            assert (r["rip off edge"], r["tongue or lap"]) == (p["rip"]["cut"], kept)


def test_every_end_is_the_plan_s(plan):
    pieces = {p["id"]: p for p in plan["pieces"]}
    kinds = set()
    for r in rows_of(plan):
        p = pieces[r["piece"]]
        assert r["wall"] == plan["walls"][p["wall"] - 1]["name"]
        assert r["course"] == str(p["course"])
        assert r["place"] == f"{r['left end at']} to {r['right end at']}"
        for side in ("left", "right"):
            end = p[side + "_end"]
            kinds.add(end["kind"])
            assert r[side + " end"] == end["kind"]
            assert round(100 * float(r[side + " end degrees off square"])) == end["angle"]
            assert r[side + " end longer edge"] == (end["long"] or "")
            if end["kind"] == "opening":
                assert r[side + " end at"] == end["name"]
            elif end["kind"] == "joint":
                number, at = re.match(r"stud (\d+) at (.*)", r[side + " end at"]).groups()
                assert int(number) == end["stud"]
                assert abs(said(at, plan["unit"]) - end["at"]) <= SHOWN[plan["unit"]] + 1e-9
    assert kinds == {"wall end", "opening", "joint"}


def test_mitres_stand_where_the_two_walls_meet(plan):
    """Wall 2 starts mitred on wall 1: the last end of each course there, the first here."""
    mitred = {
        (side, r["piece"])
        for r in rows_of(plan)
        for side in ("left", "right")
        if r[side + " end mitre degrees"] == "45"
    }
    first, second = plan["walls"]
    expected = {("right", c["runs"][-1]["pieces"][-1]) for c in first["courses"]}
    expected |= {("left", c["runs"][0]["pieces"][0]) for c in second["courses"]}
    assert mitred == expected


LENGTHS = {
    "in": r'\d+(?:-\d+/\d+)?"(?: (?:heavy|light) \([+-]1/32"\))?|\d+/\d+"(?: (?:heavy|light) '
    r'\([+-]1/32"\))?',
    "ft": r"(?:\d+' )?(?:\d+(?:-\d+/\d+)?|\d+/\d+)\"(?: (?:heavy|light) \([+-]1/32\"\))?",
}


def told_in(sentence, unit):
    """Every length of a sentence, in mm."""
    return [
        said(t, unit) for t in re.findall(LENGTHS.get(unit, rf"\d+(?:\.\d+)? {unit}"), sentence)
    ]


def numbers_of(p):
    """(what must be told, what may be told besides) of a piece's cuts, in mm."""
    must, may = [], [0, p["length"]]
    for c in p["cuts"]:
        if "points" in c:
            must += [n for point in c["points"] for n in point]
        elif c["kind"] == "round":
            tall = max(up for ring in p["shape"] for _, up in ring)
            for at, end in zip(c["centre"], (p["length"], tall), strict=True):
                must.append(-at if at < 0 else at - end if at > end else at)
            must.append(c["diameter"])
            for edge in (0, tall):  # where it runs out, by Pythagoras
                half = (c["diameter"] / 2) ** 2 - (c["centre"][1] - edge) ** 2
                marks = [c["centre"][0] + sign * abs(half) ** 0.5 for sign in (-1, 1)]
                must += [m for m in marks if half > 0 and 0 < m < p["length"]]
        else:
            must += [c["from"], c["to"]]
            inside = c["open"] in ([], ["left"], ["right"])
            must += [c["low"], c["high"]] if inside else [c["high"] - c["low"]]
            may += [c["to"] - c["from"], c["low"], c["high"]]
    return must, may + must


def test_every_cut_and_scribe_mark_is_the_plan_s(plan):
    pieces = {p["id"]: p for p in plan["pieces"]}
    near = SHOWN[plan["unit"]] + 1e-9
    kinds = set()
    for r in rows_of(plan):
        p = pieces[r["piece"]]
        kinds |= {c["kind"] for c in p["cuts"]}
        told = told_in(r["cuts"], plan["unit"])
        must, may = numbers_of(p)
        tall = max(up for ring in p["shape"] for _, up in ring)
        for n in told:
            assert any(abs(n - m) <= near for m in may), (r["cuts"], n)
        for m in must:  # an end, or an edge, is told by its name
            named = any(abs(m - n) < 0.004 for n in (0, p["length"], tall))
            assert named or any(abs(n - m) <= near for n in told), (r["cuts"], m)
        marks = [m for s in p["scribe"] for m in s["marks"]]
        told = told_in(r["scribe"], plan["unit"])
        for m in marks:
            assert any(abs(n - m["up"]) <= near for n in told)
            assert not m["stud"] or f"stud {m['stud']}, " in r["scribe"]
        assert bool(marks) == bool(r["scribe"])
    assert {"bevel", "taper", "notch", "round"} <= kinds


def test_a_gable_by_hand():
    """See tests/real_walls.py for the arithmetic."""
    rows = {r["piece"]: r for r in rows_of(make(gable()))}
    a = rows["4A"]
    assert (a["length"], a["lower edge"], a["upper edge"]) == ('48"', '48"', '24"')
    assert (a["length mm"], a["upper edge mm"]) == ("1219.2", "609.6")  # 48 and 24 times 25.4
    assert a["left end degrees off square"] == "71.57"
    assert (a["left end longer edge"], a["right end longer edge"]) == ("lower", "")
    assert a["cuts"] == (
        "Saw the left end off for the ceiling: mark the lower edge at the left end and the upper "
        'edge 24" from the left end; saw from mark to mark.'
    )
    assert (rows["5A"]["lower edge"], rows["5A"]["upper edge mm"]) == ('24"', "0")
    assert rows["1A"]["cuts"] == rows["1A"]["scribe"] == rows["1A"]["rip"] == ""


@pytest.mark.parametrize(
    "name", ["=1+1", "+1", "-1", "@SUM(A1)", '=HYPERLINK("x","y")', "＝1", "＠a"]
)
def test_a_name_that_would_run_as_a_formula_is_led_by_an_apostrophe(name):
    doc = gable(title=name)
    doc["walls"][0]["name"] = name
    doc["walls"][0]["openings"] = [
        {"name": name, "left": "20", "width": "8", "bottom": "0", "height": "20"}
    ]
    plan = make(doc)
    rows = rows_of(plan)
    assert {r["job"] for r in rows} == {r["wall"] for r in rows} == {"'" + name}
    ends = {r["left end at"] for r in rows} - {"left end"}
    assert "'" + name in ends
    assert any(r["place"].startswith("'" + name) for r in rows)
    runs = tuple("=+-@\t\r\n＝＋－＠")
    assert not [c for r in rows for c in r.values() if c.startswith(runs)]


def test_names_keep_their_quotes_commas_and_letters():
    doc = gable(title='A "long", high; wall')
    doc["walls"][0]["name"] = "Flügel, Süd"
    rows = rows_of(make(doc))
    assert {(r["job"], r["wall"]) for r in rows} == {('A "long", high; wall', "Flügel, Süd")}


@pytest.mark.parametrize("seed", range(0, 60, 7))
def test_plain_jobs_of_any_kind_are_told_to_the_jot(seed):
    answer = json.loads(call(json.dumps({"do": "plan", "job": random_job(seed)})))
    if not answer["ok"]:
        assert answer["problems"]
        return
    plan = answer["plan"]
    sizes = {p["id"]: p["length"] for p in plan["pieces"]}
    assert {r["piece"]: float(r["length mm"]) for r in rows_of(plan)} == sizes


def test_by_the_bridge():
    plan = make(gable())
    answer = json.loads(call(json.dumps({"do": "csv", "plan": plan})))
    assert answer == {"ok": True, "text": text(plan)}


@pytest.mark.parametrize(
    ("spoil", "value", "says"),
    [
        (lambda plan: plan.clear(), "an object", "is no plan"),
        (lambda plan: plan["pieces"].clear(), "1A", "piece 1A is not in it"),
        (lambda plan: plan.pop("pieces"), "1A", "piece 1A is not in it"),
        (lambda plan: plan["pieces"].pop(), "5A", "piece 5A is not in it"),
        (lambda plan: (plan.pop("boards"), plan.pop("pieces")), "nothing", "it has no pieces"),
    ],
)
def test_a_plan_that_is_not_whole_is_refused(spoil, value, says):
    plan = make(gable())
    spoil(plan)
    answer = json.loads(call(json.dumps({"do": "csv", "plan": plan})))
    (problem,) = answer["problems"]
    assert (answer["ok"], problem["field"], problem["value"]) == (False, "plan", value)
    assert says in problem["message"] and problem["fix"].startswith("Send ")
