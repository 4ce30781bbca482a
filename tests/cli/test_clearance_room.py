"""``coper clearance`` on forks, brakes and mudguards, as a person runs it."""

import json
import math

import pytest

from coper.job.read import parse_job
from coper.sheets.clearance import clearance_blocks
from coper.verbs.clearance import clearance
from tests.cli.run import run

JOB = """
[bicycle]
drop = 58
chain_stay = 419
rear_wheel = "40-507"
head_angle = 70
head_bottom = [382.6, 380.6]
fork_length = 310
rake = 8
front_wheel = "40-559"

[drive]
rear_brake = { bolt = "bridge", reach = [47, 57] }

[tubes.bridge]
shape = "9.5 x 0.9"
start = { at = [-215.6, 22.8, 297] }
end = { at = [-215.6, -22.8, 297] }
"""
BACK = math.sqrt(419**2 - 58**2)
NEEDED = math.hypot(BACK - 215.6, 297 - 58) - 253.5
GOOD_FORK = ("fork_length = 310", "fork_length = 350")
GOOD_BRAKE = ("[47, 57]", "[55, 73]")


@pytest.fixture
def asked(tmp_path):
    def ask(*changes, words=(), status=0):
        text = JOB
        for old, new in changes:
            assert old in text
            text = text.replace(old, new)
        file = tmp_path / "job.toml"
        file.write_text(text)
        found, out, err = run("clearance", str(file), *words)
        assert (found, err) == (status, "")
        return out
    return ask


def test_a_wheel_in_the_crown_of_a_short_fork_fouls_by_how_deep_it_is_and_ends_with_1(asked):
    out = asked(GOOD_BRAKE, status=1)
    assert "fouls by 9.40 mm, tyre to the middle of the crown race" in out
    assert ("THE WHEEL DOES NOT GO IN: its radius is 319.50 mm, and the fork is 310.00 mm long"
            in out)
    assert "fouls        crown race" in out
    found = json.loads(asked(GOOD_BRAKE, words=["--json"], status=1))
    assert found["ok"] is False
    (room,) = found["room"]
    assert room == {"wheel": "front", "part": "tyre", "to": "crown race", "side": "",
                    "gap": pytest.approx(math.hypot(310, 8) - 319.5)}
    assert found["no_way_in"] == [
        {"wheel": "front", "what": "radius", "found": 319.5, "room": 310}]


def test_a_fork_with_room_ends_with_0_and_says_it(asked):
    out = asked(GOOD_FORK, GOOD_BRAKE)
    assert f"{math.hypot(350, 8) - 319.5:.2f} mm" in out and "fouls" not in out
    said = asked(GOOD_FORK, GOOD_BRAKE, ("[drive]", "[drive]\nfork_blades = 46"),
                 words=["--limit", "3.5"], status=1)
    assert "3.00 mm (1/8 in) on both sides, tyre to blade" in said and "TOO CLOSE  blade" in said


def test_a_tyre_wider_than_between_the_blades_does_not_go_in(asked):
    out = asked(GOOD_FORK, GOOD_BRAKE, ("[drive]", "[drive]\nfork_blades = 38"), status=1)
    assert ("THE WHEEL DOES NOT GO IN: the tyre is 40.00 mm wide, and the blades are 38.00 mm "
            "apart") in out
    assert "fouls by 1.00 mm on both sides, tyre to blade" in out


def test_a_brake_that_does_not_reach_ends_with_1_and_says_which_way_the_bolt_moves(asked):
    out = asked(GOOD_FORK, status=1)
    assert (f"{NEEDED:.2f} mm from bolt to pads: TOO SHORT by {NEEDED - 57:.2f} mm; move the bolt "
            "down, towards the axle") in out
    (brake,) = json.loads(asked(GOOD_FORK, words=["--json"], status=1))["brake"]
    assert brake == {"wheel": "rear", "axle": "drawn", "needed": pytest.approx(NEEDED),
                     "track": 253.5, "reach": [47, 57], "errs": pytest.approx(NEEDED - 57),
                     "aside": 0, "ok": False}
    out = asked(GOOD_FORK, ("[47, 57]", "[61, 78]"), status=1)
    assert f"TOO LONG by {61 - NEEDED:.2f} mm; move the bolt up, away from the axle" in out


def test_a_mudguard_has_its_own_gaps_to_the_tubes(asked):
    guard = ("[drive]", "[drive]\nrear_guard = { width = 44, gap = 9 }")
    found = json.loads(asked(GOOD_FORK, GOOD_BRAKE, guard, words=["--json"]))
    (gap,) = found["guard"]
    tyre = next(row["gap"] for row in found["clearance"] if row["wheel"] == "rear")
    assert (gap["wheel"], gap["tube"]) == ("rear", "bridge")
    assert gap["gap"] == pytest.approx(tyre - 9, abs=1e-6)
    out = asked(GOOD_FORK, GOOD_BRAKE, guard)
    assert "rear mudguard: 44.00 mm wide, 9.00 mm from the tread" in out
    assert "its edges 2.00 mm beyond the tyre on both sides" in out


def test_the_packets_sheet_says_of_fork_brake_and_mudguard_what_the_screen_says():
    text = JOB.replace(*GOOD_FORK).replace(*GOOD_BRAKE).replace(
        "[drive]", "[drive]\nfork_blades = 62\nrear_guard = { width = 50, gap = 8 }")
    blocks = clearance_blocks(clearance(parse_job(text)).result)
    assert "clearance mudguard rear" in [block.name for block in blocks]
    words = " ".join(mark.words for block in blocks for mark in block.marks
                     if hasattr(mark, "words"))
    for said in (f"crown: {math.hypot(350, 8) - 319.5:.2f} mm", "blades: 11.00 mm",
                 "from bolt to pads: GOOD", "Clearance of the rear mudguard"):
        assert said in words, said
