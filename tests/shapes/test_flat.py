"""The flat sheet of every branch, held against the tube itself and against published values."""

import numpy as np
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from coper import Box, Joint, Oval, Plate, Round, Tapered, TaperedOval
from coper.shapes.development import Development
from coper.shapes.ellipse import Ellipse
from tests.profiles import examples
from tests.specimens import BRANCHES_OF_EVERY_KIND, EXACT_BRANCHES

few = examples(30)
each_branch = pytest.mark.parametrize("branch", BRANCHES_OF_EVERY_KIND, ids=lambda b: b.words())
each_exact = pytest.mark.parametrize("branch", EXACT_BRANCHES, ids=lambda b: b.words())


def skin(branch, clock, along):
    return branch.generators(clock, 0.0, along).at(np.asarray(along, dtype=float))


@each_exact
@pytest.mark.parametrize("lift", [0.0, 0.3])
def test_the_flat_sheet_keeps_the_length_of_any_curve(branch, lift):
    t = np.linspace(0, 1, 200001)
    clock, along = -70 + 500 * t, 8 * np.sin(9 * t) + 15 * t
    points = skin(branch, clock, along)
    points += lift * branch.normal(points)
    x, y = branch.flat(clock, along, lift)
    flat = np.hypot(np.diff(x), np.diff(y))
    space = np.linalg.norm(np.diff(points, axis=0), axis=-1)
    if branch == Box(30, 50):  # a chord cuts the paper's own bend at a sharp corner
        assert (np.abs(flat - space) > 1e-7).sum() <= 12
        return
    assert flat.sum() == pytest.approx(space.sum(), abs=1e-5)
    np.testing.assert_allclose(np.cumsum(flat), np.cumsum(space), rtol=0, atol=1e-5)


@each_branch
def test_clock_0_lies_on_the_y_axis_with_its_along_0_at_the_origin(branch):
    for lift in (0.0, 0.2):
        x, y = branch.flat(np.zeros(3), np.array([-5.0, 0.0, 40.0]), lift)
        np.testing.assert_allclose(x, 0, atol=1e-12)
        ends = skin(branch, np.zeros(2), np.array([0.0, 40.0]))
        np.testing.assert_allclose(y[1:], [0, np.linalg.norm(ends[1] - ends[0])], atol=1e-9)
        x, _ = branch.flat(np.array([1.0]), np.zeros(1), lift)
        assert x[0] > 0


@each_branch
@pytest.mark.parametrize("lift", [0.0, 0.25])
def test_a_whole_turn_moves_the_sheet_without_changing_it(branch, lift):
    rng = np.random.default_rng(5)
    clock, along = rng.uniform(0, 360, 40), rng.uniform(-10, 60, 40)
    for turns in (-1, 1, 2):
        here = np.stack(branch.flat(clock, along, lift))
        there = np.stack(branch.flat(clock + 360 * turns, along, lift))
        apart = [np.linalg.norm(sheet[:, :, None] - sheet[:, None, :], axis=0)
                 for sheet in (here, there)]
        np.testing.assert_allclose(apart[1], apart[0], rtol=0, atol=1e-9)


@each_branch
def test_once_round_at_along_0_the_sheet_is_as_long_as_the_girth_says(branch):
    for lift in (0.0, 0.25):
        clock = np.linspace(0, 360, 20001)
        x, y = branch.flat(clock, np.zeros(clock.size), lift)
        assert np.hypot(np.diff(x), np.diff(y)).sum() == pytest.approx(
            branch.girth(lift), abs=1e-5)


def test_the_sheet_of_a_smooth_tube_is_2_pi_lift_longer():
    for branch in (Round(28), Oval(30, 17), Box(40, 20, 3), Box(40, 20), TaperedOval(30, 9, 9, 9)):
        assert branch.girth(0.5) - branch.girth() == pytest.approx(np.pi, rel=1e-12)


@few
@example(10, 0.999, 40, 0, 0).via("the two ends are of one size: no taper")
@given(st.floats(10, 60), st.floats(0.3, 2), st.floats(40, 400), st.floats(-200, 500),
       st.floats(-30, 60))
