"""Tubes with corners that are the same, or each other's mirror image."""

import numpy as np
import pytest

from coper import Round, Tube, make_piece, plain_end, shape_end
from coper.frame.alike import find_alike

POINTS = np.array(((0, 0, 0), (200, 0, 0), (330, 90, 40), (360, 300, 60)), dtype=float)
RADII = (60, 45)


def bent(points, name, radii=RADII, side="centre"):
    tube = Tube(Round(20, 1.5), points[0], points[-1], name, side, corners=points[1:-1],
                radii=radii)
    return make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))


def turned(points):
    """Somewhere else, turned about all three axes."""
    axes = np.linalg.qr(np.random.default_rng(3).normal(size=(3, 3)))[0]
    axes[0] *= np.linalg.det(axes)
    return points @ axes.T + (40, -300, 70)


def test_a_bent_tube_moved_and_turned_end_for_end_is_the_same():
    group, = find_alike([bent(POINTS, "one"), bent(turned(POINTS), "two"),
                         bent(turned(POINTS)[::-1], "three", RADII[::-1])])
    assert group.batch.labels == ("one", "two", "three") and group.mirror is None


def test_a_bent_tube_reflected_is_the_mirror_image_whichever_end_comes_first():
    other = POINTS * (1, -1, 1)
    group, = find_alike([bent(POINTS, "one"), bent(turned(other), "two"),
                         bent(turned(other)[::-1], "three", RADII[::-1])])
    assert group.batch.labels == ("one",) and group.mirror.labels == ("two", "three")


def test_a_tube_bent_in_one_plane_is_its_own_mirror_image():
    flat = POINTS * (1, 1, 0)
    group, = find_alike([bent(flat, "one"), bent(turned(flat * (1, -1, 1)), "two")])
    assert group.batch.labels == ("one", "two")


@pytest.mark.parametrize("change", [
    lambda points: (points + np.array(((0, 0, 0), (3, 0, 0), (3, 0, 0), (3, 0, 0))), RADII),
    lambda points: (points * (1, 1, 0.9), RADII),
    lambda points: (points, (60, 46)),
])
def test_a_tube_bent_elsewhere_or_otherwise_is_another(change):
    assert len(find_alike([bent(POINTS, "one"), bent(*named(change(POINTS)))])) == 2


def named(changed):
    """What ``bent`` needs of the second tube."""
    points, radii = changed
    return points, "two", radii


def test_a_cope_on_the_other_side_of_a_bent_tube_makes_another_of_it():
    rails = [Tube(Round(30), (-2, -80, -z), (-2, 80, z), "rail") for z in (30, -30)]
    flat = POINTS * (1, 1, 0) - np.array(((20, 0, 0), (0, 0, 0), (0, 0, 0), (0, 0, 0)))
    pieces = []
    for name, rail in zip(("one", "two", "three"), (*rails, rails[0]), strict=True):
        tube = bent(flat, name).tube
        pieces.append(make_piece(tube, shape_end(tube, "start", [rail]), plain_end(tube, "end")))
    group, = find_alike(pieces)
    assert group.batch.labels == ("one", "three") and group.mirror.labels == ("two",)
