"""The elevation's SVG, read as XML. What only a browser can measure is in tests/browser."""

import json
import re
import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest

from calc.bridge import call
from calc.elevation import elevation
from tests import drawing_vision as vision
from tests.plans import STUDS, plan

SVG = "{http://www.w3.org/2000/svg}"
WIDTHS = {0.18, 0.25, 0.35, 0.5, 0.7}  # mm; ISO 128-2, from memory
SHEETS = [(60, None), (120, None), (300, None), (None, "A4"), (None, "Letter")]
DRAWINGS = [(unit, *sheet) for unit in ("in", "ft", "mm", "m") for sheet in SHEETS]


def drawn(unit="mm", scale=None, paper=None, doc=None, **more):
    answer = elevation(doc or plan(unit), 1, scale, paper, **more)
    return ET.fromstring(answer["svg"]), answer


def ratio(root):
    """(user units in a CSS px or mm, the unit's name)."""
    width, name = re.fullmatch(r"([\d.]+)(mm)?", root.get("width")).groups()
    return float(root.get("viewBox").split()[2]) / float(width), name or "px"


def texts(root):
    return ["".join(t.itertext()) for t in root.iter(SVG + "text")]


def groups(root):
    return {g.get("data-piece"): g for g in root.iter(SVG + "g") if g.get("data-piece")}


def paths(element):
    return [
        [float(n) for n in re.findall(r"-?\d+", p.get("d"))] for p in element.iter(SVG + "path")
    ]


def outline(root):
    """(left, top, right, bottom) of the wall's outline, in px or mm."""
    found = [p for p in root.iter(SVG + "path") if p.get("stroke-linejoin")]
    assert len(found) == 1
    n = [float(v) for v in re.findall(r"-?\d+", found[0].get("d"))]
    per = ratio(root)[0]
    return min(n[::2]) / per, min(n[1::2]) / per, max(n[::2]) / per, max(n[1::2]) / per


@pytest.mark.parametrize("drawing", DRAWINGS)
def test_presentation_attributes_only(drawing):
    root, answer = drawn(*drawing, select="5B")
    for element in root.iter():
        assert element.tag != SVG + "style"
        assert not {"style", "class", "href", "onclick"} & set(element.attrib)
    assert "http" not in answer["svg"].replace("http://www.w3.org/2000/svg", "")
    fonts = {g.get("font-family") for g in root.iter() if g.get("font-family")}
    assert fonts == {"sans-serif"}


@pytest.mark.parametrize("drawing", DRAWINGS)
def test_line_widths_and_text_sizes(drawing):
    root, _ = drawn(*drawing, select="5B")
    per, name = ratio(root)
    widths = {
        round(int(e.get("stroke-width")) / per, 3) for e in root.iter() if e.get("stroke-width")
    }
    sizes = {int(e.get("font-size")) / per for e in root.iter() if e.get("font-size")}
    if name == "mm":
        assert widths <= WIDTHS
        # A capital of sans-serif type is at least 0.71 of its size high (common practice).
        assert min(sizes) * 0.71 >= 2.48
        assert root.get("width") in ("297mm", "279.40mm")
    else:
        assert min(widths) >= 1
        assert min(sizes) >= 14
    wall = next(p for p in root.iter(SVG + "path") if p.get("stroke-linejoin"))
    assert int(wall.get("stroke-width")) >= 2 * min(widths) * per
    assert len(widths) >= 3


def test_a_wall_edge_is_twice_a_dimension_line():
    for scale, paper in SHEETS:
        root, _ = drawn("mm", scale, paper)
        per, _name = ratio(root)
        left, _top, right, bottom = outline(root)
        dims = []
        for p in root.iter(SVG + "path"):
            n = [float(v) / per for v in re.findall(r"-?\d+", p.get("d"))]
            if len(n) == 4 and n[1] == n[3] > bottom and abs(n[2] - n[0] - right + left) < 0.2:
                dims.append(int(p.get("stroke-width")))
        wall = next(p for p in root.iter(SVG + "path") if p.get("stroke-linejoin"))
        assert len(dims) == 1
        assert int(wall.get("stroke-width")) >= 2 * dims[0]


def test_to_scale_on_the_screen():
    # 3600 by 2700 mm at 100 px a metre: 360 by 270 px.
    left, top, right, bottom = outline(drawn("mm", 100)[0])
    assert right - left == pytest.approx(360, abs=0.2)
    assert bottom - top == pytest.approx(270, abs=0.2)


