"""A bent tube as it stands in a frame: a piece of its ring, not the whole."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from coper.arrays import Floats, Whole
from coper.search import lowest
from coper.shapes.bent import Bent
from coper.shapes.lines import Lines
from coper.tolerances import FOLLOWED

TRIED = 65
"""Places on the arc that are tried at first for the one nearest a line."""


@dataclass(frozen=True, slots=True)
class Arc:
    """An arc of a ring as a main, the crown of the bend in its middle.

    The far side of the ring is not there: of the two places where a line may enter the ring, only
    those count that lie on the arc or within one diameter past its ends, so that a footprint
    that runs past an end can be reported with its length.

    Attributes
    ----------
    bent : Bent
    half : float, radians
        From the crown to either end, seen from the centre of the bend.
    """

    bent: Bent
    half: float

    @property
    def kind(self) -> str:
        """The ring's own."""
        return self.bent.kind

    @property
    def patches(self) -> int:
        """The ring's own."""
        return self.bent.patches

    @property
    def across(self) -> float:
        """The tube's own, mm."""
        return self.bent.across

    def grown(self, by: float) -> Arc:
        """The same arc of a tube ``by`` mm larger in diameter."""
        return replace(self, bent=self.bent.grown(by))

    def words(self) -> str:
        """The tube in the grammar of the command line, in mm."""
        return self.bent.words()

    def first_entry(self, lines: Lines) -> Floats:
        """Along (...,) in mm where each line first enters the arc, ``nan`` where it misses."""
        reach = self.half * self.bent.radius + self.bent.diameter
        upper, lower = (
            np.where(np.abs(self.station(lines.at(entry))) <= reach, entry, np.nan)
            for entry in self.bent.entries(lines))
        return np.fmax(upper, lower)

    def station(self, points: Floats) -> Floats:
        """Arc (...,) in mm along the centreline from the crown to ``points``."""
        station: Floats = self.bent.radius * np.arctan2(
            points[..., 2], points[..., 1] + self.bent.radius)
        return station

    def patch(self, points: Floats) -> Whole:
        """The ring's own: a number (...,) for each of ``points`` (..., 3)."""
        return self.bent.patch(points)

    def distance(self, points: Floats) -> Floats:
        """Shortest distance (...,) in mm from ``points`` to the ring's skin."""
        return self.bent.distance(points)

    def normal(self, points: Floats) -> Floats:
        """Outward unit normals (..., 3)."""
        return self.bent.normal(points)

    def unrolled(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """Arcs (...,) in mm along the centreline and round the tube, of points (..., 3)."""
        return self.bent.unrolled(points, side, lift)

    def flattened(self, points: Floats, side: Floats, lift: float = 0.0) -> tuple[Floats, Floats]:
        """The same (...,) in mm, as closely as a sheet can follow."""
        return self.bent.flattened(points, side, lift)

    def tangent_near(self, point: Floats, direction: Floats) -> tuple[Floats, Floats]:
        """Where the centreline passes a line nearest, and its direction there, both (3,).

        The line goes through ``point`` along the unit ``direction``.
        """
        def across(angle: Floats) -> Floats:
            off = self._centreline(angle) - point
            square = off - (off @ direction)[..., None] * direction
            passing: Floats = np.sqrt((square * square).sum(axis=-1))
            return passing

        angle, = lowest(across, np.linspace(-self.half, self.half, TRIED), FOLLOWED).first
        best = float(angle[0])
        return (self._centreline(np.array(best)),
                np.array((0.0, -math.sin(best), math.cos(best))))

    def _centreline(self, angle: Floats) -> Floats:
        """Points (..., 3) in mm at angles (...,) in radians from the crown."""
        radius = self.bent.radius
        return np.stack((np.zeros_like(angle), radius * (np.cos(angle) - 1),
                         radius * np.sin(angle)), axis=-1)
