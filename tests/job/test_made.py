"""What follows from a part of a job that came out otherwise than it was designed."""

import math
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import brentq

from coper.job.frame import make_pieces
from coper.job.made import Measured, find_outcome
from coper.job.moved import find_root, move_root
from coper.job.read import read_job
from coper.job.ways import AlongMain, NewBlank, OtherFirst, SameTwin, SetBack, TakeOff

JOB = read_job(Path(__file__).parents[2] / "demo" / "wagtail.toml")
PIECES = {one.label: one for one in make_pieces(JOB)}
STAY = PIECES["chain-stay left"].shaped


def outcome(longer, side="left", twin=None, name="chain-stay"):
    label = name if side == "centre" else f"{name} {side}"
    return find_outcome(JOB, name, side, Measured(PIECES[label].shaped + longer),
                        None if twin is None else Measured(STAY + twin))


def test_the_end_of_the_chain_stay_is_measured_from_the_axles_end():
    root = find_root(JOB, "chain-stay", "end")
    assert (root.name, root.along) == ("axle-left", ("dropout", "lug", "tip"))
    assert find_root(JOB, "top-tube", "end").name == "", "it stands on an axis"
    assert find_root(JOB, "rack-rail", "end").name == "", "it is given by numbers"


def test_all_that_hangs_on_the_dropout_moves_with_it_on_that_side_alone():
    move = (3.0, -1.0, 2.0)
    for side in ("left", "right"):
        after = {one.label: one for one in move_root(JOB, "chain-stay", "end", side, move)}
        for name in ("chain-stay", "seat-stay"):
            for other in ("left", "right"):
                apart = after[f"{name} {other}"].tube.end - PIECES[f"{name} {other}"].tube.end
                assert np.allclose(apart, move if other == side else 0, atol=1e-9)
        assert np.allclose(after["rack-rail"].tube.end, PIECES["rack-rail"].tube.end)


def test_the_axle_is_askew_by_what_the_stays_differ_and_its_front_points_to_the_longer_one():
    way = PIECES["chain-stay left"].tube
    forward = (way.start - way.end)[0] / way.length
    axle = outcome(-4).axle
    assert axle.left[0] == pytest.approx(4 * forward) and axle.left[0] > 3.9
    assert math.tan(math.radians(axle.skew.angle)) == pytest.approx(-axle.left[0] / 130)
    radius = 300.5 - 47 + 0  # a 40-507 wheel: 507 / 2 + 40, less its tyre
    assert radius == 253.5
    # The right stay is the longer one, so the front points to the right; -y.
    front = -253.5 * math.sin(math.atan(axle.left[0] / 130)) + axle.left[1] / 2
    assert axle.front == pytest.approx(front) and axle.front < -7
    assert axle.rear == pytest.approx(-front + axle.left[1])
    right = outcome(-4, "right").axle
    assert right.front == pytest.approx(-axle.front) and right.lean == pytest.approx(-axle.lean)


def test_a_lower_left_end_leans_the_wheels_top_to_the_left():
    axle = outcome(-4).axle
    assert axle.left[2] < 0 and axle.lean > 0
    up = np.cross([1, 0, 0], np.array([0, 130, axle.left[2]]))  # square to the axle, to the sky
    up = up / np.linalg.norm(up)
    assert up[2] > 0 and up[1] * axle.radius + axle.left[1] / 2 == pytest.approx(axle.top)


def test_the_slot_squares_an_axle_whose_left_end_is_forward_by_moving_it_back():
    axle = outcome(-4).axle
    assert axle.slide == pytest.approx(axle.left[0]) and axle.fits  # a level slot
    assert not outcome(4).axle.fits, "only 2 mm are left in front of it"
    assert outcome(4).axle.shared is (axle.left[0] / 2 <= 2)


def test_both_stays_as_short_leave_the_axle_square_and_further_forward():
    axle = outcome(-4, twin=-4).axle
    assert axle.skew.angle == pytest.approx(0) and axle.middle[0] == pytest.approx(axle.left[0])
    assert axle.width == pytest.approx(130 + 2 * axle.left[1])


def test_the_chain_is_counted_with_the_axles_middle_where_it_then_is():
    found, plain = outcome(-4, twin=-4), outcome(0)
    # Both runs of the chain are shorter by nearly what the axle moves: two pitches' worth a link.
    assert plain.chain.drawn - found.chain.drawn == pytest.approx(
        2 * found.axle.left[0] / 12.7, rel=0.03)


