"""Frames built in space, their edges and strings solved for numerically: readings come back."""

import numpy as np
import pytest
from scipy.optimize import brentq, fsolve

from coper.bicycle.tracking.rear_end import LeftRight, RearEnd
from coper.bicycle.tracking.straight_edge import StraightEdge, edge_stand, lay
from coper.bicycle.tracking.string_gaps import string_gap
from coper.bicycle.tracking.tracking import TrackingReadings, track
from tests.profiles import seeds

Y = np.array((0.0, 1.0, 0.0))


def frame(seed):
    """A frame of random measures, how far it is off, and how wide its dropouts are."""
    chance = np.random.default_rng(seed)
    rear = RearEnd(*chance.uniform((28, 25, 450, 330, 110), (46, 38, 640, 450, 148)),
                   thickness=chance.uniform(3, 7), rim_radius=253.5)
    return rear, chance.uniform(-8, 8), rear.hub + chance.uniform(-4, 4)


def line_to_axis(point, way, on_axis, axis):
    """The shortest distance of two skew lines."""
    square = np.cross(way, axis)
    return abs((point - on_axis) @ square) / np.linalg.norm(square)


def laid_in_space(rear, spacer, lean):
    """Where a straight line that touches both leaning tubes on the left passes the axle, mm.

    ``lean`` are the angles in degrees of head tube and seat tube to the line in side view.
    """
    ahead = np.array((1.0, 0.0, 0.0))
    axes = [np.array((-np.cos(a), 0.0, np.sin(a))) for a in np.radians(lean)]
    places = (rear.reach * ahead, rear.seat_to_dropout * ahead)
    radii = (rear.head_diameter / 2 + spacer, rear.seat_diameter / 2 + spacer)

    def miss(unknown):
        stand, slope = unknown
        way = ahead + slope * Y
        return [line_to_axis(stand * Y, way, place, axis) - radius
                for place, axis, radius in zip(places, axes, radii, strict=True)]

    (stand, _), found, _, _ = fsolve(miss, (radii[1], 0.0), full_output=True, xtol=1e-14)
    assert np.abs(found["fvec"]).max() < 1e-11
    return stand


@pytest.mark.parametrize("seed", seeds(12))
@pytest.mark.parametrize("spacer", [0.0, 90.0])
def test_the_edge_stands_where_a_line_solved_for_in_space_stands(seed, spacer):
    rear, _, _ = frame(seed)
    square = laid_in_space(rear, spacer, (90.0, 90.0))
    assert edge_stand(rear, spacer) == pytest.approx(square, abs=1e-9)


@pytest.mark.parametrize("seed", seeds(12, 1768154093, 2035099901))
def test_tubes_that_lean_move_the_edge_by_nothing_that_a_rule_reads(seed):
    rear, _, _ = frame(seed)
    leaning = laid_in_space(rear, 0.0, (62.0, 48.0))
    assert edge_stand(rear, 0.0) == pytest.approx(leaning, abs=0.01)  # a rule reads 0.25


@pytest.mark.parametrize("seed", seeds(12))
@pytest.mark.parametrize("spacer", [0.0, 90.0])
def test_edge_readings_of_a_frame_in_space_give_back_how_far_it_is_off(seed, spacer):
    rear, off, width = frame(seed)
    stand = laid_in_space(rear, spacer, (90.0, 90.0))
    inner = np.array((off + width / 2, width / 2 - off))
    readings = stand - inner - rear.thickness if spacer else inner - stand
    found = track(rear, StraightEdge(spacer=spacer), TrackingReadings(edge=LeftRight(*readings)))
    assert found.off == pytest.approx(off, abs=1e-9)
    assert found.edge.width == pytest.approx(width, abs=1e-9)
    straight = stand - rear.hub / 2 - rear.thickness if spacer else rear.hub / 2 - stand
    assert found.expected_edge == pytest.approx(straight, abs=1e-9)
    assert lay(rear, StraightEdge(spacer=spacer)).face == ("outer" if spacer else "inner")


def solved_gap(rear, outer):
    """The gap beside the seat tube, the string's touch on the head tube found by bisection."""
    start, middle = np.array((0.0, outer)), np.array((rear.reach, 0.0))

    def touch(angle):
        return middle + rear.head_diameter / 2 * np.array((np.cos(angle), np.sin(angle)))

    angle = brentq(lambda a: (touch(a) - start) @ (touch(a) - middle), 0.2, np.pi / 2 + 0.5,
                   xtol=1e-14)
    end = touch(angle)
    share = rear.seat_to_dropout / end[0]
    return start[1] + share * (end[1] - start[1]) - rear.seat_diameter / 2


@pytest.mark.parametrize("seed", seeds(12))
def test_string_gaps_of_a_solved_string_give_back_how_far_it_is_off(seed):
    rear, off, width = frame(seed)
    outer = (width / 2 + off + rear.thickness, width / 2 - off + rear.thickness)
    gaps = LeftRight(*(solved_gap(rear, one) for one in outer))
    assert [string_gap(rear, one) for one in outer] == pytest.approx([gaps.left, gaps.right])
    found = track(rear, StraightEdge(), TrackingReadings(string=gaps))
    assert found.off == pytest.approx(off, abs=1e-9)
    assert found.string.width == pytest.approx(width, abs=1e-9)
    straight = solved_gap(rear, rear.hub / 2 + rear.thickness)
    assert found.expected_string == pytest.approx(straight, abs=1e-9)
