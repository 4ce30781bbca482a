"""``coper made`` on the command line: what was measured, kept, and what follows in words."""

import json
import re
from pathlib import Path

import pytest

from coper.bench.setup import SawShop
from coper.job.named_end import find_end
from coper.job.read import read_job
from coper.sheets.fit_log import end_log
from tests.cli.run import run

TOP = Path(__file__).parents[2]


@pytest.fixture(autouse=True)
def bench(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("frame.toml").write_text((TOP / "demo" / "wagtail.toml").read_text())


def made(*words, status=0):
    found, out, err = run("made", "frame.toml", *words)
    assert (found, err) == (status, "")
    return out


def test_a_short_left_stay_is_told_with_its_axle_its_ways_and_its_sheets():
    out = made("chain-stay", "left", "length=378.46")
    assert "378.46 mm over all, 382.46 mm meant: 4.00 mm too short" in out
    assert re.search(r"takes its point 4\.00 mm: 3\.9\d mm forward, 0\.4\d mm right, .* down", out)
    assert "with it, as one part: axle-left, dropout, lug, tip" in out
    assert re.search(r"axle +its right end is 3\.9\d mm behind the other", out)
    assert "its front stands 7.88 mm right, its rear 7.46 mm left" in out
    assert "its right end is 0.59 mm higher than the other: the wheel leans 0.26° to" in out
    assert "axle's left end 3.94 mm to the rear in its slot, of 18.00 mm" in out
    assert "(back = 19.00)" in out and "cut chain-stay right 4.00 mm shorter" in out
    assert re.search(r"seat-stay left +-?\d\.\d\d +PRINT AGAIN", out)
    assert "kept in frame.book" in out


def test_the_right_stay_is_judged_with_the_left_one_that_the_book_has():
    made("chain-stay", "left", "length=378.46")
    out = made("chain-stay", "right", "length=378.96", "--no-book")
    assert "chain-stay left: 4.00 mm too short, as the book has it" in out
    assert "its right end is 0.49 mm behind the other" in out
    assert "cut chain-stay right 0.50 mm shorter: then both twins are the same" in out
    held = json.loads(run("book", "frame.toml", "--json")[1])["made"]
    assert [(one["side"], one["what"], one["typed"]) for one in held] == [
        ("left", "length", "378.46")]


def test_a_twins_angle_counts_too_however_it_was_named():
    for name in ("angle", "angle-start"):
        made("chain-stay", "left", f"{name}=85")
        out = made("chain-stay", "right", "length=382.46", "--no-book")
        assert "chain-stay left: 1.01° too wide, as the book has it" in out
        Path("frame.book").unlink()


def test_an_angle_is_that_of_the_end_that_is_put_home_first():
    record = json.loads(made("chain-stay", "left", "angle=85", "--json"))
    assert record["made"]["seated"] == "start" and record["made"]["longer"] is None
    assert record["made"]["wider"] == pytest.approx(85 - 83.99166, abs=1e-4)
    assert record["book"]["kept"]
    other = json.loads(made("top-tube", "angle-end=86.17", "--no-book", "--json"))
    assert other["made"]["seated"] == "end" and other["moves"]["held_by"] == ["seat-tube"]
    same = json.loads(made("chain-stay", "left", "angle-start=85", "--no-book", "--json"))
    assert same["made"] == record["made"] and same["moves"] == record["moves"]


def test_the_log_expects_the_length_and_its_command_says_that_all_holds():
    job = read_job("frame.toml")
    for name in (("chain-stay", "right", "start"), ("top-tube", None, "end")):
        end = find_end(job, *name)
        log = end_log(end.piece, end.setup(SawShop()), "frame.toml")
        assert log.length == f"{end.piece.shaped:.2f}"
        command = log.made.removeprefix("Finished, length over all: coper ")
        angle = next(iter(log.angles))[1].removesuffix("°")
        filled = command.replace("__", log.length, 1).replace("__", angle)
        out = made(*filled.split()[2:], "--no-book")
        assert out.count("as meant") == 2 and "nothing: all else holds" in out


def test_a_part_in_inches_is_read_and_answered_in_inches():
    Path("frame.toml").write_text((TOP / "demo" / "dipper.toml").read_text())
    out = made("cross-rear", "length=20-3/4")
    assert "20.750 in over all, 20.750 in meant: as meant" in out and " mm" not in out


@pytest.mark.parametrize(("words", "fault"), [
    ((), "no tube"),
    (("top-tube",), "top-tube: nothing was measured"),
    (("top-tube", "length=9"), "length: 9 mm is no length of it: it is 474.36 mm over all"),
    (("top-tube", "length=x"), "length: x: no number"),
    (("top-tube", "length=-3"), "length: "),
    (("top-tube", "left", "length=470"), "there is one only"),
    (("chain-stay", "length=380"), "there is a left and a right one"),
    (("top-tube", "lengh=470"), "did you mean length?"),
    (("top-tube", "length=470", "length=471"), "length is given twice"),
    (("top-tube", "angle=94", "angle=95"), "angle is given twice"),
    (("top-tube", "angle=94", "angle-end=86"), "top-tube: angle and angle-end"),
    (("chain-stay", "left", "angle-end=60"), "its end seats on no main"),
    (("top-tube", "angle=10"), "angle: 10° is no angle of it: it is 94.83°"),
    (("top-tube", "angle-start=94", "angle-end=86"), "the tube is put home at one end first"),
    (("stay", "length=380"), "the job has no tube 'stay'"),
])
def test_what_cannot_be_measured_is_refused_in_a_line_and_not_kept(words, fault):
    status, out, err = run("made", "frame.toml", *words)
    assert status == 2 and out == "" and len(err.splitlines()) == 1 and fault in err, err
    assert not Path("frame.book").exists()
