"""Mitred ends and ends along a face, against the kernel's planes and against the partner."""

import numpy as np
import pytest
from OCP.gp import gp_Dir, gp_Pln, gp_Pnt
from OCP.IntAna import IntAna_IntConicQuad

from coper import Box, Oval, Round, Tapered, Tube, make_piece
from coper.bench.chop import chop_cut
from coper.errors import JointError
from coper.frame.clash import find_clashes
from coper.frame.end import plain_end
from coper.frame.flat_end import face_end, mitre_end
from coper.telling.words.chop import chop_steps
from tests import kernel
from tests.frame.kernel import branch_placing
from tests.frame.specimens import direction
from tests.profiles import seeds

SHAPES = [Round(28.6, 1.5), Box(40, 25, 4, 2), Box(30, 30, 0, 2), Oval(40, 24, 1.5),
          Tapered(30, 22, 250, 1.2)]
ENDS = ("start", "end")
CLOCKS = np.arange(0, 360, 7.5)


def points_of(tube, end, depth=0.0):
    """Points (n, 3) of the frame on the cut at ``CLOCKS``."""
    shape, pose = tube.seen_from(end.which)
    along = end.cope.cluster.entry(CLOCKS, depth)
    return pose.outward(shape.generators(CLOCKS, depth, along).at(along))


def plane_alongs(tube, which, point, normal, depth):
    """Where the kernel's generators meet the kernel's plane, from the tube's start."""
    plane, place = gp_Pln(gp_Pnt(*point), gp_Dir(*normal)), branch_placing(tube)
    found = []
    for clock in CLOCKS:
        line, rise = kernel.generator(tube.shape, clock, depth)
        met = IntAna_IntConicQuad(line.Transformed(place), plane, 1e-12)
        found.append(met.ParamOnConic(1) * rise)
    return np.array(found)


@pytest.mark.parametrize("which", ENDS)
@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.kind)
@pytest.mark.parametrize("seed", seeds(2))
def test_a_face_is_where_the_kernels_generators_meet_its_plane(shape, which, seed):
    rng = np.random.default_rng([11, seed])
    tube = Tube(shape, rng.normal(0, 40, 3), rng.normal(0, 40, 3) + direction(rng) * 250, "post",
                turn=rng.uniform(-180, 180))
    way = tube.way_in(which) + direction(rng) * rng.uniform(0, 0.95)
    end = face_end(tube, which, rng.choice((-1, 1)) * way)
    point = tube.start if which == "start" else tube.end
    for depth, own in ((0.0, end.outer), (shape.wall, end.inner)):
        found = np.interp(CLOCKS, end.clock, own, period=360)
        known = np.isin(CLOCKS, end.clock)
        met = plane_alongs(tube, which, point, way / np.linalg.norm(way), depth)
        assert known.sum() > 20
        assert found[known] == pytest.approx(met[known], abs=1e-6)


def corner(rng, one, other=None):
    """Two tubes that end at one point, each by a random end; and which ends those are."""
    point, ends = rng.normal(0, 40, 3), [ENDS[k] for k in rng.integers(0, 2, 2)]
    first = direction(rng)
    second = direction(rng)
    while not -0.95 < first @ second < 0.8:
        second = direction(rng)
    tubes = [Tube(shape, *((point, far) if which == "start" else (far, point)), name)
             for shape, which, far, name in zip(
                 (one, other or one), ends, (point + 300 * first, point + 260 * second),
                 ("one", "other"), strict=True)]
    return tubes, ends, point


def mitred(tubes, ends):
    made = [mitre_end(tubes[k], ends[k], tubes[1 - k], ends[1 - k], "mitre") for k in (0, 1)]
    return made, [make_piece(tube, *((end, plain_end(tube, "end")) if end.which == "start"
                                     else (plain_end(tube, "start"), end)))
                  for tube, end in zip(tubes, made, strict=True)]


@pytest.mark.parametrize("seed", seeds(6))
def test_a_round_mitre_lies_on_both_tubes_outside_and_inside(seed):
    rng = np.random.default_rng([12, seed])
    shape = Round(rng.uniform(15, 60), 1.5)
    tubes, ends, point = corner(rng, shape)
    made, pieces = mitred(tubes, ends)
    for tube, end in zip(tubes, made, strict=True):
        for depth in (0.0, shape.wall):
            edge = points_of(tube, end, depth) - point
            for other in tubes:
                along = (other.end - other.start) / other.length
                assert np.linalg.norm(np.cross(edge, along), axis=1) == pytest.approx(
                    shape.diameter / 2 - depth, abs=1e-7)
        assert not end.cautions
    assert find_clashes(pieces) == ()


@pytest.mark.parametrize("seed", seeds(4))
def test_the_outside_of_a_corner_is_the_longer_side_and_the_cut_is_half_the_corner(seed):
    rng = np.random.default_rng([13, seed])
    tubes, ends, point = corner(rng, Round(30, 1.5))
    made, _ = mitred(tubes, ends)
    ways = [tube.way_in(end) for tube, end in zip(tubes, ends, strict=True)]
    between = np.degrees(np.arccos(ways[0] @ ways[1]))
    outside = -(ways[0] + ways[1])
    for tube, end, way in zip(tubes, made, ways, strict=True):
        edge = points_of(tube, end) - point
        assert edge[(edge @ way).argmin()] @ outside > 0 > edge[(edge @ way).argmax()] @ outside
        assert end.flat.from_square == pytest.approx(90 - between / 2, abs=1e-9)


