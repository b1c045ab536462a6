"""Files that cannot be read or written: one clear message, code 2, nothing half done, no leftovers.

usage: files_test.py THOLE CUT EXAMPLES PART

PART is one of read, write, interrupted, streams, permissions, full_disk; code 77 where this machine
cannot show it. CUT is the library of cut.cpp.
"""

import os
import re
import resource
import signal
import socket
import subprocess
import sys
import tempfile
import threading
import time

program, cut, examples, part = sys.argv[1:5]
program = os.path.abspath(program)
failures = []
jon_boat = open(os.path.join(examples, "reservoir-jon-boat.yaml"), "rb").read()


def check(good, what):
    if not good:
        failures.append(what)


class Result:
    def __init__(self, words, code, out, err):
        self.words, self.code, self.out, self.err = words, code, out, err

    def __str__(self):
        return f"thole {self.words}: code {self.code}\n  out {self.out[:300]}\n  err {self.err[:600]}"


def run(*words, cuts="", before=(), limit=None, **more):
    env = dict(os.environ, SOURCE_DATE_EPOCH="1795737600")
    if cuts:
        env.update(LD_PRELOAD=os.path.abspath(cut), THOLE_CUT=cuts)

    def prepare():
        if limit is not None:
            resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

    more.setdefault("stdin", subprocess.DEVNULL)
    more.setdefault("stdout", subprocess.PIPE)
    done = subprocess.run([*before, program, *words], stderr=subprocess.PIPE, env=env, timeout=120,
                          preexec_fn=prepare, **more)
    return Result(words, done.returncode, done.stdout or b"", done.stderr)


def refused(r, *patterns):
    """One line on stderr that a terminal can show, code 2, nothing on stdout."""
    check(r.code == 2, f"{r}\n  code 2 is expected")
    check(r.out == b"", f"{r}\n  nothing is expected on stdout")
    try:
        text = r.err.decode("utf-8")
    except UnicodeDecodeError:
        check(False, f"{r}\n  is no UTF-8")
        return
    check(text.startswith("error: ") and text.count("\n") == 1 and text.endswith("\n"),
          f"{r}\n  one line is expected")
    check(not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e]", text), f"{r}\n  has controls")
    check(len(text) < 500, f"{r}\n  is too long")
    for p in patterns:
        check(re.search(p, text), f"{r}\n  does not match {p}")


class Folder:
    """A folder of its own with a setup in it, and a look at what is in it afterwards."""

    def __enter__(self):
        self.keeper = tempfile.TemporaryDirectory(prefix="thole-files-")
        self.path = self.keeper.name
        os.chdir(self.path)
        self.put("boat.yaml", jon_boat)
        return self

    def __exit__(self, *_):
        os.chdir("/")
        self.keeper.cleanup()

    def put(self, name, content=b"mine\n"):
        with open(name, "wb") as f:
            f.write(content)

    def holds(self, *names, what=""):
        found = sorted(os.listdir(os.fsencode(self.path)))
        expected = sorted([b"boat.yaml", *(os.fsencode(n) for n in names)])
        check(found == expected, f"{what}: the folder holds {found}, expected {expected}")


def whole(name, kind):
    text = open(name, "rb").read()
    good = text.endswith(b"</html>\n") if kind == "sheet" else \
        b"thole" in text and text.endswith(b"\n") and len(text) > 1500
    check(good, f"{name} is not whole: {len(text)} bytes, ends with {text[-40:]}")


# Each command that writes, with the ending that its file needs.
writers = {
    "new": (["new"], ".yaml", 0),
    "changes": (["changes", "boat.yaml", "--write", "1", "-o"], ".yaml", None),
    "sheet": (["sheet", "boat.yaml", "--no-changes", "-o"], ".html", 1),
}
strange_names = [b"a\nb", b"a\x1b[31mb", b"\xff\xfe", b"a\xc2\x9bb", "\u202eb".encode(), b"a\tb",
                 b"'; touch made; '", b"$(touch made)", b"-x"]

# ---- what cannot be read -------------------------------------------------------------------------


