"""The page's engine: ready, cancelled, broken; nothing hidden.

The worker is the real one; where a break is wanted, the calc that it
loads is another.
"""

import pytest
from playwright.sync_api import expect

from server.compiled import in_two
from tests.browser.hands import field, open_page

START = """async () => {
  const { createEngine } = await import('/engine.js');
  window.states = [];
  window.engine = createEngine({ onState: (s) => window.states.push(s) });
}"""
CALL = "(request) => window.engine.call(request)"
FAILED = """(request) => window.engine.call(request).then(
  () => { throw new Error('it was answered'); }, (e) => [e.name, e.message])"""
READ = {"do": "read", "text": "75 3/4", "unit": "in", "show": "mm"}


@pytest.fixture
def page(live, phone):
    page = phone.new_page()
    page.goto(live.address + "/version.json")
    return page


def bundle(phone, folder, bridge):
    """Let the worker load a calc whose bridge is this source, all of it for quick answers."""
    bridge = "def of_job(verb):\n    return False\n" + bridge
    sources = {"calc/__init__.py": "", "calc/bridge.py": bridge}
    for name, source in sources.items():
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text(source)
    body, _, _ = in_two({name: folder / name for name in sources})
    phone.route(
        "**/quick.bin*", lambda r: r.fulfill(body=body, content_type="application/octet-stream")
    )


def test_calls_made_before_it_is_ready_are_answered(page):
    page.evaluate(START)
    assert page.evaluate("window.engine.state") == {"ready": False, "message": ""}
    answers = page.evaluate(f"(r) => Promise.all([1, 2, 3].map(() => ({CALL})(r)))", READ)
    # 75.75 in = 1924.05 mm exactly; to the nearest 0.5 mm 1924: arithmetic.
    assert [a["text"] for a in answers] == ["1924 mm"] * 3
    assert page.evaluate("window.states") == [{"ready": True, "message": ""}]


def test_answers_go_on_with_the_server_killed(page, live):
    page.evaluate(START)
    page.evaluate(CALL, READ)
    live.kill()
    assert page.evaluate(CALL, READ)["text"] == "1924 mm"


def test_cancel_ends_what_runs_and_starts_again(phone, page, tmp_path):
    bundle(
        phone,
        tmp_path,
        "def call(request):\n    while 'slow' in request:\n        pass\n    return '{}'\n",
    )
    page.evaluate(START)
    page.evaluate(CALL, {"do": "quick"})
    slow = page.evaluate(
        f"""async () => {{
          const slow = ({FAILED})({{ do: 'slow' }});
          const after = new Promise((r) => setTimeout(r, 200)).then(() => {{
            window.engine.cancel();
            return window.engine.call({{ do: 'quick' }});
          }});
          return [await slow, await after];
        }}"""
    )
    assert slow == [["Cancelled", "Cancelled: the calculation was stopped before it was done."], {}]
    assert page.evaluate("window.states.map((s) => s.ready)") == [True, False, True]


def test_a_fault_in_calc_is_told_and_the_engine_goes_on(phone, page, tmp_path):
    bundle(
        phone,
        tmp_path,
        "def call(request):\n"
        "    if 'bad' in request:\n"
        "        raise KeyError('face')\n"
        "    return '{}'\n",
    )
    page.evaluate(START)
    name, message = page.evaluate(FAILED, {"do": "bad"})
    assert name == "EngineError"
    assert message.startswith("This could not be calculated: a fault in the program.")
    assert "KeyError: face" in message
    assert page.evaluate(CALL, {"do": "good"}) == {}


