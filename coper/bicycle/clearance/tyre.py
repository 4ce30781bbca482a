"""How far a piece is from a wheel's tyre."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from coper.arrays import Floats, Point
from coper.bicycle.wheel import Wheel
from coper.frame.nearest import THINGS, Distance, tried_first
from coper.frame.piece import Piece
from coper.frame.surface import surfaces


@lru_cache(maxsize=THINGS)
def tyre_off(wheel: Wheel, axle: Point) -> Distance:
    """The distance from the tyre of a wheel with its axle at ``axle``, square to the middle plane.

    ::

              ( ) tyre: a torus, as high as it is wide
               |  middle
               o--- axle, along y

    Derived: a point ``rho`` from the axle and ``y`` off the wheel's plane is
    ``hypot(rho - middle, y)`` from the circle in the middle of the section.
    """
    middle, half = wheel.middle, wheel.tyre / 2
    x, y, z = axle

    def off(points: Floats) -> Floats:
        """Distances (...,) of ``points`` (..., 3), mm."""
        out = np.hypot(points[..., 0] - x, points[..., 2] - z) - middle
        gap: Floats = np.hypot(out, points[..., 1] - y) - half
        return gap

    return off


def through_spokes(piece: Piece, wheel: Wheel, axle: Point) -> bool:
    """Whether a piece crosses the plane of the wheel's spokes inside the tyre.

    Its skin is followed along and round in steps; a step that crosses the plane counts where
    it does so closer to the axle than the tyre's middle.
    """
    for surface in surfaces(piece):
        points = tried_first(surface)
        steps = (points[:, :-1], points[:, 1:]), (points, np.roll(points, -1, axis=0))
        if any(_crosses(one, other, wheel, axle) for one, other in steps):
            return True
    return False


def _crosses(one: Floats, other: Floats, wheel: Wheel, axle: Point) -> bool:
    """Whether a step from ``one`` to ``other`` (..., 3), mm, crosses the spokes' plane."""
    before, after = one[..., 1] - axle[1], other[..., 1] - axle[1]
    changes = (before >= 0) != (after >= 0)
    share = before[changes] / (before[changes] - after[changes])
    met = one[changes] + share[:, None] * (other[changes] - one[changes])
    rho = np.hypot(met[:, 0] - axle[0], met[:, 2] - axle[2])
    return bool((rho < wheel.middle).any())

