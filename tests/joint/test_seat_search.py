"""The place that counts is found where another one comes almost as high, or looks higher."""

from dataclasses import replace

import numpy as np
import pytest

from coper import Box, Joint, Oval, Round
from coper.joint.fit.face import Bevelled, sawn
from coper.joint.fit.fit import seat
from coper.joint.fit.mount import Mounting
from coper.joint.tolerance.gap_batch import Errors, gap_batch
from tests.specimens import random_pair

ANGLE, BRANCH, WALL, MAIN, SAW = 62.0, 28.6, 0.9, 38.1, 33.0


def formula(diameter, clock, radius, angle, offset):
    """The design's check formula; ``clock`` counts from the main's + end."""
    c, a = np.radians(clock), np.radians(angle)
    root = np.sqrt((diameter / 2) ** 2 - (offset + radius * np.sin(c)) ** 2)
    return (root + radius * np.cos(c) * np.cos(a)) / np.sin(a)


def dense_slide(error, offset):
    """The largest overlap over every thousandth of a degree near the ears, all through the wall."""
    clock = np.concatenate((np.arange(85, 95, 1e-3), np.arange(265, 275, 1e-3)))[:, None]
    radius = BRANCH / 2 - np.linspace(0, WALL, 19)
    return (formula(MAIN, clock, radius, ANGLE + error, offset)
            - formula(SAW, clock, radius, ANGLE, 0.0)).max()


@pytest.mark.parametrize(("error", "turn", "offset"), [
    (-1.0, 0.3, -2e-5), (-1.0, 0.2, 2e-5), (1.0, 0.1, -2e-5), (1.0, 0.4, 2e-5),
    (2.0, 0.4, -2e-5), (2.0, 0.1, 2e-5)])
def test_of_two_ears_that_touch_within_a_few_hundred_thousandths_of_a_mm_the_first_is_found(
        error, turn, offset):
    # A saw that is too small stands on both ears; the offset lets one of them touch first by a
    # hair, while the other one happens to lie on a half degree of the tube's own clock.
    joint = Joint(Round(BRANCH, WALL), Round(MAIN), ANGLE, turn=turn)
    fit = seat(sawn(joint, SAW), Mounting(angle=error, offset=offset).of(joint).cluster())
    assert fit.slide == pytest.approx(dense_slide(error, offset), abs=1e-6)


def test_the_gaps_of_a_box_whose_edge_has_many_peaks_agree_with_full_fit_ups():
    joint = random_pair(Box, Oval, 2)
    turns = np.array((-15.5, -15.25, -15.75))
    found = gap_batch(joint, "bevelled").largest(replace(Errors.none(turns.size), turn=turns))
    for turned, gap in zip(turns.tolist(), found, strict=True):
        fit = seat(Bevelled(joint.cluster()), joint.cluster(), turned, 8)
        assert gap == pytest.approx(fit.largest, abs=0.01)
