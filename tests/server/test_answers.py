"""Answers of calc over the API; what calc itself answers is checked in its own tests."""

import csv
import io
import json
from xml.etree import ElementTree

import pytest

from calc.bridge import call

from .conftest import check_error_shape


def test_declarations_are_calcs_own(client):
    for unit in ("in", "mm"):
        served = client.get(f"/api/quick?unit={unit}").get_json()["calculators"]
        own = json.loads(call(json.dumps({"do": "calculators", "unit": unit})))["calculators"]
        assert served == own
        assert len(served) >= 4


def test_a_quick_answer(client):
    """NAVEDTRA 14044: near edge at 15-1/4 in puts the centres at 16, 32, 48, 64, 80, 96 in."""
    given = {"first": "16", "spacing": "16 in", "width": "100"}
    response = client.post("/api/quick/stud-marks", json={"values": given, "unit": "in"})
    assert response.status_code == 200, response.get_json()
    table = response.get_json()["answer"]["tables"][0]
    from_left = [row[table["columns"].index("From left")] for row in table["rows"]]
    assert from_left == ['16"', '32"', '48"', '64"', '80"', '96"']


def test_a_quick_question_without_its_readings_names_them(client):
    response = client.post("/api/quick/remaining-run", json={"values": {}})
    error = check_error_shape(response, 422, "bad-input")
    assert all(p["value"] == "nothing" for p in error["problems"])


def test_a_quick_question_with_a_bad_reading_names_it(client):
    declared = client.get("/api/quick").get_json()["calculators"][0]
    key = next(f["key"] for f in declared["fields"] if f["kind"] == "length")
    response = client.post(f"/api/quick/{declared['name']}", json={"values": {key: "long"}})
    error = check_error_shape(response, 422, "bad-input")
    assert error["problems"][0]["field"] == key
    assert "long" in error["problems"][0]["message"]


def test_a_plan(client, job):
    """96 in at face 5-1/8 in: 18 full courses and a rip (facts of plain arithmetic)."""
    answer = client.post("/api/plan", json={"job": job}).get_json()
    assert set(answer) == {"plan", "view", "needs", "calc"}
    assert answer["needs"] == []
    assert answer["plan"]["format"] == "lapwright-plan"
    assert len(answer["plan"]["walls"][0]["courses"]) == 19


def test_a_plan_of_a_draft_names_what_is_missing(client, draft):
    response = client.post("/api/plan", json={"job": draft})
    error = check_error_shape(response, 422, "bad-input")
    fields = [p["field"] for p in error["problems"]]
    assert "board.face" in fields
    assert "walls[0].width_floor" in fields


def test_a_plan_of_some_walls_says_what_the_others_need(client, partial):
    answer = client.post("/api/plan", json={"job": partial}).get_json()
    assert [w["name"] for w in answer["plan"]["walls"]] == ["Wall 1", "East"]
    assert [w["number"] for w in answer["view"]["walls"]] == [1, 3]
    needs = {n["field"]: n["message"] for n in answer["needs"]}
    assert needs["walls[1].width_floor"] == "Give the width of Later at the floor."


def test_a_plan_as_csv(client, partial):
    """RFC 4180, section 3: text/csv with charset and header."""
    response = client.post("/api/plan.csv", json={"job": partial})
    assert response.status_code == 200
    assert response.headers["Content-Type"] == "text/csv; charset=utf-8; header=present"
    rows = list(csv.DictReader(io.StringIO(response.get_data(as_text=True), newline="")))
    plan = client.post("/api/plan", json={"job": partial}).get_json()["plan"]
    assert {r["piece"]: float(r["length mm"]) for r in rows} == {
        p["id"]: p["length"] for p in plan["pieces"]
    }


@pytest.mark.parametrize("wall", [3, "3", "East"])
@pytest.mark.parametrize("paper", [None, "A4", "Letter"])
def test_a_wall_as_svg(client, partial, wall, paper):
    """ISO 216: A4 is 210 by 297 mm; Letter is 8-1/2 by 11 in, 215.9 by 279.4 mm."""
    given = {"job": partial, "wall": wall, "paper": paper}
    response = client.post("/api/elevation", json=given)
    assert response.status_code == 200, response.get_data(as_text=True)
    assert response.mimetype == "image/svg+xml"
    root = ElementTree.fromstring(response.get_data(as_text=True))
    size = tuple(float(root.get(key).removesuffix("mm")) for key in ("width", "height"))
    assert size == ((279.4, 215.9) if paper == "Letter" else (297, 210))
    drawn = "".join(root.itertext())
    assert "East" in drawn and "Door 1" in drawn and "Wall 1" not in drawn


