"""The sheets on paper, printed by Chromium: usage print_test.py FOLDER EXAMPLES, the first
that of make_sheets.py.
"""

import collections
import functools
import hashlib
import pathlib
import re
import subprocess
import sys
import unittest

from browser import Browser
from make_sheets import EXAMPLES, PAPERS
from pdf_paths import Pdf

FOLDER, EXAMPLES_FOLDER = map(pathlib.Path, sys.argv[1:3])
del sys.argv[1:]
SIZES = {"a4": (210 / 25.4 * 72, 297 / 25.4 * 72), "letter": (612, 792)}  # ISO 216, ANSI Y14.1
# Points. In pictures: where a long text leaves one less than its full size (judgement).
FULL_WIDTH = 90  # mm: a low picture that fills its column is at its full size
LEAST_IN_PICTURE, LEAST_TEXT, LEAST_NOTE = 5.5, 10, 8.5
LEAST_VIEW = 34  # mm high on the first page (judgement)

TICK = """
const boxes = [...document.querySelectorAll('input[type=checkbox]')]
    .filter(e => [...e.labels].some(l => /print.*cards/i.test(l.textContent)));
for (const e of boxes) e.click();
return boxes.length;"""

# Text outside pictures and tables with its size on paper, in points.
TEXTS = """
const out = [];
const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
for (let node; (node = walker.nextNode());) {
  const at = node.parentElement;
  if (!node.textContent.trim() || at.closest('svg, table, figcaption, .fine, .foot, .made, ' +
      '.inputs, .not-checked, .margins, .sign-line small') ||
      !at.checkVisibility({checkVisibilityCSS: true})) continue;
  out.push([node.textContent.trim().slice(0, 60),
            parseFloat(getComputedStyle(at).fontSize) * 0.75]);
}
return out;"""


# Pictures that show, by page: name, width and height in mm, ends of the page in mm.
PICTURES = """
return [...document.querySelectorAll('.page')].map(page =>
    [...page.querySelectorAll('figure > svg')].filter(e => e.checkVisibility()).map(e => {
  const b = e.getBoundingClientRect(), words = [...e.querySelectorAll('text')];
  const cut = words.filter(t => {
    const w = t.getBoundingClientRect();
    return w.left < b.left - 2 || w.right > b.right + 2;
  });
  return [e.id, b.width / 96 * 25.4, b.height / 96 * 25.4, cut.map(t => t.textContent)];
}));"""

CAUTIONS = """
return [...document.querySelectorAll('#cautions li, .one .deferral p')].map(e => e.textContent);"""


def setUpModule():
    global browser
    browser = Browser()


def tearDownModule():
    browser.quit()


def text_of(pdf, *pages):
    """In the order of the page: column after column."""
    words = ["pdftotext"]
    if pages:
        words += ["-f", str(pages[0]), "-l", str(pages[-1])]
    done = subprocess.run([*words, str(pdf), "-"], capture_output=True, text=True, check=True)
    return re.sub(r"\s+", " ", done.stdout)


@functools.lru_cache(maxsize=None)
def printed(name, paper):
    browser.open(FOLDER / f"{name}.{paper}.html")
    return browser.pdf(FOLDER / f"{name}.{paper}.pdf")


