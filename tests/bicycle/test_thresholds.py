"""From where on a reading cannot be right, and how much longer a worn chain is."""

import math

import pytest
from scipy.optimize import brentq

from coper.bicycle.clearance.chain import make_chain
from coper.bicycle.clearance.drive import Sprockets
from coper.bicycle.clearance.slot import Slot
from coper.bicycle.tracking.doubts import good
from coper.bicycle.tracking.rear_end import LeftRight, RearEnd
from coper.bicycle.tracking.straight_edge import StraightEdge, lay
from coper.bicycle.tracking.string_gaps import string_gap
from coper.bicycle.tracking.tracking import TrackingReadings, track

REAR = RearEnd(31.8, 31.8, 570.0, 410.0, 130.0, thickness=5.0)
PITCH = 12.7
AXLE = (-415.0, 0.0, 58.0)


def edge_readings(over, width=130.0):
    """A straight rear end by the edge, each reading ``over`` mm too large."""
    exact = lay(REAR, StraightEdge()).reading(width / 2)
    return LeftRight(exact + over, exact + over)


@pytest.mark.parametrize("way", [1, -1])
def test_two_readings_may_each_be_wrong_by_a_quarter_mm_and_no_more(way):
    # A rule with half millimetres is read to half a step, 0.25 mm: two readings may make the
    # dropouts 0.5 mm wider or narrower than they were measured.
    for over, right in ((0.15, True), (0.24, True), (0.26, False), (0.4, False)):
        found = track(REAR, StraightEdge(), TrackingReadings(edge=edge_readings(way * over),
                                                             width=130.0))
        assert good(found) == right


@pytest.mark.parametrize(("over", "by"), [(0.24, "edge"), (0.3, "string")])
def test_the_edge_is_believed_until_the_measured_width_belies_it(over, by):
    # Both ways of reading put the rear end off, each by another amount.
    exact = lay(REAR, StraightEdge()).reading(65.0)
    edge = LeftRight(exact + over + 0.2, exact + over - 0.2)
    string = LeftRight(*(string_gap(REAR, 65.0 + way * 0.4 + 5.0) for way in (1, -1)))
    found = track(REAR, StraightEdge(), TrackingReadings(edge=edge, string=string, width=130.0))
    assert found.off == pytest.approx({"edge": 0.2, "string": 0.4}[by], abs=1e-6)


def belt(centre, ring, sprocket):
    """Round the two pitch circles: two tangents and two arcs, in pitches."""
    large, small = (teeth * PITCH / (2 * math.pi) for teeth in (ring, sprocket))
    lean = math.asin((large - small) / centre)
    return (2 * centre * math.cos(lean) + large * (math.pi + 2 * lean)
            + small * (math.pi - 2 * lean)) / PITCH


@pytest.mark.parametrize("travel", [4.0, 6.0, 8.0, 10.0, 14.0, 18.0, 22.0, 30.0])
def test_a_chain_is_worn_out_at_three_quarters_of_a_percent_and_the_slot_has_to_take_that_up(
        travel):
    slot = Slot(travel, 0.0, 2.0)
    rear = math.hypot(415.0 + travel - 2.0, 58.0)
    for one in make_chain(Sprockets(44, 18), AXLE, slot).choices:
        worn = brentq(lambda c, n=one.links * 1.0075: belt(c, 44, 18) - n, 200, 800)
        if abs(worn - rear) > 0.1:
            assert one.wears == (worn < rear)
