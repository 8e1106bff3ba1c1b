"""Survey of any wall: pick one, add and take out its parts, plan what is measured."""

from playwright.sync_api import expect

from tests.browser.hands import field, key, keyed, open_page, opened, planned, start_job, unfold
from tests.browser.hands import survey_wall as survey_first_wall
from tests.browser.rooms import room


def wall_select(page):
    return page.locator(".walls select")


def test_a_second_wall_is_added_and_told_apart(phone, live):
    page = open_page(phone.new_page(), live.address)
    start_job(page)
    survey_first_wall(page)
    expect(page.locator(".walls")).to_have_count(0)
    page.get_by_role("button", name="Add a wall").tap()
    expect(wall_select(page)).to_have_value("2 of 2: Wall 2")
    expect(field(page, "Height")).to_contain_text("needed")
    # The first wall is planned; the second says what it lacks.
    expect(page.locator(".needs")).to_contain_text("Wall 2 still needs: height, width")
    expect(page.locator(".needs")).to_contain_text("The other walls are planned.")
    planned(page)
    keyed(page, "Height", ["9", "0"])
    page.get_by_role("button", name="Wall before").tap()
    expect(field(page, "Height")).to_contain_text('96"')
    page.get_by_role("button", name="Next wall").tap()
    expect(field(page, "Height")).to_contain_text('90"')
    # Which wall is looked at is this phone's own, and outlives a reload.
    page.reload()
    expect(wall_select(page)).to_have_value("2 of 2: Wall 2")
    expect(field(page, "Height")).to_contain_text('90"')


def test_what_another_wall_needs_leads_there(phone, live):
    page = phone.new_page()
    opened(page, live.address, room())
    expect(wall_select(page)).to_have_value("1 of 3: North")
    page.get_by_role("button", name="East still needs: height, width").tap()
    expect(wall_select(page)).to_have_value("3 of 3: East")
    expect(field(page, "Height")).to_be_focused()
    expect(field(page, "Height")).to_be_in_viewport()


def test_from_layout_too(phone, live):
    page = phone.new_page()
    opened(page, live.address, room(), "layout/2")
    expect(page.locator(".drawing svg")).to_be_visible(timeout=30000)
    page.get_by_role("button", name="East still needs: height, width").tap()
    expect(field(page, "Height")).to_be_focused()
    expect(wall_select(page)).to_have_value("3 of 3: East")


def test_an_opening_is_added_keyed_taken_out_and_brought_back(phone, live):
    page = open_page(phone.new_page(), live.address)
    start_job(page)
    survey_first_wall(page)
    page.get_by_role("button", name="Add an opening").tap()
    part = unfold(page, "Window 1")
    part.locator('[data-path="walls[0].openings[0].left"]').tap()
    # OK goes on to the next reading of the same opening, and shuts the keypad after the last.
    for label, digits in (("Left edge", "40"), ("Width", "36"), ("Bottom", "30"), ("Height", "44")):
        expect(page.locator(".sheet h2")).to_have_text(f"Window 1: {label}")
        key(page, *digits, "ok")
    expect(page.locator(".sheet")).to_have_count(0)
    planned(page)
    expect(part.locator('[data-path$=".height"]')).to_contain_text('44"')
    part.get_by_role("button", name="Take out Window 1").tap()
    expect(page.locator(".item", has_text="Window 1")).to_have_count(0)
    expect(page.locator(".undone")).to_have_text("Taken out: Window 1")
    page.get_by_role("button", name="Undo").tap()
    part = unfold(page, "Window 1")
    expect(part.locator('[data-path$=".height"]')).to_contain_text('44"')
    expect(page.locator(".undone")).to_contain_text("Undone: Window 1")


def test_a_reading_of_the_ceiling_is_asked_for_at_once(phone, live):
    page = open_page(phone.new_page(), live.address)
    start_job(page)
    survey_first_wall(page)
    page.get_by_role("button", name="Add a station").tap()
    expect(page.locator(".sheet h2")).to_have_text("Station 1: From the left corner")
    key(page, "8", "0", "ok")
    expect(page.locator(".sheet h2")).to_have_text("Station 1: Down to the floor")
    key(page, "ok")
    expect(page.locator(".sheet h2")).to_have_text("Station 1: Up to the ceiling")
    key(page, "1", "0", "4", "ok")
    expect(page.locator(".sheet")).to_have_count(0)
    expect(unfold(page, "Station 1")).to_contain_text('104"')


# A slow phone: the list of jobs is read so late that the new form is there before it.
SLOW_STORE = """() => {
  const { prototype } = IDBObjectStore;
  for (const name of ['get', 'getAll', 'openCursor']) {
    const read = prototype[name];
    prototype[name] = function (...given) {
      const end = performance.now() + 300;
      while (performance.now() < end);
      return read.apply(this, given);
    };
  }
}"""


def test_no_reading_is_lost_where_the_form_changes_while_ok_is_worked_out(phone, live):
    page = open_page(phone.new_page(), live.address)
    start_job(page)
    survey_first_wall(page)
    page.evaluate(SLOW_STORE)
    page.get_by_role("button", name="Add a station").tap()
    expect(page.locator(".sheet h2")).to_have_text("Station 1: From the left corner")
    key(page, "8", "0", "ok", "3", "6", "ok", "6", "4", "ok")
    expect(page.locator(".sheet")).to_have_count(0)
    part = unfold(page, "Station 1")
    for name, reading in (("at", '80"'), ("down", '36"'), ("up", '64"')):
        expect(part.locator(f'[data-path$=".{name}"]')).to_contain_text(reading)


def test_what_is_wrong_on_another_wall_is_named_and_leads_there(phone, live):
    doc = room()
    doc["walls"][1]["openings"] = [
        {"kind": "window", "left": "120", "width": "36", "bottom": "30", "height": "44"}
    ]
    page = phone.new_page()
    opened(page, live.address, doc, "survey/2")
    for n in (3, 2):  # what the new width leaves no room for
        unfold(page, f"Station {n}").get_by_role("button", name=f"Take out Station {n}").tap()
        expect(page.locator(".item", has_text=f"Station {n}")).to_have_count(0)
    keyed(page, "Width", ["1", "4", "0"])
    expect(page.locator(".needs .problem")).to_contain_text("Window 1")
    page.get_by_role("button", name="Wall before").tap()
    expect(field(page, "Height")).to_contain_text('96"')
    page.get_by_role("button", name="Go there").tap()
    expect(wall_select(page)).to_have_value("2 of 3: Gable")
    part = page.locator(".item.open")
    expect(part).to_contain_text("Window 1")
    expect(part.locator(".problem")).to_contain_text("beyond the right corner")


def test_a_wall_is_taken_out_and_brought_back(phone, live):
    page = phone.new_page()
    opened(page, live.address, room(), "survey/3")
    expect(wall_select(page)).to_have_value("3 of 3: East")
    page.get_by_role("button", name="Take out this wall").tap()
    expect(wall_select(page)).to_have_value("2 of 2: Gable")
    expect(page.locator(".undone")).to_have_text("Taken out: East")
    page.get_by_role("button", name="Undo").tap()
    expect(wall_select(page)).to_have_value("2 of 3: Gable")
