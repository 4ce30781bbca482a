"""Which clock of a tube faces a direction."""

from __future__ import annotations

import math

import numpy as np

from coper.shapes.shape import BranchShape

SEARCHED = 65
"""Clocks that are tried at a time for the one that faces a direction."""

ROUNDS = 8
"""Times that the search closes in: a turn over 32**8 is below a billionth of a degree."""


def clock_facing(shape: BranchShape, x: float, y: float) -> float:
    """The clock in degrees of the section's point that the ray from the axis to (x, y) meets.

    On a round tube it is the ray's angle; on others equal clocks are equal steps of the outline,
    and it is searched for.
    """
    wanted = math.atan2(y, x)
    clock = math.degrees(wanted)
    half = 90.0
    for _ in range(ROUNDS):
        tried = clock + np.linspace(-half, half, SEARCHED)
        points = shape.generators(tried).points
        off = np.arctan2(points[:, 1], points[:, 0]) - wanted
        off = np.abs((off + math.pi) % (2 * math.pi) - math.pi)
        clock = float(tried[np.argmin(off)])
        half /= (SEARCHED - 1) / 2
    return float(clock % 360 % 360)
