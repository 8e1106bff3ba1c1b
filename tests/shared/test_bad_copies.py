"""What is no copy, job, step or pick is refused by name; nothing else breaks."""

import json
from copy import deepcopy

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calc.bridge import call
from calc.shared.merge import check, empty, merge
from calc.shared.seen import LAST_CHANGE, SIZE
from tests.jobs import job, put
from tests.shared.copies import copies
from tests.shared.phones import Phone, ask, meet, refused

MANY = settings(
    max_examples=300, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)
GOOD = Phone("a", job()).copy
H = "/walls/1/height_left"
AT = f"copy.fields[{H}]"
LONG = 25 * "x"


def changed(*way, to):
    """GOOD with something else at the end of the way."""
    copy = json.loads(json.dumps(GOOD))
    at = copy
    for key in way[:-1]:
        at = at[key]
    at[way[-1]] = to
    return copy


def fields(path, *writes):
    return changed("fields", path, to=list(writes))


# (what is no copy, the field that is named, the value that is shown, a word of the message)
BAD = [
    (None, "copy", "nothing", "lapwright-copy"),
    ([], "copy", "a list", "lapwright-copy"),
    ({}, "copy", "an object", "lapwright-copy"),
    (changed("format", to="lapwright-job"), "copy", "an object", "lapwright-copy"),
    (changed("version", to=2), "copy.version", "2", "not known"),
    (changed("version", to=True), "copy.version", "true", "not known"),
    (changed("note", to=1), "copy.note", "1", "not a field"),
    (changed("seen", to=[]), "copy.seen", "a list", "no object"),
    (changed("seen", "a b", to=[[SIZE, SIZE]]), "copy.seen[a b]", "a b", "no writer"),
    (changed("seen", "", to=[[SIZE, SIZE]]), "copy.seen[]", "", "no writer"),
    (changed("seen", LONG, to=[[SIZE, SIZE]]), f"copy.seen[{LONG}]", LONG, "no writer"),
    (changed("seen", "b", to=[]), "copy.seen[b]", "a list", "no list of runs"),
    (changed("seen", "b", to={}), "copy.seen[b]", "an object", "no list of runs"),
    (changed("seen", "b", to=[SIZE]), "copy.seen[b]", str(SIZE), "no run"),
    (changed("seen", "b", to=[[SIZE]]), "copy.seen[b]", "a list", "no run"),
    (changed("seen", "b", to=[[1, SIZE]]), "copy.seen[b]", "a list", "no run"),
    (changed("seen", "b", to=[[SIZE, SIZE + 0.5]]), "copy.seen[b]", "a list", "no run"),
    (changed("seen", "b", to=[[SIZE, True]]), "copy.seen[b]", "a list", "no run"),
    (changed("seen", "b", to=[[SIZE, (LAST_CHANGE + 1) * SIZE]]), "copy.seen[b]", "a list",
     "no run"),
    (changed("seen", "b", to=[[SIZE + 1, SIZE]]), "copy.seen[b]", "a list", "order"),
    (changed("seen", "b", to=[[SIZE, SIZE], [SIZE + 1, SIZE + 2]]), "copy.seen[b]", "a list",
     "order"),
    (changed("seen", "b", to=[[SIZE + 5, SIZE + 6], [SIZE, SIZE]]), "copy.seen[b]", "a list",
     "order"),
    (changed("fields", to=[]), "copy.fields", "a list", "no object"),
    (fields("title", ["a", SIZE, "x"]), "copy.fields[title]", "title", "no path"),
    (fields("", ["a", SIZE, "x"]), "copy.fields[]", "", "no path"),
    (fields("/walls", ["a", SIZE, 0]), "copy.fields[/walls]", "/walls", "no path"),
    (fields("/rules", ["a", SIZE, "x"]), "copy.fields[/rules]", "/rules", "no path"),
    (fields("/walls/1/id", ["a", SIZE, "x"]), "copy.fields[/walls/1/id]", "/walls/1/id", "no path"),
    (fields("/format", ["a", SIZE, "x"]), "copy.fields[/format]", "/format", "no path"),
    (fields("/walls//name", ["a", SIZE, "x"]), "copy.fields[/walls//name]", "/walls//name",
     "no path"),
    (fields("/walls/a~b", ["a", SIZE, 0]), "copy.fields[/walls/a~b]", "/walls/a~b", "another way"),
    (fields("/walls/\ud800", ["a", SIZE, 0]), "copy.fields[/walls/\ud800]", "/walls/\ud800",
     "no path"),
    (fields(H), AT, "a list", "no list of writes"),
    (changed("fields", H, to={}), AT, "an object", "no list of writes"),
    (fields(H, "x"), AT, "x", "no write"),
    (fields(H, ["a"]), AT, "a list", "no write"),
    (fields(H, ["a", SIZE, "x", "y"]), AT, "a list", "no write"),
    (fields(H, ["a", 1.5, "x"]), AT, "a list", "no write"),
    (fields(H, ["b", SIZE, "x"]), AT, "b", "not in seen"),
    (fields(H, [1, SIZE, "x"]), AT, "1", "not in seen"),
    (fields(H, ["a", 3 * SIZE, "x"]), AT, "a", "not in seen"),
    (fields(H, ["a", SIZE + 1, "x"], ["a", SIZE, "y"]), AT, str(SIZE), "order"),
    (fields(H, ["a", SIZE, "x"], ["a", SIZE, "x"]), AT, str(SIZE), "twice"),
    (fields(H, ["a", SIZE, "y"], ["a", SIZE, "x"]), AT, str(SIZE), "order"),
    (fields(H, ["a", SIZE, True]), AT, "true", "no value"),
    (fields(H, ["a", SIZE, {}]), AT, "an object", "no value"),
    (fields(H, ["a", SIZE, ["96"]]), AT, "a list", "no value"),
    (fields(H, ["a", SIZE, float("nan")]), AT, "nan", "no value"),
    (fields(H, ["a", SIZE, float("inf")]), AT, "inf", "no value"),
    (fields(H, ["a", SIZE, 2**53 + 1]), AT, str(2**53 + 1), "no value"),
    (fields(H, ["a", SIZE, "half \udc00"]), AT, "half \udc00", "no value"),
    (fields("/walls/1/studs/found", ["a", SIZE, [["7"]]]), "copy.fields[/walls/1/studs/found]",
     "a list", "no value"),
    (fields("/walls/1", ["a", SIZE, "0"]), "copy.fields[/walls/1]", "0", "no place"),
    (fields("/walls/1", ["a", SIZE, -1]), "copy.fields[/walls/1]", "-1", "no place"),
    (fields("/walls/1", ["a", SIZE, 0.5]), "copy.fields[/walls/1]", "0.5", "no place"),
    (fields("/walls/1", ["a", SIZE, None]), "copy.fields[/walls/1]", "nothing", "no place"),
]  # fmt: skip


