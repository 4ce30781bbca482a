"""Where the frame's axes stand on the table."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.frame.outline import View

FROM_LEFT = View(np.array((-1.0, 0.0, 0.0)), np.array((0.0, 0.0, 1.0)))
"""How one sees a frame that lies on its right side, its top away from the front edge."""


@dataclass(frozen=True, slots=True)
class FlatTable:
    """The table, and the frame on its right side.

    Attributes
    ----------
    left, edge : float, mm
        From the left end and from the front edge to the frame's origin.
    plane : float, mm
        Height of the frame's middle plane.
    width, depth : float, mm
        How much of the table is drawn on, from the left end and from the front edge.
    """

    left: float
    edge: float
    plane: float
    width: float
    depth: float

    def placed(self, points: Floats) -> Floats:
        """Points (..., 3) of the frame: from the left end, from the front edge, height; mm."""
        placed: Floats = self.turned(points) + np.array((self.left, self.edge, self.plane))
        return placed

    def turned(self, directions: Floats) -> Floats:
        """Directions (..., 3) of the frame, as on the table."""
        up: Floats = directions @ FROM_LEFT.towards
        return np.concatenate((FROM_LEFT.seen(directions), up[..., None]), axis=-1)
