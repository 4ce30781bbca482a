"""Where one frame of axes stands in another."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.arrays import Floats, Whole
from coper.shapes.lines import Lines


@dataclass(frozen=True, slots=True, eq=False)
class Pose:
    """A right-handed frame inside an outer one, or many at once.

    Attributes
    ----------
    origin : (..., 3) float, mm
        The frame's origin, in the outer frame; for many frames it is broadcast with the points.
    axes : (..., 3, 3) float
        The frame's three unit axes, one a row, in the outer frame; for many frames the leading
        axes are broadcast with those of the points.
    """

    origin: Floats
    axes: Floats

    def of(self, chosen: Whole) -> Pose:
        """The frames numbered ``chosen`` (j,); an origin or axes shared by all stay as they are."""
        origin = self.origin if self.origin.ndim == 1 else self.origin[chosen]
        return Pose(origin, self.axes if self.axes.ndim == 2 else self.axes[chosen])

    def outward(self, points: Floats) -> Floats:
        """Points (..., 3) in mm of this frame, in the outer frame."""
        return self.origin + points @ self.axes

    def inward(self, points: Floats) -> Floats:
        """Points (..., 3) in mm of the outer frame, in this one."""
        return (points - self.origin) @ self._back

    def turned_outward(self, directions: Floats) -> Floats:
        """Directions (..., 3) of this frame, in the outer frame."""
        return directions @ self.axes

    def lines_inward(self, lines: Lines) -> Lines:
        """Lines (...,) of the outer frame, in this one."""
        directions = lines.directions
        if directions.ndim < self.axes.ndim - 1:  # shared by all lines, but different in each frame
            directions = np.expand_dims(directions, tuple(range(self.axes.ndim - 2)))
        return Lines(self.inward(lines.points), directions @ self._back)

    @property
    def _back(self) -> Floats:
        """The axes (..., 3, 3) transposed: from the outer frame to this one."""
        return np.swapaxes(self.axes, -1, -2)

    def seen_from(self, other: Pose) -> Pose:
        """This frame as placed in ``other``, both being placed in the same outer frame."""
        return Pose(other.inward(self.origin), self.axes @ other._back)


def turned(first: Floats, second: Floats, turn: float) -> tuple[Floats, Floats]:
    """Two unit axes (..., 3) square to each other, turned ``turn`` degrees from first to second."""
    angle = np.radians(turn)
    cos, sin = np.cos(angle), np.sin(angle)
    return cos * first + sin * second, cos * second - sin * first
