"""An end of a job by its name: the answers are the job's own, counted as its tube counts."""

import json
import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from coper import CoperError, ask_regrind, find_end, make_pieces, read_job
from coper.joint.fit.mount import Mounting
from coper.joint.tolerance.gap_batch import Errors, gap_batch
from tests.cli.run import run
from tests.drawing.readback import svg_texts

DEMO = "demo/wagtail.toml"
ENDS = [("seat-tube", "start"), ("down-tube", "start"), ("down-tube", "end"), ("top-tube", "start"),
        ("top-tube", "end"), ("chain-stay", "left", "start"), ("chain-stay", "right", "start"),
        ("seat-stay", "left", "start"), ("seat-stay", "right", "start"), ("stay-bridge", "start"),
        ("stay-bridge", "end"), ("rack-rail", "start"), ("rack-rail", "end")]
SEVERAL = ("down-tube", "start")
FAR = ("down-tube", "end")
EIGHT = np.arange(8) * 45.0


@cache
def job():
    return read_job(DEMO)


@cache
def pieces():
    return {piece.label: piece for piece in make_pieces(job())}


@cache
def job_ends():
    """The record of every end of the job, by tube, side and end."""
    record = json.loads(run("job", DEMO, "--json")[1])
    return {(tube["name"], *(() if tube["side"] == "centre" else (tube["side"],)), which): end
            for tube in record["tubes"] for which, end in tube["ends"].items()}


def data(verb, name, *more, status=0):
    found, out, err = run(verb, DEMO, *name, *more, "--json")
    assert (found, err) == (status, "")
    return json.loads(out)


def near(one, other, most=1e-9):
    as_floats = [np.array(values, dtype=float) for values in (one, other)]
    np.testing.assert_allclose(*as_floats, rtol=0, atol=most, equal_nan=True)


def test_every_coped_end_of_the_demo_is_among_those_that_are_asked_for():
    assert set(ENDS) == {name for name, end in job_ends().items() if end["cut"] != "plain"}


@pytest.mark.parametrize("name", ENDS, ids=" ".join)
def test_the_cope_and_the_gap_are_those_of_the_job(name):
    own = job_ends()[name]
    found = data("joint", name, "--points", "720")
    assert (found["tube"], found["end"]) == (name[0], name[-1])
    assert found["side"] == (name[1] if len(name) == 3 else "centre")
    cope = found["cope"]
    for key in ("clock", "outer", "inner"):
        near(cope[key], own[key])
    assert [None if at is None else own["on"][at] for at in cope["main"]] == own["main"]
    for key in ("long_point", "short_point"):
        near(cope[key]["along"], own[key]["along"])
    assert cope["open"] == own["open"]
    gap = data("fit", name, "--points", "72")["gap"]
    for key in ("clock", "outside", "root", "largest", "slide"):
        near(gap[key], own["gap"][key])


@pytest.mark.parametrize("name", [SEVERAL, FAR, ("chain-stay", "left", "start")], ids=" ".join)
def test_the_saws_setting_and_its_gap_are_those_of_the_packets_card(name):
    own = job_ends()[name]
    _, out, _ = run("saw", DEMO, *name, "--json")
    assert json.loads(out)["setup"] == own["setup"]
    sawn = json.loads(run("fit", DEMO, *name, "--cut", "saw", "--points", "72", "--json")[1])
    near(sawn["gap"]["outside"], own["setup"]["gap"]["outside"])
    near(sawn["gap"]["largest_clock"], own["setup"]["gap"]["largest_clock"], 1e-6)


def test_the_left_and_the_right_twin_are_mirror_images_and_not_one_end():
    left, right = (data("joint", ("chain-stay", side, "start"))["cope"]
                   for side in ("left", "right"))
    clock = np.arange(0, 360, 5.0)
    there, here = (np.interp(at % 360, one["clock"], one["outer"], period=360)
                   for one, at in ((left, clock), (right, 180 - clock)))
    near(here, there, 1e-3)
    assert np.abs(np.interp(clock, right["clock"], right["outer"], period=360) - there).max() > 1