class OnPaper(unittest.TestCase):
    def each(self, *names):
        for name in names or EXAMPLES:
            for paper in PAPERS:
                yield self.subTest(sheet=name, paper=paper), name, paper

    def test_two_pages_of_the_paper_asked_for(self):
        for sheet, name, paper in self.each():
            with sheet:
                pages = Pdf(printed(name, paper)).pages()
                self.assertEqual(len(pages), 2)
                for page in pages:
                    # Chromium rounds to whole 1/96 in.
                    self.assertAlmostEqual(page.width, SIZES[paper][0], delta=0.8)
                    self.assertAlmostEqual(page.height, SIZES[paper][1], delta=0.8)
                    self.assertGreater(sum(n for _, n in page.letters), 500)
                    self.assertGreaterEqual(min(size for size, _ in page.letters),
                                            LEAST_IN_PICTURE - 0.05)

    def test_running_text_is_of_ten_points(self):
        browser.cdp("Emulation.setEmulatedMedia", media="print")
        self.addCleanup(browser.cdp, "Emulation.setEmulatedMedia", media="")
        for sheet, name, paper in self.each():
            with sheet:
                browser.open(FOLDER / f"{name}.{paper}.html")
                texts = browser.js(TEXTS)
                self.assertGreater(len(texts), 20)
                self.assertEqual([t for t in texts if t[1] < LEAST_TEXT - 0.05], [])
                # As the style sheet says: not made smaller to fit its paper.
                sizes = collections.Counter()
                for page in Pdf(printed(name, paper)).pages():
                    for size, letters in page.letters:
                        sizes[round(size, 1)] += letters
                self.assertGreaterEqual(max(sizes, key=sizes.get), LEAST_NOTE)

    def test_pictures_stand_on_both_pages(self):
        browser.cdp("Emulation.setEmulatedMedia", media="print")
        self.addCleanup(browser.cdp, "Emulation.setEmulatedMedia", media="")
        self.addCleanup(browser.cdp, "Emulation.clearDeviceMetricsOverride")
        for sheet, name, paper in self.each():
            with sheet:
                wide = round((SIZES[paper][0] / 72 - 17 / 25.4) * 96)  # as the margins leave
                browser.window(wide, 1000)
                browser.open(FOLDER / f"{name}.{paper}.html")
                first, second = browser.js(PICTURES)
                views = [p for p in first if p[0].startswith("view-")]
                self.assertEqual(len(views), 3)
                self.assertTrue(any(p[0].startswith("pull-ruler") for p in first))
                for _, width, height, cut in views:
                    self.assertGreaterEqual(height, LEAST_VIEW - 0.5)
                    self.assertGreater(width, 55)
                    self.assertEqual(cut, [])
                self.assertTrue(second)
                self.assertGreater(max(p[2] for p in second), 40)
                self.assertEqual([p for p in second if p[2] < 25 and p[1] < FULL_WIDTH], [])

    def test_every_caution_is_printed_whole_on_the_first_page(self):
        for sheet, name, paper in self.each():
            with sheet:
                pdf = printed(name, paper)
                first = re.sub(r"\W+", "", text_of(pdf, 1))
                browser.open(FOLDER / f"{name}.{paper}.html")
                cautions = browser.js(CAUTIONS)
                self.assertGreater(len(cautions), 12)
                self.assertEqual([c for c in cautions if re.sub(r"\W+", "", c) not in first], [])

    def test_the_first_page_says_what_matters(self):
        for sheet, name, paper in self.each():
            with sheet:
                first = text_of(printed(name, paper), 1)
                terminal = (FOLDER / f"{name}.txt").read_text(encoding="utf-8")
                verdict = re.search(r"^\[.\] (.+)$", terminal, re.MULTILINE).group(1)
                self.assertIn(verdict, first)
                self.assertIn("Have a marine professional", first)
                self.assertIn("never tie off", first.lower())

    def test_the_second_page_says_where_it_comes_from(self):
        for sheet, name, paper in self.each():
            with sheet:
                second = text_of(printed(name, paper), 2)
                self.assertIn(f"{name}.yaml", second)
                data = (EXAMPLES_FOLDER / f"{name}.yaml").read_bytes()
                self.assertIn(hashlib.sha1(data).hexdigest(), second.replace(" ", ""))
                self.assertIn("2026-11-27", second)
                self.assertIn("Sources", second)
                self.assertIn("Have a marine professional", second)

    def test_cards_are_printed_when_their_box_is_ticked(self):
        for sheet, name, paper in self.each("reservoir-jon-boat", "fjord-skiff"):
            with sheet:
                bare = text_of(printed(name, paper))
                browser.open(FOLDER / f"{name}.{paper}.html")
                self.assertEqual(browser.js(TICK), 1)
                cards = browser.pdf(FOLDER / f"{name}.{paper}.cards.pdf")
                self.assertGreater(len(Pdf(cards).pages()), 2)
                whole = text_of(cards)
                for sign in ("no power or impact driver", "Ends its use", "For the road"):
                    self.assertNotIn(sign, bare)
                    self.assertIn(sign, whole)


if __name__ == "__main__":
    unittest.main(verbosity=2)