@pytest.mark.parametrize(
    ("file", "status", "says"),
    [("quick.bin", 404, "quick.bin answered 404"), ("vendor/micropython.mjs", 404, "micropython")],
)
def test_a_missing_file_is_told_in_plain_words(phone, page, file, status, says):
    phone.route(f"**/{file}*", lambda r: r.fulfill(status=status, body="gone"))
    page.evaluate(START)
    name, message = page.evaluate(FAILED, READ)
    assert name == "EngineError"
    assert message.startswith("The calculator on this phone stopped (")
    assert message.endswith("). Nothing that was keyed in is lost.")
    assert says in message
    assert page.evaluate("window.states") == [{"ready": False, "message": message}]
    # A later call is refused at once, with the same words.
    assert page.evaluate(FAILED, READ) == [name, message]


def test_calc_that_does_not_load_is_told(phone, page, tmp_path):
    bundle(phone, tmp_path, "import nowhere\n")
    page.evaluate(START)
    assert "no module named 'nowhere'" in page.evaluate(FAILED, READ)[1]


CHECK = {"do": "check", "job": {}}
LOST = (
    "What a job needs could not be loaded ({}). Quick goes on, and nothing that was keyed in is "
    "lost."
)


def test_what_a_job_needs_is_fetched_when_a_job_asks(page):
    """And quick answers do not wait for it, nor does it stop them."""
    asked = []
    page.route("**/job.bin*", lambda route: asked.append(route))  # held back
    page.evaluate(START)
    page.evaluate(CALL, READ)
    assert asked == []
    with page.expect_request("**/job.bin*"):
        page.evaluate("(r) => { window.checked = window.engine.call(r); }", CHECK)
    assert page.evaluate(CALL, READ)["text"] == "1924 mm"
    assert len(asked) == 1
    asked[0].continue_()
    assert page.evaluate("window.checked.then((a) => a.problems.length > 0)")
    assert page.evaluate(CALL, CHECK)["problems"]
    assert len(asked) == 1


def test_it_is_fetched_once_where_the_page_says_so_ahead(page):
    asked = []
    page.on("request", lambda r: asked.append(r.url) if "job.bin" in r.url else None)
    page.evaluate(START)
    with page.expect_response("**/job.bin*"):
        page.evaluate("window.engine.ahead()")
    assert page.evaluate(CALL, CHECK)["problems"]
    assert len(asked) == 1


def test_what_a_job_needs_that_can_not_be_had_is_told_and_had_again(phone, page):
    phone.route("**/job.bin*", lambda r: r.fulfill(status=500, body="no"))
    page.evaluate(START)
    said = LOST.format("job.bin answered 500")
    assert page.evaluate(FAILED, CHECK) == ["EngineError", said]
    assert page.evaluate("window.engine.state") == {"ready": True, "message": said}
    assert page.evaluate(CALL, READ)["text"] == "1924 mm"
    phone.unroute("**/job.bin*")
    assert page.evaluate(CALL, CHECK)["problems"]
    assert page.evaluate("window.engine.state") == {"ready": True, "message": ""}


def test_two_halves_of_different_calcs_are_not_mixed(phone, page, tmp_path):
    source = tmp_path / "other.py"
    source.write_text("x = 1\n")
    _, other, _ = in_two({"calc/other.py": source})
    phone.route("**/job.bin*", lambda r: r.fulfill(body=other))
    page.evaluate(START)
    said = LOST.format("job.bin is of another version than the page; reload the page")
    assert page.evaluate(FAILED, CHECK) == ["EngineError", said]


def test_a_page_without_what_a_job_needs_says_so_and_starts_again(phone, live):
    phone.route("**/job.bin*", lambda route: route.abort())
    page = open_page(phone.new_page(), live.address, "#/jobs")
    page.get_by_role("button", name="Start a job").tap()
    notice = page.locator(".notice")
    expect(notice).to_have_count(1)
    expect(notice.locator("p")).to_have_text(LOST.format("job.bin did not arrive"))
    phone.unroute("**/job.bin*")
    page.get_by_role("button", name="Start it again").tap()
    expect(notice).to_have_count(0)
    page.get_by_role("button", name="Start a job").tap()
    expect(field(page, "Height")).to_be_visible()
    expect(notice).to_have_count(0)
