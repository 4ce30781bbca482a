"""The shop book on the command line: rounds kept by ``regrind``, and what ``book`` shows."""

import json
from pathlib import Path

import pytest

from tests.cli.run import run

STAY = ("chain-stay", "left", "start")
FIRST = "0=0.5,45=0.3,90=0.1,135=0.3,180=0.6,225=0.4,270=0,315=0.2"
SECOND = "0=0.2,45=0.1,90=0.1,135=0.1,180=0.2,225=0.1,270=0,315=0.1"
TOP = Path(__file__).parents[2]


@pytest.fixture(autouse=True)
def bench(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("frame.toml").write_text((TOP / "demo" / "wagtail.toml").read_text())


def ground(gaps, *more, end=STAY):
    return run("regrind", "frame.toml", *end, "--gaps", gaps, *more)


def held(*words):
    status, out, err = run("book", "frame.toml", *words, "--json")
    assert (status, err) == (0, "")
    return json.loads(out)


def test_a_round_is_kept_with_its_answer_and_the_next_says_what_it_promised():
    first = json.loads(ground(FIRST, "--json")[1])
    assert first["book"]["kept"] and first["book"]["round"] == 1
    assert "round 2 of chain-stay left start, kept in frame.book" in ground(SECOND)[1]
    one, two = held()["rounds"]
    assert (one["tube"], one["side"], one["end"]) == STAY
    assert one["regrind"] == first["regrind"] and one["largest"] == 0.6
    assert one["gaps"] == [[45.0 * n, gap] for n, gap in enumerate(
        (0.5, 0.3, 0.1, 0.3, 0.6, 0.4, 0, 0.2))]
    assert (two["round"], two["largest"], two["typed"]) == (2, 0.2, SECOND)
    out = ground(SECOND)[1]
    assert "round 2 of chain-stay left start was kept already" in out
    promised = first["regrind"]["largest_gap_after"]
    assert f"0.60 mm at the most, then {promised:.2f} mm was to be expected: it is 0.20 mm" in out


def test_nothing_is_kept_where_nobody_wants_it_nor_of_two_tubes():
    assert "book" not in json.loads(ground(FIRST, "--no-book", "--json")[1])
    run("regrind", "28.6 x 0.9", "38.1", "--angle", "62", "--gaps", FIRST)
    assert [one.name for one in Path().iterdir()] == ["frame.toml"]


def test_a_gap_that_grew_and_a_cut_that_became_another_are_asked_about():
    ground(SECOND)
    out = ground(FIRST, "--cut", "square")[1]
    assert "the largest gap has grown by 0.40 mm since round 1" in out
    assert "round 1 was answered for an end cut bevelled, this one for square" in out
    assert "grown" not in ground(SECOND, "--cut", "square")[1]


def test_readings_of_the_left_end_are_not_those_of_the_right():
    ground(FIRST)
    right = ("chain-stay", "right", "start")
    assert "round 1 of chain-stay right start" in ground(SECOND, end=right)[1]
    assert [one["side"] for one in held(*right)["rounds"]] == ["right"]
    assert [one["side"] for one in held(*STAY)["rounds"]] == ["left"]


def test_a_damaged_book_is_said_to_be_so_and_the_answer_comes_all_the_same():
    ground(FIRST)
    Path("frame.book").write_bytes(b"soot" * 2000)
    status, out, err = ground(SECOND)
    assert (status, err) == (0, "") and "take off" in out
    assert "! frame.book was damaged" in out and "round 1 of chain-stay" in out
    aside = list(Path().glob("frame-damaged-*.book"))
    assert [one.read_bytes() for one in aside] == [b"soot" * 2000]


def test_a_book_that_cannot_be_opened_stops_no_answer():
    Path("frame.book").mkdir()
    status, out, _ = ground(SECOND)
    assert status == 0 and "take off" in out and "! not kept: " in out
    record = json.loads(ground(SECOND, "--json")[1])
    assert record["book"]["kept"] is False and "frame.book" in record["book"]["notes"][0]


def test_a_step_is_ticked_and_the_tick_taken_away():
    assert run("book", "frame.toml", *STAY, "--tick", "fitted")[0] == 0
    assert [(one["side"], one["step"]) for one in held()["ticks"]] == [("left", "fitted")]
    run("book", "frame.toml", *STAY, "--untick", "fitted")
    assert held()["ticks"] == []


def test_the_job_as_it_was_is_written_out_again_and_a_broken_job_does_not_hide_it():
    text = Path("frame.toml").read_text()
    ground(FIRST)
    Path("frame.toml").write_text(text + "nonsense")
    status, out, _ = run("book", "frame.toml", "--version", "1", "--write", "before.toml")
    assert status == 0 and Path("before.toml").read_text() == text
    assert "rounds of chain-stay left start" in out and "! the job cannot be read: " in out
    assert run("book", "frame.toml", "--version", "1", "--write", "before.toml")[0] == 2


@pytest.mark.parametrize(("words", "fault"), [
    (("nothing.toml",), "nothing.toml: no such file"),
    (("frame.toml", "chain-stay", "start"), "there is a left and a right one"),
    (("frame.toml", "stay", "start"), "the job has no tube 'stay'"),
    (("frame.toml", "chain-stay", "left"), "'left' is no end of it"),
    (("frame.toml", "--tick", "cut"), "--tick: of which end"),
    (("frame.toml", *STAY, "--tick", "sawn"), "--tick: 'sawn' is not known"),
    (("frame.toml", *STAY, "--tick", "cut", "--untick", "cut"), "--tick: to tick and to untick"),
    (("frame.toml", "--version", "1"), "--write: missing"),
    (("frame.toml", "--write", "x.toml"), "--version: missing"),
    (("frame.toml", "--version", "4", "--write", "x.toml"), "its book has no version 4"),
])
def test_words_that_ask_for_what_is_not_there_are_refused_in_a_line(words, fault):
    status, out, err = run("book", *words)
    assert status == 2 and out == "" and len(err.splitlines()) == 1
    assert fault in err, err
    assert not list(Path().glob("*.book"))


def test_an_inch_job_tells_its_rounds_in_inches():
    Path("frame.toml").write_text((TOP / "demo" / "dipper.toml").read_text())
    status, out, _ = ground("0=.02,90=0,180=.02,270=.01", end=("cross-rear", "start"))
    assert status in (0, 1) and "round 1 of cross-rear start, kept in frame.book" in out
    shown = run("book", "frame.toml")[1]
    assert "largest in" in shown and "0.02" in shown and " mm" not in shown
