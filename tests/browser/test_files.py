"""Files: what the phone saves can be opened again, and what is wrong with one is named."""

import csv
import io
import json
import xml.etree.ElementTree as ET

from playwright.sync_api import expect

from calc.job import read_job
from tests.browser.hands import open_page, opened
from tests.browser.rooms import room

PLANNED = 60000  # ms; two busy cores


def share(phone, live, doc):
    page = phone.new_page()
    opened(page, live.address, doc, "share")
    expect(page.get_by_role("button", name="Cut list as CSV")).to_be_visible(timeout=PLANNED)
    return page


def saved(page, button):
    """(name, text) of the file that a button saves."""
    with page.expect_download() as got:
        page.get_by_role("button", name=button).tap()
    return got.value.suggested_filename, got.value.path().read_text(encoding="utf-8")


def pick(page, name, text):
    with page.expect_file_chooser() as chooser:
        page.get_by_role("button", name="Open a job file").tap()
    body = text if isinstance(text, bytes) else text.encode()
    chooser.value.set_files([{"name": name, "mimeType": "application/json", "buffer": body}])


def test_a_job_saved_on_one_phone_opens_on_another(chromium, phone, live):
    doc = room()
    page = share(phone, live, doc)
    name, text = saved(page, "Job file")
    assert name == "back-room-job.json"
    # The same job; its texts carry their units, its items have ids.
    assert read_job(json.loads(text)) == read_job(doc)
    assert [w["id"] for w in json.loads(text)["walls"]] == ["1", "2", "3"]
    other = chromium.new_context(viewport={"width": 360, "height": 640}, has_touch=True)
    theirs = open_page(other.new_page(), live.address, "#/jobs")
    pick(theirs, name, text)
    expect(theirs.locator("h1")).to_have_text("Back room")
    expect(theirs.locator(".walls select")).to_have_value("1 of 3: North")
    expect(theirs.locator(".sent")).to_contain_text("Sent ")
    other.close()


def test_the_plan_the_cut_list_and_the_drawing_are_saved_whole(phone, live):
    page = share(phone, live, room())
    name, text = saved(page, "Plan file")
    plan = json.loads(text)
    assert (name, plan["format"], len(plan["walls"])) == (
        "back-room-plan.json",
        "lapwright-plan",
        2,
    )
    name, text = saved(page, "Cut list as CSV")
    rows = list(csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline="")))
    assert name == "back-room-cut-list.csv"
    assert len({len(row) for row in rows}) == 1
    ids = {p["id"] for p in plan["pieces"]}
    assert ids <= {cell for row in rows for cell in row}
    name, text = saved(page, "Drawing as SVG")
    root = ET.fromstring(text)
    assert name == "back-room-north.svg"
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    drawn = {e.get("data-piece") for e in root.iter() if e.get("data-piece")}
    assert drawn == {p["id"] for p in plan["pieces"] if p["wall"] == 1}


def test_every_error_of_a_job_file_is_named_and_nothing_is_opened(phone, live):
    page = open_page(phone.new_page(), live.address, "#/jobs")
    doc = room()
    doc["board"]["face"] = "seventy"
    doc["walls"][0]["height_left"] = -4
    doc["rules"]["kerf"] = "9"
    doc["colour"] = "blue"
    pick(page, "broken.json", json.dumps(doc))
    said = page.locator(".refused")
    expect(said).to_contain_text("This file was not opened")
    for field, value in (
        ("board.face", "seventy"),
        ("walls[0].height_left", "-4"),
        ("rules.kerf", "9"),
        ("colour", "blue"),
    ):
        told = said.locator(".problem", has_text=f"Field {field}").first
        expect(told).to_contain_text(f"value {value}")
    expect(page.locator("a.card")).to_have_count(0)
    # Mended, the same file opens.
    pick(page, "broken.json", json.dumps(room()))
    expect(page.locator("h1")).to_have_text("Back room")


def test_a_draft_opens(phone, live):
    page = open_page(phone.new_page(), live.address, "#/jobs")
    draft = {"format": "lapwright-job", "version": 1, "title": "Hall", "walls": [{"name": "West"}]}
    pick(page, "draft.json", json.dumps(draft))
    expect(page.locator("h1")).to_have_text("Hall")
    expect(page.locator(".needs")).to_contain_text("Still needed")


def test_what_is_no_job_file_is_refused_in_plain_words(phone, live):
    page = open_page(phone.new_page(), live.address, "#/jobs")
    said = page.locator(".refused")
    for name, text, words in (
        ("photo.json", b"\xff\xd8\xff\xe0 no text", "its text is not JSON"),
        ("list.json", "[1, 2]", "it holds no job"),
        ("plan.json", json.dumps({"format": "lapwright-plan"}), "This is a plan file"),
        ("other.json", json.dumps({"format": "else", "version": 1}), "was not opened"),
        ("big.json", "[" + " " * 1_000_001 + "]", "too large: 1.0 MB, and a job file has at most"),
    ):
        pick(page, name, text)
        expect(said.locator("h2")).to_have_text(name)
        expect(said).to_contain_text(words)
    said.get_by_role("button", name="Close").tap()
    expect(said).to_have_count(0)


def test_file_names_are_plain(phone, live):
    page = share(phone, live, {**room(), "title": "Küche/№ 2: Nord?"})
    name, _ = saved(page, "Job file")
    assert name == "kuche-no-2-nord-job.json"
