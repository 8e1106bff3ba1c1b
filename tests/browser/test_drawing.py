"""The elevation in a real browser: words that touch, fills that look alike, both engines."""

import io
import json

import pytest
from PIL import Image

from calc.bridge import call
from calc.card import card
from calc.elevation import elevation
from tests import drawing_vision as vision
from tests import vectors
from tests.browser.conftest import serving
from tests.browser.test_vectors_on_phone import ASK
from tests.plans import piece, plan

# Every word's box: the SVG's own, then [text, left, top, right, bottom].
BOXES = """() => {
  const of = (e) => {
    const r = e.getBoundingClientRect();
    return [r.left, r.top, r.right, r.bottom];
  };
  return [of(document.querySelector('svg')),
    [...document.querySelectorAll('svg text')].map((t) => [t.textContent, ...of(t)])];
}"""
FACES = ("sans-serif", "DejaVu Sans")  # the second is the widest of those in use
RMS = 0.15  # of any two fills' greys, at least: they are told apart in black and white
SIZE = 20  # px of a patch
SHIFTS = range(0, 8)  # of a pattern against another; patterns repeat within 7 to 10 px


@pytest.fixture(scope="module")
def show(chromium):
    """(svg, px a unit) -> a page of its own with the SVG on it."""
    page = chromium.new_page(viewport={"width": 1280, "height": 800})

    def put(answer, zoom=1):
        size = {
            "width": int(answer["width"] * zoom) + 8,
            "height": int(answer["height"] * zoom) + 8,
        }
        page.set_viewport_size(size)
        page.set_content(f"<body style='margin:0'>{answer['svg']}")
        if zoom != 1:
            page.evaluate(
                "([w, h]) => { const s = document.querySelector('svg');"
                " s.setAttribute('width', w); s.setAttribute('height', h); }",
                [answer["width"] * zoom, answer["height"] * zoom],
            )
        return page

    yield put
    page.close()


@pytest.mark.parametrize("face", FACES)
@pytest.mark.parametrize("unit", ["in", "ft", "mm"])
@pytest.mark.parametrize(
    ("scale", "paper"), [(60, None), (120, None), (250, None), (None, "A4"), (None, "Letter")]
)
def test_no_word_touches_another(show, unit, scale, paper, face):
    answer = elevation(plan(unit), 1, scale, paper, select="14A")
    answer["svg"] = answer["svg"].replace('"sans-serif"', f'"{face}"')
    frame, boxes = show(answer, 4 if paper else 1).evaluate(BOXES)
    assert len(boxes) >= 20
    for i, (text, left, top, right, bottom) in enumerate(boxes):
        assert frame[0] <= left and right <= frame[2], text
        assert frame[1] <= top and bottom <= frame[3], text
        for other, l2, t2, r2, b2 in boxes[:i]:
            apart = left >= r2 or l2 >= right or top >= b2 - 0.2 or t2 >= bottom - 0.2
            assert apart, (text, other)


@pytest.mark.parametrize("face", FACES)
@pytest.mark.parametrize("scale", [120, 250])
def test_a_piece_bears_its_own_name(show, scale, face):
    """A piece's words lie on it: within its box, and the piece is what a tap there hits."""
    answer = elevation(plan("in"), 1, scale, None)
    answer["svg"] = answer["svg"].replace('"sans-serif"', f'"{face}"')
    page = show(answer)
    wrong, seen = page.evaluate("""() => {
      const wrong = [];
      let seen = 0;
      for (const t of document.querySelectorAll('text')) {
        const id = /^(\\d+[A-Z])(\\s|$)/.exec(t.textContent);
        if (!id) continue;
        seen += 1;
        const r = t.getBoundingClientRect();
        for (const [x, y] of [[r.left + 1, r.top + 3], [r.right - 1, r.bottom - 3]]) {
          const hit = document.elementFromPoint(x, y)?.closest('g[data-piece]');
          if (hit?.dataset.piece !== id[1]) wrong.push(t.textContent);
        }
      }
      return [wrong, seen];
    }""")
    assert wrong == []
    assert seen >= 20  # the strips right of the door are too narrow for a name


