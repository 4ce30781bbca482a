"""The cut list as ``coper job`` tells it."""

import json

import pytest

from tests.cli.run import run
from tests.cli.test_job import DEMO


def test_the_demo_tells_every_bar_and_how_the_tapered_stays_are_cut():
    status, out, err = run("job", str(DEMO))
    assert (status, err) == (0, "")
    printed = out[out.index("cut list, kerf 1.50 mm"):]
    for line in ("31.8 x 0.9: 1 bar", "no other way uses less", "seat-tube", "; offcut ",
                 "chain-stay left and right", "1. Cut the thick end first",
                 "2. Cut the thin end last", "blank of a bent tube is straight"):
        assert line in printed


def test_the_json_has_every_blank_once():
    status, out, _ = run("job", str(DEMO), "--json")
    record = json.loads(out)
    assert status == 0
    cuts = record["cut_list"]
    straight = [piece["name"] for stock in cuts["stocks"] for bar in stock["bars"]
                for piece in bar["pieces"]]
    tapered = [blank["name"] for blank in cuts["tapered"] for _ in blank["sides"]]
    assert sorted(straight + tapered) == sorted(tube["name"] for tube in record["tubes"])
    blanks = {(tube["name"], tube["side"]): tube["blank"] for tube in record["tubes"]}
    for stock in cuts["stocks"]:
        for blank in stock["blanks"]:
            assert blank["blank"] == blanks[blank["name"], blank["side"]]
            assert blank["blank"] == blank["length"] == pytest.approx(
                blank["shaped"] + 2 * cuts["allowance"])


SHORT = """\
[shop]
stock = ["2m"]
[stock]
"40 x 3" = ["60mm"]
[tubes.shell]
shape = "40 x 3"
start = { at = [0, -35, 0] }
end = { at = [0, 35, 0] }
[tubes.post]
shape = "28.6 x 0.9"
start = { at = [0, 0, 0], on = ["shell"] }
end = { at = [0, 0, 300] }
"""


def test_a_blank_longer_than_its_stock_is_a_caution_that_says_what_would_do(tmp_path):
    file = tmp_path / "short.toml"
    file.write_text(SHORT)
    status, out, err = run("job", str(file), "--out", str(tmp_path / "out"))
    assert status == 0 and "coper:" not in err
    said = "! " + ('40 x 3: shell 70.00 mm is longer than every length in stock."40 x 3", the '
                   "longest is 60.00 mm (2-23/64 in); one of 70.00 mm (2-3/4 in) or more would do.")
    assert said in " ".join(out.split())
    assert "28.6 x 0.9: 1 bar" in out and list((tmp_path / "out").glob("*.svg"))
    record = json.loads(run("job", str(file), "--json")[1])
    shell = next(stock for stock in record["cut_list"]["stocks"] if stock["shortages"])
    assert shell["bars"] is None and shell["shortages"][0]["longest"] == 60
    assert shell["shortages"][0]["blanks"] == [
        {"number": 1, "name": "shell", "side": "centre", "length": 70}]


def test_a_job_without_stock_lengths_still_tells_what_is_needed(tmp_path):
    file = tmp_path / "plain.toml"
    file.write_text("[tubes.rail]\nshape = '20 x 1'\nstart = { at = [0, 0, 0] }\n"
                    "end = { at = [0, 0, 300] }\n")
    status, out, _ = run("job", str(file))
    assert status == 0 and "20 x 1: 300.00 mm (11-13/16 in) in total" in out
