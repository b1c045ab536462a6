"""Every report says which thole made it and from which tables: usage build_info_test.py THOLE ROOT.

Source of the hash: sha256sum as described in include/thole/build_info.hpp, worked here with hashlib.
"""

import glob
import hashlib
import json
import os
import subprocess
import sys
import tempfile

program, root = sys.argv[1:3]
program = os.path.abspath(program)
examples = os.path.join(root, "examples")
failures = []


def check(good, what):
    if not good:
        failures.append(what)


def run(*words):
    env = dict(os.environ, SOURCE_DATE_EPOCH="1795737600")
    out = subprocess.run([program, *words], capture_output=True, text=True, encoding="utf-8", env=env)
    check(out.returncode in (0, 1), f"thole {words}: {out.returncode} {out.stderr}")
    return out.stdout


lines = ""
for table in sorted(glob.glob(os.path.join(root, "materials", "*.yaml"))):
    with open(table, "rb") as f:
        lines += f"{hashlib.sha256(f.read()).hexdigest()}  {os.path.basename(table)}\n"
tables = hashlib.sha256(lines.encode()).hexdigest()[:8]

facts = dict(line.split(" ", 1) for line in run("--version").strip().split("\n"))
check(list(facts) == ["thole", "tables", "commit", "compiler", "build"], f"--version tells {facts}")
check(facts["tables"] == tables, f"--version: tables {facts['tables']}, they are {tables}")
mark = f"thole {facts['thole']}, tables {tables}"

jon_boat = os.path.join(examples, "reservoir-jon-boat.yaml")
skiff = os.path.join(examples, "fjord-skiff.yaml")
commands = [["check", jon_boat], ["check", "--details", skiff], ["loads", jon_boat], ["booms", skiff],
            ["changes", jon_boat], ["size", jon_boat, "--free", "hold"],
            ["sweep", jon_boat, "--of", "drag", "--value", "5 lbf"], ["inputs", jon_boat],
            ["fit", jon_boat]]
with tempfile.TemporaryDirectory() as folder:
    compared = os.path.join(folder, "compared.yaml")
    with open(jon_boat, encoding="utf-8") as f:
        text = f.read()
    # A title that is long leaves the first line its figures and its width.
    title = text.split("title:")[1].split("\n")[0]
    text = text.replace(title, ' "' + "long " * 30 + "\"")
    with open(compared, "w", encoding="utf-8") as f:
        f.write(text + "\npatterns:\n  holes_fore_aft: [2]\n  fore_aft: [2 in]\n  athwart: 1 in\n"
                "  threads: [1/4-20]\n")
    for words in [*commands, ["compare", compared], ["check", compared], ["changes", compared],
                  ["sweep", compared, "--of", "drag", "--value", "5 lbf"]]:
        first = run(*words).split("\n")[0]
        check(first.startswith(mark), f"thole {words} begins with {first}")
        check(len(first) < 80 and "\x1b" not in first, f"thole {words} begins with {first}")
    for words in [*commands, ["compare", compared]]:
        if "--details" in words:
            continue
        build = json.loads(run(*words, "--json") or "{}").get("build")
        check(build == {"name": "thole", "version": facts["thole"], "tables": tables,
                        "commit": facts["commit"], "compiler": facts["compiler"],
                        "build_type": facts["build"]}, f"build of thole {words} --json: {build}")
    check(run("materials").startswith(mark + "\n"), "materials")

    def written(*words):
        name = os.path.join(folder, words[-1])
        run("sheet", *words[:-1], name)
        with open(name, encoding="utf-8", newline="") as f:
            return f.read()

    page = written(skiff, "--no-changes", "-o", "a.html")
    check(page.count(mark) == 2, f"the sheet's two pages name it {page.count(mark)} times")
    pages = written(skiff, "--holes", "b.html")
    check(pages.count(mark) == pages.count('<section class="page">') > 0,
          f"template: {pages.count(mark)} of {pages.count('<section')} pages name it")
    for words in ([jon_boat, "--pattern", "1", "--holes", "c.svg"], [jon_boat, "--forces", "d.csv"],
                  [jon_boat, "--drawing", "e.svg"], [jon_boat, "--drawing", "f.dxf"]):
        check(mark in written(*words), f"{words[-1]} does not name it")

for what in failures:
    print(what)
sys.exit(1 if failures else 0)
