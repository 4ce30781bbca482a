"""A tube whose stations are counted from another place."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.shapes.lines import Lines
from coper.shapes.seen import Seen


@dataclass(frozen=True, slots=True)
class Shifted(Seen):
    """The same branch, its along counted from further down: ``by`` mm more at every place.

    ::

        own            0 -----------> along
        shifted   0 --by-------------> along

    A point ``(x, y, z)`` of the tube is ``(x, y, z + by)`` here; the clock is the tube's own.

    Attributes
    ----------
    shape : BranchShape
    by : float, mm
        This one's along at the tube's own 0.
    """

    by: float

    def generators(
        self, clock: Floats, depth: Floats | float = 0.0, near: Floats | float = 0.0
    ) -> Lines:
        """The tube's own lines (...,), counted from here; ``clock`` in degrees, ``depth`` in mm."""
        lines = self.shape.generators(clock, depth, np.asarray(near) - self.by)
        up = np.array((0.0, 0.0, self.by))
        return Lines(lines.points - self.by * lines.directions + up, lines.directions)

    def extent(self, depth: Floats | float = 0.0) -> tuple[Floats, Floats]:
        """The alongs (...,) in mm between which the surface ``depth`` (...,) mm inside exists."""
        low, high = self.shape.extent(depth)
        return low + self.by, high + self.by

    def corners(self) -> Floats:
        """The tube's own (k,), in degrees."""
        return self.shape.corners()

    def normal(self, points: Floats) -> Floats:
        """Outward unit normals (..., 3) at the skin points nearest ``points`` (..., 3)."""
        return self.shape.normal(points - np.array((0.0, 0.0, self.by)))

    def girth(self, lift: float = 0.0, along: float = 0.0) -> float:
        """The way round in mm at ``along``, ``lift`` mm outside the skin."""
        return self.shape.girth(lift, along - self.by)

    def flat(self, clock: Floats, along: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """The tube's own sheet (...,) and (...,), mm, moved so that along 0 is at the origin."""
        x, y = self.shape.flat(clock, np.asarray(along) - self.by, lift)
        _, origin = self.shape.flat(np.zeros(()), np.asarray(-self.by), lift)
        return x, y - origin

    def stretch(self, low: float, high: float) -> float:
        """The largest, mm, between the alongs ``low`` and ``high``."""
        return self.shape.stretch(low - self.by, high - self.by)
