#!/usr/bin/env python3
"""All tests of a doctest program in a few processes: in_parts.py JOBS PROGRAM [OPTION...]

One process for every test, as ctest does it, makes what many tests need, such as the assessment of all
examples, once for each of them. OPTIONs leave tests out. A part that fails is printed whole.
"""

import concurrent.futures
import re
import subprocess
import sys

PARTS_PER_JOB = 16  # so that a slow one holds up no other


def run(words: list) -> tuple:
    done = subprocess.run(words, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
                          errors="replace", check=False)
    return done.returncode, done.stdout


def main() -> None:
    jobs, program = int(sys.argv[1]), sys.argv[2:]
    _, said = run([*program, "--count"])
    found = re.search(r"filters: (\d+)", said)
    if not found:
        sys.exit(f"{program[0]} does not tell how many tests it has:\n{said}")
    count, parts = int(found[1]), PARTS_PER_JOB * jobs
    ends = [count * part // parts for part in range(parts + 1)]
    ranges = [(first + 1, last) for first, last in zip(ends, ends[1:]) if first < last]
    failed = done = 0
    with concurrent.futures.ThreadPoolExecutor(jobs) as pool:
        waiting = {
            pool.submit(run, [*program, f"--first={first}", f"--last={last}"]): (first, last)
            for first, last in ranges
        }
        for one in concurrent.futures.as_completed(waiting):
            first, last = waiting[one]
            code, said = one.result()
            sums = re.search(r"assertions: *(\d+) \| *\1 passed", said)
            done += last + 1 - first
            if code != 0 or not sums:
                failed += 1
                print(f"{said}\nAmong the tests {first} to {last}: exit code {code}.", flush=True)
            else:
                print(f"{done} of {count} tests: {first} to {last}, {sums[1]} assertions.", flush=True)
    if failed:
        sys.exit(f"{failed} of {len(ranges)} parts failed.")


main()
