"""What is cut binds the next plan: random jobs, cut in part, with what goes wrong on site."""

import copy
import random

import pytest

from tests.jobs import job, random_job
from tests.marking import add, ask, cut, mishap
from tests.plan_checker import check


def planned(doc):
    answer = ask(do="plan", job=doc)
    assert answer["ok"], answer["problems"]
    return answer


@pytest.mark.parametrize("seed", range(40))
def test_whatever_happens_on_site_the_plan_is_right(seed):
    doc = random_job(seed)
    doc.pop("done", None)
    answer = ask(do="plan", job=doc)
    if not answer["ok"]:
        return
    r = random.Random(seed)
    for _ in range(3):
        for row in answer["view"]["queue"][: r.randint(1, 12)]:
            doc = cut(doc, row)
        after = ask(do="plan", job=doc)
        assert after["ok"], after["problems"]
        assert check(doc, after["plan"]) == []
        if not after["view"]["queue"]:
            return
        what, next_doc = mishap(doc, after, r)
        answer = ask(do="plan", job=next_doc)
        if not answer["ok"]:  # no board is left for it: that is told, with what mends it
            assert what, answer["problems"]
            assert all(p["fix"] and p["message"] for p in answer["problems"])
            return
        doc = next_doc
        assert check(doc, answer["plan"]) == [], what
        if not answer["view"]["queue"]:
            return


ROWS = job(walls__0__height_left="40")


def marked(doc, *texts):
    """(the job with its first cuts marked as told, the plan before)."""
    answer = planned(doc)
    for row, state in zip(answer["view"]["queue"], texts, strict=False):
        doc = cut(doc, row, state, **({"length": "50"} if state == "short" else {}))
    return doc, answer


@pytest.mark.parametrize("changes", [
    {"board__ends": "matched"}, {"rules__kept": 2}, {"rules__trim": "1/2"},
    {"rules__allowance": "1/4"}, {"rules__stagger": "32", "rules__reach": 2},
    {"board__stock": [{"length": "144", "count": 14, "id": "a"}, {"length": "192", "id": "b"},
                      {"length": "60", "kind": "offcut", "count": 3}]},
])  # fmt: skip
def test_all_kinds_of_jobs_go_up_to_the_last_board(changes):
    doc = job(walls__0__height_left="60", **changes)
    answer = planned(doc)
    before, boards = answer["plan"]["cost"]["total"], answer["plan"]["boards"]
    r = random.Random(1)
    while answer["view"]["queue"]:
        for row in answer["view"]["queue"][: r.randint(4, 9)]:
            doc = cut(doc, row)
        answer = planned(doc)
        assert check(doc, answer["plan"]) == []
        # The search goes another way each time, and may end a board dearer at most.
        assert answer["plan"]["cost"]["total"] <= before + max(b["stock"] for b in boards)
    assert answer["view"]["progress"].endswith("pieces cut")
    assert {p["state"] for p in answer["plan"]["pieces"]} == {"cut"}


def test_the_checker_sees_what_is_moved_lost_or_forgotten():
    doc, _ = marked(ROWS, "cut", "cut", "short", "cut")
    whole = planned(doc)["plan"]
    assert check(doc, whole) == []

    def broken(change):
        plan = copy.deepcopy(whole)
        change(plan)
        return {fault.split(":")[0] for fault in check(doc, plan)}

    done = next(p for p in whole["pieces"] if p["state"] == "cut")
    begun = next(i for i, b in enumerate(whole["boards"]) if b["state"] == "begun")
    lost = next(i for i, b in enumerate(whole["boards"]) if b["lost"])
    at = whole["pieces"].index(done)
    assert "kept" in broken(lambda p: p["pieces"][at].update(state="to cut"))
    assert "kept" in broken(lambda p: p["pieces"][at].update(sawn=1.0))
    assert "kept" in broken(lambda p: p["boards"][begun].update(state="whole"))
    assert "lost" in broken(lambda p: p["boards"][lost].update(lost=0))
    assert "offcut" in broken(lambda p: p["boards"][lost].update(offcut=1.0))
    assert "buy" in broken(lambda p: p["buy"][0].update(begun=0))
    assert "bound" in broken(lambda p: p["certificate"].update(sunk=0))
    assert "called" in broken(lambda p: p["pieces"][at].update(called=1.0))


