"""The strokes that fill an outline."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coper.drawing.hatch import hatch_strokes
from coper.drawing.marks import Hatch
from tests.pages.specimens import area, circle, rectangle


def covered(hatch):
    return np.linalg.norm(np.diff(hatch_strokes(hatch), axis=1), axis=-1).sum() * hatch.spacing


@given(slope=st.floats(-180.0, 180.0), radius=st.floats(5.0, 60.0))
def test_strokes_times_their_spacing_cover_the_area_but_not_the_hole(slope, radius):
    ring, hole = circle(7.1, -3.2, radius), circle(7.9, -2.8, 0.4 * radius)
    hatch = Hatch((ring, hole), 0.05, slope)
    assert covered(hatch) == pytest.approx(area(ring) - area(hole), rel=2e-3)


@given(slope=st.floats(-180.0, 180.0))
def test_strokes_lie_a_spacing_apart_along_the_slope(slope):
    strokes = hatch_strokes(Hatch((circle(0.0, 0.0, 20.0),), 2.5, slope))
    turn = np.radians(slope)
    aside = strokes @ (-np.sin(turn), np.cos(turn))
    np.testing.assert_allclose(aside[:, 0], aside[:, 1], atol=1e-9)
    np.testing.assert_allclose(np.diff(np.sort(aside[:, 0])), 2.5, atol=1e-9)


def test_strokes_end_on_the_outline():
    strokes = hatch_strokes(Hatch((circle(3.0, 4.0, 20.0, 7200),), 1.7, 31.0))
    np.testing.assert_allclose(np.linalg.norm(strokes - (3.0, 4.0), axis=-1), 20.0, atol=1e-4)


def test_corners_that_lie_on_strokes_are_met_once():
    strokes = hatch_strokes(Hatch((rectangle(0.0, 0.0, 10.0, 4.0),), 1.0, 0.0))
    np.testing.assert_allclose(strokes[:, :, 1], [[y, y] for y in range(4)])
    np.testing.assert_allclose(strokes[:, :, 0], [[0.0, 10.0]] * 4)
    diamond = np.array(((0.0, -2.0), (3.0, 0.0), (0.0, 2.0), (-3.0, 0.0)))
    levels = hatch_strokes(Hatch((diamond,), 1.0, 0.0))
    np.testing.assert_allclose(np.ptp(levels[:, :, 0], axis=1), (0.0, 3.0, 6.0, 3.0))


def test_an_outline_smaller_than_the_spacing_may_have_no_stroke():
    assert hatch_strokes(Hatch((rectangle(0.2, 0.2, 0.5, 0.5),), 1.0, 0.0)).shape == (0, 2, 2)
