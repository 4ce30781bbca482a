"""``coper clearance`` as a person runs it."""

import json
import math
from pathlib import Path

import pytest

from coper.job.read import parse_job
from coper.pages.compose import compose
from coper.sheets.clearance import clearance_blocks
from coper.verbs.clearance import clearance
from tests.cli.run import run

DEMO = Path(__file__).parents[2] / "demo" / "wagtail.toml"

JOB = """
[bicycle]
drop = 58
chain_stay = 419
rear_wheel = "47-507"

[drive]
slot = 20
slot_at = 2
ring = 44
sprocket = 18
crank = 152
crank_inside = 62

[tubes.bridge]
shape = "10 x 0.9"
start = { at = [-100, 40, 58] }
end = { at = [-100, -40, 58] }
"""
BACK = math.sqrt(419**2 - 58**2)  # the axle's distance behind the bracket


@pytest.fixture
def file(tmp_path):
    def write(text=JOB):
        path = tmp_path / "job.toml"
        path.write_text(text)
        return str(path)
    return write


def printed(*words, status=0):
    found, out, err = run("clearance", *words)
    assert (found, err) == (status, "")
    return out


def data(*words, status=0):
    return json.loads(printed(*words, "--json", status=status),
                      parse_constant=lambda word: pytest.fail(f"{word} in the JSON"))


def test_the_demo_tells_tyres_cranks_heels_chain_and_guidance():
    out = printed(str(DEMO))
    for words in ("rear tyre 40-507", "front tyre 40-507", "chain-stay, both sides", "crank: ",
                  "heel: ", "44 and 18 teeth", "16 CFR 1512.11(b)", "one-of-a-kind"):
        assert words in out
    assert max(map(len, out.splitlines())) < 130


def test_the_demos_json_is_whole_and_sorted():
    found = data(str(DEMO))
    assert found["units"] == {"length": "mm", "angle": "deg"} and found["ok"] is True
    gaps = [row["gap"] for row in found["clearance"]]
    assert gaps == sorted(gaps)
    assert {(row["wheel"], row["axle"]) for row in found["clearance"]} == {
        ("rear", "front of slot"), ("rear", "drawn"), ("rear", "rear of slot"), ("front", "drawn")}
    tubes = {(row["tube"], row["side"]) for row in found["clearance"]}
    assert {("chain-stay", "left"), ("chain-stay", "right"), ("stay-bridge", "centre")} <= tubes
    assert len(found["clearance"]) == 4 * len(tubes)
    assert set(found["chain"]) == {"ring", "sprocket", "drawn", "choices", "instead"}


def test_a_bridge_across_the_middle_plane_is_off_by_what_the_radii_leave(file):
    found = data(file())
    by_axle = {row["axle"]: row["gap"] for row in found["clearance"]}
    for axle, moved in (("front of slot", 2), ("drawn", 0), ("rear of slot", -18)):
        assert by_axle[axle] == pytest.approx(BACK - moved - 100 - 5 - 300.5, abs=1e-6)
    out = printed(file())
    assert f"{BACK - 2 - 405.5:.2f} mm" in out and "front of slot" in out


def test_the_chains_links_stand_with_where_the_axle_is(file):
    links = data(file())["chain"]["choices"][0]
    reach = math.hypot(BACK - 2 + links["ahead"], 58) / 12.7
    spread = (26 / (2 * math.pi)) ** 2
    # A chain maker's engineering page: 2C + A/2 + T/C.
    assert links["links"] == pytest.approx(2 * reach + 31 + spread / reach, abs=1e-9)
    assert f"{links['links']} links: axle {links['ahead']:.2f} mm from the slot's front end" in (
        printed(file()))


def test_a_limit_that_a_gap_falls_below_ends_with_1(file):
    least = BACK - 2 - 405.5
    assert "GOOD" in printed(file(), "--limit", f"{least - 0.01:.3f}")
    out = printed(file(), "--limit", f"{least + 0.01:.3f}", status=1)
    assert "TOO CLOSE  bridge" in out
    assert data(file(), "--limit", "99", status=1)["ok"] is False


def test_a_tube_in_the_tyre_and_one_in_the_spokes_are_named_as_such(file):
    out = printed(file(JOB.replace("-100", "-130")), status=1)
    assert "fouls by " in out and "TOO LITTLE" in out
    out = printed(file(JOB.replace("-100", "-250")), "--limit", "1", status=1)
    assert "through the spokes" in out


def test_a_plate_is_named_as_left_out(file):
    plate = ('[tubes.gusset]\nshape = "plate 6"\nstart = { at = [0, 0, 50] }\n'
             "end = { at = [0, 0, 90] }\n")
    assert "! gusset is left out" in printed(file(JOB + plate))


@pytest.mark.parametrize(("old", "new", "says"), [
    ("[bicycle]\ndrop = 58\nchain_stay = 419\nrear_wheel = \"47-507\"", "",
     "bicycle: the chain's rear axle is not known; give chain_stay and drop"),
    ("ring = 44", "ring = 'big'", "drive.ring: 'big' is not a number of teeth"),
    ("sprocket = 18", "", "drive.sprocket: missing; add it, such as sprocket = 18"),
    ("slot_at = 2", "slot_at = 40", "drive.slot_at"),
    ("ring = 44\nsprocket = 18", "ring = 130\nsprocket = 96",
     "check the teeth and the axle's place")])
def test_a_wrong_or_missing_number_names_its_key_and_the_mend(file, old, new, says):
    assert old in JOB
    name = file(JOB.replace(old, new))
    status, out, err = run("clearance", name)
    assert (status, out) == (2, "")
    assert says in err and err.startswith(f"coper: {name}: ") and err.count("\n") == 1


@pytest.mark.parametrize(("words", "says"), [
    (("--limit", "0"), "--limit: 0 is not a size"), (("--limit", "near"), "--limit: near"),
    (("--limt", "5"), "did you mean --limit?")])
def test_options_that_cannot_be_used_get_one_line(words, says):
    status, out, err = run("clearance", str(DEMO), *words)
    assert (status, out) == (2, "")
    assert says in err and err.count("\n") == 1


def test_a_job_without_wheels_says_what_to_give(tmp_path):
    path = tmp_path / "job.toml"
    path.write_text(JOB[JOB.index("[tubes"):])
    status, _, err = run("clearance", str(path))
    assert status == 2 and "bicycle: no wheel is known" in err and "rear_wheel" in err


def test_the_packets_blocks_say_what_the_screen_says():
    blocks = clearance_blocks(clearance(parse_job(DEMO.read_text())).result)
    assert [block.name for block in blocks] == [
        "clearance rear", "clearance front", "clearance crank", "clearance heel",
        "at wheel rear", "at wheel front", "chain", "clearance guidance"]
    words = {mark.words for block in blocks for mark in block.marks if hasattr(mark, "words")}
    assert "chain-stay, both sides" in words
    assert "Clearance of the rear tyre 40-507" in words
    assert len(compose(blocks, "a4")) == 1