def dry_fit(name, turn, clock):
    """Gaps of a bevelled end that slipped round by ``turn``, in the frame's own axes.

    Nothing of the joint is asked: points of the edge are set out on the tube by the tube's clock,
    pushed along it to where the first one touches the head tube, and measured from its axis.
    """
    piece = pieces()[name[0]]
    own, main = job_ends()[name], piece.end.mains[0]
    tube, shape = piece.tube, piece.tube.shape
    axis = (main.end - main.start) / np.linalg.norm(main.end - main.start)

    def points(at, along):
        radians, (first, second, ahead) = np.radians(at), tube.pose.axes
        ring = np.cos(radians)[:, None] * first + np.sin(radians)[:, None] * second
        return tube.start + shape.diameter / 2 * ring + along[:, None] * ahead

    def away(at):
        off = at - main.start
        square = off - (off @ axis)[:, None] * axis
        return np.linalg.norm(square, axis=1) - main.shape.diameter / 2

    def edge(at):
        return np.interp((at - turn) % 360, own["clock"], own["outer"], period=360)

    fine = np.arange(0, 360, 0.5)
    low, high = -3.0, 3.0  # how far towards the head tube
    for _ in range(40):
        middle = (low + high) / 2
        inside = away(points(fine, edge(fine) + middle)).min() < 0
        low, high = (low, middle) if inside else (middle, high)
    return away(points(np.asarray(clock), edge(np.asarray(clock)) + low))


@pytest.mark.parametrize("turn", [3.0, -3.0])
def test_clocks_and_turns_of_a_tubes_far_end_are_counted_as_the_tube_counts_them(turn):
    gap = data("fit", FAR, "--clock-error", str(turn), status=1)["gap"]
    clock = np.array([20.0, 70.0, 110.0, 160.0, 200.0, 250.0, 290.0, 340.0])
    expected = dry_fit(FAR, turn, clock)
    found = np.interp(clock, gap["clock"], gap["outside"], period=360)
    near(found, expected, 0.03)
    assert np.abs(np.interp(-clock % 360, gap["clock"], gap["outside"], period=360)
                  - expected).max() > 0.2
    worst = np.arange(0, 360, 1.0)[dry_fit(FAR, turn, np.arange(0, 360, 1.0)).argmax()]
    assert abs((gap["largest_clock"] - worst + 180) % 360 - 180) < 4


@pytest.mark.parametrize("turn", [3.0, -3.0])
def test_a_far_end_that_slipped_round_is_found_by_its_readings_and_ground_where_it_touches(turn):
    gaps = dry_fit(FAR, turn, EIGHT)
    typed = ",".join(f"{clock:g}={gap:.3f}" for clock, gap in zip(EIGHT, gaps, strict=True))
    found = data("regrind", FAR, "--no-book", "--gaps", typed, status=1)["regrind"]
    causes = {cause["cause"]: cause for cause in found["causes"]}
    slipped = causes["turned on the tube"]
    assert slipped["amount"] == pytest.approx(turn, abs=0.3)
    assert slipped["low"] < slipped["amount"] < slipped["high"]
    assert max(causes, key=lambda name: causes[name]["explains"]) == "turned on the tube"
    fine = np.arange(0, 360, 1.0)
    after = dry_fit(FAR, turn, fine)
    assert np.interp(fine[after.argmin()], found["clock"], found["remove"], period=360) > 0.8 * (
        found["largest"])


def test_with_several_mains_what_is_wrong_with_the_whole_end_is_found():
    end = find_end(job(), "down-tube", None, "start")
    wrong = Mounting(0.8, 2.0, -0.4)
    gap = data("fit", SEVERAL, "--angle-error", "0.8", "--clock-error", "2", "--offset-error",
               "-0.4", status=1)["gap"]
    pairs = [(clock, float(np.interp(clock, gap["clock"], gap["outside"], period=360)))
             for clock in np.arange(0, 360, 30.0)]
    found = ask_regrind(end, pairs).result
    amounts = {cause.cause: cause.amount for cause in found.counted_causes(end.joint)}
    assert amounts["turned on the tube"] == pytest.approx(wrong.clock, abs=0.3)
    assert amounts["wrong angle"] == pytest.approx(wrong.angle, abs=0.15)
    assert amounts["wrong offset"] == pytest.approx(wrong.offset, abs=0.15)


