"""Hole templates as Chromium prints them, measured in the PDF: usage template_test.py FOLDER ...,
the first that of make_sheets.py. On both papers, to 0.2 mm.
"""

import functools
import itertools
import math
import pathlib
import subprocess
import sys
import unittest

from browser import Browser
from make_sheets import EXAMPLES, PAPERS
from pdf_paths import MM, Pdf

FOLDER = pathlib.Path(sys.argv[1])
del sys.argv[1:]
ACCURACY = 0.2  # mm
INCH = 25.4
SIZES = {"a4": (210, 297), "letter": (8.5 * INCH, 11 * INCH)}  # ISO 216, ANSI Y14.1
LEAST_MARGIN = 5  # mm that a printer may leave blank (common practice, no source)

# Distances between holes as the setup files have them, by hand: mount, words of the pattern's
# name, numbers of two holes, mm.
BY_HAND = [
    ("reservoir-jon-boat", "wall", 1, 2, 2.25 * INCH),
    ("reservoir-jon-boat", "wall", 2, 3, 1.125 * INCH),
    ("reservoir-jon-boat", "wall", 1, 3, math.hypot(2.25, 1.125) * INCH),
]

# The pages in their order: name, check bars, holes with their places in the drawing (mm), register
# marks with their places on the paper of this page and in the whole pattern.
PAGES = """
return [...document.querySelectorAll('.page')].map(page => {
  const circle = c => [Number(c.dataset.number), c.cx.baseVal.value, c.cy.baseVal.value,
                       2 * c.r.baseVal.value];
  const all = q => [...page.querySelectorAll(q)];
  return {name: page.querySelector('h2').textContent,
          bars: all('.check-bar').map(b => Number(b.dataset.mm)),
          holes: all('.hole, .mark-only').map(circle),
          marks: all('.register-mark').map(g => {
            const c = g.querySelector('circle');
            return [g.dataset.mark, c.cx.baseVal.value, c.cy.baseVal.value,
                    Number(g.dataset.x), Number(g.dataset.y)];
          })};
});"""


def setUpModule():
    global browser
    browser = Browser()


def tearDownModule():
    browser.quit()


@functools.lru_cache(maxsize=None)
def printed(name, paper):
    """[(what the page says of itself, what is drawn on it)]."""
    stem = FOLDER / f"{name}.{paper}.holes"
    browser.open(f"{stem}.html")
    told = browser.js(PAGES)
    drawn = Pdf(browser.pdf(f"{stem}.pdf")).pages()
    return list(zip(told, drawn)) if len(told) == len(drawn) else (len(told), len(drawn))


def boxes(page):
    """(left, top, right, bottom) of every filled path, mm."""
    shown = [p.shown for p in page.paths if p.drawn != "stroke"]
    return [[v / MM for v in box] for box in shown if box]


def bars(page):
    """Lengths of the bars, 3 mm wide, level and upright."""
    level, upright = [], []
    for x0, y0, x1, y1 in boxes(page):
        if abs(y1 - y0 - 3) < ACCURACY and x1 - x0 > 90:
            level.append(x1 - x0)
        if abs(x1 - x0 - 3) < ACCURACY and y1 - y0 > 40:
            upright.append(y1 - y0)
    return sorted(level), upright


def circles(page):
    return [tuple(v / MM for v in c) for c in page.circles()]


def laid_on(points, found):
    """Where the drawing of `points` (x, y, diameter) lies so that each has a circle: the shift and
    the circles; nothing where it fits nowhere. Only shifted: neither turned nor stretched."""
    for x, y, _ in found:
        shift = x - points[0][0], y - points[0][1]
        met = []
        for px, py, d in points:
            near = [c for c in found
                    if math.dist(c[:2], (px + shift[0], py + shift[1])) < ACCURACY
                    and abs(c[2] - d) < ACCURACY]
            if not near:
                break
            met.append(min(near, key=lambda c: math.dist(c[:2], (px + shift[0], py + shift[1]))))
        else:
            return shift, met
    return None


