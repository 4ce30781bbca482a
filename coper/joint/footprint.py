"""Where the branch lands on a main."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.joint.cluster import PlacedMain
from coper.shapes.lines import Floats


@dataclass(frozen=True, slots=True, eq=False)
class Footprint:
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


def make_footprint(main: PlacedMain, points: Floats, lift: float = 0.0) -> Footprint:
    """The footprint of edge points (n, 3) of the branch's frame, ``lift`` mm above ``main``."""
    side = main.pose.axes @ np.array((0.0, 0.0, 1.0))
    x, arc = main.shape.unrolled(main.pose.inward(points), side[:2] / np.hypot(*side[:2]), lift)
    foot = main.pose.inward(np.zeros(3))
    return Footprint(x - foot[2], arc)