@pytest.mark.parametrize(("copy", "field", "value", "says"), BAD)
def test_what_is_no_copy_is_refused_by_name(copy, field, value, says):
    for request in (
        {"do": "join", "copies": [GOOD, copy]},
        {"do": "write", "copy": copy, "job": job(), "writer": "b", "number": 9},
    ):
        problem = refused(**request)
        assert (problem["field"], problem["value"]) == (field, value)
        assert says in problem["message"] and field in problem["message"]
        assert problem["fix"].endswith(".")


@pytest.mark.parametrize("copies", [None, [], {}, "x"])
def test_copies_are_a_list_of_some(copies):
    assert refused("join", copies=copies)["field"] == "copies"


NAMED = {"writer": "b", "number": 2}


@pytest.mark.parametrize("do", ["adopt", "write", "undo", "settle"])
@pytest.mark.parametrize(
    ("field", "value", "says"),
    [
        ("writer", None, "writer"), ("writer", "a/b", "no writer"), ("writer", LONG, "no writer"),
        ("number", None, "name"), ("number", True, "name"), ("number", 1.5, "name"),
        ("number", "2", "name"), ("number", 0, "name"), ("number", LAST_CHANGE + 1, "name"),
    ],
)  # fmt: skip
def test_writer_and_number_name_a_change(do, field, value, says):
    request = {"copy": GOOD, "job": job(), **NAMED, field: value}
    problem = refused(do, **request)
    assert problem["field"] == field and says in problem["message"]


@pytest.mark.parametrize("do", ["write", "undo", "settle"])
def test_a_number_is_above_all_that_was_seen(do):
    """Else one name could stand for two changes."""
    problem = refused(do, copy=GOOD, job=job(), writer="b", number=1)
    assert problem["field"] == "number" and "from 2 to 999999999" in problem["fix"]


