"""The sheets on a phone and on a desk, in Chromium: usage sheet_test.py FOLDER ..., the
first that of make_sheets.py.
"""

import collections
import functools
import os
import pathlib
import re
import sys
import types
import unittest

import hostile
from browser import Browser
from make_sheets import EXAMPLES

FOLDER = pathlib.Path(sys.argv[1])
del sys.argv[1:]
PHONE, DESK = (360, 740), (1280, 900)
LEAST_TEXT, LEAST_SMALL, LEAST_IN_PICTURE = 16, 13.5, 11  # px; small: notes (judgement)
LEAST_TAP = 24  # px, WCAG 2.2, 2.5.8
FIGURES = "figure > svg"

# Every piece of text that shows, with its size as it comes out on the screen.
TEXTS = """
const out = [];
const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
for (let node; (node = walker.nextNode());) {
  const words = node.textContent.trim(), at = node.parentElement;
  if (!words || !at.checkVisibility({checkVisibilityCSS: true})) continue;
  const svg = at.closest('svg'), m = svg && at.getScreenCTM && at.getScreenCTM();
  if (svg && !m) continue;  // titles
  const size = parseFloat(getComputedStyle(at).fontSize);
  const scale = m ? Math.sqrt(Math.abs(m.a * m.d - m.b * m.c)) : 1;
  out.push([words.slice(0, 60), size * scale, svg ? 'picture' :
            at.closest('table, small, figcaption, .fine') ? 'small' : 'text']);
}
return out;"""

# What is wider than its place: whatever must be pushed sideways, and whatever is cut off.
TOO_WIDE = """
const out = [], root = document.scrollingElement;
if (root.scrollWidth > innerWidth_) out.push('page: ' + root.scrollWidth);
for (const e of document.body.querySelectorAll('*')) {
  if (e.closest('svg') || !e.checkVisibility()) continue;
  const b = e.getBoundingClientRect();
  if (b.right > innerWidth_ + 1 || b.left < -1) out.push(e.tagName + '.' + e.className + ' ' +
      Math.round(b.left) + ' to ' + Math.round(b.right) + ': ' + e.textContent.slice(0, 40));
  if (e.clientWidth && e.scrollWidth > e.clientWidth + 1 &&
      getComputedStyle(e).overflowX !== 'visible' && e.clientWidth > 2)
    out.push(e.tagName + '.' + e.className + ' hides or scrolls: ' + e.textContent.slice(0, 40));
}
return out;""".replace("innerWidth_", "arguments[0]")

# Words of a picture that reach beyond its frame.
CUT_OFF = """
const out = [];
for (const svg of document.querySelectorAll(arguments[0])) {
  const frame = svg.getBoundingClientRect();
  for (const t of svg.querySelectorAll('text')) {
    const b = t.getBoundingClientRect();
    if (b.left < frame.left - 1 || b.right > frame.right + 1 || b.top < frame.top - 1 ||
        b.bottom > frame.bottom + 1) out.push((svg.id || '?') + ': ' + t.textContent);
  }
}
return out;"""

TAPS = """
const out = [];
for (const e of document.querySelectorAll('input, summary, button, select')) {
  if (!e.checkVisibility()) continue;
  const boxes = [e, ...(e.labels || [])].map(x => x.getBoundingClientRect());
  out.push([Math.max(...boxes.map(b => b.height)), Math.max(...boxes.map(b => b.width)),
            (e.labels && e.labels[0] || e).textContent.slice(0, 40)]);
}
return out;"""

# Whatever could load, run or lead somewhere else.
BEYOND_TEXT = """
const out = [];
for (const e of document.querySelectorAll('*')) {
  if (['SCRIPT', 'LINK', 'IFRAME', 'OBJECT', 'EMBED', 'IMG', 'IMAGE', 'BASE', 'FORM', 'AUDIO',
       'VIDEO', 'FOREIGNOBJECT'].includes(e.tagName.toUpperCase())) out.push(e.outerHTML.slice(0, 80));
  for (const a of e.attributes) {
    const leads = ['href', 'src', 'xlink:href', 'action', 'srcdoc', 'data'].includes(a.name);
    if (a.name.startsWith('on') || (leads && !a.value.startsWith('#')) ||
        /url\\(/i.test(a.value) || /javascript:/i.test(a.value))
      out.push(e.tagName + ' ' + a.name + '=' + a.value.slice(0, 60));
  }
}
for (const s of document.querySelectorAll('style'))
  if (/url\\(|@import/i.test(s.textContent)) out.push('style loads');
return out;"""

