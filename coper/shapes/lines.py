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
        Where each line stands at along 0.
    directions : (..., 3) float
        What one mm of along adds. For the generators of a tube the part along the tube's axis
        is 1, so that a position on the line is a position along the tube.
    """

    points: Floats
    directions: Floats

    def at(self, along: Floats) -> Floats:
        """Points (..., 3) in mm at the positions ``along`` (...,)."""
        return self.points + np.asarray(along)[..., None] * self.directions
