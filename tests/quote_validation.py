"""Puts the part `In short` of a validation table into DEVELOPERS.md, after reading the difference.

    python3 quote_validation.py build/gcc/tests/validation.md
"""

import pathlib
import sys

BEGIN = "<!-- validation: begin -->\n"
END = "<!-- validation: end -->\n"

table = pathlib.Path(sys.argv[1]).read_text(encoding="utf-8")
short = table.split("## In short\n\n", 1)[1].split("\n## Every failure mode", 1)[0]
guide = pathlib.Path(__file__).parents[1] / "DEVELOPERS.md"
text = guide.read_text(encoding="utf-8")
before, rest = text.split(BEGIN, 1)
after = rest.split(END, 1)[1]
guide.write_text(before + BEGIN + short + END + after, encoding="utf-8")
