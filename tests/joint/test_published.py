"""Published values of the meeting of two cylinders, each with its source."""

import mpmath
import numpy as np
import pytest
from scipy.special import ellipe, ellipk

from coper import Joint, Round


def joint(branch, main, angle, offset=0.0, wall=None):
    return Joint(Round(branch, wall or branch / 20), Round(main), angle, offset)


def common_volume(of):
    """Volume inside both tubes: twice the height of the cope over the branch's section.

    The lower side of the main is the upper one turned half round, so both halves are equal.
    """
    nodes, weights = np.polynomial.legendre.leggauss(120)
    radius = of.branch.diameter / 2
    share = (1 - np.cos(np.pi * (nodes + 1) / 2)) / 2  # crowds towards the skin
    slope = np.pi / 4 * np.sin(np.pi * (nodes + 1) / 2)
    clock = np.arange(0, 360, 0.25)
    cluster = of.cluster()
    total = 0.0
    for rho, weight in zip(radius * share, weights * slope * radius, strict=True):
        total += weight * rho * cluster.entry(clock, radius - rho).mean() * 2 * np.pi
    return 2 * total


def test_two_equal_tubes_at_90_share_the_steinmetz_volume():
    # MathWorld, "Steinmetz Solid", eq. 7: V = 16/3 r^3.
    assert common_volume(joint(2, 2, 90)) == pytest.approx(16 / 3, rel=1e-5)


@pytest.mark.parametrize(("k", "printed"), [(0.5, 1.52003998817), (0.25, 0.389606670302692)])
@pytest.mark.parametrize("angle", [90, 62, 33])
def test_unequal_tubes_share_hubbells_volume(k, printed, angle):
    # J. H. Hubbell, J. Res. NBS 69C no. 2 (1965): V = R^3 v(k) / sin A,
    # v = (8/3) [(1 + k^2) E(k) - (1 - k^2) K(k)], modulus k.
    formula = 8 / 3 * ((1 + k * k) * ellipe(k * k) - (1 - k * k) * ellipk(k * k))
    assert formula == pytest.approx(printed, rel=1e-10)
    volume = common_volume(joint(2 * k, 2, angle))
    assert volume == pytest.approx(formula / np.sin(np.radians(angle)), rel=1e-9)


def test_offset_tubes_share_the_volume_found_by_quadrature():
    # Computed by quadrature: R 1, r 0.5, offset 0.25, 90 degrees.
    assert common_volume(joint(1, 2, 90, 0.25)) == pytest.approx(1.46405681231577, rel=1e-9)


def test_equal_tubes_at_90_unroll_to_the_absolute_cosine():
    # Apostol and Mnatsakanian, "Unwrapping Curves from Cylinders and Cones",
    # Amer. Math. Monthly 114 (2007) 388-416.
    clock = np.array([0, 15, 30, 45, 60, 75, 90.0])
    printed = [1, .965925826289, .866025403784, .707106781187, .5, .258819045103, 0]
    np.testing.assert_allclose(joint(2, 2, 90).cope().at(clock).outer, printed, atol=1e-7)


@pytest.mark.parametrize("a", [0.3, 0.75, 0.99])
def test_a_hole_through_the_axis_of_a_unit_tube_unrolls_as_published(a):
    # Same, Example 8: u^2 = a^2 - sin^2 x on the unrolled unit cylinder.
    footprint = joint(2 * a, 2, 90).cope().footprint()
    np.testing.assert_allclose(
        footprint.x**2, a * a - np.sin(footprint.arc) ** 2, rtol=0, atol=1e-12)


@pytest.mark.parametrize(("angle", "printed"), [
    (90, 7.64039557806), (75, 7.77525665371), (45, 9.23431552276), (30, 11.5150644430)])
def test_equal_tubes_have_the_edge_of_two_half_ellipses(angle, printed):
    # Half an ellipse each: 2/sin h E(cos^2 h) + 2/cos h E(sin^2 h), h = A/2 (computed).
    half = np.radians(angle / 2)
    formula = (2 / np.sin(half) * ellipe(np.cos(half) ** 2)
               + 2 / np.cos(half) * ellipe(np.sin(half) ** 2))
    assert formula == pytest.approx(printed, rel=1e-11)
    assert joint(2, 2, angle).cope().edge_length == pytest.approx(formula, rel=1e-9)


@pytest.mark.parametrize("angle", [20, 62, 90, 117])
def test_equal_tubes_end_at_the_half_angles_cotangent_and_tangent(angle):
    # Computed: clock 0 at r cot(A/2), clock 180 at r tan(A/2).
    half = np.radians(angle / 2)
    ends = joint(2, 2, angle).cope().at(np.array([0.0, 180.0])).outer
    np.testing.assert_allclose(ends, [1 / np.tan(half), np.tan(half)], rtol=1e-12)


def test_half_the_size_at_45_gives_the_computed_ordinates():
    # Computed with mpmath from the formula of the design: R 1, r 0.5, 45 degrees.
    clock = np.array([0, 30, 60, 90, 120, 150, 180.0])
    known = [1.91421356237, 1.80231909566, 1.52475487840, 1.22474487139,
             1.02475487840, .936293691871, .914213562373]
    np.testing.assert_allclose(joint(1, 2, 45).cope().at(clock).outer, known, rtol=1e-11)


@pytest.mark.parametrize(("branch", "main", "depth"), [
    (28.6, 31.8, 8.948741121207), (16, 40, 1.669697220177), (25.4, 31.75, 6.35)])
def test_the_saddle_at_90_is_as_deep_as_computed(branch, main, depth):
    # Computed: R - sqrt(R^2 - r^2).
    cope = joint(branch, main, 90).cope()
    assert cope.short_point.along - cope.long_point.along == pytest.approx(depth, rel=1e-12)


@pytest.mark.parametrize("angle", [25, 62, 90, 131])
def test_the_dihedral_is_the_angle_at_clock_0_and_its_rest_at_180(angle):
    # Computed: at the heel A, at the toe 180 - A.
    cope = joint(28.6, 38.1, angle).cope().at(np.array([0.0, 180.0]))
    np.testing.assert_allclose(cope.dihedral, [angle, 180 - angle], rtol=1e-12)


def test_equal_tubes_at_90_have_a_dihedral_of_120_at_clock_45():
    # Computed.
    assert joint(2, 2, 90).cope().at(np.array([45.0])).dihedral[0] == pytest.approx(120)


@pytest.mark.parametrize(("branch", "wall", "main", "known"), [
    (28.6, 0.9, 36, 1.086256415736), (38.1, 0.9, 38.1, 5.786190456596)])
def test_a_square_cut_stands_off_at_the_ears_by_the_computed_amount(branch, wall, main, known):
    # Computed: sqrt(R^2 - ri^2) - sqrt(R^2 - r^2), the inside edge touching first.
    ears = joint(branch, main, 90, wall=wall).cope().at(np.array([90.0, 270.0]))
    off = ears.template("square").y - ears.template("bevelled").y
    np.testing.assert_allclose(off, known, rtol=0, atol=1e-6)


def test_paper_wraps_its_middle_round_the_tube():
    # check: pi (D + t), from the paper's middle surface (derived).
    assert joint(28.6, 38.1, 62).cope().template(paper=0.1).width == pytest.approx(
        float(mpmath.pi * mpmath.mpf("28.7")), rel=1e-14)