def test_a_cones_sheet_wraps_back_onto_the_cone(start, share, length, clock, along):
    slope = (start * share + 0.01 - start) / 2 / length
    assume(abs(slope) > 1e-4 and start / 2 + slope * along > 0.5)
    branch = Tapered(start, start * share + 0.01, length)
    x, y = branch.flat(np.array(clock), np.array(along))
    # The other way round: polar about the apex of the flat sector.
    sine = slope / np.hypot(1, slope)
    apex = -start / 2 / sine
    slant = np.hypot(x, y - apex) * np.sign(slope)
    angle = np.arctan2(x * np.sign(slope), (y - apex) * np.sign(slope)) / sine
    assert slant * sine == pytest.approx(start / 2 + slope * along, abs=1e-9)
    turns = np.round((np.radians(clock) - angle) * abs(sine) / (2 * np.pi)) / abs(sine)
    assert angle + 2 * np.pi * turns == pytest.approx(np.radians(clock), abs=1e-8)


@few
@given(st.floats(10, 60), st.floats(0.1, 1), st.floats(-400, 800))
def test_an_ovals_sheet_wraps_back_onto_the_oval(major, share, clock):
    branch = Oval(major, major * share)
    x, _ = branch.flat(np.array(clock), np.zeros(1))
    point = skin(branch, np.array(clock), 0.0)
    t = np.linspace(0, np.arctan2(point[1] / branch.minor, point[0] / branch.major), 40001)
    walked = np.hypot(np.diff(branch.major / 2 * np.cos(t)),
                      np.diff(branch.minor / 2 * np.sin(t))).sum() * np.sign(t[-1] or 1)
    turns = np.round((x - walked) / branch.girth())
    assert walked + turns * branch.girth() == pytest.approx(x, abs=1e-6)


def test_a_cone_of_90_degrees_develops_to_the_published_sector():
    # Math Forum, "Construction of Cone Surface": 254.558441227 degrees (computed), 216 for r 3,
    # slant 5 (read).
    for branch, slant, sector in ((Tapered(20, 0.2, 9.9), np.hypot(10, 10), 254.558441227),
                                  (Tapered(6, 3, 2), 5, 216)):
        x, y = branch.flat(np.array([0.0, 180.0]), np.zeros(2))
        # Half the cone turns the sheet's edge about its apex by half the sector.
        half = np.degrees(np.arctan2(x[1], slant - y[1]))
        assert 2 * half == pytest.approx(sector, rel=1e-11)


def test_a_frustum_develops_between_the_computed_radii():
    # Computed: frustum 50 to 30 over 40: slant, outer and inner radius, angle.
    branch = Tapered(50, 30, 40)
    slant, outer, inner, sector = 41.2310562562, 103.07764064, 61.8465843843, 87.3128250131
    x, y = branch.flat(np.array([0.0, 0.0, 360.0]), np.array([0.0, 40.0, 0.0]))
    assert y[1] == pytest.approx(slant, rel=1e-11)
    assert np.hypot(x[2], y[2] - outer) == pytest.approx(outer, rel=1e-11)
    assert outer - slant == pytest.approx(inner, rel=1e-9)
    assert np.degrees(np.arctan2(x[2], outer - y[2])) == pytest.approx(sector, rel=1e-10)


def test_a_plane_cut_unrolls_to_the_published_wave():
    # Apostol and Mnatsakanian (2007), section 2: r tan(alpha) sin(x/r); r 1, 30 degrees:
    # amplitude .577350269190, length of the wave 6.77791761270.
    template = Joint(Round(2, 0.1), Plate(6), 60).cope().template(paper=0)
    # The plate stands at 90 - 30 degrees to the axis; clock 0 is the far end.
    np.testing.assert_allclose(
        template.y, 0.577350269190 * np.sin(template.x + np.pi / 2), rtol=0, atol=1e-11)
    x = np.append(template.x, template.width)
    y = np.append(template.y, template.y[0])
    assert np.hypot(np.diff(x), np.diff(y)).sum() == pytest.approx(6.77791761270, rel=1e-5)


@pytest.mark.parametrize("mitre", [11.25, 33.75, 56.25, 78.75])
def test_a_mitre_cuts_back_by_half_the_diameter_times_its_tangent(mitre):
    # "Sheet Metal Drafting" (1921), p. 59: the mitre lines of an elbow of 5 pieces;
    # cut-back (D/2) tan(mitre), a fitters' worked example.
    cope = Joint(Round(168, 3), Plate(6), 90 - mitre).cope()
    assert cope.short_point.along == pytest.approx(84 * np.tan(np.radians(mitre)), rel=1e-12)
    assert cope.long_point.along == pytest.approx(-84 * np.tan(np.radians(mitre)), rel=1e-12)


