"""Which clock of a tube faces a direction."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from coper.arrays import Floats
from coper.search import lowest
from coper.shapes.shape import BranchShape
from coper.tolerances import FOLLOWED

TRIED = np.linspace(-90.0, 90.0, 9)
"""Clocks that are tried at first, from the angle on: equal steps of an outline never run a
quarter turn ahead of it, or behind."""


@lru_cache(maxsize=256)  # a frame asks for the same few sides of the same few tubes
def clock_facing(shape: BranchShape, x: float, y: float) -> float:
    """The clock in degrees of the section's point that the ray from the axis to (x, y) meets.

    On a round tube it is the ray's angle; on others equal clocks are equal steps of the outline,
    and it is searched for.
    """
    wanted = math.atan2(y, x)

    def off(clock: Floats) -> Floats:
        points = shape.generators(clock).points
        angle = np.arctan2(points[..., 1], points[..., 0]) - wanted
        return np.abs((angle + math.pi) % (2 * math.pi) - math.pi)

    clock, = lowest(off, math.degrees(wanted) + TRIED, FOLLOWED).first
    return float(clock[0] % 360 % 360)