def test_a_piece_stands_where_the_plan_has_it():
    # 5B begins 1200 mm along and 800 mm up: 120 px from the corner, 80 px over the floor.
    root, _ = drawn("mm", 100)
    left, _top, _right, bottom = outline(root)
    n = paths(groups(root)["5B"])[0]
    assert min(n[::2]) / 10 - left == pytest.approx(120, abs=0.2)
    assert bottom - max(n[1::2]) / 10 == pytest.approx(80, abs=0.2)
    assert (max(n[::2]) - min(n[::2])) / 10 == pytest.approx(150, abs=0.2)
    assert len(n) == 2 * 10  # ten corners: cut round the sill and the box


def test_a_hole_is_a_hole():
    root, _ = drawn("mm", 100)
    path = groups(root)["2A"].find(SVG + "path")
    assert path.get("d").count("M") == 2
    assert path.get("fill-rule") == "evenodd"


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_fitted_into_the_page(paper):
    root, answer = drawn("in", None, paper)
    left, top, right, bottom = outline(root)
    # ISO 216; Letter: 11 by 8-1/2 in of 25.4 mm.
    assert (answer["width"], answer["height"]) == {"A4": (297, 210), "Letter": (279.4, 215.9)}[
        paper
    ]
    assert left > 10 and top > 10 and right < answer["width"] - 10
    assert bottom < answer["height"] - 10
    assert (right - left) / (bottom - top) == pytest.approx(3600 / 2700, abs=0.01)
    assert bottom - top > 0.5 * answer["height"]


@pytest.mark.parametrize("scale", [30, 100, 400])
def test_every_piece_is_a_button(scale):
    doc = plan("in")
    root, _ = drawn(scale=scale, doc=doc)
    found = groups(root)
    assert sorted(found) == sorted(p["id"] for p in doc["pieces"])
    for p in doc["pieces"]:
        g = found[p["id"]]
        assert (g.get("role"), g.get("tabindex")) == ("button", "0")
        assert f"Piece {p['id']}, course {p['course']}, " in g.get("aria-label")
        assert "inches" in g.get("aria-label")
    assert "ripped" in found["14A"].get("aria-label")
    assert "cut out" in found["5B"].get("aria-label")
    assert "cut out" not in found["4A"].get("aria-label")


def test_a_sliver_can_be_hit_by_a_finger():
    doc = plan("mm")
    sliver = next(p for p in doc["pieces"] if p["id"] == "9A")
    sliver["shows"] = [[[0, 1600], [800, 1600], [800, 1608], [0, 1608]]]
    root, _ = drawn(scale=120, doc=doc)
    order = list(groups(root))
    # Over the others, and as high as a course is: 200 mm at 120 px a metre is 24 px.
    assert order.index("9A") > order.index("12B")
    hit = groups(root)["9A"].find(SVG + "rect")
    assert int(hit.get("height")) >= 220
    assert hit.get("pointer-events") == "all"
    assert groups(root)["4A"].find(SVG + "rect") is None


def test_the_chosen_piece_is_told_by_outline_and_word():
    plain, _ = drawn("mm", 120)
    root, _ = drawn("mm", 120, select="5B")
    assert not any("chosen" in t for t in texts(plain))
    assert [t for t in texts(root) if "chosen" in t and "5B" in t]
    heaviest = max(int(p.get("stroke-width", 0)) for p in root.iter(SVG + "path"))
    assert heaviest > max(int(p.get("stroke-width", 0)) for p in plain.iter(SVG + "path"))


def test_no_words_without_labels_but_that_of_the_chosen_piece():
    root, answer = drawn("mm", 80, labels=False)
    assert texts(root) == []
    assert groups(root)["3A"].get("aria-label").startswith("Piece 3A")
    assert answer["width"] < drawn("mm", 80)[1]["width"]
    assert texts(drawn("mm", 80, labels=False, select="5B")[0]) == ["5B chosen"]


@pytest.mark.parametrize("drawing", DRAWINGS)
def test_every_number_carries_its_unit(drawing):
    unit = drawing[0]
    named = r"\b(Window|Door|Box|Light|Wall) \d\b|\b\d{1,2}[A-Z]\b"
    length = {
        "in": r'\d+(-\d+/\d+)?"|[+-]?\b1/32"',
        "ft": r"(\d+' )?(\d+(-\d+/\d+)?|\d+/\d+)\"|[+-]?1/32\"",
        "mm": r"\d+(\.\d)? mm",
        "m": r"\d+(\.\d+)? m",
    }[unit]
    seen = 0
    for text in texts(drawn(*drawing)[0]):
        if re.fullmatch(r"\d{1,2}( top)?", text):  # a stud's or a course's number
            continue
        rest = re.sub(named, "", text)
        bare = re.sub(length, "", rest)
        assert not re.search(r"\d", bare), text
        seen += bare != rest
    assert seen >= 3


