"""What every branch answers of itself: generators, inside, normals, ends, kinks."""

import numpy as np
import pytest

from coper import Box, Joint, Oval, Round, Tapered, TaperedOval
from tests.specimens import BRANCHES_OF_EVERY_KIND

each_branch = pytest.mark.parametrize("branch", BRANCHES_OF_EVERY_KIND, ids=lambda b: b.words())
clocks = np.linspace(0, 360, 721)


def skin(branch, clock, along, depth=0.0):
    return branch.generators(clock, depth, along).at(np.asarray(along, dtype=float))


@each_branch
def test_equal_steps_of_clock_are_equal_steps_round_the_outside(branch):
    dense = np.linspace(0, 360, 360001)
    steps = np.linalg.norm(np.diff(skin(branch, dense, np.zeros(dense.size)), axis=0), axis=-1)
    walked = np.concatenate(([0], np.cumsum(steps)))
    np.testing.assert_allclose(walked, dense / 360 * branch.girth(), rtol=0, atol=1e-3)
    assert walked[-1] == pytest.approx(branch.girth(), abs=1e-3)


@each_branch
def test_clocks_repeat_after_a_turn_and_start_on_the_first_axis(branch):
    np.testing.assert_allclose(
        skin(branch, clocks + 720, np.full(721, 9.0)), skin(branch, clocks, np.full(721, 9.0)),
        atol=1e-11)
    first, quarter = skin(branch, np.array([0.0, 90.0]), np.zeros(2))
    assert first[0] > 0
    assert first[1] == pytest.approx(0, abs=1e-12)
    assert quarter[1] > 0


@each_branch
def test_an_along_on_a_generator_is_a_place_along_the_tube(branch):
    for depth in (0.0, 0.7):
        lines = branch.generators(clocks, depth, 30.0)
        np.testing.assert_allclose(lines.at(np.full(721, 12.5))[:, 2], 12.5, atol=1e-12)


@each_branch
def test_clocks_depths_and_nears_broadcast(branch):
    depth = np.array([[0.0], [0.8]])
    lines = branch.generators(clocks, depth, 5.0)
    points = lines.at(np.full((2, 721), 5.0))
    assert points.shape == (2, 721, 3)
    np.testing.assert_allclose(points[1], skin(branch, clocks, np.full(721, 5.0), 0.8), atol=1e-12)


@each_branch
def test_normals_stand_square_to_the_skin_and_point_out(branch):
    rng = np.random.default_rng(3)
    clock, along = rng.uniform(0, 360, 300), rng.uniform(-20, 80, 300)
    step = 1e-5
    points = skin(branch, clock, along)
    round_it = skin(branch, clock + step, along) - skin(branch, clock - step, along)
    along_it = skin(branch, clock, along + step) - skin(branch, clock, along - step)
    known = np.cross(round_it, along_it)
    known /= np.linalg.norm(known, axis=-1)[:, None]
    np.testing.assert_allclose(branch.normal(points), known, rtol=0, atol=1e-6)
    assert ((points * branch.normal(points))[:, :2].sum(axis=-1) > 0).all()


@each_branch
def test_the_inside_is_moved_in_by_the_wall_square_to_each_sections_outline(branch):
    depth = 0.9
    along = np.full(721, 25.0)
    inside = skin(branch, clocks, along, depth)
    dense = skin(branch, np.linspace(0, 360, 40001), np.full(40001, 25.0))[:, :2]
    nearest = np.array([np.linalg.norm(dense - p, axis=-1).min() for p in inside[::10, :2]])
    np.testing.assert_allclose(nearest, depth, rtol=0, atol=1e-4)


def test_a_wall_thicker_than_the_corners_gives_a_sharp_inside():
    inside = skin(Box(40, 20, 1), clocks, np.zeros(721), 3.0)[:, :2]
    assert np.abs(inside).max(axis=0) == pytest.approx([17, 7])
    on_first, on_second = np.isclose(np.abs(inside), [17, 7]).T
    assert (on_first | on_second).all()
    assert (on_first & on_second).sum() > 20


