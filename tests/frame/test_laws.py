"""Laws of placed tubes: mirror, one main as a joint, kinks, the other end."""

import math

import numpy as np
import pytest

from coper import (
    Bent,
    Box,
    Joint,
    Oval,
    Plate,
    Round,
    Tapered,
    TaperedOval,
    Tube,
    make_piece,
    plain_end,
    shape_end,
)
from coper.errors import CoperError
from coper.frame.end import make_cluster
from coper.frame.piece import Heels
from coper.frame.tube import MIRROR
from coper.joint.facing import clock_facing
from coper.shapes.flipped import Flipped
from coper.shapes.shifted import Shifted
from coper.telling.words.piece import heel_words, taper_words
from tests.frame.specimens import random_cluster
from tests.specimens import BRANCHES_OF_EVERY_KIND, MAINS

SEEDS = range(20)
ENDS = ("start", "end")


def mirror_clock(tube, clock):
    """Where clock 0 faces the left it faces away from the mirror on the one side, to it on the
    other; beside the y axis it faces up on both."""
    beside_y = abs(tube.pose.axes[2, 1]) > math.cos(math.radians(10))
    return (-clock if beside_y else 180 - clock) % 360


@pytest.mark.parametrize("which", ENDS)
def test_the_twins_edge_is_the_mirror_image(which):
    for seed in SEEDS:
        tube, mains = random_cluster(seed, which, 2)
        end = shape_end(tube, which, mains)
        twin = shape_end(tube.mirrored(), which, [main.mirrored() for main in mains])
        even = np.flatnonzero(end.clock % 0.5 == 0)
        there = np.searchsorted(twin.clock, mirror_clock(tube, end.clock[even]))
        for ours, theirs in ((end.outer, twin.outer), (end.inner, twin.inner)):
            np.testing.assert_allclose(theirs[there], ours[even], atol=1e-6)
        assert twin.reach == pytest.approx(end.reach, abs=1e-6)
        assert twin.long_point.along == pytest.approx(end.long_point.along, abs=1e-6)


@pytest.mark.parametrize("main", MAINS)
def test_points_of_the_twins_edge_are_mirrored_points(main):
    for seed in range(6):
        tube, mains = random_cluster(seed, "start", 1, main=main)
        cluster, pose = make_cluster(tube, "start", mains)
        twin, its_pose = make_cluster(
            tube.mirrored(), "start", [one.mirrored() for one in mains])
        clock = np.random.default_rng(seed).uniform(0, 360, 20)
        ours = pose.outward(cluster.skin(clock, cluster.entry(clock))) * MIRROR
        opposite = mirror_clock(tube, clock)
        theirs = its_pose.outward(twin.skin(opposite, twin.entry(opposite)))
        np.testing.assert_allclose(theirs, ours, atol=1e-6)


@pytest.mark.parametrize("shape", [Bent(25, 100), Plate(6), Box(40, 20, 3), Oval(30, 17)])
@pytest.mark.parametrize("step", [(3, 120, 5), (90, 70, -40)])
def test_a_mirrored_main_stands_where_the_mirror_shows_it_beside_the_y_axis_too(shape, step):
    tube = Tube(shape, (10, 20, 30), np.add((10, 20, 30), step), turn=37)
    points = np.random.default_rng(1).uniform(-60, 60, (50, 3)) + tube.start
    twin = tube.mirrored()
    np.testing.assert_allclose(
        twin.as_main.distance(twin.pose.inward(points * MIRROR)),
        tube.as_main.distance(tube.pose.inward(points)), atol=1e-9)
    assert twin.mirrored().turn % 360 == pytest.approx(tube.turn % 360)


@pytest.mark.parametrize("which", ENDS)
@pytest.mark.parametrize(("branch", "main"), [
    (Round(28.6, 0.9), Round), (Round(16, 2), Round), (Round(28.6, 0.9), Plate)])
