"""A carpenter's hands on the page: open it, key a reading, survey a wall."""

from playwright.sync_api import Page, expect

LONG = 120_000  # ms; a plan searched to its end on two busy cores
WALL = {
    "Height": ["9", "6"],
    "Width": ["1", "6", "0"],
    "First stud mark": ["1", "6"],
    "Face": ["5", "1/8"],
    "Overall width": ["5", "3/8"],
    "Stock length": ["1", "6", "ft"],
}


def open_page(page: Page, address: str, route: str = "") -> Page:
    """Open the phone's page at `route`; wait until the engine has answered once."""
    page.goto(f"{address}/p{route}")
    expect(page.locator("nav.tabs")).to_be_visible()
    expect(page.locator("body")).to_have_attribute("data-engine", "ready")
    return page


def saved_here(page: Page) -> None:
    """Wait until the page says that it opens without the laptop."""
    expect(page.locator(".rung")).to_have_text("Saved on this phone. Opens without the laptop.")


def field(page: Page, label: str):
    """The button of one field, by the label on it."""
    name = page.locator(".name").filter(has_text=label).first
    return page.locator("button.field", has=name).first


def unfold(page: Page, title: str):
    """Open the part of that name in Survey, unless it is open; the part."""
    part = page.locator(".item").filter(has=page.locator("b", has_text=title)).first
    bar = part.locator("button[aria-expanded]")
    if bar.get_attribute("aria-expanded") == "false":
        bar.tap()
    expect(bar).to_have_attribute("aria-expanded", "true")
    return part


def opened(page: Page, address: str, doc: dict, route: str = "survey") -> str:
    """Give the laptop a job, and open it on the phone at that screen; its key."""
    answer = page.request.post(f"{address}/api/jobs", data={"job": doc})
    assert answer.status == 201, answer.text()
    held = answer.json()["key"]
    open_page(page, address, f"#/job/{held}/{route}")
    return held


def planned(page: Page) -> None:
    """Wait until the plan of the open job stands, and nothing better is looked for."""
    expect(page.locator("body")).to_have_attribute("data-plan", "whole", timeout=LONG)
    expect(page.locator(".figure .answer").first).to_contain_text("boards")


def key(page: Page, *keys: str) -> None:
    """Tap keys of the open keypad, one after the other, as fast as a thumb can."""
    for before, k in zip(("", *keys), keys, strict=False):
        if k == before:
            page.wait_for_timeout(90)  # sooner than 60 ms is a bounce, and types once
        page.locator(f'.sheet [data-key="{k}"]').tap()


def keyed(page: Page, label: str, keys: list[str]) -> None:
    """Open the field, key a reading, and close the keypad."""
    field(page, label).tap()
    key(page, *keys, "done")
    expect(page.locator(".sheet")).to_have_count(0)


def start_job(page: Page) -> str:
    """Start a job from the list of jobs; its key."""
    page.goto(page.url.split("#")[0] + "#/jobs")
    page.get_by_role("button", name="Start a job").tap()
    expect(field(page, "Height")).to_be_visible()
    return page.url.split("/")[-2]


def survey_wall(page: Page) -> None:
    """Key in the wall of WALL, 16 in studs."""
    for label, keys in WALL.items():
        keyed(page, label, keys)
    page.locator("label.field", has_text="Stud spacing").locator("select").select_option("16 in")
    expect(page.locator(".figure .answer")).to_contain_text("boards")


def tab(page: Page, name: str) -> None:
    """Go to a screen by its tab."""
    page.locator("nav.tabs a", has_text=name).tap()


def settled(page: Page) -> None:
    """Wait until the plan is searched to the end, and take what is better then."""
    expect(page.locator("body")).to_have_attribute("data-plan", "whole", timeout=LONG)
    better = page.get_by_role("button", name="Use the better plan")
    if better.count():
        better.first.tap()
    expect(better).to_have_count(0)


def cut_list(page: Page) -> str:
    """The whole cut list as the page shows it."""
    tab(page, "Saw")
    whole = page.get_by_role("button", name="Whole list")
    if whole.get_attribute("aria-pressed") == "false":
        whole.tap()
    expect(whole).to_have_attribute("aria-pressed", "true")
    settled(page)
    return "\n".join(page.locator(".board").all_inner_texts())