def test_a_board_that_is_no_good_keeps_what_is_cut_and_gives_no_more():
    doc, before = marked(ROWS, "cut")
    first = before["view"]["queue"][0]
    after = planned(add(doc, "rejected", {**first["reject"], "why": "shake"}))
    board = after["plan"]["boards"][0]
    assert (board["state"], board["cuts"]) == ("rejected", [first["id"]])
    (line,) = after["plan"]["buy"]
    assert (line["begun"], line["rejected"]) == (0, 1)
    assert "1 no good" in after["view"]["buy"][0]["text"]
    whole = add(ROWS, "rejected", {**first["reject"], "board": 3})
    plan = planned(whole)["plan"]
    assert check(whole, plan) == []
    assert [b["number"] for b in plan["boards"] if not b["cuts"]] == [3]
    assert plan["buy"][0]["count"] == before["plan"]["buy"][0]["count"] + 1


def test_a_piece_that_came_short_is_cut_again_and_lies_there_as_an_offcut():
    doc, before = marked(ROWS, "short")
    row = before["view"]["queue"][0]
    after = planned(doc)
    assert after["view"]["queue"][0]["id"] == row["id"]
    used = [b for b in after["plan"]["boards"] if b["short"]]
    assert [b["stock"] for b in used] == [50 * 25.4] and used[0]["of"] == row["board"]
    on = [r["on"] for r in after["view"]["queue"] if r["board"] == used[0]["number"]]
    assert f"off board {row['board']}" in on[0]
    # It is begun in its turn, and is not there twice.
    taken = next(r for r in after["view"]["queue"] if r["board"] == used[0]["number"])
    again = planned(cut(doc, taken))["plan"]
    assert check(cut(doc, taken), again) == []
    assert sum(bool(b["short"]) for b in again["boards"]) == 1


def test_a_called_length_comes_first_is_cut_as_called_and_is_answered():
    answer = planned(ROWS)
    ends = ask(do="callable", plan=answer["plan"], wall=1, course=5)["ends"]
    assert [e["label"] for e in ends] == ["left", "right"]
    end = ends[0]
    (p,) = [p for p in answer["plan"]["pieces"] if p["id"] == end["id"]]
    inches = p["length"] / 25.4
    doc = add(ROWS, "called", {**end["place"], "length": f"{inches - 1} in"})
    doc = add(doc, "called", {**end["place"], "length": f"{inches - 0.125} in"})
    after = planned(doc)
    assert check(doc, after["plan"]) == []
    first = after["view"]["queue"][0]
    assert first["id"] == end["id"] and first["called"].endswith('1/8" less than planned')
    assert first["head"].startswith("Called from the wall: ")
    assert first["head"].endswith(", course 5, left")
    assert "called from the wall" in first["speak"] and first["mark"]["length"] < p["length"]
    done = planned(cut(doc, first))
    assert check(cut(doc, first), done["plan"]) == []
    assert done["view"]["queue"][0]["called"] == ""


def test_a_called_length_moves_what_lies_along_the_piece_with_its_joint():
    box = {"by": "edges", "left": "20", "bottom": "26", "width": "3", "height": "3"}
    doc = job(walls__0__height_left="40", walls__0__boxes=[box])
    plan = planned(doc)["plan"]
    (p,) = [q for q in plan["pieces"] if any(c["kind"] in ("notch", "hole") for c in q["cuts"])][:1]
    (hole,) = p["cuts"]
    end = next(e for e in ask(do="callable", plan=plan, wall=1, course=p["course"])["ends"]
               if e["id"] == p["id"])  # fmt: skip
    doc = add(doc, "called", {**end["place"], "length": p["length"] + 3.175})
    after = planned(doc)["plan"]
    told = ask(do="card", plan=after, piece=p["id"])
    assert told["rows"][1][:2] == ["Called", '1/8" more than planned']
    # 1/8 in more at the wall's end: the cut, which keeps to the joint, lies so much farther on.
    start = hole["from"] + 3.175
    assert f"from {show(start)} to" in told["cuts"][0]


