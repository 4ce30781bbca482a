"""The log of the dry fits, and the command that reads it."""

import re
import shlex
from functools import cache

import numpy as np
import pytest

from coper import (
    Joint,
    Oval,
    Round,
    Tapered,
    Tube,
    make_piece,
    make_pieces,
    parse_job,
    read_job,
    shape_end,
)
from coper.bench.setup import SawShop, piece_setups, set_up
from coper.cli.parser import make_parser
from coper.drawing.bounds import leaves
from coper.job.setups import ShopSetups
from coper.joint.fit.face import Square
from coper.joint.fit.fit import seat
from coper.joint.saw.kit import choose_saws
from coper.joint.sides import clock_words
from coper.sheets.fit_log import end_log, joint_log, regrind_command
from coper.sheets.fit_log_marks import log_blocks, log_marks
from coper.verbs.asked import read_joint
from tests.cli.run import run
from tests.pages.room import LONG, check_room, path, texts

LOW = Tube(Round(40), (0, -60, 0), (0, 60, 0), "low")
HIGH = Tube(Tapered(36, 30, 120), (20, -60, 310), (20, 60, 290), "high")
BESIDE = Tube(Round(30), (-10, -60, -20), (-10, 60, 20), "beside")
PLAIN = Joint(Round(28.6, 0.9), Round(38.1), 62, 3)
SQUARE_ON = Joint(Round(28.575, 0.889), Round(38.1), 90)
OVERHANG = Joint(Round(38.1, 1.2), Round(25.4), 62, 7)
TURNED = Joint(Oval(30, 17, 0.9), Oval(50, 40), 110, -4, 30, main_turn=12)
TAPER = Joint(Tapered(22.2, 14, 390, 0.8), Tapered(50, 30, 80), 100, 2.5, main_at=-10)
ONE_SAW = SawShop((70.0,), enough=9.0)
STAY = """
[tubes.low]
shape = "40 x 2"
start = {{ at = [0, -60, 0] }}
end = {{ at = [0, 60, 0] }}

[tubes.high]
shape = "34 to 30 over 120 x 1"
start = {{ at = [16, -60, 310] }}
end = {{ at = [16, 60, 290] }}

[tubes.stay]
shape = "{shape}"
turn = 17
start = {{ at = [0, 3, 1], on = ["low"], cut = "{cut}" }}
end = {{ at = [15, 8, 301], on = ["high"], cut = "{cut}" }}
"""
ONE = "[shop]\nsaws = [70]\ngap_limit = 9\n"
HOOP = ONE + """
[tubes.hoop]
shape = "30 x 2"
start = { at = [0, 0, 0] }
corners = [[0, 0, 200]]
bend = 100
end = { at = [200, 0, 200] }

[tubes.brace]
shape = "25 x 1"
start = { at = [0, 0, 100], on = ["hoop"] }
end = { at = [60, 200, 130] }
"""
TYPED = [PLAIN, SQUARE_ON, OVERHANG, TURNED, TAPER]


@cache
def of_piece(shape, name="stay", low=(LOW,), high=(HIGH,), cut="bevelled"):
    tube = Tube(shape, (0, 3, 1), (15, 8, 301), name, turn=17)
    piece = make_piece(tube, shape_end(tube, "start", low, cut), shape_end(tube, "end", high, cut))
    return piece, piece_setups(piece, ONE_SAW)


@cache
def log_of(joint):
    cluster = joint.cluster()
    return joint_log(joint, seat(Square(cluster), cluster, points=8))


def filled(command, gaps):
    """The command with ``gaps`` written into its blanks."""
    left = iter(gaps)
    return shlex.split(re.sub("__", lambda _: f"{next(left):.4f}", command))[1:]


def parsed(command):
    return make_parser().parse_args(filled(command, np.full(24, 0.1)))


@pytest.mark.parametrize("joint", TYPED, ids=str)
def test_the_command_of_a_measured_joint_reads_back_as_that_joint(joint):
    log = log_of(joint)
    assert log.after.startswith("Then type: coper regrind ")
    arguments = parsed(log.after.removeprefix("Then type: "))
    assert arguments.verb == "regrind" and read_joint(arguments) == joint
    clocks = [clock for clock, _ in arguments.gaps.pairs]
    assert clocks[0] == pytest.approx(joint.heel_clock, abs=0.05)
    assert len(clocks) == sum(np.isfinite([one.expected for one in log.readings]))


