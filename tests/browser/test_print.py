"""Print: a sheet for each wall, then every piece in a table that is cut nowhere, then what to
buy and the steps of the work.

Letters are 2.5 mm high at least; a capital of common sans-serif faces is about 0.72 of the
size of the type (from memory).
"""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.hands import opened
from tests.browser.rooms import kitchen, room
from tests.browser.test_finish import slipped

DRAWN = 90000  # ms; two busy cores
MM = 96 / 25.4  # CSS px in a millimetre
PAPERS = {"A4": (297, 210), "Letter": (279.4, 215.9)}


def print_screen(phone, live, doc=None):
    page = phone.new_page()
    opened(page, live.address, doc or room(), "print")
    ready(page)
    return page


def ready(page):
    button = page.get_by_role("button", name="Print", exact=True)
    expect(button).to_be_enabled(timeout=DRAWN)


def on_paper(page, paper):
    page.locator(".pick select").select_option(paper)
    expect(page.locator(f".paper.{paper.lower()}")).to_be_visible()
    ready(page)


def sheets(pdf):
    """(width, height) of each page of a PDF, mm, from its own MediaBoxes."""
    boxes = re.findall(rb"/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]", pdf)
    return [(float(w) / 72 * 25.4, float(h) / 72 * 25.4) for w, h in boxes]


@pytest.mark.parametrize("paper", PAPERS)
def test_every_page_is_of_the_paper_chosen_and_no_drawing_takes_two(phone, live, paper):
    page = print_screen(phone, live)
    on_paper(page, paper)
    found = sheets(page.pdf(prefer_css_page_size=True))
    for size in found:
        assert size == pytest.approx(PAPERS[paper], abs=0.5)
    page.evaluate("document.querySelectorAll('.page-figures, .page-list').forEach(e => e.remove())")
    # Two walls are planned: two drawings, two pages.
    assert len(sheets(page.pdf(prefer_css_page_size=True))) == 2


def laid(page, paper):
    """Lay the page out as wide as that paper is within its margins."""
    on_paper(page, paper)
    width, height = PAPERS[paper]
    page.emulate_media(media="print")
    page.set_viewport_size({"width": round((width - 24) * MM), "height": round((height - 24) * MM)})


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("doc", [room, slipped])
def test_letters_are_large_enough_and_tables_are_cut_nowhere(phone, live, doc, paper):
    page = print_screen(phone, live, doc())
    laid(page, paper)
    small = page.evaluate(
        """(least) => {
          const out = [];
          const paper = document.querySelector('.paper');
          const walk = document.createTreeWalker(paper, NodeFilter.SHOW_TEXT);
          while (walk.nextNode()) {
            const el = walk.currentNode.parentElement;
            if (!walk.currentNode.textContent.trim() || !el.checkVisibility()) continue;
            const svg = el.closest('svg');
            const unit = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1;
            const size = parseFloat(getComputedStyle(el).fontSize) * unit;
            if (0.72 * size < least) out.push([el.textContent.slice(0, 30), size]);
          }
          return out;
        }""",
        2.5 * MM,
    )
    assert small == []
    wide = page.evaluate(
        """() => [...document.querySelectorAll('.paper table')].filter(t =>
          t.scrollWidth > t.clientWidth + 1 || t.getBoundingClientRect().right > innerWidth + 1
        ).map(t => t.textContent.slice(0, 40))"""
    )
    assert wide == []
    over = page.evaluate(
        """() => [...document.querySelectorAll('.page-list *')].filter(e =>
          e.checkVisibility() && (e.getBoundingClientRect().right > innerWidth + 1
            || e.getBoundingClientRect().left < -1)
        ).map(e => e.textContent.slice(0, 40))"""
    )
    assert over == []
    styles = """([what, key]) => [...new Set([...document.querySelectorAll(`.paper ${what}`)]
        .map(e => getComputedStyle(e)[key]))]"""
    assert page.evaluate(styles, ["thead", "display"]) == ["table-header-group"]
    assert page.evaluate(styles, ["tr", "breakInside"]) == ["avoid"]
    for gone in (".pick", ".main", ".tabs", ".top", ".pair"):
        expect(page.locator(gone).first).to_be_hidden()