def test_tolerance_takes_ends_on_several_mains_as_a_whole(monkeypatch):
    monkeypatch.setattr("coper.verbs.tolerance.JOINTS", 20)
    gap = data("fit", SEVERAL, "--angle-error", "0.02", "--limit", "9")["gap"]["largest"]
    care = data("tolerance", SEVERAL)["tolerance"]["things"]["angle"]
    assert care["gap_per_unit"]["plus"] == pytest.approx(gap / 0.02, abs=0.05)


@pytest.mark.parametrize("verb", ["fit", "regrind"])
def test_of_several_mains_it_is_said_to_which_one_angle_and_offset_are(verb):
    more = ("--no-book", "--gaps", "0=0,90=1,180=1") if verb == "regrind" else ()
    assert "those to shell, which takes most of the end" in run(verb, DEMO, *SEVERAL, *more)[1]
    assert "takes most" not in run(verb, DEMO, *FAR, *more)[1]


def test_a_turn_of_a_far_end_has_its_plus_and_minus_the_way_the_tube_counts():
    turns = np.array((1.5, -1.5))
    model = gap_batch(find_end(job(), FAR[0], None, FAR[1]).joint, "bevelled")
    gaps = model.largest(replace(Errors.none(2), turn=turns, offset=np.full(2, 0.3)))
    assert abs(gaps[0] - gaps[1]) > 0.05
    for turn, gap in zip(turns, gaps, strict=True):
        gap_there = data("fit", FAR, "--clock-error", str(turn), "--offset-error", "0.3", status=1)
        assert gap_there["gap"]["largest"] == pytest.approx(gap, abs=0.01)


@pytest.mark.parametrize(("words", "said"), [
    ((), "no tube and no end of it; name one of shell, head-tube"),
    (("chainstay", "left", "start"), "no tube 'chainstay'; did you mean chain-stay?"),
    (("chain-stay", "start"), "chain-stay: there is a left and a right one; say which: "
                              "chain-stay left start, or chain-stay right start"),
    (("seat-tube", "left", "start"), "seat-tube: there is one only"),
    (("seat-tube",), f"write such as coper fit {DEMO} seat-tube start"),
    (("chain-stay", "start", "left"), f"write such as coper fit {DEMO} chain-stay left start"),
    (("seat-tube", "start", "12"), "'start 12' is no end of it"),
    (("seat-tube", "end"), "it is cut off plain and seats on nothing; name one of seat-tube start"),
    (("seat-tube", "start", "--angle", "62"), "--angle: the job says how the end stands"),
    (("seat-tube", "start", "--offset", "0"), "--offset: the job says how the end stands"),
    (("seat-tube", "start", "--main-turn", "0"), "--main-turn: the job says"),
    ((*SEVERAL, "--cut", "saw=38"), "an end on several mains is not cut by one saw; give saw"),
    (("rack-rail", "end", "--cut", "saw"), "the end's card has no saw for it: a bent main"),
])
def test_an_end_that_is_not_there_gets_one_line_that_names_those_that_are(words, said):
    status, out, err = run("fit", DEMO, *words)
    assert (status, out, err.count("\n")) == (2, "", 1)
    assert err.startswith("coper: ") and said in err


@pytest.mark.parametrize(("file", "said"), [
    ("nothing.toml", "no such file"), ("demo", "demo: a folder; give the job file in it"),
    ("README.md", "README.md: line"),
])
def test_a_file_that_is_no_job_is_refused_by_its_name(file, said):
    status, out, err = run("saw", file, "seat-tube", "start")
    assert (status, out) == (2, "") and said in err