def shaped_of(text):
    """A job's coped ends with their set-ups, as its packet has them."""
    job = parse_job(text)
    setups = ShopSetups(job.shop)
    return [(piece, setup) for piece in make_pieces(job) for setup in setups.of(piece)]


def ground(command, gaps, *more):
    """What the log's command says of these gaps."""
    known = np.abs(np.asarray(gaps)[np.isfinite(gaps)])
    words = filled(command.removeprefix("Then type: "), known)
    status, out, err = run(*words, "--no-book", *more)
    assert (status, err) == (0, "")
    return out


@pytest.mark.parametrize(("shape", "cut"), [
    ("28.6 x 0.9", "square"), ("30 to 22 over 320 x 1", "bevelled"),
    ("oval 30 by 20 x 0.9", "bevelled"), ("box 24 by 20 corner 3 x 1.2", "square"),
    ("oval 22 by 16 to 18 over 320 x 1", "bevelled")])
def test_readings_as_expected_of_a_placed_end_leave_nothing_to_take_off(
        shape, cut, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    text = ONE + STAY.format(shape=shape, cut=cut)
    (tmp_path / "a frame.toml").write_text(text)
    for piece, setup in shaped_of(text):
        log = end_log(piece, setup, "a frame.toml")
        assert log.after.startswith(
            f'Then type: coper regrind "a frame.toml" stay {setup.end.which} --gaps ')
        said = ground(log.after, [one.expected for one in log.readings])
        assert "the end closes as it is" in said


@pytest.mark.parametrize("name", ["down-tube start", "chain-stay right start", "rack-rail end"])
def test_an_end_of_the_demo_has_a_command_and_readings_as_expected_close_it(name, monkeypatch):
    monkeypatch.chdir("demo")
    job = read_job("wagtail.toml")
    piece, end = next((piece, end) for piece in make_pieces(job) for end in piece.ends
                      if f"{piece.label} {end.which}" == name)
    log = end_log(piece, set_up(piece, end, ONE_SAW), job.file)
    assert log.after.startswith(f"Then type: coper regrind wagtail.toml {name} --gaps ")
    assert "closes as it is" in ground(log.after, [one.expected for one in log.readings])


def test_an_end_where_a_leg_goes_over_into_a_bend_is_read_like_any_other(
        tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    text = HOOP
    (tmp_path / "hoop.toml").write_text(text)
    (piece, setup), = shaped_of(text)
    log = end_log(piece, setup, "hoop.toml")
    assert "closes as it is" in ground(log.after, [one.expected for one in log.readings])


def test_a_file_of_no_name_is_left_to_be_filled_in():
    piece, (setup, _) = of_piece(Round(28.6, 0.9), "a stay")
    assert end_log(piece, setup).after.startswith(
        'Then type: coper regrind FILE "a stay" start --gaps ')


def test_the_cells_are_the_heel_line_and_ticks_of_the_templates_own_ruler():
    piece, setups = of_piece(Round(28.6, 0.9))
    for setup in setups:
        readings = end_log(piece, setup).readings
        heel = setup.end.stances[0].heel_clock
        clocks = np.array([one.clock for one in readings])
        off = (clocks - heel - np.arange(8) * 45 + 180) % 360 - 180
        assert off[0] == pytest.approx(0, abs=1e-6) and abs(off).max() <= 7.5
        np.testing.assert_allclose(clocks[1:] % 15, 0, atol=1e-6)
        assert readings[0].side == "heel"
        own = np.array([setup.clock(one.clock) for one in readings])
        np.testing.assert_allclose([one.expected for one in readings], setup.own.at(own)[0])


def test_an_open_clock_is_marked_and_left_out_of_the_command():
    log = log_of(OVERHANG)
    gone = [one for one in log.readings if np.isnan(one.expected)]
    assert gone
    cells = [text.words for text in texts(log_marks(log))]
    assert cells.count("open") == 4 * len(gone)
    for one in gone:
        assert f"{one.clock:g}=__" not in log.after


def test_from_the_end_of_a_tube_the_clocks_that_are_typed_are_those_of_the_template():
    piece, setups = of_piece(Round(28.6, 0.9))
    for setup in setups:
        log = end_log(piece, setup)
        words = [text.words for text in texts(log_marks(log))]
        assert "type" not in words
        typed = re.findall(r"([\d.]+)=__", log.after)
        assert typed == [clock_words(one.clock) for one in log.readings
                         if np.isfinite(one.expected)]


def test_an_end_on_several_mains_is_read_like_any_other():
    piece, setups = of_piece(Round(28.6, 0.9), low=(LOW, BESIDE))
    assert end_log(piece, setups[0], "x.toml").after.startswith(
        "Then type: coper regrind x.toml stay start --gaps ")


def test_an_end_that_touches_at_too_few_clocks_gets_no_command_that_would_be_refused():
    log = log_of(Joint(Round(44.45, 1.2), Round(25.4), 90))
    assert sum(np.isfinite([one.expected for one in log.readings])) == 2
    assert log.after.startswith("coper regrind needs 3 readings")


def test_with_several_mains_each_one_has_its_angle_to_compare():
    piece, setups = of_piece(Round(28.6, 0.9), low=(LOW, BESIDE))
    words = [text.words for text in texts(log_marks(end_log(piece, setups[0])))]
    assert {"to low", "to beside"} <= set(words) and "angle" not in words


def test_no_words_overlap_and_nothing_leaves_the_frame():
    low = tuple(Tube(one.shape, one.start, one.end, LONG) for one in (LOW, BESIDE))
    logs = [log_of(joint) for joint in TYPED]
    for name, mains in (("stay", (LOW,)), (LONG, low)):
        piece, setups = of_piece(Round(28.6, 0.9), name, low=mains)
        logs += [end_log(piece, setup) for setup in setups]
    for log in logs:
        marks = log_marks(log)
        check_room(marks, path(marks, "log-frame"))


def test_every_shaped_end_has_its_block_with_three_rounds_to_write_into():
    blocks = log_blocks(*of_piece(Round(28.6, 0.9)))
    assert [block.name for block in blocks] == [
        "log Fit-up log: stay, start", "log Fit-up log: stay, end"]
    for block in blocks:
        words = [text.words for text in texts(block.marks)]
        assert {"1st", "2nd", "3rd", "mm", "length, mm", "angle", "by, date"} <= set(words)
        assert len(list(leaves(block.marks))) > 40


@pytest.mark.parametrize("kit", [(38.1,), (31.75,)], ids=["one pass", "two passes"])
def test_the_log_of_a_sawn_end_names_its_saw_so_that_the_gap_it_leaves_is_no_fault(kit):
    joint = Joint(Round(28.6, 0.9), Round(36), 62, 3)
    choice = choose_saws(joint, kit, enough=0.0).choices[0]
    log = joint_log(joint, choice.fit, choice.passes)
    assert f"--cut saw={kit[0]}" in log.after
    expected = [one.expected for one in log.readings]
    command = filled(log.after.removeprefix("Then type: "), expected)
    status, out, err = run(*command)
    assert (status, err) == (0, "") and "the end closes as it is" in out


@pytest.mark.parametrize(("kit", "passes"), [(36.0, 1), (31.75, 2)])
def test_a_placed_end_has_a_second_line_for_the_end_sawn_as_its_card_says(
        kit, passes, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    text = f"[shop]\nsaws = [{kit}]\n" + STAY.format(shape="28.6 x 0.9", cut="bevelled").replace(
        "34 to 30 over 120", "36").replace("40 x 2", "36 x 2")
    (tmp_path / "job.toml").write_text(text)
    for piece, setup in shaped_of(text):
        assert len(setup.cuts[0].passes) == passes
        log = end_log(piece, setup, "job.toml")
        assert log.sawn.endswith("--cut saw too.") and "saw" not in log.after
        own = np.array([setup.clock(one.clock) for one in log.readings])
        gaps = setup.sawn.at(own)[0]
        np.testing.assert_allclose([one.sawn for one in log.readings], gaps)
        assert "closes as it is" in ground(log.after, gaps, "--cut", "saw")
        shown = " ".join(text.words for text in texts(log_marks(log)))
        assert "Then type:" in shown and "Sawn by its card" in shown


def test_a_square_cut_is_named_in_the_command():
    command = regrind_command(PLAIN, log_of(PLAIN).readings, "square")
    assert command == ('coper regrind "28.6 x 0.9" "38.1" --angle 62 --offset 3 --cut square '
                       '--gaps "0=__, 45=__, 90=__, 135=__, 180=__, 225=__, 270=__, 315=__"')
