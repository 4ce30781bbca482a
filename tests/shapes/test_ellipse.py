"""The ellipse against published lengths, scipy and dense search."""

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from scipy.special import ellipe, ellipeinc

from coper.shapes.ellipse import Ellipse
from tests.profiles import examples

few = examples(40)
ratios = st.floats(0.001, 1)
turns = np.linspace(-7, 11, 203)


@pytest.mark.parametrize(("a", "b", "printed"), [
    (2, 1, 9.68844822054767619842850319639), (3, 2, 15.8654395893), (5, 4, 28.3616678890)])
def test_perimeters_are_the_published_ones(a, b, printed):
    # HP-42S collection, "Perimeter of an Ellipse".
    assert Ellipse(a, b).girth() == pytest.approx(printed, rel=3e-12)


def test_the_best_known_perimeter_holds_to_all_digits():
    assert Ellipse(2, 1).girth() == pytest.approx(9.68844822054767619842850319639, rel=1e-15)


@few
@given(ratios)
def test_arcs_are_scipys_elliptic_integral(ratio):
    square = 1 - ratio**2
    known = 20 * (ellipe(square) - ellipeinc(np.pi / 2 - turns, square))
    np.testing.assert_allclose(Ellipse(20, 20 * ratio).arc(turns), known, rtol=0, atol=5e-12)


@few
@given(ratios)
def test_the_eccentric_angle_of_an_arc_gives_that_arc_again(ratio):
    ellipse = Ellipse(20, 20 * ratio)
    arcs = turns * ellipse.girth() / 5
    np.testing.assert_allclose(ellipse.arc(ellipse.eccentric(arcs)), arcs, rtol=0, atol=1e-11)


@few
@given(ratios)
def test_the_normal_turns_with_the_angle_and_never_back(ratio):
    ellipse = Ellipse(20, 20 * ratio)
    heading = ellipse.heading(turns)
    assert (np.diff(heading) > 0).all()
    speed = ellipse.speed(turns)
    np.testing.assert_allclose(np.cos(heading), ellipse.b * np.cos(turns) / speed, atol=1e-12)
    np.testing.assert_allclose(np.sin(heading), ellipse.a * np.sin(turns) / speed, atol=1e-12)


@few
@given(st.floats(0.05, 1), st.floats(-60, 60), st.floats(-60, 60))
@example(0.0546875, 1.0, 1.0)
def test_no_point_of_the_ellipse_is_nearer_than_the_foot(ratio, x, y):
    ellipse = Ellipse(20, 20 * ratio)
    cos, sin = ellipse.foot(np.array(x), np.array(y))
    assert np.hypot(cos, sin) == pytest.approx(1, abs=1e-14)
    t, step = np.linspace(0, 2 * np.pi, 20001, retstep=True)
    nearest = t[np.hypot(ellipse.a * np.cos(t) - x, ellipse.b * np.sin(t) - y).argmin()]
    # Once more about the nearest: points are then 1.3e-6 mm apart, also where the point lies so
    # near the ellipse that a coarser row of them passes it by.
    t = np.linspace(nearest - step, nearest + step, 10001)
    dense = np.hypot(ellipse.a * np.cos(t) - x, ellipse.b * np.sin(t) - y).min()
    foot = np.hypot(ellipse.a * cos - x, ellipse.b * sin - y)
    assert dense - 1e-6 <= foot <= dense + 1e-9


@pytest.mark.parametrize(("x", "y", "nearest"), [
    (0, 0, 10), (3, 0, 9.4686499), (-3, 0, 9.4686499), (19, 0, 1), (25, 0, 5), (0, 14, 4)])
def test_points_on_the_axes_have_the_foot_of_the_derivation(x, y, nearest):
    # On the major axis within (a^2 - b^2)/a of the centre: b sqrt(1 - x^2 / (a^2 - b^2)), derived.
    cos, sin = Ellipse(20, 10).foot(np.array(float(x)), np.array(float(y)))
    known = 10 * np.sqrt(1 - x * x / 300) if abs(x) <= 3 and y == 0 else nearest
    assert np.hypot(20 * cos - x, 10 * sin - y) == pytest.approx(known, abs=1e-9)