def test_a_call_far_off_the_plan_is_told_and_leaves_out_what_it_cuts_off():
    box = {"by": "edges", "left": "20", "bottom": "26", "width": "3", "height": "3"}
    doc = job(walls__0__height_left="40", walls__0__boxes=[box])
    plan = planned(doc)["plan"]
    (p,) = [q for q in plan["pieces"] if any(c["kind"] in ("notch", "hole") for c in q["cuts"])][:1]
    end = next(e for e in ask(do="callable", plan=plan, wall=1, course=p["course"])["ends"]
               if e["id"] == p["id"])  # fmt: skip
    doc = add(doc, "called", {**end["place"], "length": p["length"] - 30 * 25.4})
    answer = planned(doc)
    assert any("measure again before it is cut" in w for w in answer["plan"]["warnings"])
    told = ask(do="card", plan=answer["plan"], piece=p["id"])
    assert told["cuts"] == []


def show(mm):
    return ask(do="show", texts=[f"{mm} mm"], unit="in", to="in")["lengths"][0]["text"]


@pytest.mark.parametrize(("more", "words"), [
    (0, "As planned; board"), (1.6, "still gives it"), (-3.175, '1/8" less than planned'),
    (600, "Measure again: "),
])  # fmt: skip
def test_a_call_is_held_against_the_plan(more, words):
    plan = planned(ROWS)["plan"]
    p = next(p for p in plan["pieces"] if p["left_end"]["kind"] == "wall end"
             and plan["boards"][p["board"] - 1]["offcut"] > 20)  # fmt: skip
    said = ask(do="called", plan=plan, piece=p["id"], text=p["length"] + more)
    assert said["ok"] and words in said["note"]


def test_a_call_that_no_board_gives_says_so_and_what_mends_it():
    plan = planned(ROWS)["plan"]
    end = ask(do="callable", plan=plan, wall=1, course=2)["ends"][0]
    said = ask(do="called", plan=plan, piece=end["id"], text="150")
    assert not said["fits"] and "the plan changes" in said["note"]
    doc = add(ROWS, "called", {**end["place"], "length": "150"})
    (problem,) = ask(do="plan", job=doc)["problems"]
    assert problem["field"] == "done.called[0].length" and '150"' in problem["message"]
    assert '150" or longer' in problem["fix"]
    assert ask(do="check", job=doc)["problems"] == [problem]
    assert ask(do="begin", job=doc)["problems"] == [problem]
    doc["board"]["stock"].append({"length": "192"})
    assert check(doc, planned(doc)["plan"]) == []


def test_boards_that_are_used_up_are_told_with_how_many_more():
    few = job(walls__0__height_left="40", board__stock=[{"length": "144", "count": 10}])
    answer = planned(few)
    doc = few
    for board in answer["plan"]["boards"]:
        mark = {"board": board["number"], "stock": board["stock"], "line": "1"}
        doc = add(doc, "rejected", mark)
    (problem,) = ask(do="plan", job=doc)["problems"]
    assert problem["field"] == "board.stock" and "more" in problem["fix"]


def test_joints_that_leave_a_neighbour_no_room_can_be_taken_back():
    """Two studs, a joint on each: the course between two that are cut has nowhere to join."""
    doc = job(walls__0__height_left="15", walls__0__studs={"first": "45", "spacing": "60"})
    plan = planned(doc)["plan"]
    courses = plan["walls"][0]["courses"]
    assert len(courses) == 3
    studs = [s["at"] for s in plan["walls"][0]["studs"]]
    for course, at in ((1, studs[0]), (3, studs[1])):
        mark = {"wall": "1", "course": course, "run": 1, "piece": 1, "joints": [at], "length": at}
        doc = add(doc, "cut", {**mark, "board": course, "stock": 3657.6})
    answer = ask(do="plan", job=doc)
    (problem,) = answer["problems"]
    assert problem["message"].startswith("Course 2: ")
    assert "taking back what is marked as cut" in problem["fix"]


