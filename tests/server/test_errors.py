"""One error shape over the whole API, and what each bad input is told."""

import json

import pytest

from calc.shared.job_copy import adopt
from server.app import LARGEST_BODY, LARGEST_PLAN, LARGEST_WRITES

from .conftest import WHOLE_JOB, check_error_shape

KEY = "A" * 22


def with_(path, value):
    """The good job's JSON text with one field changed."""
    doc = json.loads(json.dumps(WHOLE_JOB))
    at = doc
    for step in path[:-1]:
        at = at[step]
    at[path[-1]] = value
    return json.dumps({"job": doc})


WRITES = f"/api/jobs/{KEY}/writes"
COPY = adopt(WHOLE_JOB, "A", 1)
PLAN = {"format": "lapwright-plan"}


def posted(**changes):
    """A new job's body with fields of its envelope changed or added."""
    return json.dumps({"key": KEY, "writes": [COPY], **changes})


def sent(**more):
    return json.dumps({"writes": [COPY], **more})


# (name, method, path, body, status, code, field, message, fix); the last two
# are parts that must stand in the first problem.
BAD = [
    ("no body", "POST", "/api/jobs", "", 400, "bad-json", "", "There is no JSON here.", "object"),
    ("broken JSON", "POST", "/api/jobs", '{"job": }', 400, "bad-json", "",
     "not JSON: line 1, column 9, at }.", "commas, quotes and brackets"),
    ("cut off", "POST", "/api/jobs", '{"job": {', 400, "bad-json", "",
     "the end of the text", "Mend it there"),
    ("not UTF-8", "POST", "/api/jobs", b'{"job": "\xff"}', 400, "bad-json", "",
     "The text is not UTF-8.", "Save it as UTF-8."),
    ("NaN", "POST", "/api/jobs", '{"job": NaN}', 400, "bad-json", "",
     "NaN is not a JSON number.", "null for none"),
    ("Infinity", "POST", "/api/jobs", '{"job": -Infinity}', 400, "bad-json", "",
     "-Infinity is not a JSON number.", "null for none"),
    ("infinite float", "POST", "/api/jobs", '{"job": 1e999}', 400, "bad-json", "",
     "The number 1e999 is too large.", "smaller"),
    ("endless int", "POST", "/api/jobs", '{"job": ' + "9" * 5000 + "}", 400, "bad-json", "",
     "is too long.", "fewer digits"),
    ("field twice", "POST", "/api/jobs", '{"job": 1, "job": 2}', 400, "bad-json", "job",
     'The field "job" is given twice.', "Give it once."),
    ("field twice, deep", "POST", "/api/jobs", '{"job": {"board": {"face": 1, "face": 2}}}',
     400, "bad-json", "face", 'The field "face" is given twice.', "Give it once."),
    ("nested 33 deep", "POST", "/api/jobs", '{"job": ' + "[" * 33 + "]" * 33 + "}", 400,
     "bad-json", "", "nested more than 32 deep", "flatter"),
    ("nested 100000 deep", "POST", "/api/jobs", "[" * 100000 + "]" * 100000, 400,
     "bad-json", "", "nested more than 32 deep", "flatter"),
    ("a list", "POST", "/api/jobs", "[]", 422, "bad-input", "",
     "The request is a list, not an object.", "Send an object."),
    ("a text", "POST", f"/api/jobs/{KEY}/writes", '"job"', 422, "bad-input", "",
     "The request is job, not an object.", "Send an object."),
    ("neither job nor writes", "POST", "/api/jobs", "{}", 422, "bad-input", "key",
     "key is not given.", "22 characters of A-Z, a-z, 0-9, _ and -"),
    ("job is null", "POST", "/api/jobs", '{"job": null}', 422, "bad-input", "job",
     'job: "nothing" can\'t be used.', "Send the job document"),
    ("job is a list", "POST", "/api/jobs", '{"job": []}', 422, "bad-input", "",
     "The job is a list, not an object.", "Send an object."),
    ("unknown envelope field", "POST", "/api/jobs", json.dumps({"job": WHOLE_JOB, "rev": 3}), 422,
     "bad-input", "rev", 'The request has no field "rev".', "known here: job."),
    ("key too short", "POST", "/api/jobs", posted(key="abc"), 422,
     "bad-input", "key", 'key: "abc" can\'t be used.', "22 characters of A-Z, a-z, 0-9, _ and -"),
    ("key with a slash", "POST", "/api/jobs", posted(key="a/" * 11),
     422, "bad-input", "key", "can't be used.", "22 characters"),
    ("key with a line end", "POST", "/api/jobs", posted(key="a" * 22 + "\n"), 422, "bad-input",
     "key", "can't be used.", "22 characters"),
    ("key is a number", "POST", "/api/jobs", posted(key=7), 422,
     "bad-input", "key", 'key: "7" can\'t be used.', "22 characters"),
    ("no writes", "POST", "/api/jobs", posted(writes=[]), 422,
     "bad-input", "writes", 'writes: "a list" can\'t be used.', "1 to 1000 writes"),
    ("a write that is none", "POST", "/api/jobs", posted(writes=[{}]), 422,
     "bad-input", "copy", "is no lapwright-copy", "Send a copy"),
    ("1001 writes", "POST", "/api/jobs", posted(writes=[{}] * 1001), 422,
     "bad-input", "writes", 'writes: "a list" can\'t be used.', "1 to 1000 writes"),
    ("writes and a job", "POST", "/api/jobs", posted(job=WHOLE_JOB), 422,
     "bad-input", "key", 'The request has no field "key".', "known here: job."),
    ("no revision", "POST", WRITES, sent(), 422, "bad-input", "have",
     "have is not given.", "a whole number, 0 for none"),
    ("the revision is a text", "POST", WRITES, sent(have="1"), 422, "bad-input", "have",
     'have: "1" can\'t be used.', "a whole number"),
    ("the revision is true", "POST", WRITES, sent(have=True), 422, "bad-input", "have",
     'have: "true" can\'t be used.', "a whole number"),
    ("the revision is below 0", "POST", WRITES, sent(have=-1), 422, "bad-input", "have",
     'have: "-1" can\'t be used.', "a whole number"),
    ("the revision is 1.5", "POST", WRITES, sent(have=1.5), 422, "bad-input", "have",
     'have: "1.5" can\'t be used.', "a whole number"),
    ("the revision is huge", "POST", WRITES, sent(have=99999999999), 422, "bad-input", "have",
     'have: "99999999999" can\'t be used.', "a whole number"),
    ("a key in a write", "POST", WRITES, sent(have=1, key=KEY), 422, "bad-input", "key",
     'The request has no field "key".', "known here: writes, have."),
    ("no kind of link", "POST", f"/api/jobs/{KEY}/links", "{}", 422, "bad-input", "kind",
     "kind is not given.", "Send edit or saw."),
    ("another kind of link", "POST", f"/api/jobs/{KEY}/links", '{"kind": "owner"}', 422,
     "bad-input", "kind", 'kind: "owner" can\'t be used.', "Send edit or saw."),
    ("a new key too short", "POST", f"/api/jobs/{KEY}/links", '{"kind": "saw", "key": "x"}', 422,
     "bad-input", "key", 'key: "x" can\'t be used.', "22 characters"),
    ("another kind of code", "POST", f"/api/jobs/{KEY}/code", '{"kind": ["saw"]}', 422,
     "bad-input", "kind", 'kind: "a list" can\'t be used.', "Send edit or saw."),
    ("a code that is a number", "POST", "/api/codes", '{"code": 12345678}', 422,
     "bad-input", "code", 'code: "12345678" can\'t be used.', "the digits"),
    ("a code of a novel", "POST", "/api/codes", json.dumps({"code": "1" * 41}), 422,
     "bad-input", "code", "can't be used.", "the digits"),
    ("a code that opens nothing", "POST", "/api/codes", '{"code": "1234 5678"}', 404,
     "not-found", "code", 'code: "1234 5678" opens no job.', "8 digits"),
    ("a plan that is none", "PUT", f"/api/jobs/{KEY}/plan",
     json.dumps({"job": WHOLE_JOB, "plan": {"format": "lapwright-job"}}), 422, "bad-input", "plan",
     'plan: "an object" can\'t be used.', "lapwright-plan"),
    ("a plan of a wrong job", "PUT", f"/api/jobs/{KEY}/plan",
     json.dumps({"job": {}, "plan": PLAN}), 422, "bad-input", "format",
     "not a lapwright-job file", "lapwright-job"),
    ("a plan, instead in words", "PUT", f"/api/jobs/{KEY}/plan",
     json.dumps({"job": WHOLE_JOB, "plan": PLAN, "instead": "yes"}), 422, "bad-input",
     "instead", 'instead: "yes" can\'t be used.', "Send true"),
    ("a stream of no phone", "GET", f"/api/jobs/{KEY}/live", None, 404, "not-found", "key",
     "There is no job under the key", "Check the link"),
    ("unreadable length", "POST", "/api/jobs", with_(["walls", 0, "height_left"], "8 foo"), 422,
     "bad-input", "walls[0].height_left", "8 foo", "Use in, ft, mm, cm or m"),
    ("length is true", "POST", "/api/jobs", with_(["board", "face"], True), 422,
     "bad-input", "board.face", "true is not a length", "75 3/4"),
    ("negative length", "POST", "/api/jobs", with_(["board", "face"], -5), 422,
     "bad-input", "board.face", "-5 mm", "Give"),
    ("misspelt field", "POST", "/api/jobs", with_(["board", "fcae"], "5"), 422,
     "bad-input", "board.fcae", "fcae", "face"),
    ("newer version", "POST", "/api/jobs", with_(["version"], 2), 422,
     "bad-input", "version", '"2" is not known here', "newer Lapwright"),
    ("other format", "POST", "/api/jobs", with_(["format"], "plan"), 422,
     "bad-input", "format", "not a lapwright-job file", "lapwright-job"),
    ("unknown unit", "POST", "/api/jobs", with_(["unit"], "yd"), 422,
     "bad-input", "unit", "yd", "in"),
    ("walls is an object", "POST", "/api/jobs", with_(["walls"], {}), 422,
     "bad-input", "walls", "is not a list", "Give a list, or leave it out."),
    ("stud beyond the wall", "POST", "/api/jobs", with_(["walls", 0, "studs", "first"], "400"), 422,
     "bad-input", "walls[0].studs.first", "400", "Give"),
    ("unknown key", "GET", f"/api/jobs/{KEY}", None, 404, "not-found", "key",
     "There is no job under the key", "Check the link"),
    ("unknown key's links", "GET", f"/api/jobs/{KEY}/links", None, 404, "not-found", "key",
     "There is no job under the key", "Check the link"),
    ("unknown key's new link", "POST", f"/api/jobs/{KEY}/links", '{"kind": "edit"}', 404,
     "not-found", "key", "There is no job under the key", "Check the link"),
    ("unknown key's code", "POST", f"/api/jobs/{KEY}/code", '{"kind": "edit"}', 404,
     "not-found", "key", "There is no job under the key", "Check the link"),
    ("unknown key's plan", "GET", f"/api/jobs/{KEY}/plan", None, 404,
     "not-found", "key", "There is no job under the key", "Check the link"),
    ("unknown key's plan in use", "PUT", f"/api/jobs/{KEY}/plan",
     json.dumps({"job": WHOLE_JOB, "plan": PLAN}), 404, "not-found", "key",
     "There is no job under the key", "Check the link"),
    ("unknown key to write", "POST", WRITES, sent(have=1), 404, "not-found", "key",
     "There is no job under the key", "Check the link"),
    ("no such route", "GET", "/api/walls", None, 404, "not-found", "",
     "There is nothing at /api/walls.", "/p"),
    ("a path upwards", "GET", "/../pyproject.toml", None, 404, "not-found", "",
     "There is nothing at", "/p"),
    ("a list of jobs", "GET", "/api/jobs", None, 405, "method", "",
     "GET is not possible at /api/jobs.", "Use POST."),
    ("unknown calculator", "POST", "/api/quick/roof", '{"values": {}}', 404, "not-found", "name",
     'there is no calculator "roof"', "remaining"),
    ("values missing", "POST", "/api/quick/remaining-run", "{}", 422, "bad-input", "values",
     "values is not given.", "calculator's fields"),
    ("values a list", "POST", "/api/quick/remaining-run", '{"values": []}', 422, "bad-input",
     "values", 'values: "a list" can\'t be used.', "calculator's fields"),
    ("unknown unit of an answer", "POST", "/api/quick/remaining-run",
     '{"values": {}, "unit": "yd"}', 422, "bad-input", "unit", "yd", "in, ft, mm, cm, m"),
    ("unknown unit of declarations", "GET", "/api/quick?unit=yd", None, 422, "bad-input", "unit",
     "yd", "in, ft, mm, cm, m"),
    ("plan of nothing", "POST", "/api/plan", "{}", 422, "bad-input", "job",
     "job is not given.", "Send the job document"),
    ("plan of a number", "POST", "/api/plan", '{"job": 5}', 422, "bad-input", "",
     "not an object", "Send an object."),
    ("plan without a face", "POST", "/api/plan", with_(["board"], {"stock": [{"length": "12 ft"}]}),
     422, "bad-input", "board.face", "board.face is not given.", "face"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("method", "path", "body", "status", "code", "field", "message", "fix"),
    [row[1:] for row in BAD],
    ids=[row[0] for row in BAD],
)
def test_bad_input_is_named(client, method, path, body, status, code, field, message, fix):
    response = client.open(path, method=method, data=body, content_type="application/json")
    error = check_error_shape(response, status, code)
    first = error["problems"][0]
    assert first["field"] == field
    assert message in first["message"]
    assert fix in first["fix"]
    assert error["message"].startswith(first["message"])


def test_every_problem_is_named_at_once(client, job):
    job["board"]["face"] = "wide"
    job["walls"][0]["height_left"] = "tall"
    job["walls"][0]["colour"] = "red"
    response = client.post("/api/jobs", json={"job": job, "key": "x", "owner": "y"})
    error = check_error_shape(response, 422, "bad-input")
    fields = sorted(p["field"] for p in error["problems"])
    assert fields == ["board.face", "key", "owner", "walls[0].colour", "walls[0].height_left"]
    assert error["message"].endswith("And 4 more.")


@pytest.mark.parametrize(
    "content_type", [None, "text/plain", "application/x-www-form-urlencoded", "multipart/form-data"]
)
@pytest.mark.parametrize(
    ("method", "path"),
    [
        ("POST", "/api/jobs"),
        ("POST", WRITES),
        ("POST", f"/api/jobs/{KEY}/links"),
        ("POST", f"/api/jobs/{KEY}/code"),
        ("POST", "/api/codes"),
        ("PUT", f"/api/jobs/{KEY}/plan"),
        ("POST", "/api/plan"),
        ("POST", "/api/quick/remaining-run"),
    ],
)
def test_a_write_that_a_foreign_form_could_send_is_refused(client, method, path, content_type):
    """Only application/json, which a page of another origin may not send unasked (Fetch)."""
    body = json.dumps({"job": WHOLE_JOB})
    response = client.open(path, method=method, data=body, content_type=content_type)
    error = check_error_shape(response, 415, "content-type")
    assert error["problems"][0]["field"] == "Content-Type"
    assert error["problems"][0]["fix"] == "Send application/json."
    assert "Access-Control-Allow-Origin" not in response.headers


def test_every_route_refuses_other_methods(app, client):
    tried = 0
    allowed = {}
    for rule in app.url_map.iter_rules():
        allowed.setdefault(rule.rule, set()).update(rule.methods)
    for rule, methods in allowed.items():
        path = rule.replace("<key>", KEY).replace("<name>", "x").replace("<file:name>", "p")
        for method in {"GET", "POST", "PUT", "DELETE", "PATCH"} - methods:
            error = check_error_shape(client.open(path, method=method), 405, "method")
            assert error["message"].startswith(f"{method} is not possible")
            tried += 1
    assert tried > 30


@pytest.mark.parametrize(
    ("method", "path", "most"),
    [
        ("POST", "/api/jobs", LARGEST_WRITES),
        ("POST", WRITES, LARGEST_WRITES),
        ("PUT", f"/api/jobs/{KEY}/plan", LARGEST_PLAN),
        ("POST", f"/api/jobs/{KEY}/links", LARGEST_BODY),
        ("GET", f"/api/jobs/{KEY}/live", LARGEST_BODY),
        ("POST", "/api/codes", LARGEST_BODY),
        ("POST", "/api/plan", LARGEST_BODY),
        ("POST", "/api/x", LARGEST_BODY),
        ("POST", "/p", LARGEST_BODY),
    ],
)
def test_a_body_over_the_limit_is_refused(client, method, path, most):
    body = b'"' + b"x" * most + b'"'
    response = client.open(path, method=method, data=body, content_type="application/json")
    error = check_error_shape(response, 413, "too-large")
    assert error["message"] == f"The request is larger than {most // 1_000_000} MB."
    assert error["problems"][0]["value"] == f"{len(body)} bytes"


def test_a_body_of_a_megabyte_is_read(client):
    body = b" " * (LARGEST_BODY - 2) + b"{}"
    response = client.post("/api/plan", data=body, content_type="application/json")
    check_error_shape(response, 422, "bad-input")


def test_a_fault_of_ours_is_told_without_its_insides(app, client, monkeypatch, capsys, caplog):
    def broken(_key):
        raise RuntimeError("secret-detail")

    monkeypatch.setattr(app.extensions["lapwright-store"], "get", broken)
    response = client.get(f"/api/jobs/{KEY}")
    error = check_error_shape(response, 500, "fault")
    assert "secret-detail" not in json.dumps(error)
    assert "secret-detail" in caplog.text  # the laptop's window says it
