"""A tube that came out otherwise: where its free end comes to stand."""

import math

import numpy as np
import pytest
from hypothesis import given, strategies
from scipy.spatial.transform import Rotation

from coper.frame.end import plain_end, shape_end
from coper.frame.held import make_held
from coper.frame.made import design_angle, made_tube
from coper.frame.piece import make_piece
from coper.frame.tube import Tube
from coper.shapes.read import parse_tube
from tests.profiles import examples

ROUND = parse_tube("20 x 1", "mm")
MAIN = parse_tube("40 x 2", "mm")


def stay(main_end=(0, 100, 0), end=(-400, 30, 60), offset=4.0):
    """A stay from a shell that runs to the left, coped there and cut plain at the dropout."""
    shell = Tube(MAIN, (0, -100, 0), main_end, "shell")
    tube = Tube(ROUND, (-2, 20, offset), end, "stay", "left")
    return make_piece(tube, shape_end(tube, "start", [shell]), plain_end(tube, "end", 15)), shell


def angle_between(tube_end, piece, shell):
    """From the shell's end point's side to the stay, degrees, by scipy's own rotations."""
    way = tube_end - piece.tube.start
    ahead = shell.end - shell.start
    return math.degrees(math.atan2(np.linalg.norm(np.cross(ahead, way)), ahead @ way))


def test_a_tube_that_is_too_short_takes_its_free_point_along_its_own_axis():
    piece, _ = stay()
    made = made_tube(piece, piece.shaped - 4)
    way = piece.tube.end - piece.tube.start
    assert np.allclose(made.move, -4 * way / np.linalg.norm(way), atol=1e-9)
    assert made.free == "end" and made.longer == pytest.approx(-4)
    assert made.move[0] > 0 and made.move[2] < 0, "the stay runs back and up"


@given(wider=strategies.floats(-8, 8).filter(lambda d: abs(d) > 0.01),
       longer=strategies.floats(-9, 9), y=strategies.floats(-300, 300),
       offset=strategies.floats(-12, 12))
@examples(40)
def test_the_moved_end_makes_the_measured_angle_and_the_measured_length(wider, longer, y, offset):
    piece, shell = stay(end=(-400, y, 60), offset=offset)
    meant = design_angle(piece, "start")
    made = made_tube(piece, piece.shaped + longer, meant + wider)
    ahead = (shell.end - shell.start) / 200
    away = piece.tube.way_in("start")
    turn = Rotation.from_rotvec(
        math.radians(wider) * np.cross(ahead, away) / np.linalg.norm(np.cross(ahead, away)))
    new_way = turn.apply(away)
    assert math.degrees(math.acos(new_way @ ahead)) == pytest.approx(meant + wider, abs=1e-7)
    pivot = closest(piece.tube.start, away, shell.start, ahead)
    expected = pivot + turn.apply(piece.tube.end - pivot) + longer * new_way
    assert np.allclose(piece.tube.end + made.move, expected, atol=1e-7)


def closest(point, way, other, ahead):
    """The place of the first line that is nearest to the second, by least squares."""
    lines = np.stack((way, -ahead), axis=1)
    (along, _), *_ = np.linalg.lstsq(lines, other - point, rcond=None)
    return point + along * way


def test_a_wider_angle_swings_the_end_away_from_the_mains_end_point():
    piece, _ = stay()
    meant = design_angle(piece, "start")
    assert made_tube(piece, None, meant + 2).move[1] < -5, "the shell's end point is on the left"
    assert made_tube(piece, None, meant - 2).move[1] > 5


def test_of_a_tube_that_is_coped_at_its_end_the_start_is_free():
    shell = Tube(MAIN, (0, -100, 0), (0, 100, 0), "shell")
    tube = Tube(ROUND, (-400, 30, 60), (-2, 20, 4), "stay", "left")
    piece = make_piece(tube, plain_end(tube, "start", 15), shape_end(tube, "end", [shell]))
    made = made_tube(piece, piece.shaped - 4)
    assert (made.seated, made.free) == ("end", "start") and made.move[0] > 3.9


def test_a_cut_holds_for_another_length_and_not_for_another_angle():
    piece, shell = stay()
    way = piece.tube.end - piece.tube.start

    def with_end(end):
        tube = Tube(ROUND, piece.tube.start, end, "stay", "left")
        return make_piece(tube, shape_end(tube, "start", [shell]), plain_end(tube, "end", 15))

    longer = make_held(piece, with_end(piece.tube.end + 0.01 * way))
    assert longer.again == () and not longer.holds
    assert longer.longer == pytest.approx(0.01 * piece.tube.length)
    # A cope of a 20 tube on a 40 one at about 86 degrees: cot changes by 0.0351 with 2 degrees,
    # so from heel to toe the edge changes by 20 times that, and a little on the way.
    turned = make_held(piece, with_end(made_tube(
        piece, None, design_angle(piece, "start") + 2).move + piece.tube.end))
    assert turned.again == ("start",)
    assert 0.3 < turned.ends["start"] < 20 * 0.0351 + 0.1
    assert make_held(piece, piece).holds
