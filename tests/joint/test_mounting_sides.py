"""Errors of the mounting have the sign that they are said to have; so has a bevel."""

import json

import numpy as np
import pytest

from coper import Box, Joint, Plate, Round
from coper.joint.fit.face import Bevelled
from coper.joint.fit.fit import seat
from tests.cli.run import run

ANGLE, OFFSET = 62.0, 3.0


def formula(clock, radius, angle, offset):
    """The design's check formula on 38.1."""
    c, a = np.radians(clock), np.radians(angle)
    return (np.sqrt(19.05**2 - (offset + radius * np.sin(c)) ** 2)
            + radius * np.cos(c) * np.cos(a)) / np.sin(a)


def known(angle=0.0, clock=0.0, offset=0.0):
    """Slide, and the gap at clock 90: mounted angle = angle + error, and so on."""
    clocks, radius = np.arange(0, 360, 0.1)[:, None], 14.3 - np.linspace(0, 0.9, 19)
    cut = formula(clocks - clock, radius, ANGLE, OFFSET)
    slide = (formula(clocks, radius, ANGLE + angle, OFFSET + offset) - cut).max()
    along = formula(np.array(90.0 - clock), 14.3, ANGLE, OFFSET) + slide
    z = along * np.sin(np.radians(ANGLE + angle))
    return slide, np.hypot(OFFSET + offset + 14.3, z) - 19.05


@pytest.mark.parametrize(("option", "error"), [
    ("angle", 1.5), ("angle", -1.5), ("clock", 3.0), ("clock", -3.0), ("offset", 0.6),
    ("offset", -0.6)])
def test_a_mounting_error_is_added_to_what_the_design_says(option, error):
    status, out, err = run("fit", "28.6 x 0.9", "38.1", "--angle", str(ANGLE), "--offset",
                           str(OFFSET), f"--{option}-error", str(error), "--points", "8", "--json")
    assert (status, err) == (0, "")
    found = json.loads(out)["gap"]
    at_90 = found["outside"][found["clock"].index(90)]
    assert (found["slide"], at_90) == pytest.approx(known(**{option: error}), abs=1e-3)
    mirrored = known(**{option: -error})
    assert max(np.abs(np.array(mirrored) - (found["slide"], at_90))) > 0.02


def test_a_bevel_is_above_0_where_the_inside_is_cut_back_further_than_the_outside():
    # On a plate a point at radius r lies r cos(clock) / tan(62) along: the cut leans 28 degrees,
    # on the side of the sharp corner so that the outside edge is cut back further.
    cope = Joint(Round(28.6, 0.9), Plate(6), 62).cope(8)
    sides = dict(zip(cope.clock.tolist(), cope.bevel.tolist(), strict=True))
    assert (sides[0.0], sides[180.0]) == pytest.approx((-28, 28), abs=1e-6)
    assert (sides[90.0], sides[270.0]) == pytest.approx((0, 0), abs=1e-6)


def test_the_kinks_of_a_cut_that_stands_turned_are_among_the_clocks_of_its_gap():
    joint, turned = Joint(Round(28.6, 0.9), Box(40, 30, 2), 70, 4, main_turn=20), 3.3
    even = set(range(720))
    kinks = [clock for clock in joint.cope().clock if round(clock * 2, 6) not in even]
    fit = seat(Bevelled(joint.cluster()), joint.cluster(), turned)
    assert len(kinks) >= 2
    for kink in kinks:
        assert np.abs((fit.clock - kink - turned + 180) % 360 - 180).min() < 1e-6
