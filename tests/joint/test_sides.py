"""The four sides of a branch, by their clocks."""

import numpy as np
import pytest

from coper import Box, Joint, Oval, Round
from coper.joint.sides import side_names

BRANCHES = [Round(28.6, 0.9), Oval(30, 17, 0.9), Box(40, 20, 3, 1.5)]


@pytest.mark.parametrize("branch", BRANCHES, ids=lambda shape: shape.kind)
@pytest.mark.parametrize("turn", [0, 30, -77, 200])
@pytest.mark.parametrize("angle", [62, 90, 118])
def test_a_side_is_where_the_section_faces_it_however_the_branch_is_turned(branch, turn, angle):
    joint = Joint(branch, Round(60), angle, turn=turn)
    for quarters in range(4):
        point = branch.generators(np.array(joint.side_clock(quarters))).points
        towards_main = np.radians(turn) + np.arctan2(point[1], point[0])
        wanted = np.radians(90 * quarters + (0 if angle <= 90 else 180))
        assert np.cos(towards_main - wanted) == pytest.approx(1, abs=1e-12)


def test_the_heel_is_on_the_acute_side():
    assert Joint(Round(28.6, 0.9), Round(38.1), 62).heel_clock == 0
    assert Joint(Round(28.6, 0.9), Round(38.1), 118).heel_clock == 180
    assert Joint(Round(28.6, 0.9), Round(38.1), 62, turn=10).heel_clock == 350


def test_at_90_degrees_there_is_no_heel_but_the_mains_two_ends():
    names = side_names(Joint(Round(28.6, 0.9), Round(38.1), 90))
    assert names == {0: "main +", 90: "side", 180: "main –", 270: "side"}