def test_an_end_in_one_plane_and_a_tube_that_stands_already_have_no_gap_to_read(tmp_path):
    file = tmp_path / "corner.toml"
    file.write_text("""
[tubes.rail]
shape = "box 30 by 30 corner 3 x 2"
start = { at = [0, 0, 0] }
end = { at = [300, 0, 0], mitre = "post" }

[tubes.post]
shape = "box 30 by 30 corner 3 x 2"
start = { at = [300, 0, 0] }
end = { at = [300, 0, 300] }

[tubes.old]
shape = "30 x 2"
start = { at = [0, 100, 0] }
end = { at = [300, 100, 0] }
existing = true
""")
    gaps = ("--no-book", "--gaps", "0=0,90=1,180=1")
    for verb, more in (("fit", ()), ("tolerance", ()), ("regrind", gaps)):
        status, _, err = run(verb, str(file), "rail", "end", *more)
        assert status == 2 and "it is cut in one plane and seats on no main" in err
    assert "Chop saw or band saw" in run("saw", str(file), "rail", "end")[1]
    assert run("joint", str(file), "rail", "end")[0] == 0
    assert "it stands already" in run("fit", str(file), "old", "start")[2]


def test_a_job_in_a_file_of_any_name_is_a_file_and_a_tube_in_words_is_none(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("frame").write_text((Path(__file__).parents[2] / DEMO).read_text())
    assert run("fit", "frame", "seat-tube", "start")[0] == 0
    assert run("fit", "28.6 x 0.9", "38.1", "--angle", "62")[0] == 0


def test_the_name_of_the_end_may_come_after_the_options():
    before = run("regrind", DEMO, *FAR, "--no-book", "--gaps", "0=0,90=1,180=1")
    assert run("regrind", "--no-book", "--gaps", "0=0,90=1,180=1", DEMO, *FAR) == before
    assert run("regrind", DEMO, FAR[0], "--no-book", "--gaps", "0=0,90=1,180=1", FAR[1]) == before
    assert before[0] == 1 and "down-tube end" in before[1]


def test_the_ordinates_of_a_far_end_are_lengths_to_its_own_cope(tmp_path):
    table = tmp_path / "far.csv"
    assert run("joint", DEMO, *FAR, "--steps", "8", "--table", str(table))[0] == 0
    head, *rows = [row.split(",") for row in table.read_text().splitlines()]
    assert head[-1] == "line_from_start_mm"
    own = job_ends()[FAR]
    girth = math.pi * 31.8
    for clock, way, length, _, line in rows:
        edge = np.interp(float(clock), own["clock"], own["outer"], period=360)
        assert float(line) + float(length) == pytest.approx(edge, abs=0.01)
        assert float(way) == pytest.approx(float(clock) / 360 * girth, abs=0.01)


def test_its_sheets_name_the_end_and_what_to_type(tmp_path):
    file = tmp_path / "end.svg"
    for verb, more in (("joint", ()), ("saw", ()),
                       ("regrind", ("--no-book", "--gaps", "0=0,90=1,180=0.5,270=0"))):
        run(verb, DEMO, *FAR, *more, "--svg", str(file), "--force")
        words = " ".join(words for page in tmp_path.iterdir()
                         for words, _ in svg_texts(page.read_text()))
        assert "down-tube" in words and "end" in words
        if verb == "saw":
            assert "coper regrind wagtail.toml down-tube end" in words



def test_the_end_that_is_found_is_a_value_of_the_public_face():
    end = find_end(job(), "chain-stay", "left", "start")
    assert end.name == "chain-stay left start"
    with pytest.raises(CoperError, match="cut off plain"):
        find_end(job(), "chain-stay", "left", "end")


def test_bare_numbers_are_in_the_jobs_unit_and_so_is_the_answer_but_its_record_is_in_mm():
    words = ("regrind", "demo/dipper.toml", "cross-rear", "start", "--no-book", "--gaps",
             "0=.02,90=0,180=.03,270=.01")
    assert "the largest reading is 0.018 in above the limit" in run(*words)[1]
    found = json.loads(run(*words, "--json")[1])["regrind"]
    assert found["largest_gap"] == pytest.approx(0.03 * 25.4, abs=1e-9)
    status, _, err = run(*words, "--units", "in")
    assert status == 2 and "--units: the job says what its numbers are" in err
