"""Fit-up: closed forms, an independent search, the CAD kernel, and laws."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper import Box, CoperError, Joint, Oval, Plate, Round, Tapered, TaperedOval
from coper.joint.cluster import Cluster
from coper.joint.edge import find_breaks, grid_edges
from coper.joint.fit.face import Bevelled, Square, covering_diameter, sawn
from coper.joint.fit.fit import seat
from coper.joint.fit.mount import Mounting
from tests.kernel import section_points, skin_distance
from tests.profiles import examples, seeds
from tests.specimens import BRANCHES, MAINS, random_joint, random_pair

ERRORS = Mounting(angle=0.7, clock=-1.3, offset=0.4)


def bevelled(joint):
    return Bevelled(joint.cluster())


def square(joint):
    return Square(joint.cluster())


def larger_saw(joint):
    return sawn(joint, max(covering_diameter(joint), 1.1 * joint.main.diameter) + 0.1)


FACES = [bevelled, square, larger_saw]


def mounted_fit(make, joint, errors=ERRORS, points=720):
    return seat(make(joint), errors.of(joint).cluster(), errors.clock, points)


def close_joint(seed):
    """A random joint whose branch is a good deal narrower than its main."""
    rng = np.random.default_rng([7, seed])
    main = rng.uniform(20, 90)
    branch = main * rng.uniform(0.2, 0.85)
    most = (main - branch) / 2 * 0.8
    return Joint(Round(branch, branch * rng.uniform(0.02, 0.2)), Round(main),
                 rng.uniform(20, 160), rng.uniform(-most, most))


# ---- closed forms


@pytest.mark.parametrize(("saw", "gap", "largest", "contact"), [
    (38.1, .604139829021, 90, 0), (35.0, .344446763988, 0, 90)])
def test_a_saw_of_the_wrong_size_at_90_leaves_the_computed_gap(saw, gap, largest, contact):
    # Computed: abs((s - sqrt(s^2 - r^2)) - (R - sqrt(R^2 - r^2))), along the tube: at the ears
    # for a larger saw, in the throat for a smaller one. s 19.05 and 17.5, R 18, r 14.3.
    joint = Joint(Round(28.6, 0.9), Round(36), 90)
    fit = seat(sawn(joint, saw), joint.cluster())
    ear = np.hypot(14.3, np.sqrt(18**2 - 14.3**2) + gap) - 18  # the distance from the axis
    assert fit.largest == pytest.approx(ear if largest == 90 else gap, abs=1e-9)
    assert fit.largest_clock == pytest.approx(largest, abs=1e-3)
    assert fit.contact_clock == pytest.approx(contact, abs=1e-3)
    throat, ears = np.sqrt(saw**2 / 4 - 14.3**2) - np.sqrt(18**2 - 14.3**2), saw / 2 - 18
    assert fit.slide == pytest.approx(-min(throat, ears), abs=1e-9)


def test_a_square_cut_stands_off_at_the_ears_as_computed():
    # Computed: sqrt(R^2 - ri^2) - sqrt(R^2 - r^2) along the tube for 28.6 x 0.9 on 36.
    joint = Joint(Round(28.6, 0.9), Round(36), 90)
    fit = seat(square(joint), joint.cluster())
    ear = np.hypot(14.3, np.sqrt(18**2 - 14.3**2) + 1.086256415736) - 18
    assert fit.largest == pytest.approx(ear, abs=1e-9)
    assert fit.largest_clock == pytest.approx(90, abs=1e-3)
    assert fit.slide == pytest.approx(0, abs=1e-9)
    assert np.nanmax(fit.root) < 1e-6


def test_an_angle_error_at_90_opens_the_far_side_by_the_tilt():
    # Derived: a plate cut for 90 and met at 90 + d stands on one outer edge; the other is
    # D sin(d) above the plate.
    joint = Joint(Round(30, 1), Plate(6), 90)
    fit = mounted_fit(bevelled, joint, Mounting(angle=2))
    assert fit.largest == pytest.approx(30 * np.sin(np.radians(2)), abs=1e-9)
    assert fit.largest_clock == pytest.approx((fit.contact_clock + 180) % 360, abs=1e-3)
    assert fit.contact_depth == 0


# ---- the ideal cut


@pytest.mark.parametrize("branch", BRANCHES)
@pytest.mark.parametrize("main", MAINS)
def test_an_ideal_bevelled_cut_has_no_gap_and_no_slide(branch, main):
    joint = random_pair(branch, main, 1)
    fit = seat(bevelled(joint), joint.cluster())
    assert abs(fit.slide) < 1e-6
    assert fit.largest < 1e-6
    assert np.nanmax(fit.root) < 1e-6


@pytest.mark.parametrize("branch", BRANCHES)
@pytest.mark.parametrize("main", [Round, Box, Plate])
def test_an_ideal_square_cut_seats_where_the_design_puts_it(branch, main):
    joint = random_pair(branch, main, 1)  # tapered oval on box: overhanging, its tip open
    assert abs(seat(square(joint), joint.cluster(), points=8).slide) < 1e-6


def test_what_is_found_inside_a_wall_that_bends_lies_on_the_main_up_to_the_tip():
    # The generators of a tapered oval bend inside the wall and are followed by their tangents: one
    # that grazes the main must not be answered by a tangent taken somewhere else.
    cluster = random_pair(TaperedOval, Box, 1).cluster()
    tip = find_breaks(cluster, grid_edges(cluster)[1], cluster.wall()).ends[0]
    clock = np.linspace(tip - 1e-3, tip + 1e-3, 401)[:, None]
    depth = np.linspace(0.99, 1, 9) * cluster.wall()
    along = cluster.entry(clock, depth)
    off = cluster.mains[0].distance(cluster.skin(clock, along, depth))
    assert np.isnan(along).any() and np.isfinite(along).any()
    assert np.nanmax(np.abs(off)) < 1e-8


def test_an_ideal_cut_for_two_mains_has_no_gap_and_touches_both():
    one = Joint(Round(28.6, 0.9), Round(38.1), 62, 3)
    other = Joint(Round(28.6, 0.9), Round(34), 105, -4, main_turn=20)
    both = Cluster(one.branch, (*one.cluster().mains, *other.cluster().mains))
    fit = seat(Bevelled(both), both)
    assert abs(fit.slide) < 1e-9 and fit.largest < 1e-9
    with_one = seat(bevelled(one), both)
    assert with_one.slide > 1  # a cut that follows one of them stands on the other


def test_the_mains_own_saw_fits_as_the_ideal_cut_does():
    for seed in range(12):
        joint = close_joint(seed)
        fit = seat(sawn(joint, joint.main.diameter), joint.cluster())
        assert abs(fit.slide) < 1e-9 and fit.largest < 1e-9


# ---- against independent routes


def formula(joint, diameter, clock, radius):
    """The check formula of the design for generators at ``radius`` from the branch's axis."""
    angle, c = np.radians(joint.angle), np.radians(clock)
    root = np.sqrt((diameter / 2) ** 2 - (joint.offset + radius * np.sin(c)) ** 2)
    return (root + radius * np.cos(c) * np.cos(angle)) / np.sin(angle)