def test_one_main_gives_the_cope_of_the_equivalent_joint(branch, main, which):
    for seed in SEEDS:
        rng = np.random.default_rng(seed)
        tube, mains = random_cluster(seed, which, 1, Round, main)
        tube = Tube(branch, tube.start, tube.end, turn=rng.uniform(-90, 90))
        end = shape_end(tube, which, mains)
        seat, = end.stances
        joint = Joint(branch, mains[0].shape, seat.angle, seat.offset)
        toe = joint.heel_clock - seat.heel_clock if which == "start" else (
            joint.heel_clock + seat.heel_clock)
        way = 1 if which == "start" else -1
        edge = joint.cope().at((toe + way * end.clock) % 360)
        known = np.isfinite(edge.outer) & np.isfinite(end.outer)
        shift = way * end.outer[known] - edge.outer[known]
        assert known.sum() > 100
        assert np.ptp(shift) < 1e-6
        inner = np.isfinite(edge.inner) & np.isfinite(end.inner)
        np.testing.assert_allclose(
            way * end.inner[inner] - edge.inner[inner], shift[0], atol=1e-6)
        assert end.long_point.along * way == pytest.approx(
            joint.cope().long_point.along + shift[0], abs=1e-6)


@pytest.mark.parametrize("angle", [62, 90, 131])
def test_on_a_bend_the_seat_is_told_from_the_tangent_there(angle):
    bent, offset, half = Bent(25.4, 120), 3.0, 0.6
    slant = math.radians(angle)
    reach, drop = 120 * math.sin(half), 120 * (1 - math.cos(half))
    main = Tube(bent, (-reach, 0, -drop), (reach, 0, -drop), "hoop")
    start = np.array((0, offset, 0))
    tube = Tube(Round(20, 1), start,
                  start + 300 * np.array((math.cos(slant), 0, math.sin(slant))))
    end = shape_end(tube, "start", [main])
    seat, = end.stances
    assert seat.angle == pytest.approx(angle, abs=1e-6)
    assert seat.offset == pytest.approx(offset, abs=1e-6)
    joint = Joint(tube.shape, bent, angle, offset)
    np.testing.assert_allclose(
        end.outer, joint.cope().at(
            (end.clock - seat.heel_clock + joint.heel_clock) % 360).outer, atol=1e-6)


@pytest.mark.parametrize("which", ENDS)
def test_where_the_winning_main_changes_is_a_point_of_the_curve(which):
    changes = 0
    for seed in SEEDS:
        tube, mains = random_cluster(seed, which, 2, Round, Round)
        end = shape_end(tube, which, mains)
        cluster, _ = make_cluster(tube, which, mains)
        body = 1 if which == "start" else -1
        for clock in end.cope.breaks.kinks:
            entries = [main.first_entry(cluster.branch.generators(np.array(clock)))
                       for main in cluster.mains]
            if np.isnan(entries).any():
                continue
            assert entries[0] == pytest.approx(entries[1], abs=1e-6)
            own = body * clock % 360
            at = np.abs(end.clock - own).argmin()
            assert end.clock[at] == pytest.approx(own, abs=1e-9)
            told = entries[0] if which == "start" else tube.length - entries[0]
            assert end.outer[at] == pytest.approx(told, abs=1e-6)
            changes += 1
    assert changes >= 10


@pytest.mark.parametrize("shape", BRANCHES_OF_EVERY_KIND, ids=str)
def test_a_flipped_tube_has_the_same_skin_and_the_same_sheet(shape):
    at = 80.0
    flipped = Flipped(shape, at)
    clock, along = np.linspace(0, 350, 36), np.linspace(-20, 60, 36)
    skin = shape.generators(clock).at(along)
    np.testing.assert_allclose(
        flipped.generators(-clock).at(at - along) * (1, -1, -1) + (0, 0, at), skin, atol=1e-9)
    np.testing.assert_allclose(
        flipped.normal(flipped.generators(-clock).at(at - along)) * (1, -1, -1),
        shape.normal(skin), atol=1e-9)
    x, y = flipped.flat(-clock, at - along)
    u, v = shape.flat(clock, along)
    np.testing.assert_allclose(np.hypot(np.diff(x), np.diff(y)),
                               np.hypot(np.diff(u), np.diff(v)), atol=1e-9)
    origin = flipped.flat(np.zeros(1), np.zeros(1))
    np.testing.assert_allclose(np.ravel(origin), (0, 0), atol=1e-9)
    assert flipped.girth(0.0) == pytest.approx(shape.girth(0.0, at))
    assert flipped.girth(0.05, at) == pytest.approx(shape.girth(0.05))
    assert Flipped(flipped, at).generators(clock).at(along) == pytest.approx(skin)


