"""Plans: each one checked by tests/plan_checker.py, and the checker checked by broken plans."""

import copy
import json
from pathlib import Path

import pytest

from calc.bridge import call
from calc.cutlist import text
from calc.job import read_job
from calc.lengths import read
from calc.plan import make, trouble
from calc.planparts import piece_id
from calc.problems import InputError
from calc.view import view
from tests.jobs import job, random_job
from tests.plan_checker import check

EXAMPLES = sorted((Path(__file__).parent.parent / "examples").glob("*.json"))


def ask(**request):
    return json.loads(call(json.dumps(request)))


def through_json(plan):
    return json.loads(json.dumps(plan))


@pytest.mark.parametrize("path", EXAMPLES, ids=[p.stem for p in EXAMPLES])
def test_examples(path):
    doc = json.loads(path.read_text(encoding="utf-8"))
    answer = ask(do="plan", job=doc)
    assert answer["ok"] and answer["needs"] == []
    assert check(doc, answer["plan"]) == []
    assert ask(do="check", job=doc) == {"ok": True, "problems": [], "needs": []}


def test_there_are_examples_in_inches_feet_and_metric_and_of_each_edge():
    docs = [json.loads(p.read_text(encoding="utf-8")) for p in EXAMPLES]
    assert {"in", "ft", "mm"} <= {d["unit"] for d in docs}
    assert {d["board"]["edge"] for d in docs} == {"lapped", "tongue-and-groove", "square"}


@pytest.mark.parametrize("tens", range(30))
def test_random_jobs(tens):
    planned = 0
    for seed in range(tens * 10, tens * 10 + 10):
        doc = random_job(seed)
        try:
            plan = through_json(make(doc, 100))
        except InputError as e:
            assert all(p.message and p.fix for p in e.problems), seed
            continue
        planned += 1
        assert check(doc, plan) == [], seed
    assert planned >= 5


def test_same_job_same_plan():
    doc = random_job(8)
    assert make(doc) == make(copy.deepcopy(doc))


def shift(plan):
    plan["pieces"][0]["right"] -= 1


def swap_boards(plan):
    plan["boards"].reverse()
    for n, board in enumerate(plan["boards"], 1):
        board["number"] = n


def drop_cut(plan):
    plan["boards"][0]["cuts"].pop()


def cut_twice(plan):
    plan["boards"][1]["cuts"].append(plan["boards"][0]["cuts"][0])


def one_long_board(plan):
    """Everything from the first two boards, cut from one."""
    plan["boards"][0]["cuts"] += plan["boards"][1]["cuts"]
    del plan["boards"][1]


def joint_off_stud(plan):
    plan["walls"][0]["courses"][0]["runs"][0]["joints"][0]["at"] += 3


def joints_in_line(plan):
    rows = plan["walls"][0]["courses"]
    rows[1]["runs"][0]["joints"] = copy.deepcopy(rows[0]["runs"][0]["joints"])


def higher_line(plan):
    plan["walls"][0]["courses"][2]["bottom"] += 1


def wider_rip(plan):
    plan["walls"][0]["courses"][-1]["rip"]["width"] += 1


def other_edge(plan):
    plan["walls"][0]["courses"][-1]["rip"]["cut"] = "lower"


def piece_not_ripped(plan):
    plan["pieces"][-1]["rip"] = None


def course_gone(plan):
    del plan["walls"][0]["courses"][-1]


def fewer_bought(plan):
    plan["buy"][0]["count"] -= 1


def cheaper(plan):
    plan["cost"]["total"] -= 1


def bound_raised(plan):
    plan["cost"]["bound"] = plan["cost"]["total"] + 144 * 25.4


def proof_claimed(plan):
    plan["cost"]["proven"] = not plan["cost"]["proven"]


def prices_of_nothing(plan):
    """Whole prices, but they prove no more than 0."""
    for p in plan["certificate"]["prices"]:
        p["price"] = 0


def piece_with_other_id(plan):
    plan["pieces"][0]["id"] = plan["pieces"][1]["id"]


def other_end(plan):
    plan["pieces"][0]["left_end"] = plan["pieces"][0]["right_end"]


def more_left_over(plan):
    plan["boards"][0]["offcut"] += 5


def other_stock(plan):
    plan["boards"][0]["stock"] += 600


def other_number(plan):
    plan["pieces"][0]["board"] = len(plan["boards"])


