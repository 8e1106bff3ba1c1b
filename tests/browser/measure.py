"""What a thumb and an eye meet on a screen, read from the page's own boxes."""

from playwright.sync_api import Page

# Every visible, enabled control whose centre is on the screen: its box, its
# name, and whether a tap at its centre would reach it.
CONTROLS = """() => {
  const sheet = document.querySelector('.sheet');
  const root = sheet || document;
  const all = root.querySelectorAll('button, a[href], select, input, textarea, summary');
  const out = [];
  for (const el of all) {
    if (el.disabled || (el.readOnly && el.closest('.sheet'))) continue;
    scrollTo(0, 0); // all boxes from one place: what sticks may move by a part of a px
    const b = (el.closest('label') || el).getBoundingClientRect();
    const r = el.getBoundingClientRect();
    if (!r.width || !r.height || !el.checkVisibility()) continue;
    // What stays while the page scrolls has its place on the screen, the rest on the page.
    const fixed = Boolean(el.closest('.top, .tabs, .low'));
    const at = {x: b.x, y: b.y, w: b.width, h: b.height};
    el.scrollIntoView({block: 'center'});
    const v = el.getBoundingClientRect();
    const under = document.elementFromPoint(v.x + v.width / 2, v.y + v.height / 2);
    const name = el.getAttribute('aria-label') || el.textContent.trim().slice(0, 30) || el.tagName;
    out.push({...at, name,
      tw: r.width, th: r.height, key: el.dataset.key || '',
      fixed, reached: el === under || el.contains(under)});
  }
  scrollTo(0, 0);
  return out;
}"""

# Text lighter than 7:1 against what is painted behind it, by WCAG 2.2's formula.
FAINT = """() => {
  const parse = (c) => c.match(/[\\d.]+/g).map(Number);
  const lum = ([r, g, b]) => {
    const f = (v) => { v /= 255; return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; };
    return 0.2126 * f(r) + 0.7152 * f(g) + 0.0722 * f(b);
  };
  const behind = (el) => {
    for (let at = el; at; at = at.parentElement) {
      const c = parse(getComputedStyle(at).backgroundColor);
      if (c.length < 4 || c[3] === 1) return c;
    }
    return [255, 255, 255];
  };
  const out = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const el = walk.currentNode.parentElement;
    const words = walk.currentNode.textContent.trim();
    if (!words || !el.checkVisibility() || el.closest('.unseen, svg, script, noscript')) continue;
    const a = lum(parse(getComputedStyle(el).color)), b = lum(behind(el));
    const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    const size = parseFloat(getComputedStyle(el).fontSize);
    if (ratio < 7 || size < 15.99) out.push([words.slice(0, 40), ratio, size]);
  }
  return out;
}"""


def controls(page: Page) -> list[dict]:
    return page.evaluate(CONTROLS)


def too_small(found: list[dict], least: float = 56) -> list[str]:
    """Controls under `least` CSS px either way or out of a tap's reach."""
    return [
        f"{c['name']}: {c['tw']:.0f}x{c['th']:.0f}{'' if c['reached'] else ', covered'}"
        for c in found
        if c["tw"] < least - 0.5 or c["th"] < least - 0.5 or not c["reached"]
    ]


def too_near(found: list[dict], least: float = 8) -> list[str]:
    """Pairs of controls whose nearest edges are less than `least` px apart."""
    out = []
    for fixed in (True, False):
        group = [c for c in found if c["fixed"] == fixed]
        for i, a in enumerate(group):
            for b in group[i + 1 :]:
                dx = max(a["x"] - b["x"] - b["w"], b["x"] - a["x"] - a["w"])
                dy = max(a["y"] - b["y"] - b["h"], b["y"] - a["y"] - a["h"])
                if max(dx, dy) < least - 0.5:
                    out.append(f"{a['name']} and {b['name']}: {max(dx, dy):.1f}")
    return out


def sideways(page: Page) -> int:
    """How far the page itself scrolls sideways, px; 0 is right."""
    return page.evaluate("document.documentElement.scrollWidth - innerWidth")


def faint(page: Page) -> list:
    """Text under 7:1 or under 16 px: [text, ratio, size]."""
    return page.evaluate(FAINT)
