"""``coper job`` as a person runs it."""

import json
import math
from pathlib import Path

import pytest

from tests.cli.run import run
from tests.drawing.readback import pdf_texts

DEMO = Path(__file__).parents[2] / "demo" / "wagtail.toml"


@pytest.fixture(scope="module")
def printed():
    status, out, err = run("job", str(DEMO))
    assert (status, err) == (0, "")
    return out


@pytest.fixture(scope="module")
def record():
    status, out, err = run("job", str(DEMO), "--json")
    assert (status, err) == (0, "")
    return json.loads(out, parse_constant=lambda word: pytest.fail(f"{word} in the JSON"))


def test_the_demo_tells_every_tube_and_side(printed):
    for line in ("shell: 40 x 3", "chain-stay, left: ", "chain-stay, right: ", "rack-hoop: "):
        assert line in printed
    assert "thick end is the start" in printed
    assert "the heels of both ends are in line" in printed
    assert printed.count("Vent closed tubes") == 1


def test_the_json_holds_what_the_design_lists(record):
    assert record["units"] == {"length": "mm", "angle": "deg"}
    assert [(tube["name"], tube["side"]) for tube in record["tubes"]][4:7] == [
        ("top-tube", "centre"), ("chain-stay", "left"), ("chain-stay", "right")]
    stay = record["tubes"][5]
    assert set(stay) >= {"name", "side", "shape", "length", "blank", "turn", "ends", "heels",
                         "cautions"}
    start, end = stay["ends"]["start"], stay["ends"]["end"]
    assert start["on"] == ["shell"] and start["cut"] == "bevelled" and end["cut"] == "plain"
    assert len(start["clock"]) == len(start["outer"]) == len(start["inner"]) == len(start["main"])
    main, = start["mains"]
    assert set(main) >= {"name", "angle", "offset", "heel_clock"}
    assert end["outer"] == [stay["length"] - 15] * 720 and end["main"] == [None] * 720


def test_the_demos_twins_are_each_others_mirror_image(record):
    tubes = {(tube["name"], tube["side"]): tube for tube in record["tubes"]}
    for name in ("chain-stay", "seat-stay"):
        left, right = tubes[name, "left"], tubes[name, "right"]
        assert left["blank"] == pytest.approx(right["blank"], abs=1e-6)
        assert left["ends"]["start"]["long_point"]["clock"] == pytest.approx(
            (180 - right["ends"]["start"]["long_point"]["clock"]) % 360, abs=1e-3)


def test_the_seat_tubes_start_is_where_the_check_formula_says(record):
    # Square on the shell, clock 0 along it: R at clock 0, sqrt(R^2 - r^2) a quarter on
    # (computed, the depth of saddle at 90 degrees is their difference).
    tubes = {tube["name"]: tube for tube in record["tubes"]}
    edge = tubes["seat-tube"]["ends"]["start"]
    at = dict(zip(edge["clock"], edge["outer"], strict=True))
    assert at[0] == pytest.approx(20) and at[90] == pytest.approx(math.sqrt(20**2 - 15.9**2))


def test_every_fault_of_a_bad_file_is_one_line_with_the_file_and_the_path(tmp_path):
    file = tmp_path / "bad.toml"
    file.write_text("titel = 3\n[tubes.a]\nshape = '20'\nstart = { at = 'axle' }\n")
    status, out, err = run("job", str(file))
    assert (status, out) == (2, "")
    lines = err.splitlines()
    assert len(lines) == 3
    assert all(line.startswith(f"coper: {file}: ") for line in lines)
    assert any("tubes.a.start.at: " in line for line in lines)


def test_a_tube_that_misses_is_named_with_the_file_and_the_path(tmp_path):
    file = tmp_path / "bad.toml"
    file.write_text(DEMO.read_text().replace("by = [0, 9, 0]", "by = [0, 40, 0]"))
    status, out, err = run("job", str(file), "--json")
    assert (status, out) == (2, "")
    assert err.startswith(f"coper: {file}: tubes.seat-stay.start: the branch misses")
    assert err.count("\n") == 1


