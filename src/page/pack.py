#!/usr/bin/env python3
"""One page of everything: pack.py SOURCES ENGINE OUTPUT

SOURCES holds shell.html, page.html, page.css and the scripts (*.js); ENGINE holds thole_engine.js,
thole_engine.wasm and unpack_lzma.wasm. The page is UTF-16 with a byte-order mark, whose letters
hold nearly 16 bits of packed bytes where those of UTF-8 hold seven of eight; unpack.js has the way
back. Markers of shell.html are replaced:

  <!-- packed -->  <script type="text/plain" id="packed-page">: a JSON object of style, body, script
                   (all scripts but the loader's, in the order of their names; they only declare
                   things), glue (the script that Emscripten wrote, for the workers) and engineSum
                   (CRC-32 of the engine), and id="packed-engine": thole_engine.wasm; both packed
                   with LZMA
  <!-- loader -->  the scripts that bring the page into the shell: unpack.js, load.js
  DECODER          of unpack.js: unpack_lzma.wasm in the same letters
  LOADER, SCRIPT   of 'sha256-...' in the page's content security policy: the hashes of both
"""

import base64
import hashlib
import json
import lzma
import pathlib
import re
import string
import struct
import sys
import zlib

LOADER = ["unpack.js", "load.js"]
ALONE = [0, 10, 13, *map(ord, "'<\\")]
UNFIT = [*ALONE, *range(0xD800, 0xE000)]  # what HTML or a string of a script would take otherwise