def test_a_wall_thicker_than_the_tight_end_of_an_oval_gives_a_sharp_inside():
    # The tight end's radius is b^2 / a = 1.25 mm.
    oval = Oval(40, 10, 2)
    inside = skin(oval, clocks, np.zeros(721), 2.0)[:, :2]
    assert (oval.distance(np.c_[inside, np.zeros(721)]) <= -2 + 1e-9).all()
    assert np.abs(inside[0]) == pytest.approx([np.sqrt((1 - 4 / 25) * 375), 0])
    ends = oval.corners()
    assert ends.size == 4
    near = np.concatenate((ends - 1e-6, ends + 1e-6))
    sharp = np.isclose(skin(oval, near, np.zeros(8), 2.0)[:, 1], 0, atol=1e-12)
    assert sharp.sum() == 4
    flattened = TaperedOval(40, 10, 14, 300, 2)
    np.testing.assert_allclose(
        skin(flattened, clocks, np.zeros(721), 2.0)[:, :2], inside, atol=1e-9)


@pytest.mark.parametrize("branch", [TaperedOval(30, 17, 14, 380), TaperedOval(40, 10, 44, 90)],
                         ids=lambda b: b.words())
@pytest.mark.parametrize("near", [0.0, 20.0, -12.0])
def test_inside_a_tapered_oval_the_tangents_follow_the_points_of_the_sections(branch, near):
    step = 1e-4
    clock = np.linspace(0, 360, 97)
    lines = branch.generators(clock, 2.0, near)
    high, low = (skin(branch, clock, np.full(97, near + s), 2.0) for s in (step, -step))
    np.testing.assert_allclose(lines.directions, (high - low) / (2 * step), rtol=0, atol=1e-6)
    np.testing.assert_allclose(lines.at(np.full(97, near)), (high + low) / 2, rtol=0, atol=1e-6)


@pytest.mark.parametrize(("branch", "low", "high"), [
    (Tapered(20, 10, 100), -np.inf, 200), (Tapered(10, 20, 100), -100, np.inf),
    (TaperedOval(30, 20, 10, 100), -np.inf, 150), (TaperedOval(30, 20, 25, 100), -400, 600),
    (Oval(30, 17), -np.inf, np.inf)])
def test_a_taper_ends_where_it_would_close(branch, low, high):
    assert branch.extent() == pytest.approx((low, high))


def test_inside_its_wall_a_taper_closes_earlier():
    low, high = Tapered(20, 10, 100).extent(np.array([0.0, 2.0]))
    np.testing.assert_allclose(high, [200, 160])
    assert np.isneginf(low).all()
    low, high = TaperedOval(30, 20, 10, 100).extent(2.0)
    assert high == pytest.approx(130)


def test_the_corners_of_a_box_are_points_of_its_cope():
    cope = Joint(Box(41, 23, 0, 1.5), Round(60), 62, 3, turn=17).cope(points=16)
    corner = np.array([11.5, 11.5 + 41, 34.5 + 41, 34.5 + 82]) / 128 * 360
    for clock in corner:
        assert np.abs(cope.clock - clock).min() < 1e-9
    at = cope.points[[int(np.abs(cope.clock - clock).argmin()) for clock in corner]]
    np.testing.assert_allclose(np.abs(at[:, :2]), [[20.5, 11.5]] * 4, atol=1e-9)


@pytest.mark.parametrize("corner", [0.0, 4.0])
def test_the_edges_of_a_box_main_are_points_of_the_cope_to_1e_6_mm(corner):
    # Seen along the main's axis the branch spans y from 0 to 30: once up and once down over the
    # end of the broad face, and over the end of its corner where that is round.
    cope = Joint(Round(30, 1), Box(50, 36, corner), 90, 15).cope(points=16)
    side = 15 + cope.points[:, 1]
    assert (np.abs(side - (25 - corner)) < 1e-6).sum() == 2
    assert (np.abs(side - 25) < 1e-6).sum() == 2
    assert len(cope.open) == 1


def test_a_box_mains_kinks_are_where_face_and_corner_meet():
    cope = Joint(Round(30, 1), Box(50, 36, 4), 62, 15, main_turn=11).cope(points=16)
    main = cope.cluster.mains[0]
    inner = np.abs(main.pose.inward(cope.points)[:, :2]) - (21, 14)
    assert (np.abs(inner) < 1e-6).any(axis=1).sum() >= 2


@each_branch
def test_where_there_is_no_point_there_is_no_normal(branch):
    normal = branch.normal(np.array([(np.nan, np.nan, np.nan), (14.0, 9, 3)]))
    assert np.isnan(normal[0, :2]).all()
    assert np.isfinite(normal[1]).all()


@each_branch
def test_what_is_open_stays_open_on_the_flat_sheet(branch):
    y = branch.flat(np.array([10.0, 20.0]), np.array([np.nan, 5.0]), 0.1)[1]
    assert np.isnan(y[0])
    assert np.isfinite(y[1])