WALL = "walls[0]."
BAD_JOBS = [
    ("title", {}, "title", "no value"),
    ("title", True, "title", "no value"),
    ("title", ["Hall"], "title", "no value"),
    ("titel", "Hall", "titel", "not a field"),
    ("format", "lapwright-plan", "format", "not known"),
    ("version", 2, "version", "not known"),
    ("rules", None, "rules", "no object"),
    ("rules.kerb", "1/8", "rules.kerb", "not a field"),
    ("rules.kerf", 1e300, "rules.kerf", "no value"),
    ("walls", None, "walls", "no list"),
    ("walls", {}, "walls", "no list"),
    ("walls[0]", "x", "walls[0]", "no object"),
    ("walls[0].id", 7, WALL + "id", "no id"),
    ("walls[0].id", 41 * "x", WALL + "id", "no id"),
    ("walls[0].heights", "96", WALL + "heights", "not a field"),
    ("walls[0].studs", [], WALL + "studs", "no object"),
    ("walls[0].studs.found", [["7"]], WALL + "studs.found", "no value"),
    ("walls[0].openings", [{"id": "x"}, {}, {"id": "x"}], WALL + "openings[2].id", "taken"),
    ("walls[0].openings", [{"left": {}}], WALL + "openings[0].left", "no value"),
]


@pytest.mark.parametrize(("path", "value", "field", "says"), BAD_JOBS)
def test_a_job_that_no_copy_can_hold_is_refused_by_name(path, value, field, says):
    doc = job()
    put(doc, path, value)
    for request in ({"do": "write", "copy": GOOD, **NAMED}, {"do": "adopt", **NAMED}):
        problem = refused(**request, job=doc)
        assert problem["field"] == field and says in problem["message"]


@pytest.mark.parametrize("doc", [None, [], "job"])
def test_a_job_is_an_object(doc):
    assert refused("adopt", job=doc, **NAMED)["field"] == "job"
    assert refused("write", copy=GOOD, job=doc, **NAMED)["field"] == "job"


def test_an_id_may_not_be_the_place_of_another():
    """What is adopted goes by its places where it has no ids."""
    problem = refused("adopt", job=job(walls=[{"id": "2"}, {}]), **NAMED)
    assert problem["field"] == "walls[1].id" and problem["value"] == "2"


def test_a_draft_with_wrong_readings_is_no_error():
    """It is told by the verb check, and must be kept meanwhile."""
    doc = json.loads(json.dumps(job()))
    doc["walls"][0].update(height_left="9x", level="up", width_floor=-1, openings=[{"kind": 7}])
    for answer in (ask("write", copy=GOOD, job=doc, **NAMED), ask("adopt", job=doc, **NAMED)):
        wall = answer["job"]["walls"][0]
        assert (wall["height_left"], wall["level"], wall["width_floor"]) == ("9x", "up", -1)
        assert ask("check", job=answer["job"])["problems"]


STEP = {"writer": "a", "number": 1, "before": {H: [[[]], [['96"']]]}}


@pytest.mark.parametrize(
    ("way", "value", "field"),
    [
        ((), None, "step"), ((), [], "step"), (("before",), None, "step"),
        (("writer",), None, "step.writer"), (("number",), 0, "step.number"),
        (("before", H), None, f"step.before[{H}]"), (("before", H), [[]], f"step.before[{H}]"),
        (("before", H), [[], [[]]], f"step.before[{H}]"),
        (("before", H), [[["x", "y"]], [[]]], f"step.before[{H}]"),
        (("before", H), [[[{}]], [[]]], f"step.before[{H}]"),
        (("before", H), ["x", [[]]], f"step.before[{H}]"),
        (("before", "/walls"), [[[]], [[0]]], "step.before[/walls]"),
        (("before", "/walls/1"), [[["0"]], [[]]], "step.before[/walls/1]"),
    ],
)  # fmt: skip
def test_a_step_that_no_verb_answered_is_refused(way, value, field):
    step = json.loads(json.dumps(STEP))
    at = holder = {"step": step}
    for key in ("step", *way)[:-1]:
        at = at[key]
    at[("step", *way)[-1]] = value
    assert refused("undo", copy=GOOD, **NAMED, **holder)["field"] == field


