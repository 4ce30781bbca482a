"""Commands gone wrong: plausible ones of every verb, with words absurd, missing, twice, swapped.

``python -m tests.cli.odd_commands 100000`` tries so many, jobs gone wrong among them, and prints
those that are neither done nor refused in a line.
"""

import json
import random
import re
import sys
import tempfile
import tomllib
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

from tests.cli.odd_jobs import gone_wrong, toml
from tests.cli.run import run
from tests.cli.test_random import branch, main

SIZES = ["5", "10", "12.7", "16", "22.2", "28.6", "1-1/8in", "38.1", "50", "100", "150", "400"]
WALLS = ["0.5", "0.9", "1.5", "3", "20bwg", "0.035in"]
ANGLES = ["0.01", "0.6", "5", "14.5", "30", "45", "62", "62.5°", "89.999", "90", "91", "150", "179",
          "180", "-1", "0", "1e-7"]
LENGTHS = ["0", "1", "-1", "3.3", "-7.5", "12", "-1/8in", "19", "19.000000001", "1e-9", "60",
           "5000"]
TURNS = ["0", "90", "-90", "180", "45", "17.3", "360", "1e9"]
JUNK = ["", "nan", "inf", "-inf", "1e400", "--", "-", "x", "a\x1b[31mb", "12,5", "½", "ü", "0x10",
        "9" * 400, "tig", "none", "a\nb", "saw=", "saw=32@", "0=0", "0=.1,90=.2,180=.3", "🚲", "%s",
        "\u202e", "plate", "/", ".", "..", "/dev/null/x"]
OPTIONS = {
    "joint": {"--cut": ["bevelled", "square"], "--points": ["8", "720", "7", "99999"],
              "--steps": ["8", "12", "16", "24", "9"], "--seam": TURNS,
              "--paper": ["a4", "a3", "letter", "roll", "a5"],
              "--paper-thickness": ["0", "0.2", "9"], "--printer": ["99.4,100.2", "50,50", "99"],
              "--overlap": ["5", "0", "500"]},
    "fit": {"--cut": ["bevelled", "square", "saw=38.1", "saw=1-1/2in", "saw=5", "saw=32@2"],
            "--angle-error": ["0.5", "-2", "80", "500"], "--clock-error": ["3", "-200"],
            "--offset-error": ["0.4", "-60"], "--points": ["8", "72"], "--limit": ["0.5", "-1"],
            "--process": ["tig", "mig", "glue"]},
    "saw": {"--kit": ["38.1,44.45", "1-1/2in,1-3/4in", "5", "38.1", ","],
            "--depth": ["40", "5", "-3"], "--limit": ["0.5"], "--process": ["tig", "stick"]},
    "regrind": {"--cut": ["bevelled", "square", "saw=38.1", "saw=38.1@1"],
                "--gaps": ["0=0,45=.2,90=.4,135=.2,180=0,225=.2,270=.4,315=.2",
                           "0=.1,90=.2,180=.3,270=.1", "0=1,0=2", "0=9,90=9,180=9,270=9,45=9",
                           "0=.1in,90=.2,120=0,180=.5,200=.3,300=0.1"],
                "--limit": ["0.3", "0"], "--process": ["tig"]},
    "tolerance": {"--angle-scatter": ["0.5", "-1", "50"], "--seed": ["3", "-1", "1e3"],
                  "--limit": ["0.5"], "--cut": ["square"]},
}
SLOW = {"tolerance": 0.002, "saw": 0.04, "regrind": 0.3}
"""How many of the commands of verbs that try thousands of joints, or of cuts, are kept."""


def shape(chance):
    """Any words for a tube, most of them wrong."""
    size, other, wall = chance.choice(SIZES), chance.choice(SIZES), chance.choice(WALLS)
    return chance.choice([
        f"{size} x {wall}", f"{size}", f"{size} to {other} over 300 x {wall}",
        f"oval {size} by {other} x {wall}", f"oval {size} by {other} to 14 over 380 x {wall}",
        f"box {size} by {other} corner 2 x {wall}", f"box {size} by {other} x {wall}", "plate 6",
        f"{size} bent to 110 x {wall}", f"{size} to {other} x {wall}"])


def plausible(chance):
    """The words of a joint that may well be made."""
    angle, offset = chance.uniform(20, 160), chance.gauss(0, 6)
    words = [branch(chance), main(chance), "--angle", f"{angle:.{chance.randrange(4)}f}"]
    for name, value in (("--offset", offset), ("--turn", chance.uniform(-180, 180)),
                        ("--main-turn", chance.gauss(0, 40)), ("--main-at", offset)):
        if chance.random() < 0.4:
            words += [name, f"{value:.2f}"]
    return words


def odd(chance):
    """The words of a joint of any numbers."""
    words = [shape(chance), shape(chance), "--angle", chance.choice(ANGLES)]
    for name, values in (("--offset", LENGTHS), ("--turn", TURNS), ("--main-turn", TURNS),
                         ("--main-at", LENGTHS)):
        if chance.random() < 0.35:
            words += [name, chance.choice(values)]
    return words