def test_studs_lean_and_double():
    root, _ = drawn("mm", 100, labels=False)
    left = outline(root)[0]
    dashes = [p for p in root.iter(SVG + "path") if p.get("stroke-dasharray")]
    lines = []
    for p in dashes:
        n = [float(v) / 10 for v in re.findall(r"-?\d+", p.get("d"))]
        if abs(n[3] - n[1]) > 100:
            lines.append((round(n[0] - left, 1), round(n[2] - left, 1)))
    # The doubled one, at 240 px: 1-1/2 in of timber either half, at least 4 px apart.
    double = [x for x in lines if 236 <= x[0] <= 244]
    assert len(double) == 2 and double[1][0] - double[0][0] >= 4
    assert len(lines) == len(STUDS) + 1
    assert (160.0, 163.0) in lines  # the fourth: 1600 at the floor, 1630 at the ceiling
    assert [a for a, b in lines if a != b] == [160.0]


def test_stud_words_make_way():
    def shown(scale):
        out = texts(drawn("in", scale)[0])
        return [f"{i}" in out for i in range(1, 9)], '15-3/4"' in out, '31-1/2"' in out

    doc = plan("in")
    doc["walls"][0]["openings"] = []  # its readings are the studs' too
    doc["walls"][0]["courses"] = []
    doc["pieces"] = []

    def words(scale):
        return texts(drawn(scale=scale, doc=doc)[0])

    assert {'15-3/4"', '31-1/2"', '47-1/4"'} <= set(words(250))
    half = words(120)
    assert '15-3/4"' in half and '31-1/2"' not in half and '47-1/4"' in half
    small = words(60)
    assert not [t for t in small if t in ('15-3/4"', '47-1/4"')]
    assert {"1", "2", "8"} <= set(small)
    assert all(shown(250)[0])


def test_dimensions_in_both_directions():
    found = texts(drawn("mm", 250)[0])
    # Width; heights at the corners; the window's size and height up; its sides, the step, the door.
    for text in ("3600 mm", "2400 mm", "2500 mm", "900 mm wide", "1000 mm high", "900 mm up"):
        assert text in found
    for text in ("800 mm", "1700 mm", "2700 mm", "3400 mm"):
        assert text in found
    assert "Level" in found and "Blocking" in found and "Window 1" in found


def test_a_leaning_wall_names_both_widths_and_its_peak():
    doc = plan("mm")
    wall = doc["walls"][0]
    wall["ceiling"] = [[-30, 2400], [1800, 2700], [3570, 2400]]
    wall["left"] = [[0, 0], [-30, 2400]]
    wall["right"] = [[3600, 200], [3585, 1300], [3570, 2400]]
    wall["studs"] = []
    wall["width"] = 3610
    found = texts(drawn("mm", 120, doc=doc)[0])
    assert "3610 mm" in found and "3600 mm" in found
    assert "2700 mm high" in found


@pytest.mark.parametrize(("scale", "paper"), SHEETS)
def test_mark_classes_differ_without_colour(scale, paper):
    """Each row of the key has a line or pattern of its own, colours apart."""
    root, _ = drawn("mm", scale, paper)
    found = texts(root)
    names = ["full board", "ripped board", "joint", "stud", "doubled stud", "opening", "box"]
    names += ["blocking", "level line"]
    assert [t for t in found if t in names] == names
    looks = set()
    for e in root.iter():
        if e.tag in (SVG + "rect", SVG + "path", SVG + "circle") and e.get("stroke"):
            fill = e.get("fill", "none")
            kind = fill if fill.startswith("url") else "white" if fill == "#ffffff" else fill[:1]
            looks.add((kind, e.get("stroke-width"), e.get("stroke-dasharray")))
    assert len({k for k in looks if k[0].startswith("url")}) == 3
    assert len({k[2] for k in looks if k[2]}) == 3  # stud, level line, blocking's edge
    assert {"white", "#"} <= {k[0] for k in looks}