@pytest.mark.parametrize("make", FACES)
@pytest.mark.parametrize("seed", seeds(20, 3264003330, 4061058792))
def test_the_slide_and_the_gap_agree_with_a_dense_search_by_formula(make, seed):
    joint = close_joint(seed)
    fit = mounted_fit(make, joint)
    mounted = ERRORS.of(joint)
    clock = np.arange(0, 360, 0.1)[:, None]
    outer = joint.branch.diameter / 2
    radius = outer - np.linspace(0, joint.branch.wall, 41)
    diameter = joint.main.diameter
    face = make(joint)
    if make is larger_saw:
        diameter = face.cluster.mains[0].shape.diameter
    cut = formula(joint, diameter, clock - ERRORS.clock, radius)
    if isinstance(face, Square):
        cut = np.broadcast_to(cut.max(axis=1, keepdims=True), cut.shape)
    over = formula(mounted, mounted.main.diameter, clock, radius) - cut
    # The depths are sampled: here 40 of a wall, and of a square cut there too.
    assert fit.slide == pytest.approx(over.max(), abs=1e-3 if isinstance(face, Square) else 5e-4)
    if not isinstance(face, Square):  # whose depths the search only samples
        assert fit.slide >= over.max() - 1e-9
    angle, c = np.radians(mounted.angle), np.radians(clock[:, 0])
    along = cut[:, 0] + fit.slide
    y = mounted.offset + outer * np.sin(c)
    z = -outer * np.cos(c) * np.cos(angle) + along * np.sin(angle)
    gap = np.hypot(y, z) - mounted.main.diameter / 2
    np.testing.assert_allclose(fit.at(clock[:, 0])[0], gap, rtol=0, atol=5e-4)
    assert fit.largest == pytest.approx(gap.max(), abs=1e-3)
    root = -(over - fit.slide).max(axis=1)
    rough = 2e-3 if isinstance(face, Square) else 5e-4
    np.testing.assert_allclose(fit.at(clock[:, 0])[1], root, rtol=0, atol=rough)


