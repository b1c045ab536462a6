"""Writes every page that the other tests here look at: usage make_sheets.py THOLE EXAMPLES FOLDER."""

import concurrent.futures
import os
import pathlib
import shutil
import subprocess
import sys

import hostile
from browser import need_chromium

MOUNTS = ("bay-boat", "fjord-skiff", "highland-dinghy", "lake-cartopper", "lough-boat",
          "reservoir-jon-boat")
EXAMPLES = MOUNTS + tuple(m + "-best-fix" for m in MOUNTS)
PAPERS = ("a4", "letter")
WITH_CHANGES = ("reservoir-jon-boat", "bay-boat")  # the quick ones


def run(program, *words):
    done = subprocess.run([program, *map(str, words)], capture_output=True, text=True,
                          encoding="utf-8")
    if done.returncode not in (0, 1):  # 1: any verdict but `holds`
        raise RuntimeError(f"{' '.join(map(str, words))[:300]}: code {done.returncode}\n"
                           + done.stderr[:2000])
    return done.stdout


def sheet(program, setup, stem, paper, *more):
    run(program, "sheet", setup, "--paper", paper, "--date", "2026-11-27", "--replace", "-o",
        f"{stem}.html", "--holes", f"{stem}.holes.html", *more)


def jobs(program, examples, folder):
    for name in EXAMPLES:
        setup = examples / f"{name}.yaml"
        changes = () if name in WITH_CHANGES else ("--no-changes",)
        for paper in PAPERS:
            yield sheet, program, setup, folder / f"{name}.{paper}", paper, *changes
        yield keep, program, setup, folder / f"{name}.txt"
    for name in hostile.PLACES:
        texts = hostile.texts(name, (examples / f"{name}.yaml").read_text(encoding="utf-8"))
        for kind, file, text in zip(("hostile", "plain"), (hostile.FILE, "plain words"), texts):
            place = folder / f"{kind}-{name}"
            place.mkdir()
            setup = place / f"{file}.yaml"
            setup.write_text(text, encoding="utf-8")
            yield sheet, program, setup, folder / f"{kind}-{name}", "a4", "--no-changes"


def keep(program, setup, file):
    file.write_text(run(program, "check", setup), encoding="utf-8")


def main():
    need_chromium()
    program, examples, folder = map(pathlib.Path, sys.argv[1:4])
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    with concurrent.futures.ThreadPoolExecutor(os.cpu_count()) as pool:
        waiting = [pool.submit(*words) for words in jobs(program, examples, folder)]
        try:
            for job in waiting:
                job.result()
        finally:
            pool.shutdown(cancel_futures=True)


if __name__ == "__main__":
    main()