def test_the_cut_list_holds_every_piece_of_every_drawing(phone, live):
    page = print_screen(phone, live)
    page.emulate_media(media="print")
    drawn = set(page.locator(".page-drawing [data-piece]").evaluate_all(
        "list => list.map(e => e.dataset.piece)"
    ))  # fmt: skip
    listed = page.locator(".cut-list th[scope=row]").all_text_contents()
    assert len(listed) == len(set(listed)) and set(listed) == drawn
    # A wall that is not measured is not printed, and the screen says so.
    page.emulate_media(media="screen")
    expect(page.locator(".needs")).to_contain_text("East still needs")


def test_what_to_buy_is_on_paper_line_by_line(phone, live):
    page = phone.new_page()
    held = opened(page, live.address, kitchen(), "take-off")
    expect(page.locator(".result:not(.old) .answer")).to_be_visible(timeout=DRAWN)
    expect(page.locator("body")).to_have_attribute("data-plan", "whole", timeout=DRAWN)
    expect(page.locator(".result:not(.old) .answer")).to_be_visible()
    first = page.locator("button.tick").first
    first.tap()
    expect(first).to_have_attribute("aria-pressed", "true")
    lines = page.locator("button.tick").evaluate_all(
        """all => all.map(e => [e.querySelector('.name b').textContent,
          e.querySelector('.value').textContent])"""
    )
    total = page.locator(".result .answer").inner_text()
    page.goto(f"{live.address}/p#/job/{held}/print")
    ready(page)
    laid(page, "A4")
    table = page.locator(".shopping table.shop")
    expect(table).to_be_visible()
    rows = table.locator("tbody tr:not(.of)")
    cells = [r.locator("td").all_text_contents() for r in rows.all()]
    assert len(cells) == len(lines)
    for (_, what, _, cost), (amount, shown) in zip(cells, lines, strict=True):
        assert what.startswith(amount) and shown == (cost or "no price")
    assert [c[0] for c in cells] == ["☑"] + ["☐"] * (len(lines) - 1)
    priced = [c for c in cells if c[2]]
    for _, what, price, cost in priced:  # "2 boards of 144"", "15.60", "31.20"
        assert int(what.split(" ")[0]) * float(price) == pytest.approx(float(cost), abs=0.001)
    assert len(priced) >= 6
    totals = table.locator("tbody").last.locator("tr").all_text_contents()
    assert totals[-1] == f"Total{total}"


def test_the_steps_are_on_paper_with_their_tables_and_cautions(phone, live):
    page = phone.new_page()
    held = opened(page, live.address, slipped(), "finish")
    expect(page.locator("body")).to_have_attribute("data-plan", "whole", timeout=DRAWN)
    expect(page.locator(".fields.old")).to_have_count(0)
    told = {}
    for step in page.locator("[id^=step-]").all():
        step.locator("> button").tap()
        expect(step.locator("> button")).to_have_attribute("aria-expanded", "true")
        title = step.locator("> button b").first.inner_text()
        cells = "caption, thead th, td, tbody th"
        told[title] = (
            step.locator(".cautions p").all_text_contents(),
            step.locator(cells).all_text_contents(),
            step.locator(".warn").all_text_contents(),
        )
    page.goto(f"{live.address}/p#/job/{held}/print")
    ready(page)
    laid(page, "Letter")
    steps = page.locator(".steps")
    assert steps.locator("h2").all_text_contents() == list(told)
    words = " ".join(steps.text_content().split())
    for title, (cautions, cells, warnings) in told.items():
        assert title == "Level and plumb" or cells or cautions, title
        for text in [*cautions, *cells, *warnings]:
            assert " ".join(text.split()) in words, (title, text)
    for what in ("table", ".listed li"):
        assert steps.locator(what).first.is_visible()
    assert sum(len(warnings) for _, _, warnings in told.values()) >= 3
    pdf = sheets(page.pdf(prefer_css_page_size=True))
    page.evaluate("document.querySelectorAll('.shopping, .steps').forEach(e => e.remove())")
    assert len(sheets(page.pdf(prefer_css_page_size=True))) < len(pdf)