BREAKS = [
    (shift, "tile"), (swap_boards, "order"), (drop_cut, "cut"), (cut_twice, "cut"),
    (one_long_board, "fit"), (joint_off_stud, "stud"), (joints_in_line, "stagger"),
    (higher_line, "height"), (wider_rip, "rip"), (other_edge, "rip"), (piece_not_ripped, "rip"),
    (course_gone, "height"), (fewer_bought, "buy"), (cheaper, "cost"), (bound_raised, "bound"),
    (proof_claimed, "proven"), (prices_of_nothing, "bound"), (piece_with_other_id, "id"),
    (other_end, "end"), (more_left_over, "offcut"), (other_stock, "board"),
    (other_number, "board"),
]  # fmt: skip


@pytest.mark.parametrize("damage, kind", BREAKS, ids=[b[0].__name__ for b in BREAKS])
def test_the_checker_sees_a_broken_plan(damage, kind):
    doc = job()
    plan = through_json(make(doc))
    assert check(doc, plan) == []
    damage(plan)
    assert kind in {fault.split(":")[0] for fault in check(doc, plan)}


@pytest.mark.parametrize(
    "changes, kind",
    [
        ({"rules__shortest": "40"}, "short"),
        ({"rules__stagger": "60"}, "stagger"),
        ({"rules__kerf": "1/2"}, "fit"),
        ({"rules__joint_gap": "1/8"}, "tile"),
        ({"board__stock": [{"length": "144", "count": 3}]}, "count"),
        ({"board__stock": [{"length": "144", "price": 10}]}, "price"),
    ],
)
def test_the_checker_holds_a_plan_against_its_job(changes, kind):
    plan = through_json(make(job()))
    assert kind in {fault.split(":")[0] for fault in check(job(**changes), plan)}


# A wall that cannot be laid out, the field that is blamed, and what the fix offers.
CANNOT = [
    ({"walls__0__width_floor": "200", "board__stock": [{"length": "36"}],
      "walls__0__studs__spacing": "48"}, "board.stock", ["board"]),
    ({"rules__shortest": "80"}, "rules.shortest", ["board", "shortest"]),
    ({"walls__0__width_floor": "120", "board__stock": [{"length": "96"}],
      "walls__0__studs__spacing": "48", "rules__stagger": "40"},
     "rules.stagger", ["board", "shortest", "stud"]),
    ({"walls__0__width_floor": "150", "board__stock": [{"length": "96"}],
      "rules__stagger": "60", "rules__shortest": "40"},
     "rules.stagger", ["board", "stagger"]),
]  # fmt: skip


@pytest.mark.parametrize("changes, field, offers", CANNOT)
def test_what_cannot_be_laid_out_names_a_least_change_that_mends_it(changes, field, offers):
    doc = job(**changes)
    with pytest.raises(InputError) as e:
        make(doc)
    (problem,) = e.value.problems
    assert problem.field == field
    assert problem.message.startswith("Course ")
    assert trouble(read_job(doc)) == [problem]
    said = problem.fix.rstrip(".").split(": ")[1].split("; ")
    assert [mend_of(words) for words in said] == offers
    for offer, words in zip(offers, said, strict=True):
        if offer == "stud":
            at = words.split(" at ")[1].replace(" from the left corner", "")
            mended = job(**changes, walls__0__studs__found=[at])
            assert trouble(read_job(mended)) == []
            assert check(mended, through_json(make(mended))) == []
            continue
        value = words.split(" of ")[1].replace(" or longer", "")
        worse = read(value, "in") + (-1 if offer == "board" else 1) * read("1/16", "in")
        for given, works in ((value, True), (worse / 320, False)):
            new = [{"length": given}] if offer == "board" else given
            mended = job(**{**changes, MENDED[offer]: new})
            assert (trouble(read_job(mended)) == []) is works, (offer, given)


MENDED = {"board": "board__stock", "shortest": "rules__shortest", "stagger": "rules__stagger"}


def mend_of(words):
    """Which kind of change a mend in words is."""
    (kind,) = {k for k in ("board", "shortest", "stagger", "stud") if k in words.split(" of ")[0]}
    return kind


def test_too_few_boards_says_how_many_more_and_that_mends_it():
    doc = job(board__stock=[{"length": "144", "count": 10}])
    with pytest.raises(InputError) as e:
        make(doc)
    (problem,) = e.value.problems
    assert problem.field == "board.stock" and '10 of 144"' in problem.message
    more = int(problem.fix.split("With ")[1].split(" of ")[0])
    doc["board"]["stock"][0]["count"] += more
    assert check(doc, through_json(make(doc))) == []