def test_the_worked_mitre_of_three_cuts_is_the_exact_one():
    # Fitters' worked example: D 168, 90 degrees in 3 cuts: 22.50 printed, 22.5077321642 exact.
    cope = Joint(Round(168, 3), Plate(6), 75).cope()
    assert cope.short_point.along == pytest.approx(22.5077321642, rel=1e-11)


def test_a_sleeve_cut_at_30_degrees_has_the_computed_edge_and_fish_mouth():
    # FAA AC 43.13-1B par. 4-92 (angle), D 1: edge 4.84422411027, depth .866025403784 (computed).
    cope = Joint(Round(1, 0.05), Plate(6), 30).cope()
    assert cope.edge_length == pytest.approx(4.84422411027, rel=1e-9)
    depth = (cope.short_point.along - cope.long_point.along) / 2
    assert depth == pytest.approx(0.866025403784, rel=1e-11)


STRETCHED = [TaperedOval(30, 17, 14, 380), TaperedOval(40, 12, 44, 90), TaperedOval(50, 20, 30, 60)]


@pytest.mark.parametrize("branch", STRETCHED, ids=lambda b: b.words())
@pytest.mark.parametrize(("low", "high"), [(0, 60), (-20, 50), (10, 12)])
def test_the_stretch_is_the_worst_that_brute_force_finds_once_round_the_sheet(branch, low, high):
    clock = np.linspace(0, 360, 14401)

    def off(along):
        x, y = branch.flat(clock, np.full(clock.size, along))
        sheet = np.hypot(np.diff(x), np.diff(y)).sum()
        tube = np.linalg.norm(np.diff(skin(branch, clock, np.full(clock.size, along)), axis=0),
                              axis=-1).sum()
        return abs(sheet - tube)

    worst = max(off(along) for along in np.linspace(low, high, 41))
    inner = minimize_scalar(lambda along: -off(along), bounds=(low, high), method="bounded")
    known = max(worst, -inner.fun)
    assert branch.stretch(low, high) == pytest.approx(known, rel=1e-3, abs=1e-5)


@pytest.mark.parametrize("branch", STRETCHED, ids=lambda b: b.words())
def test_part_of_the_way_round_differs_by_no_more_than_the_stretch(branch):
    rng = np.random.default_rng(2)
    worst = branch.stretch(0, branch.length)
    for along in rng.uniform(0, branch.length, 12):
        clock = np.linspace(rng.uniform(0, 300), rng.uniform(300, 360), 8001)
        x, y = branch.flat(clock, np.full(clock.size, along))
        sheet = np.hypot(np.diff(x), np.diff(y)).sum()
        points = skin(branch, clock, np.full(clock.size, along))
        tube = np.linalg.norm(np.diff(points, axis=0), axis=-1).sum()
        assert abs(sheet - tube) <= worst + 1e-6


@pytest.mark.parametrize("branch", STRETCHED, ids=lambda b: b.words())
def test_the_sheet_of_a_tapered_oval_keeps_generators_and_both_stations(branch):
    clock = np.linspace(0, 360, 14401)
    for along in (0.0, branch.length):
        x, y = branch.flat(clock, np.full(clock.size, along))
        points = skin(branch, clock, np.full(clock.size, along))
        np.testing.assert_allclose(
            np.hypot(np.diff(x), np.diff(y)),
            np.linalg.norm(np.diff(points, axis=0), axis=-1), rtol=1e-5)
    ends = [np.stack(branch.flat(clock, np.full(clock.size, z))) for z in (3.0, 47.0)]
    space = skin(branch, clock, np.full(clock.size, 47.0)) - skin(
        branch, clock, np.full(clock.size, 3.0))
    np.testing.assert_allclose(
        np.linalg.norm(ends[1] - ends[0], axis=0), np.linalg.norm(space, axis=-1), rtol=1e-12)


def test_a_tapered_oval_without_ovalness_unrolls_as_a_cone():
    cone = Tapered(30, 14, 200)
    strips = Development(Ellipse(15, 15), Ellipse(7, 7), 200, 0.0)
    clock = np.linspace(-100, 500, 77)
    along = np.linspace(-20, 90, 77)
    for ours, known in zip(strips.flat(np.radians(clock), along), cone.flat(clock, along),
                           strict=True):
        np.testing.assert_allclose(ours, known, rtol=0, atol=1e-9)
    assert strips.stretch(-20, 90) < 1e-10


def test_shapes_that_unroll_exactly_say_that_nothing_stretches():
    assert [branch.stretch(-30, 80) for branch in EXACT_BRANCHES] == [0.0] * len(EXACT_BRANCHES)