# Elements by name; the labels of drawings apart, which move and wrap with the length of words.
TAGS = """
const labels = ['text', 'line', 'circle'];
return [...document.querySelectorAll('*')].map(e => e.tagName.toLowerCase())
    .filter(name => !labels.includes(name));"""


def setUpModule():
    global browser
    browser = Browser()


def tearDownModule():
    browser.quit()


def screened(text):
    return re.sub(r"\s+", " ", text)


@functools.lru_cache(maxsize=None)
def seen(name, phone):
    """All that the tests ask about a sheet, looked up in one visit."""
    width, height = PHONE if phone else DESK
    browser.window(width, height, phone)
    browser.open(FOLDER / f"{name}.a4.html")
    browser.picture(FOLDER / f"{name}.{'phone' if phone else 'desk'}.png")
    return types.SimpleNamespace(
        url=(FOLDER / f"{name}.a4.html").resolve().as_uri(), requests=browser.requests(),
        complaints=browser.complaints(), beyond=browser.js(BEYOND_TEXT),
        named=browser.js("return document.documentElement.lang && document.title"),
        too_wide=browser.js(TOO_WIDE, width), cut_off=browser.js(CUT_OFF, FIGURES),
        texts=browser.js(TEXTS), taps=browser.js(TAPS), aloud=browser.accessible(),
        figures=browser.js(f"return [...document.querySelectorAll('{FIGURES}')]"
                           ".filter(e => e.checkVisibility()).length"),
        sign=browser.js("return document.querySelectorAll('h1 .mark').length"),
        text=screened(browser.js("return document.body.innerText")))


class OnScreen(unittest.TestCase):
    """Each test goes through all sheets; a failure names its sheet."""

    def each(self, *phones):
        for name in EXAMPLES:
            for phone in phones:
                yield self.subTest(sheet=name, phone=phone), seen(name, phone), name

    def test_opens_from_a_file_in_silence(self):
        for sheet, page, _ in self.each(True, False):
            with sheet:
                self.assertEqual(page.requests, [page.url])
                self.assertEqual(page.complaints, [])
                self.assertEqual(page.beyond, [])
                self.assertTrue(page.named)

    def test_nothing_is_pushed_sideways_or_cut_off(self):
        for sheet, page, _ in self.each(True, False):
            with sheet:
                self.assertEqual(page.too_wide, [])
                self.assertEqual(page.cut_off, [])

    def test_reads_at_arms_length_on_a_phone(self):
        least = {"text": LEAST_TEXT, "small": LEAST_SMALL, "picture": LEAST_IN_PICTURE}
        for sheet, page, _ in self.each(True):
            with sheet:
                self.assertGreater(sum(kind == "picture" for _, _, kind in page.texts), 10)
                self.assertGreater(sum(kind == "text" for _, _, kind in page.texts), 20)
                self.assertEqual([t for t in page.texts if t[1] < least[t[2]] - 0.05], [])

    def test_boxes_take_a_thumb(self):
        for sheet, page, _ in self.each(True):
            with sheet:
                self.assertTrue(page.taps)
                self.assertEqual([t for t in page.taps if min(t[:2]) < LEAST_TAP], [])

    def test_every_figure_is_read_aloud(self):
        for sheet, page, _ in self.each(False):
            with sheet:
                images = [n for role, n, _ in page.aloud if role in ("image", "img")]
                self.assertGreater(page.figures, 3)
                self.assertEqual(len(images), page.figures)
                self.assertEqual([n for n in images if len(n) < 8], [])

    def test_headings_and_boxes_are_read_aloud(self):
        for sheet, page, _ in self.each(False):
            with sheet:
                levels = [level for role, _, level in page.aloud if role == "heading"]
                self.assertEqual(levels[0], 1)
                self.assertEqual(levels.count(1), 1)
                self.assertEqual([p for p in zip(levels, levels[1:]) if p[1] > p[0] + 1], [])
                boxes = [n for role, n, _ in page.aloud if role == "checkbox"]
                self.assertTrue(boxes)
                self.assertEqual(boxes.count(""), 0)

    def test_says_first_what_the_terminal_says(self):
        for sheet, page, name in self.each(True):
            with sheet:
                terminal = screened((FOLDER / f"{name}.txt").read_text(encoding="utf-8"))
                verdict = re.search(r"\[.\] (HOLDS IF|HOLDS|DOES NOT HOLD|NO VERDICT)\b", terminal)
                verdict = verdict.group(1)
                head = [n for role, n, _ in page.aloud if role == "heading"][0]
                self.assertEqual(head.strip(), verdict)
                self.assertEqual(page.sign, 1, "no symbol beside the verdict")
                setting = re.search(
                    r"Setting (?:change it first;|[^;])*?not above ([\d.]+ (?:lbf|N))", terminal)
                self.assertEqual("change it first;" in terminal, "Change it first" in page.text)
                if setting and verdict != "NO VERDICT":
                    self.assertRegex(page.text, r"not above " + re.escape(setting.group(1)) + r"\b")
                else:
                    self.assertNotRegex(page.text, r"(Brake|Drag|Pull) not above [\d.]")

    def test_defers_and_promises_nothing(self):
        for sheet, page, _ in self.each(True):
            with sheet:
                self.assertGreaterEqual(page.text.count("Have a marine professional"), 2)
                self.assertIn("a calculation is not an inspection", page.text)
                self.assertNotRegex(page.text, r"(?i)\bsafe\b|\bapproved\b|certified|guarantee")


