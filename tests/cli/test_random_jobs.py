"""Random jobs through every verb of a job file: done, or refused with a line a fault."""

import json
import random
import re
import tomllib

import pytest

from coper.drawing.bounds import bounds
from tests.cli.odd_jobs import gone_wrong, toml
from tests.cli.run import run
from tests.cli.test_job import DEMO
from tests.cli.test_packet import laid_out
from tests.pages.room import overlapping
from tests.profiles import seeds

SMALL = """\
title = "Small"
[shop]
process = "tig"
saws = ["1in", "1-1/4in"]
blocks = ["3in", "1in"]
stock = ["2m"]
[bicycle]
drop = 58
chain_stay = 419
rear_wheel = "40-507"
rear_hub = 130
shell = 68
seat_angle = 69
[drive]
slot = 20
ring = 44
sprocket = 18
crank = 152
crank_inside = 62
rear_brake = { bolt = "seat-top", reach = [55, "3in"], pad = 1 }
rear_guard = { width = 50, gap = "1/2in" }
rear_rim_off = -1.5
[points]
seat-top = { along = "seat-axis", by = 200 }
lug = { from = "axle-left", by = [7, 0, 3] }
[tubes.shell]
shape = "40 x 3"
start = { at = "shell-right" }
end = { at = "shell-left" }
[tubes.seat-tube]
shape = "31.8 x 0.9"
start = { at = "bottom-bracket", on = ["shell"] }
end = { at = "seat-top" }
[tubes.chain-stay]
shape = "19 to 14 over 410 x 0.8"
start = { at = [-4, 22, 0], on = ["shell"] }
end = { at = "lug", back = 15 }
mirror = true
[tubes.loop]
shape = "12 x 1"
start = { at = [-60, 0, 300] }
corners = [[-60, 0, 380], [-160, 30, 380]]
bend = [30, "1in"]
end = { at = [-160, 30, 250] }
"""
TRACKING = ("--head-diameter", "36", "--seat-diameter", "31.8", "--head-to-seat", "500",
            "--seat-to-dropout", "410", "--hub", "130", "--width", "131")
VERBS = {"job": (), "layout": (), "clearance": (), "bicycle": (), "tracking": TRACKING,
         "bends": ()}


def no_number(word):
    pytest.fail(f"{word} in the JSON")


def check(verb, file, *words):
    """Run a verb; its status."""
    status, out, err = run(verb, str(file), *words)
    if status == 2:
        assert out == "" and err.endswith("\n")
        for line in err.splitlines():
            assert line.startswith("coper: ") and "; " in line and len(line) < 900, line
        return status
    assert status in (0, 1), err
    assert err == "" and out
    if out.startswith("{"):
        json.loads(out, parse_constant=no_number)
    else:
        assert not re.search(r"\b(nan|inf|None)\b", out)
    return status


def write(folder, text):
    file = folder / "job.toml"
    file.write_text(text, encoding="utf-8")
    return file


@pytest.mark.parametrize("seed", seeds(16))
def test_a_small_job_gone_wrong_is_done_or_refused_by_every_verb(seed, tmp_path):
    chance = random.Random(seed)
    file = write(tmp_path, toml(gone_wrong(tomllib.loads(SMALL), chance)))
    for verb, words in VERBS.items():
        check(verb, file, *words, *chance.choice([("--json",), ()]))


@pytest.mark.parametrize("seed", seeds(26))
def test_the_demo_gone_wrong_is_read_or_refused(seed, tmp_path):
    chance = random.Random(1000 + seed)
    file = write(tmp_path, toml(gone_wrong(tomllib.loads(DEMO.read_text()), chance)))
    check("bicycle", file, *chance.choice([("--json",), ()]))


def test_many_of_the_wrong_jobs_are_refused_and_many_are_not(tmp_path):
    statuses = [check("tracking", write(tmp_path, toml(
        gone_wrong(tomllib.loads(SMALL), random.Random(seed)))), *TRACKING) for seed in range(40)]
    assert 8 <= statuses.count(2) <= 32


def rack(chance):
    """A rack of plausible sizes, a plate under its legs."""
    length, width = chance.uniform(250, 500), chance.uniform(60, 220)
    height = chance.uniform(90, 400)
    rail = chance.choice(["12.7 x 1", "16 x 1", "box 20 by 12 corner 2 x 1.2", "oval 20 by 12 x 1"])
    tubes = {
        "rail": {"shape": rail, "start": {"at": [0, width / 2, height]},
                 "end": {"at": [-length, width / 2, height]}, "mirror": True},
        "foot": {"shape": "plate 5", "start": {"at": [-length, width / 2, 0]},
                 "end": {"at": [0, width / 2, 0]}, "mirror": True},
        "leg": {"shape": "12.7 x 1", "start": {"at": [-length / 2, width / 2, height],
                                               "on": ["rail"]},
                "end": {"at": [-chance.uniform(0.3, 0.7) * length, width / 2, 0], "on": ["foot"]},
                "mirror": True},
    }
    tubes["brace"] = {"shape": "9.5 x 0.9", "start": {"at": [-length / 4, width / 2, height / 3]},
                      "end": {"at": [0, width / 2, height], "on": ["rail"]}}  # shaped at its end
    top = height + chance.uniform(60, 150)
    tubes["hoop"] = {"shape": "9.5 x 0.9", "turn": chance.uniform(-90, 90),
                     "start": {"at": [-length / 2, width / 2, height], "on": ["rail"]},
                     "corners": [[-length * 0.6, width / 2, top], [-length * 0.6, -width / 2, top]],
                     "bend": chance.uniform(15, 30),
                     "end": {"at": [-length / 2, -width / 2, height], "on": ["rail"]}}
    for number in range(chance.randint(1, 3)):
        x = -length * (number + 1) / 5
        tubes[f"cross {number + 1}"] = {
            "shape": chance.choice(["9.5 x 0.9", "10 x 1"]),
            "start": {"at": [x, width / 2, height], "on": ["rail"]},
            "end": {"at": [x, -width / 2, height], "on": ["rail"]}}
    return toml({"title": "Rack", "tubes": tubes})


@pytest.mark.parametrize("seed", seeds(3))
def test_a_plausible_rack_goes_through_every_verb_that_is_about_it(seed, tmp_path):
    file = write(tmp_path, rack(random.Random(seed)))
    for verb in ("job", "layout", "bends"):
        assert check(verb, file, "--json") == 0


def test_no_words_of_a_plausible_racks_packet_stand_on_others_or_leave_the_page():
    for page in laid_out(rack(random.Random(7))):
        assert not overlapping(page.marks), page.letter
        box = bounds(page.marks)
        assert box.left >= 0 and box.bottom >= 0
        assert box.right <= page.width and box.top <= page.height