@pytest.mark.parametrize("shape", BRANCHES_OF_EVERY_KIND, ids=str)
def test_a_shifted_tube_is_the_tube_flipped_twice(shape):
    shifted, twice = Shifted(shape, 12.5), Flipped(Flipped(shape, 0.0), 12.5)
    clock, along = np.linspace(0, 350, 36), np.linspace(-20, 60, 36)
    skin = twice.generators(clock, 0.5, along).at(along)
    np.testing.assert_allclose(shifted.generators(clock, 0.5, along).at(along), skin, atol=1e-9)
    np.testing.assert_allclose(shifted.normal(skin), twice.normal(skin), atol=1e-9)
    np.testing.assert_allclose(shifted.flat(clock, along, 0.05), twice.flat(clock, along, 0.05),
                               atol=1e-9)
    np.testing.assert_allclose(shifted.extent(0.3), twice.extent(0.3))
    np.testing.assert_allclose(shifted.corners(), twice.corners(), atol=1e-9)
    assert shifted.girth(0.05, 7.0) == pytest.approx(twice.girth(0.05, 7.0))
    assert shifted.stretch(3, 40) == pytest.approx(twice.stretch(3, 40))


@pytest.mark.parametrize("shape", BRANCHES_OF_EVERY_KIND, ids=str)
def test_a_girth_is_the_length_of_the_section_there(shape):
    for along in (0.0, 35.0):
        clock = np.linspace(0, 360, 40001)
        points = shape.generators(clock).at(np.full(clock.shape, along))
        length = np.linalg.norm(np.diff(points, axis=0), axis=1).sum()
        assert shape.girth(0.0, along) == pytest.approx(length, rel=1e-6)


def test_a_tapered_tube_used_the_other_way_round_copes_the_same():
    one = Tube(Tapered(30, 20, 300, 1), (0, 0, 0), (300, 0, 0))
    other = Tube(Tapered(20, 30, 300, 1), (300, 0, 0), (0, 0, 0))
    main = Tube(Round(50), (-10, -80, 20), (10, 60, -30), "main")
    near, far = shape_end(one, "start", [main]), shape_end(other, "end", [main])
    assert far.reach == pytest.approx(300 - near.reach, abs=1e-9)
    assert far.short_point.along == pytest.approx(300 - near.short_point.along, abs=1e-9)


# The tube itself

def test_clock_0_faces_the_left_and_beside_the_y_axis_up():
    tube = Tube(Round(20), (0, 0, 0), (100, 30, 0))
    assert tube.pose.axes[0] @ (0, 1, 0) > 0.9
    np.testing.assert_allclose(np.cross(*tube.pose.axes[:2]), tube.pose.axes[2], atol=1e-12)
    assert Tube(Round(20), (0, 0, 0), (5, 100, 0)).pose.axes[0] @ (0, 0, 1) > 0.9


