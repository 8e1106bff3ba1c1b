"""Take-off: what there is to buy and what it costs, ticked off line by line in the store."""

import json
import re
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

from playwright.sync_api import expect

from tests.browser.hands import LONG, key, open_page, opened, tab, unfold
from tests.browser.rooms import kitchen as with_stool
from tests.browser.shared import sent

HALL = Path(__file__).parent.parent.parent / "examples" / "hall.json"
CENT = Decimal("0.01")
# What each line of the hall costs, by what stands on it.
PRICES = {
    "10' 0\"": "13.25",
    "14' 0\"": "19.5",
    "nails": "14.95",
    "primer": "28",
    "paint": "41.5",
    "filler": "6.5",
    "caulk": "4.3",
}
# Every state of the plan, and every word of waiting for it, from now on.
WATCH = """() => {
  window.told = [];
  const look = () => {
    told.push(document.body.dataset.plan);
    const { textContent } = document.querySelector('main');
    if (/Working out|Looking for a better/.test(textContent)) told.push('waits');
  };
  new MutationObserver(look).observe(document.body,
    {subtree: true, childList: true, characterData: true, attributes: true});
}"""


def hall():
    """The hall of the examples with a price for all, and tax."""
    doc = json.loads(HALL.read_text(encoding="utf-8"))
    for line, price in zip(doc["board"]["stock"], (13.25, 19.5), strict=True):
        line["price"] = price
    finish = {"primer_price": 28, "paint_price": 41.5, "filler_price": 6.5, "caulk_price": 4.3}
    return {
        **doc, "nails": {"price": 14.95}, "finish": finish, "cost": {"tax": "8.25 %"},
        "trim": {"casing_stock": [{"length": "14'", "price": 16.4}]},
    }  # fmt: skip


def stands(page):
    """Wait until the take-off on the screen is that of the job's whole plan."""
    expect(page.locator("body")).to_have_attribute("data-plan", "whole", timeout=LONG)
    expect(page.locator(".result:not(.old) .answer")).to_be_visible()


def kitchen(**more):
    """The kitchen with casing all round its window: a stool has no price."""
    doc = with_stool(**more)
    return {**doc, "trim": {**doc["trim"], "foot": "casing"}}


def take_off(phone, live, doc):
    page = phone.new_page()
    held = opened(page, live.address, doc, "take-off")
    stands(page)
    return page, held


def line(page, what):
    """The line to be ticked that says so."""
    return page.locator("button.tick", has_text=what).first


def figures(page):
    """Each figure over the list: {label: text}."""
    out = {}
    for p in page.locator(".result .figure").all():
        out[p.locator("span").first.inner_text()] = p.locator("b, output").first.inner_text()
    return out


def costs(page):
    """[(what stands on it, how many, cost)] of every line."""
    out = []
    for tick in page.locator("button.tick").all():
        amount = tick.locator(".name b").inner_text()
        cost = tick.locator(".value").inner_text()
        out.append((tick.locator(".name").inner_text(), int(amount.split(" ")[0]), Decimal(cost)))
    return out


def adds_up(page, rate):
    """What is paid is the sum of the lines and the tax on it, to the cent."""
    before = sum(cost for _, _, cost in costs(page))
    tax = (before * Decimal(rate) / 100).quantize(CENT, ROUND_HALF_UP)
    assert figures(page) == {
        "Total": str(before + tax),
        "Before tax": str(before),
        f"Tax, {rate} %": str(tax),
    }


def keyed_at(page, path, *keys):
    """Key a reading into the field of that path, and close the keypad."""
    page.locator(f'button[data-path="{path}"]').tap()
    key(page, *keys, "done")
    expect(page.locator(".sheet")).to_have_count(0)


def test_what_is_paid_is_every_count_times_its_price_and_the_tax(phone, live):
    page, _ = take_off(phone, live, hall())
    assert page.locator(".fields > h2").first.inner_text() == "Boards"
    titles = ["Boards", "Nails and adhesive", "Primer, paint, filler"]
    for title in titles:
        expect(page.locator("section.fields h2", has_text=title)).to_have_count(1)
    # No window and no door: nothing to trim, whatever the casing costs.
    expect(line(page, "casing")).to_have_count(0)
    lines = costs(page)
    assert len(lines) == len(PRICES)
    for words, count, cost in lines:
        (price,) = [p for what, p in PRICES.items() if what in words]
        assert count > 0 and cost == (count * Decimal(price)).quantize(CENT), words
    adds_up(page, "8.25")