@pytest.mark.parametrize(("scale", "paper"), SHEETS)
def test_contrast(scale, paper):
    """Lines 3:1, words 7:1 against white and the openings' tone."""
    root, _ = drawn("mm", scale, paper, select="5B")
    solid = {e.get("fill") for e in root.iter(SVG + "rect")}
    grounds = {f for f in solid if f and f.startswith("#")}
    assert len(grounds) >= 2
    for ground in grounds - {"#13283b"}:
        for e in root.iter():
            if e.get("stroke", "").startswith("#"):
                assert vision.contrast(e.get("stroke"), ground) >= 3
    words = next(g for g in root.iter(SVG + "g") if g.get("font-size"))
    assert vision.contrast(words.get("fill"), "#ffffff") >= 7


def test_says_what_it_shows():
    root, answer = drawn("in", 100)
    assert root.get("aria-label") == answer["say"]
    for words in (
        "Wall 1",
        "width one hundred forty one",
        "14 courses",
        "36 pieces",
        "8 studs",
        "Window 1",
    ):
        assert words in answer["say"]


def test_names_are_text_and_not_markup():
    doc = plan("mm")
    doc["walls"][0]["name"] = 'A<b> & "c"'
    doc["walls"][0]["openings"][0]["name"] = "<svg onload=x>"
    root, _ = drawn(doc=doc, paper="A4")
    assert 'Hall: A<b> & "c"' in texts(root)
    assert "<svg onload=x>" in texts(root)


def test_two_drawings_on_one_page_keep_their_patterns():
    ids = []
    for scale, paper in ((100, None), (None, "A4")):
        ids += re.findall(r' id="([^"]+)"', drawn("mm", scale, paper)[1]["svg"])
    assert len(ids) == len(set(ids)) == 6


def test_a_wall_of_several_takes_its_own_pieces():
    doc = plan("mm")
    other = json.loads(json.dumps(doc["walls"][0]))
    other["name"] = "Wall 2"
    for course in other["courses"]:
        for run in course["runs"]:
            run["pieces"] = [f"2-{key}" for key in run["pieces"]]
    doc["walls"].append(other)
    doc["pieces"] += [{**p, "id": f"2-{p['id']}", "wall": 2} for p in plan("mm")["pieces"]]
    root = ET.fromstring(elevation(doc, 2, 100, None)["svg"])
    assert all(key.startswith("2-") for key in groups(root))
    assert len(groups(root)) == 36


def test_a_bare_wall_can_be_drawn():
    doc = plan("mm")
    doc["pieces"] = []
    wall = doc["walls"][0]
    for key in ("courses", "studs", "openings", "boxes", "blocking"):
        wall[key] = []
    wall["level"] = None
    for scale, paper in SHEETS:
        root, _ = drawn(scale=scale, paper=paper, doc=doc)
        assert "3600 mm" in texts(root)


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"wall": 2}, "wall"),
        ({"wall": 0}, "wall"),
        ({"wall": True}, "wall"),
        ({"wall": None}, "wall"),
        ({"scale": 5}, "scale"),
        ({"scale": 90.5}, "scale"),
        ({"scale": "100"}, "scale"),
        ({"scale": None}, "scale"),
        ({"paper": "A4"}, "scale"),
        ({"scale": None, "paper": "A5"}, "paper"),
        ({"labels": 1}, "labels"),
        ({"select": 3}, "select"),
        ({"plan": None}, "plan"),
        ({"plan": {"format": "lapwright-job"}}, "plan"),
    ],
)
def test_bad_requests_are_named(change, field):
    request = {"do": "elevation", "plan": plan(), "wall": 1, "scale": 100, "paper": None, **change}
    answer = json.loads(call(json.dumps(request)))
    assert answer["ok"] is False
    assert field in [p["field"] for p in answer["problems"]]
    assert all(p["message"] and p["fix"] for p in answer["problems"])


def test_by_the_bridge():
    request = {"do": "elevation", "plan": plan(), "wall": 1, "scale": 100, "select": None}
    answer = json.loads(call(json.dumps(request)))
    assert answer["ok"] is True
    assert answer["svg"].startswith("<svg ")
    assert {"svg", "width", "height", "say"} < set(answer)


def test_the_matrices_keep_white():
    for sight, matrix in vision.SIGHTS.items():
        for row in matrix:
            assert sum(row) == pytest.approx(1, abs=1e-5), sight
    assert vision.contrast("#000000", "#ffffff") == pytest.approx(21)
    steps = [vision.grey((v, v, v), "tritanopia") for v in (0, 60, 128, 255)]
    assert all(a < b for a, b in pairwise(steps))