@pytest.mark.parametrize("branch", BRANCHES)
@pytest.mark.parametrize("main", MAINS)
def test_the_gap_is_the_kernels_distance_from_the_edge_to_the_main(branch, main):
    make = (bevelled, square)[(BRANCHES.index(branch) + MAINS.index(main)) % 2]
    joint = random_pair(branch, main, 2)
    errors = Mounting(angle=0.6, offset=0.3, clock=0 if branch is not Round else 1)
    fit = mounted_fit(make, joint, errors)
    pose = fit.seated.mains[0].pose
    clocks = np.array([11.0, 97.0, 203.0, 311.0])
    along = make(joint).station(clocks - errors.clock, np.zeros(1))
    for clock, at, gap in zip(clocks, along, fit.at(clocks)[0], strict=True):
        if np.isnan(gap):
            continue
        point = section_points(joint.branch, at, clock, 0.0)
        place = pose.inward(np.array([point.X(), point.Y(), at]))
        assert gap == pytest.approx(skin_distance(joint.main, place), abs=1e-4)


@pytest.mark.parametrize("make", FACES)
@pytest.mark.parametrize("seed", seeds(10, 2771687805))
def test_a_seated_end_touches_and_nowhere_overlaps(make, seed):
    joint = random_joint(seed)
    fit = mounted_fit(make, joint, Mounting(angle=0.4, offset=-0.2))
    wall = joint.branch.wall
    clock, depth = np.arange(0, 360, 0.1)[:, None], np.linspace(0, wall, 21)
    over = fit.seated.entry(clock, depth) - make(joint).station(clock, depth)
    assert np.nanmax(over) < 1e-6
    touch = np.array([fit.contact_clock])
    left = (fit.seated.entry(touch, np.array([fit.contact_depth]))
            - make(joint).station(touch, np.array([fit.contact_depth])))
    assert left[0] == pytest.approx(0, abs=1e-6)


def test_a_taper_is_pushed_on_until_it_touches():
    joint = Joint(Tapered(30, 20, 100, 1), Round(40), 55, 2)
    mounted = Mounting(angle=-1.5).of(joint).cluster()
    fit = seat(bevelled(joint), mounted)
    clock, depth = np.arange(0, 360, 0.1)[:, None], np.linspace(0, 1, 21)
    over = fit.seated.entry(clock, depth) - joint.cluster().entry(clock, depth)
    assert np.nanmax(over) == pytest.approx(0, abs=1e-4)


# ---- laws


@st.composite
def joints(draw):
    main = draw(st.floats(15, 90))
    branch = main * draw(st.floats(0.2, 0.9))
    offset = draw(st.floats(-0.8, 0.8)) * (main - branch) / 2
    return Joint(Round(branch, branch / 15), Round(main), draw(st.floats(20, 160)), offset)