def unreadable(command):
    with Folder() as f:
        os.mkdir("folder.yaml")
        os.symlink("nowhere", "dangling.yaml")
        os.symlink("loop.yaml", "loop.yaml")
        f.put("large.yaml", b"# " + b"x" * (1 << 20))
        f.put("empty.yaml", b"")
        s = socket.socket(socket.AF_UNIX)
        s.bind("socket.yaml")
        for name, why in [
            ("missing.yaml", "missing.yaml: no such file$"),
            ("folder.yaml", "is a folder, a file is expected$"),
            ("boat.yaml/more.yaml", "Not a directory$"),
            ("dangling.yaml", "is a link to nowhere$"),
            ("loop.yaml", "is a link that leads in a circle$"),
            ("socket.yaml", "is a socket, a file is expected$"),
            ("large.yaml", "larger than 1 MiB"),
            ("/dev/zero", "larger than 1 MiB"),
            ("/proc/self/mem", "cannot be read: Input/output error$"),
            ("x" * 5000, "File name too long$"),
            ("/" + "x/" * 2500, "too long|no such file"),
        ]:
            refused(run(*command, name), why)
        for name in strange_names:
            if not (name.startswith(b"-")):
                refused(run(*command, name), "no such file$")
        s.close()


def read_part():
    for command in (["check"], ["check", "boat.yaml", "--materials"], ["sheet", "-o", "x.html"]):
        unreadable(command)
    with Folder() as f:
        # Every command that reads a setup.
        for words in (["loads"], ["booms"], ["changes"], ["size"], ["sweep", "--of", "wall"], ["inputs"],
                      ["fit"], ["compare"], ["assumptions"]):
            refused(run(*words, "missing.yaml"), "^error: missing.yaml: no such file$")
            refused(run(*words, "."), "^error: .: is a folder")
        # Nothing in them: the reader of setups says so, in its own form.
        f.put("empty.yaml", b"")
        for name in ("/dev/null", "empty.yaml", "/proc/self/environ"):
            r = run("check", name)
            check(r.code == 2 and r.out == b"" and r.err.startswith(b"error: "), str(r))
        # A name of a setup that reaches every message keeps to its line.
        for name in strange_names:
            if not name.startswith(b"-"):
                f.put(name, jon_boat + b"\nnonsense: 1\n")
                r = run("check", name)
                check(r.code == 2 and b"\x1b" not in r.err and r.err.startswith(b"error: ") and
                      r.err.split(b"\n")[0].endswith(b"\"nonsense\"") or b"nonsense" in r.err.split(b"\n")[0],
                      str(r))
                f.put(name, jon_boat)
                r = run("check", name)
                check(r.code == 1 and r.err == b"" and b"\x1b" not in r.out, str(r))
                os.remove(name)
        # A pipe that nobody writes to is told, one that somebody is about to write to is read.
        os.mkfifo("pipe.yaml")
        refused(run("check", "pipe.yaml"), "pipe.yaml: is a pipe, and nothing came out of it$")

        def late():
            time.sleep(0.3)
            with open("pipe.yaml", "wb") as pipe:
                pipe.write(jon_boat[:1000])
                pipe.flush()
                time.sleep(0.3)
                pipe.write(jon_boat[1000:])

        writer = threading.Thread(target=late)
        writer.start()
        r = run("check", "pipe.yaml")
        writer.join()
        as_file = run("check", "boat.yaml")
        check(r.code == 1 and r.out == as_file.out, f"from a pipe: {r}")
        with open("boat.yaml", "rb") as stream:
            r = run("check", "/dev/stdin", stdin=stream)
        check(r.code == 1 and r.out == as_file.out, f"from stdin: {r}")


# ---- what cannot be written ----------------------------------------------------------------------


