"""Setting a phone up, step by step, over plain http: what it shows, and what it says without."""

import pytest
from playwright.sync_api import expect

from tests.browser.test_screens import VIEWS, look

LAPTOP = {
    "name": "lapwright-k3x9q2.local",
    "https": "https://lapwright-k3x9q2.local:8129",
    "addresses": ["https://192.168.7.20:8129"],
    "fingerprint": ":".join(f"{n:02X}" for n in range(0, 256, 8)),
    "ca_until": "2035-10-02T10:00:00Z",
    "problem": "",
}


def setup(phone, live, says):
    page = phone.new_page()
    page.route("**/api/laptop", lambda route: route.fulfill(**says))
    page.goto(live.address + "/setup")
    return page


@pytest.mark.parametrize("size", ["360x640", "320x568"])
def test_all_that_a_phone_needs_to_trust_the_laptop(phone, live, size):
    page = setup(phone, live, {"json": LAPTOP})
    page.set_viewport_size(dict(zip(("width", "height"), VIEWS[size][:2], strict=True)))
    expect(page.locator("#print")).to_be_visible()
    shown = page.locator("#print").inner_text().split("\n")
    assert [len(line) for line in shown] == [23] * 4
    assert ":".join(shown) == LAPTOP["fingerprint"]
    expect(page.locator("main")).to_contain_text(
        "vouch for lapwright-k3x9q2.local and for addresses"
    )
    expect(page.locator("main")).to_contain_text("Good until 2 October 2035.")
    expect(page.locator("#state")).to_be_hidden()
    look(page, "setup", size)
    for kind, file in (("Android", "/ca.crt"), ("iPhone", "/ca.mobileconfig")):
        steps = page.locator("details", has_text=f"{kind}, step by step")
        steps.locator("summary").tap()
        expect(steps.get_by_role("link", name="Download")).to_have_attribute("href", file)
        assert steps.locator("svg").count() == steps.locator("li").count() - 1  # the last opens it
        expect(steps).to_contain_text("Compare.")
        look(page, f"setup-{kind}", size)
    expect(page.locator("#iphone")).to_contain_text(
        "The second place. Installed is not yet trusted."
    )
    opens = page.get_by_role("link", name="Open https://lapwright-k3x9q2.local:8129/p")
    expect(opens).to_have_attribute("href", "https://lapwright-k3x9q2.local:8129/p")
    other = page.get_by_role("link", name="https://192.168.7.20:8129/p", exact=True)
    expect(other).to_have_attribute("href", "https://192.168.7.20:8129/p")
    page.get_by_text("Take the certificate off again").tap()
    expect(page.get_by_text("VPN & Device Management")).to_be_visible()


OUT_OF_FRAME = """() => [...document.querySelectorAll('svg text')].filter((text) => {
  const at = text.getBBox();
  return at.x + at.width > 300 || at.y + at.height > text.ownerSVGElement.viewBox.baseVal.height;
}).map((text) => text.textContent)"""


def test_the_words_in_the_drawings_stay_in_their_frames(phone, live):
    page = setup(phone, live, {"json": LAPTOP})
    for part in page.locator("details").all():
        part.locator("summary").tap()
    assert page.locator("svg text").count() > 15
    assert page.evaluate(OUT_OF_FRAME) == []


NOTHING = "So far the page works while its tab is open."


@pytest.mark.parametrize(
    ("says", "words"),
    [
        ({"status": 404, "json": {}}, f"This laptop has no certificate to give. {NOTHING}"),
        (
            {"json": {**LAPTOP, "https": None, "fingerprint": None, "problem": "No key."}},
            f"No key. {NOTHING}",
        ),
        (
            {"status": 500, "json": {}},
            f"The laptop could not say (500). Reload this page. {NOTHING}",
        ),
        (
            {"json": {**LAPTOP, "fingerprint": None}},
            "There is nothing to install: phones trust this address by themselves. Open it below.",
        ),
    ],
)
def test_without_a_certificate_it_says_so_and_offers_none(phone, live, says, words):
    page = setup(phone, live, says)
    expect(page.locator("#state")).to_have_text(words)
    expect(page.locator("#certificate")).to_be_hidden()
    page.locator("#android summary").tap()
    assert page.locator("#android .button").get_attribute("href") is None
    assert page.locator("#open").is_visible() == ("below" in words)


@pytest.mark.parametrize("size", ["360x640", "320x568"])
def test_the_page_that_resets_is_for_thumbs_too(phone, live, size):
    page = phone.new_page()
    page.set_viewport_size(dict(zip(("width", "height"), VIEWS[size][:2], strict=True)))
    page.goto(live.address + "/reset")
    page.get_by_role("button", name="Reset the page, keep the jobs").tap()
    expect(page.locator("#done")).to_be_visible()
    page.get_by_text("Delete the jobs on this phone too").tap()
    look(page, "reset", size)
