"""Where the branch lands on a main."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats, OneLine
from coper.joint.cluster import PlacedMain


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


def make_footprint(main: PlacedMain, points: Floats) -> Footprint:
    """The footprint of edge points (n, 3) of the branch's frame on ``main``."""
    x, arc = main.shape.unrolled(main.pose.inward(points), _side(main))
    foot = main.pose.inward(np.zeros(3))
    return Footprint(x - foot[2], arc)


def flat_footprint(main: PlacedMain, points: Floats, lift: float = 0.0) -> Floats:
    """The same edge as it lies on a flat sheet (n, 2) in mm, ``lift`` mm above the main.

    ``x`` runs along the main from the foot of the branch's axis, ``y`` round it. A cone is its
    sector; a bend does not unroll, and lies as near as a sheet comes.
    """
    side = _side(main)
    foot = main.pose.inward(np.zeros(3))
    zero, _ = main.shape.flattened(np.array((*side, foot[2])), side, lift)
    x, y = main.shape.flattened(main.pose.inward(points), side, lift)
    return np.stack((x - zero, y), axis=-1)


def _side(main: PlacedMain) -> Floats:
    """The direction (2,) in the main's section that faces the branch."""
    side = (main.pose.axes @ np.array((0.0, 0.0, 1.0)))[:2]
    facing: Floats = side / np.hypot(*side)
    return facing
