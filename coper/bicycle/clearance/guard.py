"""How far a point is from a mudguard."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from coper.arrays import Floats, Point
from coper.bicycle.clearance.fitted import Guard
from coper.bicycle.wheel import Wheel
from coper.frame.nearest import THINGS, Distance


@lru_cache(maxsize=THINGS)
def guard_off(guard: Guard, wheel: Wheel, axle: Point) -> Distance:
    """The distance from a mudguard that goes all round a wheel with its axle at ``axle``.

    ::

          +--------+  guard: ``width`` wide, ``gap`` above the tread
          |  .--.  |
          | ( () ) |  its sides are taken to come down to the middle of the tyre,
               |      so that what stands between the two counts as in it
               o--- axle, along y

    Derived: seen along the tread the guard is a rectangle; outside, the ways to its sides are
    square to each other; inside, the nearer of the two counts.
    """
    low, high = wheel.middle, wheel.radius + guard.gap
    middle, height, half = (low + high) / 2, (high - low) / 2, guard.width / 2
    x, y, z = axle

    def off(points: Floats) -> Floats:
        """Distances (...,) of ``points`` (..., 3), mm."""
        rho = np.hypot(points[..., 0] - x, points[..., 2] - z)
        out, aside = np.abs(rho - middle) - height, np.abs(points[..., 1] - y) - half
        beyond = np.hypot(np.maximum(out, 0.0), np.maximum(aside, 0.0))
        gap: Floats = beyond + np.minimum(np.maximum(out, aside), 0.0)
        return gap

    return off
