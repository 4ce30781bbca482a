"""Choosing a saw: closed forms, the seated place, the order."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper import CoperError, Joint, Round, Tapered
from coper.joint.fit.face import sawn
from coper.joint.fit.fit import seat
from coper.joint.saw.kit import USUAL_KIT_MM, choose_saws
from coper.joint.saw.setting import own_saw
from tests.profiles import examples

SQUARE_ON = Joint(Round(28.6, 0.9), Round(36), 90)


def test_wrong_sizes_at_90_leave_their_computed_gaps_where_they_are_computed():
    # Computed: abs((s - sqrt(s^2 - r^2)) - (R - sqrt(R^2 - r^2))) along the tube: s 19.05 R 18
    # r 14.3, at the ears; s 17.5, in the throat.
    smaller, larger = choose_saws(SQUARE_ON, (38.1, 35.0)).choices
    assert (smaller.setting.diameter, smaller.where) == (35.0, "throat")
    assert smaller.fit.largest == pytest.approx(.344446763988, abs=1e-9)
    assert (larger.setting.diameter, larger.where) == (38.1, "ears")
    ear = np.hypot(14.3, np.sqrt(18**2 - 14.3**2) + .604139829021) - 18
    assert larger.fit.largest == pytest.approx(ear, abs=1e-9)


def test_the_saws_axis_lies_beyond_the_long_point_by_the_saddles_rest():
    # Computed at 90 degrees: sqrt(s^2 - r^2) from the long point to the saw's axis.
    for choice in choose_saws(SQUARE_ON, (35.0, 38.1, 44.45)).choices:
        known = np.sqrt(choice.setting.diameter**2 / 4 - 14.3**2)
        assert choice.setting.centre_beyond_long_point == pytest.approx(known, abs=1e-9)


def test_the_mains_own_saw_is_the_best_and_is_set_as_the_geometry_says():
    joint = Joint(Round(28.6, 0.9), Round(38.1), 62, 3)
    best = choose_saws(joint).choices[0]
    own = own_saw(joint, joint.cope())
    assert best.fit.largest == pytest.approx(0, abs=1e-9) and best.where == ""
    for name in ("diameter", "set_angle", "offset", "centre_beyond_long_point", "depth_needed"):
        assert getattr(best.setting, name) == pytest.approx(getattr(own, name), abs=1e-6)
    assert best.setting.rpm == own.rpm


def test_the_usual_kit_goes_by_eighths_of_an_inch():
    assert len(USUAL_KIT_MM) == 16
    assert USUAL_KIT_MM[0] == 0.625 * 25.4 and USUAL_KIT_MM[-1] == 63.5


@st.composite
def joints(draw):
    main = draw(st.floats(25, 60))
    branch = main * draw(st.floats(0.3, 0.85))
    offset = draw(st.floats(-0.7, 0.7)) * (main - branch) / 2
    return Joint(Round(branch, branch / 20), Round(main), draw(st.floats(30, 150)), offset)


@examples(15)
@given(joints())
def test_the_seated_tube_ends_where_the_design_puts_it(joint):
    for choice in choose_saws(joint, (joint.main.diameter * 1.1, joint.main.diameter)).choices:
        assert choice.fit.slide == pytest.approx(0, abs=1e-6)
        at = choice.long_point.along - choice.setting.centre_beyond_long_point
        cut = sawn(joint, choice.setting.diameter, at)
        long = float(cut.station(np.array([choice.long_point.clock]), np.zeros(1))[0])
        assert long == pytest.approx(choice.long_point.along, abs=1e-6)
        assert seat(cut, joint.cluster()).slide == pytest.approx(0, abs=1e-6)


def test_a_cut_through_a_taper_is_moved_until_it_ends_where_the_design_puts_it():
    joint = Joint(Tapered(30, 20, 80, 1), Round(36), 70, 1)
    for choice in choose_saws(joint, (40.0, 50.0)).choices:
        assert choice.fit.slide == pytest.approx(0, abs=1e-7)
        at = choice.long_point.along - choice.setting.centre_beyond_long_point
        assert abs(at) > 0.5  # it was moved
        moved = sawn(joint, choice.setting.diameter, at)
        assert seat(moved, joint.cluster()).slide == pytest.approx(0, abs=1e-7)


@examples(10)
@given(joints())
def test_the_kit_is_told_best_first_and_its_order_does_not_matter(joint):
    kit = tuple(joint.main.diameter * share for share in (1.3, 1.0, 1.1, 1.2))
    one, other = choose_saws(joint, kit), choose_saws(joint, kit[::-1])
    told = [choice.setting.diameter for choice in one.choices]
    assert told == [choice.setting.diameter for choice in other.choices]
    ranks = [(not c.setting.depth_ok, round(c.fit.largest, 6)) for c in one.choices]
    assert ranks == sorted(ranks)


def test_a_saw_that_is_too_shallow_comes_after_those_that_are_deep_enough():
    # Computed: D / sin A; 38.1 at 45 degrees needs 53.9 mm and the usual saw has 47.6.
    joint = Joint(Round(28.6, 0.9), Round(38.1), 35)
    kit = choose_saws(joint, (38.1, 41.275), depth=45)
    assert not any(choice.setting.depth_ok or choice.ok() for choice in kit.choices)
    assert all(choice.setting.depth_needed == pytest.approx(28.6 / np.sin(np.radians(35)))
               for choice in kit.choices)


def test_saws_that_leave_tube_uncut_are_told_apart():
    kit = choose_saws(replace(SQUARE_ON, offset=2), (20.0, 32.5, 32.7, 40.0))
    assert kit.too_small == (20.0, 32.5)
    assert kit.needed == pytest.approx(32.6)
    assert {choice.setting.diameter for choice in kit.choices} == {32.7, 40.0}


@pytest.mark.parametrize(("kit", "said"), [
    ((), "the kit holds no saw"), ((20.0, 25.0), r"largest is 25 mm; take one of 28\.60 mm"),
    ((0.0, 40.0), "saw 0 mm is not a size"), ((float("nan"),), "is not a size")])
def test_a_kit_that_cannot_cut_is_refused(kit, said):
    with pytest.raises(CoperError, match=said):
        choose_saws(SQUARE_ON, kit)
