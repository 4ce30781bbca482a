"""Where one frame of axes stands in another."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coper.shapes.lines import Floats, Lines


@dataclass(frozen=True, slots=True, eq=False)
class Pose:
    """A right-handed frame inside an outer one.

    Attributes
    ----------
    origin : (3,) float, mm
        The frame's origin, in the outer frame.
    axes : (3, 3) float
        The frame's three unit axes, one a row, in the outer frame.
    """

    origin: Floats
    axes: Floats

    def outward(self, points: Floats) -> Floats:
        """Points (..., 3) of this frame, told in the outer frame."""
        return self.origin + points @ self.axes

    def inward(self, points: Floats) -> Floats:
        """Points (..., 3) of the outer frame, told in this one."""
        return (points - self.origin) @ self.axes.T

    def turned_outward(self, directions: Floats) -> Floats:
        """Directions (..., 3) of this frame, told in the outer frame."""
        return directions @ self.axes

    def lines_inward(self, lines: Lines) -> Lines:
        """Lines of the outer frame, told in this one."""
        return Lines(self.inward(lines.points), lines.directions @ self.axes.T)

    def seen_from(self, other: Pose) -> Pose:
        """The same frame told in ``other``, both standing in the same outer frame."""
        return Pose(other.inward(self.origin), self.axes @ other.axes.T)


def turned(first: Floats, second: Floats, turn: float) -> tuple[Floats, Floats]:
    """Two unit axes square to each other, turned by ``turn`` degrees from first to second."""
    angle = np.radians(turn)
    cos, sin = np.cos(angle), np.sin(angle)
    return cos * first + sin * second, cos * second - sin * first