@pytest.mark.parametrize("sides", [3, 4, 5, 6, 8])
def test_a_frame_of_equal_sides_is_cut_at_180_degrees_over_their_number(sides):
    # A square frame is cut at 45 degrees, a hexagon at 30: common practice, no source.
    corners = [200 * np.array((np.cos(turn), np.sin(turn), 0))
               for turn in 2 * np.pi * np.arange(sides + 1) / sides]
    one, other = (Tube(Box(30, 30, 3, 2), corners[k], corners[k + 1], f"side {k}")
                  for k in (0, 1))
    end = mitre_end(one, "end", other, "start", "mitre")
    chop = chop_cut(end.cope)
    assert (chop.angle, chop.lean) == (pytest.approx(180 / sides, abs=1e-9), 0)


@pytest.mark.parametrize("which", ENDS)
def test_the_fence_side_of_a_box_is_the_one_on_the_outside_of_the_corner(which):
    """A rail goes forward from a corner whose other tube goes right: its left side is longer."""
    points = ((0, 0, 0), (500, 0, 0))
    rail = Tube(Box(40, 20, 2, 2), *(points if which == "start" else points[::-1]), "rail")
    cross = Tube(Box(40, 20, 2, 2), (0, 0, 0), (0, -400, 0), "cross")
    end = mitre_end(rail, which, cross, "start", "mitre")
    fence = chop_cut(end.cope).fence
    shape, pose = rail.seen_from(which)
    side = pose.outward(shape.generators(np.array([fence])).at(np.zeros(1)))[0]
    assert side == pytest.approx([0, 20, 0], abs=1e-6)


@pytest.mark.parametrize("seed", seeds(8))
def test_swing_lean_fence_and_up_give_the_cut_back(seed):
    rng = np.random.default_rng([14, seed])
    tube = Tube(Box(40, 25, 3, 2), (0, 0, 0), direction(rng) * 300, "post", turn=rng.uniform(0, 90))
    which = ENDS[rng.integers(2)]
    end = face_end(tube, which, tube.way_in(which) + direction(rng) * rng.uniform(0, 0.9))
    chop = chop_cut(end.cope)
    swing, lean = np.radians((chop.angle, chop.lean))
    shape, _ = tube.seen_from(which)
    fence, up = (shape.generators(np.array([clock])).at(np.zeros(1))[0] for clock in (
        chop.fence, chop.up))
    fence, up = fence / np.linalg.norm(fence), up / np.linalg.norm(up)
    # The blade's own square, swung about the upright and leaned about the fence's square.
    normal = (np.cos(lean) * np.cos(swing) * np.array((0, 0, 1))
              + np.cos(lean) * np.sin(swing) * fence + np.sin(lean) * up)
    along = end.cope.cluster.entry(CLOCKS)
    edge = shape.generators(CLOCKS).at(along)
    if chop.lean:
        assert edge @ normal == pytest.approx(np.zeros(len(edge)), abs=1e-6)
    assert chop.angle <= 90 and chop.lean >= 0


def test_a_round_tube_needs_no_lean_whichever_way_it_is_cut():
    tube = Tube(Round(30, 2), (0, 0, 0), (300, 0, 0), "rail")
    for way in ((1, 0.4, 0), (1, 0, 0.4), (1, 0.3, 0.3)):
        chop = chop_cut(face_end(tube, "start", np.array(way)).cope)
        assert chop.lean == 0
        assert chop.angle == pytest.approx(np.degrees(np.arctan(np.hypot(*way[1:]))), abs=1e-9)


@pytest.mark.parametrize(("other", "over"), [
    (Round(30, 1.5), 0), (Round(28, 1.5), 1), (Round(34, 1.5), None), (Box(40, 20, 2, 2), None)])
def test_what_stands_over_a_smaller_partner_is_said_with_how_much(other, over):
    one = Tube(Round(30, 1.5), (0, 0, 0), (300, 0, 0), "one")
    two = Tube(other, (0, 0, 0), (0, 300, 0), "two")
    said = mitre_end(one, "start", two, "start", "mitre").cautions
    if over:
        assert f"stands over two by up to {over} mm" in said[0]
    elif isinstance(other, Round):
        assert not said
    else:
        assert "stands over two" in said[0]


def test_a_cut_too_flat_to_saw_and_tubes_that_leave_one_way_are_refused():
    one = Tube(Round(30, 1.5), (0, 0, 0), (300, 0, 0), "one")
    with pytest.raises(JointError, match="at 3 degrees to the tube, too flat"):
        face_end(one, "start", np.array((np.sin(np.radians(3)), np.cos(np.radians(3)), 0)))
    with pytest.raises(JointError, match="the same way"):
        mitre_end(one, "start", Tube(Round(30, 1.5), (0, 0, 0), (200, 0, 0)), "start", "mitre")
    with pytest.raises(JointError, match="too flat to saw"):
        mitre_end(one, "start", Tube(Round(30, 1.5), (0, 0, 0), (200, 9, 0)), "start", "mitre")


def test_tubes_in_line_are_mitred_straight_across():
    one = Tube(Round(30, 1.5), (0, 0, 0), (300, 0, 0), "one")
    end = mitre_end(one, "start", Tube(Round(30, 1.5), (0, 0, 0), (-200, 0, 0)), "start", "mitre")
    assert end.outer == pytest.approx(np.zeros(len(end.outer)), abs=1e-9)
    steps = chop_steps(chop_cut(end.cope), 0.0, 90.0)
    assert steps == ("Chop saw or band saw: the cut is flat, straight across.",)
