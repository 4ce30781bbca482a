"""Where the branch lands on a main."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats, OneLine
from coper.joint.cluster import PlacedMain
from coper.shapes.arc import Arc
from coper.shapes.plate import Plate
from coper.shapes.run import Run


@dataclass(frozen=True, slots=True, eq=False)
class Foot:
    """The place of a main that a branch points at.

    Attributes
    ----------
    station : float, mm
        Along the main, as its shape counts: where its centreline passes the branch's axis
        nearest, or where that axis meets the face of a plate.
    side : (2,) float
        The unit direction in the main's section there that faces the branch.
    """

    station: float
    side: Floats


@dataclass(frozen=True, slots=True, eq=False, repr=False)
class Footprint(OneLine):
    """The outside edge of the cope, unrolled on the main.

    Attributes
    ----------
    x : (n,) float, mm
        Along the main, from the foot of the branch's axis.
    arc : (n,) float, mm
        Round the main's outside, from the line on the branch's side, towards ``+y``.
    """

    x: Floats
    arc: Floats


def branch_foot(main: PlacedMain) -> Foot:
    """Where the axis of the branch, which is the third coordinate, comes down on ``main``."""
    shape, pose = main.shape, main.pose
    point, way = pose.inward(np.zeros(3)), pose.axes @ np.array((0.0, 0.0, 1.0))
    match shape:
        case Arc(foot=float(angle)):
            out = np.array((0.0, math.cos(angle), math.sin(angle)))
            return _facing(angle * shape.bent.radius, way[0], out @ way)
        case Run():
            station = shape.foot(point, way)
            across = shape.course.frames(np.array(station)).axes @ way
            return _facing(station, across[0], across[1])
    return _facing(_straight_foot(point, way, isinstance(shape, Plate)), way[0], way[1])


def _facing(station: float, one: float, other: float) -> Foot:
    return Foot(station, np.array((one, other)) / math.hypot(one, other))


def _straight_foot(point: Floats, way: Floats, plate: bool) -> float:
    """Where along a straight main a line through ``point`` (3,) along ``way`` (3,) is nearest, mm.

    Derived: ``point + t way`` is nearest to the axis where ``point + t way``, its third coordinate
    left out, is square to ``way``; it meets a plate where its second coordinate is 0.
    """
    across, lean = (point[1:2], way[1:2]) if plate else (point[:2], way[:2])
    return float(point[2] - (across @ lean) / (lean @ lean) * way[2])


def make_footprint(main: PlacedMain, points: Floats) -> Footprint:
    """The footprint of edge points (n, 3) of the branch's frame on ``main``."""
    foot = branch_foot(main)
    x, arc = main.shape.unrolled(main.pose.inward(points), foot.side)
    return Footprint(x - foot.station, arc)


def flat_footprint(main: PlacedMain, points: Floats, lift: float = 0.0) -> Floats:
    """The same edge as it lies on a flat sheet (n, 2) in mm, ``lift`` mm above the main.

    ``x`` runs along the main from the foot of the branch's axis, ``y`` round it. A cone is its
    sector; a bend does not unroll, and lies as near as a sheet comes.
    """
    foot = branch_foot(main)
    x, y = main.shape.flattened(main.pose.inward(points), foot.side, lift)
    return np.stack((x - _zero(main, foot, lift), y), axis=-1)


def _zero(main: PlacedMain, foot: Foot, lift: float) -> float:
    """Where the foot lies along that sheet, mm."""
    shape = main.shape
    if isinstance(shape, Arc):
        return foot.station
    straight = shape.shape if isinstance(shape, Run) else shape
    zero, _ = straight.flattened(np.array((*foot.side, foot.station)), foot.side, lift)
    return float(zero)