def test_a_bent_tube_is_the_arc_through_both_points_bulging_to_its_clock_90():
    for seed in SEEDS:
        rng = np.random.default_rng(seed)
        start, end = rng.uniform(-90, 90, (2, 3))
        chord = np.linalg.norm(end - start)
        tube = Tube(Bent(16, chord * rng.uniform(0.55, 2)), start, end, turn=rng.uniform(0, 360))
        half = math.asin(chord / 2 / tube.shape.radius)
        assert tube.length == pytest.approx(2 * half * tube.shape.radius)
        distances = tube.as_main.distance(tube.pose.inward(np.stack((start, end))))
        np.testing.assert_allclose(distances, -8, atol=1e-9)
        np.testing.assert_allclose(
            tube.station(np.stack((start, end))), (0, tube.length), atol=1e-6)
        bulge = tube.pose.origin - (start + end) / 2
        np.testing.assert_allclose(
            bulge / np.linalg.norm(bulge), tube.pose.axes[1], atol=1e-6)


@pytest.mark.parametrize(("make", "said"), [
    (lambda: Tube(Round(20), (1, 2, 3), (1, 2, 3)), "same point"),
    (lambda: Tube(Round(20), (1, 2), (1, 2, 3)), "no point"),
    (lambda: Tube(Round(20), (1, 2, math.nan), (1, 2, 3)), "no point"),
    (lambda: Tube(Bent(20, 50), (0, 0, 0), (101, 0, 0)), "within 100 mm"),
    (lambda: shape_end(Tube(Round(20, 1), (0, 0, 0), (1, 0, 0)), "start", []), "on nothing"),
    (lambda: shape_end(Tube(Round(20, 1), (0, 0, 0), (99, 0, 0)), "start",
                       [Tube(Round(30), (0, 0, 0), (50, 0, 0), "main")]), "same direction"),
    (lambda: shape_end(Tube(Round(20), (0, 0, 0), (99, 0, 0)), "start",
                       [Tube(Round(30), (0, 0, 0), (0, 50, 0), "main")]), "no wall"),
])
def test_a_place_that_cannot_be_is_refused(make, said):
    with pytest.raises(CoperError, match=said):
        make()


# Both ends

def across(angle):
    """A tube along x between two mains that lie square to it, ``angle`` degrees apart."""
    turn = math.radians(angle)
    lean = np.array((0.3, math.cos(turn), math.sin(turn)))
    tube = Tube(Round(20, 1), (0, 0, 0), (300, 0, 0))
    first = Tube(Round(40), (-15, -50, 0), (15, 50, 0), "first")
    last = Tube(Round(40), (300, 0, 0) - 50 * lean, (300, 0, 0) + 50 * lean, "last")
    return make_piece(tube, shape_end(tube, "start", [first]), shape_end(tube, "end", [last]))


@pytest.mark.parametrize("angle", [0, 35, 90, 180, 250])
def test_the_clock_between_the_heels_is_the_turn_between_the_mains(angle):
    # The first main's heel is at clock 0 (+y), as its + end leans forward; the last one's + end
    # leans forward too, away from the tube's body, so that its heel is on the other side.
    piece = across(angle)
    assert piece.start.stances[0].heel_clock == pytest.approx(0, abs=1e-9)
    assert piece.heels.between == pytest.approx((angle + 180) % 360, abs=1e-7)


@pytest.mark.parametrize(("between", "words"), [
    (0.0, "in line"), (359.99, "in line"), (180.0, "opposite sides"),
    (35.25, "35.2° clockwise"), (270.0, "90° anticlockwise")])
def test_the_clock_between_the_heels_is_told_in_words(between, words):
    assert words in heel_words(Heels(between))


def test_a_line_of_a_square_end_is_called_as_the_template_calls_it():
    assert heel_words(Heels(90, (True, False))) == (
        "the end's heel stands 90° clockwise from the start's main + line, "
        "looking from start to end")


def test_the_blank_reaches_from_the_furthest_point_of_one_end_to_that_of_the_other():
    piece = across(30)
    start, end = piece.ends
    low = min(np.nanmin(start.outer), np.nanmin(start.inner))
    high = max(np.nanmax(end.outer), np.nanmax(end.inner))
    assert piece.blank == pytest.approx(high - low, abs=1e-3)
    assert piece.blank >= high - low - 1e-9


