"""How careful to be: each error alone, against full fit-ups and closed forms."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from coper import Box, Joint, Plate, Round, Tapered
from coper.joint.fit.face import cut_face
from coper.joint.fit.fit import seat
from coper.joint.fit.mount import Mounting
from coper.joint.tolerance.tolerance import UNITS, square_cost, tolerance

JOINT = Joint(Round(28.6, 0.9), Round(38.1), 62, 3)
TAPER = Joint(Tapered(22.2, 14, 390, 0.8), Round(40), 75, -2)


def largest(joint, cut, thing, error):
    """The largest gap by ``coper fit`` with this one thing wrong."""
    mounting = Mounting(**{{"turn": "clock"}.get(thing, thing): error}) if thing in (
        "angle", "turn", "offset") else Mounting()
    real = replace(joint, main=joint.main.grown(error)) if thing == "diameter" else joint
    mounted = mounting.of(real).cluster()
    return seat(cut_face(joint, cut), mounted, mounting.clock, 8).largest


@pytest.fixture(scope="module")
def found():
    return tolerance(JOINT, "bevelled", 0.3)


def by_thing(found):
    return {care.thing: care for care in found.cares}


@pytest.mark.parametrize("thing", [thing for thing in UNITS if thing != "length"])
def test_the_gap_per_unit_is_that_of_a_small_error_in_a_full_fit_up(found, thing):
    for adds, error in zip(by_thing(found)[thing].per_unit, (0.1, -0.1), strict=True):
        assert adds == pytest.approx(largest(JOINT, "bevelled", thing, error) / 0.1, abs=5e-3)


LIMIT = 0.25


@cache
def tolerated(joint):
    return tolerance(joint, "bevelled", LIMIT)


@pytest.mark.parametrize("joint", [JOINT, TAPER, Joint(Box(30, 20, 2, 1.5), Round(60), 70)])
@pytest.mark.parametrize("thing", [thing for thing in UNITS if thing != "length"])
def test_the_largest_error_stays_under_the_limit_and_5_percent_more_does_not(joint, thing):
    most = by_thing(tolerated(joint))[thing].most
    assert most != (None, None)
    for side, sign in zip(most, (1, -1), strict=True):
        if side is not None:
            assert largest(joint, "bevelled", thing, sign * side) <= LIMIT + 1e-3
            assert largest(joint, "bevelled", thing, sign * side * 1.05) > LIMIT


def test_a_length_error_leaves_itself_at_a_plate_at_90():
    care = by_thing(tolerance(Joint(Round(28.6, 0.9), Plate(6), 90), "bevelled", 0.3))["length"]
    assert care.per_unit == pytest.approx((1, 1), abs=1e-9)
    assert care.most == pytest.approx((0.3, 0.3), abs=1e-4)


def test_what_cannot_matter_is_free():
    cares = by_thing(tolerance(Joint(Round(28.6, 0.9), Plate(6), 90), "bevelled", 0.3))
    for thing in ("turn", "offset", "diameter"):
        assert cares[thing].most == (None, None)
        assert np.abs(cares[thing].gaps).max() < 1e-6


def test_an_angle_error_at_a_plate_is_forgiven_up_to_the_tilt_that_fills_the_limit():
    # Derived: the far edge stands D sin(error) off.
    care = by_thing(tolerance(Joint(Round(30, 1), Plate(6), 90), "bevelled", 0.3))["angle"]
    known = np.degrees(np.arcsin(0.3 / 30))
    assert care.most == pytest.approx((known, known), abs=1e-3)


def test_a_square_cut_that_is_too_open_by_itself_forgives_nothing():
    found = tolerance(Joint(Round(28.6, 2), Round(30), 90), "square", 0.3)
    assert not found.possible and found.ideal > 0.3
    assert {care.most for care in found.cares} == {(0.0, 0.0)}


def test_a_square_cut_costs_the_computed_ears():
    # Computed: sqrt(R^2 - ri^2) - sqrt(R^2 - r^2) along the tube for 28.6 x 0.9 on 36, the ears
    # then stand so far from the axis.
    cost = square_cost(Joint(Round(28.6, 0.9), Round(36), 90))
    ear = np.hypot(14.3, np.sqrt(18**2 - 14.3**2) + 1.086256415736) - 18
    assert cost.largest == pytest.approx(ear, abs=1e-9)
    assert cost.largest_clock == pytest.approx(90, abs=1e-3)
    assert cost.root == pytest.approx(0, abs=1e-6)
    found = tolerance(Joint(Round(28.6, 0.9), Round(36), 90), "square", 1.0)
    assert found.ideal == pytest.approx(ear, abs=1e-3) and found.possible


def test_the_curves_grow_from_the_ideal_and_hold_the_errors_that_were_looked_at(found):
    for care in found.cares:
        assert (np.diff(care.errors) > 0).all() and care.errors.shape == care.gaps.shape
        assert (care.errors[0], care.errors[-1]) == (-care.looked[1], care.looked[0])
        assert care.gaps[care.errors == 0] == pytest.approx(found.ideal, abs=1e-9)


def test_the_curve_is_the_gap_of_each_error_in_a_full_fit_up(found):
    care = by_thing(found)["offset"]
    for error, gap in zip(care.errors[::4], care.gaps[::4], strict=True):
        assert gap == pytest.approx(largest(JOINT, "bevelled", "offset", error), abs=1e-3)


def test_a_wider_limit_forgives_more(found):
    wider = tolerance(JOINT, "bevelled", 0.6)
    for one, other in zip(found.cares, wider.cares, strict=True):
        for small, large in zip(one.most, other.most, strict=True):
            assert large is None or small < large
