"""Gaps to a tyre against the CAD kernel, and against dense sampling where it has no such tube."""

import math

import numpy as np
import pytest
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakeVertex,
    BRepBuilderAPI_Transform,
)
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.BRepPrimAPI import (
    BRepPrimAPI_MakeCone,
    BRepPrimAPI_MakePrism,
    BRepPrimAPI_MakeTorus,
)
from OCP.gp import gp_Ax2, gp_Circ, gp_Dir, gp_Pnt, gp_Vec
from scipy.optimize import minimize

from coper import Bent, Box, Oval, Round, Tapered, TaperedOval, Tube, make_piece, plain_end
from coper.bicycle.clearance.tyre import tyre_off
from coper.bicycle.wheel import parse_wheel
from coper.frame.nearest import nearest_spot
from tests import kernel
from tests.frame import kernel as placed_kernel
from tests.profiles import seeds

WHEEL = parse_wheel("47-406")
AXLE = (-420.0, 0.0, 61.0)

SHAPES = [Round(22), Tapered(22.2, 14, 390), Oval(30, 17), Box(30, 18, 3), Box(25, 25),
          Bent(16, 320)]


def piece_near(shape, rng, low=4.0, high=60.0):
    """A tube that passes a random place of the tyre at a random slant, its ends near or far."""
    turn, clock = rng.uniform(0, 2 * math.pi, 2)
    out = rng.uniform(low, high) + WHEEL.tyre / 2 + 15
    around = WHEEL.middle + out * math.cos(clock)
    near = np.array((AXLE[0] + around * math.cos(turn), out * math.sin(clock),
                     AXLE[2] + around * math.sin(turn)))
    way = rng.normal(size=3)
    away = near - np.array((AXLE[0] + WHEEL.middle * math.cos(turn), 0,
                            AXLE[2] + WHEEL.middle * math.sin(turn)))
    away /= np.linalg.norm(away)
    way -= (way @ away) * away
    way /= np.linalg.norm(way)
    start = near - rng.uniform(-30, 200) * way
    tube = Tube(shape, start, near + rng.uniform(40, 200) * way, "stay",
                  turn=rng.uniform(-180, 180))
    return make_piece(tube, plain_end(tube, "start"), plain_end(tube, "end"))


def solid(tube):
    """The tube between its two points, by the kernel's own prisms, cones and tori."""
    shape, length = tube.shape, tube.length
    if isinstance(shape, Bent):
        return arc(tube)
    axes = gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1), gp_Dir(1, 0, 0))
    if isinstance(shape, Tapered):
        there = (shape.start + (shape.end - shape.start) * length / shape.length) / 2
        made = BRepPrimAPI_MakeCone(axes, shape.start / 2, there, length).Shape()
    else:
        face = BRepBuilderAPI_MakeFace(kernel.outline(shape, axes)).Face()
        made = BRepPrimAPI_MakePrism(face, gp_Vec(0, 0, length)).Shape()
    return BRepBuilderAPI_Transform(made, placed_kernel.branch_placing(tube)).Shape()


def arc(tube):
    bent, there = tube.shape, placed_kernel.axes(tube)
    start, end = gp_Pnt(*tube.start), gp_Pnt(*tube.end)
    chord = start.Distance(end)
    below = gp_Vec(there.YDirection()).Multiplied(-math.sqrt(bent.radius**2 - chord**2 / 4))
    centre = gp_Pnt(*((tube.start + tube.end) / 2)).Translated(below)
    ring = gp_Ax2(centre, there.XDirection(), gp_Dir(gp_Vec(centre, start)))
    return BRepPrimAPI_MakeTorus(ring, bent.radius, bent.diameter / 2,
                                 2 * math.asin(chord / 2 / bent.radius)).Shape()


AXES = gp_Ax2(gp_Pnt(*AXLE), gp_Dir(0, 1, 0))


def between(one, other):
    return BRepExtrema_DistShapeShape(one, other).Value()


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.words())
@pytest.mark.parametrize("seed", seeds(4, 1030012915))
def test_a_gap_is_the_kernels_between_the_tyres_torus_and_the_tube(shape, seed):
    piece = piece_near(shape, np.random.default_rng([seed, SHAPES.index(shape)]))
    found = nearest_spot(piece, tyre_off(WHEEL, AXLE))
    torus = BRepPrimAPI_MakeTorus(AXES, WHEEL.middle, WHEEL.tyre / 2).Shape()
    place = BRepBuilderAPI_MakeVertex(gp_Pnt(*found.point)).Vertex()
    # Between two rings the kernel may stop at a place that is not the nearest: it bounds the gap
    # from above, and the place that is named has to lie on the tube, so far from the tyre.
    assert max(found.gap, 0) <= between(torus, solid(piece.tube)) + 1e-6
    if found.gap > 0:
        assert found.gap == pytest.approx(between(torus, place), abs=1e-6)
        assert between(solid(piece.tube), place) == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.words())
def test_a_tube_within_the_tyre_is_as_deep_as_the_kernels_circle_says(shape):
    piece = piece_near(shape, np.random.default_rng([8, SHAPES.index(shape)]), -30, -18)
    gap = nearest_spot(piece, tyre_off(WHEEL, AXLE)).gap
    circle = BRepBuilderAPI_MakeEdge(gp_Circ(AXES, WHEEL.middle)).Edge()
    assert gap < 0
    assert gap == pytest.approx(between(circle, solid(piece.tube)) - WHEEL.tyre / 2, abs=1e-6)


@pytest.mark.parametrize("seed", seeds(3))
def test_a_tapered_ovals_gap_is_what_scipy_finds_on_its_ellipses(seed):
    shape = TaperedOval(30, 17, 14, 380)
    piece = piece_near(shape, np.random.default_rng([seed, 99]))
    pose, length = piece.tube.pose, piece.tube.length

    def gap(place):
        turn, along = place
        share = along / shape.length
        major = shape.major + share * (shape.end - shape.major)
        minor = shape.minor + share * (shape.end - shape.minor)
        own = np.array((major / 2 * math.cos(turn), minor / 2 * math.sin(turn), along))
        x, y, z = pose.origin + own @ pose.axes - np.array(AXLE)
        return math.hypot(math.hypot(x, z) - WHEEL.middle, y) - WHEEL.tyre / 2

    starts = [(turn, along) for turn in np.linspace(0, 2 * math.pi, 24)
              for along in np.linspace(0, length, 24)]
    found = min((minimize(gap, start, bounds=((-1, 8), (0, length)), method="L-BFGS-B",
                          options={"ftol": 1e-15, "gtol": 1e-9})
                 for start in sorted(starts, key=gap)[:4]), key=lambda one: one.fun)
    assert nearest_spot(piece, tyre_off(WHEEL, AXLE)).gap == pytest.approx(found.fun, abs=1e-6)
