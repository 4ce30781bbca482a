"""The inside of a thick box: its corners are sharp, and where they begin the edge has a kink."""

import json

import numpy as np
import pytest

from coper import Box
from tests.cli.run import run

FIRST, SECOND, CORNER, WALL = 40.0, 24.0, 1.0, 3.0
GIRTH = 2 * (FIRST + SECOND) - 8 * CORNER + 2 * np.pi * CORNER


def kinks():
    """Clocks where the inside stops following a face: WALL short of the outer side's plane."""
    way = SECOND / 2 - WALL  # round from clock 0, the middle of the first face
    second = (SECOND / 2 - CORNER) + np.pi / 2 * CORNER + (WALL - CORNER)
    quarter = np.array((way, second)) / GIRTH * 360
    return np.sort(np.concatenate([quarter, 180 - quarter, 180 + quarter, 360 - quarter]))


def test_the_cope_holds_the_places_where_the_sharp_inside_corners_begin():
    box = f"box {FIRST:g} by {SECOND:g} corner {CORNER:g} x {WALL:g}"
    status, out, err = run("joint", box, "plate 6", "--angle", "60", "--turn", "20", "--json")
    assert (status, err) == (0, "")
    clocks = np.array(json.loads(out)["cope"]["clock"])
    for kink in kinks():
        assert np.abs(clocks - kink).min() < 1e-6


@pytest.mark.parametrize("depth", [0.0, 0.5, CORNER, 2.0, WALL])
def test_at_every_depth_the_inside_is_the_rectangle_so_much_smaller_its_corners_round_or_sharp(
        depth):
    box = Box(FIRST, SECOND, CORNER, WALL)
    clock = np.linspace(0, 360, 7201)
    x, y, _ = box.generators(clock, depth).points.T
    half = np.array((FIRST, SECOND)) / 2 - depth
    radius = max(CORNER - depth, 0.0)
    out = np.maximum(np.abs(np.stack((x, y), axis=-1)) - (half - radius), 0.0)
    # On the outline: on a face, or the radius from the middle of a corner.
    np.testing.assert_allclose(np.hypot(*out.T), radius, rtol=0, atol=1e-9)
    assert (np.abs(x) <= half[0] + 1e-9).all() and (np.abs(y) <= half[1] + 1e-9).all()
    assert np.abs(x).max() == pytest.approx(half[0]) and np.abs(y).max() == pytest.approx(half[1])
    if radius == 0:  # the sharp corner itself is reached
        corner = np.hypot(np.abs(x) - half[0], np.abs(y) - half[1])
        assert corner.min() < 1e-9
