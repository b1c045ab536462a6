"""What is drawn on the pages of a PDF: closed and open paths and the sizes of letters, in points.

Reads what Chromium prints, from the file itself: objects, page tree, content streams with their
forms (ISO 32000-1, 7.3 to 8.10). No encryption, no object streams, no other filter than Flate:
those raise. Origin at the upper left corner of the page, y down, 72 points to the inch.
"""

import dataclasses
import math
import re
import zlib

MM = 72 / 25.4  # points


class Name(str):
    pass


class Word(str):
    """An operator or keyword."""


@dataclasses.dataclass(frozen=True)
class Reference:
    number: int


@dataclasses.dataclass
class Stream:
    words: dict
    data: bytes


TOKEN = re.compile(
    rb"[\0\t\n\f\r ]*(?:%[^\r\n]*[\0\t\n\f\r ]*)*"
    rb"(<<|>>|\[|\]|/[^\0\t\n\f\r ()<>\[\]{}/%]*|<[0-9A-Fa-f\s]*>|\(|[^\0\t\n\f\r ()<>\[\]{}/%]+)")


class Reader:
    """Values one after another."""

    def __init__(self, data, at=0):
        self.data, self.at = data, at

    def token(self):
        match = TOKEN.match(self.data, self.at)
        if not match:
            return None
        self.at = match.end()
        return match.group(1)

    def string(self):
        depth, start = 1, self.at
        while depth:
            byte = self.data[self.at:self.at + 1]
            if not byte:
                raise ValueError("a string without an end")
            self.at += 2 if byte == b"\\" else 1
            depth += {b"(": 1, b")": -1}.get(byte, 0)
        return self.data[start:self.at - 1]

    def value(self):
        word = self.token()
        if word is None or word in (b">>", b"]"):
            return Word(word.decode()) if word else None
        if word == b"<<":
            return self.dictionary()
        if word == b"[":
            return list(self.until("]"))
        if word == b"(":
            return self.string()
        if word.startswith(b"/"):
            return Name(word[1:].decode("latin-1"))
        if word.startswith(b"<"):
            return bytes.fromhex(word[1:-1].decode())
        try:
            number = float(word)
        except ValueError:
            return Word(word.decode("latin-1"))
        return self.reference(word, number)

    def reference(self, word, number):
        rest = re.compile(rb"\s+\d+\s+R\b").match(self.data, self.at)
        if not rest or not word.isdigit():
            return number
        self.at = rest.end()
        return Reference(int(number))

    def until(self, end):
        while True:
            value = self.value()
            if value is None:
                raise ValueError("no " + end)
            if isinstance(value, Word) and value == end:
                return
            yield value

    def dictionary(self):
        items = list(self.until(">>"))
        return dict(zip(items[::2], items[1::2]))


class Pdf:
    def __init__(self, path):
        with open(path, "rb") as file:
            self.data = file.read()
        self.objects = {}
        for match in re.finditer(rb"(?<!\d)(\d+) 0 obj\b", self.data):
            self.objects.setdefault(int(match.group(1)), match.end())

    def get(self, value):
        while isinstance(value, Reference):
            value = self.read(value.number)
        return value

    def read(self, number):
        reader = Reader(self.data, self.objects[number])
        value = reader.value()
        start = re.compile(rb"\s*stream\r?\n").match(self.data, reader.at)
        if not isinstance(value, dict) or not start:
            return value
        data = self.data[start.end():start.end() + int(self.get(value[Name("Length")]))]
        filters = self.get(value.get(Name("Filter"), []))
        for kind in filters if isinstance(filters, list) else [filters]:
            if kind != "FlateDecode":
                raise ValueError("no reader for " + kind)
            data = zlib.decompress(data)
        return Stream(value, data)

    def pages(self):
        trailer = self.data.rindex(b"trailer")
        top = Reader(self.data, trailer + len(b"trailer")).value()
        return [Page(self, p) for p in self.kids(self.get(self.get(top["Root"])["Pages"]), {})]

    def kids(self, node, inherited):
        inherited = {**inherited, **node}
        if node["Type"] == "Page":
            return [inherited]
        return [page for kid in self.get(node["Kids"]) for page in self.kids(self.get(kid), inherited)]


def times(m, n):
    """First m, then n."""
    a, b, c, d, e, f = m
    g, h, i, j, k, l = n
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j,
            e * g + f * i + k, e * h + f * j + l)


def put(m, x, y):
    return (m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5])