def test_a_plain_end_is_cut_across_short_of_its_point():
    tube = Tube(Round(20, 1), (0, 0, 0), (300, 0, 0))
    piece = make_piece(tube, plain_end(tube, "start", 10), plain_end(tube, "end", 15))
    assert piece.blank == pytest.approx(275)
    assert set(piece.start.outer) == {10.0} and set(piece.end.inner) == {285.0}
    assert piece.heels is None


def test_a_square_cuts_points_are_those_of_the_line_to_cut():
    tube = Tube(Round(28.6, 0.9), (0, 0, 0), (300, 0, 0))
    main = Tube(Round(36), (0, -90, 0), (0, 90, 0), "main")
    square, bevelled = (shape_end(tube, "start", [main], cut) for cut in ("square", "bevelled"))
    # Computed: square cuts clear the inside edge too, sqrt(R^2 - ri^2) - sqrt(R^2 - r^2).
    assert square.reach - bevelled.reach == pytest.approx(1.086256415736, abs=1e-6)
    assert square.reach == square.long_point.along


def test_two_ends_whose_cuts_cross_leave_nothing():
    tube = Tube(Round(20, 1), (0, 0, 0), (30, 0, 0))
    mains = [Tube(Round(40), (x, -90, 0), (x, 90, 0), "main") for x in (0, 30)]
    with pytest.raises(CoperError, match="nothing is left"):
        make_piece(tube, shape_end(tube, "start", mains[:1]), shape_end(tube, "end", mains[1:]))


@pytest.mark.parametrize("shape", [Tapered(22, 14, 100, 1), TaperedOval(30, 20, 10, 100, 1)])
def test_a_taper_that_closes_within_the_tube_is_refused(shape):
    tube = Tube(shape, (0, 0, 0), (500, 0, 0))
    with pytest.raises(CoperError, match="closes at"):
        make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))


@pytest.mark.parametrize(
    "shape", [Round(30), Oval(40, 20), Box(40, 20, 3), TaperedOval(30, 17, 14, 300)])
def test_the_clock_that_faces_a_direction_lies_on_its_ray(shape):
    for angle in (0, 17, 90, 133, 222, 301):
        x, y = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        point = shape.generators(np.array(clock_facing(shape, x, y))).points
        assert np.hypot(*point[:2]) == pytest.approx(point[:2] @ (x, y), abs=1e-9)
        assert point[0] * y == pytest.approx(point[1] * x, abs=1e-7)


# Cautions

def test_a_footprint_past_the_mains_end_is_told_with_by_how_much():
    tube = Tube(Round(20, 1), (0, 0, 0), (300, 0, 0))
    main = Tube(Round(40), (0, -60, 0), (0, 7.25, 0), "shell")
    said = shape_end(tube, "start", [main]).cautions
    assert said == ("The footprint on shell runs 2.75 mm past shell's end point: leave shell so "
                    "much longer there, or 24% of the edge has nothing to be welded to.",)
    other = Tube(Round(40), (0, -6, 0), (0, 60, 0), "shell")
    assert any("4 mm past shell's start" in one for one in
               shape_end(tube, "start", [other]).cautions)


def test_a_main_that_no_line_meets_first_is_told():
    tube = Tube(Round(20, 1), (0, 0, 0), (300, 0, 0))
    mains = [Tube(Round(size), (0, -90, 0), (0, 90, 0), name)
             for size, name in ((40, "outer"), (30, "buried"))]
    assert any("buried takes no part" in one for one in
               shape_end(tube, "start", mains).cautions)


def test_which_end_of_a_taper_is_which_is_told():
    for shape, words in ((Tapered(22, 14, 300, 1), "thick end is the start"),
                         (Tapered(14, 22, 300, 1), "thick end is the end"),
                         (TaperedOval(30, 17, 14, 300, 1), "oval end")):
        tube = Tube(shape, (0, 0, 0), (310, 0, 0))
        piece = make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))
        assert words in taper_words(tube)
        assert any("10 mm past its taper's end" in one for one in piece.cautions)