@examples(20)
@given(joints(), st.sampled_from(FACES))
def test_the_mirrored_joint_has_the_mirrored_gap(joint, make):
    one = mounted_fit(make, joint, ERRORS)
    mirrored = replace(joint, offset=-joint.offset)
    other = mounted_fit(make, mirrored, Mounting(ERRORS.angle, -ERRORS.clock, -ERRORS.offset))
    assert other.slide == pytest.approx(one.slide, abs=1e-6)
    assert other.largest == pytest.approx(one.largest, abs=1e-6)
    clock = np.arange(0, 360, 15.0)
    np.testing.assert_allclose(other.at((-clock) % 360), one.at(clock), rtol=0, atol=1e-5)


@examples(20)
@given(joints(), st.sampled_from(FACES), st.floats(0.3, 4))
def test_scaling_the_joint_scales_the_gap(joint, make, scale):
    scaled = Joint(
        Round(joint.branch.diameter * scale, joint.branch.wall * scale),
        Round(joint.main.diameter * scale), joint.angle, joint.offset * scale)

    def saw_of(face, by):
        return sawn(scaled, by * face.cluster.mains[0].shape.diameter)

    face = make(joint)
    other_face = saw_of(face, scale) if make is larger_saw else make(scaled)
    one = seat(face, Mounting(angle=1).of(joint).cluster(), 2)
    other = seat(other_face, Mounting(angle=1).of(scaled).cluster(), 2)
    assert other.slide == pytest.approx(scale * one.slide, abs=1e-6 * (1 + scale))
    assert other.largest == pytest.approx(scale * one.largest, abs=1e-6 * (1 + scale))


@examples(20)
@given(joints(), st.floats(0.05, 20))
def test_a_cope_turned_by_an_error_stands_where_it_was_meant_plus_the_error(joint, error):
    ideal = bevelled(joint)
    fit = seat(ideal, joint.cluster(), error)
    clock = np.arange(0, 360, 15.0)
    cut = joint.cluster().entry((clock - error) % 360) + fit.slide
    angle = np.radians(joint.angle)
    y = joint.offset + joint.branch.diameter / 2 * np.sin(np.radians(clock))
    x_part = joint.branch.diameter / 2 * np.cos(np.radians(clock))
    gap = np.hypot(y, cut * np.sin(angle) - x_part * np.cos(angle)) - joint.main.diameter / 2
    np.testing.assert_allclose(fit.at(clock)[0], gap, rtol=0, atol=1e-6)
    assert fit.slide >= -1e-9


# ---- shapes of the result, open stretches, refusals


def test_open_stretches_have_no_gap_and_the_lists_run_over_the_same_clocks():
    joint = Joint(Round(38.1, 1.2), Round(25.4), 62, 7)
    fit = seat(bevelled(joint), joint.cluster(), points=36)
    assert fit.clock.shape == fit.outside.shape == fit.root.shape
    assert set(np.arange(36) * 10.0) <= set(fit.clock)
    ((start, stop),) = joint.cope().open
    inside = (fit.clock > start + 1) & (fit.clock < stop - 1)
    assert np.isnan(fit.outside[inside]).all()
    assert np.isfinite(fit.outside[(fit.clock < start) | (fit.clock > stop)]).all()


def test_the_smallest_saw_that_covers_is_the_tubes_reach_from_the_saws_axis():
    assert covering_diameter(Joint(Round(28.6, 1), Round(50), 62, 3)) == pytest.approx(34.6)
    assert covering_diameter(
        Joint(Oval(30, 17, 1), Round(50), 90, turn=90)) == pytest.approx(30, abs=1e-6)


def test_a_saw_that_leaves_tube_uncut_is_refused_with_the_size_that_would_do():
    joint = Joint(Round(28.6, 0.9), Round(36), 62, 3)
    with pytest.raises(CoperError, match=r"34\.5 mm leaves part of .*take one of 34\.60"):
        sawn(joint, 34.5)
    assert np.isfinite(sawn(joint, 34.6).station(np.arange(0, 360, 1.0), np.zeros(1))).all()


def test_a_mounting_that_misses_the_main_is_refused_with_the_distance():
    joint = Joint(Round(28.6, 0.9), Round(36), 62)
    with pytest.raises(CoperError, match=r"misses the main by 17\.70 mm"):
        mounted_fit(bevelled, joint, Mounting(offset=50))
