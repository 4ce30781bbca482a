"""Bends against a polyline and arcs worked out in sixty digits."""

import math
from itertools import pairwise

import mpmath as mp
import numpy as np
import pytest

from coper import Bent, CoperError, Round, Tube, make_piece, plain_end
from coper.bench.bends import bend_lists

DIGITS = 60


def unit(vector):
    return vector / mp.sqrt(dot(vector, vector))


def dot(one, other):
    return mp.fsum(a * b for a, b in zip(one, other, strict=True))


def cross(a, b):
    return mp.matrix([a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2],
                      a[0] * b[1] - a[1] * b[0]])


def by_hand(points, radii):
    """Rows of (straight before, degrees, turn, begins) and the whole length, in many digits.

    The turn is that from the normal of one bend's plane to the next one's, about the leg between.
    """
    points = [mp.matrix([mp.mpf(float(x)) for x in point]) for point in points]
    legs = [b - a for a, b in pairwise(points)]
    ways = [unit(leg) for leg in legs]
    angles = [mp.acos(dot(a, b)) for a, b in pairwise(ways)]
    eaten = [mp.mpf(0), *(r * mp.tan(angle / 2) for r, angle in zip(radii, angles, strict=True)),
             mp.mpf(0)]
    rows, along, normal = [], mp.mpf(0), None
    for index, angle in enumerate(angles):
        leg = legs[index]
        straight = mp.sqrt(dot(leg, leg)) - eaten[index] - eaten[index + 1]
        here = unit(cross(ways[index], ways[index + 1]))
        turn = None
        if normal is not None:
            turn = mp.degrees(mp.atan2(dot(cross(normal, here), ways[index]), dot(normal, here)))
        along += straight
        rows.append((straight, mp.degrees(angle), turn, along))
        along += radii[index] * angle
        normal = here
    return rows, along + mp.sqrt(dot(legs[-1], legs[-1])) - eaten[-2]


def random_course(seed):
    rng = np.random.default_rng(seed)
    points = [rng.uniform(-200, 200, 3)]
    way, radii = rng.normal(size=3), []
    for _ in range(rng.integers(2, 5)):
        points.append(points[-1] + rng.uniform(300, 400) * way / np.linalg.norm(way))
        radii.append(rng.uniform(40, 90))
        way = way / np.linalg.norm(way) + 0.9 * rng.normal(size=3)
        way -= min(0.0, 0.5 + way @ way) * way
    points.append(points[-1] + 320 * way / np.linalg.norm(way))
    return points, radii


def bent(points, radii, stretch=0.0, **more):
    tube = Tube(Round(20, 1.5), points[0], points[-1], "stay", corners=points[1:-1], radii=radii,
                **more)
    piece = make_piece(tube, plain_end(tube, "start", 3.0), plain_end(tube, "end", 5.0))
    return bend_lists([piece], stretch)[0]


@pytest.mark.parametrize("seed", range(25))
def test_every_bend_is_that_of_a_polyline_and_arcs_worked_out_in_sixty_digits(seed):
    points, radii = random_course(seed)
    with mp.workdps(DIGITS):
        rows, length = by_hand(points, radii)
    found = bent(points, radii)
    assert found.blank == pytest.approx(float(length) - 8.0, abs=1e-9)
    for number, (bend, row) in enumerate(zip(found.bends, rows, strict=True)):
        straight, angle, turn, begins = (None if one is None else float(one) for one in row)
        assert bend.straight == pytest.approx(straight - (3.0 if number == 0 else 0.0), abs=1e-9)
        assert bend.angle == pytest.approx(angle, abs=1e-9)
        assert bend.begins == pytest.approx(begins - 3.0, abs=1e-9)
        assert (bend.turn is None) == (turn is None)
        if turn is not None:
            assert (bend.turn - turn + 180) % 360 - 180 == pytest.approx(0.0, abs=1e-7)


