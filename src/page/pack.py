#!/usr/bin/env python3
"""One page of everything: pack.py SOURCES ENGINE OUTPUT

SOURCES holds page.html, page.css and the scripts (*.js); ENGINE holds thole_engine.js and .wasm.
Markers of page.html are replaced:

  <!-- style -->   page.css
  <!-- engine -->  the engine, for the workers that the page makes of texts:
                   <script type="text/plain" id="engine-glue">: the script that Emscripten wrote
                   <script type="text/plain" id="engine-wasm">: its bytes, packed with LZMA, seven
                   bits to a letter; unpack.js has the way back
  <!-- script -->  all scripts as one, in the order of their names; they only declare things
  SCRIPT           of 'sha256-SCRIPT' in the page's content security policy: the hash of that script
"""

import base64
import hashlib
import lzma
import pathlib
import re
import sys

UNFIT = [0, 13, ord("<")]  # what HTML would take otherwise


def letters(data: bytes) -> str:
    """Seven bits to a letter; an unfit one stands with those behind it as one from U+0100 on."""
    sevens = []
    for at in range(0, len(data), 7):
        piece = data[at : at + 7]
        bits = int.from_bytes(piece.ljust(7, b"\0"), "big")
        used = (8 * len(piece) + 6) // 7
        sevens += [bits >> (49 - 7 * i) & 127 for i in range(used)]
    out = []
    rest = iter(sevens)
    for seven in rest:
        if seven in UNFIT:
            out.append(chr(256 + 128 * UNFIT.index(seven) + next(rest, 0)))
        else:
            out.append(chr(seven))
    return "".join(out)


def packed(wasm: bytes) -> str:
    filters = [{"id": lzma.FILTER_LZMA1, "preset": 9 | lzma.PRESET_EXTREME, "lc": 4, "pb": 0}]
    return letters(lzma.compress(wasm, format=lzma.FORMAT_ALONE, filters=filters))


def put_in(page: str, marker: str, text: str) -> str:
    if page.count(marker) != 1:
        sys.exit(f"page.html: {marker} is expected once")
    return page.replace(marker, text)


def element(attributes: str, text: str) -> str:
    if re.search(r"</script|<!--", text, re.IGNORECASE):
        sys.exit(f"{attributes}: holds what would end a script")
    return f"<script{attributes}>{text}</script>"


def main() -> None:
    sources, engine, output = map(pathlib.Path, sys.argv[1:])
    page = (sources / "page.html").read_text(encoding="utf-8")
    style = (sources / "page.css").read_text(encoding="utf-8")
    scripts = [p.read_text(encoding="utf-8") for p in sorted(sources.glob("*.js"))]
    script = "'use strict';\n" + "\n".join(scripts)
    glue = (engine / "thole_engine.js").read_text(encoding="utf-8")
    wasm = packed((engine / "thole_engine.wasm").read_bytes())
    digest = base64.b64encode(hashlib.sha256(script.encode("utf-8")).digest()).decode("ascii")
    page = put_in(page, "'sha256-SCRIPT'", f"'sha256-{digest}'")
    page = put_in(page, "<!-- style -->", f"<style>\n{style}</style>")
    page = put_in(
        page,
        "<!-- engine -->",
        element(' type="text/plain" id="engine-glue"', glue)
        + element(' type="text/plain" id="engine-wasm"', wasm),
    )
    page = put_in(page, "<!-- script -->", element("", script))
    output.write_bytes(page.encode("utf-8"))
    size = output.stat().st_size
    print(f"{output}: {size} bytes, of which the engine {len(wasm.encode('utf-8'))}")


main()
