"""A tube seen from its other end."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats
from coper.shapes.lines import Lines
from coper.shapes.seen import Seen

OTHER_WAY = np.array((1.0, -1.0, -1.0))
"""Factors of the three coordinates in a half turn about the first, clock 0."""


@dataclass(frozen=True, slots=True)
class Flipped(Seen):
    """The same branch, followed from its far end back: clock and along run the other way.

    ::

        own      0 -----------> along        at
        flipped  at        along <---------- 0

    A point ``(x, y, z)`` of the tube is ``(x, -y, at - z)`` here, clock ``c`` is ``-c``.

    Attributes
    ----------
    shape : BranchShape
    at : float, mm
        The tube's own along at this one's 0.
    """

    at: float

    def generators(
        self, clock: Floats, depth: Floats | float = 0.0, near: Floats | float = 0.0
    ) -> Lines:
        """The tube's own (...,), seen from the other end; ``clock`` in degrees, ``depth`` in mm."""
        lines = self.shape.generators(-np.asarray(clock), depth, self.at - np.asarray(near))
        foot = lines.points + self.at * lines.directions
        return Lines(self._turned(foot), -OTHER_WAY * lines.directions)

    def _turned(self, points: Floats) -> Floats:
        """Points (..., 3) in mm of one frame, in the other; it is its own inverse."""
        turned: Floats = OTHER_WAY * points + np.array((0.0, 0.0, self.at))
        return turned

    def extent(self, depth: Floats | float = 0.0) -> tuple[Floats, Floats]:
        """The alongs (...,) in mm between which the surface ``depth`` (...,) mm inside exists."""
        low, high = self.shape.extent(depth)
        return self.at - high, self.at - low

    def corners(self) -> Floats:
        """The tube's own (k,), the other way round, in degrees."""
        return np.unique(-self.shape.corners() % 360)

    def normal(self, points: Floats) -> Floats:
        """Outward unit normals (..., 3) at the skin points nearest ``points``."""
        return OTHER_WAY * self.shape.normal(self._turned(points))

    def girth(self, lift: float = 0.0, along: float = 0.0) -> float:
        """The way round in mm at ``along``, ``lift`` mm outside the skin."""
        return self.shape.girth(lift, self.at - along)

    def flat(self, clock: Floats, along: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """The tube's own sheet, (...,) and (...,) in mm, turned half round, the same side up."""
        x, y = self.shape.flat(-np.asarray(clock), self.at - np.asarray(along), lift)
        _, origin = self.shape.flat(np.zeros(()), np.asarray(self.at), lift)
        return -x, origin - y

    def stretch(self, low: float, high: float) -> float:
        """The largest, mm, between the alongs ``low`` and ``high``."""
        return self.shape.stretch(self.at - high, self.at - low)
