"""Print: a sheet for each wall, then every piece in a table that is cut nowhere.

Sizes of letters: acceptance 35, 2.5 mm at least; a capital of common sans-serif faces
is about 0.72 of the size of the type (from memory).
"""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.hands import opened
from tests.browser.rooms import room

DRAWN = 90000  # ms; two busy cores
MM = 96 / 25.4  # CSS px in a millimetre
PAPERS = {"A4": (297, 210), "Letter": (279.4, 215.9)}


def print_screen(phone, live):
    page = phone.new_page()
    opened(page, live.address, room(), "print")
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


def test_letters_are_large_enough_and_tables_are_cut_nowhere(phone, live):
    page = print_screen(phone, live)
    on_paper(page, "A4")
    page.emulate_media(media="print")
    page.set_viewport_size({"width": round((297 - 24) * MM), "height": round((210 - 24) * MM)})
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