def write_part():
    for kind, (command, ending, code) in writers.items():
        with Folder() as f:
            good = "good" + ending
            r = run(*command, good)
            check(r.code in (0, 1) and r.err == b"", str(r))
            check(code is None or r.code == code, str(r))
            whole(good, kind)
            check(os.stat(good).st_mode & 0o777 == 0o644 & ~current_umask(), f"mode of {good}")
            f.holds(good, what=kind)
            os.remove(good)

            f.put("mine" + ending)
            os.mkdir("folder" + ending)
            os.mkfifo("pipe" + ending)
            os.symlink("nowhere", "dangling" + ending)
            os.symlink("loop" + ending, "loop" + ending)
            names = [n + ending for n in ("mine", "folder", "pipe", "dangling", "loop")]
            for name, why in [
                ("mine", "mine.*: exists already and is left as it is"),
                ("folder", "is a folder, a file is expected"),
                ("pipe", "exists already and is left as it is"),
                ("dangling", "exists already and is left as it is"),
                ("loop", "exists already and is left as it is"),
                ("nowhere/new", "there is no folder nowhere$"),
                ("boat.yaml/new", "there is no folder boat.yaml$"),
                ("x" * 5000, "File name too long$"),
                ("x" * 300, "File name too long$"),
                ("/proc/new", "/proc/new.*: "),
            ]:
                refused(run(*command, name + ending), why)
                f.holds(*names, what=f"{kind} {name[:20]}")
            if kind != "sheet":
                refused(run(*command, "new" + ending + "/"), "is a folder, a file is expected$")
            check(open("mine" + ending, "rb").read() == b"mine\n", f"{kind} wrote over a file")
            for name in names:
                os.rmdir(name) if name.startswith("folder") else os.remove(name)

            # Names that are strange and allowed are written, and told on one line.
            for name in [*strange_names, b"x" * (255 - len(ending))]:
                if name.startswith(b"-") and kind == "new":
                    continue
                r = run(*command, b"./" + name + ending.encode())
                check(r.code in (0, 1) and r.err == b"" and b"\x1b" not in r.out and
                      b"\xff" not in r.out, str(r))
                if kind != "changes":  # which breaks its lines
                    check(re.match(rb"^wrote [^\n]*[;:]", r.out), str(r))
                whole(name + ending.encode(), kind)
                f.holds(name + ending.encode(), what=f"{kind} {name[:20]}")
                os.remove(name + ending.encode())
    replace_part()
    together_part()


def current_umask():
    now = os.umask(0)
    os.umask(now)
    return now


def replace_part():
    sheet = ["sheet", "boat.yaml", "--no-changes", "--replace", "-o"]
    with Folder() as f:
        f.put("mine.html")
        os.chmod("mine.html", 0o600)
        r = run(*sheet, "mine.html")
        check(r.code == 1 and r.err == b"", str(r))
        whole("mine.html", "sheet")
        check(os.stat("mine.html").st_mode & 0o777 == 0o600, "the mode of a replaced file changed")
        f.holds("mine.html", what="replaced")
        # A link stays a link, what it leads to is replaced, other names of that keep what they had.
        f.put("target.html")
        os.link("target.html", "other.html")
        os.symlink("target.html", "link.html")
        r = run(*sheet, "link.html")
        check(r.code == 1 and os.readlink("link.html") == "target.html", str(r))
        whole("target.html", "sheet")
        check(open("other.html", "rb").read() == b"mine\n", "another name of the old file changed")
        f.holds("mine.html", "target.html", "other.html", "link.html", what="link")
    with Folder() as f:
        os.mkfifo("pipe.html")
        os.symlink("nowhere", "dangling.html")
        os.symlink("loop.html", "loop.html")
        os.mkdir("folder.html")
        os.symlink("/dev/full", "device.html")
        names = ["pipe.html", "dangling.html", "loop.html", "folder.html", "device.html"]
        for name, why in [("pipe.html", "is no plain file and is left as it is$"),
                          ("dangling.html", "is a link to nowhere and is left as it is$"),
                          ("loop.html", "is a link to nowhere and is left as it is$"),
                          ("folder.html", "is a folder"),
                          ("device.html", "is no plain file and is left as it is$")]:
            refused(run(*sheet, name), why)
            f.holds(*names, what=name)
    with Folder() as f:
        # The file that is read, by another name.
        os.link("boat.yaml", "hard.html")
        os.symlink("boat.yaml", "soft.html")
        os.symlink(f.path, "here")
        for name in ("hard.html", "soft.html", "here/hard.html"):
            refused(run(*sheet, name), "is the file that is read; another name is needed$")
        check(open("boat.yaml", "rb").read() == jon_boat, "the setup was written over")
        os.remove("hard.html")
        os.remove("soft.html")
        # A table of materials is read as well; two outputs may be one.
        refused(run(*sheet, "x.html", "--holes", "here/x.html"), "name the same file")
        f.put("table.html")
        refused(run(*sheet, "table.html", "--materials", "table.html"), "is the file that is read")
        f.holds("here", "table.html", what="same file")


