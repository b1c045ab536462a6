"""The manual page and the completion know every command and option of the program, and no other.

usage: words_test.py THOLE ROOT
"""

import os
import re
import subprocess
import sys
import tempfile

program, root = sys.argv[1:3]
page = os.path.join(root, "src/package/thole.1")
completion = os.path.join(root, "src/package/thole.bash")
failures = []


def check(good, what):
    if not good:
        failures.append(what)


def same(found, expected, what):
    found, expected = sorted(found), sorted(expected)
    check(found == expected, f"{what}\n  found    {' '.join(found)}\n  expected {' '.join(expected)}")


def help_of(*words):
    out = subprocess.run([program, *words, "--help"], capture_output=True, text=True, encoding="utf-8")
    check(out.returncode == 0, f"{words} --help ends with {out.returncode}")
    return out.stdout


def options_in(text):
    """The options that a help lists, short and long: "  -o,--output TEXT   the file"."""
    found = []
    for line in text.split("Options:")[1].split("\n"):
        if re.match(r"  -", line):
            found += re.match(r"  (\S+)", line).group(1).split(",")
        elif line and not line.startswith(" "):
            break
    return found


def commands_in(text):
    return re.findall(r"^  (\w+) ", text.split("Subcommands:")[1], re.M)


# ---- the program ---------------------------------------------------------------------------------

everything = help_of()
commands = commands_in(everything)
check(len(commands) > 10 and "check" in commands, f"commands of the help: {commands}")
options = {c: options_in(help_of(c)) for c in commands}
options[""] = options_in(everything)
check("--output" in options["sheet"] and "-h" in options["sheet"], f"help of sheet: {options['sheet']}")

# ---- the manual page -----------------------------------------------------------------------------

text = open(page, encoding="utf-8").read()
section = text.split(".Sh COMMANDS")[1].split(".Sh ")[0]
section, top = section.split("\nWithout a command:")
parts = re.split(r"^\.It Ic (\w+)", section, flags=re.M)
written = dict(zip(parts[1::2], parts[2::2]))
same(written, commands, "commands of the manual page")


def flags(lines):
    """Flags of mdoc: ".It Fl o Ar file , Fl -output Ar file"."""
    return ["-" + f for f in re.findall(r"\bFl (\S+)", lines)]


for command, lines in written.items():
    described = "\n".join(re.findall(r"^\.It (Fl .*)$", lines, re.M))
    asked = flags(lines.split("\n")[0])  # its synopsis
    found = set(flags(described)) | ({"--materials"} & set(asked)) | {"-h", "--help"}
    same(found, options[command], f"options of {command} in the manual page")
    check(set(asked) <= set(options[command]), f"synopsis of {command}: {asked}")
same(flags("\n".join(re.findall(r"^\.It (Fl .*)$", top, re.M))), options[""],
     "options without a command in the manual page")

# ---- the completion ------------------------------------------------------------------------------


def completed(*words, folder=root):
    """What bash offers for the last of the words."""
    script = ('source "$1"; shift; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _thole; '
              'for w in "${COMPREPLY[@]}"; do printf "%s\\n" "$w"; done')
    out = subprocess.run(["bash", "--norc", "-u", "-c", script, "bash", completion, *words], cwd=folder,
                         capture_output=True, text=True, encoding="utf-8")
    check(out.stderr == "", f"completion of {words} says {out.stderr}")
    return out.stdout.split("\n")[:-1]


same(completed("thole", ""), commands, "commands completed")
same(completed("thole", "-"), options[""], "options completed without a command")
for command in commands:
    same(completed("thole", command, "-"), options[command], f"options completed of {command}")

same(completed("thole", "ch"), ["changes", "check"], "words that begin with ch")
same(completed("thole", "sheet", "x.yaml", "--paper", ""), ["a4", "letter"], "papers")
same(completed("thole", "sheet", "x.yaml", "--paper", "=", "l"), ["letter"], "papers after =")
same(completed("thole", "sheet", "x.yaml", "--paper", "="), ["a4", "letter"], "papers at the =")
same(completed("thole", "new", "--mount", "b"), ["bracket"], "kinds of mount")
same(completed("thole", "size", "--laid", ""), ["flat", "on_edge"], "planks")
same(completed("thole", "size", "--legs", ""), ["below_gear", "drawn", "none"], "legs")
same(completed("thole", "schema", ""), ["report", "setup"], "schemas")
same(completed("thole", "sweep", "--steps", ""), [], "a number")

with tempfile.TemporaryDirectory() as folder:
    for name in ["boat.yaml", "my boat.yml", "boat.html", "-x.yaml", "$(touch made).yaml", "b.csv"]:
        open(os.path.join(folder, name), "w").close()
    os.mkdir(os.path.join(folder, "boats"))
    # Every second name is dangerous to what splits or evaluates names.
    same(completed("thole", "check", "", folder=folder),
         ["boat.yaml", "my boat.yml", "-x.yaml", "$(touch made).yaml", "boats"], "setups")
    same(completed("thole", "check", "bo", folder=folder), ["boat.yaml", "boats"], "setups with bo")
    same(completed("thole", "sheet", "-o", "b", folder=folder), ["boat.html", "boats"], "sheets")
    same(completed("thole", "sheet", "--forces", "b", folder=folder), ["b.csv", "boats"], "tables")
    same(completed("thole", "changes", "-o", "boat", folder=folder), ["boat.yaml", "boats"], "setups")
    check(not os.path.exists(os.path.join(folder, "made")), "a name of a file was run")

# The words of options that take a value from a list are those that the program takes.
for option, words in [("--paper", ["a4", "letter"])]:
    for w in words:
        out = subprocess.run([program, "sheet", "/dev/null", "-o", "x.html", option, w],
                             capture_output=True, text=True, encoding="utf-8")
        check(option not in out.stderr, out.stderr)

for what in failures:
    print(what)
sys.exit(1 if failures else 0)
