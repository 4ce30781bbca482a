"""The log of the dry fits, and the command that reads it."""

import re
import shlex
from functools import cache

import numpy as np
import pytest

from coper import (
    Bent,
    Box,
    Joint,
    Oval,
    Round,
    Tapered,
    TaperedOval,
    Tube,
    make_piece,
    make_pieces,
    plain_end,
    read_job,
    shape_end,
)
from coper.bench.setup import SawShop, piece_setups
from coper.cli.parser import make_parser
from coper.drawing.bounds import leaves
from coper.errors import JointError
from coper.frame.end import make_cluster
from coper.joint.fit.face import Square
from coper.joint.fit.fit import seat
from coper.joint.saw.kit import choose_saws
from coper.sheets.fit_log import end_log, joint_log, log_blocks, log_marks, regrind_command
from coper.verbs.options import read_joint
from tests.cli.run import run
from tests.frame.specimens import random_cluster
from tests.pages.room import LONG, check_room, path, texts

LOW = Tube(Round(40), (0, -60, 0), (0, 60, 0), "low")
HIGH = Tube(Tapered(36, 30, 120), (20, -60, 310), (20, 60, 290), "high")
BESIDE = Tube(Round(30), (-10, -60, -20), (-10, 60, 20), "beside")
SHAPES = [(Round(28.6, 0.9), "square"), (Tapered(30, 22, 320, 1), "bevelled"),
          (Oval(30, 20, 0.9), "bevelled"), (Box(24, 20, 3, 1.2), "bevelled")]
PLAIN = Joint(Round(28.6, 0.9), Round(38.1), 62, 3)
SQUARE_ON = Joint(Round(28.575, 0.889), Round(38.1), 90)
OVERHANG = Joint(Round(38.1, 1.2), Round(25.4), 62, 7)
TURNED = Joint(Oval(30, 17, 0.9), Oval(50, 40), 110, -4, 30, main_turn=12)
TAPER = Joint(Tapered(22.2, 14, 390, 0.8), Tapered(50, 30, 80), 100, 2.5, main_at=-10)
ONE_SAW = SawShop((70.0,), enough=9.0)
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
    clocks = [clock for clock, _ in arguments.gaps]
    assert clocks[0] == pytest.approx(joint.heel_clock, abs=0.05)
    assert len(clocks) == sum(np.isfinite([one.expected for one in log.readings]))


@pytest.mark.parametrize("which", [0, 1])
@pytest.mark.parametrize(("shape", "cut"), SHAPES, ids=str)
def test_the_command_of_a_placed_end_reads_back_as_a_joint_of_the_same_cope(shape, cut, which):
    piece, setups = of_piece(shape, cut=cut)
    setup, end = setups[which], piece.ends[which]
    log = end_log(piece, setup)
    arguments = parsed(log.after.removeprefix("Then type: "))
    joint = read_joint(arguments)
    cluster, _ = make_cluster(piece.tube, end.which, end.mains)
    clock = np.arange(0, 360, 5.0)
    np.testing.assert_allclose(
        joint.cluster().entry(clock), cluster.entry(clock) + setup.cuts[0].shift, atol=0.02)
    assert arguments.cut == cut
    read = [one for one in log.readings if np.isfinite(one.expected)]
    assert len(read) > 4
    for one, (typed, _) in zip(read, arguments.gaps, strict=True):
        assert typed == pytest.approx(one.typed, abs=0.051)
        own = one.clock if which == 0 else -one.clock % 360
        assert one.typed == pytest.approx(own)


def check_typed(piece, setup):
    """Whether the end's log has a command, whose joint then has the end's cope."""
    log, end = end_log(piece, setup), setup.end
    if not log.after.startswith("Then type: "):
        return False
    cluster, _ = make_cluster(piece.tube, end.which, end.mains)
    typed = read_joint(parsed(log.after.removeprefix("Then type: "))).cluster()
    clock = np.arange(0, 360, 5.0)
    for depth in (0.0, cluster.wall()):
        here = cluster.entry(clock, depth) + setup.cuts[0].shift
        # Within a hair of an open stretch the last decimal typed decides whether a line misses.
        both = np.isfinite(here) & np.isfinite(typed.entry(clock, depth))
        assert np.sum(both != np.isfinite(here)) <= 2
        np.testing.assert_allclose(typed.entry(clock, depth)[both], here[both], atol=0.02)
    return True


def test_the_command_of_every_end_of_the_demo_describes_the_same_cope():
    job = read_job("demo/wagtail.toml")
    typed = [(piece.label, setup.end.which) for piece in make_pieces(job)
             for setup in piece_setups(piece) if check_typed(piece, setup)]
    assert ("rack-rail", "end") in typed  # from the inside of the rack's hoop
    assert len(typed) >= 11


@pytest.mark.parametrize("which", ["start", "end"])
@pytest.mark.parametrize("branch", [Round, Oval, Box])
def test_the_command_of_an_end_on_a_bend_describes_the_same_cope_or_is_not_given(branch, which):
    typed = 0
    for seed in range(8):
        tube, mains = random_cluster(seed, which, 1, branch, Bent)
        try:
            end = shape_end(tube, which, mains)
        except JointError:
            continue
        other = plain_end(tube, "end" if which == "start" else "start")
        piece = make_piece(tube, *((end, other) if which == "start" else (other, end)))
        setup, = piece_setups(piece, ONE_SAW)
        typed += check_typed(piece, setup)
    assert typed >= 5