def test_a_tube_that_goes_up_after_it_went_left_is_turned_clockwise_as_seen_from_the_start():
    # Forward, then to the left (+y), then up (+z): about +y, looking along it, the bend before
    # lies towards the rear (-x), and from there clockwise is up.
    up = bent([(0, 0, 0), (200, 0, 0), (200, 200, 0), (200, 200, 200)], (50, 50))
    down = bent([(0, 0, 0), (200, 0, 0), (200, 200, 0), (200, 200, -200)], (50, 50))
    assert up.bends[1].turn == pytest.approx(-down.bends[1].turn)
    rear, above, ahead = (np.array(way) for way in ((-1, 0, 0), (0, 0, 1), (0, 1, 0)))
    assert up.bends[1].turn == pytest.approx(90 * np.sign(np.cross(rear, above) @ ahead))


def test_bends_to_one_side_are_not_turned_and_an_s_is_turned_half_round():
    hoop = bent([(0, 0, 0), (200, 0, 0), (200, 200, 0), (0, 200, 0)], (50, 50))
    double = bent([(0, 0, 0), (200, 0, 0), (200, 200, 0), (400, 200, 0)], (50, 50))
    assert hoop.bends[1].turn == pytest.approx(0.0, abs=1e-9)
    assert abs(double.bends[1].turn) == pytest.approx(180.0, abs=1e-9)


def test_a_twin_is_bent_the_other_way():
    points = [(0, 40, 0), (200, 40, 0), (350, 90, 60), (380, 120, 250)]
    one = bent(points, (60, 70), side="left")
    twin_tube = one.piece.tube.mirrored()
    twin, = bend_lists([make_piece(twin_tube, plain_end(twin_tube, "start", 3.0),
                                   plain_end(twin_tube, "end", 5.0))])
    assert one.bends[1].turn == pytest.approx(-twin.bends[1].turn) and abs(one.bends[1].turn) > 5
    assert [bend.begins for bend in twin.bends] == pytest.approx(
        [bend.begins for bend in one.bends])


def test_the_inside_of_a_bend_is_at_the_clock_that_faces_its_centre():
    # Clock 0 of a tube that runs forward is on the left, clock 90 is up.
    left = bent([(0, 0, 0), (200, 0, 0), (200, 200, 0)], (50,))
    up = bent([(0, 0, 0), (200, 0, 0), (200, 0, 200)], (50,))
    assert left.bends[0].clock == pytest.approx(0.0, abs=1e-9)
    assert up.bends[0].clock == pytest.approx(90.0)


def test_marks_come_earlier_by_what_the_bends_before_them_stretch():
    points = [(0, 0, 0), (200, 0, 0), (200, 200, 0), (400, 400, 0)]
    found = bent(points, (50, 50), stretch=4.0)
    first, second = found.bends
    assert first.mark == first.begins
    assert second.begins - second.mark == pytest.approx(4.0)
    assert found.blank - found.needed == pytest.approx(4.0 * (90 + 45) / 90)


def test_a_stretch_that_leaves_nothing_between_two_bends_is_refused():
    points = [(0, 0, 0), (200, 0, 0), (200, 200, 0), (0, 200, 0)]
    with pytest.raises(CoperError, match="more than stay has from bend to bend"):
        bent(points, (50, 50), stretch=500.0)


def test_a_bent_shape_is_one_bend_from_end_to_end():
    tube = Tube(Bent(16, 110, 1.2), (0, 80, 0), (0, -80, 0), "hoop")
    found, = bend_lists([make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))])
    assert found.bends[0].angle == pytest.approx(2 * math.degrees(math.asin(80 / 110)))
    assert (found.bends[0].straight, found.straight) == (0.0, pytest.approx(0.0))


def test_a_straight_tube_has_no_bends():
    tube = Tube(Round(20, 1), (0, 0, 0), (100, 0, 0))
    assert bend_lists([make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))]) == ()
