"""The keypad made for tapes, in a real browser: reach, few taps, no slips, nothing lost."""

import pytest
from playwright.sync_api import expect

from tests.browser.hands import field, key, open_page, start_job, survey_wall, tab
from tests.browser.measure import controls, too_near, too_small

RUN = "Run, corner to corner"


@pytest.fixture
def pad(phone, live):
    """The keypad open over Remaining run, in inches."""
    page = open_page(phone.new_page(), live.address, "#/quick/remaining-run")
    field(page, RUN).tap()
    expect(page.locator(".sheet")).to_be_visible()
    return page


def entry(page):
    """What is keyed; "" where only the hint stands there."""
    shown = page.locator(".sheet .entry")
    return "" if shown.locator("i").count() else shown.inner_text()


def boxes(page, *keys):
    return [page.locator(f'.sheet [data-key="{k}"]').bounding_box() for k in keys]


@pytest.mark.parametrize("size", [(360, 640), (360, 560), (320, 568), (640, 360)])
def test_entry_and_answer_stay_whole_above_the_keys(pad, size):
    pad.set_viewport_size({"width": size[0], "height": size[1]})
    key(pad, "1", "0", "ft", "1", "1", "3/4", "+1/16", "light")
    expect(pad.locator(".sheet .answer")).to_have_text('131-1/2"')
    for part in (".entry", ".answer", ".seen em"):
        ratio = pad.locator(f".sheet {part}").evaluate(
            "el => new Promise(done => new IntersectionObserver(([e]) =>"
            " done(e.intersectionRatio)).observe(el))"
        )
        assert ratio >= 0.99, part
    low = pad.locator(".sheet .seen em").bounding_box()
    keys = pad.locator(".keys").bounding_box()
    assert low["y"] + low["height"] <= keys["y"] + 1 or size == (640, 360)
    found = controls(pad)
    assert too_small(found) == []
    assert too_near(found) == []
    # The last row of keys stands at least 16 px above the bottom edge.
    assert max(k["y"] + k["height"] for k in boxes(pad, "0", "ok")) <= size[1] - 15.5


@pytest.mark.parametrize(("width", "least"), [(360, 80), (320, 70)])
def test_digits_are_wide_enough_for_a_thumb(pad, width, least):
    pad.set_viewport_size({"width": width, "height": 640})
    for box in boxes(pad, *"0123456789"):
        assert box["width"] >= least - 0.5
        assert box["height"] >= 56


@pytest.mark.parametrize("size", [(360, 640), (640, 360)])
def test_digits_stand_in_the_order_of_a_keypad(pad, size):
    """789 / 456 / 123 / 0 (MIL-STD-1472: three by three and one)."""
    pad.set_viewport_size({"width": size[0], "height": size[1]})
    found = [
        (round(b["y"]), round(b["x"]), d)
        for b, d in zip(boxes(pad, *"0123456789"), "0123456789", strict=True)
    ]
    assert "".join(d for _, _, d in sorted(found)) == "7894561230"


# Taps with OK, and what they make: the most that a reading may take.
TAPS = [
    (["7", "5", "3/4", "heavy"], '75-3/4" heavy', 5),
    (["7", "5", "3/4", "+1/16", "heavy"], '75-13/16" heavy', 6),
    (["9", "9", "+1/16", "light"], '99-1/16" light', 6),
    (["1", "0", "5", "7/8", "+1/16", "light"], '105-15/16" light', 7),
    (["1", "0", "ft", "1", "1", "3/4", "+1/16", "light"], "10' 11-13/16\" light", 9),
    (["3/4"], '3/4"', 6),
    (["6", "ft"], "6'", 6),
]


@pytest.mark.parametrize(("keys", "text", "most"), TAPS)
def test_few_taps_make_a_reading(pad, keys, text, most):
    key(pad, *keys)
    assert entry(pad) == text
    assert len(keys) + 1 <= most


def test_four_digits_of_millimetres_take_five_taps(pad):
    key(pad, "deck", "1", "9", "2", "5")
    assert entry(pad) == "1925 mm"
    key(pad, "heavy")
    assert entry(pad) == "1925 mm heavy"


