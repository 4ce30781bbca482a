"""Where an edge begins and ends: touches that rounding decides, and gaps that are nearly alike."""

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from coper import Box, Joint, Plate, Round, Tube, shape_end
from coper.errors import JointError
from coper.joint.edge import _joined
from coper.joint.fit.face import cut_face
from coper.joint.fit.fit import outside_gap, seat
from tests.profiles import examples, seeds
from tests.specimens import BRANCHES, MAINS, random_branch, random_main, random_pair


@examples(40)
@given(st.floats(-1e-8, 1e-8), st.sampled_from((-1, 1)), st.floats(20, 160))
@example(1e-9, 1, 90.0)
def test_a_generator_that_only_just_touches_opens_and_closes_as_often(beyond, side, angle):
    cope = Joint(Round(28.6, 0.9), Round(38), angle, side * (19 + beyond)).cope()
    opened = np.isnan(cope.outer)
    assert 0.4 < opened.mean() < 0.6
    assert [cope.breaks.starts.size, cope.breaks.ends.size] == [1, 1]
    # the half that lies beyond the main's side is open: clocks 0 to 180 at a positive offset
    open_side = cope.clock[opened] < 180
    assert open_side.mean() == pytest.approx(1 if side > 0 else 0, abs=0.01)


@pytest.mark.parametrize("seed", seeds(20, 2313, 3703346519))
def test_an_end_on_several_mains_has_an_end_for_every_start(seed):
    rng = np.random.default_rng([7, seed])
    branch = random_branch(BRANCHES[rng.integers(5)], rng)
    way = rng.normal(size=3)
    tube = Tube(branch, (0, 0, 0), tuple(way / np.linalg.norm(way) * 250))
    mains = []
    for number in range(rng.integers(2, 4)):
        main = random_main(MAINS[(0, 2, 3, 1)[rng.integers(4)]], rng)
        along = rng.normal(size=3)
        along /= np.linalg.norm(along)
        if rng.random() < 0.3:
            along = np.round(along) + 0.0
        if not along.any():
            along = np.array([1.0, 0, 0])
        at = rng.normal(size=3) * rng.choice([0, 5, 15])
        mains.append(Tube(main, tuple(at - along * 150), tuple(at + along * 150), f"m{number}"))
    try:
        cope = shape_end(tube, "start", mains).cope
    except JointError:  # a tube that passes its mains has no end on them
        return
    for start, end in cope.open:
        inside = (start + np.linspace(0.01, 0.99, 9) * ((end - start) % 360)) % 360
        assert np.isnan(cope.at(inside).outer).all()


def test_two_stretches_that_leave_nothing_between_them_are_one():
    # an end is moved on by 1e-9 degrees, a start back by as much
    starts, ends = np.array([10.0, 40.0 - 1e-9]), np.array([40.0 + 1e-9, 70.0])
    assert [side.tolist() for side in _joined(starts, ends)] == [[10.0], [70.0]]
    apart = np.array([10.0, 50.0]), np.array([40.0, 70.0])
    assert [side.tolist() for side in _joined(*apart)] == [[10.0, 50.0], [40.0, 70.0]]
    round_zero = np.array([40.0, 350.0]), np.array([350.0 + 1e-9, 20.0])
    assert [side.tolist() for side in _joined(*round_zero)] == [[40.0], [20.0]]


def test_the_largest_of_two_gaps_that_are_nearly_alike_is_given():
    gaps = [seat(cut_face(joint, "square"), joint.cluster()) for joint in (
        Joint(Box(41.4882, 30.2894, 3.7636, 2.0744), Round(38.7984), 64.935, side * 6.997)
        for side in (1, -1))]
    assert gaps[0].largest == pytest.approx(gaps[1].largest, abs=1e-6)
    assert gaps[0].largest_clock == pytest.approx(360 - gaps[1].largest_clock, abs=1e-3)
    assert gaps[0].largest == pytest.approx(1.2746, abs=1e-4)


@pytest.mark.parametrize("seed", seeds(5))
def test_no_clock_gapes_wider_than_the_largest_gap(seed):
    rng = np.random.default_rng(seed)
    joint = random_pair(BRANCHES[rng.integers(5)], MAINS[rng.integers(6)], seed)
    fit = seat(cut_face(joint, "square"), joint.cluster())
    clock = np.linspace(0, 360, 5_001)
    assert np.nanmax(outside_gap(fit.face, fit.seated, fit.turned, clock)) <= fit.largest + 1e-6


@examples(25)
@given(st.floats(0.6, 89), st.floats(0, 90))
def test_a_branch_that_stands_steeply_enough_on_a_plate_is_shaped(angle, turn):
    lean = np.degrees(np.arcsin(np.sin(np.radians(angle)) * np.cos(np.radians(turn))))
    joint = Joint(Round(28.6, 1.5), Plate(6), angle, main_turn=turn)
    if lean < 0.5:
        with pytest.raises(Exception, match="runs along the plate"):
            joint.cope()
    else:
        # a plane cut of a cylinder is as long as its width over the tangent
        cope = joint.cope()
        long = cope.short_point.along - cope.long_point.along
        assert long == pytest.approx(28.6 / np.tan(np.radians(lean)), rel=1e-6, abs=1e-6)
