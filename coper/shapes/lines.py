"""Straight lines in space, many at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats


@dataclass(frozen=True, slots=True, eq=False)
class Lines:
    """Straight lines, each a point and a direction.

    Attributes
    ----------
    points : (..., 3) float, mm
        Each line's point at along 0.
    directions : (..., 3) float
        The change for one mm of along. A tube's generators have 1 along the tube's axis, so a
        position on the line is a position along the tube.
    """

    points: Floats
    directions: Floats

    def at(self, along: Floats) -> Floats:
        """Points (..., 3) in mm at the positions ``along`` (...,)."""
        return self.points + np.asarray(along)[..., None] * self.directions
