"""A tube with corners in the kernel: cylinders and rings, or prisms and turned sections, fused."""

import math
from itertools import pairwise

import numpy as np
from OCP.BRepAlgoAPI import BRepAlgoAPI_Fuse
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
from OCP.BRepPrimAPI import BRepPrimAPI_MakePrism, BRepPrimAPI_MakeRevol
from OCP.gp import gp_Ax1, gp_Ax2, gp_Dir, gp_Pnt, gp_Vec

from tests import kernel

FAR = 600.0  # how far the legs go on past both ends, mm


def solid(shape, points, radii, facing, past=(FAR, FAR)):
    """Legs and bends as one solid; ``facing`` is where the section's clock 0 faces on leg 1.

    Each bend turns the section of the leg before it about the bend's axis, and that is the next
    leg's, so it needs no law of how a section is carried along.
    """
    points = [np.asarray(point, dtype=float) for point in points]
    ways = [_unit(b - a) for a, b in pairwise(points)]
    points[0], points[-1] = points[0] - past[0] * ways[0], points[-1] + past[1] * ways[-1]
    at, made, facing = points[0], None, np.asarray(facing, dtype=float)
    for leg, way in enumerate(ways):
        turn = None
        stop = points[leg + 1]
        if leg + 1 < len(ways):
            turn = math.acos(float(np.clip(way @ ways[leg + 1], -1, 1)))
            stop = stop - radii[leg] * math.tan(turn / 2) * way
        face = _face(shape, at, way, facing)
        if np.linalg.norm(stop - at) > 1e-9:
            made = _joined(made, BRepPrimAPI_MakePrism(face, gp_Vec(*(stop - at))).Shape())
        if turn is None:
            return made
        axis = _unit(np.cross(way, ways[leg + 1]))
        centre = stop + radii[leg] * np.cross(axis, way)
        hinge = gp_Ax1(gp_Pnt(*centre), gp_Dir(*axis))
        ring = BRepPrimAPI_MakeRevol(_face(shape, stop, way, facing), hinge, turn).Shape()
        made = _joined(made, ring)
        at, facing = (_turned(centre, hinge, turn, stop),
                      _turned(np.zeros(3), gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(*axis)), turn, facing))
    return made


def _face(shape, at, way, facing):
    axes = gp_Ax2(gp_Pnt(*at), gp_Dir(*way), gp_Dir(*facing))
    return BRepBuilderAPI_MakeFace(kernel.outline(shape, axes)).Face()


def _joined(one, other):
    return other if one is None else BRepAlgoAPI_Fuse(one, other).Shape()


def _turned(centre, hinge, turn, point):
    turned = gp_Pnt(*point).Rotated(hinge, turn)
    return np.array((turned.X(), turned.Y(), turned.Z()))


def _unit(vector):
    return vector / np.linalg.norm(vector)
