"""Without the laptop: what is keyed in is kept through restarts, and arrives, each change once."""

from playwright.sync_api import expect

from calc.shared.job_copy import write
from calc.shared.merge import merge
from tests.browser.conftest import FLAGS, SCREEN, serving
from tests.browser.hands import field, keyed, open_page, saved_here, start_job
from tests.browser.shared import (
    free_port,
    keep,
    lose_answer,
    on_laptop,
    on_phone,
    sent,
    taken,
    to_send,
    typed,
)
from tests.chromium import find

READINGS = {"Height": ["9", "6"], "Width": ["1", "6", "0"], "First stud mark": ["1", "6"]}


def started(chromium, folder):
    """The browser on that folder, as a phone starts it again."""
    return chromium.browser_type.launch_persistent_context(
        folder,
        executable_path=find(),
        args=FLAGS,
        viewport=SCREEN,
        has_touch=True,
    )


def test_fifty_changes_outlive_the_browser_and_a_lost_answer(chromium, tmp_path):
    port = free_port()
    logged = {"port": port, "arguments": ["--log"]}
    with serving(tmp_path / "data", **logged) as laptop:
        phone = started(chromium, tmp_path / "phone")
        page = open_page(phone.new_page(), laptop.address)
        saved_here(page)
        job = start_job(page)
        sent(page)
        laptop.kill()
        first = laptop.said()
    for label, keys in READINGS.items():
        keyed(page, label, keys)
    page.get_by_role("button", name="Add an opening").tap()
    keyed(page, "Left edge", ["2", "0"])
    typed(page, "Title", *[f"Title {n}" for n in range(30)])
    typed(page, "Start at the", "ceiling", "floor", "ceiling")
    typed(page, "Name", *[f"Name {n}" for n in range(12)])
    to_send(page, 50)
    link = page.url
    phone.close()

    phone = started(chromium, tmp_path / "phone")
    page = open_page(phone.new_page(), link.split("/p#")[0], "#" + link.split("#")[1])
    to_send(page, 50)
    expect(field(page, "Height")).to_contain_text('96"')
    here = on_phone(page, job)
    lost = lose_answer(page, "**/api/jobs/*/writes")
    with serving(tmp_path / "data", **logged) as laptop:
        sent(page)
        assert lost == [200]
        there = on_laptop(page, laptop.address, job)
        phone.close()
    writes = {f"{here['writer']}.{n}": 1 for n in range(1, 52)}  # the first began the job
    assert taken(first, laptop.said()) == writes
    assert there["job"] == here["doc"]
    assert there["job"]["title"] == "Title 29"
    window = {"id": f"{here['writer']}.5", "kind": "window", "left": '20"', "name": "Name 11"}
    assert there["job"]["walls"][0]["openings"] == [window]


def test_more_changes_than_one_request_takes_go_in_several(phone, live):
    """As after weeks without the laptop: the phone's own record, with what they leave."""
    page = open_page(phone.new_page(), live.address)
    job = start_job(page)
    sent(page)
    page.goto(live.address + "/version.json")
    record = on_phone(page, job)
    for number in range(2, 1102):
        record["doc"]["title"] = f"Title {number}"
        made = write(record["copy"], record["doc"], record["writer"], number)["copy"]
        record["copy"] = merge(record["copy"], made)
        record["outbox"].append({"number": number, "write": made})
    record.update(next=number, top=number, turn=number)
    keep(page, record)
    asked = []
    page.on("request", lambda r: r.url.endswith("/writes") and asked.append(r.post_data_json))
    page.goto(f"{live.address}/p#/job/{job}/survey")
    sent(page)
    assert sum(len(a["writes"]) for a in asked) == 1100
    assert max(len(a["writes"]) for a in asked) == 200
    assert on_laptop(page, live.address, job)["job"]["title"] == "Title 1101"
    assert on_phone(page, job)["outbox"] == []


DRAFT = {
    "format": "lapwright-job",
    "version": 1,
    "title": "From before",
    "unit": "in",
    "board": {"stock": [{}]},
    "rules": {},
    "walls": [{"height_left": '96"', "studs": {"first": '16"'}}],
}


def test_what_the_first_version_of_the_page_kept_opens_and_is_sent(phone, live):
    page = phone.new_page()
    page.goto(live.address + "/version.json")
    before = {**DRAFT, "walls": [{"studs": {"first": '16"'}}]}
    old = {"undo": [before], "rev": 0, "dirty": True, "sent": "", "refused": None, "conflict": None}
    keys = ["V" * 22, "W" * 22]
    for key in keys:
        keep(page, {"key": key, "made": 1_700_000_000_000, "doc": DRAFT, **old}, version=1)
    open_page(page, live.address, "#/jobs")
    # It need not be opened for that.
    expect(page.locator(".card.go p")).to_have_text(["Sent to the laptop"] * 2)
    for key in keys:
        there = on_laptop(page, live.address, key)["job"]
        assert there["title"] == "From before"
        assert there["walls"][0] == {"id": "1", "height_left": '96"', "studs": {"first": '16"'}}
    page.locator(".card.go").first.tap()
    expect(field(page, "Height")).to_contain_text('96"')
    keyed(page, "Width", ["1", "6", "0"])
    sent(page)
    there = on_laptop(page, live.address, page.url.split("/")[-2])["job"]
    assert there["walls"][0]["width_floor"] == '160"'
    expect(page.locator(".notice")).to_have_count(0)