def test_a_line_is_ticked_kept_seen_on_another_phone_and_put_back(phone, other, live):
    page, held = take_off(phone, live, kitchen())
    box = line(page, "boards of 144")
    assert box.get_attribute("aria-pressed") == "false"
    box.tap()
    expect(box).to_have_attribute("aria-pressed", "true")
    expect(page.locator(".result")).to_contain_text("still to buy")
    sent(page)
    page.reload()
    expect(line(page, "boards of 144")).to_have_attribute("aria-pressed", "true", timeout=LONG)
    second = open_page(other.new_page(), live.address, f"#/job/{held}/take-off")
    expect(line(second, "boards of 144")).to_have_attribute("aria-pressed", "true", timeout=LONG)
    expect(line(second, "boards of 192")).to_have_attribute("aria-pressed", "false")
    stands(page)
    page.get_by_role("button", name="Undo").tap()
    expect(line(page, "boards of 144")).to_have_attribute("aria-pressed", "false")
    expect(line(second, "boards of 144")).to_have_attribute("aria-pressed", "false", timeout=LONG)
    # One that is ticked goes back on the list by another touch.
    line(page, "boards of 192").tap()
    expect(line(page, "boards of 192")).to_have_attribute("aria-pressed", "true")
    line(page, "boards of 192").tap()
    expect(line(page, "boards of 192")).to_have_attribute("aria-pressed", "false")


def test_where_more_is_needed_than_was_bought_the_line_says_how_many(phone, live):
    """Fewer than 400 nails are one box of 500; with as many again over, two."""
    page, _ = take_off(phone, live, kitchen(nails={"box": 500, "price": 9}))
    nails = line(page, "nails")
    expect(nails).to_contain_text("1 box")
    nails.tap()
    expect(nails).to_have_attribute("aria-pressed", "true")
    unfold(page, "Nails")
    keyed_at(page, "nails.spare", "1", "0", "0")
    expect(nails).to_contain_text("1 bought, 2 now: 1 more")
    expect(nails).to_have_attribute("aria-pressed", "false")
    nails.tap()
    expect(nails).to_have_attribute("aria-pressed", "true")
    expect(nails).not_to_contain_text("more")
    keyed_at(page, "nails.spare", "5")
    expect(nails).to_contain_text("2 bought, 1 will do")
    expect(nails).to_have_attribute("aria-pressed", "true")


def test_another_price_of_the_nails_changes_the_total_and_not_the_plan(phone, live):
    page, _ = take_off(phone, live, kitchen())
    tab(page, "Layout")
    expect(page.locator(".drawing svg")).to_be_visible()
    drawn = page.locator(".drawing").inner_html()
    tab(page, "Take-off")
    stands(page)
    adds_up(page, "6.5")
    before = figures(page)
    page.evaluate(WATCH)
    unfold(page, "Nails")
    keyed_at(page, "nails.price", "1", "9", ".", "9", "5")
    expect(line(page, "nails").locator(".value")).to_have_text("19.95")
    stands(page)
    adds_up(page, "6.5")
    more = Decimal(figures(page)["Before tax"]) - Decimal(before["Before tax"])
    assert more == Decimal("5.45")  # 19.95 - 14.50, one box
    tab(page, "Layout")
    expect(page.locator(".drawing svg")).to_be_visible()
    page.wait_for_timeout(500)  # a plan that were asked for would be told by now
    assert page.locator(".drawing").inner_html() == drawn
    assert set(page.evaluate("told")) == {"whole"}


def test_a_measure_is_keyed_with_its_unit_and_a_wrong_one_is_told_with_its_mend(phone, live):
    page, _ = take_off(phone, live, kitchen(cost={}))
    assert list(figures(page)) == ["Total, no tax given"]
    unfold(page, "Tax")
    page.locator('button[data-path="cost.tax"]').tap()
    expect(page.locator(".sheet-bar h2")).to_have_text("Tax")
    key(page, "6", ".", "5")
    expect(page.locator(".sheet .entry")).to_have_text("6.5 %")
    key(page, "ok")
    expect(page.locator(".sheet")).to_have_count(0)  # no other field of the tax is left
    expect(page.locator('button[data-path="cost.tax"] .value')).to_have_text("6.5 %")
    expect(page.locator(".result")).to_contain_text("Tax, 6.5 %")
    stands(page)
    adds_up(page, "6.5")
    page.locator('button[data-path="cost.tax"]').tap()
    key(page, "1", "2", "0", "ok")
    told = page.locator('.sheet .problem[role="alert"]')
    expect(told).to_contain_text("120")
    expect(told).to_contain_text("Give 0 % to 100 %.")
    key(page, "back", "back", "back", "7", "done")
    expect(page.locator('button[data-path="cost.tax"] .value')).to_have_text("7 %")


def test_without_a_price_the_line_and_the_total_say_so(phone, live):
    page, _ = take_off(phone, live, kitchen(nails={}))
    expect(line(page, "nails").locator(".value")).to_have_text("no price")
    expect(page.locator(".result .hold")).to_have_text(
        re.compile(r"^No price is given for: 1 box of 1000 nails, 2-1/4\", 16 gauge\.$")
    )