BENT = [
    (lambda d: d["walls"][0].update(id="other"), "its wall is gone"),
    (lambda d: d["walls"][0].update(height_left="20"), "there is no such course"),
    (lambda d: d["walls"][0].update(width_floor="100"), "not on the run as it is now"),
    (lambda d: d["walls"][0]["studs"].update(first="15"), "off stud"),
    (lambda d: d["walls"][0].update(width_floor="164 3/4"), "the wall asks for"),
    (lambda d: d["board"].update(stock=[{"length": "156", "price": 11}]), "any more"),
    (lambda d: d["done"]["cut"].append({**d["done"]["cut"][0], "id": "z"}), "counts once"),
    (lambda d: d["done"]["cut"].append({**d["done"]["cut"][0], "id": "z", "board": 77}), "spare"),
    (lambda d: d["done"]["cut"][1].update(board=d["done"]["cut"][0]["board"], stock=4000.0),
     "bear the number"),
    (lambda d: d["done"]["cut"][-1].update(joints=[1219.2]), "other joints"),
    (lambda d: d["done"]["cut"].append({**d["done"]["cut"][2], "id": "z", "state": "short"}),
     "More is marked as cut"),
]  # fmt: skip


@pytest.mark.parametrize(("bend", "words"), BENT)
def test_what_fits_no_more_is_told_and_nothing_breaks(bend, words):
    doc, _ = marked(
        job(walls__0__height_left="40", board__stock=[{"length": "144", "price": 10}]),
        *["cut"] * 12,
    )
    bend(doc)
    answer = planned(doc)
    assert any(words in w for w in answer["plan"]["warnings"]), answer["plan"]["warnings"]
    held = sorted(key for b in answer["plan"]["boards"] for key in b["cuts"])
    assert held == sorted(p["id"] for p in answer["plan"]["pieces"])


BAD = [
    ("cut", {"board": None}, "board", "number pencilled"),
    ("cut", {"wall": None}, "wall", "id of the wall"),
    ("cut", {"course": "x"}, "course", "whole number"),
    ("cut", {"joints": [1000, 900]}, "joints[1]", "left to right"),
    ("cut", {"piece": 9}, "piece", "Give 1 to"),
    ("cut", {"state": "gone"}, "state", "Choose cut, short"),
    ("cut", {"state": "short", "length": None}, "length", "the length it has"),
    ("cut", {"length": 5000}, "length", "another board"),
    ("cut", {"bord": 1}, "bord", '"board"'),
    ("called", {"length": None}, "length", "was called"),
    ("called", {"joints": [1000, 2000], "piece": 2}, "piece", "first piece"),
    ("rejected", {"stock": None}, "stock", "when it was new"),
]


@pytest.mark.parametrize(("key", "change", "field", "fix"), BAD)
def test_a_wrong_mark_names_field_value_and_fix(key, change, field, fix):
    row = planned(ROWS)["view"]["queue"][0]
    mark = {**(row["reject"] if key == "rejected" else row["mark"])}
    if key == "called":
        mark = {k: mark[k] for k in ("wall", "course", "run", "piece", "joints", "length")}
    (problem,) = ask(do="check", job=add(ROWS, key, {**mark, **change}))["problems"]
    assert problem["field"] == f"done.{key}[0].{field}" and fix in problem["fix"]


def test_letters_on_pieces_stay_where_a_run_beside_them_is_laid_anew():
    window = {"left": "70", "width": "30", "bottom": "10", "height": "20"}
    doc = job(walls__0__height_left="40", walls__0__width_floor="400", walls__0__openings=[window])
    plan = planned(doc)["plan"]
    course = next(c for c in plan["walls"][0]["courses"] if len(c["runs"]) == 2)
    row = next(
        r for r in planned(doc)["view"]["queue"] if r["id"] == course["runs"][1]["pieces"][0]
    )
    mark = {**row["mark"], "name": f"{course['number']}C"}
    doc = add(doc, "cut", mark)
    after = planned(doc)["plan"]
    again = next(c for c in after["walls"][0]["courses"] if c["number"] == course["number"])
    assert again["runs"][1]["pieces"][0] == mark["name"]
    assert len({p["id"] for p in after["pieces"]}) == len(after["pieces"])