class Hostile(unittest.TestCase):
    def open(self, kind, name, what):
        browser.open(FOLDER / f"{kind}-{name}{what}.html")
        return collections.Counter(browser.js(TAGS))

    def test_words_of_the_owner_stay_words(self):
        browser.window(*PHONE, True)
        for name in hostile.PLACES:
            for what in ("", ".holes"):
                with self.subTest(setup=name, page=what):
                    plain = self.open("plain", name, what)
                    bad = self.open("hostile", name, what)
                    self.assertEqual(bad, plain)
                    self.assertIsNone(browser.js("return window.hit === undefined ? null : 1"))
                    self.assertEqual(browser.js(BEYOND_TEXT), [])
                    self.assertEqual(browser.complaints(), [])
                    self.assertEqual(len(browser.requests()), 1)

    def test_words_of_the_owner_are_shown(self):
        shown = {"reservoir-jon-boat": ["<script>window.hit=1</script>WWW", "\"><img src=x"],
                 "fjord-skiff": ["]]></style></svg>", "WWWWW"],
                 "highland-dinghy": ["&lt;b&gt; &#60;i&#62; &amp;"]}
        for name, words in shown.items():
            with self.subTest(setup=name):
                browser.open(FOLDER / f"hostile-{name}.html")
                text = browser.js("return document.documentElement.textContent")
                for word in words:
                    self.assertIn(word, text)
                self.assertNotRegex(text, "[\u202a-\u202e\u2066-\u2069]")

    def test_the_longest_words_fit_a_phone(self):
        browser.window(*PHONE, True)
        for name in hostile.PLACES:
            with self.subTest(setup=name):
                browser.open(FOLDER / f"hostile-{name}.html")
                browser.picture(FOLDER / f"hostile-{name}.phone.png")
                self.assertEqual(browser.js(TOO_WIDE, PHONE[0]), [])
                self.assertEqual(browser.js(CUT_OFF, FIGURES), [])
                plain = os.path.getsize(FOLDER / f"plain-{name}.html")
                self.assertLess(os.path.getsize(FOLDER / f"hostile-{name}.html"), plain + 20_000)


if __name__ == "__main__":
    unittest.main(verbosity=2)
