"""The shipped schemas agree with the program: usage schema_test.py THOLE EXAMPLES_DIR."""

import copy
import glob
import json
import os
import subprocess
import sys
import tempfile

import yaml
from jsonschema import Draft202012Validator

program, folder = sys.argv[1:3]
failures = []


def run(*words):
    return subprocess.run([program, *words], capture_output=True, text=True, encoding="utf-8")


def check(good, what):
    if not good:
        failures.append(what)


def load(text):
    # Every scalar stays a string, as the reader of thole has it.
    return yaml.load(text, Loader=yaml.BaseLoader)


def validator(kind):
    schema = json.loads(run("schema", kind).stdout)
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema)


setup = validator("setup")
report = validator("report")

texts = {}
for path in sorted(glob.glob(os.path.join(folder, "*.yaml"))):
    with open(path, encoding="utf-8") as file:
        texts[path] = file.read()
check(texts, "no examples in " + folder)


def boards(text):
    """A board without hold-downs, which no forces hold, and one with two unlike gears."""
    holds, gear, rest = (text.index(k) for k in ("  hold_downs:", "\ngear:", "\ncondition:"))
    yield "without hold-downs", text[:holds] + text[gear + 1:]
    first = text[gear:rest].replace("side: both", "side: port")
    check(first.count("boom_length: 600 mm") == 1, "the board's example has another boom")
    second = first.replace("side: port", "side: starboard").replace("\ngear:", "")
    second = second.replace("boom_length: 600 mm", "boom_length: 900 mm")
    yield "with unlike gears", text[:gear] + first + second + text[rest:]


with tempfile.TemporaryDirectory() as temp:
    path = os.path.join(temp, "starter.yaml")
    made = run("new", path)
    check(made.returncode == 0, "thole new: " + made.stderr)
    paths = list(texts) + [path]
    board = os.path.join(folder, "fjord-skiff.yaml")
    for name, text in boards(texts[board]):
        paths.append(os.path.join(temp, name + ".yaml"))
        texts[paths[-1]] = text
        with open(paths[-1], "w", encoding="utf-8") as file:
            file.write(text)
    with open(path, encoding="utf-8") as file:
        texts[path] = file.read()
    for p in paths:
        for error in setup.iter_errors(load(texts[p])):
            failures.append(f"{p}: {error.json_path}: {error.message[:200]}")
        checked = run("check", "--json", p)
        check(checked.returncode in (0, 1), f"{p}: exit {checked.returncode} {checked.stderr}")
        if checked.returncode in (0, 1):
            # NaN and infinity, which JSON has not, would be taken by Python.
            answer = json.loads(checked.stdout, parse_constant=lambda c: failures.append(p + c))
            for error in report.iter_errors(answer):
                failures.append(f"{p} --json: {error.json_path}: {error.message[:200]}")

    # Broken setups: both the schema and the program refuse them.
    good = load(texts[path])

    def broken(name, change):
        bad = copy.deepcopy(good)
        change(bad)
        check(not setup.is_valid(bad), f"the schema takes a setup with {name}")
        file = os.path.join(temp, "broken.yaml")
        with open(file, "w", encoding="utf-8") as out:
            yaml.safe_dump(bad, out)
        check(run("check", file).returncode == 2, f"thole takes a setup with {name}")

    broken("an unknown key at the top", lambda s: s.update(colour="red"))
    broken("an unknown key of the wall", lambda s: s["mount"]["host"].update(thicknes="1 mm"))
    broken("no mount", lambda s: s.pop("mount"))
    broken("no wall thickness", lambda s: s["mount"]["host"].pop("thickness"))
    broken("a thickness without unit", lambda s: s["mount"]["host"].update(thickness="abc"))
    broken("a list for a length", lambda s: s["mount"]["base"].update(fore_aft=["3 in"]))
    broken("an unknown form", lambda s: s["mount"]["host"].update(form="round"))
    broken("gear that is no list", lambda s: s.update(gear="rod"))
    broken("an unknown kind of gear", lambda s: s["gear"][0].update(kind="anchor"))
    broken("a word for how it is known that does not exist",
           lambda s: s["gear"][0].update(drag={"is": "7 lbf", "known": "guessed"}))
    broken("a map without its value", lambda s: s["gear"][0].update(drag={"known": "measured"}))
    broken("an answer that does not exist", lambda s: s["condition"].update(cracks="maybe"))
    broken("units that do not exist", lambda s: s.update(units="cubit"))

for text in failures:
    print(text)
sys.exit(1 if failures else 0)
