"""Two builds of the program give the same answers; one build gives the same bytes every time.

    python3 same_numbers.py PROGRAM [OTHER] EXAMPLES

`check` and `loads` of every setup in EXAMPLES, `sweep` of those as drawn, as JSON. Twice PROGRAM, the second time on a
single processor (a sweep then has one thread): identical bytes. PROGRAM and OTHER: every text the
same, every number within 1e-9 of the greater one, or within 1e-9 of 1. All numbers are in SI units:
below that lie a nanonewton, a nanometre and a billionth of a degree, which is what is left where
forces of 1e5 N cancel in double.
"""

import json
import os
import pathlib
import subprocess
import sys

RELATIVE = 1e-9
FLOOR = 1e-9


def runs(setup):
    """Name and arguments of each run. What a mount does not have is refused, in the same words."""
    yield "check", ["check", "--json", setup]
    yield "loads", ["loads", "--json", setup]
    if setup.stem.endswith("-fix"):
        return
    plate = "gunwale_plate" in setup.read_text(encoding="utf-8")
    of = ["wall"] if plate else ["boom length", "--value", "0.5 m", "--value", "1.1 m"]
    yield "sweep", ["sweep", "--json", setup, "--of", *of]


def one_processor():
    os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})


def answer(program, arguments, alone=False):
    done = subprocess.run([program, *arguments], capture_output=True, check=False,
                          preexec_fn=one_processor if alone else None)
    if done.returncode not in (0, 1, 2):
        sys.exit(f"{program} {arguments}: ends with {done.returncode}\n{done.stderr.decode()}")
    return done.returncode, done.stdout, done.stderr


def is_number(value):
    return isinstance(value, (int, float)) and not isinstance(value, bool)


def differences(a, b, path=""):
    """Places where a and b differ, and the greatest relative difference of all numbers."""
    if is_number(a) and is_number(b):
        off = abs(a - b)
        greater = max(abs(a), abs(b))
        share = off / greater if off > FLOOR else 0.0
        return ([f"{path}: {a!r} {b!r}"] if share > RELATIVE else []), share
    if type(a) is not type(b):
        return [f"{path}: {a!r} {b!r}"], 0.0
    if isinstance(a, dict):
        if list(a) != list(b):
            return [f"{path}: keys {list(a)} {list(b)}"], 0.0
        pairs = [(a[k], b[k], f"{path}.{k}") for k in a]
    elif isinstance(a, list):
        if len(a) != len(b):
            return [f"{path}: {len(a)} and {len(b)} entries"], 0.0
        pairs = [(x, y, f"{path}[{i}]") for i, (x, y) in enumerate(zip(a, b))]
    else:
        return ([] if a == b else [f"{path}: {a!r} {b!r}"]), 0.0
    found, worst = [], 0.0
    for x, y, where in pairs:
        more, share = differences(x, y, where)
        found += more
        worst = max(worst, share)
    return found, worst


def same_bytes(program, setups):
    wrong = []
    for setup in setups:
        for name, arguments in runs(setup):
            if answer(program, arguments) != answer(program, arguments, alone=True):
                wrong.append(f"{setup.name} {name}: two runs differ")
    return wrong


def without_build(report):
    """The line that names program and compiler differs by right."""
    report.pop("build", None)
    return report


def same_numbers(program, other, setups):
    wrong, worst = [], 0.0
    for setup in setups:
        for name, arguments in runs(setup):
            here, there = answer(program, arguments), answer(other, arguments)
            if here[0] != there[0] or here[2] != there[2]:
                wrong.append(f"{setup.name} {name}: ends {here[0]} {there[0]}, says\n"
                             f"{here[2].decode()}{there[2].decode()}")
                continue
            if here[0] == 2:
                continue
            found, share = differences(without_build(json.loads(here[1])),
                                       without_build(json.loads(there[1])))
            wrong += [f"{setup.name} {name}: {f}" for f in found]
            worst = max(worst, share)
    print(f"greatest relative difference of a number: {worst:.2g}")
    return wrong


def main():
    *programs, folder = sys.argv[1:]
    setups = sorted(pathlib.Path(folder).glob("*.yaml"))
    if not setups or len(programs) not in (1, 2):
        sys.exit(__doc__)
    if len(programs) == 1:
        wrong = same_bytes(programs[0], setups)
    else:
        wrong = same_numbers(*programs, setups)
    for line in wrong[:40]:
        print(line)
    print(f"{len(setups)} setups, {len(wrong)} differences")
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
