"""Finish: the steps of the work, what stands against each, and what to be sure of first."""

import re

import pytest
from playwright.sync_api import expect

from calc.trade.asked import SECTIONS
from tests.browser.hands import LONG, opened, tab, unfold
from tests.browser.rooms import kitchen

# A slip in the survey -> the section that warns of it, and words of the warning.
WARNED = {
    "nails": ("nails", '2-3/4", goes 1-1/2" into the stud, over 1-1/4"', 'take one of 2-1/4"'),
    "box": ("boxes", 'Kitchen, sink side, Box 1: set an extension of 3/4"', "never be buried"),
    "moisture": ("movement", "Boards too wet: they read 16 %", "stack them on stickers"),
}
# Inches, and the units that go with them; what a code says in both stands in both.
BOTH = re.compile(r"[\d/-]+ (in|sq ft) \([\d.]+ (mm|m²)\)")
INCHES = re.compile(r"\d ?(\"|in\b|ft\b|gal\b|fl oz|sq ft|lb\b|mil\b|°F)|′|″")
SHOWN = """el => {
  const copy = el.cloneNode(true), live = el.querySelectorAll('select');
  copy.querySelectorAll('select').forEach((s, i) =>
    s.replaceWith(live[i].selectedOptions[0].text));
  return copy.textContent;
}"""


def slipped():
    """The kitchen with three slips: nails too long, a box not brought forward, wet boards."""
    doc = kitchen()
    doc["nails"]["length"] = "2 3/4"
    del doc["walls"][0]["boxes"][0]["extension"]
    doc["site"]["moisture"] = "16 %"
    return doc


def finish(phone, live, doc):
    page = phone.new_page()
    held = opened(page, live.address, doc, "finish")
    stands(page)
    return page, held


def stands(page):
    """Wait until the steps on the screen are those of the job's whole plan."""
    expect(page.locator("body")).to_have_attribute("data-plan", "whole", timeout=LONG)
    expect(page.locator("[id^=step-]")).to_have_count(len(SECTIONS))
    expect(page.locator(".fields.old")).to_have_count(0)


def step(page, name):
    """Open that step; the step."""
    one = page.locator(f"#step-{name}")
    bar = one.locator("> button")
    if bar.get_attribute("aria-expanded") == "false":
        bar.tap()
    expect(bar).to_have_attribute("aria-expanded", "true")
    return one


def test_steps_are_shut_with_their_answer_and_one_is_open_at_a_time(phone, live):
    page, _ = finish(phone, live, kitchen())
    titles = page.locator("[id^=step-] > button b:first-child").all_inner_texts()
    assert [t for t in titles if t != "open"] == [title for _, title, _ in SECTIONS]
    expect(page.locator("[id^=step-] .figure")).to_have_count(0)
    expect(page.locator("#step-nails small")).to_contain_text('nail length 2-1/4"')
    nails = step(page, "nails")
    expect(nails.locator(".figure .answer")).to_have_text('2-1/4"')
    nails.locator("summary").tap()
    worked = nails.locator(".working ol li")
    # 3/4 boards, 1/2 wallboard, an inch into the stud.
    expect(worked.filter(has_text='3/4" + 1/2" + 1" = 2-1/4"')).to_have_count(1)
    for text in worked.all_inner_texts():
        assert "=" in text, text
    step(page, "schedule")
    expect(page.locator("#step-nails > button")).to_have_attribute("aria-expanded", "false")
    expect(page.locator("#step-schedule table").first).to_be_visible()
    page.locator("#step-schedule > button").tap()
    expect(page.locator("[id^=step-] .figure")).to_have_count(0)


def test_a_caution_that_is_seen_to_is_one_line_and_whole_on_paper(phone, live):
    page, held = finish(phone, live, kitchen())
    nails = step(page, "nails")
    first = nails.locator(".cautions li").first
    text, asked = (p.inner_text() for p in first.locator("p").all())
    assert asked.endswith("?") and len(text) > len(asked)
    tall = first.bounding_box()["height"]
    first.get_by_role("button", name=f"Yes, seen to: {asked}").tap()
    seen = page.locator("#step-nails .seen-to")
    expect(seen).to_have_text(re.compile(re.escape(asked) + r"\s+Seen to\.\s+Show"))
    assert seen.bounding_box()["height"] < tall / 2
    expect(nails).not_to_contain_text(text)
    page.reload()
    stands(page)
    step(page, "nails")
    expect(seen).to_contain_text("Seen to.")
    expect(nails).not_to_contain_text(text)
    page.goto(f"{live.address}/p#/job/{held}/print")
    expect(page.get_by_role("button", name="Print", exact=True)).to_be_enabled(timeout=LONG)
    printed = page.locator(".steps li").all_text_contents()
    assert f"{text} {asked}" in printed
    page.goto(f"{live.address}/p#/job/{held}/finish")
    stands(page)
    step(page, "nails").get_by_role("button", name=f"Show again: {asked}").tap()
    expect(nails).to_contain_text(text)
    expect(seen).to_have_count(0)


@pytest.mark.parametrize("slips", [True, False])
def test_a_slip_in_the_survey_is_warned_of_wherever_it_matters(phone, live, slips):
    page, held = finish(phone, live, slipped() if slips else kitchen())
    times = 1 if slips else 0
    for section, what, mend in WARNED.values():
        warned = page.locator(f"#step-{section} .warn", has_text=what)
        expect(warned).to_have_count(times)
        expect(warned.filter(has_text=mend)).to_have_count(times)
    tab(page, "Layout")
    expect(page.locator(".drawing svg")).to_be_visible()
    before = page.locator("section", has=page.locator("h2", has_text="Before hanging"))
    expect(before.locator(".warn").first).to_be_visible()  # boards hung tight push, in any case
    for _, what, mend in WARNED.values():
        expect(before.locator(".warn", has_text=what).filter(has_text=mend)).to_have_count(times)
    page.goto(f"{live.address}/p#/job/{held}/print")
    expect(page.get_by_role("button", name="Print", exact=True)).to_be_enabled(timeout=LONG)
    for _, what, mend in WARNED.values():
        printed = page.locator(".steps li", has_text=what).filter(has_text=mend)
        expect(printed).to_have_count(times)


def test_after_a_change_of_unit_nothing_stands_in_inches(phone, live):
    page = phone.new_page()
    opened(page, live.address, kitchen())
    unfold(page, "House and moisture")
    room = page.locator('button[data-path="site.temperature"]')
    expect(room).to_contain_text("70 °F")
    page.locator("label.field", has_text="A bare number means").locator("select").select_option(
        "mm"
    )
    expect(room).to_contain_text("21.1 °C")
    tab(page, "Take-off")
    expect(page.locator("body")).to_have_attribute("data-plan", "whole", timeout=LONG)
    expect(page.locator(".result:not(.old) .answer")).to_be_visible()
    expect(page.locator("button.tick").first).to_contain_text("mm")
    parts = page.locator(".item > button b:first-child").all_inner_texts()
    said = [page.locator("main").evaluate(SHOWN)]
    for title in [p for p in parts if p != "open"]:
        unfold(page, title)
        said.append(page.locator("main").evaluate(SHOWN))
    tab(page, "Finish")
    stands(page)
    for key, *_ in SECTIONS:
        step(page, key)
        said.append(page.locator("main").evaluate(SHOWN))
    assert len(said) > len(SECTIONS) + 5
    found = []
    for text in [BOTH.sub("", one) for one in said]:
        found += [text[max(m.start() - 60, 0) : m.end() + 20] for m in INCHES.finditer(text)]
    assert sorted(set(found)) == []