def test_a_draft_gives_needs_and_no_plan():
    doc = job()
    del doc["board"]["face"]
    answer = ask(do="plan", job=doc)
    assert (answer["plan"], answer["view"]) == (None, None)
    assert [n["field"] for n in answer["needs"]] == ["board.face"]
    assert ask(do="check", job=doc)["needs"] == answer["needs"]


def test_a_wrong_job_gives_problems():
    answer = ask(do="plan", job=job(board__face="x"))
    assert answer["ok"] is False and answer["problems"][0]["field"] == "board.face"
    assert ask(do="check", job=3)["problems"][0]["message"] == "The job is 3, not an object."


def test_the_view_is_ready_text():
    plan = through_json(make(job(rules__start="ceiling")))
    v = view(plan)
    assert set(v) == {
        "summary", "compare", "hang", "buy", "boards", "queue", "progress", "walls", "warnings",
        "cautions", "working",
    }  # fmt: skip
    assert v["summary"]["boards"] == f'{len(plan["boards"])} boards of 144"'
    (wall,) = v["walls"]
    first = wall["courses"][0]
    # Hung from the ceiling, a board's upper edge stands at its line.
    assert wall["edge"] == "Upper edge"
    assert (first["number"], first["line"], first["height"]) == (1, '96"', '5-1/8"')
    assert len(first["pieces"]) == len(first["joints"]) + 1
    # 96 = 18 x 5-1/8 + 3-3/4; the last course, at the floor here, loses its tongue.
    assert wall["courses"][-1]["rip"] == 'Rip to 3-3/4", cut off the lower edge (the tongue goes)'
    cut = v["boards"][0]["cuts"][0]
    assert (cut["id"], cut["course"]) == ("1A", 1)
    assert cut["where"].startswith("left end to stud ")


def test_prices_are_money_and_not_proven_is_said():
    doc = job(board__stock=[{"length": "144", "price": 14.5}, {"length": "192", "price": 19}])
    plan = make(doc)
    v = view(plan)
    assert plan["cost"]["by"] == "price"
    line = plan["buy"][0]
    assert v["buy"][0]["text"].endswith(f" = {line['cost']:.2f}")
    assert ("Proven" in v["summary"]["proven"]) == plan["cost"]["proven"]


def test_a_given_kerf_is_shown_as_given():
    plan = make(job(rules__kerf="2.8 mm"))
    assert "Kerf 2.8 mm." in text(plan)
    assert any("kerfs of 2.8 mm" in line for line in view(plan)["working"])


def test_ids():
    assert piece_id(1, 3, 0, 1) == "3A"
    assert piece_id(2, 3, 1, 2) == "2-3B"
    assert piece_id(1, 1, 25, 1) == "1Z" and piece_id(1, 1, 26, 1) == "1AA"


@pytest.mark.parametrize("path", EXAMPLES, ids=[p.stem for p in EXAMPLES])
def test_the_cut_list_holds_every_number_the_saw_needs(path):
    plan = make(json.loads(path.read_text(encoding="utf-8")))
    v = view(plan)
    page = text(plan)
    assert max(len(line) for line in page.splitlines()) <= 80
    assert page.isprintable() or {c for c in page if not c.isprintable()} == {"\n"}
    flat = " ".join(page.split())
    for board in v["boards"]:
        block = flat.split(f"Board {board['number']}, ")[1].split("Left over: ")
        assert block[0].startswith(board["stock"])
        assert block[1].startswith(board["offcut"])
        for cut in board["cuts"]:
            reading = (cut["text"] + " " + cut["lean"]).strip()
            assert f"[ ] {cut['id']} {reading} " in block[0]
            assert f"course {cut['course']}, {cut['where']}" in block[0]
            assert cut["rip"] in block[0]
    for wall in v["walls"]:
        for course in wall["courses"]:
            assert f"{course['number']} {course['line']} {course['runs'][0]['text']}" in flat
            assert all(run["text"] in flat for run in course["runs"])
    for line in v["buy"]:
        assert line["text"] in flat
    for words in v["warnings"] + [c["text"] for c in v["cautions"]]:
        assert words in flat
    for key in ("bound", "proven", "cost"):
        assert v["summary"][key] in flat
    for row in v["compare"]:
        assert f"{row['label']}: {row['boards']}, {row['cost']}." in flat