def letters(data: bytes) -> str:
    """Two bytes to a letter, in blocks behind a letter of ten bits of key, which is added to them
    all, and six of length: half of it, less one."""
    units = [low | high << 8 for low, high in zip(data[::2], data[1::2] + b"\0")]
    units += [0] * (len(units) % 2)
    out = []
    at = 0
    while at < len(units):
        keys = set(range(0, 0x10000, 64)) - set(UNFIT)
        size = 0
        fit = keys
        for unit in units[at : at + 128]:
            keys = keys - unfit_keys(unit)
            if not keys:
                break
            size += 1
            if size % 2 == 0:
                fit = keys
        size -= size % 2
        key = next((k for k in sorted(fit) if (k | size // 2 - 1) not in UNFIT), None)
        if not size or key is None:
            sys.exit("no key for a block")
        out += [key | size // 2 - 1] + [unit + key & 0xFFFF for unit in units[at : at + size]]
        at += size
    return struct.pack(f"<{len(out)}H", *out).decode("utf-16-le")


def unfit_keys(unit: int) -> set:
    keys = {bad - unit & 0xFFFF for bad in ALONE}
    first = 0xD800 - unit
    return keys | {k & 0xFFFF for k in range(-(-first // 64) * 64, first + 0x800, 64)}


def in_fours(wasm: bytes) -> bytes:
    """With a custom section behind it, so that letters need no padding: WebAssembly takes none."""
    spare = 3 + (1 - len(wasm)) % 4
    return wasm + bytes([0, spare - 2]) + bytes(spare - 2)


def packed(data: bytes) -> str:
    """The smaller of two: engine and texts pack best in different ways."""
    both = [{"pb": 0, "nice_len": 273}, {"pb": 1, "nice_len": 96}]
    filters = [{"id": lzma.FILTER_LZMA1, "preset": 9 | lzma.PRESET_EXTREME, "lc": 4, **one}
               for one in both]
    return letters(min((lzma.compress(data, format=lzma.FORMAT_ALONE, filters=[one])
                        for one in filters), key=len))


def without_comments(script: str) -> str:
    """Comments and the white space before lines are for readers of the source. For scripts without
    texts of several lines."""
    for text in re.findall(r"`[^`]*`", re.sub(r"\$\{[^{}]*\}", "", script)):
        if "\n" in text:
            sys.exit(f"a text of several lines: {text}")
    script = re.sub(r"^ *//.*\n", "", script, flags=re.MULTILINE)
    script = re.sub(r"^([^'\"`/\n]*\S) +//.*$", r"\1", script, flags=re.MULTILINE)
    return re.sub(r"^\s+", "", script, flags=re.MULTILINE)


def squeezed(script: str, others: str) -> str:
    """Without what only readers need; each letter takes two bytes. Strings stay as they are. For
    scripts with every semicolon and no regular expression, comments left out. What they declare
    gets short names, but for properties and for what other scripts use."""
    parts = re.split(r"(`[^`]*`|'[^'\n]*')", script)
    code, quoted = " ".join(parts[::2]), " ".join(parts[1::2])
    declared = set(re.findall(r"\b(?:const|let|function) (\w+)", code))
    declared -= {name for pair in re.findall(r"\.(\w+)|(\w+):", code) for name in pair}
    declared -= set(re.findall(r"^(?:let|function) (\w+)", script, re.MULTILINE)) & set(
        re.findall(r"\w+", others)
    )
    taken = set(re.findall(r"\w+", code + quoted))
    letters = string.ascii_letters
    free = (name for name in [*letters, *(f"{a}{b}" for a in letters for b in letters)]
            if name not in taken)
    often = sorted(declared - set(re.findall(r"\w+", quoted)),
                   key=lambda name: (-len(re.findall(rf"\b{name}\b", code)), name))
    short = {name: next(free) for name in often if len(name) > 2}
    for i in range(0, len(parts), 2):
        part = re.sub(r"\s+", " ", parts[i])
        part = re.sub(r"\w+", lambda word: short.get(word[0], word[0]), part)
        parts[i] = re.sub(r" ?([^\w$ ]) ?", r"\1", part)
    return "".join(parts)


def digest(script: str) -> str:
    return base64.b64encode(hashlib.sha256(script.encode("utf-8")).digest()).decode("ascii")


def put_in(page: str, marker: str, text: str, name: str = "shell.html") -> str:
    if page.count(marker) != 1:
        sys.exit(f"{name}: {marker} is expected once")
    return page.replace(marker, text)


def element(attributes: str, text: str) -> str:
    if re.search(r"</script|<!--", text, re.IGNORECASE):
        sys.exit(f"{attributes}: holds what would end a script")
    return f"<script{attributes}>{text}</script>"


def main() -> None:
    sources, engine, output = map(pathlib.Path, sys.argv[1:])

    def text_of(path: pathlib.Path) -> str:
        return path.read_text(encoding="utf-8")

    names = sorted(path.name for path in sources.glob("*.js") if path.name not in LOADER)
    script, loader = (
        "'use strict';\n" + "\n".join(without_comments(text_of(sources / name)) for name in some)
        for some in (names, LOADER)
    )
    decoder = letters(in_fours((engine / "unpack_lzma.wasm").read_bytes()))
    loader = put_in(squeezed(loader, script), "DECODER", decoder, "the loader")
    wasm = (engine / "thole_engine.wasm").read_bytes()
    style = text_of(sources / "page.css")
    page = {
        "style": re.sub(r"\s+", " ", re.sub(r"/\*.*?\*/", "", style, flags=re.S)),
        "body": text_of(sources / "page.html"),
        "script": script,
        "glue": text_of(engine / "thole_engine.js"),
        "engineSum": zlib.crc32(wasm),
    }
    shell = text_of(sources / "shell.html")
    shell = put_in(shell, "'sha256-LOADER'", f"'sha256-{digest(loader)}'")
    shell = put_in(shell, "'sha256-SCRIPT'", f"'sha256-{digest(script)}'")
    page_letters = packed(json.dumps(page, ensure_ascii=False).encode("utf-8"))
    engine_letters = packed(wasm)
    shell = put_in(
        shell,
        "<!-- packed -->",
        element(' type="text/plain" id="packed-page"', page_letters)
        + element(' type="text/plain" id="packed-engine"', engine_letters),
    )
    shell = put_in(shell, "<!-- loader -->", element("", loader))
    output.write_bytes(b"\xff\xfe" + shell.encode("utf-16-le"))
    size = output.stat().st_size
    print(f"{output}: {size} bytes, of which the engine {2 * len(engine_letters)}")


main()
