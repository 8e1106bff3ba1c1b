"""Drawings: on a narrow phone no text is on another, on a board or outside the frame.

The page draws a sketch to scale into 328 by 300 px with a margin of 28, text of
15 px (12 over its base line, 3 under) at most 8.5 px a character.
"""

from itertools import combinations

import pytest

from tests import vectors
from tests.quick.gen import Gen, ask

WIDE, TALL, MARGIN = 328, 300, 28
INCH = 8128


def placed(sketch):
    """(texts, others): their boxes (left, top, right, bottom) in px, and the drawing's height."""
    scale = min((WIDE - 2 * MARGIN) / sketch["width"], (TALL - 2 * MARGIN) / sketch["height"])
    left = (WIDE - sketch["width"] * scale) / 2
    texts, others = [], []
    for kind, *of in sketch["items"]:
        x, y = left + of[0] * scale, MARGIN + of[1] * scale
        if kind == "text":
            long = 8.5 * len(of[3])
            start = x - {"start": 0, "middle": long / 2, "end": long}[of[2]]
            texts.append((of[3], (start, y - 12, start + long, y + 3)))
        elif kind == "rect":
            others.append((of[4], (x, y, x + of[2] * scale, y + of[3] * scale)))
        else:
            to_x, to_y = left + of[2] * scale, MARGIN + of[3] * scale
            box = (min(x, to_x) - 1, min(y, to_y) - 1, max(x, to_x) + 1, max(y, to_y) + 1)
            others.append((of[4], box))
    return texts, others, sketch["height"] * scale + 2 * MARGIN


def meet(a, b):
    return min(a[2], b[2]) - max(a[0], b[0]) > 0.01 and min(a[3], b[3]) - max(a[1], b[1]) > 0.01


def faults(sketch):
    """Everything wrong with where the drawing's texts stand."""
    texts, others, tall = placed(sketch)
    out = []
    for (one, a), (other, b) in combinations(texts, 2):
        if meet(a, b):
            out.append(f"{one!r} is on {other!r}")
    for text, box in texts:
        if box[0] < 0 or box[1] < 0 or box[2] > WIDE or box[3] > tall:
            out.append(f"{text!r} is outside: {box}")
        out += [f"{text!r} is on a {style}" for style, b in others if meet(box, b)]
    return out


DRAWN = [v for v in vectors.load() if v.request.get("do") == "quick"]


@pytest.mark.parametrize("vector", DRAWN, ids=[v.name for v in DRAWN])
def test_of_every_vector(vector):
    request = vector.request
    answer = ask(request["name"], request["unit"], **request["values"])["answer"]
    if answer and answer["sketch"]:
        assert faults(answer["sketch"]) == []
        assert len(placed(answer["sketch"])[0]) >= 1


def _box(seed):
    """A box over one to many courses, in any unit, at a piece's end or far from it."""
    g = Gen(seed)
    unit = ("in", "ft", "mm", "cm", "m")[seed % 5]
    face = g.whole(19 * 320, 12 * INCH)
    lap = g.whole(1, face - 1) if g.whole(0, 1) else 0
    bottom, left = g.whole(0, 200 * INCH), g.whole(0, 3000 * INCH)
    top, right = bottom + g.whole(INCH, 24 * INCH), left + g.whole(INCH, 24 * INCH)
    more = {"overall": face + lap, "edge": "lapped"} if lap else {"edge": "square"}
    if g.whole(0, 1):
        more["end"] = max(left - g.whole(-INCH // 2, 8 * INCH), 0)
    if g.whole(0, 1):
        more["piece"] = right - more.get("end", 0) + g.whole(0, 8 * INCH)
    if more.get("piece", 0) > 20 * 1000 * 320:
        del more["piece"]
    lap_at = ("upper", "lower")[g.whole(0, 1)]
    return ask(
        "box-notch", unit, bottom=bottom, top=top, left=left, right=right, face=face,
        line=g.whole(0, 200 * INCH), lap=lap_at, **more,
    )["answer"]  # fmt: skip


@pytest.mark.parametrize("tens", range(30))
def test_of_any_box(tens):
    for seed in range(tens * 10, tens * 10 + 10):
        sketch = _box(seed)["sketch"]
        assert faults(sketch) == [], seed
        cuts = [i for i in sketch["items"] if i[0] == "rect"]
        assert 1 <= len(cuts) <= 5, seed
        # Each cut can be seen and hit by the eye: some pixels at the drawing's scale.
        scale = min(272 / sketch["width"], 244 / sketch["height"])
        assert all(c[4] * scale >= 1 and c[3] * scale >= 30 for c in cuts), seed


def test_a_box_over_nine_courses_is_drawn_as_three():
    """24 in over a face of 3: the ends and, as one, the boards cut in two."""
    answer = ask("box-notch", bottom="2", top="26", left="20", right="23", face="3", edge="square")[
        "answer"
    ]
    assert answer["values"]["courses"] == 9
    texts = [i[4] for i in answer["sketch"]["items"] if i[0] == "text"]
    assert [t for t in texts if "split" in t] == ["7 split"]
    assert [t for t in texts if t.startswith("Course")] == ["Course 9", "Course 1"]


def test_the_readings_beside_the_boards_are_the_answers():
    answer = ask(
        "box-notch", bottom="3", top="6 3/4", left="20", right="22 1/4", face="5 1/8",
        overall="5 3/8",
    )["answer"]  # fmt: skip
    texts = [i[4] for i in answer["sketch"]["items"] if i[0] == "text"]
    assert texts == ['19-15/16"', '22-5/16"', '1-11/16"', "Course 2", '2-7/16"', "Course 1"]


@pytest.mark.parametrize("seed", range(40))
def test_of_any_jamb_and_any_wall(seed):
    g = Gen(seed)
    unit = ("in", "ft", "mm", "cm", "m")[seed % 5]
    corners = ("top_left", "top_right", "bottom_left", "bottom_right")
    depths = {c: g.whole(0, 39 * INCH) for c in corners}
    assert faults(ask("jamb-extension", unit, **depths)["answer"]["sketch"]) == []
    width = g.whole(20 * INCH, 3900 * INCH)
    more = {"found": [g.whole(1, width - 1) for _ in range(g.whole(0, 6))]}
    if seed % 2:
        more |= {"spacing": "other", "other": g.whole(4 * INCH, 30 * INCH), "corner": "right"}
    answer = ask("stud-marks", unit, width=width, first=g.whole(1, width - 1), **more)["answer"]
    assert faults(answer["sketch"]) == []
