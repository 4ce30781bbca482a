"""What every main answers: distances, normals, pieces, entries, the way round."""

import numpy as np
import pytest

from coper import Bent, Box, Oval, Plate, Round, Tapered
from coper.shapes.lines import Lines
from tests import kernel

MAINS = [Round(40), Tapered(50, 30, 120), Tapered(30, 44, 90), Oval(60, 25), Oval(40, 40),
         Box(50, 30, 6), Box(30, 50), Box(40, 20, 10), Plate(6), Bent(40, 70)]
each_main = pytest.mark.parametrize("main", MAINS, ids=lambda m: m.words())


def scattered(count=60, seed=1):
    return np.random.default_rng(seed).uniform(-60, 60, (count, 3))


@each_main
def test_distances_are_the_kernels(main):
    points = scattered()
    known = [kernel.skin_distance(main, point) for point in points]
    np.testing.assert_allclose(np.abs(main.distance(points)), known, rtol=0, atol=2e-7)


@each_main
def test_distances_are_negative_inside_only(main):
    points = scattered(400, 2)
    x, y, z = points.T
    match main:
        case Round() | Bent() | Tapered() | Plate():
            out = np.hypot(y + main.radius, z) - main.radius if isinstance(main, Bent) else y
            radius = (main.start / 2 + (main.end - main.start) / 2 * z / main.length
                      if isinstance(main, Tapered) else getattr(main, "diameter", 0) / 2)
            inside = y < 0 if isinstance(main, Plate) else np.hypot(x, out) < radius
        case Oval():
            inside = (2 * x / main.major) ** 2 + (2 * y / main.minor) ** 2 < 1
        case Box():
            inside = (np.abs(x) < main.first / 2) & (np.abs(y) < main.second / 2)
            over = np.maximum(np.abs([x, y]).T - np.array(
                [main.first / 2 - main.corner, main.second / 2 - main.corner]), 0)
            inside &= (np.hypot(*over.T) < main.corner) | (over == 0).any(axis=1)
    np.testing.assert_array_equal(main.distance(points) < 0, inside)


@each_main
def test_normals_are_the_slope_of_the_distance(main):
    points = scattered(80, 3)
    step = 1e-5
    slope = np.stack([
        (main.distance(points + step * axis) - main.distance(points - step * axis)) / (2 * step)
        for axis in np.eye(3)], axis=-1)
    normals = main.normal(points)
    np.testing.assert_allclose(np.linalg.norm(normals, axis=-1), 1, rtol=0, atol=1e-14)
    np.testing.assert_allclose(normals, slope, rtol=0, atol=1e-6)


@each_main
def test_a_step_along_the_normal_of_the_skin_leads_outside(main):
    skin = on_skin(main, 200)
    np.testing.assert_allclose(main.distance(skin), 0, atol=1e-9)
    np.testing.assert_allclose(main.distance(skin + 0.5 * main.normal(skin)), 0.5, atol=1e-9)


def on_skin(main, count, seed=4):
    points = scattered(count, seed)
    for _ in range(3):
        points = points - main.distance(points)[:, None] * main.normal(points)
    return points


def lines(seed, count=400):
    rng = np.random.default_rng(seed)
    directions = rng.normal(size=(count, 3))
    return Lines(rng.uniform(-45, 45, (count, 3)), directions)


@each_main
def test_a_line_enters_where_it_first_comes_within_the_skin_from_above(main):
    given = lines(5)
    entry = main.first_entry(given)
    met = ~np.isnan(entry)
    assert 50 <= met.sum() <= 395
    at = given.at(entry)[met]
    np.testing.assert_allclose(main.distance(at), 0, atol=1e-9)
    assert ((main.normal(at) * given.directions[met]).sum(axis=-1) > 0).all()
    steps = np.concatenate((np.geomspace(1e-3, 1, 30), np.linspace(1, 150, 400)))
    if not isinstance(main, Tapered):  # a cone's own wide end may lie above
        for step in steps:
            assert (main.distance(given.at(entry + step))[met] > -1e-9).all()


