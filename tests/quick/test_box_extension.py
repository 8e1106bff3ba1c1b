"""Box extension: the box comes to the boards' face, and the plate covers its cut."""

import pytest

from tests.quick.gen import Gen, ask


@pytest.mark.parametrize("seed", range(40))
def test_box_and_extension_make_the_boards_face(seed):
    g = Gen(seed)
    boards, by = g.sixteenths(4, 20), g.sixteenths(0, 24)
    back = ask("box-extension", thickness=boards, stands="back", by=by)["answer"]["values"]
    assert back["extension"] - by == boards
    assert back["past"] == 0
    answer = ask("box-extension", thickness=boards, stands="proud", by=by)["answer"]
    v = answer["values"]
    assert by + v["extension"] - v["past"] == boards
    assert min(v["extension"], v["past"]) == 0
    assert any("past the boards" in w for w in answer["warnings"]) == (by > boards)


@pytest.mark.parametrize("gangs", range(1, 7))
@pytest.mark.parametrize("clearance", ["0", "1/16", "1/8", "1/4"])
def test_it_says_of_a_us_box_what_box_notch_says(gangs, clearance):
    """Both are one calculation: the same box, 2-1/4 + 1-13/16 (n - 1) by 3-3/4, notched."""
    wide = 18288 + (gangs - 1) * 14732
    more = {"thickness": "3/4", "gangs": str(gangs), "clearance": clearance}
    one = ask("box-extension", **more)["answer"]
    box = {"bottom": "5", "top": "8 3/4", "left": "20", "right": 162560 + wide}
    two = ask("box-notch", face="5 1/8", edge="square", **box, **more)["answer"]
    for key in ("extension", "plate sides", "plate ends", "ears"):
        assert one["values"][key] == two["values"][key]
    for warning in one["warnings"]:
        assert warning in two["warnings"]


def test_cautions():
    answer = ask("box-extension", thickness="3/4")["answer"]
    assert [c["key"] for c in answer["cautions"]] == ["electricity", "box-extension", "box-gap"]
