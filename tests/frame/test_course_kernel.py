"""Ends on tubes with corners, against the kernel's legs and bends fused into one solid."""

import math
from dataclasses import replace

import numpy as np
import pytest

from coper import Bent, Box, Oval, Round, Tube, shape_end
from coper.frame.end import make_cluster
from tests import kernel
from tests.frame import course_kernel
from tests.frame.kernel import branch_placing
from tests.frame.specimens import direction, turn_towards
from tests.profiles import seeds
from tests.specimens import BRANCHES, random_branch

NEAR = 130.0  # a hoop's other arm is further from the branch's foot than that, mm


def hoop(rng, shape, flat):
    """Three to five points, corners of 25 to 120 degrees, in one plane or not."""
    points, radii = [rng.uniform(-100, 100, 3)], []
    way = direction(rng)
    normal = np.cross(way, direction(rng))
    normal /= np.linalg.norm(normal)
    for _ in range(rng.integers(1, 4)):
        radii.append(rng.uniform(80, 140))
        points.append(points[-1] + rng.uniform(430, 560) * way)
        if not flat:
            normal = np.cross(way, direction(rng))
            normal /= np.linalg.norm(normal)
        turn = math.radians(rng.uniform(25, 120)) * rng.choice((1, -1))
        way = math.cos(turn) * way + math.sin(turn) * np.cross(normal, way)
    points.append(points[-1] + 350 * way)
    return Tube(shape, points[0], points[-1], "hoop", corners=points[1:-1], radii=radii,
                turn=rng.uniform(-180, 180))


def branch_at(rng, main, station, branch):
    """A branch whose axis passes the main's centreline at that station by a few mm."""
    here = main.course.frames(np.array(station))
    across = np.cross(here.axes[2], direction(rng))
    across /= np.linalg.norm(across)
    slant = math.radians(rng.uniform(55, 125))
    away = math.cos(slant) * here.axes[2] + math.sin(slant) * across
    foot = here.origin + rng.uniform(-3, 3, 3)
    length = 0.9 * getattr(branch, "length", 500)
    return Tube(branch, foot, foot + length * away, "branch", turn=rng.uniform(-180, 180))


def check(tube, main, clocks):
    """Both surfaces from the start, as the kernel's lines leave the solid near their foot."""
    points = [main.start, *main.corners, main.end]
    solid = kernel.loaded(course_kernel.solid(
        main.shape, points, main.radii, main.pose.axes[0]))
    cluster, _ = make_cluster(tube, "start", [main])
    place, met = branch_placing(tube), 0
    for depth in (0.0, tube.shape.wall):
        ours = cluster.entry(clocks, depth)
        # A line of a wide branch may pass the main and come to another arm of it far behind: the
        # kernel is asked of what is near alone.
        near_ones = np.where(np.abs(ours) <= NEAR, ours, np.nan)
        for clock, along in zip(clocks, near_ones, strict=True):
            theirs, near = math.nan, 0.0
            for _ in range(6 if depth else 1):
                line, rise = kernel.generator(tube.shape, clock, depth, near)
                solid.Perform(line.Transformed(place), -NEAR, NEAR)
                found = [solid.WParameter(i + 1) * rise for i in range(solid.NbPnt())]
                theirs = max(found, default=math.nan)
                near = theirs if found else near
            np.testing.assert_allclose(along, theirs, rtol=0, atol=1e-6,
                                       err_msg=f"clock {clock} of {tube.shape} on {main}")
            met += np.isfinite(along)
    return met


def places(main):
    """Mid-leg, mid-bend and the tangents between them."""
    for part in main.course.stretches[1:-1]:
        yield from (part.low, (part.low + part.high) / 2)


@pytest.mark.parametrize("seed", seeds(3, 11, 1487079926))
def test_an_end_on_a_tube_with_corners_lies_where_the_kernels_fused_legs_and_bends_are(seed):
    rng = np.random.default_rng(seed)
    main, met = hoop(rng, Round(rng.uniform(25, 40)), flat=False), 0
    for station in places(main):
        branch = random_branch(BRANCHES[rng.integers(len(BRANCHES))], rng)
        met += check(branch_at(rng, main, station, branch), main, rng.uniform(0, 360, 6))
    assert met > 8


@pytest.mark.parametrize("shape", [Oval(38, 24), Box(40, 25, 4)])
@pytest.mark.parametrize("seed", seeds(1, 2))
def test_an_end_on_a_bent_oval_or_box_lies_where_the_kernels_solid_is(shape, seed):
    rng = np.random.default_rng(seed)
    main = hoop(rng, shape, flat=True)
    for station in places(main):
        tube = branch_at(rng, main, station, Round(rng.uniform(14, 22), 1.5))
        check(tube, main, rng.uniform(0, 360, 5))


@pytest.mark.parametrize("split", [False, True])
def test_a_brace_at_the_tangent_of_leg_and_bend_is_cut_to_both_also_where_they_are_two(split):
    radius = 4.5 * 25.4
    points = np.array(((0, 0, -300), (0, 0, 30 + radius), (-200, 0, 30 + radius)), dtype=float)
    shape, clocks = Round(38.1, 2.4), np.arange(0.0, 360.0, 5.0)
    if split:
        bend = Tube(Bent(38.1, radius, 2.4), (0, 0, 30), (-radius, 0, 30 + radius), "bend")
        bend = replace(bend, turn=turn_towards(bend, np.array((1.0, 0.0, 1.0))))
        mains = [Tube(shape, points[0], (0, 0, 30), "leg"), bend]
    else:
        mains = [Tube(shape, points[0], points[2], "hoop", corners=points[1:2], radii=[radius])]
    solid = kernel.loaded(course_kernel.solid(shape, points, [radius], (0, 1, 0)))
    for way in ((1.0, 0.2, 1.0), (1.0, 0.0, 0.6), (0.7, 0.4, -0.3), (0.1, 1.0, 0.5)):
        foot = np.array((0.0, 0.0, 30.0))
        tube = Tube(Round(25.4, 1.6), foot, foot + 300 * np.array(way), "brace", turn=20)
        end = shape_end(tube, "start", mains)
        ours = end.cope.cluster.entry(clocks)
        assert np.isfinite(ours).all()
        theirs = []
        for clock in clocks:
            line, rise = kernel.generator(tube.shape, clock)
            solid.Perform(line.Transformed(branch_placing(tube)), -NEAR, NEAR)
            theirs.append(max((solid.WParameter(i + 1) * rise for i in range(solid.NbPnt())),
                              default=math.nan))
        np.testing.assert_allclose(ours, theirs, rtol=0, atol=1e-6)