@each_main
def test_a_line_that_never_enters_stays_outside(main):
    given = lines(6)
    missed = np.isnan(main.first_entry(given))
    stray = Lines(given.points[missed], given.directions[missed])
    for along in np.linspace(-60, 60, 601):
        inside = main.distance(stray.at(np.full(missed.sum(), along))) < -1e-6
        if isinstance(main, (Plate, Tapered)):  # these have an end that a line may come from
            inside &= main.distance(stray.at(np.full(missed.sum(), 1e6))) > 0
        assert not inside.any()


@each_main
def test_lines_of_any_common_shape_are_answered_as_one_by_one(main):
    rng = np.random.default_rng(8)
    points, direction = rng.uniform(-20, 20, (3, 5, 3)), np.array((0.3, 0.8, 0.2))
    together = main.first_entry(Lines(points, direction))
    assert together.shape == (3, 5)
    apart = [[main.first_entry(Lines(p, direction)) for p in row] for row in points]
    np.testing.assert_allclose(together, np.array(apart, dtype=float), rtol=1e-12)


@pytest.mark.parametrize(("main", "point", "direction", "entry"), [
    (Oval(60, 30), (30, 0, 0), (0, 1, 0), 0),
    (Oval(60, 30), (0, 15, 0), (1, 0, 0), 0),
    (Box(60, 30, 5), (30, 0, 0), (0, 1, 0), 10),
    (Box(60, 30), (30, 0, 0), (0, 1, 0), 15),
    (Box(60, 30), (30, 15, 0), (1, -1, 0), 0),
    (Bent(30, 60), (15, 0, 0), (0, 1, 0), 0),
    (Tapered(40, 20, 100), (20, 0, 0), (0, 1, 0), 0),
    (Plate(6), (3, -4, 5), (0.1, 2, 9), 2),
])
def test_a_line_that_only_touches_enters_there(main, point, direction, entry):
    direction = np.array(direction, dtype=float)
    across = np.cross(direction, (0, 0, 1.0))
    for off in (0.0, 4e-10, -4e-10):
        line = Lines(np.array(point, dtype=float) + off * across, direction)
        assert main.first_entry(line) == pytest.approx(entry, abs=0.01)


@pytest.mark.parametrize(("main", "point", "direction"), [
    (Oval(60, 30), (30.001, 0, 0), (0, 1, 0)),
    (Box(60, 30, 5), (30.001, 0, 0), (0, 1, 0)),
    (Box(60, 30, 5), (29.8, 14.8, 0), (1, -1, 0)),
    (Bent(30, 60), (15.001, 0, 0), (0, 1, 0)),
    (Bent(30, 60), (0, -60, 0), (1, 0, 0)),
    (Tapered(40, 20, 100), (20.1, 0, 0), (0, 1, 0)),
    (Tapered(40, 20, 100), (0, 0, 250), (0, 1, 0)),
    (Plate(6), (0, 5, 0), (1, 0, 0)),
    (Plate(6), (0, 5, 0), (1, -1, 0)),
    (Round(40), (0, 0, 0), (0, 0, 1)),
    (Box(60, 30, 5), (0, 0, 0), (0, 0, 1)),
    (Oval(60, 30), (40, 0, 0), (0, 0, 1)),
])
def test_a_line_that_passes_or_never_comes_from_outside_enters_nowhere(main, point, direction):
    line = Lines(np.array(point, dtype=float), np.array(direction, dtype=float))
    assert np.isnan(main.first_entry(line))


def test_a_line_through_the_hole_of_a_bend_enters_the_far_limb_only_from_beyond_it():
    bend = Bent(20, 60)
    from_above = Lines(np.array((0.0, 0, 0)), np.array((0.0, 1, 0)))
    from_hole = Lines(np.array((0.0, -60, 0)), np.array((0.3, -1, 0)))
    assert bend.first_entry(from_above) == pytest.approx(10)
    # Near the middle of the hole, pointing down: the limb below is entered on its far side.
    assert np.isnan(bend.first_entry(from_hole))
    steep = Lines(np.array((0.0, -60, 0)), np.array((0.05, -1, 0)))
    at = steep.at(bend.first_entry(steep))
    assert at[1] < -120