class Template(unittest.TestCase):
    def each(self):
        for name in EXAMPLES:
            for paper in PAPERS:
                yield self.subTest(template=name, paper=paper), name, paper

    def test_every_page_is_a_sheet_of_its_paper_with_margins(self):
        for which, name, paper in self.each():
            with which:
                pages = printed(name, paper)
                self.assertIsInstance(pages, list, "pages told and pages printed")
                for told, page in pages:
                    width, height = SIZES[paper]
                    self.assertAlmostEqual(page.width / MM, width, delta=0.3)
                    self.assertAlmostEqual(page.height / MM, height, delta=0.3)
                    for x0, y0, x1, y1 in boxes(page):
                        if x1 - x0 < width - 1:  # not the paper itself
                            self.assertGreater(min(x0, y0, width - x1, height - y1), LEAST_MARGIN)

    def test_bars_are_as_long_as_they_say(self):
        for which, name, paper in self.each():
            with which:
                for told, page in printed(name, paper):
                    self.assertEqual(sorted(told["bars"]), [50, 100, 101.6])
                    level, upright = bars(page)
                    self.assertEqual((len(level), len(upright)), (2, 1), told["name"])
                    self.assertAlmostEqual(level[0], 100, delta=ACCURACY)
                    self.assertAlmostEqual(level[1], 4 * INCH, delta=ACCURACY)
                    self.assertAlmostEqual(upright[0], 50, delta=ACCURACY)

    def test_holes_lie_where_the_drawing_has_them(self):
        for which, name, paper in self.each():
            with which:
                for told, page in printed(name, paper):
                    if told["holes"]:
                        points = [h[1:] for h in told["holes"]]
                        self.assertIsNotNone(laid_on(points, circles(page)), told["name"])

    def test_holes_lie_as_far_apart_as_the_file_says(self):
        for mount, pattern, one, other, distance in BY_HAND:
            for paper in PAPERS:
                with self.subTest(template=mount, pattern=pattern, paper=paper):
                    met = 0
                    for told, page in printed(mount, paper):
                        numbers = [h[0] for h in told["holes"]]
                        if pattern not in told["name"] or not {one, other} <= set(numbers):
                            continue
                        _, found = laid_on([h[1:] for h in told["holes"]], circles(page))
                        a, b = found[numbers.index(one)], found[numbers.index(other)]
                        self.assertAlmostEqual(math.dist(a[:2], b[:2]), distance, delta=ACCURACY)
                        met += 1
                    self.assertGreater(met, 0)

    def test_both_papers_have_the_same_holes(self):
        for name in EXAMPLES:
            with self.subTest(template=name):
                a4, letter = (printed(name, paper) for paper in PAPERS)
                self.assertEqual([t["name"] for t, _ in a4], [t["name"] for t, _ in letter])
                for (told, page), (_, other) in zip(a4, letter):
                    if not told["holes"]:
                        continue
                    points = [h[1:] for h in told["holes"]]
                    here, there = (laid_on(points, circles(p))[1] for p in (page, other))
                    for (a, b), (c, d) in itertools.combinations(zip(here, there), 2):
                        self.assertAlmostEqual(math.dist(a[:2], c[:2]), math.dist(b[:2], d[:2]),
                                               delta=0.05)

    def test_tiles_meet_at_their_register_marks(self):
        """A mark lies on two pages or more, and there the pattern is the same: whatever is measured
        from it on one page is found from it on the other."""
        tiled = 0
        for which, name, paper in self.each():
            with which:
                places = {}  # mark: [shift from the whole pattern to the paper, page]
                for number, (told, page) in enumerate(printed(name, paper), 1):
                    if not told["marks"]:
                        continue
                    found = laid_on([(x, y, 5) for _, x, y, _, _ in told["marks"]], circles(page))
                    self.assertIsNotNone(found, told["name"])
                    pattern = told["name"].split(":")[0]
                    for (mark, _, _, x, y), c in zip(told["marks"], found[1]):
                        places.setdefault((pattern, mark), []).append((c[0] - x, c[1] - y, number))
                for mark, seen in places.items():
                    tiled += 1
                    self.assertGreaterEqual(len(seen), 2, mark)
                # Of one page all marks agree on how the pattern lies: no tile is stretched.
                by_page = {}
                for seen in places.values():
                    for dx, dy, number in seen:
                        by_page.setdefault(number, []).append((dx, dy))
                for page, shifts in by_page.items():
                    for shift in shifts:
                        self.assertLess(math.dist(shift, shifts[0]), ACCURACY, f"page {page}")
        self.assertGreater(tiled, 0, "no example is larger than a page")

    def test_words_can_be_searched(self):
        for which, name, paper in self.each():
            with which:
                printed(name, paper)
                text = subprocess.run(["pdftotext", str(FOLDER / f"{name}.{paper}.holes.pdf"), "-"],
                                      capture_output=True, text=True, check=True).stdout
                for words in ("100 mm", "4 in", "50 mm", "look behind", "marine professional"):
                    self.assertIn(words, " ".join(text.split()))


if __name__ == "__main__":
    unittest.main(verbosity=2)
