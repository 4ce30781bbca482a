"""The gaps of many joints at once, against a full fit-up of each."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper import Bent, Box, Joint, Oval, Plate, Round, Tapered, TaperedOval
from coper.joint.fit.face import cut_face
from coper.joint.fit.fit import seat
from coper.joint.fit.mount import Mounting
from coper.joint.tolerance.gap_batch import TOGETHER, Errors, gap_batch
from tests.profiles import examples
from tests.specimens import BRANCHES, MAINS, random_pair

AGREED_MM = 1e-2
JOINT = Joint(Round(28.6, 0.9), Round(38.1), 62, 3)


def scattered(joints, seed):
    """Errors of a careless bench."""
    rng = np.random.default_rng(seed)
    return Errors(*(rng.normal(0, size, joints) for size in (0.5, 1.0, 0.3, 0.1, 0.0)))


def one(**wrong):
    return replace(Errors.none(1), **{name: np.array([float(value)])
                                      for name, value in wrong.items()})


def fitted(joint, cut, errors, index=0):
    """The same joint seated by ``coper fit``."""
    angle, turn, offset, diameter = (float(getattr(errors, name)[index])
                                     for name in ("angle", "turn", "offset", "diameter"))
    real = replace(joint, main=joint.main.grown(diameter))
    mounted = Mounting(angle, turn, offset).of(real).cluster()
    return seat(cut_face(joint, cut), mounted, turn, 8)


SLOW = [(TaperedOval, Bent)]


@pytest.mark.parametrize("branch", BRANCHES)
@pytest.mark.parametrize("main", MAINS)
def test_gaps_agree_with_a_full_fit_up_for_every_branch_on_every_main(branch, main):
    quick = (branch, main) not in SLOW
    cut = ("bevelled", "square")[(BRANCHES.index(branch) + MAINS.index(main)) % 2]
    joint = random_pair(branch, main, 2)
    errors = scattered(2 if quick else 1, [BRANCHES.index(branch), MAINS.index(main)])
    cut = cut if branch is not TaperedOval and main is not Bent else "bevelled"
    found = gap_batch(joint, cut).largest(errors)
    for index, gap in enumerate(found):
        assert gap == pytest.approx(fitted(joint, cut, errors, index).largest, abs=AGREED_MM)


@pytest.mark.parametrize("cut", ["bevelled", "square"])
@pytest.mark.parametrize(("branch", "main", "seed"), [
    (Round, Box, 4), (Box, Tapered, 2), (Box, Round, 2), (Round, Round, 11), (Oval, Round, 0)])
def test_gaps_agree_where_ridges_and_open_stretches_make_it_hard(branch, main, seed, cut):
    joint, errors = random_pair(branch, main, seed), scattered(4, [seed, 7])
    found = gap_batch(joint, cut).largest(errors)
    for index, gap in enumerate(found):
        assert gap == pytest.approx(fitted(joint, cut, errors, index).largest, abs=AGREED_MM)


def test_an_end_pushed_far_by_its_taper_is_followed_to_where_it_sits():
    joint, errors = random_pair(TaperedOval, Round, 8), scattered(4, [8, 7])
    found = gap_batch(joint, "bevelled").largest(errors)
    fit = fitted(joint, "bevelled", errors, 3)
    assert fit.slide > 5 and np.isnan(fit.outside).any()
    assert found[3] == pytest.approx(fit.largest, abs=AGREED_MM)


@pytest.mark.parametrize("joint", [
    JOINT, Joint(Box(30, 20, 2, 1.5), Box(40, 40, 3), 50), Joint(Tapered(22, 14, 390, 0.8),
                                                                 Oval(40, 30), 75, 2)])
def test_a_joint_has_the_same_gap_alone_and_in_company(joint):
    model, errors = gap_batch(joint, "bevelled"), scattered(TOGETHER + 3, 5)
    errors = replace(errors, diameter=np.round(errors.diameter, 1))
    together = model.largest(errors)
    for index in (0, 7, TOGETHER, TOGETHER + 2):
        alone = model.largest(errors.of(np.array([index])))
        assert alone[0] == pytest.approx(together[index], abs=1e-3)


# ---- closed forms


@pytest.mark.parametrize(("cut_for", "axial", "at"), [
    (38.1, .604139829021, "ears"), (35.0, .344446763988, "throat")])
def test_a_main_of_the_wrong_size_at_90_leaves_the_computed_gap(cut_for, axial, at):
    # Computed: abs((s - sqrt(s^2 - r^2)) - (R - sqrt(R^2 - r^2))) along the tube, s 19.05 and 17.5
    # what the cope was cut for, R 18 the real main, r 14.3; the ears then stand so far from its
    # axis.
    known = np.hypot(14.3, np.sqrt(18**2 - 14.3**2) + axial) - 18 if at == "ears" else axial
    joint = Joint(Round(28.6, 0.9), Round(cut_for), 90)
    found = gap_batch(joint, "bevelled").largest(one(diameter=36 - cut_for))
    assert found[0] == pytest.approx(known, abs=1e-4)


@given(st.floats(-3, 3), st.floats(30, 150))
@examples(20)
def test_a_tube_too_short_or_too_long_by_so_much_stands_so_far_off_a_plate(error, angle):
    # Derived: every point of the edge stands `error` mm off along the tube, and the plate leans
    # by the angle against it.
    joint = Joint(Round(28.6, 0.9), Plate(6), angle)
    found = gap_batch(joint, "bevelled").largest(one(length=error))
    assert found[0] == pytest.approx(abs(error) * np.sin(np.radians(angle)), abs=1e-9)


@given(st.floats(0.1, 3))
@examples(10)
def test_an_angle_error_on_a_plate_opens_the_far_side_by_the_tilt(error):
    # Derived: it stands on one outer edge, the other is D sin(error) above the plate.
    found = gap_batch(Joint(Round(30, 1), Plate(6), 90), "bevelled").largest(one(angle=error))
    assert found[0] == pytest.approx(30 * np.sin(np.radians(error)), abs=2e-4)


@examples(10)
@given(st.floats(30, 150), st.floats(-4, 4), st.integers(0, 1000))
def test_the_mirrored_joints_have_the_mirrored_gaps(angle, offset, seed):
    joint, errors = Joint(Round(25, 1), Round(40), angle, offset), scattered(3, seed)
    mirrored = replace(errors, turn=-errors.turn, offset=-errors.offset)
    found = gap_batch(joint, "bevelled").largest(errors)
    other = gap_batch(replace(joint, offset=-offset), "bevelled").largest(mirrored)
    np.testing.assert_allclose(other, found, rtol=0, atol=1e-3)


# ---- what cannot be made


def test_a_joint_that_cannot_be_made_has_no_gap_but_an_endless_one():
    model = gap_batch(JOINT, "bevelled")
    gaps = model.largest(Errors(
        np.array([0.0, 130.0, -70.0, 0.0, 0.0]), np.zeros(5), np.array([0.0, 0, 0, 60.0, 0]),
        np.array([0.0, 0, 0, 0, -40.0]), np.zeros(5)))
    assert gaps[0] == pytest.approx(0, abs=1e-9)
    assert np.isposinf(gaps[1:]).all()


# ---- mains of another size


@pytest.mark.parametrize("main", [Round(40), Tapered(40, 30, 200), Oval(40, 25), Bent(40, 100),
                                  Box(40, 30, 3), Box(40, 30)])
@pytest.mark.parametrize("by", [0.5, -0.5])
def test_a_larger_main_is_as_much_larger_across(main, by):
    other = main.grown(by)
    assert other.across == pytest.approx(main.across + by)
    points = np.array(((50.0, 0.0, 0.0), (0.0, 50.0, 0.0)))
    lean = 1.0 if not isinstance(main, Tapered) else 1 / np.hypot(1, main.slope)
    np.testing.assert_allclose(other.distance(points), main.distance(points) - by / 2 * lean,
                               rtol=0, atol=1e-9)


def test_the_size_of_a_plate_does_not_matter():
    assert Plate(6).grown(1.0) == Plate(6) and Plate(6).across is None
