"""Two passes that leave the end hanging, and which of two saws that cut as well comes first."""

import numpy as np
import pytest
from scipy.ndimage import label
from scipy.optimize import brentq

from coper import CoperError, Joint, Round
from coper.joint.saw.kit import choose_saws


def comes_off(joint, choice):
    """Whether the unrolled wall beyond the cut is severed from the body by the two cylinders."""
    clock, along = np.arange(0, 360, 0.5), np.arange(-80, 120, 0.1)
    r, c = joint.branch.diameter / 2, np.radians(clock)
    sine, cosine = np.sin(np.radians(joint.angle)), np.cos(np.radians(joint.angle))
    left = np.ones((along.size, clock.size), bool)
    for one in choice.passes:
        centre = choice.long_point.along - one.centre_beyond_long_point
        beside = r * np.sin(c) + one.offset  # square to both axes
        above = (along[:, None] - centre) * sine - r * np.cos(c) * cosine
        left &= np.hypot(beside, above) > one.diameter / 2
    labels, _ = label(np.hstack((left, left)))  # twice round: what hangs together over clock 0
    return not np.isin(labels[0], np.unique(labels[-1])).any()


@pytest.mark.parametrize(("joint", "saw"), [
    (Joint(Round(21.0, 1), Round(85.0), 61.5, 24.6), 14.5),
    (Joint(Round(20.8, 1), Round(55.3), 30.1, 15.9), 14.7),
    (Joint(Round(9.7, 1), Round(59.9), 71.5, 24.3), 13.0),
])
def test_two_passes_are_offered_only_where_the_end_then_comes_off(joint, saw):
    # Far beside the main's axis one cut stands much higher than the other, and a wall of tube is
    # left standing between the two although every line along the tube meets one of them.
    try:
        choices = choose_saws(joint, (saw,), enough=0.0).choices
    except CoperError:
        return
    assert all(comes_off(joint, one) for one in choices if len(one.passes) == 2)


def test_such_a_saw_that_has_to_do_it_in_two_passes_is_refused():
    with pytest.raises(CoperError):
        choose_saws(Joint(Round(21.0, 1), Round(85.0), 61.5, 24.6), (14.5,), enough=0.0)


def test_of_two_saws_that_leave_the_same_gap_the_smaller_comes_first():
    # At 90 degrees: a smaller saw leaves abs((s - sqrt(s^2 - r^2)) - (R - sqrt(R^2 - r^2))) in the
    # throat; a larger one that much along the tube at the ears, so far from the main's skin.
    main, branch, gap = 18.0, 14.3, 0.2
    rise = np.sqrt(main**2 - branch**2)

    def axial(saw):
        return abs((saw - np.sqrt(saw**2 - branch**2)) - (main - rise))

    def ears(saw):
        return np.hypot(branch, rise + axial(saw)) - main

    smaller = 2 * brentq(lambda s: axial(s) - gap, branch + 1, main, xtol=1e-13)
    larger = 2 * brentq(lambda s: ears(s) - gap, main, 30, xtol=1e-13)
    for kit in ((smaller, larger), (larger, smaller)):
        choices = choose_saws(Joint(Round(28.6, 0.9), Round(36), 90), kit).choices
        assert [one.fit.largest for one in choices] == pytest.approx([gap, gap], abs=1e-9)
        assert [one.setting.diameter for one in choices] == [smaller, larger]