def test_every_sixteenth_can_be_keyed_in_one_or_two_taps(pad):
    for n in range(1, 16):
        eighths = ["1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"]
        keys = ([eighths[n // 2 - 1]] if n > 1 else []) + (["+1/16"] if n % 2 else [])
        key(pad, *keys)
        top, bottom = entry(pad).rstrip('"').split("/")
        assert int(top) * 16 == n * int(bottom)
        key(pad, *["back"] * len(keys))


def touch(page):
    """Raw touches, with the time stamps we say."""
    session = page.context.new_cdp_session(page)

    def send(kind, at, points):
        session.send(
            "Input.dispatchTouchEvent",
            {
                "type": kind,
                "timestamp": at,
                "touchPoints": [{"x": x, "y": y, "id": i} for i, x, y in points],
            },
        )

    return send


def centre(page, k):
    b = page.locator(f'.sheet [data-key="{k}"]').bounding_box()
    return b["x"] + b["width"] / 2, b["y"] + b["height"] / 2


def test_sliding_off_a_key_types_nothing(pad):
    send = touch(pad)
    x, y = centre(pad, "7")
    send("touchStart", 1000.0, [(0, x, y)])
    send("touchMove", 1000.1, [(0, x + 90, y)])
    send("touchEnd", 1000.2, [])
    assert entry(pad) == ""
    x, y = centre(pad, "4")
    send("touchStart", 1001.0, [(0, x, y)])
    send("touchEnd", 1001.1, [])
    assert entry(pad) == '4"'


def test_a_second_finger_at_the_same_time_is_ignored(pad):
    send = touch(pad)
    seven, nine = centre(pad, "7"), centre(pad, "9")
    send("touchStart", 1000.0, [(0, *seven)])
    send("touchStart", 1000.05, [(0, *seven), (1, *nine)])
    send("touchEnd", 1000.1, [(0, *seven)])
    send("touchEnd", 1000.15, [])
    assert entry(pad) == '7"'


# Two touches of one key, `gap` ms apart to the millisecond, however busy the machine is.
TWICE = """([key, gap]) => {
  const el = document.querySelector(`.sheet [data-key="${key}"]`);
  const b = el.getBoundingClientRect();
  const at = {pointerId: 1, bubbles: true, clientX: b.x + b.width / 2, clientY: b.y + b.height / 2};
  const touch = () => {
    el.dispatchEvent(new PointerEvent('pointerdown', at));
    el.dispatchEvent(new PointerEvent('pointerup', at));
  };
  const start = performance.now();
  touch();
  while (performance.now() - start < gap);
  touch();
}"""


@pytest.mark.parametrize(("gap", "typed"), [(90, "77"), (40, "7"), (20, "7")])
def test_a_bounce_types_once_and_a_quick_thumb_twice(pad, gap, typed):
    pad.evaluate(TWICE, ["7", gap])
    expect(pad.locator(".sheet .entry")).to_have_text(f'{typed}"')


def test_fast_taps_do_not_zoom_the_page(pad):
    send = touch(pad)
    for n in range(10):
        x, y = centre(pad, str(n % 5))
        send("touchStart", 1000.0 + n * 0.1, [(0, x, y)])
        send("touchEnd", 1000.03 + n * 0.1, [])
    assert pad.evaluate("visualViewport.scale") == 1
    assert entry(pad) == '012340"'  # six digits, the most a reading has


def test_a_pressed_key_changes_all_over(pad):
    send = touch(pad)
    seven = pad.locator('.sheet [data-key="7"]')
    before = seven.evaluate("el => getComputedStyle(el).backgroundColor")
    send("touchStart", 1000.0, [(0, *centre(pad, "7"))])
    expect(seven).not_to_have_css("background-color", before, timeout=100)
    send("touchEnd", 1000.1, [])
    expect(seven).to_have_css("background-color", before)


def test_no_native_keyboard_and_no_number_field(phone, live):
    page = open_page(phone.new_page(), live.address)
    start_job(page)
    assert page.locator("input[type=number]").count() == 0
    field(page, "Height").tap()
    assert page.locator(".sheet input, .sheet textarea, .sheet [contenteditable]").count() == 0


def test_hardware_keys_and_paste_work(pad):
    pad.keyboard.type("75 3/4+")
    assert entry(pad) == "75 3/4+"
    expect(pad.locator(".sheet .answer")).to_have_text('75-1/2"')
    pad.keyboard.press("Backspace")
    assert entry(pad) == "75 3/4"
    pad.evaluate(
        "text => { const data = new DataTransfer(); data.setData('text', text);"
        " window.dispatchEvent(new ClipboardEvent('paste', {clipboardData: data})); }",
        "6' 3-1/2\u2033 light",
    )
    assert entry(pad) == "6' 3-1/2\u2033 light"
    pad.keyboard.press("Enter")
    key(pad, "done")
    expect(field(pad, RUN)).to_contain_text('75-1/2" light (-1/32")')


def test_heavy_and_light_show_their_worth_and_say_it(pad):
    for name, worth in (("heavy", '+1/32"'), ("light", '−1/32"')):
        k = pad.locator(f'.sheet [data-key="{name}"]')
        assert worth in k.inner_text()
        assert "one thirty second of an inch" in k.get_attribute("aria-label")
        assert k.get_attribute("aria-pressed") == "false"
    key(pad, "5", "heavy")
    expect(pad.locator('.sheet [data-key="heavy"]')).to_have_attribute("aria-pressed", "true")
    key(pad, "deck")
    assert "+0.5 mm" in pad.locator('.sheet [data-key="heavy"]').inner_text()


def test_every_key_has_a_name_without_signs(pad):
    for k in pad.locator(".sheet [data-key]").all():
        name = k.get_attribute("aria-label") or k.inner_text()
        assert name and "/" not in name and "-" not in name and "⌫" not in name


def test_one_announcement_for_one_commit(pad):
    pad.evaluate(
        "window.heard = []; new MutationObserver(() => heard.push("
        "document.getElementById('live').textContent)).observe("
        "document.getElementById('live'), {childList: true, characterData: true, subtree: true})"
    )
    key(pad, "7", "5", "3/4", "heavy", "done")
    expect(pad.locator(".sheet")).to_have_count(0)
    heard = pad.evaluate("heard")
    assert len(heard) == 1
    assert "seventy five and one half inches" in heard[0] and "/" not in heard[0]


def test_what_is_keyed_while_ok_is_worked_out_is_not_lost(phone, live):
    page = open_page(phone.new_page(), live.address)
    start_job(page)
    field(page, "Height").tap()
    expect(page.locator(".sheet")).to_be_visible()
    page.evaluate(
        'keys => keys.forEach(k => document.querySelector(`.sheet [data-key="${k}"]`).click())',
        ["9", "6", "ok", "1", "6", "0", "done"],
    )
    expect(field(page, "Height at the right")).to_contain_text('160"')
    expect(field(page, "Height")).to_contain_text('96"')


def test_after_a_change_of_unit_nothing_stands_in_the_old_one(phone, live):
    page = open_page(phone.new_page(), live.address)
    start_job(page)
    survey_wall(page)
    page.locator("label.field", has_text="A bare number means").locator("select").select_option(
        "mm"
    )
    expect(field(page, "Height")).to_contain_text("2438.5 mm")  # 96 in is 2438.4 mm
    for name in ("Survey", "Layout", "Saw"):
        tab(page, name)
        expect(page.locator(".answer").first).to_be_visible()
        expect(page.locator(".search button")).to_have_count(0, timeout=60000)
        text = page.locator("main").evaluate(
            "el => { const copy = el.cloneNode(true); const live = el.querySelectorAll('select');"
            " copy.querySelectorAll('select').forEach((s, i) =>"
            " s.replaceWith(live[i].selectedOptions[0].text));"
            " return copy.textContent; }"
        )
        assert '"' not in text and " in)" not in text and "′" not in text, name
    tab(page, "Survey")
    page.locator("label.field", has_text="A bare number means").locator("select").select_option(
        "in"
    )
    expect(field(page, "Height")).to_contain_text('96"')
