"""Placed tubes in the kernel: from their two points and their turn, by the kernel's transforms."""

import math

import numpy as np
from OCP.BRepAdaptor import BRepAdaptor_Surface
from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
from OCP.BRepPrimAPI import BRepPrimAPI_MakeTorus
from OCP.GeomAbs import GeomAbs_Plane
from OCP.gp import gp_Ax1, gp_Ax2, gp_Ax3, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec
from OCP.IntCurveSurface import IntCurveSurface_In
from OCP.TopAbs import TopAbs_EDGE
from OCP.TopExp import TopExp_Explorer

from coper import Bent, TaperedOval
from tests import kernel

NEAR_Y = math.cos(math.radians(10))


def axes(tube):
    """The tube's axes at its start: along, and clock 0; turned by the kernel."""
    along = gp_Vec(gp_Pnt(*tube.start), gp_Pnt(*tube.end)).Normalized()
    facing = gp_Dir(0, 0, 1) if abs(along.Y()) > NEAR_Y else gp_Dir(0, 1, 0)
    placed = gp_Ax3(gp_Pnt(*tube.start), gp_Dir(along), facing)
    placed.Rotate(gp_Ax1(placed.Location(), placed.Direction()), math.radians(tube.turn))
    return placed


def placing(own, tube):
    """From a shape's own axes in the kernel's builders to its place in the frame."""
    trsf = gp_Trsf()
    trsf.SetDisplacement(own, axes(tube))
    return trsf


def branch_placing(tube):
    return placing(gp_Ax3(gp_Pnt(0, 0, 0), gp_Dir(0, 0, 1), gp_Dir(1, 0, 0)), tube)


def main_solid(tube):
    """The main's solid in the frame; of a bend the piece between both points."""
    if isinstance(tube.shape, Bent):
        return _arc(tube)
    own = gp_Ax3(gp_Pnt(0, 0, 0), gp_Dir(1, 0, 0), gp_Dir(0, 1, 0))
    return BRepBuilderAPI_Transform(kernel.own_main(tube.shape), placing(own, tube)).Shape()


def _arc(tube):
    """The bend's centre lies below the chord's middle, away from clock 90."""
    bent, there = tube.shape, axes(tube)
    start, end = gp_Pnt(*tube.start), gp_Pnt(*tube.end)
    chord = start.Distance(end)
    below = gp_Vec(there.YDirection()).Multiplied(-math.sqrt(bent.radius**2 - chord**2 / 4))
    middle = gp_Pnt(*((tube.start + tube.end) / 2))
    centre = middle.Translated(below)
    sweep = 2 * math.asin(chord / 2 / bent.radius)
    ring = gp_Ax2(centre, there.XDirection(), gp_Dir(gp_Vec(centre, start)))
    assert gp_Vec(ring.YDirection()).Dot(gp_Vec(start, end)) > 0  # it sweeps on to the end
    return BRepPrimAPI_MakeTorus(ring, bent.radius, bent.diameter / 2, sweep).Shape()


def alongs(tube, which, mains, clocks, depth=0.0):
    """Alongs from the start point where generators, followed outward, first enter a main."""
    place, solids = branch_placing(tube), [kernel.loaded(main_solid(main)) for main in mains]
    found = []
    for clock in clocks:
        along = 0.0 if which == "start" else tube.length
        for _ in range(6 if isinstance(tube.shape, TaperedOval) and depth else 1):
            line, rise = kernel.generator(tube.shape, clock, depth, along)
            line = line.Transformed(place)
            if which == "end":
                line = line.Reversed()
            entries = [_first_entry(solid, line) for solid in solids]
            along = float(np.fmax.reduce(entries)) * rise * (1 if which == "start" else -1)
            if math.isnan(along):
                break
        found.append(along)
    return np.array(found)


def _first_entry(intersector, line):
    """The largest parameter at which a line leaves the skin upwards; a bend's ends are no skin."""
    intersector.Perform(line, -kernel.LONG, kernel.LONG)
    found = [intersector.WParameter(i + 1) for i in range(intersector.NbPnt())
             if not _is_end_of_bend(intersector, i + 1)
             and intersector.Transition(i + 1) != IntCurveSurface_In]
    return max(found, default=math.nan)


def _is_end_of_bend(intersector, i):
    """A flat disk: no main but a bend is loaded with a round flat face near its joint."""
    face = BRepAdaptor_Surface(intersector.Face(i))
    return face.GetType() == GeomAbs_Plane and _edges(intersector.Face(i)) == 1


def _edges(face):
    explorer, count = TopExp_Explorer(face, TopAbs_EDGE), 0
    while explorer.More():
        count += 1
        explorer.Next()
    return count