@pytest.mark.parametrize(
    ("given", "field", "value", "fix"),
    [
        ({"wall": 2}, "wall", "2", "Give its number: 1, 3. Not planned yet: Give the width"),
        ({"wall": "Later"}, "wall", "Later", "Give its number: 1, 3."),
        ({"wall": 0}, "wall", "0", "Give its number: 1, 3."),
        ({"wall": True}, "wall", "true", "Send the wall's number in the job, or its name."),
        ({"wall": [1]}, "wall", "a list", "Send the wall's number in the job, or its name."),
        ({}, "wall", "nothing", "Send the wall's number in the job, or its name."),
        ({"wall": 1, "paper": "A3"}, "paper", "A3", "Use one of A4, Letter."),
        ({"wall": 1, "paper": 4}, "paper", "4", "Send A4 or Letter, or leave it out."),
        ({"wall": 1, "scale": 100}, "scale", "100", "Leave it out; known here: job, wall, paper."),
    ],
)
def test_a_wall_that_can_not_be_drawn_is_named(client, partial, given, field, value, fix):
    response = client.post("/api/elevation", json={"job": partial, **given})
    (problem,) = check_error_shape(response, 422, "bad-input")["problems"]
    assert (problem["field"], problem["value"]) == (field, value)
    assert problem["fix"].startswith(fix)


def test_a_number_comes_before_a_name(client, partial):
    partial["walls"][2]["name"] = "1"
    response = client.post("/api/elevation", json={"job": partial, "wall": "1"})
    assert "Door 1" not in response.get_data(as_text=True)


def test_the_ways_to_divide_the_height(client, partial):
    """A wall with a door can take a line at its head or sill: 4 kinds from 2 edges."""
    answer = client.post("/api/compare", json={"job": partial}).get_json()
    assert set(answer) == {"ways"}
    assert len(answer["ways"]) == 8
    assert [w["rules"] for w in answer["ways"] if w["now"]] == [
        {"start": "floor", "courses": "full"}
    ]
    assert all(w["boards"] > 0 or w["problem"] for w in answer["ways"])


def test_what_lies_beside_the_layout(client, partial):
    """3/4 in boards over 1/2 in wallboard, 1 in into the stud: 2-1/4 in of nail."""
    partial["cost"] = {"tax": "5 %"}
    answer = client.post("/api/trade", json={"job": partial}).get_json()
    assert set(answer) == {"take_off", "sections", "needs"}
    assert answer["needs"]  # of the walls that are not measured yet
    (nails,) = [s for s in answer["sections"] if s["key"] == "nails"]
    assert nails["figures"][0]["text"] == '2-1/4"'
    plan = client.post("/api/plan", json={"job": partial}).get_json()["plan"]
    boards = answer["take_off"]["groups"][0]["items"]
    assert sum(i["count"] for i in boards) == sum(b["count"] for b in plan["buy"])


@pytest.mark.parametrize("path", ["plan", "plan.csv", "elevation", "compare", "trade"])
def test_a_draft_is_told_what_it_needs_everywhere(client, draft, path):
    given = {"job": draft, "wall": 1} if path == "elevation" else {"job": draft}
    error = check_error_shape(client.post(f"/api/{path}", json=given), 422, "bad-input")
    needed = {p["field"]: (p["value"], p["fix"]) for p in error["problems"]}
    assert needed["walls[0].width_floor"] == ("nothing", "Give the width of Wall 1 at the floor.")


@pytest.mark.parametrize("path", ["plan", "plan.csv", "elevation", "compare"])
def test_every_wrong_field_is_named_everywhere(client, partial, path):
    partial["board"]["face"] = "wide"
    partial["walls"][2]["openings"][0]["left"] = "7 ells"
    given = {"job": partial, "wall": 1} if path == "elevation" else {"job": partial}
    error = check_error_shape(client.post(f"/api/{path}", json=given), 422, "bad-input")
    wrong = {p["field"]: p["value"] for p in error["problems"]}
    assert wrong == {"board.face": "wide", "walls[2].openings[0].left": "7 ells"}


def test_ping_tells_the_version_of_the_page(client):
    ping = client.get("/api/ping")
    assert ping.get_json() == {"ok": True, **client.get("/version.json").get_json()}
    assert ping.headers["Cache-Control"] == "no-store"