def together_part():
    """Several files at a time: all of them or none, also where the last one fails."""
    both = ["sheet", "boat.yaml", "--no-changes", "-o", "a.html", "--forces", "b.csv"]
    for cuts in ("stuck", "stuck named"):
        with Folder() as f:
            refused(run(*both, cuts=cuts), "b.csv: cannot be written: Operation not permitted$")
            f.holds(what=f"two files, {cuts}")
            f.put("a.html")
            f.put("b.csv")
            refused(run(*both, "--replace", cuts=cuts), "b.csv: cannot be written")
            f.holds("a.html", "b.csv", what=f"two files replaced, {cuts}")
            for name in ("a.html", "b.csv"):
                check(open(name, "rb").read() == b"mine\n", f"{name} was not put back, {cuts}")
    with Folder() as f:
        r = run(*both, cuts="named no-swap")
        check(r.code == 1 and r.err == b"", str(r))
        whole("a.html", "sheet")
        f.holds("a.html", "b.csv", what="no-swap")
        f.put("a.html")
        r = run(*both, "--replace", cuts="named no-swap")
        check(r.code == 1 and r.err == b"", str(r))
        whole("a.html", "sheet")
        f.holds("a.html", "b.csv", what="no-swap replaced")


# ---- stopped half way, two at once ---------------------------------------------------------------


def interrupted_part():
    for kind, (command, ending, _) in writers.items():
        name = "out" + ending
        with Folder() as f:
            r = run(*command, name, cuts="kill")
            check(r.code == -signal.SIGKILL, str(r))
            if nameless(f.path):
                f.holds(what=f"{kind} killed")
            check(not os.path.exists(name), f"{kind} killed left half a file")
            r = run(*command, name, cuts="kill named")
            check(r.code == -signal.SIGKILL and not os.path.exists(name), str(r))
            # What that leaves is in the way of nobody.
            left = [n for n in os.listdir(".") if n.startswith(".thole-")]
            check(len(left) == 1, f"{kind} killed left {left}")
            r = run(*command, name)
            check(r.code in (0, 1) and r.err == b"", str(r))
            whole(name, kind)
        with Folder() as f:
            # Asked to stop while it writes: what was begun is finished first.
            for cuts in ("term", "term named"):
                r = run(*command, name, cuts=cuts)
                check(r.code == -signal.SIGTERM, str(r))
                whole(name, kind)
                f.holds(name, what=f"{kind} {cuts}")
                os.remove(name)
            for cuts in ("full", "full named"):
                refused(run(*command, name, cuts=cuts), "cannot be written: No space left on device$")
                f.holds(what=f"{kind} {cuts}")
            refused(run(*command, name, limit=1000), "cannot be written: File too large$")
            f.holds(what=f"{kind} too large")
    with Folder() as f:
        f.put("mine.html")
        for cuts in ("full", "full named", "kill"):
            r = run("sheet", "boat.yaml", "--no-changes", "--replace", "-o", "mine.html", cuts=cuts)
            check(r.code in (2, -signal.SIGKILL), str(r))
            check(open("mine.html", "rb").read() == b"mine\n", f"{cuts}: the old file is gone")
            f.holds("mine.html", what=f"replace {cuts}")
        # The second of two files does not fit any more.
        os.remove("mine.html")
        refused(run("sheet", "boat.yaml", "--no-changes", "--forces", "b.csv", "-o", "a.html",
                    limit=60000), "a.html: cannot be written: File too large$")
        f.holds(what="the second file too large")
    at_once()