@pytest.mark.parametrize(("words", "said"), [
    (("job",), "FILE"), (("job", "none.toml"), "none.toml: no such file"),
    (("job", "."), "a folder"), (("job", ""), "no file name"),
    (("job", "none.toml", "--jsn"), "did you mean --json?")])
def test_words_that_cannot_be_used_get_one_line(words, said):
    status, out, err = run(*words)
    assert (status, out) == (2, "")
    assert said in err and err.count("\n") == 1


RAIL = """\
[tubes.rail]
shape = "19 x 1"
start = { at = [0, 0, 0] }
end = { at = [100, 0, 0] }
"""


@pytest.mark.parametrize(("text", "said"), [
    ('title = "a\\nb"\n' + RAIL, "title: 'a b' is not a name; "),
    (RAIL.replace("tubes.rail", 'tubes."ra\\u0007il"'), "is not a name; write one on one line"),
    (RAIL.replace("tubes.rail", 'tubes." "'), "is not a name; "),
    ('[points]\n"" = [0, 0, 0]\n' + RAIL, 'points."": \'\' is not a name; '),
    (RAIL.replace("{ at = [0, 0, 0] }", "[0, 0, 0]"), "is not a table; write { at = [0, 0, 0] }"),
    ('[shop]\npaper = "a5"\n' + RAIL, "shop.paper: 'a5' is not known; known are a3, a4, "),
    (RAIL.replace("[100, 0, 0]", "[1000000, 0, 0]"), "tubes.rail.end.at[0]: 1000000: longer than"),
])
def test_what_a_line_of_paper_cannot_hold_is_refused_as_the_file_is_read(text, said, tmp_path):
    file = tmp_path / "rail.toml"
    file.write_text(text)
    status, out, err = run("job", str(file))
    assert (status, out) == (2, "") and err.count("\n") == 1
    assert said in err


def test_a_letter_that_paper_lacks_stops_no_packet_and_is_a_caution_on_it(tmp_path):
    file = tmp_path / "rail.toml"
    file.write_text(RAIL.replace("tubes.rail", 'tubes."レール"'), encoding="utf-8")
    status, _, err = run("job", str(file), "--out", str(tmp_path / "out"))
    assert status == 0 and "Traceback" not in err
    words = " ".join(text for text, _ in pdf_texts((tmp_path / "out" / "rail.pdf").read_bytes()))
    assert "lacks" in words and "□" in words


@pytest.mark.parametrize(("out", "said"), [
    ("no/such", "there is no folder"), ("rail.toml", "this is a file"), ("", "--out: no name"),
    ("x" * 300, "no folder can have this name")])
def test_a_folder_that_cannot_be_written_into_is_refused_before_the_packet_is_made(
        out, said, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "rail.toml").write_text(RAIL)
    status, printed, err = run("job", "rail.toml", "--out", out)
    assert (status, printed) == (2, "") and said in err and err.count("\n") == 1


def test_a_job_without_a_name_or_with_two_gets_one_line(tmp_path):
    assert run("job", "")[2] == "coper: FILE: no file name; give a job file, such as frame.toml\n"
    status, _, err = run("job", "one.toml", "other.toml")
    assert status == 2 and "'other.toml' is one word too many; give one FILE" in err


FEET = RAIL.replace("19 x 1", "plate 5") + """\
[tubes.leg]
shape = "16 x 1"
start = { at = [50, 0, 0], on = ["rail"] }
end = { at = [60, 0, 90] }
"""


def test_a_leg_stands_on_a_plate_whose_second_point_is_ahead_and_not_on_one_turned_over(tmp_path):
    file = tmp_path / "feet.toml"
    file.write_text(FEET)
    assert run("job", str(file))[0] == 0
    file.write_text(FEET.replace('"plate 5"', '"plate 5"\nturn = 180'))
    status, out, err = run("job", str(file))
    assert (status, out) == (2, "") and "tubes.leg.start: the branch lies behind" in err
    assert "give the plate turn = 90, 180 or 270" in err