@pytest.mark.parametrize(
    ("path", "place", "field"),
    [(None, 0, "path"), ("/title", 0, "path"), ({}, 0, "path"), (H, 2, "place"), (H, -1, "place"),
     (H, True, "place"), (H, "0", "place"), (H, None, "place")],
)  # fmt: skip
def test_a_pick_of_nothing_is_refused(path, place, field):
    a = Phone("a", job())
    b = Phone("b", a)
    a.edit(walls__0__height_left='97"')
    b.edit(walls__0__height_left='98"')
    meet(a, b)
    problem = refused("settle", copy=a.copy, path=path, place=place, writer="a", number=9)
    assert problem["field"] == field


def test_more_fields_than_one_change_may_write_are_refused():
    doc = {"format": "lapwright-job", "version": 1,
           "walls": [{"name": "x"} for _ in range(SIZE // 2 + 1)]}  # fmt: skip
    problem = refused("write", copy=empty(), job=doc, **NAMED)
    assert problem["field"] == "job" and str(SIZE) in problem["fix"]


JUNK = st.sampled_from(
    [None, True, -1, 0, 1, SIZE, 10**30, 1.5, float("nan"), "", "x", "a", "96 in", "/walls/1",
     "\ud800", "~", [], [[]], [0], {}, {"a": 1}, {"": []}]
).map(deepcopy)  # fmt: skip


def places(value, way=()):
    """Every place in a JSON value, as the keys on the way to it."""
    yield way
    if isinstance(value, (dict, list)):
        for key in value if isinstance(value, dict) else range(len(value)):
            yield from places(value[key], (*way, key))


@st.composite
def spoilt(draw):
    """A request whose every verb is answered, then spoilt in a place or two."""
    copy = merge(draw(copies()), draw(copies()))
    top = ask("join", copies=[copy])["top"]
    request = draw(st.sampled_from([
        {"do": "join", "copies": [copy, GOOD]},
        {"do": "write", "copy": copy, "job": job(), "writer": "b", "number": top + 1},
        {"do": "undo", "copy": copy, "step": STEP, "writer": "b", "number": top + 1},
        {"do": "settle", "copy": copy, "path": draw(st.sampled_from([H, "/unit", "/walls/1"])),
         "place": draw(st.integers(0, 2)), "writer": "b", "number": top + 1},
        {"do": "adopt", "job": job(), "writer": "b", "number": 1},
    ]))  # fmt: skip
    request = json.loads(json.dumps(request))
    for _ in range(draw(st.sampled_from([0, 1, 1, 2]))):
        ways = [w for w in places(request) if w and w != ("do",)]
        if not ways:
            break
        way = draw(st.sampled_from(ways))
        at = request
        for key in way[:-1]:
            at = at[key]
        kind = draw(st.sampled_from(["put", "put", "drop", "add"]))
        if kind == "put":
            at[way[-1]] = draw(JUNK)
        elif kind == "drop":
            del at[way[-1]]
        elif isinstance(at, dict):
            at[draw(st.sampled_from(["", "x", "/title", "/walls/9/name", "a"]))] = draw(JUNK)
        else:
            at.append(draw(JUNK))
    return request


@MANY
@given(spoilt())
def test_whatever_comes_in_is_answered_or_refused_by_name(request):
    answer = json.loads(call(json.dumps(request)))
    if not answer["ok"]:
        assert answer["problems"]
        for problem in answer["problems"]:
            assert problem["message"] and problem["fix"]
            assert problem["field"]
        return
    assert check(answer["copy"]) == answer["copy"]
    if request["do"] in ("write", "undo", "settle"):
        assert merge(check(request["copy"]), check(answer["write"])) == answer["copy"]
        # A step can be taken back, whatever was in the copy.
        step = {"writer": "b", "number": request["number"], "before": answer["before"]}
        ask("undo", copy=answer["copy"], step=step, writer="b", number=answer["top"] + 1)


@settings(MANY, max_examples=150)
@given(copies())
def test_a_job_of_any_copy_has_nothing_left_to_write(copy):
    answer = ask("join", copies=[copy])
    again = ask("write", copy=copy, job=answer["job"], writer="me", number=answer["top"] + 1)
    assert (
        again["write"]["fields"] == {} and again["copy"] == copy and again["job"] == answer["job"]
    )