def nameless(folder):
    try:
        os.close(os.open(folder, os.O_TMPFILE | os.O_WRONLY))
        return True
    except OSError:
        return False


def at_once():
    for words, codes in ((["new", "out.yaml"], [0, 2]),
                         (["sheet", "boat.yaml", "--no-changes", "-o", "out.html"], [1, 2]),
                         (["sheet", "boat.yaml", "--no-changes", "-o", "out.html", "--replace"], [1, 1])):
        for cuts in ("slow", "slow named"):
            with Folder() as f:
                name = words[1] if words[0] == "new" else "out.html"
                if "--replace" in words:
                    f.put(name)
                results = []
                both = [threading.Thread(target=lambda: results.append(run(*words, cuts=cuts)))
                        for _ in range(2)]
                for t in both:
                    t.start()
                for t in both:
                    t.join()
                check(sorted(r.code for r in results) == codes,
                      f"two at once: {[str(r) for r in results]}")
                for r in results:
                    if r.code == 2:
                        refused(r, "exists already and is left as it is")
                whole(name, words[0])
                f.holds(name, what=f"two at once, {words} {cuts}")


# ---- streams that are closed or full -------------------------------------------------------------


def shell(text):
    env = dict(os.environ, THOLE=program)
    done = subprocess.run(["bash", "-c", text], capture_output=True, env=env, timeout=120)
    return Result(text, done.returncode, done.stdout, done.stderr)


def streams_part():
    for words in ("check boat.yaml", "check --json boat.yaml", "loads boat.yaml", "inputs boat.yaml",
                  "fit boat.yaml", "sweep boat.yaml --of wall", "modes", "materials", "measure", "schema",
                  "assumptions", "--help", "--version", "check --help"):
        with Folder() as f:
            refused(shell(f'"$THOLE" {words} >/dev/full'),
                    "the output could not be written: No space left on device$")
            refused(shell(f'"$THOLE" {words} >&-'), "the output could not be written: Bad file desc")
            r = shell(f'"$THOLE" {words} 2>&- >/dev/full')
            check(r.code == 2, str(r))
            # Whoever reads only the beginning sees no errors.
            r = shell(f'"$THOLE" {words} | head -c 1 >/dev/null')
            check(r.err == b"", str(r))
            # The same where a broken pipe is an error and not the end.
            r = shell(f'trap "" PIPE; ("$THOLE" {words}; echo $? >code) | true; cat code')
            check(r.err.count(b"\n") <= 1, str(r))
            if os.path.exists("code"):
                check(open("code").read().strip() in ("0", "1", "2"), str(r))
                os.remove("code")
            f.holds(what=words)
    with Folder() as f:
        for n, closed in enumerate((">&-", "2>&-", "<&-", "<&- >&- 2>&-")):
            r = shell(f'"$THOLE" new out{n}.yaml {closed}')
            check(r.code == (2 if ">&-" in closed.replace("2>&-", "") else 0), str(r))
            whole(f"out{n}.yaml", "new")
            check(open(f"out{n}.yaml", "rb").read() == open("out0.yaml", "rb").read(),
                  f"with {closed} something else went into the file")
        r = shell('ulimit -f 1; "$THOLE" check --json boat.yaml >report.json')
        check(r.code == 2 and r.err == b"error: the output could not be written: File too large\n", str(r))


# ---- rights, as another user ---------------------------------------------------------------------


def as_nobody():
    if os.geteuid() != 0:
        return []
    before = ["setpriv", "--reuid=65534", "--regid=65534", "--clear-groups"]
    try:
        done = subprocess.run([*before, program, "--version"], capture_output=True)
    except OSError as e:
        skip(f"no setpriv: {e}")
    if done.returncode != 0:
        skip(f"another user cannot run {program}: {done.stderr.decode()}")
    return before


def skip(why):
    print(f"skipped: {why}")
    sys.exit(77)