def test_a_plain_end_stands_back_by_what_is_missing_or_is_cut_again():
    short, long = outcome(-1.2).ways, outcome(1.2).ways
    assert short[0] == SetBack("end", pytest.approx(16.2), pytest.approx(15.0))
    assert long == (TakeOff("end", pytest.approx(1.2)),)
    assert isinstance(short[-1], NewBlank) and short[-1].length == PIECES["chain-stay left"].blank
    back = read_job_with("back = 15", "back = 16.2")
    assert back["chain-stay left"].shaped == pytest.approx(STAY - 1.2)


def read_job_with(old, new):
    from coper.job.read import parse_job

    return {one.label: one for one in make_pieces(parse_job(JOB.text.replace(old, new)))}


@pytest.mark.parametrize(("left", "right", "cut", "by"), [
    (-4, None, "chain-stay right", 4), (-4, -3.5, "chain-stay right", 0.5),
    (-3, -4, "chain-stay left", 1), (-4, -4, None, 0)])
def test_of_two_stays_the_longer_is_cut(left, right, cut, by):
    found = [way for way in outcome(left, twin=right).ways if isinstance(way, SameTwin)]
    assert found == ([] if cut is None else [SameTwin(cut, pytest.approx(by))])


def test_a_bridge_that_is_too_short_goes_where_the_stays_are_nearer_with_both_its_ends():
    ways = outcome(-1.19, "centre", name="stay-bridge").ways
    assert ways[0] == OtherFirst("end", "start", ("seat-stay left",))
    way = ways[1]
    assert isinstance(way, AlongMain) and set(way.mains) == {"start", "end"} and way.by < 0
    stay = PIECES["seat-stay left"].tube
    ahead = (stay.end - stay.start) / stay.length
    # Between the skins the room changes by twice what the axes come nearer a mm; the taper's skin
    # too, by (13 - 11) / 440 of its diameter.
    rate = 2 * ahead[1] + 2 / 440
    assert way.by == pytest.approx(-1.19 / rate, rel=0.02)
    assert max(way.gaps.values()) < 0.02


def test_a_top_tube_that_is_too_short_reaches_where_the_kernelless_triangle_says():
    longer = -0.76
    ways = [way for way in outcome(longer, "centre", name="top-tube").ways
            if isinstance(way, AlongMain)]
    seat, head = PIECES["seat-tube"].tube, PIECES["head-tube"].tube
    tube = PIECES["top-tube"].tube
    up = (seat.end - seat.start) / seat.length

    def between(by):
        """From skin to skin of both mains, less that of the design: half diameters over sines."""
        return skins(tube.start + by * up) - skins(tube.start)

    def skins(start):
        way = (tube.end - start) / np.linalg.norm(tube.end - start)
        across = (head.end - head.start) / head.length
        reach = [length_over(15.9, way @ up), length_over(18.0, way @ across)]
        return np.linalg.norm(tube.end - start) - sum(reach)

    def length_over(radius, cosine):
        """From the axis to the furthest that the cope of a 25.4 tube comes: its toe or its side."""
        sine = math.sqrt(1 - cosine * cosine)
        clock = np.linspace(0, 2 * np.pi, 20001)
        edge = (np.sqrt(radius**2 - (11.8 * np.sin(clock))**2)
                + 11.8 * np.cos(clock) * abs(cosine)) / sine
        outer = (np.sqrt(radius**2 - (12.7 * np.sin(clock))**2)
                 + 12.7 * np.cos(clock) * abs(cosine)) / sine
        return min(edge.min(), outer.min())

    by = brentq(lambda by: between(by) - longer, -60, 0)
    assert next(way for way in ways if "start" in way.mains).by == pytest.approx(by, abs=0.1)


def test_the_seat_stay_and_the_bridge_are_printed_again_where_the_dropout_stays_moved():
    found = outcome(-4)
    assert [one.before.label for one in found.again] == ["seat-stay left", "stay-bridge"]
    stay, bridge = found.again
    assert stay.longer == pytest.approx(
        np.linalg.norm(stay.after.tube.end - stay.after.tube.start) - stay.before.tube.length,
        abs=0.2)
    assert "start" in bridge.again and "end" not in bridge.again, "it seats on the left stay there"
    assert outcome(0).again == () and outcome(0.03).again == ()
    mirrored = outcome(-4, "right").again
    assert [one.before.label for one in mirrored] == ["seat-stay right", "stay-bridge"]
    assert "end" in mirrored[1].again and "start" not in mirrored[1].again


def test_a_tube_between_two_that_stand_moves_nothing_and_leaves_all_sheets():
    found = outcome(-4, "centre", name="top-tube")
    assert not found.moves and found.axle is None and found.again == ()
    assert found.made.by == pytest.approx(4)
