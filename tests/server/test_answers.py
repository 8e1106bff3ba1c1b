"""Answers of calc over the API; what calc itself answers is checked in its own tests."""

import json

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
    assert set(answer) == {"plan", "view"}
    assert answer["plan"]["format"] == "lapwright-plan"
    assert len(answer["plan"]["walls"][0]["courses"]) == 19


def test_a_plan_of_a_draft_names_what_is_missing(client, draft):
    response = client.post("/api/plan", json={"job": draft})
    error = check_error_shape(response, 422, "bad-input")
    fields = [p["field"] for p in error["problems"]]
    assert "board.face" in fields
    assert "walls[0].width_floor" in fields


def test_ping_tells_the_version_of_the_page(client):
    ping = client.get("/api/ping")
    assert ping.get_json() == {"ok": True, **client.get("/version.json").get_json()}
    assert ping.headers["Cache-Control"] == "no-store"