def test_where_a_bend_ends_before_its_ring_is_in_the_way_no_command_is_given():
    half = 1.0
    hoop = Tube(Bent(30, 60), (60 * np.sin(half), 0, 0), (-60 * np.sin(half), 0, 0), "hoop")
    crown = hoop.pose.outward(np.zeros(3))
    inside = -hoop.pose.axes[1]
    tube = Tube(Round(95, 1), crown, crown + 400 * inside, "wide")
    piece = make_piece(tube, shape_end(tube, "start", [hoop]), plain_end(tube, "end"))
    setup, = piece_setups(piece, ONE_SAW)
    assert end_log(piece, setup).after.startswith("coper regrind takes the bend for a whole ring")


def test_readings_as_expected_leave_nothing_to_take_off():
    piece, (setup, _) = of_piece(Round(28.6, 0.9), cut="square")
    log = end_log(piece, setup)
    command = filled(log.after.removeprefix("Then type: "), [one.expected for one in log.readings])
    status, out, err = run(*command)
    assert (status, err) == (0, "") and "the end closes as it is" in out


def test_the_cells_start_at_the_heel_and_go_round_by_eighths_of_the_tubes_own_clock():
    piece, setups = of_piece(Round(28.6, 0.9))
    for setup in setups:
        readings = end_log(piece, setup).readings
        heel = setup.end.stances[0].heel_clock
        np.testing.assert_allclose([one.clock for one in readings],
                                   (heel + np.arange(8) * 45) % 360, atol=1e-6)
        assert [one.side for one in readings] == ["heel", "", "side", "", "toe", "", "side", ""]
        own = np.array([one.typed for one in readings])
        np.testing.assert_allclose([one.expected for one in readings], setup.own.at(own)[0])


def test_an_open_clock_is_marked_and_left_out_of_the_command():
    log = log_of(OVERHANG)
    gone = [one for one in log.readings if np.isnan(one.expected)]
    assert gone
    cells = [text.words for text in texts(log_marks(log))]
    assert cells.count("open") == 4 * len(gone)
    for one in gone:
        assert f"{one.typed:g}=__" not in log.after


def test_from_the_end_of_a_tube_the_log_says_what_to_type_for_each_clock():
    piece, (start, end) = of_piece(Round(28.6, 0.9))
    words = {which: [text.words for text in texts(log_marks(end_log(piece, setup)))]
             for which, setup in (("start", start), ("end", end))}
    assert "type" in words["end"] and "type" not in words["start"]


def test_where_no_command_reads_the_end_the_log_says_what_to_do_instead():
    piece, setups = of_piece(Round(28.6, 0.9), low=(LOW, BESIDE))
    assert "works with one main only" in end_log(piece, setups[0]).after
    tube = Tube(TaperedOval(30, 20, 24, 320, 1), (0, 3, 1), (15, 8, 301), "stay")
    piece = make_piece(tube, shape_end(tube, "start", [LOW]), plain_end(tube, "end"))
    setup, = piece_setups(piece, ONE_SAW)
    assert "cannot describe this tube" in end_log(piece, setup).after


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
        assert {"1st fit", "2nd fit", "3rd fit", "length", "angle", "by, date"} <= set(words)
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


@pytest.mark.parametrize("which", [0, 1])
@pytest.mark.parametrize(("kit", "passes"), [((36.0,), 1), ((31.75,), 2)])
def test_a_placed_end_has_a_second_line_for_the_end_sawn_as_its_card_says(kit, passes, which):
    tube = Tube(Round(28.6, 0.9), (0, 3, 1), (15, 8, 301), "stay", turn=17)
    high = Tube(Round(36), (13, -60, 301), (13, 60, 301), "high")
    low = Tube(Round(36), (0, -60, 0), (0, 60, 0), "low")
    piece = make_piece(tube, shape_end(tube, "start", (low,)), shape_end(tube, "end", (high,)))
    setup = piece_setups(piece, SawShop(kit))[which]
    assert len(setup.cuts[0].passes) == passes
    log = end_log(piece, setup)
    cut, = re.findall(r"--cut saw=\S+", log.sawn)
    assert cut.startswith(f"--cut saw={kit[0]:g}") and "saw=" not in log.after
    gaps = setup.sawn.at(np.array([one.typed for one in log.readings]))[0]
    command = log.after.removeprefix("Then type: ").replace("--gaps", f"{cut} --gaps")
    status, out, err = run(*filled(command, gaps))
    assert (status, err) == (0, "") and "the end closes as it is" in out
    shown = " ".join(text.words for text in texts(log_marks(log)))
    assert "Then type:" in shown and "Sawn by its card" in shown


def test_a_square_cut_is_named_in_the_command():
    command = regrind_command(PLAIN, log_of(PLAIN).readings, "square")
    assert command == ('coper regrind "28.6 x 0.9" "38.1" --angle 62 --offset 3 --cut square '
                       '--gaps "0=__, 45=__, 90=__, 135=__, 180=__, 225=__, 270=__, 315=__"')