def odd_command(chance):
    """The words of one command."""
    verb = chance.choice([*OPTIONS, "joint", "fit"])
    if chance.random() > SLOW.get(verb, 1.0):
        verb = "joint"
    likely = chance.random() < 0.7
    words = [verb, *(plausible if likely else odd)(chance)]
    for name, values in OPTIONS[verb].items():
        if chance.random() < (0.95 if name == "--gaps" else 0.1 if likely else 0.25):
            words += [name, chance.choice(values)]
    if chance.random() < 0.4:
        words.append("--json")
    for _ in range(chance.choice([0, 0, 0, 0, 1] if likely else [0, 0, 1, 2])):
        spoil(words, chance)
    return words


def spoil(words, chance):
    """Change one word, or their order."""
    at = chance.randrange(len(words))
    match chance.randrange(5):
        case 0:
            words[at] = chance.choice(JUNK)
        case 1:
            words.insert(at, chance.choice(JUNK))
        case 2 if len(words) > 1:
            del words[at]
        case 3:
            words.insert(at, words[chance.randrange(len(words))])
        case _:
            other = chance.randrange(len(words))
            words[at], words[other] = words[other], words[at]


SMALL = """\
units = "in"
[shop]
process = "tig"
stock = ["20ft"]
[stock]
"0.875 to 0.5 over 12 x 0.035" = [{ length = 16, from = 0.5, straight = 1, count = 2 }]
[table]
lies = "flat"
origin = [9, 9]
plane = 2
[points]
top = [0, 0, 9]
tip = { from = "top", by = [7, 0, 0] }
low = { along = "stay", by = 3 }
[tubes.shell]
shape = "1.6 x 0.12"
start = { at = [0, -3, 0] }
end = { at = [0, 3, 0] }
existing = true
[tubes.hoop]
shape = "1 x 0.065"
start = { at = [0, 0, 0], on = ["shell"] }
corners = ["top"]
bend = 2.5
end = { at = "tip", face = [1, 0, 1], cap = 0.1 }
[tubes.stay]
shape = "0.875 to 0.5 over 12 x 0.035"
shape_from = 0.5
start = { at = [0, 2, 0], on = ["shell"], cut = "square" }
end = { at = [-9, 2.5, 0], back = 0.2 }
mirror = true
[tubes.rail]
shape = "box 1 by 0.75 corner 0.1 x 0.065"
tall = 0.75
start = { at = [9, 9, 0], mitre = "end-rail" }
end = { at = [20, 9, 0] }
[tubes.end-rail]
shape = "box 1 by 0.75 corner 0.1 x 0.065"
start = { at = [9, 9, 0] }
end = { at = [9, 20, 0], on = ["floor"] }
[tubes.floor]
shape = "plate 0.25 by 4"
start = { at = [6, 20, 0] }
end = { at = [12, 20, 0] }
turn = 90
"""
"""Most of the keys of a job, in few tubes: a wrong one is found in a tenth of the demo's time."""

LARGE = 0.1
"""How many of the jobs gone wrong are large ones."""


def odd_job(chance, good, folder):
    """The words of a command about a job gone wrong, which is written into ``folder``."""
    file = Path(folder, "job.toml")
    small = tomllib.loads(SMALL)
    job = chance.choice(good) if chance.random() < LARGE else small
    file.write_text(toml(gone_wrong(job, chance)), encoding="utf-8")
    verb = chance.choice(["job", "job", "job", "bends", "bicycle", "clearance", "layout",
                          "tracking"])
    words = [verb, str(file)]
    if verb == "tracking":
        words += ["--straight-edge", "59.2,46.5"]
    return [*words, *chance.choice([("--json",), ()])]


def fault(words):
    """What is wrong with how a command ends, in words; empty where nothing is."""
    status, out, err = run(*words)
    if status == 2:
        good = (not out and err.endswith("\n") and len(err) < 20_000 and all(
            line.startswith("coper: ") and len(line) < 1000 for line in err.splitlines()))
        plain = not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u202e]", err)
        return "" if good and plain else f"refused badly: {err[:300]!r}"
    if status not in (0, 1):
        return f"status {status}: {err[:300]!r}"
    if out.startswith("{"):
        try:
            json.loads(out, parse_constant=lambda word: 1 / 0)
        except (ValueError, ZeroDivisionError):
            return "no JSON"
    elif re.search(r"\b(nan|inf|None)\b", out):
        return "nan in what is printed"
    return ""


def trial(good, seed):
    """One of each; the command that failed and how, or nothing."""
    chance = random.Random(seed)
    with tempfile.TemporaryDirectory() as folder:
        about_job = good and chance.random() < 0.03
        words = odd_job(chance, good, folder) if about_job else odd_command(chance)
        found = fault(words)
    return (seed, words, found) if found else None


def search(count, first=0):
    """Try ``count`` commands on all processors, and print those that fail."""
    good = [tomllib.loads(Path("demo/wagtail.toml").read_text(encoding="utf-8"))]
    with ProcessPoolExecutor() as pool:
        failed = list(filter(None, pool.map(partial(trial, good), range(first, first + count),
                                            chunksize=50)))
    sys.stdout.writelines(f"{seed} {words} {found}\n" for seed, words, found in failed)
    sys.stdout.write(f"{count} tried, {len(failed)} failed\n")


if __name__ == "__main__":
    search(*map(int, sys.argv[1:]))
