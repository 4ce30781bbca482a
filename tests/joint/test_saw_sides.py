"""Two passes that leave the end hanging, and which of two saws that cut as well comes first."""

import numpy as np
import pytest
from scipy.ndimage import label
from scipy.optimize import brentq

from coper import CoperError, Joint, Round
from coper.joint.saw.kit import choose_saws


def left_standing(joint, choice):
    """How far the wall that stays with the body reaches past the cut, mm: none should."""
    clock, along = np.arange(0, 360, 0.5), np.arange(-80, 120, 0.1)
    r, c = joint.branch.diameter / 2, np.radians(clock)
    sine, cosine = np.sin(np.radians(joint.angle)), np.cos(np.radians(joint.angle))
    left, cut = np.ones((along.size, clock.size), bool), np.full(clock.size, -np.inf)
    for one in choice.passes:
        centre = choice.long_point.along - one.centre_beyond_long_point
        beside = r * np.sin(c) + one.offset  # square to both axes
        above = (along[:, None] - centre) * sine - r * np.cos(c) * cosine
        left &= np.hypot(beside, above) > one.diameter / 2
        root = np.sqrt(np.fmax(one.diameter**2 / 4 - beside**2, 0.0))
        top = centre + (root + r * np.cos(c) * cosine) / sine
        cut = np.fmax(cut, np.where(np.abs(beside) < one.diameter / 2, top, -np.inf))
    labels, _ = label(np.hstack((left, left)))  # twice round: what hangs together over clock 0
    body = np.isin(labels[:, :clock.size], np.unique(labels[-1]))
    return float((cut - along[np.argmax(body, axis=0)]).max())


@pytest.mark.parametrize(("joint", "saw"), [
    (Joint(Round(21.0, 1), Round(85.0), 61.5, 24.6), 14.5),
    (Joint(Round(20.8, 1), Round(55.3), 30.1, 15.9), 14.7),
    (Joint(Round(9.7, 1), Round(59.9), 71.5, 24.3), 13.0),
])
def test_two_passes_are_offered_only_where_no_wall_is_left_standing_past_the_cut(joint, saw):
    # Far beside the main's axis one cut stands much higher than the other: between them a tongue
    # of wall is left on the body although every line along the tube meets one of them.
    try:
        choices = choose_saws(joint, (saw,), enough=0.0).choices
    except CoperError:
        return
    assert all(left_standing(joint, one) < 0.5 for one in choices if len(one.passes) == 2)


def test_where_both_cuts_stand_level_two_passes_are_offered_and_leave_no_wall_standing():
    joint = Joint(Round(28.6, 0.9), Round(36), 90)
    two = choose_saws(joint, (24.0,), enough=0.0).choices[0]
    assert len(two.passes) == 2 and left_standing(joint, two) < 0.5


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