def permissions_part():
    before = as_nobody()
    with Folder() as f:
        os.chmod(f.path, 0o777)
        f.put("secret.yaml", jon_boat)
        os.chmod("secret.yaml", 0)
        os.mkdir("closed")
        with open("closed/boat.yaml", "wb") as inside:
            inside.write(jon_boat)
        with open("closed/mine.html", "wb") as inside:
            inside.write(b"mine\n")
        os.chmod("closed", 0)
        for name in ("secret.yaml", "closed/boat.yaml"):
            refused(run("check", name, before=before), "Permission denied$")
            refused(run("check", "boat.yaml", "--materials", name, before=before), "Permission denied$")
        for kind, (command, ending, _) in writers.items():
            os.chmod("closed", 0)
            refused(run(*command, "closed/new" + ending, before=before), "Permission denied$")
            os.chmod("closed", 0o555)
            refused(run(*command, "closed/new" + ending, before=before),
                    "nothing can be written in its folder: Permission denied$")
        sheet = ["sheet", "boat.yaml", "--no-changes", "--replace", "-o"]
        f.put("mine.html")
        os.chmod("mine.html", 0o444)
        refused(run(*sheet, "mine.html", before=before),
                "is write-protected and is left as it is$")
        os.chmod("closed/mine.html", 0o666)
        refused(run(*sheet, "closed/mine.html", before=before), "nothing can be written in its folder")
        check(open("closed/mine.html", "rb").read() == b"mine\n", "the old file changed")
        check(sorted(os.listdir("closed")) == ["boat.yaml", "mine.html"], str(os.listdir("closed")))
        os.chmod("closed", 0o755)
        f.holds("secret.yaml", "closed", "mine.html", what="permissions")


# ---- a disk of our own that is full or read-only -------------------------------------------------


def full_disk_part():
    if os.geteuid() != 0:
        skip("a small disk needs root")
    with Folder() as f:
        os.mkdir("disk")
        mounted = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=64k", "none", "disk"],
                                 capture_output=True)
        if mounted.returncode != 0:
            skip(f"no small disk can be mounted: {mounted.stderr.decode()}")
        try:
            on_the_disk()
        finally:
            subprocess.run(["umount", "disk"], check=True)


def on_the_disk():
    def fill(most):
        with open("disk/ballast", "wb") as ballast:
            try:
                ballast.write(b"x" * most)
                ballast.flush()
            except OSError:
                pass

    for kind, (command, ending, _) in writers.items():
        for cuts in ("", "named"):
            fill(1 << 20)
            refused(run(*command, "disk/new" + ending, cuts=cuts),
                    f"disk/new{ending}: cannot be written: No space left on device$")
            check(os.listdir("disk") == ["ballast"], f"{kind}: {os.listdir('disk')}")
    # Room for one file of two, and for the old sheet but not for the new one.
    fill(8 << 10)
    both = ["sheet", "boat.yaml", "--no-changes", "--forces", "disk/b.csv", "-o", "disk/a.html"]
    refused(run(*both), "No space left on device$")
    check(os.listdir("disk") == ["ballast"], f"two files: {os.listdir('disk')}")
    with open("disk/a.html", "wb") as old:
        old.write(b"mine\n")
    refused(run(*both, "--replace"), "No space left on device$")
    check(sorted(os.listdir("disk")) == ["a.html", "ballast"], f"replaced: {os.listdir('disk')}")
    check(open("disk/a.html", "rb").read() == b"mine\n", "the old sheet is gone")
    # A report into a file on it.
    fill(1 << 20)
    with open("disk/a.html", "wb") as out:
        r = run("check", "--json", "boat.yaml", stdout=out)
    refused(r, "the output could not be written: No space left on device$")
    subprocess.run(["mount", "-o", "remount,ro", "disk"], check=True)
    for kind, (command, ending, _) in writers.items():
        refused(run(*command, "disk/new" + ending), "Read-only file system$")


{"read": read_part, "write": write_part, "interrupted": interrupted_part, "streams": streams_part,
 "permissions": permissions_part, "full_disk": full_disk_part}[part]()
for what in failures:
    print(what)
sys.exit(1 if failures else 0)