def test_what_is_said_aloud_has_no_sign_in_it():
    for start in ("floor", "ceiling"):
        doc = random_job(7) if start == "floor" else job(rules__start=start)
        for row in planned(doc)["view"]["queue"]:
            assert not set(row["speak"]) & set('/"°-+0123456789'), row["speak"]


def test_the_queue_hangs_as_the_wall_does():
    answer = planned(job())
    pieces = {p["id"]: p for p in answer["plan"]["pieces"]}
    places = [(pieces[r["id"]]["course"], pieces[r["id"]]["left"]) for r in answer["view"]["queue"]]
    assert places == sorted(places) and len(places) == len(pieces)


@pytest.mark.parametrize(("change", "field"), [
    ({"wall": 2}, "wall"), ({"wall": True}, "wall"), ({"course": 99}, "course"),
    ({"course": "x"}, "course"),
])  # fmt: skip
def test_only_what_is_there_can_be_called(change, field):
    plan = planned(ROWS)["plan"]
    asked = {"do": "callable", "plan": plan, "wall": 1, "course": 1, **change}
    (problem,) = ask(**asked)["problems"]
    assert problem["field"] == field
    for more in ({"piece": "99Z"}, {"text": "five"}, {"text": 0}):
        asked = {"do": "called", "plan": plan, "piece": "1A", "text": "50", **more}
        (problem,) = ask(**asked)["problems"]
        assert problem["field"] == next(iter(more)) and problem["fix"]


@pytest.mark.parametrize("seed", range(6))
def test_a_plan_that_is_cut_by_is_kept_to_piece_by_piece(seed):
    doc = random_job(seed)
    answer = planned(doc)
    rows = answer["view"]["queue"]
    for n, row in enumerate(rows[:8]):
        doc = cut(doc, row)
        kept = ask(do="keep", job=doc, plan=answer["plan"])
        assert check(doc, kept["plan"]) == []
        now = [(r["id"], r["board"], r["text"]) for r in kept["view"]["queue"]]
        assert now == [(r["id"], r["board"], r["text"]) for r in rows[n + 1 :]]
        assert kept["plan"]["cost"]["total"] == answer["plan"]["cost"]["total"]
        answer = kept
    back = copy.deepcopy(doc)
    back["done"]["cut"].pop()
    assert ask(do="keep", job=back, plan=answer["plan"])["plan"] is not None


def test_a_plan_is_let_go_where_it_does_not_hold():
    doc, before = marked(ROWS, "cut", "cut")
    plan, rows = before["plan"], before["view"]["queue"]

    def keeps(doc, plan=plan):
        return ask(do="keep", job=doc, plan=plan)["plan"] is not None

    assert keeps(doc)
    whole = next(b for b in plan["boards"] if len(b["cuts"]) > 1 and not b["offcut"] > 300)
    bad = add(doc, "rejected", {"board": whole["number"], "stock": whole["stock"]})
    assert not keeps(bad)
    assert not keeps(cut(doc, rows[2], joints=[1219.2]))  # cut for another joint
    assert not keeps({**doc, "walls": [{**doc["walls"][0], "width_floor": "160"}]})
    assert not keeps({**doc, "rules": {"stagger": "48"}})
    assert not keeps(doc, planned(bad)["plan"])  # the mark was taken back
    few = copy.deepcopy(doc)
    few["board"]["stock"] = [{"length": "192"}]
    assert not keeps(few)


def test_a_plan_made_before_marks_were_is_shown_as_it_was():
    answer = planned(ROWS)
    old = copy.deepcopy(answer["plan"])
    for p in old["pieces"]:
        for key in ("state", "called", "sawn"):
            del p[key]
    for b in old["boards"]:
        for key in ("state", "short", "of", "lost", "kind", "line_id"):
            del b[key]
    for line in old["buy"]:
        del line["begun"], line["rejected"]
    del old["walls"][0]["id"]
    seen = ask(do="view", plan=old)["view"]
    assert [r["id"] for r in seen["queue"]] == [r["id"] for r in answer["view"]["queue"]]