@dataclasses.dataclass
class Path:
    points: list  # corners and ends of curves, in their order
    curves: int
    closed: bool
    drawn: str  # "stroke", "fill", "both"
    clip: tuple = None  # (left, top, right, bottom) of what shows

    @property
    def box(self):
        xs, ys = [p[0] for p in self.points], [p[1] for p in self.points]
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def shown(self):
        """The part of the box that is not clipped away; nothing where that is all of it."""
        box, clip = self.box, self.clip
        low = [max(a, b) for a, b in zip(box[:2], clip[:2])]
        high = [min(a, b) for a, b in zip(box[2:], clip[2:])]
        return (*low, *high) if low[0] <= high[0] and low[1] <= high[1] else None

    def circle(self, accuracy=0.05):
        """(x, y, diameter) of a round path, else nothing."""
        if self.curves < 4 or self.curves < len(self.points) - 2:
            return None
        x0, y0, x1, y1 = self.box
        middle = (x0 + x1) / 2, (y0 + y1) / 2
        radius = (x1 - x0) / 2
        off = max(abs(math.dist(p, middle) - radius) for p in self.points)
        return (*middle, 2 * radius) if radius > 0 and off < accuracy else None

    def segments(self):
        return [] if self.curves else list(zip(self.points, self.points[1:]))


class Page:
    def __init__(self, pdf, words):
        self.pdf = pdf
        box = [float(v) for v in pdf.get(words["MediaBox"])]
        self.width, self.height = box[2] - box[0], box[3] - box[1]
        self.paths = []
        self.letters = []  # (size in points, how many bytes of text)
        contents = pdf.get(words["Contents"])
        parts = contents if isinstance(contents, list) else [contents]
        data = b"\n".join(pdf.get(part).data for part in parts)
        flip = (1, 0, 0, -1, -box[0], box[3])
        self.draw(data, pdf.get(words.get("Resources", {})), flip,
                  (0, 0, self.width, self.height))

    def draw(self, data, resources, ctm, clip):
        reader, stack, kept = Reader(data), [], []
        open_paths, font, text = [], 0, (1, 0, 0, 1, 0, 0)
        clips = False  # the path at hand is to clip what follows

        def start(x, y):
            open_paths.append(Path([put(ctm, x, y)], 0, False, ""))

        def finish(how, close=False):
            nonlocal clip, clips
            if clips:  # by its box: what Chromium clips by is a rectangle
                points = [p for path in open_paths for p in path.points]
                xs, ys = [p[0] for p in points], [p[1] for p in points]
                clip = (max(clip[0], min(xs)), max(clip[1], min(ys)),
                        min(clip[2], max(xs)), min(clip[3], max(ys)))
                clips = False
            for path in open_paths:
                path.clip = clip
                path.closed = path.closed or close
                if close and path.points[0] != path.points[-1]:
                    path.points.append(path.points[0])
                path.drawn = how
                if how and len(path.points) > 1:
                    self.paths.append(path)
            open_paths.clear()

        while (value := reader.value()) is not None:
            if not isinstance(value, Word):
                stack.append(value)
                continue
            if value == "q":
                kept.append((ctm, font, clip))
            elif value == "Q":
                ctm, font, clip = kept.pop()
            elif value == "cm":
                ctm = times(stack[-6:], ctm)
            elif value == "m":
                start(*stack[-2:])
            elif value == "l":
                open_paths[-1].points.append(put(ctm, *stack[-2:]))
            elif value in ("c", "v", "y"):
                open_paths[-1].points.append(put(ctm, *stack[-2:]))
                open_paths[-1].curves += 1
            elif value == "re":
                x, y, w, h = stack[-4:]
                corners = [(x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y)]
                open_paths.append(Path([put(ctm, *c) for c in corners], 0, True, ""))
            elif value == "h":
                path = open_paths[-1]
                path.closed = True
                if path.points[0] != path.points[-1]:
                    path.points.append(path.points[0])
            elif value in ("S", "s"):
                finish("stroke", value == "s")
            elif value in ("f", "F", "f*"):
                finish("fill")
            elif value in ("B", "B*", "b", "b*"):
                finish("both", value.startswith("b"))
            elif value in ("W", "W*"):
                clips = True
            elif value == "n":
                finish("")
            elif value == "Do":
                self.form(resources, stack[-1], ctm, clip)
            elif value == "BT":
                text = (1, 0, 0, 1, 0, 0)
            elif value == "Tf":
                font = stack[-1]
            elif value == "Tm":
                text = tuple(stack[-6:])
            elif value in ("Tj", "TJ"):
                m = times(text, ctm)
                size = font * math.sqrt(abs(m[0] * m[3] - m[1] * m[2]))
                parts = stack[-1] if value == "TJ" else stack[-1:]
                self.letters.append((size, sum(len(p) for p in parts if isinstance(p, bytes))))
            elif value == "BI":
                raise ValueError("no reader for pictures in a content stream")
            stack.clear()

    def form(self, resources, name, ctm, clip):
        form = self.pdf.get(self.pdf.get(resources["XObject"])[name])
        if form.words["Subtype"] != "Form":
            return
        matrix = [float(v) for v in self.pdf.get(form.words.get("Matrix", [1, 0, 0, 1, 0, 0]))]
        self.draw(form.data, self.pdf.get(form.words.get("Resources", resources)),
                  times(matrix, ctm), clip)

    def circles(self):
        return [c for c in (p.circle() for p in self.paths) if c]

    def lines(self):
        """Straight pieces, both ends."""
        return [s for p in self.paths for s in p.segments()]
