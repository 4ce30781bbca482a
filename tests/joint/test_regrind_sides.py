"""What each cause explains, and on which side of a spot how far metal is taken off."""

import itertools

import numpy as np
import pytest

from coper import Joint, Round
from coper.joint.edge import even_clocks
from coper.joint.fit.face import Bevelled
from coper.joint.fit.fit import seat
from coper.joint.fit.mount import Mounting
from coper.joint.regrind.regrind import regrind

JOINT = Joint(Round(28.6, wall=0.9), Round(38.1), angle=62, offset=3)
TRUE = {"turned on the tube": -3.7, "wrong angle": 1.2, "wrong offset": 0.4}


def gaps(turn, angle, offset, clock, face=None):
    """A full fit-up, which the regrind does not use."""
    mounted = Mounting(angle, turn, offset).of(JOINT).cluster()
    return seat(face or Bevelled(JOINT.cluster()), mounted, turn, 8).at(clock)[0]


def test_each_cause_explains_its_mean_share_over_every_order_of_putting_them_in():
    # Shapley, Contributions to the Theory of Games II (1953): the mean, over all orders, of what
    # a cause adds to the share of the squares explained.
    clock = even_clocks(12)
    read = gaps(*TRUE.values(), clock)

    def worth(causes):
        found = gaps(*(TRUE[name] * (name in causes) for name in TRUE), clock)
        return max(0.0, 1 - np.square(found - read).sum() / np.square(read).sum())

    orders = list(itertools.permutations(TRUE))
    known = {name: np.mean([worth(order[:order.index(name) + 1]) - worth(order[:order.index(name)])
                            for order in orders]) for name in TRUE}
    found = regrind(JOINT, "bevelled", list(zip(clock, read, strict=True)))
    assert min(known.values()) > 0.05
    for cause in found.causes:
        assert cause.explains == pytest.approx(known[cause.cause], abs=0.015)


SPOT, BACK, ON, PROUD = 135.0, 15.0, 65.0, 0.8
READ = np.array([0.0, 40.0, 80.0, SPOT - BACK, SPOT, SPOT + ON, 240.0, 280.0, 320.0])


class Spotted:
    """A face that stands proud at the spot, level again at the readings beside it."""

    def __init__(self):
        self.cluster = JOINT.cluster()

    def of(self, chosen):
        return self

    def station(self, clock, depth):
        away = (clock - SPOT + 180) % 360 - 180
        share = np.where(away < 0, 1 + away / BACK, 1 - away / ON)
        return self.cluster.entry(clock, depth) - PROUD * np.clip(share, 0, None)


def test_a_spot_is_ground_off_as_far_as_the_reading_before_it_and_the_one_behind_it():
    read = gaps(0.0, 0.0, 0.0, READ, Spotted())
    found = regrind(JOINT, "bevelled", list(zip(READ, read, strict=True)))
    assert found.spot == SPOT
    clock = SPOT + np.array([-40.0, -20.0, -7.5, 0.0, 16.25, 32.5, 48.75, 80.0])
    known = PROUD * np.array([0, 0, 1 / 2, 1, 3 / 4, 1 / 2, 1 / 4, 0])
    np.testing.assert_allclose(found.at(clock), known, rtol=0, atol=0.12)