def _plain_plan():
    """A wall with a large field of each fill, and nothing else across it."""
    doc = plan("mm")
    wall = doc["walls"][0]
    wall["studs"], wall["level"] = [], None
    wall["blocking"] = [{"left": 1800, "bottom": 300, "right": 2300, "top": 700}]
    wall["boxes"] = [
        {"name": "Box", "kind": "box", "left": 2800, "bottom": 400, "right": 3300, "top": 900}
    ]
    wall["openings"] = [
        {"name": "W", "kind": "window", "left": 100, "bottom": 1000, "right": 1700, "top": 2300}
    ]
    wall["floor"] = [[0, 0], [3600, 0]]
    wall["courses"] = []
    doc["pieces"] = [piece("1A", 0, 3600), piece("2A", 0, 900)]
    doc["pieces"][0]["shows"] = [[[0, 0], [3600, 0], [3600, 2400], [0, 2400]]]
    rip = {"width": 400, "cut": "upper", "keeps": False}
    doc["pieces"][1].update(rip=rip, shows=[[[100, 300], [700, 300], [700, 800], [100, 800]]])
    # The middles of a field of each, mm; the opening's off its crossing lines.
    places = {
        "full board": (1300, 500),
        "ripped board": (400, 550),
        "blocking": (2050, 500),
        "box": (3050, 650),
        "opening": (900, 2120),
    }
    return doc, places


@pytest.mark.parametrize("sight", sorted(vision.SIGHTS))
@pytest.mark.parametrize(("scale", "paper", "zoom"), [(160, None, 1), (None, "A4", 4)])
def test_fills_are_told_apart_in_grey(show, sight, scale, paper, zoom):
    """Root mean square of any two fills' greys at least 0.15, in the worst
    position of one pattern over the other; on the screen, and printed."""
    doc, places = _plain_plan()
    answer = elevation(doc, 1, scale, paper, labels=False)
    page = show(answer, zoom)
    picture = Image.open(io.BytesIO(page.locator("svg").screenshot())).convert("RGB")
    wall = page.locator("path[stroke-linejoin]").bounding_box()
    scale_x = wall["width"] / 3600
    patches = {}
    for name, (x, y) in places.items():
        left = int(wall["x"] + x * scale_x) - SIZE // 2 - 4
        top = int(wall["y"] + wall["height"] - y * scale_x) - SIZE // 2 - 4
        far = SIZE + max(SHIFTS) + 1
        patches[name] = vision.greys(picture.crop((left, top, left + far, top + far)), sight)
    names = list(places)
    found = {
        (a, b): vision.least_rms(patches[a], patches[b], SIZE, SHIFTS)
        for i, a in enumerate(names)
        for b in names[i + 1 :]
    }
    assert len(found) == 10
    assert min(found.values()) >= RMS, found


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_a_sketch_keeps_its_words_apart(unit):
    """Words of a piece's sketch by the page's own measure: 8.5 px a letter, 17 px a line."""
    px = 8128 // 16
    for p in plan(unit)["pieces"]:
        sketch = card(plan(unit), p["id"])["sketch"]
        boxes = []
        for kind, *of in sketch["items"]:
            if kind == "text":
                x, base, anchor, text = of
                wide = len(text) * 8.5
                left = x / px - {"start": 0, "middle": wide / 2, "end": wide}[anchor]
                boxes.append((left, base / px - 12, left + wide, base / px + 3, text))
        assert boxes
        for i, (l1, t1, r1, b1, one) in enumerate(boxes):
            assert l1 >= -28 and r1 <= 300 + 6, (p["id"], one)
            assert t1 >= -28 and b1 <= sketch["height"] / px + 28, (p["id"], one)
            for l2, t2, r2, b2, other in boxes[:i]:
                assert l1 >= r2 or l2 >= r1 or t1 >= b2 or t2 >= b1, (p["id"], one, other)


def test_both_engines_draw_alike(chromium, tmp_path):
    doc = plan("in")
    requests = [
        {"do": "elevation", "plan": doc, "wall": 1, "scale": 90, "paper": None, "select": "5B"},
        {"do": "elevation", "plan": doc, "wall": 1, "scale": None, "paper": "Letter"},
        {"do": "elevation", "plan": doc, "wall": 7, "scale": 2},
    ]
    requests += [{"do": "card", "plan": doc, "piece": key} for key in ("2A", "5B", "13A", "x")]
    with serving(tmp_path) as server:
        page = chromium.new_page()
        page.goto(server.address + "/version.json")
        answers = [json.loads(a) for a in page.evaluate(ASK, requests)]
        page.close()
    for request, answer in zip(requests, answers, strict=True):
        assert vectors.differences(json.loads(call(json.dumps(request))), answer) == []
    assert [a["ok"] for a in answers] == [True, True, False, True, True, True, False]
