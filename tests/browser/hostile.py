"""Setups whose own words try to be more than text, each with a twin under plain words."""

import json

SCRIPT = "<script>window.hit=1</script>"
PICTURE = "\"><img src=x onerror=window.hit=1>"
ENDS = "]]></style></svg></title></bdi><svg onload=window.hit=1>"
ENTITIES = "&lt;b&gt; &#60;i&#62; &amp; &nbsp; 'q' \"Q\" `b` \\ {} ${1+1}"
BIDI = "\u202e\u2066txet\u2069\u202c"
RIGHT_TO_LEFT = "\u05e1\u05d9\u05e8\u05d4 \u0642\u0627\u0631\u0628"
EMOJI = "\U0001f3a3\U0001f6a3\U0001f3fd\u200d\u2640\ufe0f"
LONG = "W" * 200  # the reader takes no more

# (what is replaced, once each; its hostile text): by example.
PLACES = {
    "reservoir-jon-boat": [
        ("title: Rod holder on a reservoir jon-boat, as drawn", "title: ", (SCRIPT + LONG)[:200]),
        ("name: starboard rod", "name: ", (PICTURE + RIGHT_TO_LEFT + LONG)[:200]),
        ("name: starboard stern cleat", "name: ", ENTITIES[:58]),
        ("name: port rail", "name: ", (EMOJI + SCRIPT)[:58]),
    ],
    "fjord-skiff": [
        ("title: Plank with two downriggers on a fjord skiff, as drawn", "title: ",
         BIDI + RIGHT_TO_LEFT + ENDS),
        ("name: 6082-T6 angle", "name: ", ENDS + SCRIPT),
        ("source: 'EN 755-2, extruded profile, from memory'", "source: ", (ENTITIES + LONG)[:200]),
        ("kind: downrigger", "kind: downrigger\n    name: ", LONG),
    ],
    "highland-dinghy": [
        ("name: cleat", "name: ", (SCRIPT + LONG)[:200]),
        ("name: 6060-T5 flat bar", "name: ", PICTURE + EMOJI),
        ("source: 'EN 755-2, extruded profile up to 5 mm, from memory'", "source: ", SCRIPT + BIDI),
        ("name: downrigger", "name: ", ENTITIES + EMOJI + ENDS),
    ],
}
FILE = "<script>window.hit=1<&'\" \u202e\U0001f3a3"  # a name of a file: no slash


def texts(example, yaml):
    """The example under hostile words, and under plain words in the same places."""
    bad = plain = yaml
    for number, (old, key, words) in enumerate(PLACES[example]):
        if bad.count(old) < 1:
            raise ValueError(f"{example}: no \"{old}\"")
        bad = bad.replace(old, key + json.dumps(words, ensure_ascii=False), 1)
        plain = plain.replace(old, key + f"plain words {number}", 1)
    return bad, plain