def test_the_pieces_of_a_box_are_its_four_faces_and_four_corners():
    box = Box(40, 20, 3)
    inner = 20 - 3 + 3 / np.sqrt(2), 10 - 3 + 3 / np.sqrt(2)
    points = np.array([(20, 0, 1), (*inner, 1), (0, 10, 1), (-inner[0], inner[1], 1), (-20, 0, 1),
                       (-inner[0], -inner[1], 1), (0, -10, 1), (inner[0], -inner[1], 1)])
    np.testing.assert_array_equal(box.patch(points), range(8))
    assert box.patches == 8
    sharp = Box(40, 20)
    np.testing.assert_array_equal(
        sharp.patch(np.array([(20, 9.999, 0), (19.999, 10, 0), (-20, -9, 0), (3, -10, 0)])),
        [0, 2, 4, 6])


SMOOTH = [m for m in MAINS if not isinstance(m, (Plate, Bent)) and m != Box(30, 50)]


@pytest.mark.parametrize("main", SMOOTH, ids=lambda m: m.words())
@pytest.mark.parametrize("lift", [0.0, 0.4])
def test_the_way_round_adds_up_to_chords_of_the_lifted_section(main, lift):
    side = np.array((np.cos(1.1), np.sin(1.1)))
    angle = 1.1 - np.linspace(0, 3.0, 40001)
    rays = Lines(np.zeros(3), np.stack(
        (np.cos(angle), np.sin(angle), np.zeros_like(angle)), axis=-1))
    skin = rays.at(main.first_entry(rays))
    along, way = main.unrolled(skin, side, lift)
    np.testing.assert_allclose(along, 0, atol=1e-12)
    lifted = (skin + lift * main.normal(skin))[:, :2]
    steps = np.linalg.norm(np.diff(lifted, axis=0), axis=-1)
    walked = np.concatenate(([0], np.cumsum(steps)))
    half = way[-1] if way[-1] > 0 else np.inf
    before = walked < min(half, main.girth(lift) / 2) - 1
    assert before.sum() > 10000
    np.testing.assert_allclose(way[before], walked[before], rtol=0, atol=1e-5)


def test_paper_goes_round_a_sharp_corner_in_a_quarter_circle_of_its_own():
    points = np.array([(15.0, 20, 0), (10, 25, 0)])
    _, way = Box(30, 50).unrolled(points, np.array((0.0, 1.0)), 0.4)
    np.testing.assert_allclose(way, [15 + 0.2 * np.pi + 5, 10], rtol=1e-14)


def test_the_way_round_a_plate_and_a_bend_grow_towards_clock_0():
    side = np.array((0.0, 1.0))
    along, way = Plate(6).unrolled(np.array([(3.0, 0, 7)]), side)
    assert (along[0], way[0]) == (7, 3)
    # A quarter along a bend of 60, a quarter round a tube of 20.
    along, way = Bent(20, 60).unrolled(np.array([(10.0, -60, 60)]), side, 0.5)
    assert along[0] == pytest.approx(60 * np.pi / 2)
    assert way[0] == pytest.approx(10.5 * np.pi / 2)


def test_a_tapered_mains_flat_sheet_keeps_lengths_and_starts_at_its_own_start():
    main = Tapered(50, 30, 120)
    t = np.linspace(0, 1, 4001)
    angle, z = 0.9 * t - 0.2, 20 + 60 * t**2
    radius = 25 - z / 12
    points = np.stack((radius * np.sin(angle), radius * np.cos(angle), z), axis=-1)
    x, y = main.flattened(points, np.array((0.0, 1.0)))
    np.testing.assert_allclose(np.hypot(np.diff(x), np.diff(y)),
                               np.linalg.norm(np.diff(points, axis=0), axis=-1), rtol=1e-5)
    x, y = main.flattened(np.array([(0, 25.0, 0), (0, 15, 120)]), np.array((0.0, 1.0)))
    np.testing.assert_allclose(x, [0, np.hypot(120, 10)], atol=1e-12)
    np.testing.assert_allclose(y, 0, atol=1e-12)


@each_main
def test_where_there_is_no_point_there_is_no_answer_and_no_complaint(main):
    points = np.array([(np.nan, np.nan, np.nan), (14.0, 9, 3)])
    answers = (main.distance(points), *main.unrolled(points, np.array((0.0, 1.0)), 0.1),
               *main.flattened(points, np.array((0.0, 1.0)), 0.1))
    for answer in answers:
        assert np.isnan(answer[0])
        assert np.isfinite(answer[1])
